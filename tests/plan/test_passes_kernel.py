"""The kernel against the same march in plain numpy."""

from __future__ import annotations

import numpy as np
import pytest
from pass_cases import model_of, plain_zone, setup, slope

from leadsman.plan.passes_evaluate import PackedGrid, evaluate_casts
from leadsman.plan.passes_table import contact_table


def test_same_as_plain_numpy_over_a_rough_lake() -> None:
    def rough(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return slope(x, y) + 0.3 * np.sin(x / 17.0) * np.cos(y / 23.0)

    grid = PackedGrid.of(model_of(rough))
    table = contact_table(setup(), bottoms=60)
    rng = np.random.default_rng(4)
    x, y = rng.uniform(-230, 230, 3000), rng.uniform(-230, 230, 3000)
    angle = rng.uniform(0.0, 2.0 * np.pi, 3000)
    fast = evaluate_casts(grid, table, x, y, angle)
    plain = plain_zone(grid, table, x, y, angle, 0.12)
    known = np.isfinite(plain)
    assert np.all(fast.nominal_zone_m[~known] == 0.0)
    apart = np.abs(fast.nominal_zone_m - plain)[known]
    assert np.quantile(apart, 0.995) < 1e-3  # a lure that just touches may go either way
    assert fast.nominal_zone_m[known].sum() == pytest.approx(plain[known].sum(), rel=1e-4)


def test_a_cast_over_land_is_worth_nothing() -> None:
    grid = PackedGrid.of(model_of(lambda x, y: np.where(x > 20.0, -1.0, 3.0)))
    table = contact_table(setup(), bottoms=60)
    found = evaluate_casts(
        grid, table, np.zeros(2), np.zeros(2), np.array([0.5 * np.pi, 1.5 * np.pi])
    )
    assert found.usable.tolist() == [False, True]
    assert found.zone_m[0] == 0.0


def test_shares_add_up_to_the_expected_zone() -> None:
    grid = PackedGrid.of(model_of(slope))
    table = contact_table(setup(), bottoms=60)
    angle = np.linspace(0.0, 6.0, 40)
    found = evaluate_casts(grid, table, np.zeros(40), np.zeros(40), angle, trace=True)
    assert found.shares.sum(axis=1) == pytest.approx(found.zone_m, abs=1e-3)
    low, high = found.zone_band_m.T
    assert np.all((low <= found.nominal_zone_m + 1e-9) & (found.nominal_zone_m <= high + 1e-9))
