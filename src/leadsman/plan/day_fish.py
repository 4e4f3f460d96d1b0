"""Factors of the day that come from the fish, their food, the grass and the wind."""

from __future__ import annotations

import math

import numpy as np

from leadsman.plan.day_types import Day, DayFactor, FloatArray, Forage
from leadsman.plan.day_water import RANGES

HALF_EVERY_M = 3.0
FLAT_TO_M = 3.0
"""With nothing known: even belief down to `FLAT_TO_M`, then half as much every `HALF_EVERY_M` [m].
Own assumption, spread of the latter 2 to 6 m."""
START_COVER = {"edge": 1.6, "drop": 1.0, "flat": 1.0, "open_water": 0.4}
"""Covers with nothing known [-]. Own assumption, good to a factor of two."""
NEST_FADE_M = 2.0
"""Depth over which the belief fades in the spawning season [m]. Own assumption, spread 1 to 4;
smallmouth nests lie at 0.3 to 0.9 m as a rule, spotted bass nests down to 6.7 m."""
NEST_COVER = {"flat": 2.0, "edge": -0.5, "open_water": -0.7}
"""Change of covers in the spawning season [-]. Common practice for the direction; own assumption,
good to half of each."""
FULL_WIND_M_S = 6.7
"""Wind, 15 mph, whose effect counts fully [m s-1]. Own assumption."""
WIND_FADE_M, WIND_FLAT = 8.0, 0.4
"""Depth over which a full wind fades the belief [m] and its gain on flats [-]. Own assumptions,
spread 4 to 16 m and 0 to 1."""
FORAGE_GAIN = 2.0
"""Gain of the belief at the depth of forage [-]. Own assumption, spread 1 to 4."""
FORAGE_HALF_M = 1.2
"""Half thickness of a layer of forage [m]. Own assumption, spread 0.5 to 2.5."""
FORAGE_COVER: dict[Forage, dict[str, float]] = {
    "baitfish": {"open_water": 2.5, "drop": 1.3, "flat": 0.8},
    "crayfish": {"drop": 1.5, "flat": 1.2, "open_water": 0.3},
    "panfish": {"edge": 1.5, "flat": 1.2, "open_water": 0.5},
}
"""Where each forage is eaten [-]: common practice, no source; strength own assumption."""
EDGE_GAIN = 2.0
"""Gain of the belief at a grass edge that was seen [-], half of it at a guessed one. Own
assumption, spread 1 to 4."""
YOUR_WORD_LEFT = 0.04
"""Belief left away from fish the angler has seen [-]. Own assumption, spread 0.02 to 0.1."""
VERY_CLEAR_M = 4.0
"""Secchi depth from which water counts as very clear [m]. Own assumption, spread 3 to 5."""
CLEAREST_M = 6.0
"""Secchi depth from which fish are thought to come up farthest [m]. Own assumption."""
CLEAR_COVER = {"open_water": 1.5, "drop": 0.3}
"""Gain of covers in the clearest water [-]. Own assumption, good to a factor of two."""
DEEP_WATER_M = 9.0
"""Depth from which water counts as deep [m]: where fish lie that lures do not reach. Fact of the
trade: fish at 25 to 30 ft; common practice, no source."""
MOST_COME_UP_M = 3.0
"""How far fish come up in the clearest water [m]: from 25 to 30 ft to a lure at 18 to 20 ft.
Common practice, no source; own assumption for the number, spread 1.5 to 5 m."""


