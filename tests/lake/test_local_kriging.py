"""Ordinary kriging against its exact properties and against a bottom that is known."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.local_kriging import (
    MIN_NUGGET_M2,
    Variogram,
    _two_positive,
    fit_variogram,
    krige,
)


def test_a_level_bottom_stays_level() -> None:
    rng = np.random.default_rng(3)
    x, y = rng.uniform(0.0, 100.0, (2, 60))
    depth, se = krige(x, y, np.full(60, 4.0), Variogram(0.01, 0.01, 1.5), x + 3.0, y)
    assert depth == pytest.approx(np.full(60, 4.0), abs=1e-9)
    assert np.all(se > 0.0)


def test_two_soundings_worked_by_hand() -> None:
    """Midway between two points 2 m apart, g(h) = h, no noise: weights 1/2, variance 2*1/2*1 - 1/2.

    The ordinary kriging variance is 2 sum w g_i0 - sum sum w w g_ij
    (Cressie 1993, section 3.2) = 2 * 1 - 2 * 1/4 * 2 = 1.
    """
    depth, se = krige(
        np.array([0.0, 2.0]), np.zeros(2), np.array([3.0, 5.0]), Variogram(0.0, 1.0, 1.0),
        np.array([1.0]), np.zeros(1),
    )  # fmt: skip
    assert depth == pytest.approx([4.0])
    assert se == pytest.approx([1.0])


def test_error_is_the_noise_of_the_mean_for_repeated_soundings() -> None:
    """Four soundings of one spot: the standard error of their mean is sigma / sqrt(4)."""
    spots = np.array([0.0, 1e-6, 2e-6, 3e-6])
    depth, se = krige(
        spots, np.zeros(4), np.array([3.0, 3.2, 2.8, 3.0]), Variogram(0.04, 1e-9, 1.0),
        np.array([0.0]), np.zeros(1),
    )  # fmt: skip
    assert depth == pytest.approx([3.0], abs=1e-6)
    assert se == pytest.approx([0.2 / 2.0], rel=1e-4)


def test_variogram_of_a_random_walk() -> None:
    """Brownian motion with variance s^2 per metre has g(h) = s^2 h / 2, exponent 1."""
    rng = np.random.default_rng(5)
    depth = 20.0 + np.cumsum(rng.normal(0.0, 0.1, 6000))
    fit = fit_variogram(np.arange(6000.0), np.zeros(6000), depth, 40.0)
    assert fit(np.array([10.0]))[0] + fit.nugget_m2 == pytest.approx(0.01 * 10.0 / 2.0, rel=0.25)
    assert fit.exponent == pytest.approx(1.0, abs=0.25)


def test_stated_error_covers_a_known_bottom() -> None:
    """90 % bands hold the truth in 85 to 97 % of places between tracks of a rough bottom."""
    rng = np.random.default_rng(11)
    inside = 0
    total = 0
    for _ in range(6):
        phase = rng.uniform(0.0, 6.28, 12)
        wave = rng.normal(0.0, 1.0, (2, 12)) / rng.uniform(12.0, 60.0, 12)

        def bottom(x, y, wave=wave, phase=phase):
            return 6.0 + 0.25 * np.sum(
                np.cos(np.outer(x, wave[0]) + np.outer(y, wave[1]) + phase), axis=1
            )

        x = np.tile(np.arange(0.0, 200.0, 4.0), 8)
        y = np.repeat(np.arange(8) * 22.0, 50) + rng.normal(0.0, 1.0, 400)
        depth = bottom(x, y) + rng.normal(0.0, 0.08, 400)
        at_x, at_y = rng.uniform(20.0, 180.0, 150), rng.uniform(10.0, 140.0, 150)
        fit = fit_variogram(x, y, depth)
        found, se = krige(x, y, depth, fit, at_x, at_y)
        inside += np.count_nonzero(np.abs(found - bottom(at_x, at_y)) < 1.645 * se)
        total += 150
    assert 0.85 <= inside / total <= 0.97


def test_too_few() -> None:
    with pytest.raises(LakeDataError, match="at least 3"):
        fit_variogram(np.zeros(2), np.zeros(2), np.zeros(2))


def test_far_apart_soundings_get_a_wide_error() -> None:
    fit = fit_variogram(np.arange(5) * 1000.0, np.zeros(5), np.arange(5.0))
    assert fit.nugget_m2 >= MIN_NUGGET_M2
    assert np.sqrt(fit(np.array([10.0]))[0]) > 0.3


def test_two_positive_coefficients_as_a_general_solver_finds_them() -> None:
    """Lawson & Hanson's non-negative least squares, as coded in scipy."""
    from scipy.optimize import nnls

    rng = np.random.default_rng(9)
    for _ in range(200):
        design, values = rng.normal(size=(12, 2)), rng.normal(size=12)
        mine, misfit = _two_positive(design, values)
        theirs, residual = nnls(design, values)
        assert mine == pytest.approx(theirs, abs=1e-9)
        assert misfit == pytest.approx(residual, abs=1e-9)
