"""Light below the surface through the day, and what it does to the belief."""

from __future__ import annotations

import math

import numpy as np

from leadsman.lake.clarity import (
    KSD_CLASSIC,
    KSD_HIGH,
    KSD_LOW,
    KSD_WALKER,
    attenuation_per_m,
    light_range,
)
from leadsman.plan.day_types import Day, DayFactor, FloatArray, Sky

SKY_SHARE: dict[Sky, float] = {"clear": 1.0, "broken": 0.6, "overcast": 0.25}
"""Light under clouds over that of a clear sky [-]. Own assumption; a tenth to a half passes
through a closed cover."""
TOO_BRIGHT = 0.1
"""Share of full sun above which fish are thought to go deeper or into cover [-]. Own assumption,
spread 0.03 to 0.3."""
TOO_DARK = 1e-5
"""Share of full sun, about one lux, below which a lure is hard to see [-]. Own assumption, spread
1e-6 to 1e-4."""
SOFTNESS = math.log(10.0)
"""Width of both limits in the logarithm of light [-]. Own assumption: a factor of ten."""
MIDDAY_RAD = math.radians(45.0)
"""Height of the sun where day and place are unknown [rad]. Own assumption."""
LOW_LIGHT = 0.3
"""Light on the water, over full sun, under which fish are said to roam [-]. Own assumption."""
_WATER_TYPES = (KSD_LOW, KSD_WALKER, KSD_CLASSIC, KSD_HIGH)


def surface_light(elevation_rad: float, sky: Sky) -> float:
    """Light on the water over that of an overhead sun in a clear sky [-].

    Parameters
    ----------
    elevation_rad : float
        Height of the sun, negative below the horizon [rad].
    sky : {"clear", "broken", "overcast"}
        Clouds [-].

    Notes
    -----
    Sine of the height by day; below the horizon a tenth for each 2.5 degrees from a two hundredth
    at the horizon down to moonlight: own assumption, good to a factor of three.
    """
    twilight: float = 0.005 * 10.0 ** (min(math.degrees(elevation_rad), 0.0) / 2.5)
    return max(math.sin(elevation_rad), 0.0) * SKY_SHARE[sky] + max(twilight, 1e-6)


def light_weight(day: Day, depth_m: FloatArray, elevation_rad: float) -> FloatArray:
    """Factor on depth from the light at one height of the sun [-].

    Averaged over the range of water types, since clarity alone does not fix the light.

    Parameters
    ----------
    day : Day
        Day with a known clarity [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    elevation_rad : float
        Height of the sun [rad].
    """
    if day.secchi_m is None:
        return np.ones_like(depth_m)
    log_above = math.log(surface_light(elevation_rad, day.sky))
    total = np.zeros_like(depth_m)
    for k in _WATER_TYPES:
        log_light = log_above - attenuation_per_m(day.secchi_m.value, k) * depth_m
        bright = np.maximum(log_light - math.log(TOO_BRIGHT), 0.0) / SOFTNESS
        dark = np.maximum(math.log(TOO_DARK) - log_light, 0.0) / SOFTNESS
        total += np.exp(-0.5 * (bright**2 + dark**2))
    weight = total / len(_WATER_TYPES)
    return np.asarray(weight / weight.max(), dtype=np.float64)


def mean_surface_light(day: Day) -> float:
    """Light on the water over the hours to be fished [-].

    Parameters
    ----------
    day : Day
        Day [-].
    """
    heights = [hour.elevation_rad for hour in day.hours] or [MIDDAY_RAD]
    return sum(surface_light(e, day.sky) for e in heights) / len(heights)


def light_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """What light does to the belief, as a mean over the hours.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    if day.secchi_m is None:
        return None
    units = day.units
    heights = [hour.elevation_rad for hour in day.hours] or [MIDDAY_RAD]
    mean = np.mean([light_weight(day, depth_m, e) for e in heights], axis=0)
    highest = max(heights)
    at = 3.0
    dark, middle, bright = light_range(at, day.secchi_m.value)
    sun = (
        f"sun up to {math.degrees(highest):.0f} degrees"
        if day.hours
        else "the sun taken as half high, day and place not told"
    )
    cover, where = _where(mean_surface_light(day), day.secchi_m.value)
    return DayFactor(
        "light",
        f"clarity {units.depth.text(day.secchi_m.value)}, {day.sky} sky, {sun}; at "
        f"{units.depth.text(at)} {_percent(dark)} to {_percent(bright)} of the surface light is "
        f"left, {_percent(middle)} by the classic rule",
        where,
        "common practice",
        "the effect: common practice, no source, its strength own assumption (limits good to a "
        "factor of three); light left: exp(-Kz), K times Secchi depth 1.1 to 2.8 by water type, "
        "1.7 classic (from memory), 1.45 Walker 1980",
        day.secchi_m.is_guess or not day.hours,
        mean / mean.max(),
        cover,
    )


def _where(surface: float, secchi_m: float) -> tuple[dict[str, float], str]:
    """Covers that light favours, and what it does in words."""
    if surface < LOW_LIGHT:
        return {"flat": 1.3}, "Little light lets fish stay shallow and roam"
    if secchi_m < 2.0:
        return {}, "Light fades fast in such water, so fish may stay shallow"
    words = "High sun in water this clear sends fish deeper or into cover"
    return {"edge": 1.3, "drop": 1.2, "flat": 0.8}, words


def _percent(share: float) -> str:
    value = 100.0 * share
    return f"{value:.0f} %" if value >= 2.0 else f"{value:.1g} %"
