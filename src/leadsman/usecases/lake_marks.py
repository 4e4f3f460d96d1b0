"""Places the angler marked: where the grass stops, with or without a depth."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from leadsman.errors import InputError, LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.csv_cells import parse_angle_deg
from leadsman.lake.file_guard import checked_size
from leadsman.lake.read_csv import CsvOptions, read_csv
from leadsman.lake.read_gpx import MAX_GPX_BYTES, read_gpx

FloatArray = npt.NDArray[np.float64]

MAX_MARKS = 20_000
LIKE_FEET = (2.6, 4.0)
"""Ratio of marked to mapped depths that tells feet taken for metres [-]; a foot is 0.3048 m."""
MISFIT_M = 1.5
"""A marked depth this far from the map is worth a warning [m]; a choice of ours."""


@dataclass(frozen=True, slots=True)
class Marks:
    """Marked places.

    Parameters
    ----------
    lon_deg, lat_deg : ndarray, shape (n,)
        The places [deg].
    depth_m : ndarray, shape (n,)
        Depth there below the lake's reference level [m].
    said : tuple of str
        How they were read [-].
    unit_assumed : bool
        Whether the unit of the depths was a guess [-].
    """

    lon_deg: FloatArray
    lat_deg: FloatArray
    depth_m: FloatArray
    said: tuple[str, ...]
    unit_assumed: bool = False


def read_marks(
    path: Path, model: BottomModel, depth_unit: str | None = None, level_m: float = 0.0
) -> Marks:
    """Read marked places; where the file holds no depth it is taken from the map.

    Parameters
    ----------
    path : pathlib.Path
        Table with latitude and longitude (and depth), or GPX way points [-].
    model : BottomModel
        Bottom of the lake [-].
    depth_unit : str or None
        Unit of depths where the file names none [-].
    level_m : float
        Water level on the day of marking above the reference level [m].

    Raises
    ------
    InputError
        The file cannot be used, or none of the places lies on the lake.
    """
    checked_size(path, MAX_GPX_BYTES)
    with path.open("rb") as handle:
        head = handle.read(512).removeprefix(b"\xef\xbb\xbf").lstrip()
    is_xml = head.startswith((b"<?xml", b"<gpx", b"<!"))
    found = _gpx(path, depth_unit) if is_xml else _table(path, depth_unit)
    if found.lon_deg.size > MAX_MARKS:
        raise InputError(f"holds more than {MAX_MARKS:,} places", path.name, "Thin it out")
    on_map, _ = model.sample_lonlat(found.lon_deg, found.lat_deg)
    here = np.isfinite(on_map)
    if not np.any(here):
        raise LakeDataError(
            f"none of {here.size:,} marked places lies on the map of {model.name}",
            path.name,
            "Check that latitude and longitude are not the other way round",
        )
    said = list(found.said)
    if not np.all(here):
        said.append(f"{np.count_nonzero(~here):,} marked places lie off the map and are left out")
    lon, lat, on_map = found.lon_deg[here], found.lat_deg[here], on_map[here]
    depth = found.depth_m[here] - level_m
    bare = ~np.isfinite(depth)
    if np.any(bare):
        said.append(f"The depth of {np.count_nonzero(bare):,} marked places is taken from the map")
    apart = float(np.median(depth[~bare] - on_map[~bare])) if not np.all(bare) else 0.0
    if abs(apart) > MISFIT_M and found.unit_assumed:
        ratio = float(np.median(depth[~bare] / np.maximum(on_map[~bare], 0.1)))
        if LIKE_FEET[0] <= ratio <= LIKE_FEET[1]:
            raise LakeDataError(
                f"the marked depths are {ratio:.1f} times those of the map, so they look like feet",
                path.name,
                "Say so with --depth-unit ft, or name the column depth_ft",
            )
    if abs(apart) > MISFIT_M:
        way = "deeper" if apart > 0.0 else "shallower"
        said.append(
            f"Check: the marked depths are {abs(apart):.1f} m {way} than the map there; mind their "
            "unit (--depth-unit) and the level of the day (--level)"
        )
    return Marks(lon, lat, np.where(bare, on_map, depth), tuple(said))


def _table(path: Path, depth_unit: str | None) -> Marks:
    try:
        soundings, report = read_csv(path, CsvOptions(depth_unit=depth_unit))
    except LakeDataError as error:
        bare = _bare_table(path)
        if bare is None:
            raise error from None
        return bare
    said = (*report.said, *(f"Left out: {item}" for item in report.dropped))
    assumed = depth_unit is None and any("feet" in text for text in report.warnings)
    return Marks(soundings.lon_deg, soundings.lat_deg, soundings.depth_m, said, assumed)


def _bare_table(path: Path) -> Marks | None:
    """A table of places without a depth column; None where it is no such table."""
    from leadsman.lake.csv_layout import split_line
    from leadsman.lake.file_guard import read_text

    rows = [line for line in read_text(path).splitlines() if line.strip()]
    delimiter = next((c for c in ",;\t" if rows and c in rows[0]), ",")
    head = [cell.strip().casefold() for cell in split_line(rows[0], delimiter)] if rows else []
    lon_at = next((i for i, c in enumerate(head) if c.startswith("lon")), None)
    lat_at = next((i for i, c in enumerate(head) if c.startswith("lat")), None)
    if lon_at is None or lat_at is None or any("dep" in c or c == "z" for c in head):
        return None
    places: list[tuple[float, float]] = []
    for row in rows[1 : MAX_MARKS + 2]:
        cells = split_line(row, delimiter)
        if len(cells) > max(lon_at, lat_at):
            place = parse_angle_deg(cells[lon_at]), parse_angle_deg(cells[lat_at])
            if abs(place[0]) <= 180.0 and abs(place[1]) <= 85.0:
                places.append(place)
    if not places:
        return None
    lost = len(rows) - 1 - len(places)
    said = [f"{len(places):,} marked places without a depth"]
    if lost:
        said.append(f"{lost:,} rows hold no place and are left out")
    lon, lat = np.array(places).T
    return Marks(lon.copy(), lat.copy(), np.full(lon.size, np.nan), tuple(said))


def _gpx(path: Path, depth_unit: str | None) -> Marks:
    """Way points, with their depths where there are any."""
    try:
        soundings, report = read_gpx(path, depth_unit)
    except LakeDataError:
        lon, lat = _bare_gpx(path)
        return Marks(lon, lat, np.full(lon.size, np.nan), (f"{lon.size:,} marked places",))
    if report.dropped_count:
        lon, lat = _bare_gpx(path)
        if lon.size > len(soundings):
            said = f"{lon.size:,} marked places, {len(soundings):,} with a depth of their own"
            depth = np.full(lon.size, np.nan)
            place = {
                (a, b): d
                for a, b, d in zip(
                    soundings.lon_deg, soundings.lat_deg, soundings.depth_m, strict=True
                )
            }
            for index, key in enumerate(zip(lon, lat, strict=True)):
                depth[index] = place.get(key, np.nan)
            return Marks(lon, lat, depth, (*report.said, said))
    return Marks(soundings.lon_deg, soundings.lat_deg, soundings.depth_m, report.said)


def _bare_gpx(path: Path) -> tuple[FloatArray, FloatArray]:
    """Positions of the way points of a GPX file."""
    from xml.etree.ElementTree import ParseError

    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import iterparse

    lon: list[float] = []
    lat: list[float] = []
    try:
        for _, element in iterparse(path, events=("end",), forbid_dtd=True):
            if str(element.tag).rsplit("}", 1)[-1] not in ("wpt", "trkpt", "rtept"):
                continue
            x, y = float(element.get("lon", "nan")), float(element.get("lat", "nan"))
            if abs(x) <= 180.0 and abs(y) <= 85.0:
                lon.append(x)
                lat.append(y)
            if len(lon) > MAX_MARKS:
                break
            element.clear()
    except (DefusedXmlException, ParseError, ValueError, LookupError) as error:
        raise LakeDataError("is damaged or hostile XML", path.name) from error
    if not lon:
        raise LakeDataError("holds no marked place", path.name, "Mark where the grass stops")
    return np.array(lon), np.array(lat)
