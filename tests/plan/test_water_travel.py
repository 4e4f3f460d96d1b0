from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from leadsman.errors import PlanError
from leadsman.plan.water_travel import WaterGrid, travel_table


def test_open_water_is_the_octile_distance() -> None:
    # on an eight-connected grid the shortest way is max + (sqrt 2 - 1) min; own derivation
    grid = WaterGrid(0.0, 0.0, 10.0, np.full((40, 60), 5.0))
    table = travel_table(grid, [(0.0, 0.0), (500.0, 200.0)])
    expected = (500.0 + (math.sqrt(2.0) - 1.0) * 200.0) / 5.0
    assert table.time_s[0, 1] == pytest.approx(expected)
    assert table.time_s[1, 0] == pytest.approx(expected)


def test_a_slow_zone_is_gone_around_or_paid_for() -> None:
    speed = np.full((3, 101), 10.0)
    speed[:, 40:60] = 1.0
    table = travel_table(WaterGrid(0.0, 0.0, 10.0, speed), [(0.0, 10.0), (1000.0, 10.0)])
    # 20 cells at 1 m/s and the rest at 10, the two steps across the border at the mean
    expected = 19 * 10.0 / 1.0 + 79 * 10.0 / 10.0 + 2 * (5.0 / 10.0 + 5.0 / 1.0)
    assert table.time_s[0, 1] == pytest.approx(expected)


def test_no_way_over_land() -> None:
    speed = np.full((10, 21), 5.0)
    speed[:, 10] = 0.0
    table = travel_table(WaterGrid(0.0, 0.0, 10.0, speed), [(0.0, 0.0), (200.0, 0.0)])
    assert math.isinf(table.time_s[0, 1])
    with pytest.raises(PlanError, match="no way over water"):
        table.way(0, 1)


def test_corners_of_land_are_not_cut() -> None:
    speed = np.array([[5.0, 0.0], [0.0, 5.0]])
    table = travel_table(WaterGrid(0.0, 0.0, 10.0, speed), [(0.0, 0.0), (10.0, 10.0)])
    assert math.isinf(table.time_s[0, 1])


def test_a_place_on_land_is_refused() -> None:
    speed = np.zeros((40, 40))
    speed[0, 0] = 5.0
    with pytest.raises(PlanError, match="on the water"):
        travel_table(WaterGrid(0.0, 0.0, 10.0, speed), [(390.0, 390.0)])
    with pytest.raises(PlanError, match="on the water"):
        travel_table(WaterGrid(0.0, 0.0, 10.0, speed), [(-1e6, -1e6)])


@pytest.mark.parametrize("block", range(10))
def test_ways_respect_land_in_random_lakes(block: int) -> None:
    rng = np.random.default_rng(block)
    for _ in range(100):
        rows, columns = rng.integers(4, 24, 2)
        speed = np.where(rng.random((rows, columns)) < 0.35, 0.0, rng.choice([2.0, 12.0]))
        if not np.any(speed > 0.0):
            continue
        grid = WaterGrid(0.0, 0.0, 20.0, speed)
        wet = np.argwhere(speed > 0.0)
        ends = wet[rng.integers(0, len(wet), 2)]
        table = travel_table(grid, [(float(c) * 20.0, float(r) * 20.0) for r, c in ends])
        if math.isinf(table.time_s[0, 1]):
            continue
        way = table.way(0, 1)
        cells = np.rint(way / 20.0).astype(int)
        assert np.all(speed[cells[:, 1], cells[:, 0]] > 0.0)
        steps = np.abs(np.diff(cells, axis=0))
        assert steps.size == 0 or steps.max() == 1
        for (x, y), (nx, ny) in itertools.pairwise(cells):
            assert speed[y, nx] > 0.0 and speed[ny, x] > 0.0, "no corner of land is cut"
