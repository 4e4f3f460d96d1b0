"""Tables of soundings as people have them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.read_csv import CsvOptions, read_csv


def write(folder: Path, text: str, encoding: str = "utf-8") -> Path:
    path = folder / "points.csv"
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize(
    ("text", "depth_m"),
    [
        ("lon,lat,depth_m\n-93.1,45.2,3.5\n-93.2,45.3,4\n", [3.5, 4.0]),
        ("Latitude;Longitude;Depth (ft)\n45.2;-93.1;10\n45.3;-93.2;20\n", [3.048, 6.096]),
        ("Depth [fathoms]\tY\tX\n1\t45.2\t-93.1\n2\t45.3\t-93.2\n", [1.8288, 3.6576]),
        ("id|x|y|z\na|-93.1|45.2|-3.5\nb|-93.2|45.3|-4\n", [3.5, 4.0]),
        ("-93.1 45.2 3.5\n-93.2   45.3  4\n", [3.5, 4.0]),
        ("# made by hand\n-93.1,45.2,3.5\n\n-93.2,45.3,4\n", [3.5, 4.0]),
        ("lon;lat;depth_m\n-93,1;45,2;3,5\n-93,2;45,3;4,0\n", [3.5, 4.0]),
        ('"lon","lat","depth"\n"-93.1","45.2","3.5 m"\n"-93.2","45.3","10 ft"\n', [3.5, 3.048]),
        ("lon,lat,bottom elevation\n-93.1,45.2,-3.5\n-93.2,45.3,-4\n", [3.5, 4.0]),
    ],
)
def test_layout_units_and_sign_are_found(tmp_path: Path, text: str, depth_m: list[float]) -> None:
    soundings, report = read_csv(write(tmp_path, text))
    assert soundings.depth_m == pytest.approx(depth_m)
    assert soundings.lon_deg == pytest.approx([-93.1, -93.2])
    assert soundings.lat_deg == pytest.approx([45.2, 45.3])
    assert report.points_kept == 2
    assert not report.dropped
    assert any("epth" in said for said in report.said)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "latin-1"])
def test_encodings(tmp_path: Path, encoding: str) -> None:
    soundings, _ = read_csv(write(tmp_path, "lon,lat,depth_m,note\n-93.1,45.2,3.5,é\n", encoding))
    assert soundings.depth_m == pytest.approx([3.5])


def test_feet_against_metres_is_told_by_the_option_too(tmp_path: Path) -> None:
    path = write(tmp_path, "lon,lat,depth\n-93.1,45.2,10\n")
    metres, report = read_csv(path)
    assert metres.depth_m == pytest.approx([10.0])
    assert report.warnings, "an assumed unit is something to check"
    feet, report = read_csv(path, CsvOptions(depth_unit="ft"))
    assert feet.depth_m == pytest.approx([3.048])
    assert not report.warnings


def test_reversed_longitude_and_latitude(tmp_path: Path) -> None:
    text = "lat,lon,depth_m\n-93.1,45.2,3.5\n-93.2,45.3,4\n"
    soundings, report = read_csv(write(tmp_path, text))
    assert soundings.lon_deg == pytest.approx([-93.1, -93.2])
    assert any("other way round" in said for said in report.said)


def test_headerless_latitude_first(tmp_path: Path) -> None:
    soundings, _ = read_csv(write(tmp_path, "45.2,-93.1,3.5\n45.3,-93.2,4\n"))
    assert soundings.lat_deg == pytest.approx([45.2, 45.3])


def test_southern_hemisphere_and_antimeridian(tmp_path: Path) -> None:
    soundings, _ = read_csv(
        write(tmp_path, "lon,lat,depth_m\n179.9999,-38.1,3\n-179.9999,-38.1,4\n")
    )
    assert soundings.lat_deg == pytest.approx([-38.1, -38.1])
    assert soundings.lon_deg == pytest.approx([179.9999, -179.9999])


def test_projected_positions_need_their_frame(tmp_path: Path) -> None:
    path = write(tmp_path, "easting,northing,depth_m\n500000,4983000,3\n500010,4983000,4\n")
    with pytest.raises(LakeDataError, match="EPSG"):
        read_csv(path)
    soundings, _ = read_csv(path, CsvOptions(crs="EPSG:26915"))
    # 500 km east is the central meridian of zone 15, 93 W.
    assert soundings.lon_deg[0] == pytest.approx(-93.0, abs=1e-9)
    assert 44.9 < soundings.lat_deg[0] < 45.1
    with pytest.raises(LakeDataError, match="not known"):
        read_csv(path, CsvOptions(crs="EPSG:99999999"))


def test_elevations_need_the_water_surface(tmp_path: Path) -> None:
    path = write(tmp_path, "lon,lat,elevation\n-93.1,45.2,255.5\n-93.2,45.3,250\n")
    with pytest.raises(LakeDataError, match="elevation"):
        read_csv(path)
    soundings, _ = read_csv(path, CsvOptions(surface_elevation_m=259.0))
    assert soundings.depth_m == pytest.approx([3.5, 9.0])


def test_columns_can_be_given_by_name_or_number(tmp_path: Path) -> None:
    path = write(tmp_path, "a,b,c,d\n1,45.2,-93.1,3.5\n2,45.3,-93.2,4\n")
    with pytest.raises(LakeDataError, match="cannot be told"):
        read_csv(path)
    for columns in (("c", "b", "d"), (3, 2, 4), ("3", "2", "4")):
        soundings, _ = read_csv(path, CsvOptions(*columns))
        assert soundings.depth_m == pytest.approx([3.5, 4.0])
    with pytest.raises(LakeDataError, match="has no column"):
        read_csv(path, CsvOptions("nothing", "b", "d"))


def test_bad_rows_are_counted_with_reason_and_line(tmp_path: Path) -> None:
    text = (
        "lon,lat,depth_m\n-93.1,45.2,3.5\n-93.1,45.2\nx,45.2,3\n-93.1,95,3\n0,0,3\n"
        "-93.1,45.2,1e9\n-93.1,45.2,nan\n-93.1,45.2,\n-93.1,45.2,-2\n-93.1,45.2,inf\n"
    )
    soundings, report = read_csv(write(tmp_path, text))
    assert len(soundings) == 1
    assert report.points_in == 10
    assert report.dropped_count == 9
    by_reason = {item.reason: item for item in report.dropped}
    assert by_reason["too few columns"].lines == (3,)
    assert by_reason["position or depth is not a number"].lines == (4, 8, 9, 11)
    assert by_reason["position is not on Earth"].lines == (5,)
    assert by_reason["position 0, 0 (no fix)"].lines == (6,)
    assert by_reason["above the water"].lines == (10,)


def test_iso_times_are_read(tmp_path: Path) -> None:
    text = (
        "time,lon,lat,depth_m\n"
        "2017-01-10T00:00:05Z,-93.1,45.2,3.5\n"
        "2017-01-10T00:00:07,-93.1,45.2,4\n"
    )
    soundings, _ = read_csv(write(tmp_path, text))
    assert soundings.time_s == pytest.approx([17176 * 86400 + 5.0, 17176 * 86400 + 7.0])


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"\n\n  \n", "holds no soundings"),
        (b"lon,lat,depth\n", "no soundings"),
        (b"hello\nworld\n", "no three columns"),
        (bytes(range(256)) * 40, "not a text file"),
        (b"\xff\xfe\x00", "broken UTF-16"),
        (b"lon,lat,depth\nnan,nan,nan\n", "no line holds"),
        (b"lon,lat,depth\n1e9,1e9,1e9\n", "no degrees"),
        (b"lon,lat,depth\n-93.1,45.2,-0.0x\n", "no line holds"),
        (b"a" * 20000 + b",b,c\n1,2,3\n", "too long"),
        (b'lon,lat,depth\n"-93.1,45.2,3\n', "no three columns"),
    ],
)
def test_hostile_files_end_in_one_clear_message(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "bad.csv"
    path.write_bytes(content)
    with pytest.raises(LakeDataError, match=words) as caught:
        read_csv(path)
    assert "bad.csv" in str(caught.value)


def test_missing_file_and_folder(tmp_path: Path) -> None:
    with pytest.raises(LakeDataError, match="no such file"):
        read_csv(tmp_path / "nothing.csv")
    with pytest.raises(LakeDataError, match="not a file"):
        read_csv(tmp_path)


def test_a_sounding_unit_nobody_knows(tmp_path: Path) -> None:
    with pytest.raises(LakeDataError, match="no unit of depth"):
        read_csv(write(tmp_path, "lon,lat,depth\n1,2,3\n"), CsvOptions(depth_unit="furlong"))


def test_real_transects(shared_data) -> None:
    """IISD-ELA, Lake 227: 1,039 points, y = latitude, x = longitude, z = -depth to -11.07 m."""
    soundings, report = read_csv(shared_data("iisd_ela_227/227_LA.csv"))
    assert report.points_in == len(soundings) == 1039
    assert float(np.max(soundings.depth_m)) == 11.07
    assert np.all(soundings.lat_deg > 49.0)
