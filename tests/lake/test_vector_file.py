"""Vector files nobody vouched for."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

import numpy as np
import pyogrio
import pytest
import shapely

from leadsman.errors import LakeDataError
from leadsman.lake.vector_file import read_vector

SQUARE = [[-93.0, 45.0], [-92.99, 45.0], [-92.99, 45.01], [-93.0, 45.01], [-93.0, 45.0]]


def geojson(features: list[dict]) -> bytes:
    return json.dumps({"type": "FeatureCollection", "features": features}).encode()


def feature(depth: object, ring: list = SQUARE) -> dict:
    return {
        "type": "Feature",
        "properties": {"depth_m": depth},
        "geometry": {"type": "Polygon", "coordinates": [ring]},
    }


def shapefile(folder: Path) -> Path:
    path = folder / "lake.shp"
    pyogrio.raw.write(
        path,
        geometry=np.array([shapely.to_wkb(shapely.Polygon(SQUARE))], dtype=object),
        field_data=[np.array([3.0])],
        fields=np.array(["depth_m"]),
        geometry_type="Polygon",
        crs="EPSG:4326",
        driver="ESRI Shapefile",
    )
    return path


def test_the_three_kinds_and_the_archive(tmp_path: Path) -> None:
    shp = shapefile(tmp_path)
    table = read_vector(shp)
    assert table.fields["depth_m"] == pytest.approx([3.0])
    assert "4326" in str(table.crs)
    archive = tmp_path / "lake.zip"
    with zipfile.ZipFile(archive, "w") as out:
        for part in tmp_path.glob("lake.*"):
            if part.suffix != ".zip":
                out.write(part, f"folder/{part.name}")
    assert shapely.area(read_vector(archive).geometry[0]) == pytest.approx(1e-4)
    js = tmp_path / "lake.geojson"
    js.write_bytes(geojson([feature(3.0)]))
    assert read_vector(js).fields["depth_m"][0] == 3.0
    gpkg = tmp_path / "lake.gpkg"
    pyogrio.raw.write(
        gpkg,
        geometry=np.array([shapely.to_wkb(shapely.Polygon(SQUARE))], dtype=object),
        field_data=[np.array([3.0])],
        fields=np.array(["depth_m"]),
        geometry_type="Polygon",
        crs="EPSG:4326",
        driver="GPKG",
    )
    assert read_vector(gpkg).fields["depth_m"][0] == 3.0


def test_a_bomb_is_not_unpacked(tmp_path: Path) -> None:
    path = tmp_path / "bomb.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr("lake.shp", b"\0" * 120_000_000)
    assert path.stat().st_size < 200_000
    with pytest.raises(LakeDataError, match="not a map"):
        read_vector(path)


def test_an_archive_that_lies_about_its_size(tmp_path: Path) -> None:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr("lake.geojson", b" " * 5_000_000)
    raw = bytearray(data.getvalue())
    at = raw.rfind(b"PK\x01\x02")
    raw[at + 24 : at + 28] = (10).to_bytes(4, "little")
    path = tmp_path / "liar.zip"
    path.write_bytes(bytes(raw))
    with pytest.raises(LakeDataError):
        read_vector(path)


def test_members_cannot_leave_the_folder(tmp_path: Path) -> None:
    path = tmp_path / "escape.zip"
    with zipfile.ZipFile(path, "w") as out:
        out.writestr("../../escaped.geojson", geojson([feature(3.0)]))
    read_vector(path)
    assert not (tmp_path.parent.parent / "escaped.geojson").exists()
    assert not (tmp_path.parent / "escaped.geojson").exists()


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("a.zip", b"PK nonsense", "damaged archive"),
        ("a.shp", b"not a shapefile at all", "is not what its ending"),
        ("a.gpkg", b"SQLite format 3\x00 but cut", "cannot be read|damaged"),
        ("a.gpkg", b"text", "is not what its ending"),
        ("a.geojson", b"[1, 2", "not GeoJSON"),
        ("a.geojson", b'{"type": "FeatureColl', "cannot be read|damaged"),
        ("a.geojson", b'{"type": "FeatureCollection", "features": []}', "holds no shapes|damaged"),
        ("a.geojson", b"", "empty"),
        ("a.kml", b"<kml/>", "no kind of contour file"),
        ("a.vrt", b"<OGRVRTDataSource/>", "no kind of contour file"),
    ],
)
def test_damaged_files(tmp_path: Path, name: str, content: bytes, words: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(LakeDataError, match=words):
        read_vector(path)


def test_truncated_shapefile(tmp_path: Path) -> None:
    shp = shapefile(tmp_path)
    shp.write_bytes(shp.read_bytes()[:120])
    with pytest.raises(LakeDataError):
        read_vector(shp)


def test_an_empty_archive_and_one_with_two_maps(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w") as out:
        out.writestr("readme.txt", "x")
    with pytest.raises(LakeDataError, match="holds no shapefile"):
        read_vector(path)
    with zipfile.ZipFile(path, "w") as out:
        out.writestr("a.geojson", geojson([feature(1.0)]))
        out.writestr("b.geojson", geojson([feature(1.0)]))
    with pytest.raises(LakeDataError, match="several maps"):
        read_vector(path)
