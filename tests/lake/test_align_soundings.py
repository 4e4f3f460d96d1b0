"""Days of different level and unit, made up so that the answer is known."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.align_soundings import align_soundings
from leadsman.lake.demo_lake import FRAME, true_depth_m
from leadsman.lake.soundings import Soundings


def day(
    x: np.ndarray, y: np.ndarray, name: str, offset_m: float = 0.0, factor: float = 1.0
) -> Soundings:
    lon, lat = FRAME.to_lonlat(x, y)
    rng = np.random.default_rng(len(name))
    depth = (true_depth_m(x, y) + rng.normal(0.0, 0.05, x.size) + offset_m) * factor
    return Soundings(lon, lat, np.maximum(depth, 0.0), None, name)


ALONG = np.arange(-800.0, 800.0, 3.0)
FIRST = day(ALONG, np.full(ALONG.size, -150.0), "first")


def crossing(name: str, **how: float) -> Soundings:
    y = np.tile(np.arange(-250.0, 250.0, 3.0), 6)
    x = np.repeat(np.arange(-600.0, 601.0, 240.0), y.size // 6)
    return day(x, y, name, **how)


@pytest.mark.parametrize("offset", [-0.8, 0.4])
def test_a_level_between_days_is_found_and_taken_off(offset: float) -> None:
    second = crossing("second", offset_m=offset)
    found = align_soundings([FIRST, second])
    # The larger set is the base, so the offset lands on the other.
    moved = [o for o in found.offsets_m if o]
    assert len(moved) == 1
    assert abs(moved[0]) == pytest.approx(abs(offset), abs=0.12)
    assert "crossings" in found.said[0]
    assert not found.warnings
    assert all(
        np.array_equal(a.lon_deg, b.lon_deg)
        for a, b in zip(found.soundings, (FIRST, second), strict=True)
    )


def test_days_that_agree_are_left_alone() -> None:
    found = align_soundings([FIRST, crossing("second")])
    assert found.offsets_m == (0.0, 0.0)
    assert not found.said


@pytest.mark.parametrize(("factor", "unit"), [(1.0 / 0.3048, "feet"), (0.3048, "metres")])
def test_feet_among_metres_are_flagged_and_not_moved(factor: float, unit: str) -> None:
    base = crossing("base")
    other = day(ALONG, np.full(ALONG.size, -150.0), "other", factor=factor)
    found = align_soundings([base, other])
    assert found.offsets_m == (0.0, 0.0)
    assert unit in found.warnings[0]


def test_absurd_differences_are_flagged() -> None:
    found = align_soundings(
        [crossing("base"), day(ALONG, np.full(ALONG.size, -150.0), "o", offset_m=6.0)]
    )
    assert "check its unit" in found.warnings[0]
    assert found.offsets_m == (0.0, 0.0)


def test_days_that_never_meet_and_none() -> None:
    far = day(ALONG, np.full(ALONG.size, 350.0), "far", offset_m=1.0)
    assert align_soundings([FIRST, far]).offsets_m == (0.0, 0.0)
    with pytest.raises(LakeDataError):
        align_soundings([])
