"""Coverage against distances worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.coverage import coverage_of
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.lake.soundings import Soundings

LATTICE = Lattice(MetricFrame(-93.0, 45.0), -100.0, -100.0, 5.0, 41, 41)


def level() -> BottomModel:
    depth = np.full(LATTICE.shape, 4.0, "float32")
    depth[:, :2] = np.nan
    return BottomModel("level", LATTICE, depth, np.full(LATTICE.shape, 0.3, "float32"))


def test_distance_to_one_sounding() -> None:
    lon, lat = LATTICE.frame.to_lonlat(np.array([0.0]), np.array([0.0]))
    found = coverage_of(level(), [Soundings(lon, lat, np.array([4.0]))])
    x, y = np.meshgrid(LATTICE.x_m, LATTICE.y_m)
    known = np.isfinite(found.distance_m)
    assert found.distance_m[known] == pytest.approx(np.hypot(x, y)[known], abs=0.01)
    assert not np.any(known[:, :2])
    assert found.share_within(50.0) == pytest.approx(
        np.mean(np.hypot(x, y)[known] <= 50.0), abs=1e-9
    )
    assert "% within 25 m" in found.summary()


def test_no_soundings_cover_nothing() -> None:
    assert coverage_of(level(), []).share_within(1e6) == 0.0
