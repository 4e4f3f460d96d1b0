"""What a stretch brings, and when to leave it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import PlanError
from leadsman.plan.day_worth import (
    HALF_WIDTH_M,
    LEAST_S,
    MOST_S,
    SETTLE_S,
    TAKES,
    Promise,
    along_share,
    structure_factor,
)

ONE = Promise(0.004, 0.25, 150.0)


def test_covering_it_once_takes_the_stated_share() -> None:
    once = SETTLE_S + 150.0 / 0.25
    forever = ONE.bites(1e9)
    assert ONE.bites(once) / forever == pytest.approx(1.0 - math.exp(-TAKES))
    assert ONE.bites(SETTLE_S) == 0.0
    # at first bites come at the rate
    assert ONE.bites(SETTLE_S + 1.0) == pytest.approx(0.004 * 0.25, rel=0.01)


@given(st.floats(0.02, 0.95))
def test_the_marginal_value_theorem(share: float) -> None:
    """At the stay the stretch brings just what the day brings elsewhere (Charnov 1976)."""
    elsewhere = share * 0.004 * 0.25
    stay = ONE.stay_s(elsewhere)
    if not LEAST_S < stay < MOST_S:
        return
    marginal = (ONE.bites(stay + 1.0) - ONE.bites(stay - 1.0)) / 2.0
    assert marginal == pytest.approx(elsewhere, rel=1e-3)


def test_a_poor_stretch_is_left_early() -> None:
    assert ONE.stay_s(1.0) == LEAST_S
    assert ONE.stay_s(0.0) == MOST_S
    with pytest.raises(PlanError):
        Promise(-1.0, 0.2, 100.0)


def test_how_much_of_a_cast_lies_on_the_edge() -> None:
    assert along_share(20.0, math.inf, 0.0) == 1.0
    # the half width is one standard error: 68.27 % (normal law)
    assert along_share(20.0, math.inf, HALF_WIDTH_M) == pytest.approx(0.6827, abs=1e-4)
    # chord of a circle of 20 m radius that stays within 3 m on both sides, about 31 m
    assert along_share(62.0, 20.0, 0.0) == pytest.approx(0.5, abs=0.01)
    assert along_share(20.0, 20.0, 0.0) == 1.0


def test_structure_counts_and_a_middling_one_changes_nothing() -> None:
    assert structure_factor(0.5) == 1.0
    assert structure_factor(1.0) > structure_factor(0.2)
