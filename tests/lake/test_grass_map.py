"""Grass as a layer: priors by their law, patches by their outline."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.grass_edge import edge_from_points
from leadsman.lake.grass_map import GrassPatch, prior_grass, read_patches
from leadsman.lake.lattice import Lattice

FRAME = MetricFrame(-93.0, 45.0)
LATTICE = Lattice(FRAME, -200.0, -200.0, 4.0, 101, 101)


def slope() -> BottomModel:
    x, _ = np.meshgrid(LATTICE.x_m, LATTICE.y_m)
    depth = (4.0 + 0.015 * x).astype("float32")
    return BottomModel("slope", LATTICE, depth, np.full(depth.shape, 0.3, "float32"))


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[np.ndarray, np.ndarray]:
    return FRAME.to_lonlat(np.array([x0, x1, x1, x0]), np.array([y0, y0, y1, y1]))


def test_prior_stops_at_the_edge_and_is_labelled_a_guess() -> None:
    model = slope()
    edge = edge_from_points(np.full(12, 4.0))
    grass = prior_grass(model, edge)
    assert not np.any(grass.seen)
    assert "nobody has looked" in grass.said[0]
    deep = model.depth_m > edge.high_m + 0.8
    assert not np.any(grass.density[deep] > 0.0)
    shallow = model.depth_m < 2.0
    assert np.all(grass.density[shallow] > 0.3)
    assert np.all(grass.top_depth_m[shallow] < model.depth_m[shallow])
    # Sparser toward the edge.
    row = grass.density[50]
    assert np.all(np.diff(row[model.depth_m[50] > 2.2]) <= 1e-6)


def test_patches_lie_where_they_were_drawn() -> None:
    patch = GrassPatch(*box(-100.0, -50.0, 20.0, 50.0), 0.0, 0.9)
    bare = GrassPatch(*box(-40.0, -10.0, 0.0, 10.0), 0.0, 0.0)
    grass = prior_grass(slope(), edge_from_points(np.full(12, 4.0))).with_patches([patch, bare])
    # 120 x 100 m drawn; the bare ground inside it was looked at as well.
    assert np.count_nonzero(grass.seen) * 16.0 == pytest.approx(12_000.0, rel=0.05)
    assert np.count_nonzero(grass.density == np.float32(0.9)) * 16.0 == pytest.approx(
        11_200.0, rel=0.05
    )
    x = np.linspace(0.0, 60.0, 31)
    layer = grass.along(x, *FRAME.to_lonlat(x - 80.0, np.full(31, 30.0)), level_m=0.3)
    assert layer is not None
    assert np.all(layer.density == np.float32(0.9))
    assert layer.top_depth_m == pytest.approx(np.full(31, 0.3))
    assert grass.along(x, *FRAME.to_lonlat(x + 140.0, np.zeros(31))) is None
    assert grass.along(x, *FRAME.to_lonlat(x + 9000.0, np.zeros(31))) is None


def test_a_mark_speaks_for_a_small_circle() -> None:
    lon, lat = FRAME.to_lonlat(150.0, 0.0)
    mark = GrassPatch(np.array([float(lon)]), np.array([float(lat)]), 1.0, 0.8, "marked")
    grass = prior_grass(slope(), edge_from_points(np.full(12, 4.0))).with_patches([mark])
    assert np.count_nonzero(grass.seen) * 16.0 == pytest.approx(np.pi * 64.0, rel=0.25)


def write(folder: Path, properties: dict, kind: str = "Polygon") -> Path:
    lon, lat = box(0.0, 0.0, 50.0, 50.0)
    ring = [[float(a), float(b)] for a, b in zip(lon, lat, strict=True)]
    at = [[*ring, ring[0]]] if kind == "Polygon" else ring[0]
    feature = {
        "type": "Feature",
        "properties": properties,
        "geometry": {"type": kind, "coordinates": at},
    }
    path = folder / "grass.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))
    return path


@pytest.mark.parametrize(
    ("properties", "top_m", "density"),
    [
        ({"top_depth_m": 1.0, "density": 0.7}, 1.0, 0.7),
        ({"top_depth_ft": 2.0, "density": "70%"}, 0.6096, 0.7),
        ({"top_depth": 0, "density": "matted"}, 0.0, 1.0),
    ],
)
def test_patches_are_imported(tmp_path: Path, properties, top_m: float, density: float) -> None:
    for kind in ("Polygon", "Point"):
        patch = read_patches(write(tmp_path, properties, kind))[0]
        assert patch.top_depth_m == pytest.approx(top_m)
        assert patch.density == pytest.approx(density)
        assert patch.origin == "imported"


@pytest.mark.parametrize(
    "properties",
    [{"x": 1}, {"top_depth_m": 1.0, "density": "lots"}, {"top_depth_m": 1.0, "density": 900},
     {"top_depth_m": 99.0, "density": 0.5}],
)  # fmt: skip
def test_patches_of_no_use(tmp_path: Path, properties) -> None:
    with pytest.raises(LakeDataError):
        read_patches(write(tmp_path, properties))


def test_patch_bounds() -> None:
    lon, lat = box(0.0, 0.0, 50.0, 50.0)
    for top, density, n in ((-1.0, 0.5, 4), (1.0, 1.5, 4), (1.0, 0.5, 2), (1.0, 0.5, 0)):
        with pytest.raises(LakeDataError):
            GrassPatch(lon[:n], lat[:n], top, density)
