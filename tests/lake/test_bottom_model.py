"""Sampling and areas against closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice

LATTICE = Lattice(MetricFrame(-93.0, 45.0), -100.0, -50.0, 5.0, 41, 21)


def plane() -> BottomModel:
    x, y = np.meshgrid(LATTICE.x_m, LATTICE.y_m)
    depth = (6.0 + 0.02 * x - 0.03 * y).astype("float32")
    return BottomModel("plane", LATTICE, depth, np.full(depth.shape, 0.3, "float32"))


def test_bilinear_is_exact_on_a_plane() -> None:
    rng = np.random.default_rng(2)
    x, y = rng.uniform(-100, 100, 40_000), rng.uniform(-50, 50, 40_000)
    depth, se = plane().sample(x, y, level_m=0.25)
    assert depth == pytest.approx(6.25 + 0.02 * x - 0.03 * y, abs=1e-5)
    assert se == pytest.approx(np.full(x.size, 0.3), abs=1e-6)


def test_off_the_lattice_is_unknown() -> None:
    depth, se = plane().sample(np.array([0.0, 500.0, -500.0, np.nan]), np.zeros(4))
    assert np.isfinite(depth[0])
    assert np.all(np.isnan(depth[1:]))
    assert np.all(np.isnan(se[1:]))


def test_unknown_cells_count_by_their_share() -> None:
    model = plane()
    depth = model.depth_m.copy()
    depth[:, 21:] = np.nan
    edge = BottomModel("edge", LATTICE, depth, model.se_m)
    # Cell 20 is at x = 0, cell 21 (unknown) at 5: up to 2.5 the known half decides.
    found, _ = edge.sample(np.array([0.0, 2.0, 3.0]), np.zeros(3))
    assert found[:2] == pytest.approx([6.0, 6.0], abs=0.01)
    assert np.isnan(found[2])


def test_lonlat_is_the_same_place() -> None:
    model = plane()
    lon, lat = LATTICE.frame.to_lonlat(np.array([12.0]), np.array([-7.0]))
    assert model.sample_lonlat(lon, lat)[0] == pytest.approx(
        model.sample(np.array([12.0]), np.array([-7.0]))[0]
    )


def test_area_of_a_plane() -> None:
    """Depth 6 + 0.02 x - 0.03 y over 205 x 105 m: half of it is deeper than 6 m by symmetry."""
    model = plane()
    assert model.area_deeper_m2(6.0) == pytest.approx(0.5 * 205.0 * 105.0, rel=0.03)
    assert model.area_deeper_m2(6.0, level_m=100.0) == pytest.approx(205.0 * 105.0)
    assert model.area_deeper_m2(99.0) == 0.0


def test_shapes_have_to_fit() -> None:
    with pytest.raises(LakeDataError):
        BottomModel("x", LATTICE, np.zeros((2, 2), "float32"), np.zeros((2, 2), "float32"))
    nothing = np.full(LATTICE.shape, np.nan, "float32")
    with pytest.raises(LakeDataError, match="no cell"):
        BottomModel("x", LATTICE, nothing, nothing)
