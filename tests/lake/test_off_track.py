"""Fixes off a track, made up so that the answer is known."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.lake.off_track import off_track

X = np.arange(60) * 5.0


@pytest.mark.parametrize("run", [1, 2, 3])
def test_runs_that_come_back_are_found(run: int) -> None:
    y = np.zeros(60)
    y[30 : 30 + run] = 400.0
    bad = off_track(X, y, None)
    assert np.flatnonzero(bad).tolist() == list(range(30, 30 + run))


def test_a_track_that_goes_on_elsewhere_is_no_excursion() -> None:
    y = np.where(np.arange(60) < 30, 0.0, 400.0)
    assert not np.any(off_track(X, y, None))


def test_too_fast_is_found_by_time() -> None:
    y = np.zeros(60)
    y[30] = 55.0
    assert not np.any(off_track(X, y, None))
    assert np.flatnonzero(off_track(X, y, np.arange(60) * 1.0)).tolist() == [30]


def test_a_sharp_turn_is_kept() -> None:
    x = np.concatenate([X, X[::-1]])
    assert not np.any(off_track(x, np.zeros(120), np.arange(120.0)))


def test_few_fixes() -> None:
    assert not np.any(off_track(X[:3], np.array([0.0, 500.0, 0.0]), None))
