"""Contours and depth bands as people have them."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest
import shapely
from pyproj import Geod

from leadsman.errors import LakeDataError
from leadsman.lake.frame import MetricFrame
from leadsman.lake.read_contours import ContourOptions, read_contours

FRAME = MetricFrame(-93.0, 45.0)


def disc(radius_m: float, x: float = 0.0, y: float = 0.0, n: int = 180) -> list[list[float]]:
    angle = np.linspace(0.0, 2.0 * math.pi, n + 1)
    lon, lat = FRAME.to_lonlat(x + radius_m * np.cos(angle), y + radius_m * np.sin(angle))
    ring = np.stack([lon, lat], axis=1)
    ring[-1] = ring[0]
    return ring.tolist()


def write(folder: Path, shapes: list[tuple[dict, str, list]]) -> Path:
    features = [
        {"type": "Feature", "properties": props, "geometry": {"type": kind, "coordinates": at}}
        for props, kind, at in shapes
    ]
    path = folder / "lake.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    return path


def disc_area(radius_m: float, n: int = 180) -> float:
    """Area of a regular polygon in a circle."""
    return 0.5 * n * radius_m**2 * math.sin(2.0 * math.pi / n)


@pytest.mark.parametrize(
    ("field", "unit", "factor"),
    [
        ("depth_m", None, 1.0),
        ("Depth_ft", None, 0.3048),
        ("contour", "ft", 0.3048),
        ("DEPTH", "m", 1),
    ],
)
def test_units_and_fields(tmp_path: Path, field: str, unit: str | None, factor: float) -> None:
    path = write(
        tmp_path,
        [
            ({field: 10, "ID": 1}, "Polygon", [disc(100)]),
            ({field: 0, "ID": 2}, "Polygon", [disc(200)]),
        ],
    )
    regions, _ = read_contours(path, ContourOptions(depth_unit=unit))
    assert regions.levels_m == pytest.approx([0.0, 10.0 * factor], abs=1e-4)
    assert regions.area_m2(0) == pytest.approx(disc_area(200.0), rel=1e-4)
    assert regions.area_m2(1) == pytest.approx(disc_area(100.0), rel=1e-4)


def test_islands_and_humps_count_even_odd(tmp_path: Path) -> None:
    """Shoreline with an island as an extra polygon; a 3 m ring inside the 3 m ring is a hump."""
    path = write(
        tmp_path,
        [
            ({"depth_m": 0}, "Polygon", [disc(300)]),
            ({"depth_m": 0}, "Polygon", [disc(20, 250)]),
            ({"depth_m": 3}, "Polygon", [disc(200)]),
            ({"depth_m": 3}, "Polygon", [disc(30, -50)]),
        ],
    )
    regions, report = read_contours(path)
    assert regions.area_m2(0) == pytest.approx(disc_area(300.0) - disc_area(20.0), rel=1e-3)
    assert regions.area_m2(1) == pytest.approx(disc_area(200.0) - disc_area(30.0), rel=1e-3)
    assert any("humps" in said for said in report.said)
    regions, _ = read_contours(path, ContourOptions(inner_rings="deeper"))
    assert regions.area_m2(1) == pytest.approx(disc_area(200.0), rel=1e-3)
    assert regions.area_m2(0) == pytest.approx(disc_area(300.0) - disc_area(20.0), rel=1e-3)


def test_holes_count_like_rings_and_twins_once(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        [
            ({"depth_m": 0}, "Polygon", [disc(300), disc(20, 250)[::-1]]),
            ({"depth_m": 0}, "Polygon", [disc(20, 250)]),
            ({"depth_m": 3}, "Polygon", [disc(200)]),
        ],
    )
    regions, report = read_contours(path)
    assert regions.area_m2(0) == pytest.approx(disc_area(300.0) - disc_area(20.0), rel=1e-3)
    assert any("given twice" in said for said in report.said)


@pytest.mark.parametrize(("value", "level"), [("shallow", [0.0, 3.0]), ("deep", [0.0, 0.0])])
def test_depth_bands_become_contours(tmp_path: Path, value: str, level: list[float]) -> None:
    path = write(
        tmp_path,
        [
            ({"depth_m": 0 if value == "shallow" else 3}, "Polygon", [disc(300), disc(200)[::-1]]),
            ({"depth_m": 3 if value == "shallow" else 6}, "Polygon", [disc(200)]),
        ],
    )
    regions, report = read_contours(path, ContourOptions(band_value=value))
    assert any("bands" in said for said in report.said)
    assert regions.levels_m[0] == 0.0
    assert regions.area_m2(0) == pytest.approx(disc_area(300.0), rel=2e-3)
    assert regions.levels_m[-1] == pytest.approx(3.0)
    assert regions.area_m2(-1) == pytest.approx(disc_area(200.0), rel=2e-3)


def test_closed_lines_are_contours_and_open_ones_are_counted(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        [
            ({"depth_m": 0}, "LineString", disc(300)),
            ({"depth_m": 3}, "LineString", disc(200)[:100]),
            ({"depth_m": 5}, "MultiLineString", [disc(100)]),
            ({"depth_m": 5}, "Point", [-93.0, 45.0]),
        ],
    )
    regions, report = read_contours(path)
    assert regions.levels_m == pytest.approx([0.0, 5.0])
    assert {item.reason: item.count for item in report.dropped} == {
        "line that is not closed": 1,
        "point where a contour was expected": 1,
    }


def test_self_crossing_rings_are_mended_and_counted(tmp_path: Path) -> None:
    ring = disc(200)
    ring[40], ring[60] = ring[60], ring[40]
    path = write(
        tmp_path, [({"depth_m": 0}, "Polygon", [ring]), ({"depth_m": 3}, "Polygon", [disc(50)])]
    )
    regions, report = read_contours(path)
    assert any("self-crossing" in item.reason for item in report.dropped)
    assert all(region.is_valid for region in regions.regions)


def test_bad_depths_are_counted(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        [
            ({"depth_m": 0}, "Polygon", [disc(300)]),
            ({"depth_m": 1e9}, "Polygon", [disc(200)]),
            ({"depth_m": None}, "Polygon", [disc(100)]),
        ],
    )
    _, report = read_contours(path)
    assert report.dropped_count == 2


@pytest.mark.parametrize(
    ("shapes", "options", "words"),
    [
        ([({"size": 1}, "Polygon", [disc(100)])], ContourOptions(), "cannot be told"),
        ([({"depth_m": 1}, "Polygon", [disc(100)])], ContourOptions("x"), "no attribute"),
        ([({"depth_m": 1}, "Polygon", [disc(100)])], ContourOptions(depth_unit="x"), "no unit"),
        ([({"depth_m": 1}, "Polygon", [disc(100)])], ContourOptions(crs="EPSG:0"), "not known"),
        ([({"depth_m": 1}, "Point", [0.0, 0.0])], ContourOptions(), "no closed contours"),
        ([({"depth_m": 1}, "Polygon", [[[500.0, 1e5], [600.0, 1e5], [600.0, 2e5], [500.0, 1e5]]])],
         ContourOptions(), "do not lie in the frame"),
        ([({"depth_m": 1}, "Polygon", [disc(100)]), ({"depth_m": 2}, "Polygon",
          [[[10.0, 1.0], [11.0, 1.0], [11.0, 2.0], [10.0, 1.0]]])],
         ContourOptions(), "too far apart"),
    ],
)  # fmt: skip
def test_contours_of_no_use(tmp_path: Path, shapes, options: ContourOptions, words: str) -> None:
    with pytest.raises(LakeDataError, match=words):
        read_contours(write(tmp_path, shapes), options)


def test_real_contours_need_their_frame_and_keep_their_areas(shared_data) -> None:
    """Lake Monona: areas against the file's own polygons, put together by shapely alone."""
    path = shared_data("yahara_monona/monona-contours-all.shp")
    with pytest.raises(LakeDataError, match="names no frame"):
        read_contours(path)
    regions, report = read_contours(path, ContourOptions(crs="EPSG:3070"))
    assert report.points_in == 64
    assert regions.levels_m[-1] == pytest.approx(21.336, abs=1e-3)
    import pyogrio

    _, _, wkb, columns = pyogrio.raw.read(path)
    shapes, depth = shapely.from_wkb(wkb), np.asarray(columns[2])
    for index, level in enumerate(regions.levels_m):
        own = shapely.MultiPolygon()
        for shape in shapes[np.abs(depth - level) < 1e-3]:
            own = shapely.symmetric_difference(own, shape)
        # Ground on islands is no water, whatever contour encloses it.
        water = shapely.MultiPolygon()
        for shape in shapes[depth == 0.0]:
            water = shapely.symmetric_difference(water, shape)
        own = shapely.intersection(own, water)
        assert regions.area_m2(index) == pytest.approx(own.area, rel=0.005)


def test_areas_are_those_on_the_ellipsoid(tmp_path: Path) -> None:
    """Karney 2013 geodesic area, as coded in PROJ."""
    ring = disc(800.0)
    path = write(tmp_path, [({"depth_m": 0}, "Polygon", [ring])])
    regions, _ = read_contours(path)
    lon, lat = np.array(ring).T
    area, _ = Geod(ellps="WGS84").polygon_area_perimeter(lon, lat)
    assert regions.area_m2(0) == pytest.approx(abs(area), rel=1e-5)
