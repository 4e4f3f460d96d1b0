"""From what a person says of a cast to the physics' technique."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from leadsman.display_units import display_units
from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight import (
    CALM,
    CastLength,
    MeasuredCast,
    Thrower,
    Wind,
    cast_length_m,
    fit_thrower,
    flight_drag_area_m2,
)
from leadsman.hydro.technique import Step, TakeUp, Technique
from leadsman.kitfile.kit import Kit
from leadsman.tackle.angler import Angler
from leadsman.tackle.lure import Lure
from leadsman.tackle.lure_flight import lure_flight_drag_area_m2
from leadsman.tackle.rod import Rod
from leadsman.usecases.questions import TechniqueQuestion
from leadsman.usecases.resolve_setup import ResolvedSetup
from leadsman.usecases.retrieve_script import ScriptContext, parse_script
from leadsman.usecases.rod_position import DEFAULT_ROD_LENGTH_M, tip_height_m

TYPICAL_LURE_LENGTH_M = 0.065
TYPICAL_LURE_WIDTH_M = 0.02
"""Body of a lure whose size is not known, for its drag in the air; our estimate [m]."""


@dataclass(frozen=True, slots=True)
class ResolvedTechnique:
    """A technique and how it came about.

    Parameters
    ----------
    technique : Technique
        How the cast is fished [-].
    tip_words : str
        The rod position as a person would say it [-].
    cast_log_sd : float or None
        Relative spread of the cast; None leaves the usual one [-].
    notes : tuple of str
        What was assumed [-].
    """

    technique: Technique
    tip_words: str
    cast_log_sd: float | None
    notes: tuple[str, ...]


def resolve_technique(
    question: TechniqueQuestion, setup: ResolvedSetup, wind: Wind | None = None
) -> ResolvedTechnique:
    """Work out cast, rod position and retrieve.

    Parameters
    ----------
    question : TechniqueQuestion
        What the person said [-].
    setup : ResolvedSetup
        The tackle [-].
    wind : Wind or None
        Wind as the caster meets it; None is calm [-].

    Raises
    ------
    TechniqueError
        The cast, rod position or script makes no sense.
    """
    angler = setup.kit.angler
    rod_m = setup.rod.length_m if setup.rod else DEFAULT_ROD_LENGTH_M
    tip_m = resolve_tip_m(question.tip, rod_m, angler)
    notes: list[str] = []
    cast_m, cast_log_sd = question.cast_m, None
    if cast_m is None or wind is not None:
        cast_m, cast_log_sd, note = _cast(question, setup, wind, tip_m)
        notes.append(note)
    if question.cast_sd_m is not None and question.cast_m is not None:
        cast_log_sd = question.cast_sd_m / question.cast_m
    take_up = setup.reel.take_up(setup.line.diameter_m) if setup.reel else None
    technique = Technique(
        cast_m=cast_m,
        tip_m=tip_m,
        steps=_steps(question, angler, take_up, cast_m, rod_m),
        take_up=take_up if _in_turns(question, take_up) else None,
        boat_m_s=question.boat_m_s,
    )
    words = question.tip if isinstance(question.tip, str) else ""
    return ResolvedTechnique(technique, words, cast_log_sd, tuple(notes))


def resolve_tip_m(tip: str | float, rod_m: float, angler: Angler) -> float:
    """Height of the rod tip from a word or a height.

    Parameters
    ----------
    tip : str or float
        Word, or height [m].
    rod_m : float
        Length of the rod [m].
    angler : Angler
        The person, for the height of the grip [-].
    """
    return tip_height_m(tip, rod_m, angler.grip_height_m) if isinstance(tip, str) else float(tip)


def thrower_of(kit: Kit) -> Thrower:
    """The angler as a thrower, from the casts they measured.

    Parameters
    ----------
    kit : Kit
        The kit [-].
    """
    return _thrower(kit.angler)


@lru_cache(maxsize=16)
def _thrower(angler: Angler) -> Thrower:
    """One person's fit is the same for every cast of a day, and is asked for at each."""
    casts = [
        MeasuredCast(
            cast.lure_mass_kg,
            _typical_drag_area_m2(cast.lure_mass_kg),
            cast.length_m,
            rod_m=cast.rod_m or DEFAULT_ROD_LENGTH_M,
            count=cast.count,
        )
        for cast in angler.casts
    ]
    return fit_thrower(casts) if casts else Thrower(grip_height_m=angler.grip_height_m)


