"""Which column of a table of soundings means what, found from names and values."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass

from leadsman.dimensions import FOOT_M
from leadsman.errors import LakeDataError, Where

LON_NAMES = (
    "longitude",
    "long",
    "lon",
    "lng",
    "x",
    "easting",
    "east",
    "lengte",
    "lonwgs84",
    "xcoord",
)
LAT_NAMES = ("latitude", "lat", "y", "northing", "north", "latwgs84", "ycoord")
DEPTH_NAMES = (
    "depth", "waterdepth", "sounding", "depthm", "depthft", "depthfeet", "depthmeters",
    "depthmetres", "z", "bottomdepth", "bottom", "dpt", "tiefe", "profondeur",
)  # fmt: skip
ELEVATION_NAMES = (
    "elevation",
    "elev",
    "bottomelevation",
    "bedelevation",
    "altitude",
    "height",
    "ele",
)
TIME_NAMES = ("time", "datetime", "timestamp", "utc", "timeutc", "date", "times", "unixtime")

DEPTH_UNITS_M = {
    "m": 1.0, "meter": 1.0, "meters": 1.0, "metre": 1.0, "metres": 1.0,
    "ft": FOOT_M, "foot": FOOT_M, "feet": FOOT_M, "fathom": 6.0 * FOOT_M, "fathoms": 6.0 * FOOT_M,
    "fm": 6.0 * FOOT_M, "cm": 0.01, "dm": 0.1, "mm": 0.001,
}  # fmt: skip
"""Metres in one of each unit a depth may be written in [m], exact definitions."""

_NUMBER = re.compile(r"^[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?$", re.ASCII)


@dataclass(frozen=True, slots=True)
class CsvLayout:
    """How a table of soundings is laid out.

    Parameters
    ----------
    delimiter : str
        Character between cells; a blank means any white space [-].
    decimal_comma : bool
        Whether decimals follow a comma [-].
    header : tuple of str or None
        Column names, None for a table without them [-].
    lon, lat, depth : int
        Column numbers, from 0 [-].
    time : int or None
        Column of the time [-].
    depth_unit : str or None
        Unit the header names [-].
    is_elevation : bool
        Whether the depth column is named as an elevation [-].
    """

    delimiter: str
    decimal_comma: bool
    header: tuple[str, ...] | None
    lon: int
    lat: int
    depth: int
    time: int | None
    depth_unit: str | None
    is_elevation: bool

    def column(self, index: int) -> str:
        """Name of a column as the user knows it."""
        return f"'{self.header[index]}'" if self.header else f"column {index + 1}"


def split_line(line: str, delimiter: str) -> list[str]:
    """Cells of one line.

    Parameters
    ----------
    line : str
        The line [-].
    delimiter : str
        Character between cells; a blank means any white space [-].
    """
    if delimiter == " ":
        return line.split()
    if '"' not in line:
        return [cell.strip() for cell in line.split(delimiter)]
    try:
        row = next(csv.reader([line], delimiter=delimiter), [])
    except csv.Error:
        row = line.split(delimiter)
    return [cell.strip() for cell in row]


def is_number(cell: str) -> bool:
    """Whether a cell holds a plain number, with a point or a comma."""
    return _NUMBER.match(cell.strip()) is not None


def find_delimiter(lines: Sequence[str], source: str) -> str:
    """Delimiter that gives the most even table of three or more columns.

    Parameters
    ----------
    lines : sequence of str
        The first lines that hold something [-].
    source : str
        File name [-].

    Raises
    ------
    LakeDataError
        No delimiter gives three columns.
    """
    best, best_score = "", 0.0
    for delimiter in (";", "\t", "|", ",", " "):
        widths = [len(split_line(line, delimiter)) for line in lines]
        common = max(set(widths), key=widths.count)
        if common < 3:
            continue
        score = widths.count(common) / len(widths)
        # With decimal commas a comma also splits evenly; the rarer marks come first.
        if score > best_score + 0.05:
            best, best_score = delimiter, score
    if not best:
        raise LakeDataError(
            "no three columns were found", source, "Give longitude, latitude and depth on each line"
        )
    return best


def unit_in_name(name: str) -> str | None:
    """Depth unit that a column name mentions, such as ``depth_ft`` or ``Depth (m)``."""
    for word in reversed(re.split(r"[^a-z]+", name.casefold())):
        if word in DEPTH_UNITS_M:
            return word
    return None


def _plain(name: str) -> str:
    """Column name without its unit, signs and spaces."""
    text = re.sub(r"[\[(].*?[\])]", "", name.casefold())
    return re.sub(r"[^a-z0-9]", "", text)


def _find(header: Sequence[str], names: Sequence[str], taken: set[int]) -> int | None:
    plain = [_plain(name) for name in header]
    for wanted in names:
        for index, name in enumerate(plain):
            if name == wanted and index not in taken:
                return index
    for wanted in names:
        if len(wanted) < 3:
            continue
        for index, name in enumerate(plain):
            if name.startswith(wanted) and index not in taken:
                return index
    return None


def _given(
    header: Sequence[str] | None, wanted: str | int, what: str, source: str, width: int
) -> int:
    """Column the user named or numbered."""
    if isinstance(wanted, int):
        if not 1 <= wanted <= width:
            raise LakeDataError(f"has no column {wanted}", Where(source, field=what))
        return wanted - 1
    names = list(header or ())
    for index, name in enumerate(names):
        if name.strip().casefold() == wanted.strip().casefold():
            return index
    if wanted.isdigit():
        return _given(header, int(wanted), what, source, width)
    listed = ", ".join(names[:12]) if names else "no names; count columns from 1"
    raise LakeDataError(
        f"has no column '{wanted[:40]}'", Where(source, field=what), f"Its columns are: {listed}"
    )


def _is_header(cells: Sequence[str]) -> bool:
    """Whether a first line holds names: letters, few numbers, and no cell such as 45 12.3 N."""
    numbers = sum(is_number(cell) for cell in cells)
    return (
        numbers < min(3, len(cells))
        and any(re.search(r"[A-Za-z]", cell) for cell in cells)
        and not any(re.match(r"^[+-]?\d", cell) for cell in cells)
    )


def _by_name(header: Sequence[str], found: dict[str, int | None]) -> bool:
    """Fill in columns that were not given, in place; whether depth is an elevation."""
    for what, names in (
        ("longitude", LON_NAMES),
        ("latitude", LAT_NAMES),
        ("depth", DEPTH_NAMES),
        ("depth", ELEVATION_NAMES),
    ):
        if found[what] is None:
            taken = {index for index in found.values() if index is not None}
            found[what] = _find(header, names, taken)
    depth = found["depth"]
    return depth is not None and _plain(header[depth]).startswith(ELEVATION_NAMES)


def find_layout(
    lines: Sequence[str],
    source: str,
    lon_column: str | int | None = None,
    lat_column: str | int | None = None,
    depth_column: str | int | None = None,
    delimiter: str | None = None,
) -> CsvLayout:
    """Layout of a table from its first lines.

    Parameters
    ----------
    lines : sequence of str
        The first lines that hold something, comments left out [-].
    source : str
        File name for messages [-].
    lon_column, lat_column, depth_column : str or int or None
        Column names, or numbers from 1; None finds them [-].
    delimiter : str or None
        Character between cells; None finds it [-].

    Returns
    -------
    CsvLayout
        The layout.

    Raises
    ------
    LakeDataError
        The columns cannot be told.
    """
    mark = delimiter or find_delimiter(lines, source)
    first = split_line(lines[0], mark)
    header = tuple(first) if _is_header(first) else None
    body = [split_line(line, mark) for line in lines[1 if header else 0 :]]
    if not body:
        raise LakeDataError("has column names but no soundings", source)
    decimal_comma = mark != "," and any(
        "," in cell for row in body for cell in row if is_number(cell)
    )
    given = {"longitude": lon_column, "latitude": lat_column, "depth": depth_column}
    found = {
        what: None if wanted is None else _given(header, wanted, what, source, len(first))
        for what, wanted in given.items()
    }
    is_elevation = False
    time: int | None = None
    if header is not None:
        is_elevation = _by_name(header, found)
        time = _find(header, TIME_NAMES, {index for index in found.values() if index is not None})
    elif len(first) >= 3:
        for what, place in (("longitude", 0), ("latitude", 1), ("depth", 2)):
            if found[what] is None:
                found[what] = place
    lon, lat, depth = found["longitude"], found["latitude"], found["depth"]
    if lon is None or lat is None or depth is None:
        missing = ", ".join(what for what, index in found.items() if index is None)
        listed = ", ".join(first[:12])
        raise LakeDataError(
            f"which column holds {missing} cannot be told from the names {listed}",
            Where(source, 1),
            "Name the columns for longitude, latitude and depth",
        )
    if len({lon, lat, depth}) < 3:
        raise LakeDataError("longitude, latitude and depth need three different columns", source)
    unit = unit_in_name(header[depth]) if header is not None else None
    return CsvLayout(mark, decimal_comma, header, lon, lat, depth, time, unit, is_elevation)
