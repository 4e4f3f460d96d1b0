"""Factors of the day that come from temperature, oxygen and layering."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leadsman.lake.estimate import Estimate
from leadsman.lake.water_column import OXYGEN_FLOOR_MG_L, oxygen_floor_m
from leadsman.plan.day_types import Basis, Day, DayFactor, FloatArray, Species


@dataclass(frozen=True, slots=True)
class SpeciesRange:
    """Temperatures of one kind of bass.

    Parameters
    ----------
    likes_c : tuple of float
        Range in which it grows well or that it chooses [degC].
    likes_source : str
        Where that is from [-].
    spawns_c : tuple of float
        Range in which it spawns [degC].
    spawns_source : str
        Where that is from [-].
    """

    likes_c: tuple[float, float]
    likes_source: str
    spawns_c: tuple[float, float]
    spawns_source: str


RANGES: dict[Species, SpeciesRange] = {
    "largemouth": SpeciesRange(
        (25.0, 32.0),
        "growth 25 to 32 degC, Brungs & Jones 1977, read only where cited",
        (16.0, 24.0),
        "spawning 16 to 24 degC, from memory, ends good to 2 degC",
    ),
    "smallmouth": SpeciesRange(
        (21.0, 27.0),
        "adults choose 21 to 27 degC in summer, habitat suitability report FWS/OBS-82/10.36",
        (12.8, 21.0),
        "spawning 12.8 to 21 degC, habitat suitability report FWS/OBS-82/10.36",
    ),
    "spotted": SpeciesRange(
        (21.0, 29.0),
        "21 to 29 degC, own assumption, ends good to 3 degC",
        (14.0, 22.8),
        "spawning from 14 to 15 degC, best 18 to 21, seen up to 22.8, habitat suitability report "
        "FWS/OBS-82/10.72",
    ),
}
"""What each species likes, with its source."""

COMFORT_C = 6.0
"""How far outside its range a bass still goes [degC]. Own assumption, spread 4 to 9."""
OXYGEN_ENOUGH_MG_L = 5.0
"""Oxygen above which more does not matter [mg L-1]. Own assumption, spread 4 to 6."""
OXYGEN_TENTH_MG_L = 2.0
"""Fall of oxygen that leaves a tenth of the belief [mg L-1]. Own assumption, spread 1 to 3."""
LEAST_OXYGEN_WEIGHT = 0.003
"""Weight of water without oxygen [-]: short dives and bad probes. Own assumption."""
TOLD_LEFT = 0.01
"""Belief left below a depth told to have no oxygen [-]. Own assumption, spread 0 to 0.05."""
BELOW_THERMOCLINE_M = 1.5
"""Depth over which the belief fades below the thermocline [m]. Own assumption, spread 0.5 to 3."""
BELOW_LEFT = 0.3
"""Weight left far below a thermocline where oxygen is no matter [-]. Own assumption, 0.1 to 0.6."""
GATHER, GATHER_M = 0.4, 1.5
"""Gain of the belief at the thermocline [-] and how far from it [m]. Common practice for the
direction; own assumptions, spread 0 to 1 and 0.5 to 3 m."""
SHARP_C = 8.0
"""Fall of temperature over 4 m about a thermocline that makes it count fully [degC]. Own
assumption, spread 4 to 12."""
COLD_C = 10.0
"""Surface temperature under which bass count as wintering [degC]. Common practice, spread 2."""

COLD_SHALLOW, COLD_FADE_M = 0.8, 3.0
"""Belief taken from the surface in cold water [-] and the depth over which that fades [m]. Own
assumptions, spread 0.4 to 0.95 and 1.5 to 6 m."""
COLD_COVER = {"drop": 1.8, "flat": 0.5, "edge": 0.8}
"""Covers in cold water [-]: common practice for the order; own assumption, good to a factor 1.5."""


def below_chance(depth_m: FloatArray, at: Estimate) -> FloatArray:
    """Chance that a depth lies below a limit known with a band [-].

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Depths [m].
    at : Estimate
        The limit; its logarithm is taken as normal, or a step where there is no band [m].
    """
    if at.high - at.low < 1e-6 or at.low <= 0.0:
        return np.asarray(depth_m >= at.value, dtype=np.float64)
    sd = math.log(at.high / at.low) / (2.0 * 1.6449)  # 90 % of a normal within 1.6449 sd
    z = (np.log(np.maximum(depth_m, 1e-3)) - math.log(at.value)) / sd
    from scipy.special import ndtr

    return np.asarray(ndtr(z), dtype=np.float64)


def oxygen_weight(oxygen_mg_l: FloatArray) -> FloatArray:
    """Factor on depth from dissolved oxygen [-].

    Parameters
    ----------
    oxygen_mg_l : ndarray
        Oxygen [mg L-1].
    """
    weight = 10.0 ** ((oxygen_mg_l - OXYGEN_ENOUGH_MG_L) / OXYGEN_TENTH_MG_L)
    return np.clip(weight, LEAST_OXYGEN_WEIGHT, 1.0)


def told_floor(day: Day) -> Estimate | None:
    """The depth of too little oxygen that counts in place of readings [m].

    Parameters
    ----------
    day : Day
        Day [-].
    """
    floor = day.oxygen_floor_m
    if floor is None or floor.origin == "given":
        return floor
    has_read = day.profile is not None and day.profile.oxygen_mg_l is not None
    return None if has_read else floor


def read_floor_m(day: Day) -> float | None:
    """First depth read with too little oxygen [m], None where it is enough or not read.

    Parameters
    ----------
    day : Day
        Day [-].
    """
    return None if day.profile is None else oxygen_floor_m(day.profile)


def oxygen_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """What oxygen rules out: read, told, or guessed from layering and clarity.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    text = day.units.depth.text
    source = (
        f"limit {OXYGEN_FLOOR_MG_L:g} mg/L own choice; a tenth of the belief left at 3 mg/L, own "
        "assumption; that bass keep out of water without oxygen below the thermocline: "
        "French 2016, thesis, University of Illinois, hdl 2142/90792 (abstract)"
    )
    read = day.profile.oxygen_at(depth_m) if day.profile is not None else None
    floor = told_floor(day)
    if floor is not None:
        weight = 1.0 - (1.0 - TOLD_LEFT) * below_chance(depth_m, floor)
        told = f"too little oxygen below {text(floor.value)}"
        basis: Basis = "your word" if floor.origin == "given" else "published, strength assumed"
        return DayFactor(
            "oxygen", told, f"No fish looked for below {text(floor.value)}: no oxygen",
            basis, source, floor.is_guess, weight,
        )  # fmt: skip
    if read is not None:
        short = read_floor_m(day)
        if short is not None:
            at = text(short)
            known = f"oxygen read under {OXYGEN_FLOOR_MG_L:g} mg/L from {at} down"
            effect = f"Next to no fish below {at}: too little oxygen"
        else:
            known = f"oxygen {float(read.min()):.1f} mg/L or more all the way down"
            effect = "Oxygen shuts out no depth"
        return DayFactor(
            "oxygen",
            known,
            effect,
            "published, strength assumed",
            source,
            False,
            oxygen_weight(read),
        )
    if day.thermocline_m is None or not day.summer:
        return None
    chance = 0.5 if day.secchi_m is None else _no_oxygen_chance(day.secchi_m.value)
    weight = 1.0 - chance * (1.0 - TOLD_LEFT) * below_chance(depth_m, day.thermocline_m)
    return DayFactor(
        "oxygen",
        f"not read; below the thermocline it is gone by midsummer in about {chance * 10:.0f} of 10 "
        "lakes of this clarity",
        f"Less belief below {text(day.thermocline_m.value)}",
        "own assumption",
        "chance of no oxygen by clarity: own assumption, good to 0.2; fertile lakes lose it, clear "
        "ones keep it",
        True,
        weight,
    )


