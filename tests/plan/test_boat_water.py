"""Where the boat may go."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from leadsman.errors import PlanError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.plan.boat_water import BoatSpeeds, SlowZone, straightened, water_grid
from leadsman.plan.water_travel import travel_table


def bowl(radius_m: float = 600.0, deepest_m: float = 12.0) -> BottomModel:
    """A round lake: even slope from shore to middle."""
    lattice = Lattice(MetricFrame(-91.0, 46.0), -700.0, -700.0, 5.0, 281, 281)
    r = np.hypot(lattice.x_m[None, :], lattice.y_m[:, None])
    depth = np.where(r < radius_m, deepest_m * (1.0 - r / radius_m), np.nan)
    return BottomModel("Bowl", lattice, depth.astype(np.float32), np.full(r.shape, 0.1, np.float32))


BOAT = BoatSpeeds(10.0, 2.0, shore_m=100.0, least_depth_m=1.0)


def test_speeds_follow_depth_shore_and_zones() -> None:
    grid = water_grid(bowl(), BoatSpeeds(10.0, 2.0, 100.0, 1.0, (SlowZone(0.0, 0.0, 60.0),)), 0.0)

    def speed(x: float, y: float) -> float:
        return float(
            grid.speed_m_s[
                round((y - grid.y0_m) / grid.cell_m), round((x - grid.x0_m) / grid.cell_m)
            ]
        )

    assert speed(650.0, 0.0) == 0.0  # land
    assert speed(575.0, 0.0) == 0.0  # 0.5 m of water
    assert speed(0.0, 530.0) == 2.0  # 70 m from the shore
    assert speed(300.0, 0.0) == 10.0
    assert speed(0.0, 20.0) == 2.0  # in the zone


def test_low_water_takes_water_away_and_too_little_is_said() -> None:
    high = water_grid(bowl(), BOAT, 1.0).speed_m_s > 0.0
    low = water_grid(bowl(), BOAT, -2.0).speed_m_s > 0.0
    assert high.sum() > low.sum()
    with pytest.raises(PlanError, match="deep enough"):
        water_grid(bowl(), BOAT, -20.0)
    with pytest.raises(PlanError):
        BoatSpeeds(2.0, 5.0)


def test_straight_legs_keep_to_water_and_are_no_longer() -> None:
    rng = np.random.default_rng(3)
    model = bowl()
    for _ in range(12):
        depth = model.depth_m.copy()
        x, y = rng.uniform(-300.0, 300.0, 2)
        r = np.hypot(model.lattice.x_m[None, :] - x, model.lattice.y_m[:, None] - y)
        depth[r < 150.0] = np.nan  # an island
        island = BottomModel("Island", model.lattice, depth, model.se_m)
        grid = water_grid(island, BOAT, 0.0)
        table = travel_table(grid, [(-480.0, 0.0), (480.0, 30.0)])
        way = table.way(0, 1)
        short = straightened(grid, way)
        assert len(short) <= len(way)
        assert np.all(short[[0, -1]] == way[[0, -1]])

        def length(p: np.ndarray) -> float:
            return float(np.sum(np.hypot(*np.diff(p, axis=0).T)))

        assert length(short) <= length(way) + 1e-6
        for a, b in itertools.pairwise(short):
            t = np.linspace(0.0, 1.0, 200)[:, None]
            p = a + t * (b - a)
            assert np.all(np.hypot(p[:, 0] - x, p[:, 1] - y) > 150.0 - grid.cell_m)
