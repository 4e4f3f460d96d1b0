"""What leaves the program: GPX 1.1 by its schema, GeoJSON by RFC 7946, GeoTIFF read back."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest
from gpx_schema import GPX, SCHEMA

from leadsman.dimensions import FOOT_M
from leadsman.errors import InputError
from leadsman.lake.frame import MetricFrame
from leadsman.usecases.lake_edge import EdgeQuestion, find_edge
from leadsman.usecases.lake_export import export_edge, export_lake
from leadsman.usecases.lake_store import open_lake
from leadsman.usecases.lake_survey import SurveyQuestion, find_survey, write_survey

from .conftest import DEEPEST_M, RADIUS_M, add, write_cone


@pytest.fixture(scope="module")
def schema():
    xmlschema = pytest.importorskip("xmlschema")
    return xmlschema.XMLSchema(SCHEMA)


def _write_all(lakes: Path, folder: Path, name: str = "Cone") -> list[Path]:
    """Every kind of GPX that the program writes of a lake."""
    edge = EdgeQuestion(name, lakes, depth_m=5.0)
    export_lake(name, folder / "contours.gpx", lakes)
    export_edge(find_edge(edge), folder / "edge.gpx")
    write_survey(find_survey(SurveyQuestion(edge, 7200.0)), folder / "tracks.gpx")
    return sorted(folder.glob("*.gpx"))


def test_every_gpx_keeps_to_the_schema(schema, cone_lakes: Path, tmp_path: Path) -> None:
    files = _write_all(cone_lakes, tmp_path)
    assert len(files) == 3
    for path in files:
        schema.validate(str(path))


def test_also_across_the_antimeridian(schema, tmp_path: Path) -> None:
    cone = write_cone(tmp_path / "cone.csv", MetricFrame(180.0, 52.0))
    add("Dateline", tmp_path / "lakes", cone)
    for path in _write_all(tmp_path / "lakes", tmp_path, "Dateline"):
        schema.validate(str(path))
    path = tmp_path / "edge.geojson"
    export_edge(find_edge(EdgeQuestion("Dateline", tmp_path / "lakes", depth_m=5.0)), path)
    for feature in json.loads(path.read_text())["features"]:
        parts = feature["geometry"]["coordinates"]
        parts = [parts] if feature["geometry"]["type"] == "LineString" else parts
        for part in parts:
            longitudes = [lon for lon, _ in part]
            assert max(longitudes) - min(longitudes) < 180.0  # RFC 7946, 3.1.9


def test_the_check_can_fail(schema) -> None:
    bad = f'<gpx version="1.1" creator="x" xmlns="{GPX}"><wpt lat="1" lon="180"/></gpx>'
    assert not schema.is_valid(bad)
    order = (
        f'<gpx version="1.1" creator="x" xmlns="{GPX}">'
        '<wpt lat="1" lon="2"><desc>a</desc><name>b</name></wpt></gpx>'
    )
    assert not schema.is_valid(order)


def test_depth_is_never_an_elevation(cone_lakes: Path, tmp_path: Path) -> None:
    for path in _write_all(cone_lakes, tmp_path):
        assert "<ele" not in path.read_text()
    edge = (tmp_path / "edge.gpx").read_text()
    assert "Depth 5.0 m (16 ft)" in edge
    assert "Not for navigation" in edge


def test_contours_are_the_circles_of_the_cone(cone_lakes: Path, tmp_path: Path) -> None:
    path = tmp_path / "c.geojson"
    export_lake("Cone", path, cone_lakes, interval_m=2.0)
    document = json.loads(path.read_text())
    assert "crs" not in document  # RFC 7946, 4
    frame = MetricFrame(-91.0, 46.0)
    depths = set()
    for feature in document["features"]:
        depth = feature["properties"]["depth_m"]
        depths.add(depth)
        lon, lat = np.array(feature["geometry"]["coordinates"]).T
        radius = np.hypot(*frame.to_metric(lon, lat))
        assert np.median(radius) == pytest.approx(RADIUS_M * (1.0 - depth / DEEPEST_M), abs=4.0)
        assert feature["properties"]["depth_se_m"] > 0.0
    assert depths == {2.0, 4.0, 6.0, 8.0, 10.0}


def test_steps_are_feet_for_readers_of_feet(cone_lakes: Path, tmp_path: Path) -> None:
    path = tmp_path / "c.geojson"
    export_lake("Cone", path, cone_lakes)
    depths = {f["properties"]["depth_m"] for f in json.loads(path.read_text())["features"]}
    assert depths == {round(n * 5.0 * FOOT_M, 3) for n in range(1, 8)}


def test_grid_is_read_back_by_the_raster_library(cone_lakes: Path, tmp_path: Path) -> None:
    import rasterio

    path = tmp_path / "grid.tif"
    export_lake("Cone", path, cone_lakes, level_m=0.5)
    model = open_lake("Cone", cone_lakes).model
    with rasterio.open(path) as grid:
        depth = grid.read(1, masked=True)
        assert grid.count == 2
        assert float(depth.max()) == pytest.approx(float(np.nanmax(model.depth_m)) + 0.5, abs=1e-3)
        area = float(depth.count()) * abs(grid.transform.a * grid.transform.e)
    assert area == pytest.approx(math.pi * RADIUS_M**2, rel=0.02)


@pytest.mark.parametrize(
    ("name", "more", "said"),
    [
        ("x.kmz", {}, "which we do not write"),
        ("x", {}, "which we do not write"),
        ("none/x.gpx", {}, "folder is not there"),
        ("x.gpx", {"interval_m": 0.01}, "too fine"),
        ("x.gpx", {"interval_m": 50.0}, "no deeper"),
    ],
)
def test_what_cannot_be_written_is_told(
    cone_lakes: Path, tmp_path: Path, name: str, more: dict, said: str
) -> None:
    with pytest.raises(InputError, match=said):
        export_lake("Cone", tmp_path / name, cone_lakes, **more)
    assert list(tmp_path.iterdir()) == []


def test_an_edge_is_no_grid(cone_lakes: Path, tmp_path: Path) -> None:
    found = find_edge(EdgeQuestion("Cone", cone_lakes, depth_m=5.0))
    with pytest.raises(InputError, match="no grid"):
        export_edge(found, tmp_path / "x.tif")
