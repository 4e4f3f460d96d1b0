"""Sound and colour family to start with, and why."""

from __future__ import annotations

import math

import numpy as np

from leadsman.belief.levels import COLOUR_FAMILIES, ColourFamily, Sound
from leadsman.plan.day_fish import VERY_CLEAR_M
from leadsman.plan.day_types import Day, StartWith

DIRTY_M = 0.2
"""Visibility of 6 to 8 in [m]: dirty, by the trade (common practice, no source)."""
COLOURED_M = 1.5
"""Secchi depth under which water counts as coloured [m]. Own assumption, spread 1 to 2."""
CLEAR_M = 2.5
"""Secchi depth from which colours follow the forage [m]. Own assumption, spread 2 to 4."""

DIRTY_COLOURS: dict[ColourFamily, float] = {"light": 0.5, "dark": 0.3, "red": 0.1, "natural": 0.1}
CLEAR_COLOURS: dict[ColourFamily, float] = {"light": 0.2, "dark": 0.1, "red": 0.1, "natural": 0.6}
"""Weights of colour families in dirty and in clear water [-]: the order is common practice, the
numbers own assumption."""

SOUND_START = 0.2
SOUND_COLOURED = 1.0
SOUND_CLEAR = -1.2
SOUND_GRASS = 0.8
SOUND_PRESSURE = -1.2
SOUND_CHOP = 0.3
"""Logarithm of the odds of rattling over silent, before any news and what each piece of news adds
[-]. The signs are common practice, no source; the sizes own assumptions, good to a half."""

OTHER_SOUND = (
    "When a place that gave 15 to 20 fish stops, tie the same lure in the other sound before "
    "leaving (common practice, no source)"
)
_CONFUSED = (
    "bass have cones for green and red and none for blue, and take chartreuse for white and blue "
    "for black "
    "(Mitchem et al. 2019, doi 10.1093/cz/zoy019)"
)


def start_with(day: Day) -> StartWith:
    """Sound and colour family to tie on first.

    Parameters
    ----------
    day : Day
        Clarity, grass, pressure, forage, wind and the angler's own choice [-].
    """
    sounds, sound_why = _sound(day)
    colours, colour_why = _colour(day)
    sound = max(sounds, key=lambda name: sounds[name])
    colour = max(colours, key=lambda name: colours[name])
    return StartWith(sound, sounds, sound_why, colour, colours, colour_why)


def _sound(day: Day) -> tuple[dict[Sound, float], str]:
    if day.sound is not None:
        other: Sound = "silent" if day.sound == "rattling" else "rattling"
        return {day.sound: 0.9, other: 0.1}, "Your own choice"
    for_rattle: list[str] = []
    for_silence: list[str] = []
    log_odds = SOUND_START
    if day.secchi_m is not None:
        seen = day.units.depth.text(day.secchi_m.value)
        if day.secchi_m.value < COLOURED_M:
            log_odds += SOUND_COLOURED
            for_rattle.append(f"coloured water ({seen})")
        elif day.secchi_m.value >= VERY_CLEAR_M:
            log_odds += SOUND_CLEAR
            for_silence.append(f"very clear water ({seen})")
    if day.grass == "thick":
        log_odds += SOUND_GRASS
        for_rattle.append("thick grass")
    if day.pressure == "heavy":
        log_odds += SOUND_PRESSURE
        for_silence.append("heavily fished water")
    if day.wind_m_s is not None and day.wind_m_s > 4.5:
        log_odds += SOUND_CHOP
        for_rattle.append("chop")
    rattling = 1.0 / (1.0 + math.exp(-log_odds))
    wins, loses = (for_rattle, for_silence) if log_odds >= 0.0 else (for_silence, for_rattle)
    word = "Rattling" if log_odds >= 0.0 else "Silent"
    because = " and ".join(wins) if wins else "nothing known speaks against it"
    against = f", though {' and '.join(loses)} speaks for the other" if loses else ""
    why = (
        f"{word} first: {because}{against} (common practice, no source; weights own assumption). "
        f"{OTHER_SOUND}"
    )
    return {"rattling": rattling, "silent": 1.0 - rattling}, why


def _colour(day: Day) -> tuple[dict[ColourFamily, float], str]:
    if day.colour is not None:
        rest = 0.3 / (len(COLOUR_FAMILIES) - 1)
        own = {name: (0.7 if name == day.colour else rest) for name in COLOUR_FAMILIES}
        return own, "Your own choice"
    if day.secchi_m is None:
        share, why = 0.7, "Clarity is not told: natural patterns of the forage until it is"
    else:
        seen, clear = day.units.depth.text(day.secchi_m.value), day.secchi_m.value
        logs = (math.log(DIRTY_M), math.log(CLEAR_M))
        share = float(np.interp(math.log(clear), logs, (0.0, 1.0)))
        if clear <= 2.0 * DIRTY_M:
            why = (
                f"Dirty water ({seen}): the most visible, contrasting colours; the distance at "
                "which bass see and catch prey falls steeply with turbidity (Sweka & Hartman 2003; "
                "Huenemann et al. 2012)"
            )
        elif clear >= CLEAR_M:
            why = f"Clear water ({seen}): natural patterns of the forage"
        else:
            why = f"Neither clear nor dirty ({seen}): between visible and natural"
    weights = {
        name: (1.0 - share) * DIRTY_COLOURS[name] + share * CLEAR_COLOURS[name]
        for name in COLOUR_FAMILIES
    }
    if day.forage == "crayfish":
        weights["red"] *= 2.0
        why += "; red and brown where crayfish are eaten"
    total = sum(weights.values())
    told = {name: weight / total for name, weight in weights.items()}
    return told, f"{why} (common practice, no source); {_CONFUSED}"
