"""Lines of depth on bottoms with known contours."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.edge import EdgeLine, edge_lines
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice

LATTICE = Lattice(MetricFrame(-93.0, 45.0), -500.0, -500.0, 5.0, 201, 201)


def on(depth: np.ndarray, se_m: float = 0.3) -> BottomModel:
    return BottomModel(
        "made up", LATTICE, depth.astype("float32"), np.full(depth.shape, se_m, "float32")
    )


def places() -> tuple[np.ndarray, np.ndarray]:
    return np.meshgrid(LATTICE.x_m, LATTICE.y_m)


def cone() -> BottomModel:
    x, y = places()
    return on(10.0 - 0.02 * np.hypot(x, y))


def test_contour_of_a_cone_is_a_circle() -> None:
    """Depth 10 - 0.02 r is 5 m on a circle of radius 250 m."""
    lines = edge_lines(cone(), 5.0)
    assert len(lines) == 1
    line = lines[0]
    assert line.closed
    radius = np.hypot(line.x_m, line.y_m)
    assert radius == pytest.approx(np.full(radius.size, 250.0), abs=1.0)
    assert line.length_m == pytest.approx(2.0 * np.pi * 250.0, rel=0.005)
    assert line.slope == pytest.approx(np.full(radius.size, 0.02), rel=0.03)
    # Deep water is toward the centre.
    inward = -(line.to_deep_x * line.x_m + line.to_deep_y * line.y_m) / radius
    assert np.all(inward > 0.98)
    # Depth error over slope: 0.3 / 0.02 = 15 m.
    assert line.position_se_m == pytest.approx(np.full(radius.size, 15.0), rel=0.05)
    x, y = line.side(1.0)
    assert np.hypot(x, y) == pytest.approx(np.full(radius.size, 235.0), abs=2.0)


def test_level_moves_the_line_and_its_depth_error_adds() -> None:
    line = edge_lines(cone(), 5.0, depth_se_m=0.4, level_m=1.0)[0]
    # With 1 m more water 5 m of depth lies where 4 m was: radius 300 m.
    assert np.hypot(line.x_m, line.y_m) == pytest.approx(np.full(line.x_m.size, 300.0), abs=1.0)
    assert line.depth_se_m == pytest.approx(np.full(line.x_m.size, 0.5), rel=0.01)


def test_on_a_flat_the_place_is_hardly_known() -> None:
    x, _ = places()
    line = edge_lines(on(5.0 + 1e-5 * x), 5.0)[0]
    assert np.all(line.position_se_m == 200.0)


def test_lines_are_even_and_in_order() -> None:
    x, y = places()
    lines = edge_lines(on(5.0 + 3.0 * np.sin(x / 80.0) * np.cos(y / 90.0)), 5.5)
    assert len(lines) > 2
    assert [line.length_m for line in lines] == sorted(
        (line.length_m for line in lines), reverse=True
    )
    for line in lines:
        assert isinstance(line, EdgeLine)
        assert np.ptp(np.hypot(np.diff(line.x_m), np.diff(line.y_m))) < 1.5


@pytest.mark.parametrize("depth", [0.0, -3.0, 99.0, float("nan"), 1e9])
def test_no_such_depth(depth: float) -> None:
    with pytest.raises(LakeDataError):
        edge_lines(cone(), depth)


def test_holes_in_the_map_cut_lines() -> None:
    model = cone()
    depth = model.depth_m.copy()
    depth[:, 100:106] = np.nan
    lines = edge_lines(on(depth), 5.0)
    assert len(lines) == 2
    assert not any(line.closed for line in lines)
