"""What to spool and tie on each rod, so that whatever the day asks is one rod or snap away."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.input_spread import InputSpread
from leadsman.calibrate.learned import Learned, learned
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import PlanError
from leadsman.hydro.cast_flight import Wind
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.kitfile.kit import Kit
from leadsman.plan.candidates import Candidate, LineOption, LureOption
from leadsman.plan.cover_needs import NEEDS, Ground, ground_profile, suits
from leadsman.plan.match import match
from leadsman.plan.match_types import Match, MatchRequest
from leadsman.plan.rig import NO_LINE, Rig, RigProblem, best_rig, greedy_rig
from leadsman.tackle.line import line_properties
from leadsman.tackle.reel import Reel
from leadsman.tackle.rod import BENT_PULL_N, Rod
from leadsman.usecases.match import (
    POINTS_PER_HOOK,
    breaking_n,
    depth_rel_se,
    reel_for,
)
from leadsman.usecases.questions import SetupQuestion, WaterQuestion
from leadsman.usecases.resolve_bottom import middle_drag, resolve_water
from leadsman.usecases.resolve_setup import load_kit
from leadsman.usecases.resolve_technique import cast_of, resolve_tip_m

TIPS = ("under", "low", "usual", "high")
"""Rod positions a rigged lure may be fished with."""

CAST_SHARES = (1.0, 0.6)
"""Casts a rigged lure may be fished with, as shares of the angler's full cast [-]."""

GAP_ZONE_M = 3.0
"""A target with less zone than this is a gap that nothing owned fills [m]; own choice."""

FURTHER_SECONDS = 3.0
"""Time for working out what a further rod would add [s]."""


@dataclass(frozen=True, slots=True)
class Target:
    """Something the day may ask for.

    Parameters
    ----------
    ground : {"grass", "edge", "flat", "drop"}
        Kind of ground [-].
    depth_m : float
        Depth of the bottom [m].
    chance : float
        Chance that the day asks for it [-].
    """

    ground: Ground
    depth_m: float
    chance: float


@dataclass(frozen=True, slots=True)
class RigQuestion:
    """What to rig for.

    Parameters
    ----------
    targets : tuple of Target
        What the day may ask for; chances are scaled to add up to 1 [-].
    rods : int
        How many rods may be on deck [-].
    snaps : int
        Lures to snap on, for each rod [-].
    setup : SetupQuestion
        The kit [-].
    water : WaterQuestion
        The water [-].
    load_limit : float or None
        Largest contact load that counts as light; None takes the usual one [-].
    """

    targets: tuple[Target, ...]
    rods: int = 3
    snaps: int = 1
    setup: SetupQuestion = field(default_factory=SetupQuestion)
    water: WaterQuestion = field(default_factory=WaterQuestion)
    load_limit: float | None = None


@dataclass(frozen=True, slots=True)
class RigAnswer:
    """The rods as rigged.

    Parameters
    ----------
    question : RigQuestion
        What was asked, chances scaled [-].
    kit : Kit
        The kit [-].
    problem : RigProblem
        What could be rigged and what it would be worth [-].
    rig : Rig
        The best rig [-].
    greedy_m : float
        Worth of the greedy rig, for comparison [m].
    further_rod_m : float
        What one more rod would add [m].
    gaps : tuple of str
        Targets that nothing owned fills, a sentence each [-].
    further_lure : str
        What a further lure would add most, a sentence; empty if nothing much [-].
    headline : str
        The answer in a sentence [-].
    notes : tuple of str
        What was assumed [-].
    ways : mapping
        How each (rod, line, lure) with any zone over a target is best fished there, by rod,
        line, lure and target [-].
    options : mapping
        What each (rod, line, lure) is to the physics [-].
    """

    question: RigQuestion
    kit: Kit
    problem: RigProblem
    rig: Rig
    greedy_m: float
    further_rod_m: float
    gaps: tuple[str, ...]
    further_lure: str
    headline: str
    notes: tuple[str, ...]
    ways: Mapping[tuple[int, int, int, int], Match] = field(default_factory=dict)
    options: Mapping[tuple[int, int, int], Candidate] = field(default_factory=dict)

    @property
    def units(self) -> DisplayUnits:
        """Units the person reads in."""
        return display_units(self.kit.units)


