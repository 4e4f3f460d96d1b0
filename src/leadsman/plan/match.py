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
from leadsman.plan import reasons
from leadsman.plan.candidates import Candidate, PathSolver, Progress
from leadsman.plan.match_evaluate import Evaluator, Scenario, Scores
from leadsman.plan.match_solver import solve_paths
from leadsman.plan.match_types import (
    CastOption,
    Excluded,
    LimitOrder,
    Match,
    MatchRequest,
    MatchResult,
)
from leadsman.plan.tip_schedule import TipProblem, TipSchedule, constant_heights, optimise_tips

FloatArray = npt.NDArray[np.float64]

LEAST_ZONE_M = 1.0
"""Expected zone under which a setup is excluded [m]. Own choice: not worth a cast."""

NEAR_WORTH = 1e-3
"""What a metre near the bottom counts against a metre of zone, to break ties [-]. Own choice."""


class _Table:
    """Everything computed so far: scenarios, scores and free depths, row by row."""

    def __init__(self, evaluator: Evaluator) -> None:
        self.evaluator = evaluator
        self.scenarios: list[Scenario] = []
        self.parts: list[tuple[Scores, int]] = []
        self.rank_m: list[float] = []
        self.zone_m: list[FloatArray] = []

    def add(self, scenarios: Sequence[Scenario]) -> FloatArray:
        """Compute scenarios; returns what they are ranked by, shape (m,) [m]."""
        scores = self.evaluator.scores(scenarios)
        worth = scores.zone_m[:, 0] + NEAR_WORTH * scores.near_m
        for i, scenario in enumerate(scenarios):
            self.scenarios.append(scenario)
            self.parts.append((scores, i))
            self.rank_m.append(float(worth[i]))
            self.zone_m.append(scores.zone_m[i])
        return np.asarray(worth)


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
    table = _Table(evaluator)
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
    result = _Assembly(
        request, candidates, table, constants, free_m, constant_best, chosen
    ).result()
    tell(1.0, "done")
    return result


def _constant_scenarios(candidates: Sequence[Candidate]) -> list[Scenario]:
    return [
        Scenario(index, cast, TipSchedule(tip, in_turns=candidate.in_turns))
        for index, candidate in enumerate(candidates)
        for cast in dict.fromkeys(candidate.casts_m)
        for tip in dict.fromkeys(candidate.tips_m)
    ]


def _best_rows(table: _Table, count: int) -> dict[int, int]:
    """Row of the best scenario of each candidate."""
    best: dict[int, int] = {}
    for row, scenario in enumerate(table.scenarios):
        known = best.get(scenario.candidate)
        if known is None or table.rank_m[row] > table.rank_m[known]:
            best[scenario.candidate] = row
    assert len(best) == count
    return best


