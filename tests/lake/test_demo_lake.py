"""The invented lake: what comes with the package is what the generator makes."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from leadsman.lake.demo_lake import (
    EDGE_NAME,
    FRAME,
    GRASS_EDGE_M,
    LOG_NAME,
    contour_radius_m,
    data_folder,
    shore_radius_m,
    true_depth_m,
    write_demo_files,
)
from leadsman.lake.load_soundings import load_soundings


def test_committed_files_are_the_generators(tmp_path: Path) -> None:
    for made in write_demo_files(tmp_path):
        assert made.read_bytes() == (data_folder() / made.name).read_bytes()


def test_files_are_small() -> None:
    assert sum((data_folder() / name).stat().st_size for name in (LOG_NAME, EDGE_NAME)) < 400_000


def test_lake_is_as_told() -> None:
    angle = np.linspace(0.0, 2.0 * np.pi, 721)
    area_ha = float(np.trapezoid(0.5 * shore_radius_m(angle) ** 2, angle)) / 1e4
    assert 140.0 < area_ha < 160.0
    radius = contour_radius_m(angle[:-1], GRASS_EDGE_M)
    depth = true_depth_m(radius * np.cos(angle[:-1]), radius * np.sin(angle[:-1]))
    assert depth == pytest.approx(np.full(depth.size, GRASS_EDGE_M), abs=0.1)


def test_edge_points_lie_on_the_edge() -> None:
    points, _ = load_soundings(data_folder() / EDGE_NAME)
    assert len(points) == 28
    assert np.mean(points.depth_m) == pytest.approx(GRASS_EDGE_M, abs=0.15)
    assert true_depth_m(*FRAME.to_metric(points.lon_deg, points.lat_deg)) == pytest.approx(
        points.depth_m, abs=1.0
    )
