"""Tip schedules: what they mean, and a search that can be checked without any physics."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import PlanError
from leadsman.hydro.technique import TakeUp
from leadsman.plan.tip_schedule import (
    TipKnot,
    TipProblem,
    TipSchedule,
    constant_heights,
    optimise_tips,
)

LOW_THEN_UP = TipSchedule(0.3, (TipKnot(12.0, 0.3), TipKnot(14.0, 1.8)))


def test_schedule_becomes_steps_of_the_same_shape() -> None:
    technique = LOW_THEN_UP.technique(50.0, 2.0, TakeUp(0.7, 0.6, 120.0))
    assert technique.tip_m == 0.3
    seconds = [step.seconds for step in technique.steps]
    assert seconds == [6.0, 1.0, math.inf]  # 12 and 2 turns at 2 turns a second
    assert [step.tip_m for step in technique.steps] == [0.3, 1.8, None]
    assert all(step.speed_m_s == 2.0 for step in technique.steps)


def test_tip_is_linear_between_knots_and_stays_after_the_last() -> None:
    assert LOW_THEN_UP.tip_at(5.0) == pytest.approx(0.3)
    assert LOW_THEN_UP.tip_at(13.0) == pytest.approx(0.5 * (0.3 + 1.8))
    assert LOW_THEN_UP.tip_at(60.0) == pytest.approx(1.8)
    assert LOW_THEN_UP.moves == 1
    assert not LOW_THEN_UP.is_constant
    assert TipSchedule(0.6).is_constant


def test_knots_must_rise() -> None:
    with pytest.raises(PlanError, match="rise"):
        TipSchedule(0.3, (TipKnot(5.0, 0.3), TipKnot(5.0, 1.0)))


def test_constant_heights_span_the_range() -> None:
    heights = constant_heights(-0.5, 2.0)
    assert min(heights) == -0.5
    assert max(heights) == 2.0
    assert len(heights) == 9
    assert constant_heights(1.0, 1.0) == (1.0,)


def problem(**changes: float) -> TipProblem:
    given_ = {"lowest_m": -0.6, "highest_m": 1.8, "total": 80.0, "best_constant_m": 0.6}
    given_ |= changes
    return TipProblem(first_contact=20.0, best_constant_score=given_.pop("score", 0.0), **given_)


def closeness_to(ideal: TipSchedule) -> object:
    """A score with a known best: minus the mean distance from an ideal schedule."""
    places = np.linspace(0.0, 80.0, 161)
    wanted = np.array([ideal.tip_at(p) for p in places])

    def score(pairs: Sequence[tuple[int, TipSchedule]]) -> np.ndarray:
        return np.array(
            [
                10.0 - float(np.mean(np.abs([s.tip_at(p) for p in places] - wanted)))
                for _, s in pairs
            ]
        )

    return score


@pytest.mark.parametrize(
    "ideal",
    [
        TipSchedule(-0.6, (TipKnot(22.0, -0.6), TipKnot(24.0, 1.8), TipKnot(70.0, -0.6))),
        TipSchedule(-0.6, (TipKnot(30.0, -0.6), TipKnot(32.0, 1.2))),
        TipSchedule(1.5, (TipKnot(75.0, -0.6),)),
    ],
)
def test_search_finds_a_known_best_schedule(ideal: TipSchedule) -> None:
    """The ideal scores 10 by construction; the search must come within 0.12 m of it on average."""
    score = closeness_to(ideal)
    start = TipSchedule(0.6)
    constant = float(score([(0, start)])[0])  # type: ignore[operator]
    [(_, found)] = optimise_tips([problem(score=constant)], score)  # type: ignore[arg-type]
    assert constant < 9.5
    assert found > 9.88


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 2**32 - 1), constant=st.floats(0.0, 1.0))
def test_never_worse_than_the_constant_tip_whatever_the_score(seed: int, constant: float) -> None:
    """Even a score that is nothing but noise gives no answer under the constant's."""
    rng = np.random.default_rng(seed)

    def noise(pairs: Sequence[tuple[int, TipSchedule]]) -> np.ndarray:
        return rng.uniform(0.0, 1.0, len(pairs))

    found = optimise_tips([problem(score=constant), problem(score=constant)], noise)
    for schedule, value in found:
        assert value >= constant
        heights = [schedule.start_tip_m, *(knot.tip_m for knot in schedule.knots)]
        assert min(heights) >= -0.6
        assert max(heights) <= 1.8


def test_of_equal_schedules_the_one_with_fewer_moves_is_chosen() -> None:
    def all_alike(pairs: Sequence[tuple[int, TipSchedule]]) -> np.ndarray:
        return np.full(len(pairs), 5.0)

    [(schedule, value)] = optimise_tips([problem(score=5.0)], all_alike)
    assert value == 5.0
    assert schedule.is_constant
    assert schedule.start_tip_m == 0.6