def _no_oxygen_chance(secchi_m: float) -> float:
    """Chance of no oxygen under the thermocline in summer: 0.85 at 1 m, 0.5 at 3 m, 0.15 at 7."""
    return float(np.interp(secchi_m, (1.0, 3.0, 7.0), (0.85, 0.5, 0.15)))


def thermocline_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Belief that gathers above a thermocline and fades below it.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    at = day.thermocline_m
    if at is None or at.value > depth_m[-1]:
        return None
    below = below_chance(depth_m, at)
    fade = BELOW_LEFT + (1.0 - BELOW_LEFT) * np.exp(
        -np.maximum(depth_m - at.value, 0.0) / BELOW_THERMOCLINE_M
    )
    gather = 1.0 + GATHER * np.exp(-0.5 * ((at.value - depth_m) / GATHER_M) ** 2)
    weight = (1.0 - below) * gather + below * gather * fade
    weight = weight ** _sharpness(day, at.value)
    band = "" if at.high - at.low < 0.05 else f" ({day.units.depth.band(at.low, at.high)})"
    return DayFactor(
        "thermocline",
        f"thermocline at {day.units.depth.text(at.value)}{band}",
        "Fish hold above it more than below it",
        "common practice",
        f"the effect: common practice, no source, fading over 0.5 to 3 m; the depth: {at.source}",
        at.is_guess,
        weight / weight.max(),
        {"open_water": 1.2},
    )


def _sharpness(day: Day, at_m: float) -> float:
    """How fully a thermocline counts: less where it was read to be weak, as in spring [-]."""
    if day.profile is None or (day.thermocline_m and day.thermocline_m.origin == "given"):
        return 1.0
    above, below = day.profile.temperature_at(np.array([max(at_m - 2.0, 0.0), at_m + 2.0]))
    return float(np.clip((above - below) / SHARP_C, 0.0, 1.0))


def temperature_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Depths whose temperature suits the fish, against the best that the column offers.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    if day.profile is None:
        return None
    likes = RANGES[day.species]
    celsius = day.profile.temperature_at(depth_m)
    off = np.maximum(likes.likes_c[0] - celsius, 0.0) + np.maximum(celsius - likes.likes_c[1], 0.0)
    weight = np.exp(-0.5 * (off / COMFORT_C) ** 2)
    warm, cold = float(celsius.max()), float(celsius.min())
    shown = day.units.temperature
    return DayFactor(
        "temperature",
        f"water {shown.text(cold)} to {shown.text(warm)}",
        f"{day.species.capitalize()} bass like {shown.band(*likes.likes_c)} best",
        "published, strength assumed",
        f"{likes.likes_source}; how far they stray from it: own assumption, 4 to 9 degC",
        False,
        weight / weight.max(),
    )


def cold_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Cold water: deeper, on drops.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    if day.surface_c is None or day.surface_c.value >= COLD_C:
        return None
    return DayFactor(
        "cold",
        f"surface {day.units.temperature.text(day.surface_c.value)}",
        "In cold water fish lie deeper, on drops, and move little",
        "common practice",
        "common practice, no source; strength own assumption",
        day.surface_c.is_guess,
        np.asarray(1.0 - COLD_SHALLOW * np.exp(-depth_m / COLD_FADE_M), dtype=np.float64),
        COLD_COVER,
    )
