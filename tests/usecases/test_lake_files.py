"""What is said of a file reaches that file and no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from leadsman.errors import InputError
from leadsman.usecases.lake_files import file_kind, spread_options


def test_said_of_one_wins_over_said_of_all(tmp_path: Path) -> None:
    one, two = tmp_path / "one.csv", tmp_path / "two.csv"
    files = spread_options(
        [one, two], [("depth_unit", Path("two.csv"), "ft"), ("depth_unit", None, "m")]
    )
    assert [file.options.depth_unit for file in files] == ["m", "ft"]


def test_a_file_not_given_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="not among the files"):
        spread_options([tmp_path / "one.csv"], [("crs", Path("other.csv"), "EPSG:4326")])


@pytest.mark.parametrize(
    ("name", "content", "kind"),
    [
        ("a.geojson", b"{}", "contours"),
        ("a.SHP", b"x", "contours"),
        ("a.tif", b"II*\x00abc", "grid"),
        ("a.asc", b"NCOLS 4\nNROWS 4\n", "grid"),
        ("a.asc", b"-91.0 46.0 3.2\n", "soundings"),
        ("a.nc", b"CDF\x01", "grid"),
        ("log", b"$SDDBT,7.8,f,2.4,M,1.3,F*0D\r\n", "soundings"),
        ("a.gpx", b"<?xml version='1.0'?><gpx/>", "soundings"),
    ],
)
def test_kinds(tmp_path: Path, name: str, content: bytes, kind: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    assert file_kind(path) == kind


def test_nothing_there(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        file_kind(tmp_path / "a.csv")
