"""Soundings from a table of text: longitude, latitude and depth in any order."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError, Where
from leadsman.lake.csv_cells import angles, floats
from leadsman.lake.csv_layout import DEPTH_UNITS_M, CsvLayout, find_layout, split_line
from leadsman.lake.file_guard import read_text
from leadsman.lake.soundings import DEEPEST_LAKE_M, DropTally, FloatArray, ReadReport, Soundings

Sign = Literal["down", "up"]
IntArray = npt.NDArray[np.int64]

MAX_LINES = 20_000_000
"""Most lines read from one table [-]."""
MAX_LINE_LENGTH = 10_000
"""Longest line taken for a row [characters]."""
HEAD_LINES = 60
"""Lines looked at to tell the layout [-]."""


@dataclass(frozen=True, slots=True)
class CsvOptions:
    """What the user says about a table; everything else is detected.

    Parameters
    ----------
    lon_column, lat_column, depth_column : str or int or None
        Column names, or numbers from 1 [-].
    delimiter : str or None
        Character between cells [-].
    depth_unit : str or None
        ``"ft"``, ``"m"`` or ``"fathom"`` [-].
    sign : {"down", "up"} or None
        Whether depths count positive down or up [-].
    surface_elevation_m : float or None
        Elevation of the water surface, for tables of bottom elevations [m].
    crs : str or None
        Frame of the positions where they are not longitude and latitude,
        such as ``"EPSG:26915"`` [-].
    """

    lon_column: str | int | None = None
    lat_column: str | int | None = None
    depth_column: str | int | None = None
    delimiter: str | None = None
    depth_unit: str | None = None
    sign: Sign | None = None
    surface_elevation_m: float | None = None
    crs: str | None = None


def read_csv(path: Path, options: CsvOptions | None = None) -> tuple[Soundings, ReadReport]:
    """Read a table of soundings.

    Parameters
    ----------
    path : pathlib.Path
        Text table (CSV, TSV, XYZ), with or without a header [-].
    options : CsvOptions or None
        What is known about it [-].

    Returns
    -------
    tuple of Soundings and ReadReport
        The soundings in file order, and what was detected and left out.

    Raises
    ------
    LakeDataError
        It is no such table, or nothing in it can be used.
    """
    options = options or CsvOptions()
    source = path.name
    lines = read_text(path).splitlines()
    if len(lines) > MAX_LINES:
        raise LakeDataError(f"has more than {MAX_LINES:,} lines", source, "Thin it out")
    rows = [
        (i + 1, line)
        for i, line in enumerate(lines)
        if line.strip() and line.lstrip()[0] not in "#%"
    ]
    if not rows:
        raise LakeDataError("holds no soundings", source)
    if max(len(line) for _, line in rows) > MAX_LINE_LENGTH:
        raise LakeDataError("has a line that is too long for a table", source)
    layout = find_layout(
        [line for _, line in rows[:HEAD_LINES]],
        source,
        options.lon_column,
        options.lat_column,
        options.depth_column,
        options.delimiter,
    )
    if layout.header is not None:
        rows = rows[1:]
    tally = DropTally.empty()
    said: list[str] = []
    warnings: list[str] = []
    numbers, cells, units = _columns(rows, layout, tally)
    lon, lat = _positions(cells, layout, options, source, said)
    depth = _depths(cells, units, layout, options, source, said, warnings)
    time_s, has_date = _times(cells[3], layout, said)
    keep = _usable(lon, lat, depth, numbers, tally)
    if not np.any(keep):
        reasons = "; ".join(str(item) for item in tally.dropped())
        raise LakeDataError(f"no line holds a usable sounding ({reasons})", source)
    soundings = Soundings(
        lon[keep],
        lat[keep],
        depth[keep],
        None if time_s is None else time_s[keep],
        source,
        has_date,
    )
    report = ReadReport(
        source, "csv", len(rows), len(soundings), tuple(said), tally.dropped(), tuple(warnings)
    )
    return soundings, report


def _columns(
    rows: Sequence[tuple[int, str]], layout: CsvLayout, tally: DropTally
) -> tuple[IntArray, tuple[list[str], list[str], list[str], list[str]], list[str]]:
    """Cells of the wanted columns as text, and any unit written beside a depth."""
    wanted = (layout.lon, layout.lat, layout.depth)
    need = max(wanted)
    lon: list[str] = []
    lat: list[str] = []
    depth: list[str] = []
    time: list[str] = []
    numbers: list[int] = []
    for number, line in rows:
        cells = split_line(line, layout.delimiter)
        if len(cells) <= need:
            tally.add("too few columns", number)
            continue
        numbers.append(number)
        lon.append(cells[layout.lon])
        lat.append(cells[layout.lat])
        depth.append(cells[layout.depth])
        if layout.time is not None:
            time.append(cells[layout.time] if layout.time < len(cells) else "")
    units = [""] * len(depth)
    if layout.decimal_comma:
        lon, lat, depth = ([cell.replace(",", ".") for cell in col] for col in (lon, lat, depth))
    return np.array(numbers, dtype=np.int64), (lon, lat, depth, time), units


def _positions(
    cells: tuple[list[str], list[str], list[str], list[str]],
    layout: CsvLayout,
    options: CsvOptions,
    source: str,
    said: list[str],
) -> tuple[FloatArray, FloatArray]:
    """Longitude and latitude, swapped or projected as the values ask for."""
    lon, lat = angles(cells[0]), angles(cells[1])
    names = f"{layout.column(layout.lon)} and {layout.column(layout.lat)}"
    if options.crs is not None:
        said.append(f"Positions are {names} in {options.crs}")
        return to_wgs84(lon, lat, options.crs, source)
    lon_size, lat_size = _typical(lon), _typical(lat)
    if lon_size > 180.0 or lat_size > 180.0:
        raise LakeDataError(
            f"positions near {np.nanmedian(lon):.6g}, {np.nanmedian(lat):.6g} are no degrees",
            Where(source, field=names),
            "Give their frame, such as --crs EPSG:26915",
        )
    if lat_size > 90.0 >= lon_size:
        said.append(f"Longitude and latitude were the other way round in {names}; swapped")
        return lat, lon
    where = "by name" if layout.header else "by order (longitude first)"
    said.append(
        f"Longitude is {layout.column(layout.lon)}, latitude {layout.column(layout.lat)}, {where}"
    )
    if lon_size <= 90.0 and layout.header is None:
        said.append("Without names, swapped longitude and latitude could not be told here")
    return lon, lat


def _typical(values: FloatArray) -> float:
    good = values[np.isfinite(values)]
    return float(np.median(np.abs(good))) if good.size else 0.0


def to_wgs84(x: FloatArray, y: FloatArray, crs: str, source: str) -> tuple[FloatArray, FloatArray]:
    """Longitude and latitude of positions in a named frame.

    Parameters
    ----------
    x, y : ndarray, shape (n,)
        Easting and northing, or longitude and latitude, in that order [unit of the frame].
    crs : str
        Name of the frame, such as ``"EPSG:3070"`` [-].
    source : str
        File name for messages [-].

    Returns
    -------
    tuple of ndarray
        Longitude and latitude, NaN where the frame does not reach [deg].

    Raises
    ------
    LakeDataError
        No such frame is known.
    """
    from pyproj import Transformer
    from pyproj.exceptions import CRSError, ProjError

    try:
        transformer = Transformer.from_crs(crs, "EPSG:4326", always_xy=True)
    except (CRSError, ProjError) as error:
        raise LakeDataError(
            f"the frame '{crs[:60]}' is not known",
            Where(source, field="crs"),
            "Write it like EPSG:26915",
        ) from error
    lon, lat = transformer.transform(x, y)
    lon, lat = np.asarray(lon, dtype=np.float64), np.asarray(lat, dtype=np.float64)
    bad = ~(np.isfinite(lon) & np.isfinite(lat))
    lon[bad] = np.nan
    lat[bad] = np.nan
    return lon, lat


_DEPTH_CELL = re.compile(r"^\s*([+-]?[\d.]+(?:[eE][+-]?\d+)?)\s*([A-Za-z']+)\.?\s*$", re.ASCII)


def _depths(
    cells: tuple[list[str], list[str], list[str], list[str]],
    units: list[str],
    layout: CsvLayout,
    options: CsvOptions,
    source: str,
    said: list[str],
    warnings: list[str],
) -> FloatArray:
    """Depths below the surface, positive down."""
    column = layout.column(layout.depth)
    values = floats(cells[2])
    scale = np.ones(values.shape)
    name = options.depth_unit or layout.depth_unit
    if name is not None and name.casefold() not in DEPTH_UNITS_M:
        raise LakeDataError(
            f"'{name[:20]}' is no unit of depth", Where(source, field="depth unit"), "Use ft or m"
        )
    scale[:] = DEPTH_UNITS_M[name.casefold()] if name else 1.0
    found = _cell_units(cells[2], values, scale)
    if options.depth_unit:
        said.append(f"Depth is {column} in {name}, as given")
    elif found and len(found) > 1:
        said.append(
            f"Depth is {column} with mixed units: {', '.join(sorted(found))}; each converted"
        )
    elif found:
        said.append(f"Depth is {column} in {next(iter(found))}, as written beside each")
    elif name:
        said.append(f"Depth is {column} in {name}, by its name")
    else:
        said.append(f"Depth is {column}; no unit is named, so metres are assumed")
        warnings.append("if the depths are in feet, say so with the depth unit")
    values = values * scale
    if layout.is_elevation or options.surface_elevation_m is not None:
        return _from_elevation(values, layout, options, source, said)
    good = values[np.isfinite(values) & (values != 0.0)]
    up_share = float(np.mean(good < 0.0)) if good.size else 0.0
    sign = options.sign or ("up" if up_share > 0.5 else "down")
    how = "as given" if options.sign else "by most values"
    said.append(f"Depths count {'negative' if sign == 'up' else 'positive'} down, {how}")
    return -values if sign == "up" else values


def _cell_units(cells: list[str], values: FloatArray, scale: FloatArray) -> set[str]:
    """Read depths that carry their own unit, such as ``12 ft``; change in place."""
    found: set[str] = set()
    for index in np.flatnonzero(np.isnan(values)):
        match = _DEPTH_CELL.match(cells[index])
        if match and match[2].casefold() in DEPTH_UNITS_M:
            unit = match[2].casefold()
            values[index] = floats([match[1]])[0]
            scale[index] = DEPTH_UNITS_M[unit]
            found.add(unit)
    return found


def _from_elevation(
    values: FloatArray, layout: CsvLayout, options: CsvOptions, source: str, said: list[str]
) -> FloatArray:
    """Depths from elevations of the bottom."""
    if options.surface_elevation_m is not None:
        said.append(
            f"Bottom elevations taken from a water surface at {options.surface_elevation_m:.2f} m"
        )
        return options.surface_elevation_m - values
    good = values[np.isfinite(values)]
    if good.size and np.mean(good <= 0.0) > 0.95:
        said.append("Elevations are negative, so they are taken as below the water surface")
        return -values
    raise LakeDataError(
        f"{layout.column(layout.depth)} is an elevation, so the water surface's is needed too",
        source,
        "Give the surface elevation, or the depth column and its sign",
    )


def _times(cells: list[str], layout: CsvLayout, said: list[str]) -> tuple[FloatArray | None, bool]:
    """Times as seconds since 1970, or None where they cannot be read."""
    if layout.time is None or not cells:
        return None, True
    name = layout.column(layout.time)
    values = floats(cells)
    if np.all(np.isfinite(values)):
        has_date = bool(np.median(values) > 1e8)
        said.append(f"Time is {name} in seconds{' since 1970' if has_date else ', no date'}")
        return values, has_date
    try:
        stamps = [datetime.fromisoformat(cell) for cell in cells]
        seconds = [(t if t.tzinfo else t.replace(tzinfo=UTC)).timestamp() for t in stamps]
    except (ValueError, OverflowError):
        said.append(f"Times in {name} could not be read and are left out")
        return None, True
    said.append(f"Time is {name}, taken as UTC where no zone is written")
    return np.array(seconds, dtype=np.float64), True


def _usable(
    lon: FloatArray, lat: FloatArray, depth: FloatArray, numbers: IntArray, tally: DropTally
) -> npt.NDArray[np.bool_]:
    """Which rows hold a sounding that can be; the others are counted."""
    keep = np.ones(lon.shape, dtype=bool)
    with np.errstate(invalid="ignore"):
        checks = (
            ("position or depth is not a number", ~np.isfinite(lon + lat + depth)),
            ("position is not on Earth", (np.abs(lat) > 85.0) | (np.abs(lon) > 180.0)),
            ("position 0, 0 (no fix)", (lon == 0.0) & (lat == 0.0)),
            (f"deeper than any lake ({DEEPEST_LAKE_M:.0f} m)", depth > DEEPEST_LAKE_M),
            ("above the water", depth < 0.0),
        )
    for reason, bad in checks:
        tally.add_mask(reason, bad & keep, numbers)
        keep &= ~bad
    return keep
