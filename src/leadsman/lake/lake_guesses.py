"""What can be said of a lake's water with no profile: guesses, each with a wide band."""

from __future__ import annotations

import math

from leadsman.errors import LakeDataError
from leadsman.lake.estimate import Estimate

HANNA_SOURCE = (
    "guess from the length of the lake, Hanna 1990, Can. J. Fish. Aquat. Sci. 47:940-947, "
    "read only where cited; it over-predicts"
)
HANNA_RATIO = (0.5, 1.1)
"""Band of true over predicted depth [-]. Own assumption: against one lake's profiles the formula
came out 1.4 to 2 times too deep, so the band reaches down to half of it."""

SEASON_SOURCE = "wide guess from season and latitude, own assumption, no source"
SEASON_BAND_C = 6.0
"""Half width of the 90 % band of the surface temperature guess [degC], own assumption."""
WARMEST_DAY = 208
"""Day of the year at which northern lakes are warmest [day], own assumption, spread 15 days."""


def fetch_thermocline_m(fetch_m: float) -> float:
    """Thermocline depth from the longest open stretch of a lake [m].

    Parameters
    ----------
    fetch_m : float
        Greatest length of the lake [m].

    Raises
    ------
    LakeDataError
        No lake is so long.

    Notes
    -----
    log10 Z = 0.336 log10 F - 0.245, Hanna 1990, Can. J. Fish. Aquat. Sci. 47:940-947, read only
    where cited.
    """
    if not 10.0 <= fetch_m <= 1e6:
        raise LakeDataError(
            f"a lake {fetch_m:.4g} m long is outside 10 m to 1000 km", "length of the lake"
        )
    return float(10.0 ** (0.336 * math.log10(fetch_m) - 0.245))


def guess_thermocline(fetch_m: float) -> Estimate:
    """Guess of the summer thermocline, shifted for its known error.

    Parameters
    ----------
    fetch_m : float
        Greatest length of the lake [m].

    Returns
    -------
    Estimate
        Middle and 90 % band [m].
    """
    told = fetch_thermocline_m(fetch_m)
    low, high = HANNA_RATIO[0] * told, HANNA_RATIO[1] * told
    return Estimate(math.sqrt(low * high), low, high, "guess", HANNA_SOURCE)


def guess_surface_c(day_of_year: int, latitude_deg: float) -> Estimate:
    """Guess of the surface temperature of a lake near sea level.

    A cosine over the year between a summer and a winter temperature, each a straight line in
    latitude: 26 and 0 degC at 43 degrees, 28 and 13 at 30.

    Parameters
    ----------
    day_of_year : int
        Day of the year, 1 to 366 [day].
    latitude_deg : float
        Latitude, north positive [deg].

    Returns
    -------
    Estimate
        Middle and a wide band [degC].
    """
    away = abs(latitude_deg)
    summer = min(33.0 - 0.16 * away, 29.0)
    winter = min(max(43.0 - away, 0.0), 26.0)
    phase = 2.0 * math.pi * (day_of_year - WARMEST_DAY) / 365.25
    if latitude_deg < 0.0:
        phase += math.pi
    middle = 0.5 * (summer + winter) + 0.5 * (summer - winter) * math.cos(phase)
    middle = min(max(middle, 0.0), 34.0)
    low, high = max(middle - SEASON_BAND_C, 0.0), min(middle + SEASON_BAND_C, 38.0)
    return Estimate(middle, low, high, "guess", SEASON_SOURCE)
