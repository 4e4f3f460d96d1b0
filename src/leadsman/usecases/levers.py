"""What does one step of each control change?"""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.display_units import DisplayUnits, display_units
from leadsman.hydro.cast_flight import Wind
from leadsman.kitfile.kit import Kit
from leadsman.plan.candidates import Candidate, LineOption, LureOption
from leadsman.plan.levers import Lever, LeverSetup, LeverTable, levers
from leadsman.plan.match_types import DepthBand, MatchRequest
from leadsman.plan.tip_schedule import TipSchedule
from leadsman.tackle.line import Line, line_properties
from leadsman.tackle.line_materials import MATERIALS, LineMaterial, diameter_from_test_m
from leadsman.usecases.match import POINTS_PER_HOOK, UNKNOWN_BREAKING_N, breaking_n, depth_rel_se
from leadsman.usecases.questions import DepthQuestion
from leadsman.usecases.resolve_bottom import middle_drag, resolve_bottom, resolve_water
from leadsman.usecases.resolve_setup import ResolvedSetup, resolve_setup
from leadsman.usecases.resolve_technique import resolve_technique


@dataclass(frozen=True, slots=True)
class LeversAnswer:
    """The signed table for one setup.

    Parameters
    ----------
    question : DepthQuestion
        What was asked [-].
    setup : ResolvedSetup
        The tackle [-].
    cast_m, tip_m : float
        Cast and tip height that the steps start from [m].
    table : LeverTable
        The levers [-].
    headline : str
        The answer in a sentence [-].
    notes : tuple of str
        What was read and assumed [-].
    """

    question: DepthQuestion
    setup: ResolvedSetup
    cast_m: float
    tip_m: float
    table: LeverTable
    headline: str
    notes: tuple[str, ...]

    @property
    def units(self) -> DisplayUnits:
        """Units the person reads in."""
        return display_units(self.setup.kit.units)


def find_levers(question: DepthQuestion, wind: Wind | None = None) -> LeversAnswer:
    """Change of depth and zone for one step of each control.

    Parameters
    ----------
    question : DepthQuestion
        Setup, technique, bottom and water; a retrieve script is not used [-].
    wind : Wind or None
        Wind as the caster meets it; None is calm [-].

    Raises
    ------
    InputError
        Something given cannot be used.
    """
    setup = resolve_setup(question.setup)
    fished = resolve_technique(question.technique, setup, wind)
    way = fished.technique
    ground = resolve_bottom(question.bottom, way.cast_m)
    water, drag = resolve_water(question.water)
    rate = next(step.speed_m_s for step in way.steps if step.kind == "reel")
    line = setup.kit_line
    candidate = Candidate(
        LureOption(
            setup.lure_name,
            setup.forces,
            POINTS_PER_HOOK * (setup.lure.open_hooks if setup.lure else 2),
            depth_rel_se(setup.belief, line, way.cast_m) if line else 0.035,
        ),
        LineOption(setup.line_name, setup.line, breaking_n(line) if line else UNKNOWN_BREAKING_N),
        (way.cast_m,),
        (way.tip_m,),
        reel_rate=rate,
        take_up=way.take_up,
        boat_m_s=way.boat_m_s,
    )
    up, down = _neighbours(line, setup.kit) if line else (None, None)
    request = None
    if ground.bottom is not None or question.target_m is not None:
        request = MatchRequest(
            bottom=ground.bottom,
            band=DepthBand(*question.target_m) if question.target_m else None,
            limit_load=question.load_limit,
            water=water,
            drag=middle_drag(drag, setup.spread),
            units=display_units(setup.kit.units),
            schedules=False,
        )
    table = levers(
        LeverSetup(
            candidate,
            way.cast_m,
            TipSchedule(way.tip_m, in_turns=way.take_up is not None),
            up,
            down,
            _other_materials(line) if line else (),
        ),
        request,
    )
    notes = (*setup.notes, *fished.notes, *ground.notes)
    return LeversAnswer(
        question, setup, way.cast_m, way.tip_m, table, _headline(setup, table), notes
    )


def _neighbours(line: Line, kit: Kit) -> tuple[LineOption | None, LineOption | None]:
    """The next thicker and next thinner line of the same material in the kit."""
    own = line_properties(line).diameter_m
    same = [other for other in kit.lines if other.material == line.material and other != line]
    thicker = [other for other in same if line_properties(other).diameter_m > own]
    thinner = [other for other in same if line_properties(other).diameter_m < own]

    def size(other: Line) -> float:
        return line_properties(other).diameter_m

    up = min(thicker, key=size) if thicker else None
    down = max(thinner, key=size) if thinner else None
    return (_option(up) if up else None), (_option(down) if down else None)


def _option(line: Line) -> LineOption:
    return LineOption(line.name, line_properties(line), breaking_n(line))


def _other_materials(line: Line) -> tuple[LineOption, ...]:
    """The same pound test in the other materials, by their typical strengths."""
    test_n = breaking_n(line)

    def option(material: LineMaterial) -> LineOption:
        other = Line(
            f"{material.name} of the same test",
            material.name,
            test_n,
            diameter_from_test_m(test_n, material),
        )
        return _option(other)

    return tuple(option(m) for m in MATERIALS.values() if m.name != line.material)


def _headline(setup: ResolvedSetup, table: LeverTable) -> str:
    units = display_units(setup.kit.units)
    name = f"{setup.lure_name} on {setup.line_name}"
    handy = [lever for lever in table.levers if lever.control in ("cast", "tip", "line size")]
    if not handy:
        return f"{name} runs to {units.depth.text(table.max_depth_m)}."
    deeper = max(handy, key=lambda lever: lever.depth_change_m)
    higher = min(handy, key=lambda lever: lever.depth_change_m)
    return (
        f"{name} runs to {units.depth.text(table.max_depth_m)}. Deepest: {_said(deeper, units)}; "
        f"shallowest: {_said(higher, units)}."
    )


def _said(lever: Lever, units: DisplayUnits) -> str:
    return f"{lever.control} {lever.step} ({units.depth.change(lever.depth_change_m)})"
