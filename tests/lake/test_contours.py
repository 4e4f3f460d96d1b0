"""Rings to regions."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from leadsman.errors import LakeDataError
from leadsman.lake.contours import build_regions
from leadsman.lake.frame import MetricFrame

FRAME = MetricFrame(-93.0, 45.0)


def box(half: float, x: float = 0.0) -> shapely.Polygon:
    return shapely.box(x - half, -half, x + half, half)


def test_four_generations_alternate() -> None:
    """Squares of half-width 40, 30, 20, 10 at one level: 80^2 - 60^2 + 40^2 - 20^2."""
    regions = build_regions(FRAME, [box(h) for h in (10, 30, 40, 20)], np.full(4, 2.0), "x")
    assert regions.area_m2(0) == pytest.approx(6400 - 3600 + 1600 - 400)


def test_crossing_rings_of_one_level_are_united() -> None:
    regions = build_regions(FRAME, [box(10), box(10, 15.0)], np.zeros(2), "x")
    assert regions.area_m2(0) == pytest.approx(35.0 * 20.0)


def test_deeper_ground_outside_is_cut() -> None:
    regions = build_regions(FRAME, [box(10), box(5, 8.0)], np.array([0.0, 3.0]), "x")
    assert regions.area_m2(1) == pytest.approx(7.0 * 10.0)
    assert any("cut" in text for text in regions.mended)


def test_nothing() -> None:
    with pytest.raises(LakeDataError, match="no closed contours"):
        build_regions(FRAME, [], np.zeros(0), "x")


def test_a_tower_of_rings_is_refused_in_little_time() -> None:
    # Each holds 97 % of the area of the one before, so that none passes for a repeat.
    rings = [box(500.0 * 0.985**i) for i in range(300)]
    with pytest.raises(LakeDataError, match="pairs of rings"):
        build_regions(FRAME, rings, np.zeros(300), "tower")
