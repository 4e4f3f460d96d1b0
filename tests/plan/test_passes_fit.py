"""The fit behind the table."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.plan.passes_fit import STEP_M, TERMS, lag_share, lagged, terms


def test_lag_is_an_exponential_filter() -> None:
    """A step of the slope is forgotten as exp(-distance / length): the closed form."""
    x = np.full(30, 20.0)
    keep = lag_share(x, 0.01)
    slope = np.concatenate([[1.0], np.zeros(29)])[None, :]
    length = 0.01 * 20.0**2
    expected = np.exp(-STEP_M * np.arange(30) / length)
    assert lagged(slope, keep)[0] == pytest.approx(expected, rel=1e-9)


def test_near_the_boat_nothing_is_remembered() -> None:
    assert lag_share(np.array([0.5]), 0.004)[0] < 1e-6


def test_terms_are_those_of_the_polynomial() -> None:
    z, s = np.array([2.0]), np.array([3.0])
    assert terms(z, s)[0].tolist() == [1.0, 2.0, 4.0, 8.0, 3.0, 9.0, 6.0, 12.0]
    assert terms(z, s).shape[-1] == TERMS
