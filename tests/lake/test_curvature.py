"""Curvature of circles and straight lines."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.curvature import curvature
from leadsman.lake.edge import edge_lines
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice

LATTICE = Lattice(MetricFrame(-93.0, 45.0), -500.0, -500.0, 5.0, 201, 201)


def on(depth: np.ndarray) -> BottomModel:
    return BottomModel(
        "made up", LATTICE, depth.astype("float32"), np.full(depth.shape, 0.3, "float32")
    )


def places() -> tuple[np.ndarray, np.ndarray]:
    return np.meshgrid(LATTICE.x_m, LATTICE.y_m)


@pytest.mark.parametrize("radius", [120.0, 250.0])
@pytest.mark.parametrize("deep_inside", [True, False])
def test_curvature_of_a_circle_is_one_over_its_radius(radius: float, deep_inside: bool) -> None:
    """A basin is one long inside turn, a hump one long point; curvature 1 / R."""
    x, y = places()
    r = np.hypot(x, y)
    depth = 8.0 + 0.02 * (radius - r) if deep_inside else 8.0 + 0.02 * (r - radius)
    line = edge_lines(on(depth), 8.0)[0]
    found = curvature(line, 60.0)
    sign = -1.0 if deep_inside else 1.0
    assert found == pytest.approx(np.full(found.size, sign / radius), rel=0.08)


@pytest.mark.parametrize("angle", [0.0, 0.7, 2.0])
def test_a_straight_line_does_not_bend_not_even_at_its_ends(angle: float) -> None:
    x, y = places()
    line = edge_lines(on(5.0 + 0.02 * (np.cos(angle) * x + np.sin(angle) * y)), 5.0)[0]
    assert not line.closed
    assert np.max(np.abs(curvature(line, 60.0))) < 1.0 / 800.0, "bends have radii up to 120 m"