def find_rig(
    question: RigQuestion,
    wind: Wind | None = None,
    progress: Callable[[float, str], None] | None = None,
    kit: Kit | None = None,
) -> RigAnswer:
    """Choose line and lures for each rod.

    Parameters
    ----------
    question : RigQuestion
        Targets with their chances, rods and snaps allowed [-].
    wind : Wind or None
        Wind as the caster meets it; None is calm [-].
    progress : callable or None
        Takes the share that is done and what is being done [-].
    kit : Kit or None
        A kit already read; None reads the one of the question [-].

    Raises
    ------
    InputError
        Something given cannot be used, or nothing owned fits.
    """
    notes: tuple[str, ...] = ()
    if kit is None:
        kit, notes = load_kit(question.setup.kit)
    if question.setup.units:
        kit = replace(kit, units=display_units(question.setup.units).name)
    question = replace(question, targets=_scaled(question.targets))
    if not kit.rods:
        raise PlanError(
            "there are no rods in the kit", "rods", "Add a [rods.<name>] table to the kit file"
        )
    tell = progress or (lambda share, what: None)
    ways: dict[tuple[int, int, int, int], Match] = {}
    options: dict[tuple[int, int, int], Candidate] = {}
    zone, may_fish = _zones(question, kit, wind, tell, ways, options)
    spooled = tuple(_spooled(rod, kit) for rod in kit.rods)
    chance = np.array([target.chance for target in question.targets])
    problem = RigProblem(
        zone, chance, spooled, min(question.rods, len(kit.rods)), question.snaps,
        may_fish=may_fish,
    )  # fmt: skip
    rig = best_rig(problem)
    tell(0.9, "what more would add")
    answer = RigAnswer(
        question,
        kit,
        problem,
        rig,
        greedy_rig(problem).worth_m,
        _further_rod_m(problem, rig),
        (),
        "",
        "",
        (*notes, *_assumed(question)),
        ways,
        options,
    )
    return replace(
        answer,
        gaps=_gaps(answer),
        further_lure=_further_lure(answer),
        headline=_headline(answer),
    )


def _scaled(targets: Sequence[Target]) -> tuple[Target, ...]:
    total = sum(target.chance for target in targets)
    if not targets or not total > 0.0:
        raise PlanError(
            "there is nothing to rig for",
            "--for",
            "Write for example --for '11 ft grass 30 %; 15 ft edge 40 %; 20 ft drop 30 %'",
        )
    return tuple(replace(target, chance=target.chance / total) for target in targets)


def _spooled(rod: Rod, kit: Kit) -> int:
    combo = next((c for c in kit.combos if c.rod.name == rod.name), None)
    if combo is None:
        return NO_LINE
    return next(n for n, line in enumerate(kit.lines) if line.name == combo.line.name)


def _reel_of(rod: Rod, kit: Kit) -> Reel | None:
    combo = next((c for c in kit.combos if c.rod.name == rod.name), None)
    return combo.reel if combo else None


def _zones(
    question: RigQuestion,
    kit: Kit,
    wind: Wind | None,
    tell: Callable[[float, str], None],
    ways: dict[tuple[int, int, int, int], Match],
    options: dict[tuple[int, int, int], Candidate],
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.bool_]]:
    """Expected clean zone for each rod, line, lure and target [m], and what may be fished.

    Fills `ways` with how each is fished and `options` with what was tried.
    """
    shape = (len(kit.rods), len(kit.lines), len(kit.lures), len(question.targets))
    zone = np.zeros(shape)
    may_fish = np.zeros(shape[:3], dtype=np.bool_)
    known = learned(kit)
    candidates, places = _candidates(kit, known, wind, may_fish)
    if not candidates:
        raise PlanError(
            "no rod in the kit is made for any of its lures", "rods", "Check lure_mass of the rods"
        )
    options.update(zip(places, candidates, strict=True))
    water, drag = resolve_water(question.water)
    number = dict(zip(_names(candidates), places, strict=True))
    for index, target in enumerate(question.targets):
        tell(0.85 * index / len(question.targets), target.ground)
        request = MatchRequest(
            bottom=ground_profile(target.ground, target.depth_m),
            water=water,
            drag=middle_drag(drag, known.spread(InputSpread())),
            schedules=False,
            limit_load=question.load_limit or ACCEPTABLE_LOAD,
        )
        result = match(request, candidates)
        found = [(item.lure, item.line, item.rod, item.zone_m) for item in result.ranked]
        found += [(item.lure, item.line, item.rod, item.zone_m) for item in result.excluded]
        for lure_name, line_name, rod_name, zone_m in found:
            rod, line, lure = number[(lure_name, line_name, rod_name)]
            owned = kit.lines[line]
            if suits(target.ground, kit.rods[rod], owned, breaking_n(owned)):
                zone[rod, line, lure, index] = zone_m
        for item in result.ranked:
            ways[(*number[(item.lure, item.line, item.rod)], index)] = item
    return zone, may_fish


def _names(candidates: Sequence[Candidate]) -> list[tuple[str, str, str]]:
    return [(c.lure.name, c.line.name, c.rod) for c in candidates]


