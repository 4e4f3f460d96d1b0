"""When to hold the rod tip low and when to raise it, and the search for the best.

A lure rides the bottom lightly when the line's angle is close to its dive
angle. With a long line that asks for a high tip, near the end for a low one,
and until it touches for the lowest of all. So the family searched is: hold the
tip at h0, raise (or lower) it to h1, then go evenly to h2.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.hydro.technique import Step, TakeUp, Technique

FloatArray = npt.NDArray[np.float64]

TIP_STEP_M = 0.1524
"""Step between tip heights that are told apart [m]. Own choice: half a foot, as finely as a
person can hold a rod."""

RAMP_TURNS = 2.0
RAMP_METRES = 1.5
"""How much is reeled in while the rod is raised [turn], [m]. Own choice: about a second."""

SIMPLER_SHARE = 0.03
"""Zone given up for a schedule with fewer moves [-]. Own choice: under what can be felt."""

ROUNDS = 7
"""Rounds of the search: the seeds, pattern moves, and at last what is simpler [-]."""


@dataclass(frozen=True, slots=True)
class TipKnot:
    """A place in a tip schedule.

    Parameters
    ----------
    reeled : float
        Reeled in since the start, handle turns or metres [turn or m].
    tip_m : float
        Height of the tip there [m].
    """

    reeled: float
    tip_m: float


@dataclass(frozen=True, slots=True)
class TipSchedule:
    """Height of the rod tip through a retrieve, piecewise linear.

    Parameters
    ----------
    start_tip_m : float
        Height at the start [m].
    knots : tuple of TipKnot
        Later places, rising in what is reeled in; the tip stays where the last
        one left it. Empty for a constant tip [-].
    in_turns : bool
        Whether knots count handle turns; else metres of line [-].

    Raises
    ------
    PlanError
        The knots do not rise.
    """

    start_tip_m: float
    knots: tuple[TipKnot, ...] = ()
    in_turns: bool = True

    def __post_init__(self) -> None:
        places = [0.0, *(knot.reeled for knot in self.knots)]
        if any(later <= earlier for earlier, later in pairwise(places)):
            raise PlanError("places of a tip schedule must rise from 0", "tip schedule")

    @property
    def is_constant(self) -> bool:
        """Whether the tip never moves [-]."""
        return all(knot.tip_m == self.start_tip_m for knot in self.knots)

    @property
    def moves(self) -> int:
        """How many times the angler has to move the rod [-]."""
        heights = [self.start_tip_m, *(knot.tip_m for knot in self.knots)]
        return sum(a != b for a, b in pairwise(heights))

    def tip_at(self, reeled: float) -> float:
        """Height of the tip when so much is reeled in [m].

        Parameters
        ----------
        reeled : float
            Handle turns or metres since the start [turn or m].
        """
        places = [0.0, *(knot.reeled for knot in self.knots)]
        heights = [self.start_tip_m, *(knot.tip_m for knot in self.knots)]
        return float(np.interp(reeled, places, heights))

    def steps(self, reel_rate: float) -> tuple[Step, ...]:
        """The schedule as steps of a retrieve script.

        Parameters
        ----------
        reel_rate : float
            Turns or metres per second, as the knots count [turn s-1 or m s-1].
        """
        made: list[Step] = []
        before = 0.0
        for knot in self.knots:
            seconds = (knot.reeled - before) / reel_rate
            made.append(Step("reel", seconds, reel_rate, knot.tip_m))
            before = knot.reeled
        return (*made, Step("reel", speed_m_s=reel_rate))

    def technique(
        self, cast_m: float, reel_rate: float, take_up: TakeUp | None, boat_m_s: float = 0.0
    ) -> Technique:
        """The schedule as a way to fish one cast.

        Parameters
        ----------
        cast_m : float
            Horizontal distance tip to lure at the start [m].
        reel_rate : float
            Turns or metres per second [turn s-1 or m s-1].
        take_up : TakeUp or None
            Take-up of the reel; needed where knots count turns [-].
        boat_m_s : float
            Drift of the boat toward the lure [m s-1].
        """
        return Technique(cast_m, self.start_tip_m, self.steps(reel_rate), take_up, boat_m_s)


@dataclass(frozen=True, slots=True)
class TipProblem:
    """What the search needs to know of one setup.

    Parameters
    ----------
    lowest_m, highest_m : float
        Range of the tip [m].
    total : float
        Reeled in over the whole retrieve [turn or m].
    first_contact : float or None
        Reeled in until first contact with the tip lowest [turn or m].
    best_constant_m : float
        Best constant tip height known [m].
    best_constant_score : float
        Its score [m].
    in_turns : bool
        Whether the retrieve is counted in turns [-].
    """

    lowest_m: float
    highest_m: float
    total: float
    first_contact: float | None
    best_constant_m: float
    best_constant_score: float
    in_turns: bool = True


@dataclass(frozen=True, slots=True)
class _Shape:
    """One member of the family: hold h0 until `hold`, go to h1, be at h2 by `end`."""

    h0: float
    hold: float
    h1: float
    end: float
    h2: float


ScoreMany = Callable[[Sequence[tuple[int, TipSchedule]]], FloatArray]
"""Scores of (index of the problem, schedule) pairs; more is better [m]."""


def optimise_tips(
    problems: Sequence[TipProblem],
    score: ScoreMany,
    after_round: Callable[[int, int], None] | None = None,
) -> tuple[tuple[TipSchedule, float], ...]:
    """Find the best tip schedule of many setups side by side.

    A seeded pattern search on a lattice of whole turns and half feet. The best
    constant tip is always among what is compared, so the answer is never worse.

    Parameters
    ----------
    problems : sequence of TipProblem
        The setups [-].
    score : callable
        Scores (problem index, schedule) pairs, called once a round [m].
    after_round : callable or None
        Called with rounds done and rounds in all [-].

    Returns
    -------
    tuple of (TipSchedule, float)
        Best schedule of each setup and its score [m].
    """
    best: list[dict[_Shape, float]] = [{} for _ in problems]
    wanted = [_seeds(problem) for problem in problems]
    scale = [1.0] * len(problems)
    for number in range(ROUNDS):
        pairs = [
            (index, shape)
            for index, shapes in enumerate(wanted)
            for shape in dict.fromkeys(shapes)
            if shape not in best[index]
        ]
        before = [max(known.values(), default=-math.inf) for known in best]
        if pairs:
            found = score([(i, _schedule(problems[i], shape)) for i, shape in pairs])
            for (index, shape), value in zip(pairs, found, strict=True):
                best[index][shape] = float(value)
        if after_round is not None:
            after_round(number + 1, ROUNDS)
        leaders = [_leaders(known) for known in best]
        for index, problem in enumerate(problems):
            if number > 0 and best[index][leaders[index][0]] <= before[index] + 1e-9:
                scale[index] *= 0.5
            if number == ROUNDS - 2:
                wanted[index] = _simpler(problem, leaders[index][0])
                continue
            starts = leaders[index][: 2 if number < 2 else 1]
            wanted[index] = [s for at in starts for s in _neighbours(problem, at, scale[index])]
            if number < 2:
                wanted[index] += _borrowed(problems, leaders, index)
    return tuple(_choose(problem, known) for problem, known in zip(problems, best, strict=True))


def _leaders(known: dict[_Shape, float]) -> list[_Shape]:
    """The best shape, and the best of those that hold the tip clearly longer or shorter."""
    order = sorted(known, key=lambda shape: -known[shape])
    first = order[0]
    other = (shape for shape in order if abs(shape.hold - first.hold) > 0.15 * first.end)
    return [first, *islice(other, 1)]


def _borrowed(
    problems: Sequence[TipProblem], leaders: Sequence[Sequence[_Shape]], index: int
) -> list[_Shape]:
    """What suits the setups that touch at about the same place, which is often a good start."""
    own = problems[index]
    place = own.first_contact or 0.0
    others = sorted(
        (k for k in range(len(problems)) if k != index),
        key=lambda k: abs((problems[k].first_contact or 0.0) - place),
    )
    return [_round(own, leaders[k][0]) for k in others[:3]]


def constant_heights(lowest_m: float, highest_m: float, count: int = 9) -> tuple[float, ...]:
    """Heights at which a constant tip is tried, even over the range, the ends included.

    Parameters
    ----------
    lowest_m, highest_m : float
        Range of the tip [m].
    count : int
        How many, at least 2 [-].
    """
    return tuple(dict.fromkeys(float(h) for h in np.linspace(lowest_m, highest_m, count)))


def _choose(problem: TipProblem, known: dict[_Shape, float]) -> tuple[TipSchedule, float]:
    """The schedule with the fewest moves among those next to the best; at least the constant."""
    constant = TipSchedule(problem.best_constant_m, in_turns=problem.in_turns)
    most = max(known.values(), default=-math.inf)
    if most <= problem.best_constant_score * (1.0 + SIMPLER_SHARE):
        return constant, problem.best_constant_score
    floor = max(most * (1.0 - SIMPLER_SHARE), problem.best_constant_score)
    close = [(shape, value) for shape, value in known.items() if value >= floor]
    shape, value = min(close, key=lambda pair: (_schedule(problem, pair[0]).moves, -pair[1]))
    return _schedule(problem, shape), value


def _schedule(problem: TipProblem, shape: _Shape) -> TipSchedule:
    ramp = RAMP_TURNS if problem.in_turns else RAMP_METRES
    knots: list[TipKnot] = []
    tip = shape.h0
    if shape.h1 != tip:
        if shape.hold > 0.0:
            knots.append(TipKnot(shape.hold, tip))
        knots.append(TipKnot(shape.hold + ramp, shape.h1))
        tip = shape.h1
    if shape.h2 != tip:
        begin = knots[-1].reeled if knots else 0.0
        knots.append(TipKnot(max(shape.end, begin + ramp), shape.h2))
    return TipSchedule(shape.h0, tuple(knots), problem.in_turns)


def _seeds(problem: TipProblem) -> list[_Shape]:
    low, high, flat = problem.lowest_m, problem.highest_m, problem.best_constant_m
    total = problem.total
    contact = problem.first_contact if problem.first_contact is not None else 0.4 * total
    rises = [flat + share * (high - flat) for share in (0.5, 1.0)]
    shapes = [_Shape(flat, 0.0, flat, total, flat)]
    for hold in (0.4 * contact, 0.8 * contact, 1.1 * contact, 1.5 * contact):
        for up in rises:
            shapes += [_Shape(low, hold, up, share * total, low) for share in (0.65, 0.92)]
            shapes.append(_Shape(low, hold, up, total, up))
    for tip in (flat, *rises):
        shapes += [_Shape(tip, 0.0, tip, share * total, low) for share in (0.65, 0.92)]
    shapes += [_Shape(flat, contact, high, share * total, low) for share in (0.65, 0.92)]
    return [_round(problem, shape) for shape in shapes]


def _neighbours(problem: TipProblem, at: _Shape, scale: float) -> list[_Shape]:
    tip = max(scale * 0.25 * (problem.highest_m - problem.lowest_m), TIP_STEP_M)
    reel = max(scale * 0.08 * problem.total, 1.0)
    shapes = [
        _Shape(
            at.h0 + a * tip, at.hold + b * reel, at.h1 + c * tip, at.end + d * reel, at.h2 + e * tip
        )
        for a, b, c, d, e in (
            (1, 0, 0, 0, 0),
            (-1, 0, 0, 0, 0),
            (0, 1, 0, 0, 0),
            (0, -1, 0, 0, 0),
            (0, 0, 1, 0, 0),
            (0, 0, -1, 0, 0),
            (0, 0, 0, 2, 0),
            (0, 0, 0, -2, 0),
            (0, 0, 0, 0, 1),
            (0, 0, 0, 0, -1),
            (0, 0, 1, 0, 1),
            (0, 0, -1, 0, -1),
        )
    ]
    return [_round(problem, shape) for shape in shapes]


def _simpler(problem: TipProblem, at: _Shape) -> list[_Shape]:
    """The same with one move left out."""
    mean = 0.5 * (at.h1 + at.h2)
    return [
        _round(problem, shape)
        for shape in (
            _Shape(at.h0, at.hold, at.h1, at.end, at.h1),
            _Shape(at.h0, at.hold, mean, at.end, mean),
            _Shape(at.h1, 0.0, at.h1, at.end, at.h2),
            _Shape(at.h0, at.hold, at.h2, at.end, at.h2),
        )
    ]


def _round(problem: TipProblem, shape: _Shape) -> _Shape:
    low, high = problem.lowest_m, problem.highest_m
    hold = min(max(round(shape.hold), 0.0), math.floor(problem.total))
    end = min(max(round(shape.end), hold + 1.0), max(math.floor(problem.total), hold + 1.0))
    return _Shape(
        _on_lattice(shape.h0, low, high),
        float(hold),
        _on_lattice(shape.h1, low, high),
        float(end),
        _on_lattice(shape.h2, low, high),
    )


def _on_lattice(tip_m: float, low: float, high: float) -> float:
    """Nearest height a person can tell apart; the ends of the range stand for what is near them."""
    if tip_m <= low + 0.5 * TIP_STEP_M:
        return low
    if tip_m >= high - 0.5 * TIP_STEP_M:
        return high
    return min(max(round(tip_m / TIP_STEP_M) * TIP_STEP_M, low), high)
