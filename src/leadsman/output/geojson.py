"""GeoJSON (RFC 7946): WGS84 without a ``crs`` member, depth in properties, right-hand rings."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import numpy.typing as npt

from leadsman.lake.edge import EdgeLine
from leadsman.lake.model_file import write_atomically
from leadsman.lake.structure import Stretch

FloatArray = npt.NDArray[np.float64]
Value = str | float | int | bool | None

DECIMALS = 7
"""Decimals of a degree written [-]: 1 cm."""


@dataclass(frozen=True, slots=True)
class Feature:
    """One shape with what is known about it.

    Parameters
    ----------
    kind : {"Point", "LineString", "Polygon"}
        Its geometry [-].
    lon_deg, lat_deg : tuple of ndarray
        Positions; several arrays for a polygon's rings, the outer one first [deg].
    properties : dict
        Depth and the like, with the unit in each name [-].
    """

    kind: str
    lon_deg: tuple[FloatArray, ...]
    lat_deg: tuple[FloatArray, ...]
    properties: dict[str, Value] = field(default_factory=dict)


def line_feature(lon_deg: FloatArray, lat_deg: FloatArray, **properties: Value) -> Feature:
    """Line through some positions.

    Parameters
    ----------
    lon_deg, lat_deg : ndarray, shape (n,)
        Positions [deg].
    **properties
        What is known about it [-].
    """
    return Feature("LineString", (lon_deg,), (lat_deg,), dict(properties))


def point_feature(lon_deg: float, lat_deg: float, **properties: Value) -> Feature:
    """One position.

    Parameters
    ----------
    lon_deg, lat_deg : float
        Position [deg].
    **properties
        What is known about it [-].
    """
    return Feature("Point", (np.array([lon_deg]),), (np.array([lat_deg]),), dict(properties))


def polygon_feature(rings: Sequence[tuple[FloatArray, FloatArray]], **properties: Value) -> Feature:
    """Area with holes.

    Parameters
    ----------
    rings : sequence of tuple of ndarray
        Longitudes and latitudes, the outer ring first [deg].
    **properties
        What is known about it [-].
    """
    return Feature(
        "Polygon", tuple(r[0] for r in rings), tuple(r[1] for r in rings), dict(properties)
    )


def edge_features(lines: Sequence[EdgeLine], what: str = "edge") -> list[Feature]:
    """Lines of depth with the error of their place.

    Parameters
    ----------
    lines : sequence of EdgeLine
        The lines [-].
    what : str
        What they are [-].
    """
    out: list[Feature] = []
    for number, line in enumerate(lines, 1):
        lon, lat = line.lonlat()
        out.append(
            line_feature(
                lon, lat, what=what, line=number, depth_m=round(line.depth_m, 3),
                length_m=round(line.length_m, 1),
                depth_se_m=round(float(np.median(line.depth_se_m)), 3),
                position_se_m=round(float(np.median(line.position_se_m)), 1),
            )
        )  # fmt: skip
    return out


def stretch_features(stretches: Sequence[Stretch], lines: Sequence[EdgeLine]) -> list[Feature]:
    """Ranked stretches as lines.

    Parameters
    ----------
    stretches : sequence of Stretch
        Best first [-].
    lines : sequence of EdgeLine
        The lines they lie on [-].
    """
    out: list[Feature] = []
    for rank, stretch in enumerate(stretches, 1):
        lon, lat = lines[stretch.line].lonlat()
        part = slice(stretch.first, stretch.last + 1)
        out.append(
            line_feature(
                lon[part], lat[part], what="stretch", rank=rank, kind=stretch.kind,
                depth_m=round(lines[stretch.line].depth_m, 3), score=round(stretch.score, 3),
                length_m=round(stretch.length_m, 1), slope=round(stretch.slope, 4),
                flat_width_m=round(stretch.flat_width_m, 1),
                deep_distance_m=_finite(stretch.deep_distance_m),
                radius_m=_finite(stretch.radius_m), reason=stretch.reason,
            )
        )  # fmt: skip
    return out


def _finite(value: float) -> float | None:
    return round(value, 1) if math.isfinite(value) else None


def geojson_text(features: Sequence[Feature]) -> str:
    """A feature collection.

    Parameters
    ----------
    features : sequence of Feature
        The features [-].

    Raises
    ------
    ValueError
        A position is not a number or not on Earth.
    """
    items = [
        {"type": "Feature", "properties": _clean(f.properties), "geometry": _geometry(f)}
        for f in features
    ]
    return json.dumps(
        {"type": "FeatureCollection", "features": items}, ensure_ascii=False, allow_nan=False
    )


def write_geojson(path: Path, features: Sequence[Feature]) -> None:
    """Write a feature collection, replacing the file in one step.

    Parameters
    ----------
    path : pathlib.Path
        Where to [-].
    features : sequence of Feature
        The features [-].

    Raises
    ------
    LakeDataError
        It cannot be written.
    """
    write_atomically(path, geojson_text(features).encode("utf-8"))


def _clean(properties: dict[str, Value]) -> dict[str, Value]:
    """JSON has no NaN and no infinity."""
    return {
        name: None if isinstance(value, float) and not math.isfinite(value) else value
        for name, value in properties.items()
    }


def _geometry(feature: Feature) -> dict[str, object]:
    for lon, lat in zip(feature.lon_deg, feature.lat_deg, strict=True):
        if not (np.all(np.abs(lon) <= 180.0) and np.all(np.abs(lat) <= 90.0)):
            raise ValueError("a position is not on Earth")
    if feature.kind == "Point":
        return {
            "type": "Point",
            "coordinates": _positions(feature.lon_deg[0], feature.lat_deg[0])[0],
        }
    if feature.kind == "LineString":
        parts = cut_at_antimeridian(feature.lon_deg[0], feature.lat_deg[0])
        lines = [_positions(*part) for part in parts]
        if len(lines) == 1:
            return {"type": "LineString", "coordinates": lines[0]}
        return {"type": "MultiLineString", "coordinates": lines}
    rings = [
        _positions(*_wound(lon, lat, outer=index == 0))
        for index, (lon, lat) in enumerate(zip(feature.lon_deg, feature.lat_deg, strict=True))
    ]
    return {"type": "Polygon", "coordinates": rings}


def _positions(lon: FloatArray, lat: FloatArray) -> list[list[float]]:
    return [
        [round(float(a), DECIMALS), round(float(b), DECIMALS)]
        for a, b in zip(lon, lat, strict=True)
    ]


def _wound(lon: FloatArray, lat: FloatArray, outer: bool) -> tuple[FloatArray, FloatArray]:
    """Ring closed, counter-clockwise outside and clockwise inside (RFC 7946, 3.1.6)."""
    if lon[0] != lon[-1] or lat[0] != lat[-1]:
        lon, lat = np.append(lon, lon[0]), np.append(lat, lat[0])
    area = float(np.sum(lon[:-1] * lat[1:] - lon[1:] * lat[:-1]))
    return (lon, lat) if (area > 0.0) == outer else (lon[::-1], lat[::-1])


def cut_at_antimeridian(lon: FloatArray, lat: FloatArray) -> list[tuple[FloatArray, FloatArray]]:
    """A line in parts that do not cross 180 degrees (RFC 7946, 3.1.9).

    Parameters
    ----------
    lon, lat : ndarray, shape (n,)
        Positions [deg].

    Returns
    -------
    list of tuple of ndarray
        Parts; one where nothing is crossed [deg].
    """
    jumps = np.flatnonzero(np.abs(np.diff(lon)) > 180.0)
    parts: list[tuple[FloatArray, FloatArray]] = []
    start_lon: list[float] = []
    start_lat: list[float] = []
    begin = 0
    for jump in jumps:
        side = math.copysign(180.0, float(lon[jump]))
        span = float(lon[jump + 1] - lon[jump]) + 2.0 * side
        share = (side - float(lon[jump])) / span if span else 0.0
        at = float(lat[jump]) + share * float(lat[jump + 1] - lat[jump])
        parts.append(
            (np.array([*start_lon, *lon[begin : jump + 1], side]),
             np.array([*start_lat, *lat[begin : jump + 1], at]))
        )  # fmt: skip
        start_lon, start_lat, begin = [-side], [at], int(jump) + 1
    parts.append((np.array([*start_lon, *lon[begin:]]), np.array([*start_lat, *lat[begin:]])))
    return [part for part in parts if part[0].size >= 2]
