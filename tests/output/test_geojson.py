"""GeoJSON against the rules of RFC 7946, read back by a general library."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pyogrio
import pytest
import shapely

from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.edge import edge_lines
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.lake.structure import rank_stretches
from leadsman.output.geojson import (
    cut_at_antimeridian,
    edge_features,
    geojson_text,
    line_feature,
    point_feature,
    polygon_feature,
    stretch_features,
    write_geojson,
)


def bowl() -> BottomModel:
    lattice = Lattice(MetricFrame(-93.0, 45.0), -400.0, -400.0, 5.0, 161, 161)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    depth = (9.0 - 0.02 * np.hypot(x, y)).astype("float32")
    return BottomModel("bowl", lattice, depth, np.full(depth.shape, 0.3, "float32"))


def test_edges_and_stretches_are_read_by_a_general_library(tmp_path: Path) -> None:
    model = bowl()
    lines = edge_lines(model, 4.0)
    stretches = rank_stretches(model, lines)
    path = tmp_path / "edge.geojson"
    write_geojson(path, [*edge_features(lines), *stretch_features(stretches, lines)])
    assert "crs" not in json.loads(path.read_text())
    meta, _, wkb, columns = pyogrio.raw.read(path)
    assert "4326" in meta["crs"]
    shapes = shapely.from_wkb(wkb)
    at = dict(zip(meta["fields"], columns, strict=True))
    assert at["depth_m"][0] == 4.0
    # The 4 m line of depth 9 - 0.02 r is a circle of radius 250 m.
    lon, lat = shapely.get_coordinates(shapes[0]).T
    x, y = MetricFrame(-93.0, 45.0).to_metric(lon, lat)
    assert np.hypot(x, y) == pytest.approx(np.full(x.size, 250.0), abs=1.5)
    assert len(shapes) == len(lines) + len(stretches)


def test_rings_follow_the_right_hand_rule() -> None:
    """RFC 7946, 3.1.6: outer rings counter-clockwise, holes clockwise, all closed."""
    lon, lat = np.array([0.0, 0.0, 1.0, 1.0]), np.array([0.0, 1.0, 1.0, 0.0])
    inner = (np.array([0.2, 0.8, 0.8, 0.2]), np.array([0.2, 0.2, 0.8, 0.8]))
    data = json.loads(geojson_text([polygon_feature([(lon, lat), inner], depth_m=3.0)]))
    shape = shapely.from_geojson(json.dumps(data["features"][0]["geometry"]))
    assert shape.exterior.is_ccw
    assert not shape.interiors[0].is_ccw
    assert shape.area == pytest.approx(1.0 - 0.36)
    rings = data["features"][0]["geometry"]["coordinates"]
    assert all(ring[0] == ring[-1] for ring in rings)


def test_lines_are_cut_at_the_antimeridian() -> None:
    """RFC 7946, 3.1.9."""
    lon, lat = np.array([179.0, -179.0, -178.0]), np.array([10.0, 12.0, 12.0])
    parts = cut_at_antimeridian(lon, lat)
    assert [list(p[0]) for p in parts] == [[179.0, 180.0], [-180.0, -179.0, -178.0]]
    assert parts[0][1][-1] == parts[1][1][0] == pytest.approx(11.0)
    back = cut_at_antimeridian(lon[::-1], lat[::-1])
    assert [list(p[0]) for p in back] == [[-178.0, -179.0, -180.0], [180.0, 179.0]]
    geometry = json.loads(geojson_text([line_feature(lon, lat)]))["features"][0]["geometry"]
    assert geometry["type"] == "MultiLineString"


def test_no_nan_reaches_json() -> None:
    text = geojson_text([point_feature(1.0, 2.0, depth_m=float("nan"), far_m=float("inf"), a="é")])
    properties = json.loads(text)["features"][0]["properties"]
    assert properties == {"depth_m": None, "far_m": None, "a": "é"}


@pytest.mark.parametrize(("lon", "lat"), [(181.0, 0.0), (0.0, float("nan")), (0.0, 91.0)])
def test_positions_off_the_earth_are_a_fault(lon: float, lat: float) -> None:
    with pytest.raises(ValueError, match="not on Earth"):
        geojson_text([point_feature(lon, lat)])
