"""Soundings from a GPX file: depths in extensions, or written out in a point's text.

In GPX 1.1 ``ele`` is an elevation, not a depth, so it is never taken as one
unless the user says that their device put depths there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np

from leadsman.dimensions import FOOT_M
from leadsman.errors import LakeDataError
from leadsman.lake.csv_layout import DEPTH_UNITS_M
from leadsman.lake.file_guard import checked_size
from leadsman.lake.soundings import DEEPEST_LAKE_M, DropTally, ReadReport, Soundings

MAX_GPX_BYTES = 128 * 1024 * 1024
MAX_POINTS = 2_000_000
POINT_TAGS = ("wpt", "trkpt", "rtept")
_TEXT_DEPTH = re.compile(
    r"depth\W{0,3}(\d+(?:\.\d+)?)\s*(ft|feet|foot|m|meters?|metres?)\b", re.IGNORECASE
)


@dataclass(slots=True)
class _Points:
    lon: list[float] = field(default_factory=list)
    lat: list[float] = field(default_factory=list)
    depth: list[float] = field(default_factory=list)
    time: list[float] = field(default_factory=list)
    seen: int = 0
    from_text: int = 0
    from_elevation: int = 0


def read_gpx(
    path: Path, depth_unit: str | None = None, elevation_is_depth: bool = False
) -> tuple[Soundings, ReadReport]:
    """Read way points, track points and route points that carry a depth.

    Parameters
    ----------
    path : pathlib.Path
        GPX file [-].
    depth_unit : str or None
        Unit of depths in extensions; None takes metres, as GPX asks [-].
    elevation_is_depth : bool
        Take ``ele`` as depth, for devices that misuse it [-].

    Returns
    -------
    tuple of Soundings and ReadReport
        The soundings in file order, and what was found.

    Raises
    ------
    LakeDataError
        It is no GPX, hostile, or holds no depth.
    """
    checked_size(path, MAX_GPX_BYTES)
    if depth_unit is not None and depth_unit.casefold() not in DEPTH_UNITS_M:
        raise LakeDataError(f"'{depth_unit[:20]}' is no unit of depth", path.name, "Use ft or m")
    unit_m = DEPTH_UNITS_M[depth_unit.casefold()] if depth_unit else 1.0
    tally = DropTally.empty()
    points = _Points()
    for element in _point_elements(path):
        points.seen += 1
        if points.seen > MAX_POINTS:
            raise LakeDataError(f"holds more than {MAX_POINTS:,} points", path.name, "Split it")
        _take(element, points, tally, unit_m, elevation_is_depth)
    if points.seen == 0:
        raise LakeDataError("holds no points", path.name)
    if not points.lon:
        reasons = "; ".join(str(item) for item in tally.dropped())
        raise LakeDataError(
            f"no point holds a usable depth ({reasons})",
            path.name,
            "Give a file with depths, or say that elevations are depths",
        )
    time_s = np.array(points.time)
    said = [f"Depths are in {depth_unit or 'metres, as GPX asks'}"]
    if points.from_text:
        said.append(f"{points.from_text:,} depths were read from a point's text, in its own unit")
    if points.from_elevation:
        said.append(f"{points.from_elevation:,} elevations were taken as depths, as you said")
    soundings = Soundings(
        np.array(points.lon),
        np.array(points.lat),
        np.array(points.depth),
        time_s if np.all(np.isfinite(time_s)) else None,
        path.name,
    )
    return soundings, ReadReport(
        path.name, "gpx", points.seen, len(soundings), tuple(said), tally.dropped()
    )


def _point_elements(path: Path) -> Iterator[Any]:
    """Each point of the file, freed after use; no entities, no outside files."""
    from xml.etree.ElementTree import ParseError

    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import iterparse

    first = True
    try:
        for event, element in iterparse(path, events=("start", "end"), forbid_dtd=True):
            name = _local(element.tag)
            if first:
                first = False
                if name != "gpx":
                    raise LakeDataError("is XML but not GPX", path.name)
                root = element
            if event == "end" and name in POINT_TAGS:
                yield element
                element.clear()
                if name != "trkpt":
                    root.clear()
    except (DefusedXmlException, ParseError, ValueError, LookupError) as error:
        why = " ".join(str(error).split())[:100]
        raise LakeDataError(f"is damaged or hostile XML ({why})", path.name) from error


def _local(tag: object) -> str:
    return str(tag).rsplit("}", 1)[-1].casefold()


def _take(
    element: Any, points: _Points, tally: DropTally, unit_m: float, elevation_is_depth: bool
) -> None:
    """Add one point, or count why not."""
    lon, lat = _number(element.get("lon")), _number(element.get("lat"))
    if not (abs(lon) <= 180.0 and abs(lat) <= 85.0):
        tally.add("position is not on Earth or is missing")
        return
    depth = float("nan")
    time = float("nan")
    text = ""
    elevation = float("nan")
    for child in element.iter():
        name = _local(child.tag)
        if name in ("depth", "waterdepth", "depth_m"):
            depth = _number(child.text) * unit_m
        elif name == "time":
            time = _time(child.text)
        elif name == "ele":
            elevation = _number(child.text)
        elif name in ("desc", "cmt", "name"):
            text += " " + (child.text or "")[:500]
    if np.isnan(depth) and (match := _TEXT_DEPTH.search(text)):
        depth = float(match[1]) * (FOOT_M if match[2][0] in "fF" else 1.0)
        points.from_text += 1
    if np.isnan(depth) and elevation_is_depth and np.isfinite(elevation):
        depth = abs(elevation) * unit_m
        points.from_elevation += 1
    if np.isnan(depth):
        tally.add("point without a depth")
    elif not 0.0 <= depth <= DEEPEST_LAKE_M:
        tally.add("depth above the water or deeper than any lake")
    else:
        points.lon.append(lon)
        points.lat.append(lat)
        points.depth.append(depth)
        points.time.append(time)


def _number(text: str | None) -> float:
    try:
        return float(text) if text else float("nan")
    except ValueError:
        return float("nan")


def _time(text: str | None) -> float:
    try:
        stamp = datetime.fromisoformat((text or "").strip())
        return (stamp if stamp.tzinfo else stamp.replace(tzinfo=UTC)).timestamp()
    except (ValueError, OverflowError):
        return float("nan")
