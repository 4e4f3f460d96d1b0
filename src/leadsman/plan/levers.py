"""What one step of each control changes, for one setup: a signed table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import permutations

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.hydro.line_properties import LineProperties
from leadsman.plan.candidates import Candidate, LineOption, PathSolver
from leadsman.plan.match_evaluate import Evaluator, Scenario
from leadsman.plan.match_solver import solve_paths
from leadsman.plan.match_types import MatchRequest
from leadsman.plan.reasons import tip_height
from leadsman.plan.tip_schedule import TipKnot, TipSchedule

FloatArray = npt.NDArray[np.float64]

SMALL_DEPTH_M = 0.015
SMALL_ZONE_M = 0.25
"""Changes under these cannot be told on the water and are marked so [m]. Own choice: half of
the last digit shown."""

PARTS = ("diameter", "density", "stretch")


@dataclass(frozen=True, slots=True)
class LeverSteps:
    """The size of one step of each control.

    Parameters
    ----------
    cast_m : float
        Step of the cast, 10 yd [m].
    tip_m : float
        Step of the tip height, 2 ft [m].
    tip_under_m : float
        Height of a tip held under water, 3 ft under [m].
    speed_share : float
        Step of the reel rate, a quarter [-].
    buoyancy_n : float
        Step of net buoyancy, a gram [N].
    boat_m_s : float
        Step of the drift, a third of a mile an hour [m s-1].
    size_share : float
        Step of strength to the next line size where the neighbouring sizes
        are not given: a fifth, as from 10 to 12 lb [-].
    """

    cast_m: float = 9.144
    tip_m: float = 0.6096
    tip_under_m: float = -0.9144
    speed_share: float = 0.25
    buoyancy_n: float = 0.00981
    boat_m_s: float = 0.15
    size_share: float = 0.2


@dataclass(frozen=True, slots=True)
class LeverSetup:
    """The setup whose controls are tried.

    Parameters
    ----------
    candidate : Candidate
        Lure, line, reel and drift; its casts and tips are not used [-].
    cast_m : float
        Cast [m].
    schedule : TipSchedule
        What the tip does [-].
    line_up, line_down : LineOption or None
        The next size of the same material, thicker and thinner; None works
        it out from the strength [-].
    materials : tuple of LineOption
        The same pound test in other materials [-].
    """

    candidate: Candidate
    cast_m: float
    schedule: TipSchedule
    line_up: LineOption | None = None
    line_down: LineOption | None = None
    materials: tuple[LineOption, ...] = ()


@dataclass(frozen=True, slots=True)
class LeverPart:
    """The share of a change of material that one property has.

    Parameters
    ----------
    name : str
        ``"diameter"``, ``"density"`` or ``"stretch"`` [-].
    depth_change_m : float
        Its share of the change of greatest depth [m].
    zone_change_m : float or None
        Its share of the change of zone length [m].
    """

    name: str
    depth_change_m: float
    zone_change_m: float | None


@dataclass(frozen=True, slots=True)
class Lever:
    """One step of one control.

    Parameters
    ----------
    control : str
        ``"line size"``, ``"material"``, ``"cast"``, ``"tip"``, ``"speed"``,
        ``"buoyancy"`` or ``"drift"`` [-].
    step : str
        The step in words [-].
    depth_change_m : float
        Change of the greatest free-running depth, positive deeper [m].
    zone_change_m : float or None
        Change of the expected zone length; None without a target [m].
    matters : bool
        Whether either change could be told on the water [-].
    parts : tuple of LeverPart
        For a material: the shares of diameter, density and stretch, each
        averaged over every order of changing them, so that they add up [-].
    """

    control: str
    step: str
    depth_change_m: float
    zone_change_m: float | None
    matters: bool
    parts: tuple[LeverPart, ...] = ()


@dataclass(frozen=True, slots=True)
class LeverTable:
    """All levers of one setup.

    Parameters
    ----------
    max_depth_m : float
        Greatest free-running depth as it is [m].
    zone_m : float or None
        Expected zone length as it is; None without a target [m].
    levers : tuple of Lever
        One for each step, in the order of the controls [-].
    """

    max_depth_m: float
    zone_m: float | None
    levers: tuple[Lever, ...]


@dataclass(slots=True)
class _Variants:
    """Setups to be computed, each under its own number."""

    candidates: list[Candidate] = field(default_factory=list)
    scenarios: list[Scenario] = field(default_factory=list)

    def add(self, candidate: Candidate, cast_m: float, schedule: TipSchedule) -> int:
        self.candidates.append(candidate)
        self.scenarios.append(Scenario(len(self.candidates) - 1, cast_m, schedule))
        return len(self.scenarios) - 1


def levers(
    setup: LeverSetup,
    request: MatchRequest | None = None,
    steps: LeverSteps | None = None,
    solve: PathSolver = solve_paths,
) -> LeverTable:
    """What one step of each control changes.

    Parameters
    ----------
    setup : LeverSetup
        Where all controls stand [-].
    request : MatchRequest or None
        Bottom or depth band that counts as zone, with water and drag; None
        gives changes of depth alone [-].
    steps : LeverSteps or None
        Sizes of the steps; None takes the usual ones [-].
    solve : callable
        The physics; for tests [-].

    Returns
    -------
    LeverTable
        Signed changes [-].

    Raises
    ------
    PlanError
        A depth step is not above 0.
    """
    steps = steps or LeverSteps()
    if min(steps.cast_m, steps.tip_m, steps.speed_share, steps.size_share) <= 0.0:
        raise PlanError("steps of the controls must be above 0", "levers")
    asked = request or _depth_only()
    variants = _Variants()
    base = variants.add(setup.candidate, setup.cast_m, setup.schedule)
    simple = _simple_steps(setup, steps, asked, variants)
    swaps = [(line, _material_corners(setup, line, variants)) for line in setup.materials]

    evaluator = Evaluator(asked, variants.candidates, solve)
    depth = evaluator.free_depths(variants.scenarios)
    zone = evaluator.scores(variants.scenarios).zone_m[:, 0] if request is not None else None
    made = [_lever(control, step, number, base, depth, zone) for control, step, number in simple]
    for line, corners in swaps:
        whole = _lever("material", f"{line.name} instead", corners[-1], base, depth, zone)
        made.append(replace(whole, parts=_parts(corners, depth, zone)))
    order = ("line size", "material", "cast", "tip", "speed", "buoyancy", "drift")
    made.sort(key=lambda lever: order.index(lever.control))
    return LeverTable(float(depth[base]), None if zone is None else float(zone[base]), tuple(made))


def _depth_only() -> MatchRequest:
    from leadsman.plan.match_types import DepthBand

    return MatchRequest(band=DepthBand(0.0, 1e3))


def _simple_steps(
    setup: LeverSetup, steps: LeverSteps, request: MatchRequest, variants: _Variants
) -> list[tuple[str, str, int]]:
    """Control, step in words and number of the variant, for all but the materials."""
    c, cast, tips, units = setup.candidate, setup.cast_m, setup.schedule, request.units
    made: list[tuple[str, str, int]] = []

    def add(control: str, step: str, candidate: Candidate, cast_m: float, s: TipSchedule) -> None:
        made.append((control, step, variants.add(candidate, cast_m, s)))

    up = setup.line_up or _resized(c.line, 1.0 + steps.size_share)
    down = setup.line_down or _resized(c.line, 1.0 / (1.0 + steps.size_share))
    for line, word in ((up, "up"), (down, "down")):
        size = units.diameter.text(line.properties.diameter_m)
        add("line size", f"one size {word}, {size}", replace(c, line=line), cast, tips)
    longer, shorter = cast + steps.cast_m, cast - steps.cast_m
    step = units.distance.text(steps.cast_m)
    add("cast", f"{step} longer", c, longer, tips)
    if shorter >= 2.0:
        add("cast", f"{step} shorter", c, shorter, tips)
    step = units.depth.text(steps.tip_m)
    add("tip", f"{step} higher", c, cast, _shifted(tips, steps.tip_m))
    add("tip", f"{step} lower", c, cast, _shifted(tips, -steps.tip_m))
    if tips.start_tip_m > steps.tip_under_m:
        under = TipSchedule(steps.tip_under_m, in_turns=tips.in_turns)
        add("tip", f"held {tip_height(steps.tip_under_m, units)}", c, cast, under)
    share = f"{100.0 * steps.speed_share:.0f} %"
    faster, slower = 1.0 + steps.speed_share, 1.0 - steps.speed_share
    add("speed", f"{share} faster", replace(c, reel_rate=c.reel_rate * faster), cast, tips)
    add("speed", f"{share} slower", replace(c, reel_rate=c.reel_rate * slower), cast, tips)
    gram = units.mass.text(steps.buoyancy_n / 9.81)
    for sign, word in ((1.0, "more"), (-1.0, "less")):
        forces = c.lure.forces
        floats = replace(forces, buoyancy_n=forces.buoyancy_n + sign * steps.buoyancy_n)
        lure = replace(c.lure, forces=floats)
        add("buoyancy", f"{gram} {word}", replace(c, lure=lure), cast, tips)
    drift = f"{units.speed.value(steps.boat_m_s):.1f} {units.speed.unit}"
    for sign, word in ((1.0, "toward"), (-1.0, "away from")):
        boat = replace(c, boat_m_s=c.boat_m_s + sign * steps.boat_m_s)
        add("drift", f"{drift} {word} the lure", boat, cast, tips)
    return made


def _resized(line: LineOption, strength: float) -> LineOption:
    """The same material with another strength: strength goes with the section."""
    own = line.properties
    return LineOption(
        f"{line.name} x {strength:.2f}",
        replace(own, diameter_m=own.diameter_m * math.sqrt(strength)),
        line.breaking_n * strength,
    )


def _shifted(schedule: TipSchedule, by_m: float) -> TipSchedule:
    def moved(tip_m: float) -> float:
        return min(max(tip_m + by_m, -5.0), 10.0)

    return TipSchedule(
        moved(schedule.start_tip_m),
        tuple(TipKnot(knot.reeled, moved(knot.tip_m)) for knot in schedule.knots),
        schedule.in_turns,
    )


def _material_corners(setup: LeverSetup, line: LineOption, variants: _Variants) -> list[int]:
    """Numbers of the 8 lines between the two materials; bit k set takes property k of the new."""
    old, new = setup.candidate.line.properties, line.properties
    numbers: list[int] = []
    for bits in range(8):
        mixed = LineOption(line.name, _mixed(old, new, bits), line.breaking_n)
        candidate = replace(setup.candidate, line=mixed)
        numbers.append(variants.add(candidate, setup.cast_m, setup.schedule))
    return numbers


def _mixed(old: LineProperties, new: LineProperties, bits: int) -> LineProperties:
    """Some properties of the old line, some of the new.

    Stretch is what the line gives for a pull, E A; a change of diameter alone
    keeps it, so that the parts do not overlap.
    """
    diameter = new.diameter_m if bits & 1 else old.diameter_m
    density = new.density_kg_m3 if bits & 2 else old.density_kg_m3
    stiffness = new.stiffness_n if bits & 4 else old.stiffness_n
    return LineProperties(diameter, density, stiffness / (math.pi / 4.0 * diameter**2))


def _parts(
    corners: Sequence[int], depth: FloatArray, zone: FloatArray | None
) -> tuple[LeverPart, ...]:
    def shares(values: FloatArray) -> list[float]:
        total = [0.0, 0.0, 0.0]
        orders = list(permutations(range(3)))
        for order in orders:
            bits = 0
            for k in order:
                total[k] += float(values[corners[bits | 1 << k]] - values[corners[bits]])
                bits |= 1 << k
        return [value / len(orders) for value in total]

    depths = shares(depth)
    zones = shares(zone) if zone is not None else [None, None, None]
    return tuple(LeverPart(name, d, z) for name, d, z in zip(PARTS, depths, zones, strict=True))


def _lever(
    control: str, step: str, number: int, base: int, depth: FloatArray, zone: FloatArray | None
) -> Lever:
    by_depth = float(depth[number] - depth[base])
    by_zone = None if zone is None else float(zone[number] - zone[base])
    told = abs(by_depth) >= SMALL_DEPTH_M or (by_zone is not None and abs(by_zone) >= SMALL_ZONE_M)
    return Lever(control, step, by_depth, by_zone, told)
