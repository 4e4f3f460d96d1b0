"""GPX 1.1: way points, routes and tracks, with depth in an extension of our own and in text.

``ele`` is an elevation in GPX, so depth never goes there. Elements stand in
the order that the schema of GPX 1.1 asks for.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

import numpy as np
import numpy.typing as npt

from leadsman.dimensions import FOOT_M
from leadsman.lake.edge import EdgeLine
from leadsman.lake.model_file import write_atomically
from leadsman.lake.structure import Stretch

FloatArray = npt.NDArray[np.float64]

GPX_NAMESPACE = "http://www.topografix.com/GPX/1/1"
DEPTH_NAMESPACE = "urn:leadsman:gpx:1"
"""Namespace of ``depth`` [m] and ``depth_se`` [m] in extensions."""
CAUTION = "Not for navigation. Level, stumps and shallows differ from any map."
DECIMALS = 7


@dataclass(frozen=True, slots=True)
class Waypoint:
    """A place with a name.

    Parameters
    ----------
    lon_deg, lat_deg : float
        Position [deg].
    name : str
        Short name [-].
    text : str
        What is there [-].
    depth_m : float or None
        Depth below the surface [m].
    """

    lon_deg: float
    lat_deg: float
    name: str
    text: str = ""
    depth_m: float | None = None


@dataclass(frozen=True, slots=True)
class Track:
    """A line to follow.

    Parameters
    ----------
    lon_deg, lat_deg : ndarray, shape (n,)
        Positions in order [deg].
    name : str
        Short name [-].
    text : str
        What it is [-].
    depth_m : float or None
        Depth along it [m].
    is_route : bool
        Written as a route to steer by instead of a track [-].
    """

    lon_deg: FloatArray
    lat_deg: FloatArray
    name: str
    text: str = ""
    depth_m: float | None = None
    is_route: bool = False


def gpx_text(
    waypoints: Sequence[Waypoint] = (),
    tracks: Sequence[Track] = (),
    title: str = "",
    made_at: datetime | None = None,
) -> str:
    """A whole GPX document.

    Parameters
    ----------
    waypoints : sequence of Waypoint
        Places [-].
    tracks : sequence of Track
        Lines; those marked as routes come before the tracks [-].
    title : str
        Name of the document [-].
    made_at : datetime or None
        When it was made; None leaves it out, so that the same input gives the same file [-].

    Raises
    ------
    ValueError
        A position is not a number or not on Earth.
    """
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<gpx version="1.1" creator="Leadsman" xmlns="{GPX_NAMESPACE}" '
        f'xmlns:lm="{DEPTH_NAMESPACE}">\n<metadata>'
    ]
    if title:
        parts.append(f"<name>{_text(title)}</name>")
    parts.append(f"<desc>{_text(CAUTION)}</desc>")
    if made_at is not None:
        parts.append(f"<time>{made_at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}</time>")
    parts.append("</metadata>\n")
    parts += [_waypoint("wpt", w) for w in waypoints]
    parts += [_route(t) for t in tracks if t.is_route]
    parts += [_track(t) for t in tracks if not t.is_route]
    parts.append("</gpx>\n")
    return "".join(parts)


def write_gpx(
    path: Path,
    waypoints: Sequence[Waypoint] = (),
    tracks: Sequence[Track] = (),
    title: str = "",
) -> None:
    """Write a GPX document, replacing the file in one step.

    Parameters
    ----------
    path : pathlib.Path
        Where to [-].
    waypoints : sequence of Waypoint
        Places [-].
    tracks : sequence of Track
        Lines [-].
    title : str
        Name of the document [-].

    Raises
    ------
    LakeDataError
        It cannot be written.
    """
    write_atomically(path, gpx_text(waypoints, tracks, title).encode("utf-8"))


def edge_tracks(lines: Sequence[EdgeLine], name: str = "Edge") -> list[Track]:
    """Lines of depth as tracks.

    Parameters
    ----------
    lines : sequence of EdgeLine
        The lines [-].
    name : str
        What they are [-].
    """
    out: list[Track] = []
    for number, line in enumerate(lines, 1):
        lon, lat = line.lonlat()
        error = float(np.median(line.position_se_m))
        out.append(
            Track(
                lon, lat, f"{name} {number}", f"Place within {error:.0f} m (1 s.e.)", line.depth_m
            )
        )
    return out


def stretch_waypoints(
    stretches: Sequence[Stretch], lines: Sequence[EdgeLine], most: int = 20
) -> list[Waypoint]:
    """Middles of the best stretches, numbered by rank.

    Parameters
    ----------
    stretches : sequence of Stretch
        Best first [-].
    lines : sequence of EdgeLine
        The lines they lie on [-].
    most : int
        How many [-].
    """
    return [
        Waypoint(s.lon_deg, s.lat_deg, f"{rank} {s.kind}", s.reason, lines[s.line].depth_m)
        for rank, s in enumerate(stretches[:most], 1)
    ]


def _text(text: str) -> str:
    """Text that XML 1.0 can hold."""
    return escape("".join(c for c in text if c in "\t\n" or (c >= " " and c not in "\ufffe\uffff")))


def _place(lon: float, lat: float) -> str:
    if not (math.isfinite(lon) and math.isfinite(lat) and abs(lon) <= 180.0 and abs(lat) <= 90.0):
        raise ValueError("a position is not on Earth")
    # GPX 1.1: longitude is -180 <= lon < 180.
    lon = -180.0 if round(lon, DECIMALS) >= 180.0 else lon
    return f"lat={quoteattr(f'{lat:.{DECIMALS}f}')} lon={quoteattr(f'{lon:.{DECIMALS}f}')}"


def _about(name: str, text: str, depth_m: float | None) -> str:
    """Name and description; the depth is said in words for devices that know no extensions."""
    words = [text] if text else []
    if depth_m is not None:
        words.insert(0, f"Depth {depth_m:.1f} m ({depth_m / FOOT_M:.0f} ft).")
    desc = f"<desc>{_text(' '.join(words))}</desc>" if words else ""
    return f"<name>{_text(name)}</name>{desc}"


def _extension(depth_m: float | None) -> str:
    if depth_m is None:
        return ""
    return f"<extensions><lm:depth>{depth_m:.2f}</lm:depth></extensions>"


def _waypoint(tag: str, w: Waypoint) -> str:
    about = _about(w.name, w.text, w.depth_m)
    return f"<{tag} {_place(w.lon_deg, w.lat_deg)}>{about}{_extension(w.depth_m)}</{tag}>\n"


def _route(track: Track) -> str:
    points = "".join(
        f"<rtept {_place(float(a), float(b))}></rtept>"
        for a, b in zip(track.lon_deg, track.lat_deg, strict=True)
    )
    about = _about(track.name, track.text, track.depth_m)
    return f"<rte>{about}{_extension(track.depth_m)}{points}</rte>\n"


def _track(track: Track) -> str:
    extension = _extension(track.depth_m)
    points = "".join(
        f"<trkpt {_place(float(a), float(b))}>{extension}</trkpt>"
        for a, b in zip(track.lon_deg, track.lat_deg, strict=True)
    )
    about = _about(track.name, track.text, track.depth_m)
    return f"<trk>{about}{extension}<trkseg>{points}</trkseg></trk>\n"
