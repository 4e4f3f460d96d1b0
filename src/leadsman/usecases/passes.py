"""Along this edge: where to hold the boat, which way to cast, and what it comes to."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import PlanError, TechniqueError
from leadsman.hydro.cast_flight import Wind, rod_reach_m
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.kitfile.kit import Kit
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.edge import EdgeLine
from leadsman.plan.passes import PassPlanner
from leadsman.plan.passes_settings import Boat, BoatLimits, PassSettings, WindOnCasts
from leadsman.plan.passes_table import PassSetup
from leadsman.plan.passes_types import GrassStand, Kind, PassPlan
from leadsman.usecases.match import MatchAnswer, MatchQuestion, find_match
from leadsman.usecases.passes_lake import resolve_lake, stretches_of
from leadsman.usecases.questions import (
    BottomQuestion,
    GrassQuestion,
    SetupQuestion,
    WaterQuestion,
)
from leadsman.usecases.resolve_bottom import resolve_water
from leadsman.usecases.resolve_technique import cast_of
from leadsman.usecases.rod_position import DEFAULT_ROD_LENGTH_M
from leadsman.usecases.wind_text import parse_wind

OFF_WIND_STEPS = 7
"""Directions to the wind for which a cast is computed, from into it to down it [-]."""


@dataclass(frozen=True, slots=True)
class PassesQuestion:
    """Which edge to fish along, with what, and how.

    Parameters
    ----------
    edge_depth_m : float
        Depth of the edge, drop or flat below the surface of the day [m].
    setup : SetupQuestion
        The kit; what is named here is the only thing tried [-].
    lake : str or None
        File or kept lake; None takes the demo lake [-].
    lakes : pathlib.Path or None
        Folder of the kept lakes [-].
    edge_se_m : float
        Standard error of that depth [m].
    kind : {"edge", "drop", "flat"}
        How it is fished [-].
    grass_height_m : float or None
        Height of the grass inside the edge; None for none [m].
    grass_density : float
        Share of the ground it covers [-].
    near_deg : tuple of float or None
        Latitude and longitude to stay near [deg].
    count : int
        How many stretches [-].
    stretch_m : float
        Length of a stretch [m].
    minutes : float or None
        Time for each; None goes on while it pays [min].
    boat : {"hold", "creep", "best"}
        Held at places, creeping along, or whichever is better [-].
    limits : BoatLimits
        Where the boat may be [-].
    wind_m_s, wind_from_deg : float
        The wind and where it comes from, clockwise from true north [m s-1], [deg].
    casts_m : tuple of float
        Casts allowed in calm air; empty takes the angler's own full cast [m].
    tips : tuple of str or float
        Rod positions allowed [m].
    level_m : float
        Water level now above the map's reference [m].
    load_limit : float
        Largest contact load that counts [-].
    water : WaterQuestion
        The water [-].
    """

    edge_depth_m: float
    setup: SetupQuestion = field(default_factory=SetupQuestion)
    lake: str | None = None
    lakes: Path | None = None
    edge_se_m: float = 0.15
    kind: Kind = "edge"
    grass_height_m: float | None = None
    grass_density: float = 0.4
    near_deg: tuple[float, float] | None = None
    count: int = 1
    stretch_m: float = 200.0
    minutes: float | None = None
    boat: Boat = "best"
    limits: BoatLimits = field(default_factory=BoatLimits)
    wind_m_s: float = 0.0
    wind_from_deg: float = 0.0
    casts_m: tuple[float, ...] = ()
    tips: tuple[str | float, ...] = ("under", "low", "usual", "high")
    level_m: float = 0.0
    load_limit: float = ACCEPTABLE_LOAD
    water: WaterQuestion = field(default_factory=WaterQuestion)


@dataclass(frozen=True, slots=True)
class PassesAnswer:
    """Passes, with what is needed to draw and to write them.

    Parameters
    ----------
    question : PassesQuestion
        What was asked [-].
    kit : Kit
        The kit [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    model : BottomModel
        The bottom [-].
    edge : tuple of EdgeLine
        The whole edge [-].
    plans : tuple of PassPlan
        Passes, the best rate first [-].
    why : tuple of str
        Why each stretch was chosen, in the order of the plans [-].
    left_out : tuple of str
        Stretches that could not be planned, and why [-].
    headline : str
        The answer in one sentence [-].
    notes : tuple of str
        What was read and assumed [-].
    """

    question: PassesQuestion
    kit: Kit
    units: DisplayUnits
    model: BottomModel
    edge: tuple[EdgeLine, ...]
    plans: tuple[PassPlan, ...]
    why: tuple[str, ...]
    left_out: tuple[str, ...]
    headline: str
    notes: tuple[str, ...]


def compass_wind(text: str) -> tuple[float, float]:
    """Read a wind told by compass: a lake has no "ahead".

    Parameters
    ----------
    text : str
        Such as ``"10 mph from NW"`` [-].

    Returns
    -------
    tuple of float
        Speed [m s-1], and where it comes from, clockwise from true north [deg].

    Raises
    ------
    TechniqueError
        It cannot be read, or is told by a side.
    """
    toward_north = parse_wind(text, 0.0)
    try:
        parse_wind(text, None)
    except TechniqueError:
        speed = math.hypot(toward_north.ahead_m_s, toward_north.right_m_s)
        bearing = math.degrees(math.atan2(toward_north.right_m_s, toward_north.ahead_m_s))
        return speed, bearing % 360.0
    raise TechniqueError(
        f"the wind {text!r} is told by a side, but casts go many ways here",
        "--wind",
        "Say it by compass, '10 mph from NW'",
    )


def find_passes(
    question: PassesQuestion, progress: Callable[[float, str], None] | None = None
) -> PassesAnswer:
    """Plan passes along an edge.

    Parameters
    ----------
    question : PassesQuestion
        Lake, edge, kit and what is wanted [-].
    progress : callable or None
        Takes the share that is done and what is being done [-].

    Raises
    ------
    InputError
        Something given cannot be used, or no pass can be made; the message
        names the nearest that can.
    """
    tell = progress or (lambda _share, _what: None)
    tell(0.0, "opening the lake")
    lake = resolve_lake(question.lake, question.lakes)
    tell(0.2, "choosing the setup")
    chosen = _choose_setup(question)
    units = chosen.units if question.setup.units is None else display_units(question.setup.units)
    grass = None
    if question.grass_height_m is not None:
        grass = GrassStand(
            question.edge_depth_m,
            max(4.0 * question.edge_se_m, 0.1),
            question.grass_height_m,
            question.grass_density,
        )
    named, edge = stretches_of(
        lake.model,
        question.edge_depth_m,
        question.edge_se_m,
        level_m=question.level_m,
        near_deg=question.near_deg,
        count=question.count,
        length_m=question.stretch_m,
        kind=question.kind,
        grass=grass,
        units=units,
    )
    planner = PassPlanner(lake.model, _setup(chosen), _settings(question, chosen, units))
    made: list[tuple[PassPlan, str]] = []
    refused: list[PlanError] = []
    for number, one in enumerate(named):
        tell(0.4 + 0.6 * number / len(named), f"planning {one.stretch.name}")
        try:
            made.append((planner.plan(one.stretch), one.why))
        except PlanError as error:
            refused.append(error)
    if not made:
        raise refused[0]
    made.sort(key=lambda pair: -pair[0].zone_per_hour_m)
    tell(1.0, "done")
    plans = tuple(plan for plan, _ in made)
    return PassesAnswer(
        question=question,
        kit=chosen.kit,
        units=units,
        model=lake.model,
        edge=edge,
        plans=plans,
        why=tuple(why for _, why in made),
        left_out=tuple(error.message for error in refused),
        headline=plans[0].headline,
        notes=(*lake.notes, *chosen.notes),
    )


def _choose_setup(question: PassesQuestion) -> MatchAnswer:
    """The best setup over a level bottom of the edge's depth, half of its grass on it.

    Right at the edge half of the ground is grass, and what must be cleared there
    says how strong the line has to be.
    """
    depths = f"{question.edge_depth_m!r} m"
    grass = None
    if question.grass_height_m is not None:
        top_m = max(question.edge_depth_m - question.grass_height_m, 0.0)
        grass = GrassQuestion(top_m, 0.5 * question.grass_density)
    asked = MatchQuestion(
        question.setup,
        BottomQuestion(depths=depths, grass=grass),
        question.water,
        question.casts_m,
        question.tips,
        question.load_limit,
    )
    found = find_match(asked)
    if not found.result.ranked:
        units = display_units(question.setup.units or found.kit.units)
        nearest, depth = found.result.nearest, units.depth.text(question.edge_depth_m)
        remedy = "Choose a shallower edge, or allow longer casts or a lower rod tip"
        if nearest is not None:
            remedy = (
                f"The nearest is {nearest.lure} on {nearest.line}, which runs to "
                f"{units.depth.text(nearest.free_max_depth_m)}: choose an edge about there, or "
                "fish above the bottom along this one"
            )
        raise PlanError(
            f"nothing in the kit rides a bottom at {depth} lightly",
            "--depth",
            remedy,
        )
    return found


def _setup(chosen: MatchAnswer) -> PassSetup:
    best = chosen.result.ranked[0]
    candidate = next(
        c for c in chosen.candidates if (c.lure.name, c.line.name) == (best.lure, best.line)
    )
    return PassSetup(
        lure=candidate.lure,
        line=candidate.line,
        technique=best.technique,
        rod=best.rod,
        rod_power_n=candidate.rod_power_n,
        how=best.how,
    )


def _settings(question: PassesQuestion, chosen: MatchAnswer, units: DisplayUnits) -> PassSettings:
    water, drag = resolve_water(question.water)
    best = chosen.result.ranked[0]
    rod_m = next((r.length_m for r in chosen.kit.rods if r.name == best.rod), DEFAULT_ROD_LENGTH_M)
    return PassSettings(
        limit_load=question.load_limit,
        minutes=question.minutes,
        boat=question.boat,
        limits=question.limits,
        wind=_wind(question, chosen),
        rod_reach_m=rod_reach_m(rod_m, chosen.kit.angler.grip_height_m, best.tip_m),
        level_m=question.level_m,
        water=water,
        drag=drag,
        units=units,
    )


def _wind(question: PassesQuestion, chosen: MatchAnswer) -> WindOnCasts | None:
    """Casts by their angle to the wind, in the ratio to the calm one."""
    if question.wind_m_s <= 0.0:
        return None
    best, kit = chosen.result.ranked[0], chosen.kit
    lure = kit.lure(best.lure)
    rod = next((r for r in kit.rods if r.name == best.rod), None)
    calm = cast_of(kit, lure, lure.mass_kg, rod, None, best.tip_m).m
    off = np.linspace(0.0, math.pi, OFF_WIND_STEPS)
    cast_m = []
    for angle in off:
        wind = Wind.coming_from(question.wind_m_s, float(angle))
        flown = cast_of(kit, lure, lure.mass_kg, rod, wind, best.tip_m).m
        cast_m.append(best.cast_m * flown / calm)
    return WindOnCasts(
        math.radians(question.wind_from_deg), question.wind_m_s, off, np.array(cast_m)
    )
