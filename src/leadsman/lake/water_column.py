"""Temperature and oxygen over depth, and the depths they mark."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError
from leadsman.water import fresh_density_kg_m3

FloatArray = npt.NDArray[np.float64]

OXYGEN_FLOOR_MG_L = 3.0
"""Oxygen under which fish are not looked for [mg L-1]. The level at which this program draws its
line, own choice; young largemouth and smallmouth grow restless at 3 to 4 mg/L and some die at 2
(abstracts on larvae in the laboratory). 2 to 4 mg/L moves the line by under a metre in a
stratified lake."""
MIXED_RANGE_C = 1.0
"""Range of temperature under which a column counts as mixed [degC] (Read et al. 2011)."""
LEAST_POINTS = 3
"""Fewest readings that have a thermocline [-] (Read et al. 2011)."""


@dataclass(frozen=True, slots=True, eq=False)
class WaterProfile:
    """Readings at one place and time, from the surface down.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Depths, rising [m].
    temperature_c : ndarray, shape (n,)
        Temperatures [degC].
    oxygen_mg_l : ndarray, shape (n,), or None
        Dissolved oxygen; NaN where not read; None without any [mg L-1].
    day : datetime.date or None
        Day of the readings [-].
    source : str
        File or description, for messages [-].

    Raises
    ------
    LakeDataError
        The arrays do not fit together, or hold what no open water has.
    """

    depth_m: FloatArray
    temperature_c: FloatArray
    oxygen_mg_l: FloatArray | None = None
    day: date | None = None
    source: str = "profile"

    def __post_init__(self) -> None:
        arrays = [self.depth_m, self.temperature_c]
        if self.oxygen_mg_l is not None:
            arrays.append(self.oxygen_mg_l)
        if self.depth_m.ndim != 1 or any(a.shape != self.depth_m.shape for a in arrays):
            raise LakeDataError("depths and readings must be of one length", self.source)
        if self.depth_m.size == 0:
            raise LakeDataError("a profile needs at least one reading", self.source)
        if not (np.isfinite(self.depth_m).all() and np.isfinite(self.temperature_c).all()):
            raise LakeDataError("a depth or temperature is not a number", self.source)
        if self.depth_m[0] < 0.0 or np.any(np.diff(self.depth_m) <= 0.0):
            raise LakeDataError("depths must rise from the surface down", self.source)
        if self.temperature_c.min() < 0.0 or self.temperature_c.max() > 40.0:
            raise LakeDataError(
                "a temperature is outside 0 to 40 degC", self.source, "Check its unit"
            )

    @property
    def surface_c(self) -> float:
        """Temperature of the uppermost reading [degC]."""
        return float(self.temperature_c[0])

    def temperature_at(self, depth_m: FloatArray) -> FloatArray:
        """Temperature by straight lines between readings, constant beyond them [degC].

        Parameters
        ----------
        depth_m : ndarray
            Depths [m].
        """
        return np.interp(depth_m, self.depth_m, self.temperature_c)

    def oxygen_at(self, depth_m: FloatArray) -> FloatArray | None:
        """Oxygen by straight lines between readings, constant beyond them [mg L-1].

        Parameters
        ----------
        depth_m : ndarray
            Depths [m].
        """
        if self.oxygen_mg_l is None:
            return None
        known = np.isfinite(self.oxygen_mg_l)
        if not known.any():
            return None
        return np.interp(depth_m, self.depth_m[known], self.oxygen_mg_l[known])


def thermocline_m(profile: WaterProfile) -> float | None:
    """Depth of the steepest change of density [m].

    The interval of the greatest density gradient, its middle refined by the gradients of the two
    intervals beside it; without both neighbours, the middle.

    Parameters
    ----------
    profile : WaterProfile
        The readings [-].

    Returns
    -------
    float or None
        The depth; None for fewer than 3 readings or a range under 1 degC.

    Notes
    -----
    Read et al. 2011, Environ. Model. Softw. 26:1325-1336; density after Martin & McCutcheon 1999.
    """
    z, t = profile.depth_m, profile.temperature_c
    if z.size < LEAST_POINTS or float(np.ptp(t)) < MIXED_RANGE_C:
        return None
    density = np.array([fresh_density_kg_m3(float(c)) for c in t])
    slope = np.diff(density) / np.diff(z)
    i = int(np.argmax(slope))
    if slope[i] <= 0.0:
        return None
    middle = float(0.5 * (z[i] + z[i + 1]))
    if i == 0 or i == slope.size - 1:
        return middle
    rise, fall = float(slope[i] - slope[i - 1]), float(slope[i] - slope[i + 1])
    if rise <= 0.0 or fall <= 0.0:
        return middle
    below = float(z[i + 1] - z[i]) / fall
    above = float(z[i] - z[i - 1]) / rise
    share = below / (below + above)
    return float(z[i + 1] * share + z[i] * (1.0 - share))


def oxygen_floor_m(profile: WaterProfile, limit_mg_l: float = OXYGEN_FLOOR_MG_L) -> float | None:
    """First depth read with too little oxygen [m].

    Parameters
    ----------
    profile : WaterProfile
        The readings [-].
    limit_mg_l : float
        Oxygen that is just enough [mg L-1].

    Returns
    -------
    float or None
        The depth; None where oxygen is enough all the way down or was not read.
    """
    if profile.oxygen_mg_l is None:
        return None
    with np.errstate(invalid="ignore"):
        short = np.flatnonzero(profile.oxygen_mg_l < limit_mg_l)
    return float(profile.depth_m[short[0]]) if short.size else None


def saturation_mg_l(temperature_c: FloatArray) -> FloatArray:
    """Oxygen in fresh water in balance with air at sea level [mg L-1].

    Parameters
    ----------
    temperature_c : ndarray
        Temperatures, 0 to 40 [degC].

    Notes
    -----
    Benson & Krause 1984, Limnol. Oceanogr. 29:620-632, from memory; 9.09 mg/L at 20 degC. A lake
    at 300 m altitude holds some 3.5 % less.
    """
    k = np.asarray(temperature_c, dtype=np.float64) + 273.15
    log_c = (
        -139.34411 + 1.575701e5 / k - 6.642308e7 / k**2 + 1.243800e10 / k**3 - 8.621949e11 / k**4
    )
    return np.exp(log_c)
