"""Covered edge counts once, however often it is fished."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array

from leadsman.belief.coverage import Coverage
from leadsman.errors import PlanError


def random_coverage(seed: int, casts: int = 7, cells: int = 9) -> Coverage:
    rng = np.random.default_rng(seed)
    chance = rng.uniform(0.0, 1.0, (casts, cells)) * (rng.uniform(size=(casts, cells)) < 0.5)
    return Coverage(rng.uniform(0.5, 2.0, cells), csr_array(chance))


def test_two_sure_casts_over_the_same_metres_count_once() -> None:
    coverage = Coverage(np.array([2.0, 2.0, 2.0]), csr_array(np.array([[1.0, 1, 0], [0, 1, 1]])))
    assert coverage.covered([0]) == pytest.approx(4.0)
    assert coverage.covered([0, 0, 0]) == pytest.approx(4.0)
    assert coverage.covered([0, 1]) == pytest.approx(6.0)


@given(st.integers(0, 10_000))
@settings(max_examples=25, deadline=None)
def test_expected_cover_is_that_of_all_outcomes(seed: int) -> None:
    """Against the definition: every way in which each cast covers a cell or does not."""
    coverage = random_coverage(seed, casts=4, cells=3)
    chance = coverage.chance.toarray()
    expected = 0.0
    for cell in range(3):
        for outcome in itertools.product((0, 1), repeat=4):
            p = np.prod(
                [chance[i, cell] if o else 1 - chance[i, cell] for i, o in enumerate(outcome)]
            )
            expected += coverage.weight[cell] * p * any(outcome)
    assert coverage.covered(range(4)) == pytest.approx(expected)


@given(st.integers(0, 10_000))
@settings(max_examples=50, deadline=None)
def test_monotone_and_submodular(seed: int) -> None:
    """f(A + x) - f(A) >= f(B + x) - f(B) >= 0 for A in B: what greedy's bounds rest on."""
    coverage = random_coverage(seed)
    rng = np.random.default_rng(seed + 1)
    larger = [int(i) for i in np.flatnonzero(rng.uniform(size=6) < 0.6)]
    smaller = [i for i in larger if rng.uniform() < 0.5]
    gain_small = coverage.covered([*smaller, 6]) - coverage.covered(smaller)
    gain_large = coverage.covered([*larger, 6]) - coverage.covered(larger)
    assert gain_small >= gain_large - 1e-12
    assert gain_large >= -1e-12


def test_gains_are_the_differences() -> None:
    coverage = random_coverage(5)
    gains = coverage.gains(coverage.uncovered([1, 3]))
    for cast in (0, 2, 4):
        expected = coverage.covered([1, 3, cast]) - coverage.covered([1, 3])
        assert gains[cast] == pytest.approx(expected)


def test_rows_keeps_the_order_asked_for() -> None:
    coverage = random_coverage(2)
    part = coverage.rows([4, 1])
    assert part.casts == 2
    assert part.covered([0]) == pytest.approx(coverage.covered([4]))


def test_refuses_what_makes_no_sense() -> None:
    with pytest.raises(PlanError):
        Coverage(np.array([1.0]), csr_array(np.array([[1.2]])))
    with pytest.raises(PlanError):
        Coverage(np.array([-1.0]), csr_array(np.array([[0.2]])))
    with pytest.raises(PlanError):
        Coverage(np.array([1.0, 1.0]), csr_array(np.array([[0.2]])))