def _candidates(
    kit: Kit, known: Learned, wind: Wind | None, may_fish: npt.NDArray[np.bool_]
) -> tuple[list[Candidate], list[tuple[int, int, int]]]:
    """Every lure on every line on every rod that throws it and whose reel holds the line."""
    made: list[Candidate] = []
    places: list[tuple[int, int, int]] = []
    beliefs = [known.belief(lure) for lure in kit.lures]
    for r, rod in enumerate(kit.rods):
        tips = tuple(resolve_tip_m(tip, rod.length_m, kit.angler) for tip in TIPS)
        for u, lure in enumerate(kit.lures):
            if not rod.throws(lure.mass_kg):
                continue
            full = cast_of(kit, lure, lure.mass_kg, rod, wind, 0.6).m
            casts = tuple(max(full * share, 5.0) for share in CAST_SHARES)
            option = LureOption(
                lure.name,
                beliefs[u].centre,
                POINTS_PER_HOOK * lure.open_hooks,
                depth_rel_se(beliefs[u], kit.lines[0], full),
            )
            for n, line in enumerate(kit.lines):
                reel = _reel_of(rod, kit) or reel_for(line, kit.reels, kit)
                diameter = line_properties(line).diameter_m
                if reel is not None and reel.capacity_for_m(diameter) < 1.25 * full:
                    continue
                may_fish[r, n, u] = True
                made.append(
                    Candidate(
                        option,
                        LineOption(line.name, line_properties(line), breaking_n(line)),
                        casts,
                        tips,
                        reel_rate=kit.angler.reel_speed_m_s,
                        rod=rod.name,
                        rod_power_n=BENT_PULL_N[rod.power],
                    )
                )
                places.append((r, n, u))
    return made, places


def _further_rod_m(problem: RigProblem, rig: Rig) -> float:
    """Worth added by one more rod like one of those owned."""
    twice = RigProblem(
        np.concatenate((problem.zone_m, problem.zone_m)),
        problem.chance,
        problem.spooled + (NO_LINE,) * len(problem.spooled),
        problem.rods_used + 1,
        problem.snaps,
        problem.respool_m,
        problem.snap_share,
        np.concatenate((problem.allowed, problem.allowed)),
    )
    return max(best_rig(twice, FURTHER_SECONDS).worth_m - rig.worth_m, 0.0)


def _target_words(target: Target, units: DisplayUnits) -> str:
    return f"{units.depth.text(target.depth_m)} {target.ground}"


def _gaps(answer: RigAnswer) -> tuple[str, ...]:
    """Targets over which nothing owned has any zone to speak of."""
    best = answer.problem.zone_m.max(axis=(0, 1, 2))
    told: list[str] = []
    for target, zone in zip(answer.question.targets, best.tolist(), strict=True):
        if zone < GAP_ZONE_M:
            needs = NEEDS[target.ground]
            told.append(
                f"Nothing in the kit works {_target_words(target, answer.units)}: "
                f"at best {answer.units.distance.text(zone)} of zone, with line of at least "
                f"{answer.units.test.text(needs.least_test_n)} and a rod of {needs.least_power} "
                f"power or more ({needs.reason})."
            )
    return tuple(told)


def _further_lure(answer: RigAnswer) -> str:
    """Where a lure as good as the best of the kit is at its own depth would add most."""
    best = answer.problem.zone_m.max(axis=(0, 1, 2))
    gain = answer.problem.chance * np.maximum(best.max() - answer.rig.best_zone_m, 0.0)
    index = int(np.argmax(gain))
    if gain[index] < 0.5:
        return ""
    target = answer.question.targets[index]
    return (
        f"A lure made for {_target_words(target, answer.units)} would add up to "
        f"{answer.units.distance.text(float(gain[index]))} of zone to the average cast."
    )


def _headline(answer: RigAnswer) -> str:
    kit, units = answer.kit, answer.units
    parts = [
        f"{kit.rods[item.rod].name}: {kit.lures[item.tied].name} on {kit.lines[item.line].name}"
        for item in answer.rig.rods
    ]
    zone = float(answer.problem.chance @ answer.rig.best_zone_m)
    return f"{'; '.join(parts)}: {units.distance.text(zone)} of zone a cast over what may be asked."


def _assumed(question: RigQuestion) -> tuple[str, ...]:
    told = ["Least tackle for each ground is common practice, without a source:"]
    for ground in dict.fromkeys(target.ground for target in question.targets):
        needs = NEEDS[ground]
        told.append(
            f"{ground}: line of {needs.least_test_n / 4.4482216:.0f} lb or more, rod of "
            f"{needs.least_power} power or more, as {needs.reason}."
        )
    return tuple(told)
