"""What is known, told or guessed of the lake's water on a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from leadsman.display_units import DisplayUnits
from leadsman.errors import PlanError
from leadsman.lake.clarity import check_secchi
from leadsman.lake.estimate import Estimate
from leadsman.lake.grass_edge import MAX_SECCHI_M, MIN_SECCHI_M, edge_from_secchi
from leadsman.lake.lake_guesses import guess_surface_c, guess_thermocline
from leadsman.lake.read_profile import choose_profile, read_profiles
from leadsman.lake.water_column import WaterProfile, oxygen_floor_m, thermocline_m

if TYPE_CHECKING:
    from leadsman.usecases.outlook import OutlookQuestion

USUAL_DEPTH_M = 12.0
"""Greatest depth where none is told [m]: 40 ft, own assumption."""
MIDSUMMER_DAY = 196
"""Day of the year until which northern water is taken as warming, mid July [day]. Own choice."""
LAYERED_DAYS = (152, 273)
"""Days of the year on which northern lakes are layered, June to September [day]. Own assumption,
spread 3 weeks; farther south longer."""
LAYERED_C = 18.0
"""Surface temperature from which a lake of unknown date counts as layered [degC]. Own assumption,
spread 3."""
WARM_SKIN_M = 2.0
"""Depth above which the steepest change is the work of one warm day [m]. Own choice, after the
seasonal thermocline of Read et al. 2011, which is the deepest steep change."""
EDGE_ERROR_M = 0.5
"""Half of the 90 % band of a grass edge the angler names [m]. Own assumption."""

EDGE_SOURCE = (
    "guess from clarity, Caffrey, Hoyer & Canfield 2007, Canfield et al. 1985 and Chambers & "
    "Kalff 1985 (the last two from memory), upper end the upper line of the first, lower end as "
    "far off"
)


@dataclass(frozen=True, slots=True)
class ResolvedLake:
    """The water of the day.

    Parameters
    ----------
    max_depth_m : float
        Greatest depth [m].
    profile : WaterProfile or None
        Readings [-].
    surface_c : Estimate or None
        Temperature at the surface [degC].
    thermocline_m, oxygen_floor_m, grass_edge_m, secchi_m : Estimate or None
        Depths [m].
    warming : bool or None
        Whether the season warms; None if the day is not known [-].
    summer : bool
        Whether lakes are layered [-].
    notes : tuple of str
        What was read and assumed [-].
    """

    max_depth_m: float
    profile: WaterProfile | None
    surface_c: Estimate | None
    thermocline_m: Estimate | None
    oxygen_floor_m: Estimate | None
    grass_edge_m: Estimate | None
    secchi_m: Estimate | None
    warming: bool | None
    summer: bool
    notes: tuple[str, ...]


def resolve_lake(question: OutlookQuestion, units: DisplayUnits) -> ResolvedLake:
    """Put together what is measured, told and guessed, in that order of trust.

    Parameters
    ----------
    question : OutlookQuestion
        What is known [-].
    units : DisplayUnits
        Units of the notes [-].

    Raises
    ------
    InputError
        A file or a number cannot be used.
    """
    notes: list[str] = []
    profile = _profile(question, notes)
    season = _day_of_northern_year(question)
    surface = _surface(question, profile, notes, units)
    summer = (
        LAYERED_DAYS[0] <= season <= LAYERED_DAYS[1]
        if season is not None
        else surface is not None and surface.value >= LAYERED_C
    )
    max_depth_m = _max_depth_m(question, profile, notes, units)
    if profile is not None and profile.depth_m[-1] < 0.8 * max_depth_m:
        ends = units.depth.text(float(profile.depth_m[-1]))
        notes.append(f"The profile ends at {ends}; below it the last reading is taken to hold")
    if question.day is not None and question.place_deg is None:
        notes.append("No place is told: the seasons are taken as those of the northern half")
    secchi = None
    if question.secchi_m is not None:
        check_secchi(question.secchi_m)
        secchi = _told(question.secchi_m)
    return ResolvedLake(
        max_depth_m,
        profile,
        surface,
        _thermocline(question, profile, summer, notes, units),
        _oxygen_floor(question, profile),
        _grass_edge(question, max_depth_m),
        secchi,
        None if season is None else season <= MIDSUMMER_DAY,
        summer,
        tuple(notes),
    )


def _told(value: float, error: float = 0.0) -> Estimate:
    return Estimate(value, max(value - error, 0.01), value + error, "given", "your word")


def _profile(question: OutlookQuestion, notes: list[str]) -> WaterProfile | None:
    if question.profile is None:
        return None
    table = read_profiles(question.profile, question.profile_place, question.profile_depth_unit)
    profile = choose_profile(table, question.day)
    notes += table.said
    if profile.day is not None:
        told = f"Profile of {profile.day}, {profile.depth_m.size} depths"
        if question.day is not None and question.day != profile.day:
            told += f", {abs((question.day - profile.day).days)} days from the day asked"
        notes.append(told)
    return profile


def _day_of_northern_year(question: OutlookQuestion) -> int | None:
    """Day of the year, half a year on in the southern half of the Earth."""
    day: date | None = question.day
    if day is None:
        return None
    number = day.timetuple().tm_yday
    if question.place_deg is not None and question.place_deg[0] < 0.0:
        number = (number + 182 - 1) % 365 + 1
    return number


def _surface(
    question: OutlookQuestion,
    profile: WaterProfile | None,
    notes: list[str],
    units: DisplayUnits,
) -> Estimate | None:
    if question.surface_c is not None:
        if not 0.0 <= question.surface_c <= 40.0:
            raise PlanError(
                f"{question.surface_c:.4g} degC is no temperature of open water", "surface"
            )
        return _told(question.surface_c)
    if profile is not None:
        value = profile.surface_c
        return Estimate(value, value, value, "measured", profile.source)
    if question.day is None or question.place_deg is None:
        return None
    number = question.day.timetuple().tm_yday
    guess = guess_surface_c(number, question.place_deg[0])
    band = units.temperature.band(guess.low, guess.high)
    notes.append(f"Surface temperature {band}: {guess.source}")
    return guess


def _max_depth_m(
    question: OutlookQuestion,
    profile: WaterProfile | None,
    notes: list[str],
    units: DisplayUnits,
) -> float:
    if question.max_depth_m is not None:
        return question.max_depth_m
    if profile is not None and profile.depth_m[-1] >= 2.0:
        return float(profile.depth_m[-1])
    notes.append(f"Greatest depth not told, taken as {units.depth.text(USUAL_DEPTH_M)}")
    return USUAL_DEPTH_M


def _thermocline(
    question: OutlookQuestion,
    profile: WaterProfile | None,
    summer: bool,
    notes: list[str],
    units: DisplayUnits,
) -> Estimate | None:
    if question.thermocline_m is not None:
        return _told(question.thermocline_m)
    if profile is not None:
        at = thermocline_m(profile)
        if at is not None and at < WARM_SKIN_M:
            at = thermocline_m(_below_skin(profile)) or at
            skin = units.depth.text(WARM_SKIN_M)
            notes.append(f"A warm skin above {skin} is not taken for the thermocline")
        if at is None:
            notes.append("The profile has no thermocline: mixed, or too few readings")
            return None
        i = int(np.clip(np.searchsorted(profile.depth_m, at), 1, profile.depth_m.size - 1))
        low, high = float(profile.depth_m[i - 1]), float(profile.depth_m[i])
        return Estimate(at, min(low, at), max(high, at), "measured", "Read et al. 2011")
    if question.fetch_m is None:
        return None
    if not summer:
        notes.append("The length of the lake says nothing outside summer")
        return None
    guess = guess_thermocline(question.fetch_m)
    notes.append(f"Thermocline {units.depth.band(guess.low, guess.high)}: {guess.source}")
    return guess


def _below_skin(profile: WaterProfile) -> WaterProfile:
    """The readings below the layer that one warm day makes."""
    deep = profile.depth_m >= WARM_SKIN_M
    if not deep.any():
        return profile
    return WaterProfile(profile.depth_m[deep], profile.temperature_c[deep], source=profile.source)


def _oxygen_floor(question: OutlookQuestion, profile: WaterProfile | None) -> Estimate | None:
    if question.oxygen_floor_m is not None:
        return _told(question.oxygen_floor_m)
    at = oxygen_floor_m(profile) if profile is not None else None
    if at is None or profile is None:
        return None
    return Estimate(at, at, at, "measured", profile.source)


def _grass_edge(question: OutlookQuestion, max_depth_m: float) -> Estimate | None:
    if question.grass == "none":
        return None
    if question.grass_edge_m is not None:
        return _told(question.grass_edge_m, EDGE_ERROR_M)
    if question.secchi_m is None or not MIN_SECCHI_M <= question.secchi_m <= MAX_SECCHI_M:
        return None
    edge = edge_from_secchi(question.secchi_m)
    if edge.depth_m >= max_depth_m:
        return None
    low = edge.depth_m**2 / edge.high_m
    return Estimate(edge.depth_m, low, edge.high_m, "guess", EDGE_SOURCE)
