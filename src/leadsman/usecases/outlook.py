"""What depth, cover and hour to expect fish at, and what to tie on first?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from leadsman.belief.levels import ColourFamily, Cover, Sound
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import PlanError
from leadsman.plan.day import outlook
from leadsman.plan.day_types import Day, Forage, Grass, Outlook, Pressure, Sky, Species
from leadsman.usecases.resolve_lake_day import resolve_lake
from leadsman.usecases.resolve_sun import resolve_sun

FEW_NEWS = 3
"""Factors with news under which the answer is called a guess from little [-]. Own choice."""

COVER_WORDS: dict[Cover, str] = {
    "edge": "along the outside edge of the grass",
    "flat": "on flats",
    "drop": "on drops",
    "open_water": "over open water",
}
COLOUR_WORDS: dict[ColourFamily, str] = {
    "natural": "natural colours",
    "light": "white or chartreuse",
    "dark": "black or dark blue",
    "red": "red or brown",
}


@dataclass(frozen=True, slots=True)
class OutlookQuestion:
    """What is known of a day; what is not known is None.

    Parameters
    ----------
    profile : pathlib.Path or None
        Table of temperature and oxygen over depth [-].
    profile_place : str or None
        Which lake or station in it [-].
    profile_depth_unit : str or None
        ``"m"`` or ``"ft"`` where the table does not say [-].
    day : datetime.date or None
        Day to be fished [-].
    place_deg : tuple of float or None
        Latitude and longitude [deg].
    zone : str or None
        Time zone of the clock, such as ``America/Chicago`` or ``UTC-5`` [-].
    hours_h : tuple of float or None
        First and last hour on the clock; None fishes from sunrise to sunset [h].
    species : {"largemouth", "smallmouth", "spotted"}
        Fish looked for [-].
    max_depth_m : float or None
        Greatest depth of the water [m].
    fetch_m : float or None
        Greatest length of the lake [m].
    secchi_m : float or None
        Clarity, as the depth at which a white disk is lost from sight [m].
    surface_c : float or None
        Temperature at the surface [degC].
    thermocline_m, oxygen_floor_m, grass_edge_m : float or None
        Depths the angler knows [m].
    grass : {"none", "some", "thick"} or None
        How much grass there is [-].
    sky : {"clear", "broken", "overcast"}
        Clouds [-].
    wind_m_s : float or None
        Wind [m s-1].
    forage : {"baitfish", "crayfish", "panfish"} or None
        Food seen or known [-].
    forage_m : float or None
        Its depth [m].
    pressure : {"light", "usual", "heavy"}
        How heavily the water is fished [-].
    fish_m : tuple of float or None
        Depths at which fish are known [m].
    reach_m : float or None
        Greatest depth any lure of the kit reaches [m].
    cover_weights : mapping of str to float
        The angler's own weights of covers [-].
    strengths : mapping of str to float
        How much single factors count: 0 switches one off [-].
    sound : {"rattling", "silent"} or None
        Sound already decided on [-].
    colour : {"natural", "light", "dark", "red"} or None
        Colour family already decided on [-].
    units : str
        Units of the sentences, ``us`` or ``metric`` [-].
    """

    profile: Path | None = None
    profile_place: str | None = None
    profile_depth_unit: str | None = None
    day: date | None = None
    place_deg: tuple[float, float] | None = None
    zone: str | None = None
    hours_h: tuple[float, float] | None = None
    species: Species = "largemouth"
    max_depth_m: float | None = None
    fetch_m: float | None = None
    secchi_m: float | None = None
    surface_c: float | None = None
    thermocline_m: float | None = None
    oxygen_floor_m: float | None = None
    grass_edge_m: float | None = None
    grass: Grass | None = None
    sky: Sky = "clear"
    wind_m_s: float | None = None
    forage: Forage | None = None
    forage_m: float | None = None
    pressure: Pressure = "usual"
    fish_m: tuple[float, float] | None = None
    reach_m: float | None = None
    cover_weights: Mapping[str, float] = field(default_factory=dict)
    strengths: Mapping[str, float] = field(default_factory=dict)
    sound: Sound | None = None
    colour: ColourFamily | None = None
    units: str = "us"


@dataclass(frozen=True, slots=True)
class OutlookAnswer:
    """The outlook of a day.

    Parameters
    ----------
    question : OutlookQuestion
        What was asked [-].
    outlook : Outlook
        Beliefs, factors and reasons [-].
    headline : str
        The answer in a sentence [-].
    notes : tuple of str
        What was read and assumed [-].
    """

    question: OutlookQuestion
    outlook: Outlook
    headline: str
    notes: tuple[str, ...]

    @property
    def units(self) -> DisplayUnits:
        """Units the person reads in."""
        return self.outlook.day.units


def find_outlook(question: OutlookQuestion) -> OutlookAnswer:
    """Outlook of a day from whatever is known of it.

    Parameters
    ----------
    question : OutlookQuestion
        What is known [-].

    Raises
    ------
    InputError
        Something given cannot be used.
    """
    units = display_units(question.units)
    _check(question)
    lake = resolve_lake(question, units)
    sun = resolve_sun(question.day, question.place_deg, question.zone, question.hours_h)
    day = Day(
        max_depth_m=lake.max_depth_m,
        species=question.species,
        profile=lake.profile,
        surface_c=lake.surface_c,
        thermocline_m=lake.thermocline_m,
        oxygen_floor_m=lake.oxygen_floor_m,
        secchi_m=lake.secchi_m,
        grass=question.grass,
        grass_edge_m=lake.grass_edge_m,
        warming=lake.warming,
        summer=lake.summer,
        hours=sun.hours,
        sky=question.sky,
        wind_m_s=question.wind_m_s,
        forage=question.forage,
        forage_m=question.forage_m,
        pressure=question.pressure,
        fish_m=question.fish_m,
        reach_m=question.reach_m,
        cover_weights=question.cover_weights,
        strengths=question.strengths,
        sound=question.sound,
        colour=question.colour,
        units=units,
    )
    found = outlook(day)
    answer = OutlookAnswer(question, found, "", (*lake.notes, *sun.notes))
    return replace(answer, headline=_headline(found))


def _check(question: OutlookQuestion) -> None:
    for name, value, least, most in (
        ("wind", question.wind_m_s, 0.0, 40.0),
        ("depth of the forage", question.forage_m, 0.0, 300.0),
        ("reach of the lures", question.reach_m, 0.05, 100.0),
        ("thermocline", question.thermocline_m, 0.3, 300.0),
        ("depth of too little oxygen", question.oxygen_floor_m, 0.3, 300.0),
        ("grass edge", question.grass_edge_m, 0.1, 30.0),
    ):
        if value is not None and not (math.isfinite(value) and least <= value <= most):
            raise PlanError(f"{value:.4g} (SI) is outside {least:g} to {most:g}", name)
    if question.fish_m is not None and not 0.0 <= question.fish_m[0] < question.fish_m[1]:
        raise PlanError("the depths of known fish run backwards", "known fish")
    if question.grass == "none" and question.grass_edge_m is not None:
        raise PlanError(
            "no grass has no edge", "grass", "Leave out the edge, or say some or thick grass"
        )


def _headline(found: Outlook) -> str:
    units = found.day.units
    cover = max(found.covers, key=lambda name: found.covers[name])
    start = found.start
    how = f"{start.sound} lure, {COLOUR_WORDS[start.colour]}"
    sentence = f"Start at {_where_to_run(found)} {COVER_WORDS[cover]}, {how}"
    if found.ruled_out:
        out = found.ruled_out[0]
        sentence += f"; next to no fish below {_whole(units, out.low_m)}: {out.why}"
    elif found.hours:
        best = max(found.hours, key=lambda hour: hour.weight)
        sentence += f"; best hour {clock(best.start_h)}"
    news = sum(not factor.is_guess for factor in found.factors)
    if news < FEW_NEWS and found.day.fish_m is None:
        return f"A guess from little: {sentence[0].lower()}{sentence[1:]}."
    return f"{sentence}."


def _where_to_run(found: Outlook) -> str:
    """Depths to run a lure at, no deeper than one reaches."""
    units, lure = found.day.units, found.lure_m
    reach_m = found.day.reach_m
    if reach_m is None or reach_m >= lure.high_50:
        return _whole(units, lure.low_50, lure.high_50)
    if lure.low_50 < 0.8 * reach_m:
        depths = _whole(units, lure.low_50, reach_m)
    else:
        depths = f"{_whole(units, reach_m)}, as deep as your lures run,"
    if found.reach and found.come_up_m > 0.0:
        return f"{depths.rstrip(',')}, fast with stops so that fish come up,"
    return depths


def _whole(units: DisplayUnits, low_m: float, high_m: float | None = None) -> str:
    """Depths in whole feet or half metres: an outlook is no sharper."""
    step = 1.0 if units.name == "us" else 0.5

    def text(depth_m: float) -> str:
        return f"{round(units.depth.value(depth_m) / step) * step:g}"

    if high_m is None:
        return f"{text(low_m)} {units.depth.unit}"
    return f"{text(low_m)} to {text(high_m)} {units.depth.unit}"


def clock(hour_h: float) -> str:
    """An hour as a clock shows it.

    Parameters
    ----------
    hour_h : float
        Hour of the day [h].
    """
    minutes = round(hour_h * 60.0)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
