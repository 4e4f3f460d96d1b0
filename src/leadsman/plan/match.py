"""Which lure on which line, cast how far and with the rod where, for a bottom or a depth.

The order goes by expected zone length: metres of a cast in contact with the
bottom (or the top of the grass) at an acceptable load, or inside a depth band,
expected over the error of the running depth and over fouling.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.plan.candidates import Candidate, PathSolver, Progress
from leadsman.plan.match_assembly import Assembly, Table
from leadsman.plan.match_evaluate import Evaluator, Scenario
from leadsman.plan.match_solver import solve_paths
from leadsman.plan.match_types import MatchRequest, MatchResult
from leadsman.plan.tip_schedule import TipProblem, TipSchedule, constant_heights, optimise_tips

FloatArray = npt.NDArray[np.float64]


def match(
    request: MatchRequest,
    candidates: Sequence[Candidate],
    progress: Progress | None = None,
    solve: PathSolver = solve_paths,
) -> MatchResult:
    """Rank setups for a bottom or a depth band.

    Parameters
    ----------
    request : MatchRequest
        What is asked [-].
    candidates : sequence of Candidate
        The tackle: each lure on each line it may be fished on [-].
    progress : callable or None
        Called with the fraction done and what is being done [-].
    solve : callable
        The physics; for tests [-].

    Returns
    -------
    MatchResult
        Ranked and excluded setups with their reasons [-].

    Raises
    ------
    PlanError
        There is no candidate.
    """
    if not candidates:
        raise PlanError("there is nothing to match", "kit", "Give at least one lure and one line")
    tell = progress or (lambda _done, _what: None)
    tell(0.0, "running each setup free")
    evaluator = Evaluator(request, candidates, solve)
    table = Table(evaluator)
    constants = _constant_scenarios(candidates)
    table.add(constants)
    free_m = evaluator.free_depths(constants)
    tell(0.25, "comparing casts and rod positions")
    best = _best_rows(table, len(candidates))
    _refine_constants(request, candidates, table, best)
    constant_best = dict(best)
    chosen = dict(best)
    if request.schedules:
        tell(0.35, "searching what to do with the rod tip")
        _add_schedules(request, candidates, table, chosen, tell)
    tell(0.95, "putting it in order")
    result = Assembly(request, candidates, table, constants, free_m, constant_best, chosen).result()
    tell(1.0, "done")
    return result


def _constant_scenarios(candidates: Sequence[Candidate]) -> list[Scenario]:
    return [
        Scenario(index, cast, TipSchedule(tip, in_turns=candidate.in_turns))
        for index, candidate in enumerate(candidates)
        for cast in dict.fromkeys(candidate.casts_m)
        for tip in dict.fromkeys(candidate.tips_m)
    ]


def _best_rows(table: Table, count: int) -> dict[int, int]:
    """Row of the best scenario of each candidate."""
    best: dict[int, int] = {}
    for row, scenario in enumerate(table.scenarios):
        known = best.get(scenario.candidate)
        if known is None or table.rank_m[row] > table.rank_m[known]:
            best[scenario.candidate] = row
    assert len(best) == count
    return best


def _refine_constants(
    request: MatchRequest, candidates: Sequence[Candidate], table: Table, best: dict[int, int]
) -> None:
    """Try constant tips between the allowed ones, at the best cast, where it touches at all.

    First evenly over the range, then closer and closer to the best, so that the
    gain of a schedule is not a gain over a badly chosen constant tip.
    """
    if not request.schedules:
        return
    for closer in range(4):
        more: list[Scenario] = []
        for index, row in best.items():
            c = candidates[index]
            span = c.highest_tip_m - c.lowest_tip_m
            if span <= 0.0 or table.rank_m[row] <= 0.0:
                continue
            at = table.scenarios[row].schedule.start_tip_m
            step = span / 8.0 / 2.0**closer
            heights = (
                constant_heights(c.lowest_tip_m, c.highest_tip_m)
                if closer == 0
                else (max(at - step, c.lowest_tip_m), min(at + step, c.highest_tip_m))
            )
            more += [
                Scenario(index, table.scenarios[row].cast_m, TipSchedule(tip, (), c.in_turns))
                for tip in heights
                if tip not in c.tips_m and tip != at
            ]
        if more:
            _take_better(table, best, more)


def _take_better(table: Table, best: dict[int, int], more: Sequence[Scenario]) -> None:
    """Compute scenarios and let them take the first place of their candidate if better."""
    first = len(table.scenarios)
    table.add(more)
    for row in range(first, len(table.scenarios)):
        index = table.scenarios[row].candidate
        if table.rank_m[row] > table.rank_m[best[index]]:
            best[index] = row


def _add_schedules(
    request: MatchRequest,
    candidates: Sequence[Candidate],
    table: Table,
    chosen: dict[int, int],
    tell: Progress,
) -> None:
    """Search tip schedules for the most promising setups; updates `chosen`."""
    promising = sorted(
        (
            index
            for index, row in chosen.items()
            if candidates[index].highest_tip_m > candidates[index].lowest_tip_m
            and table.rank_m[row] > 0.0
        ),
        key=lambda index: -table.rank_m[chosen[index]],
    )[: request.schedules_for]
    if not promising:
        return
    problems = [_problem(candidates[i], table, chosen[i]) for i in promising]

    def score(pairs: Sequence[tuple[int, TipSchedule]]) -> FloatArray:
        return table.add(
            [
                Scenario(promising[k], table.scenarios[chosen[promising[k]]].cast_m, schedule)
                for k, schedule in pairs
            ]
        )

    found = optimise_tips(
        problems,
        score,
        lambda done, of: tell(0.35 + 0.6 * done / of, "searching what to do with the rod tip"),
    )
    rows = {
        (scenario.candidate, scenario.schedule): row
        for row, scenario in enumerate(table.scenarios)
        if scenario.cast_m == table.scenarios[chosen[scenario.candidate]].cast_m
    }
    for index, (schedule, _) in zip(promising, found, strict=True):
        chosen[index] = rows[(index, schedule)]


def _problem(candidate: Candidate, table: Table, best: int) -> TipProblem:
    """The search as seen from the computed constant tips at the best cast."""
    cast_m = table.scenarios[best].cast_m
    scores, i = table.parts[best]
    low = next(
        row
        for row, s in enumerate(table.scenarios)
        if table.evaluator.candidates[s.candidate] is candidate
        and s.cast_m == cast_m
        and s.schedule.start_tip_m == candidate.lowest_tip_m
    )
    low_scores, k = table.parts[low]
    first_s = float(low_scores.first_contact_s[k])
    return TipProblem(
        lowest_m=candidate.lowest_tip_m,
        highest_m=candidate.highest_tip_m,
        total=float(scores.duration_s[i]) * candidate.reel_rate,
        first_contact=first_s * candidate.reel_rate if math.isfinite(first_s) else None,
        best_constant_m=table.scenarios[best].schedule.start_tip_m,
        best_constant_score=table.rank_m[best],
        in_turns=candidate.in_turns,
    )
