"""Casts on a map against an inclined plane."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.cast_on_model import profile_from_model
from leadsman.lake.frame import MetricFrame
from leadsman.lake.grass_edge import edge_from_points
from leadsman.lake.grass_map import prior_grass
from leadsman.lake.lattice import Lattice

LATTICE = Lattice(MetricFrame(-93.0, 45.0), -300.0, -300.0, 5.0, 121, 121)


def plane() -> BottomModel:
    _, y = np.meshgrid(LATTICE.x_m, LATTICE.y_m)
    depth = (4.0 + 0.02 * y).astype("float32")
    depth[:30] = np.nan
    return BottomModel("plane", LATTICE, depth, np.full(depth.shape, 0.35, "float32"))


@pytest.mark.parametrize(
    ("heading", "slope"), [(0.0, 0.02), (90.0, 0.0), (180.0, -0.02), (-90.0, 0.0)]
)
def test_depth_and_error_along_a_cast(heading: float, slope: float) -> None:
    cast = profile_from_model(plane(), 45.0, -93.0, heading, 60.0, level_m=0.2)
    assert cast.bottom.depth_m == pytest.approx(4.2 + slope * cast.bottom.x_m, abs=0.005)
    assert cast.bottom.depth_se_m == pytest.approx(np.full(cast.bottom.x_m.size, 0.35), abs=1e-5)


def test_grass_comes_along() -> None:
    model = plane()
    grass = prior_grass(model, edge_from_points(np.full(8, 5.0)))
    cast = profile_from_model(model, 45.0, -93.0, 0.0, 60.0, grass=grass)
    assert cast.bottom.grass is not None
    assert cast.bottom.grass.density[0] > 0.0


def test_casts_off_the_map_are_refused() -> None:
    with pytest.raises(LakeDataError, match=r"leaves the water 1[45]\d m out"):
        profile_from_model(plane(), 45.0, -93.0, 180.0, 180.0)
    with pytest.raises(LakeDataError, match="starts off"):
        profile_from_model(plane(), 46.0, -93.0, 180.0, 60.0)
    with pytest.raises(LakeDataError, match="starts off"):
        profile_from_model(plane(), 45.0, -93.0, 0.0, 60.0, level_m=-20.0)
