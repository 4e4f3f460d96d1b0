"""From a bottom model to a map, on a cone whose contours are circles."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.output.map_picture import MapView, draw_map
from leadsman.output.map_view_of import depth_edge_of, depth_grid_of
from leadsman.output.picture import picture_bytes

RADIUS_M, DEEP_M, CELL_M = 480.0, 10.0, 5.0


def cone(se_m: float = 0.2) -> BottomModel:
    lattice = Lattice(MetricFrame(-80.0, 45.0), -500.0, -500.0, CELL_M, 201, 201)
    axis = -500.0 + CELL_M * np.arange(201)
    x, y = np.meshgrid(axis, axis)
    depth = DEEP_M * (1.0 - np.hypot(x, y) / RADIUS_M)
    depth[depth < 0.0] = np.nan
    se = np.where(np.isfinite(depth), se_m, np.nan)
    return BottomModel("Cone Lake", lattice, depth.astype(np.float32), se.astype(np.float32))


def radius_of(depth_m: float) -> float:
    """Closed form of the cone."""
    return RADIUS_M * (1.0 - depth_m / DEEP_M)


def test_grid_lies_where_the_model_does() -> None:
    grid = depth_grid_of(cone())
    row, column = np.unravel_index(np.nanargmax(grid.depth_m), grid.depth_m.shape)
    assert (grid.x_m[column], grid.y_m[row]) == (0.0, 0.0)
    assert np.nanmax(grid.depth_m) == pytest.approx(DEEP_M)


def test_more_water_is_deeper_and_less_bares_the_shallows() -> None:
    model = cone()
    high, low = depth_grid_of(model, 0.5), depth_grid_of(model, -1.0)
    assert np.nanmax(high.depth_m) == pytest.approx(DEEP_M + 0.5)
    assert np.isfinite(low.depth_m).sum() < np.isfinite(depth_grid_of(model).depth_m).sum()
    assert np.nanmin(low.depth_m) >= 0.0


@pytest.mark.parametrize("level_m", [0.0, 1.0])
def test_edge_is_the_circle_of_its_depth(level_m: float) -> None:
    edge = depth_edge_of(cone(), 4.0, "edge", level_m=level_m)
    assert len(edge.lines) == 1
    radius = np.hypot(edge.lines[0].x_m, edge.lines[0].y_m)
    assert radius == pytest.approx(radius_of(4.0 - level_m), abs=1.0)


def test_band_is_the_ring_within_the_errors_in_quadrature() -> None:
    # sqrt(0.3^2 + 0.4^2) = 0.5 m; a central 90 % band is 1.645 of it on each side.
    edge = depth_edge_of(cone(0.3), 4.0, "edge", depth_se_m=0.4)
    radii = sorted(float(np.mean(np.hypot(ring.x_m, ring.y_m))) for ring in edge.band)
    half = 1.6449 * 0.5
    assert radii == pytest.approx([radius_of(4.0 + half), radius_of(4.0 - half)], abs=1.5)


def test_a_depth_that_is_not_there_has_no_edge() -> None:
    edge = depth_edge_of(cone(), 30.0, "edge")
    assert edge.lines == ()
    assert edge.band == ()
    view = MapView("No edge at 98 ft", depth_grid_of(cone()), (edge,))
    assert picture_bytes(draw_map(view), "png")


def test_no_water_left_is_refused() -> None:
    with pytest.raises(ValueError, match="no depth"):
        depth_grid_of(cone(), -11.0)
