"""Blocked cross-validation on bottoms whose error is known."""

from __future__ import annotations

import numpy as np

from leadsman.lake.cross_validation import cross_validate


def walk(rough: float, n: int = 60) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    rng = np.random.default_rng(6)
    x, y = np.meshgrid(np.arange(n) * 8.0, np.arange(n) * 8.0)
    depth = np.zeros((n, n))
    for wave in (60.0, 90.0, 200.0):
        for _ in range(3):
            a, p = rng.uniform(0.0, 6.28, 2)
            depth += rough * np.sin((np.cos(a) * x + np.sin(a) * y) / wave * 6.28 + p)
    return x.ravel(), y.ravel(), (10.0 + depth + rng.normal(0.0, 0.05, (n, n))).ravel()


def test_coverage_is_honest_and_rougher_beds_are_worse() -> None:
    smooth = cross_validate(*walk(0.1), 5.0, np.linspace(2.0, 20.0, 50))
    rough = cross_validate(*walk(0.5), 5.0, np.linspace(2.0, 20.0, 50))
    assert smooth.rmse_m < rough.rmse_m
    for result in (smooth, rough):
        assert 0.85 <= result.coverage_90 <= 0.95
        assert result.count > 500
        assert abs(result.bias_m) < 0.5 * result.rmse_m + 0.02


def test_wider_gaps_are_worse() -> None:
    assert (
        cross_validate(*walk(0.3), 5.0, np.linspace(2.0, 60.0, 50)).rmse_m
        > cross_validate(*walk(0.3), 5.0, np.linspace(2.0, 12.0, 50)).rmse_m
    )


def test_too_few_says_nothing() -> None:
    result = cross_validate(
        np.arange(10.0), np.zeros(10), np.full(10, 3.0), 5.0, np.linspace(2.0, 12.0, 50)
    )
    assert np.isnan(result.rmse_m)
    assert result.interpolation_scale == 1.0
