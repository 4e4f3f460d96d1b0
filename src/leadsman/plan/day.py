"""What depth, cover and hour to expect fish at, from what is known before launch.

Factors multiply on a grid of depths. Each says what it rests on, most of them on common practice
or on an assumption of our own; none pretends to precision, and each can be switched off or
weighed. Adding one is a function and a line in `FACTORS`; see docs/outlook.md.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from leadsman.errors import PlanError
from leadsman.lake.water_column import OXYGEN_FLOOR_MG_L
from leadsman.plan.day_belief import (
    band_chances,
    combined,
    cover_chances,
    joint_chances,
    median_band_m,
    middle_of,
    risen,
    share_below,
    with_parts,
)
from leadsman.plan.day_cautions import cautions
from leadsman.plan.day_fish import (
    clear_water_factor,
    come_up_m,
    forage_factor,
    grass_factor,
    nothing_known,
    spawning_factor,
    wind_factor,
    your_depth,
)
from leadsman.plan.day_light import light_factor, light_weight
from leadsman.plan.day_lure import start_with
from leadsman.plan.day_types import (
    Day,
    DayFactor,
    FloatArray,
    HourChance,
    Outlook,
    RuledOut,
)
from leadsman.plan.day_water import (
    cold_factor,
    oxygen_factor,
    read_floor_m,
    temperature_factor,
    thermocline_factor,
    told_floor,
)

LOW_SUN_RAD = math.radians(10.0)
"""Height of the sun within which the low-light hours lie [rad]. Common practice; own assumption."""
LOW_SUN_GAIN = 0.8
"""Rise of the rate of bites at sunrise and sunset [-]. Common practice, no source; own assumption,
spread 0.2 to 2."""
NIGHT_WORTH = 0.6
"""Bites at night over those of midday [-]. Own assumption, spread 0.3 to 1."""
COLD_HOURS_C = 12.0
"""Surface temperature under which the warmest hours are best [degC]. Common practice, spread 3."""
NEXT_TO_NOTHING = 0.05
"""Belief under which a stretch of depth is called ruled out [-]. Own choice."""


@dataclass(frozen=True, slots=True)
class FactorKind:
    """A factor that can be used, and what it needs.

    Parameters
    ----------
    key : str
        Word by which it is switched off or weighed [-].
    make : callable
        Gives the factor on a grid, or None where it has nothing to say [-].
    needs : str
        What it needs to be known; empty if it needs nothing [-].
    """

    key: str
    make: Callable[[Day, FloatArray], DayFactor | None]
    needs: str


FACTORS: tuple[FactorKind, ...] = (
    FactorKind("start", nothing_known, ""),
    FactorKind("oxygen", oxygen_factor, "an oxygen profile, or the length of the lake in summer"),
    FactorKind("temperature", temperature_factor, "a temperature profile"),
    FactorKind("thermocline", thermocline_factor, "a profile, or the length of the lake in summer"),
    FactorKind("light", light_factor, "the clarity of the water"),
    FactorKind("clear-water", clear_water_factor, ""),
    FactorKind("spawning", spawning_factor, "the temperature at the surface"),
    FactorKind("cold", cold_factor, ""),
    FactorKind("grass", grass_factor, "the grass edge or the clarity"),
    FactorKind("forage", forage_factor, "the forage seen"),
    FactorKind("wind", wind_factor, "the wind"),
    FactorKind("fish", your_depth, ""),
)
"""Every factor, in the order in which it is told."""
FACTOR_KEYS = tuple(kind.key for kind in FACTORS)


def outlook(day: Day) -> Outlook:
    """Belief over depth, cover and hour, and what to tie on first.

    Parameters
    ----------
    day : Day
        What is known [-].

    Raises
    ------
    PlanError
        A factor is named that does not exist.
    """
    for key in day.strengths:
        if key not in FACTOR_KEYS:
            raise PlanError(f"unknown factor '{key[:20]}'", "outlook", f"Use {_listed()}")
    depth_m = day.grid_m()
    factors, unused = _factors(day, depth_m)
    hours, fish = _through_the_day(day, depth_m, factors)
    rise = come_up_m(day) if day.strengths.get("clear-water", 1.0) > 0.0 else 0.0
    lure = risen(depth_m, fish, rise)
    bands = band_chances(depth_m, fish, lure)
    covers = cover_chances(day, factors)
    fish_middle = middle_of(depth_m, fish)
    return Outlook(
        day=day,
        depth_m=depth_m,
        fish_per_m=fish,
        lure_per_m=lure,
        fish_m=fish_middle,
        lure_m=middle_of(depth_m, lure),
        median_band_m=median_band_m(depth_m, factors, fish_middle.median),
        bands=bands,
        covers=covers,
        joint=joint_chances(day, bands, covers),
        hours=hours,
        factors=with_parts(depth_m, factors),
        unused=unused,
        ruled_out=_ruled_out(day, depth_m, fish),
        start=start_with(day),
        come_up_m=rise,
        reach=_reach(day, depth_m, fish, rise),
        cautions=cautions(day, fish_middle),
    )


def _listed() -> str:
    return ", ".join(FACTOR_KEYS)


def _factors(day: Day, depth_m: FloatArray) -> tuple[list[DayFactor], tuple[str, ...]]:
    found: list[DayFactor] = []
    unused: list[str] = []
    for kind in FACTORS:
        strength = day.strengths.get(kind.key, 1.0)
        if strength == 0.0:
            unused.append(f"{kind.key}: switched off")
            continue
        factor = kind.make(day, depth_m)
        if factor is None:
            if kind.needs and not _silent_for_good_reason(day, kind.key):
                unused.append(f"{kind.key}: would need {kind.needs}")
            continue
        found.append(replace(factor, strength=strength))
    return found, tuple(unused)


def _silent_for_good_reason(day: Day, key: str) -> bool:
    """Whether a factor says nothing although what it needs is known."""
    known = {
        "thermocline": day.profile is not None or day.thermocline_m is not None,
        "spawning": day.surface_c is not None,
        "grass": day.grass_edge_m is not None,
    }
    return known.get(key, False)


def _through_the_day(
    day: Day, depth_m: FloatArray, factors: list[DayFactor]
) -> tuple[tuple[HourChance, ...], FloatArray]:
    """Belief of each hour, and their mean weighted by what each hour is worth."""
    light = next((f for f in factors if f.key == "light"), None)
    if not day.hours or light is None:
        fish = combined(depth_m, factors)
        middle = middle_of(depth_m, fish)
        weights = _hour_weights(day)
        return tuple(
            HourChance(hour.start_h, hour.elevation_rad, w, middle)
            for hour, w in zip(day.hours, weights, strict=True)
        ), fish
    rest = [f for f in factors if f.key != "light"]
    weights = _hour_weights(day)
    total = np.zeros_like(depth_m)
    found: list[HourChance] = []
    for hour, weight in zip(day.hours, weights, strict=True):
        extra = light_weight(day, depth_m, hour.elevation_rad) ** light.strength
        fish = combined(depth_m, rest, extra)
        total = total + weight * fish
        found.append(HourChance(hour.start_h, hour.elevation_rad, weight, middle_of(depth_m, fish)))
    return tuple(found), np.asarray(total / sum(weights), dtype=np.float64)


def _hour_weights(day: Day) -> list[float]:
    """Bites of each hour over those of the mean hour: low sun is best, in cold water noon."""
    if not day.hours:
        return []
    cold = day.surface_c is not None and day.surface_c.value < COLD_HOURS_C
    gain = LOW_SUN_GAIN * (0.5 if day.sky == "overcast" else 1.0)
    raw = []
    for hour in day.hours:
        e = hour.elevation_rad
        if cold:
            raw.append(1.0 + LOW_SUN_GAIN * max(math.sin(e), 0.0))
        else:
            dark = NIGHT_WORTH if e < -1.5 * LOW_SUN_RAD else 1.0
            raw.append(dark * (1.0 + gain * math.exp(-((e / LOW_SUN_RAD) ** 2))))
    mean = sum(raw) / len(raw)
    return [value / mean for value in raw]


def _ruled_out(day: Day, depth_m: FloatArray, fish: FloatArray) -> tuple[RuledOut, ...]:
    """Where next to no fish is expected, and why."""
    if day.strengths.get("oxygen", 1.0) == 0.0:
        return ()
    deepest = float(depth_m[-1])
    floor, at = told_floor(day), read_floor_m(day)
    why = f"oxygen under {OXYGEN_FLOOR_MG_L:g} mg/L"
    if floor is not None:
        at, why = floor.value, "too little oxygen, as you said"
    if at is None or at >= deepest:
        return ()
    left = share_below(depth_m, fish, at)
    if left > NEXT_TO_NOTHING:
        return ()
    return (RuledOut(at, deepest, left, why),)


def _reach(day: Day, depth_m: FloatArray, fish: FloatArray, rise_m: float) -> str:
    """What to do about fish that no owned lure reaches."""
    if day.reach_m is None:
        return ""
    beyond = share_below(depth_m, fish, day.reach_m)
    if beyond < 0.1:
        return ""
    text = day.units.depth.text
    told = (
        f"{100.0 * beyond:.0f} in 100 fish lie deeper than your lures reach ({text(day.reach_m)})"
    )
    if rise_m <= 0.0:
        return (
            f"{told}: look for the shallower ones on edges and drops, in low light, or reach them "
            "with something that sinks."
        )
    still = share_below(depth_m, fish, day.reach_m + rise_m)
    return (
        f"{told}; in water this clear fish come up some {text(rise_m)} to a lure run fast with "
        f"stops above them, so fish over them all the same: {100.0 * (beyond - still):.0f} of the "
        "100 may (common practice, no source)."
    )
