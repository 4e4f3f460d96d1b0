"""Layouts told from a few lines."""

from __future__ import annotations

import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.csv_layout import (
    find_delimiter,
    find_layout,
    is_number,
    split_line,
    unit_in_name,
)


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("depth_ft", "ft"),
        ("Depth (m)", "m"),
        ("DEPTH[Feet]", "feet"),
        ("depth in fathoms", "fathoms"),
        ("depth", None),
        ("msl", None),
    ],
)
def test_unit_in_a_name(name: str, unit: str | None) -> None:
    assert unit_in_name(name) == unit


@pytest.mark.parametrize("cell", ["1", "-1.5", "+.5", "3,25", "1e-3"])
def test_numbers(cell: str) -> None:
    assert is_number(cell)


@pytest.mark.parametrize("cell", ["", "1.2.3", "12 ft", "nan", "0x10", "١"])
def test_no_numbers(cell: str) -> None:
    assert not is_number(cell)


@pytest.mark.parametrize(
    ("lines", "mark"),
    [
        (["1,2,3", "4,5,6"], ","),
        (["1;2;3", "4;5;6"], ";"),
        (["1,5;2,5;3,5", "4,5;5,5;6,5"], ";"),
        (["1\t2\t3", "4\t5\t6"], "\t"),
        (["1 2  3", "4   5 6"], " "),
    ],
)
def test_delimiters(lines: list[str], mark: str) -> None:
    assert find_delimiter(lines, "x") == mark


def test_quotes_hold_delimiters() -> None:
    assert split_line('"a,b",c,"d"', ",") == ["a,b", "c", "d"]


def test_names_in_any_order_and_with_extras() -> None:
    layout = find_layout(["id;Depth (ft);LAT;note;LONG;UTC", "1;10;45;x;-93;0"], "x")
    assert (layout.lon, layout.lat, layout.depth, layout.time) == (4, 2, 1, 5)
    assert layout.depth_unit == "ft"
    assert not layout.is_elevation


def test_elevation_only_where_there_is_no_depth() -> None:
    assert find_layout(["x,y,elevation", "1,2,3"], "x").is_elevation
    layout = find_layout(["x,y,elevation,depth", "1,2,3,4"], "x")
    assert (layout.depth, layout.is_elevation) == (3, False)


@pytest.mark.parametrize(
    "lines", [["a,b,c", "1,2,3"], ["lon,lat", "1,2"], ["lon,lat,depth"], ["x,y", "1,2"]]
)
def test_layouts_that_cannot_be_told(lines: list[str]) -> None:
    with pytest.raises(LakeDataError):
        find_layout(lines, "x")


def test_one_column_cannot_be_two_things() -> None:
    with pytest.raises(LakeDataError, match="three different columns"):
        find_layout(["a,b,c", "1,2,3"], "x", "a", "a", "c")