def nothing_known(day: Day, depth_m: FloatArray) -> DayFactor:
    """The belief before any news.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    fade = np.exp(-math.log(2.0) * np.maximum(depth_m - FLAT_TO_M, 0.0) / HALF_EVERY_M)
    text = day.units.depth.text
    return DayFactor(
        "start",
        "nothing",
        f"Bass at any depth to {text(FLAT_TO_M)}, then half as likely every {text(HALF_EVERY_M)}",
        "own assumption",
        "own assumption; half every 2 to 6 m",
        True,
        np.asarray(fade, dtype=np.float64),
        START_COVER,
    )


def your_depth(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Depths at which the angler knows fish.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    if day.fish_m is None:
        return None
    low, high = day.fish_m
    off = np.maximum(low - depth_m, 0.0) + np.maximum(depth_m - high, 0.0)
    return DayFactor(
        "fish",
        f"fish at {day.units.depth.band(low, high)}",
        "Your own sight counts 25 to one",
        "your word",
        "25 to one: own assumption, 10 to 50; fish move",
        False,
        np.asarray(
            YOUR_WORD_LEFT + (1.0 - YOUR_WORD_LEFT) * np.exp(-0.5 * (off / 0.5) ** 2),
            dtype=np.float64,
        ),
    )


def spawning_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Shallow belief while the water is in the range of spawning and warming.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    surface, likes = day.surface_c, RANGES[day.species]
    if surface is None or day.warming is False:
        return None
    low, high = likes.spawns_c
    if surface.high < low or surface.low > high:
        return None
    if surface.high - surface.low < 0.5:
        chance = float(low <= surface.value <= high)
    else:
        inside = min(surface.high, high) - max(surface.low, low)
        chance = min(inside / (surface.high - surface.low), 1.0)
    if chance == 0.0:
        return None
    if day.warming is None:
        chance *= 0.5
    weight = (1.0 - chance) + chance * np.exp(-depth_m / NEST_FADE_M)
    shown = day.units.temperature
    sure = "" if day.warming else ", if it is spring: the date is not told"
    return DayFactor(
        "spawning",
        f"surface {shown.text(surface.value)}, within {shown.band(low, high)}{sure}",
        "Fish are on or near the nests, in shallow water; mind closed seasons",
        "published, strength assumed",
        f"{likes.spawns_source}; fading over 1 to 4 m of depth: own assumption",
        surface.is_guess or day.warming is None,
        np.asarray(weight / weight.max(), dtype=np.float64),
        {name: 1.0 + chance * change for name, change in NEST_COVER.items()},
    )


def grass_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """The outside edge of the deepest grass gathers fish.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    text, edge = day.units.depth.text, day.grass_edge_m
    if day.grass == "none":
        return DayFactor(
            "grass", "no grass", "No grass edge to follow", "your word",
            "common practice, no source; strength own assumption", False,
            np.ones_like(depth_m), {"edge": 0.3},
        )  # fmt: skip
    if edge is None or edge.low > depth_m[-1]:
        return None
    half = max((edge.high - edge.low) / (2.0 * 1.6449), 0.6)
    strong = EDGE_GAIN if edge.origin != "guess" else 0.5 * EDGE_GAIN
    weight = 1.0 + strong * np.exp(-0.5 * ((depth_m - edge.value) / half) ** 2)
    band = f" ({day.units.depth.band(edge.low, edge.high)})" if edge.is_guess else ""
    return DayFactor(
        "grass",
        f"deepest grass to {text(edge.value)}{band}",
        "Fish gather along the outside edge of the grass",
        "common practice",
        f"the effect: common practice, no source, strength own assumption; the depth: "
        f"{edge.source}",
        edge.is_guess,
        np.asarray(weight / weight.max(), dtype=np.float64),
        {"edge": 1.0 + 0.5 * strong},
    )


def forage_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Fish are where their food is.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    if day.forage is None:
        return None
    weight = np.ones_like(depth_m)
    known = f"{day.forage} seen"
    if day.forage_m is not None:
        away = (depth_m - day.forage_m) / FORAGE_HALF_M
        weight = 1.0 + FORAGE_GAIN * np.exp(-0.5 * away**2)
        known += f" at {day.units.depth.text(day.forage_m)}"
    return DayFactor(
        "forage",
        known,
        "Fish are at the depth and in the cover of their food",
        "common practice",
        "common practice, no source; three times the belief at its depth, own assumption (2 to 5)",
        False,
        weight / weight.max(),
        FORAGE_COVER[day.forage],
    )


def wind_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Wind and chop bring fish up and onto the flats it blows on.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    if day.wind_m_s is None:
        return None
    share = min(day.wind_m_s / FULL_WIND_M_S, 1.0)
    return DayFactor(
        "wind",
        f"wind {day.units.speed.text(day.wind_m_s)}",
        "Chop dims the light and brings fish up where it blows in" if share > 0.2 else "Calm",
        "common practice",
        "common practice, no source; strength own assumption, full at 15 mph",
        False,
        np.asarray(np.exp(-share * depth_m / WIND_FADE_M), dtype=np.float64),
        {"flat": 1.0 + WIND_FLAT * share},
    )


def come_up_m(day: Day) -> float:
    """How far fish are thought to rise to a lure [m].

    Parameters
    ----------
    day : Day
        Day [-].
    """
    if day.secchi_m is None or day.max_depth_m < DEEP_WATER_M:
        return 0.0
    clear = day.secchi_m.value
    return MOST_COME_UP_M * float(np.interp(clear, (VERY_CLEAR_M - 1.0, CLEAREST_M), (0.0, 1.0)))


def clear_water_factor(day: Day, depth_m: FloatArray) -> DayFactor | None:
    """Very clear, deep water: fish hang over the depths and come up to a lure.

    Parameters
    ----------
    day : Day
        Day [-].
    depth_m : ndarray, shape (n,)
        Depths [m].
    """
    rise = come_up_m(day)
    if rise <= 0.0 or day.secchi_m is None:
        return None
    share = rise / MOST_COME_UP_M
    weight = 1.0 + share * np.clip((depth_m - 3.0) / 5.0, 0.0, 1.0)
    return DayFactor(
        "clear-water",
        f"clarity {day.units.depth.text(day.secchi_m.value)} over deep water",
        f"Fish hang deeper and in open water, and come up some {day.units.depth.text(rise)} to a "
        "lure run fast with stops",
        "common practice",
        "common practice, no source; the rise own assumption (1.5 to 5 m at the clearest)",
        day.secchi_m.is_guess,
        np.asarray(weight / weight.max(), dtype=np.float64),
        {name: 1.0 + share * gain for name, gain in CLEAR_COVER.items()},
    )