def _refine_constants(
    request: MatchRequest, candidates: Sequence[Candidate], table: _Table, best: dict[int, int]
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
            step = span / 6.0 / 2.0**closer
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


def _take_better(table: _Table, best: dict[int, int], more: Sequence[Scenario]) -> None:
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
    table: _Table,
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


def _problem(candidate: Candidate, table: _Table, best: int) -> TipProblem:
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


class _Assembly:
    """Turns computed rows into the answer."""

    def __init__(
        self,
        request: MatchRequest,
        candidates: Sequence[Candidate],
        table: _Table,
        constants: Sequence[Scenario],
        free_m: FloatArray,
        constant_best: dict[int, int],
        chosen: dict[int, int],
    ) -> None:
        self.request = request
        self.candidates = candidates
        self.table = table
        self.constants = constants
        self.free_m = free_m
        self.constant_best = constant_best
        self.chosen = chosen
        self.fished_free_m = table.evaluator.free_depths(
            [table.scenarios[chosen[i]] for i in range(len(candidates))]
        )

    def result(self) -> MatchResult:
        """Everything, in order."""
        order = sorted(self.chosen, key=lambda i: -self.table.rank_m[self.chosen[i]])
        kept = [i for i in order if self._zone(i) >= LEAST_ZONE_M]
        ranked = tuple(self._match(i) for i in kept)
        excluded = tuple(self._excluded(i) for i in order if self._zone(i) < LEAST_ZONE_M)
        nearest = self._nearest(excluded) if not ranked else None
        limits = self._limits(kept)
        return MatchResult(
            request=self.request,
            headline=reasons.headline(self.request, ranked, nearest),
            ranked=ranked,
            excluded=excluded,
            options=self._options(),
            limits=limits,
            limit_sentence=reasons.limit_words(ranked, limits),
            nearest=nearest,
            cautions=reasons.cautions(self.request, ranked),
        )

    def _zone(self, index: int) -> float:
        return float(self.table.zone_m[self.chosen[index]][0])

    def _measures(self, index: int, free_m: float) -> reasons.Measures:
        scores, i = self.table.parts[self.chosen[index]]
        return reasons.Measures(
            zone_m=float(scores.zone_m[i, 0]),
            contact_m=float(scores.contact_m[i]),
            plowing_m=float(scores.plowing_m[i]),
            near_m=float(scores.near_m[i]),
            mean_load=float(scores.mean_load[i]),
            free_max_depth_m=free_m,
            lost_chance=float(scores.lost_chance[i]),
            first_contact_m=_or_none(scores.first_contact_m[i]),
        )

    def _match(self, index: int) -> Match:
        row = self.chosen[index]
        scores, i = self.table.parts[row]
        scenario, candidate = self.table.scenarios[row], self.candidates[index]
        constant = self.constant_best[index]
        free_m = float(self.fished_free_m[index])
        nodes = scores.node_zone_m[i]
        return Match(
            lure=candidate.lure.name,
            line=candidate.line.name,
            rod=candidate.rod,
            cast_m=scenario.cast_m,
            tip_m=scenario.schedule.start_tip_m,
            schedule=scenario.schedule,
            technique=scenario.schedule.technique(
                scenario.cast_m, candidate.reel_rate, candidate.take_up, candidate.boat_m_s
            ),
            zone_m=float(scores.zone_m[i, 0]),
            zone_band_m=(float(nodes.min()), float(nodes.max())),
            nominal_zone_m=float(nodes[0]),
            near_m=float(scores.near_m[i]),
            contact_m=float(scores.contact_m[i]),
            plowing_m=float(scores.plowing_m[i]),
            mean_load=float(scores.mean_load[i]),
            first_contact_m=_or_none(scores.first_contact_m[i]),
            first_contact_s=_or_none(scores.first_contact_s[i]),
            free_max_depth_m=free_m,
            constant_tip_m=self.table.scenarios[constant].schedule.start_tip_m,
            constant_zone_m=float(self.table.zone_m[constant][0]),
            travelled_m=float(scores.travelled_m[i]),
            fouls=float(scores.fouls[i]),
            lost_chance=float(scores.lost_chance[i]),
            line_touches=bool(scores.line_touches[i]),
            reason=reasons.match_reason(self.request, self._measures(index, free_m)),
            how=reasons.schedule_words(scenario.schedule, self.request.units),
        )

    def _excluded(self, index: int) -> Excluded:
        deepest = max(
            float(self.free_m[row])
            for row, scenario in enumerate(self.constants)
            if scenario.candidate == index
        )
        candidate = self.candidates[index]
        kind, reason = reasons.exclusion(self.request, self._measures(index, deepest))
        return Excluded(
            candidate.lure.name,
            candidate.line.name,
            candidate.rod,
            kind,
            deepest,
            self._zone(index),
            reason,
        )

    def _nearest(self, excluded: Sequence[Excluded]) -> Excluded:
        """The one with the most zone, else the deepest too short, else the shallowest."""
        best = max(excluded, key=lambda e: e.zone_m)
        if best.zone_m > 0.0:
            return best
        short = [e for e in excluded if e.kind == "short"]
        if short:
            return max(short, key=lambda e: e.free_max_depth_m)
        return min(excluded, key=lambda e: e.free_max_depth_m)

    def _options(self) -> tuple[CastOption, ...]:
        made = []
        for row, scenario in enumerate(self.constants):
            candidate = self.candidates[scenario.candidate]
            scores, i = self.table.parts[row]
            made.append(
                CastOption(
                    candidate.lure.name,
                    candidate.line.name,
                    candidate.rod,
                    scenario.cast_m,
                    scenario.schedule.start_tip_m,
                    float(scores.zone_m[i, 0]),
                    float(scores.mean_load[i]),
                    float(self.free_m[row]),
                )
            )
        return tuple(sorted(made, key=lambda option: -option.zone_m))

    def _limits(self, kept: Sequence[int]) -> tuple[LimitOrder, ...]:
        """Best zone of each ranked setup at each limit, over everything computed."""
        found: list[LimitOrder] = []
        place = {index: k for k, index in enumerate(kept)}
        zones = np.zeros((len(kept), len(self.request.limits)))
        for scenario, zone in zip(self.table.scenarios, self.table.zone_m, strict=True):
            k = place.get(scenario.candidate)
            if k is not None:
                zones[k] = np.maximum(zones[k], zone)
        for column, limit in enumerate(self.request.limits_shown, start=1):
            values = zones[:, column]
            if limit == self.request.limit_load:
                values = np.array([self._zone(index) for index in kept])
            order = np.argsort(-values, kind="stable")
            found.append(
                LimitOrder(limit, tuple(int(k) for k in order), tuple(float(v) for v in values))
            )
        return tuple(found)


def _or_none(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None
