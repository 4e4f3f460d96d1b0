"""From computed scenarios to the answer of `match`: order, reasons, what is left out."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from leadsman.plan import reasons
from leadsman.plan.candidates import Candidate
from leadsman.plan.match_evaluate import Evaluator, Scenario, Scores
from leadsman.plan.match_types import (
    CastOption,
    Excluded,
    LimitOrder,
    Match,
    MatchRequest,
    MatchResult,
)

FloatArray = npt.NDArray[np.float64]

LEAST_ZONE_M = 1.0
"""Expected zone under which a setup is excluded [m]. Own choice: not worth a cast."""

NEAR_WORTH = 1e-9
"""What a metre near the bottom counts where there is no zone at all [-]. Own choice: it only
orders what never touches and never outweighs a zone."""


class Table:
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
        zone = scores.zone_m[:, 0]
        worth = np.where(zone > 0.0, zone, NEAR_WORTH * scores.near_m)
        for i, scenario in enumerate(scenarios):
            self.scenarios.append(scenario)
            self.parts.append((scores, i))
            self.rank_m.append(float(worth[i]))
            self.zone_m.append(scores.zone_m[i])
        return np.asarray(worth)


class Assembly:
    """Turns computed rows into the answer."""

    def __init__(
        self,
        request: MatchRequest,
        candidates: Sequence[Candidate],
        table: Table,
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
            cautions=(*reasons.cautions(self.request, ranked), *self._unsolved()),
        )

    def _unsolved(self) -> tuple[str, ...]:
        """Says so if some retrieves could not be computed; they count as no zone."""
        evaluator = self.table.evaluator
        if not evaluator.unsolved:
            return ()
        return (
            f"{evaluator.unsolved} of {evaluator.computed} retrieves could not be computed "
            "and count as none.",
        )

    def _zone(self, index: int) -> float:
        return float(self.table.zone_m[self.chosen[index]][0])

    def _measures(self, index: int, free_m: float) -> reasons.Measures:
        scores, i = self.table.parts[self.chosen[index]]
        return reasons.Measures(
            zone_m=float(scores.node_zone_m[i][0]),
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
            band_s=float(scores.band_s[i]),
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