def flight_of(lure: Lure | None, mass_kg: float) -> float:
    """Drag area of a lure in the air [m2].

    Parameters
    ----------
    lure : Lure or None
        The lure; None takes a typical body [-].
    mass_kg : float
        Its mass [kg].
    """
    return _typical_drag_area_m2(mass_kg) if lure is None else lure_flight_drag_area_m2(lure)


def _typical_drag_area_m2(mass_kg: float) -> float:
    """A typical body grown with the cube root of the mass, from 14 g [m2]."""
    scale = (mass_kg / 0.014) ** (1.0 / 3.0)
    width = TYPICAL_LURE_WIDTH_M * scale
    return flight_drag_area_m2(TYPICAL_LURE_LENGTH_M * scale, width, width)


def cast_of(
    kit: Kit, lure: Lure | None, mass_kg: float, rod: Rod | None, wind: Wind | None, tip_m: float
) -> CastLength:
    """How far this angler casts this lure.

    Parameters
    ----------
    kit : Kit
        The kit, with the angler's measured casts [-].
    lure : Lure or None
        The lure [-].
    mass_kg : float
        Its mass [kg].
    rod : Rod or None
        The rod [-].
    wind : Wind or None
        Wind as the caster meets it; None is calm [-].
    tip_m : float
        Height of the tip when the retrieve starts [m].
    """
    return cast_length_m(
        thrower_of(kit),
        mass_kg,
        flight_of(lure, mass_kg),
        wind or CALM,
        rod_m=rod.length_m if rod else DEFAULT_ROD_LENGTH_M,
        tip_m=tip_m,
    )


def _cast(
    question: TechniqueQuestion, setup: ResolvedSetup, wind: Wind | None, tip_m: float
) -> tuple[float, float | None, str]:
    """Length of the cast, its relative spread and how it was found."""
    angler = setup.kit.angler
    mass_kg = setup.forces.mass_kg
    if wind is None and not angler.casts:
        return angler.usual_cast_m, None, "Cast: the usual cast of the kit."
    flown = cast_of(setup.kit, setup.lure, mass_kg, setup.rod, wind, tip_m)
    basis = f"from {len(angler.casts)} measured casts" if angler.casts else "for a usual caster"
    length_m = flown.m
    if question.cast_m is not None:
        # The angler named a calm cast; the wind changes it in the same ratio.
        calm = cast_of(setup.kit, setup.lure, mass_kg, setup.rod, None, tip_m)
        length_m = question.cast_m * flown.m / calm.m
        basis = "the cast you gave, changed by the wind"
    told = display_units(setup.kit.units).distance.text(length_m)
    return length_m, flown.sd_m / flown.angler_to_lure_m, f"Cast: {told}, {basis}."


def _in_turns(question: TechniqueQuestion, take_up: TakeUp | None) -> bool:
    return question.turns_per_s is not None and take_up is not None


def _steps(
    question: TechniqueQuestion,
    angler: Angler,
    take_up: TakeUp | None,
    cast_m: float,
    rod_m: float,
) -> tuple[Step, ...]:
    if question.turns_per_s is not None and take_up is None:
        raise TechniqueError(
            "handle turns mean nothing without a reel", "--turns", "Name a reel with --reel"
        )
    if question.turns_per_s is not None and question.speed_m_s is not None:
        raise TechniqueError("speed and turns are both given", "--speed", "Give one of them")
    in_turns = _in_turns(question, take_up)
    speed = angler.reel_speed_m_s
    if in_turns and question.turns_per_s is not None:
        speed = question.turns_per_s
    elif question.speed_m_s is not None:
        speed = question.speed_m_s
    if question.script is None:
        return (Step("reel", math.inf, speed),)
    context = ScriptContext(
        speed=speed,
        turn_m=take_up.per_turn_m(0.5 * cast_m) if take_up else None,
        in_turns=in_turns,
        tip_height=lambda word: tip_height_m(word, rod_m, angler.grip_height_m),
    )
    return parse_script(question.script, context, cast_m)
