"""The bottom along a cast, from raw soundings or from a list of depths."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import numpy as np

from leadsman.errors import LakeDataError, QuantityError, Where
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.lake.frame import MetricFrame
from leadsman.lake.local_kriging import fit_variogram, krige
from leadsman.lake.soundings import BoolArray, FloatArray, Soundings
from leadsman.lake.survey_error import survey_se_m
from leadsman.units import parse_length_m

SUPPORT_M = 25.0
"""A place farther than this from every sounding is not known [m]; a choice of ours, told by
the profile's own standard error well before."""
BESIDE_M = 8.0
"""Beyond the outermost soundings the bottom is carried on no farther than this [m]."""
STEP_M = 1.0
"""Spacing of the profile [m]."""
VARIOGRAM_REACH_M = 60.0
"""Farthest soundings compared for the variogram [m]."""
THIN_CELL_M = 1.0
"""Soundings in one cell of this width are averaged before kriging [m]."""
MAX_CAST_M = 200.0
"""Longest cast, as in `Technique` [m]."""


@dataclass(frozen=True, slots=True)
class CastProfile:
    """The bottom under a cast and how it was found.

    Parameters
    ----------
    bottom : BottomProfile
        Depth from the rod tip outward, with its standard error [-].
    lat_deg, lon_deg : float
        Where the angler stands [deg].
    heading_deg : float
        True heading of the cast, clockwise from north [deg].
    support_m : ndarray, shape (n,)
        Distance from each point of the profile to the nearest sounding [m].
    said : tuple of str
        How it was found, each a sentence [-].
    """

    bottom: BottomProfile
    lat_deg: float
    lon_deg: float
    heading_deg: float
    support_m: FloatArray
    said: tuple[str, ...] = ()


def profile_from_soundings(
    soundings: Soundings,
    lat_deg: float,
    lon_deg: float,
    heading_deg: float,
    length_m: float,
    level_m: float = 0.0,
    support_m: float = SUPPORT_M,
) -> CastProfile:
    """Bottom under a cast, by ordinary kriging on the soundings around it.

    Parameters
    ----------
    soundings : Soundings
        Cleaned soundings [-].
    lat_deg, lon_deg : float
        Where the rod tip is [deg].
    heading_deg : float
        True heading of the cast, clockwise from north [deg].
    length_m : float
        Length of the cast [m].
    level_m : float
        Water level now above the level of the soundings' day [m].
    support_m : float
        Farthest a sounding may be from the cast [m].

    Returns
    -------
    CastProfile
        The profile.

    Raises
    ------
    LakeDataError
        The cast leaves the soundings or the water; the message says where.
    """
    x_m, at_x, at_y, frame = cast_line(lat_deg, lon_deg, heading_deg, length_m)
    x, y = frame.to_metric(soundings.lon_deg, soundings.lat_deg)
    margin = max(support_m * 2.0, VARIOGRAM_REACH_M) + 5.0
    near = (
        (x > at_x.min() - margin)
        & (x < at_x.max() + margin)
        & (y > at_y.min() - margin)
        & (y < at_y.max() + margin)
    )
    if np.count_nonzero(near) < 3:
        raise LakeDataError(
            f"no soundings lie within {margin:.0f} m of a cast from {lat_deg:.5f}, {lon_deg:.5f}",
            soundings.source,
            _where_are_they(soundings),
        )
    x, y, depth = _thin(x[near], y[near], soundings.depth_m[near])
    reach = _check_support(x, y, at_x, at_y, x_m, support_m, soundings.source)
    variogram = fit_variogram(x, y, depth, VARIOGRAM_REACH_M)
    found, se = krige(x, y, depth, variogram, at_x, at_y)
    found = found + level_m
    dry = np.flatnonzero(found <= 0.0)
    if dry.size:
        raise LakeDataError(
            f"the cast leaves the water {x_m[dry[0]]:.0f} m out, where the bottom comes up",
            soundings.source,
            "Cast the other way or shorter",
        )
    se = np.hypot(se, survey_se_m(found))
    bottom = BottomProfile(x_m, found, se)
    return CastProfile(
        bottom, lat_deg, lon_deg, heading_deg % 360.0, reach, _told(x.size, reach, se)
    )


def _told(count: int, reach: FloatArray, se: FloatArray) -> tuple[str, ...]:
    return (
        f"Bottom from {count:,} soundings around the cast, the farthest point "
        f"{float(np.max(reach)):.0f} m from one; standard error {float(np.min(se)):.2f} to "
        f"{float(np.max(se)):.2f} m",
    )


def cast_line(
    lat_deg: float, lon_deg: float, heading_deg: float, length_m: float
) -> tuple[FloatArray, FloatArray, FloatArray, MetricFrame]:
    """Distances along a cast and its places in a frame centred on the rod tip.

    Parameters
    ----------
    lat_deg, lon_deg : float
        Where the rod tip is [deg].
    heading_deg : float
        True heading, clockwise from north [deg].
    length_m : float
        Length of the cast [m].

    Returns
    -------
    tuple
        Distances, metres east and north of the tip, each of shape (n,) [m],
        and the frame, whose centre is the tip and whose north is true.

    Raises
    ------
    LakeDataError
        It is no cast.
    """
    if not all(math.isfinite(v) for v in (lat_deg, lon_deg, heading_deg, length_m)):
        raise LakeDataError("position, heading and length must be numbers", "cast")
    if not 1.0 <= length_m <= MAX_CAST_M:
        raise LakeDataError(
            f"a cast of {length_m:.4g} m is outside 1 to {MAX_CAST_M:.0f} m", "cast"
        )
    if not (abs(lat_deg) <= 85.0 and abs(lon_deg) <= 180.0):
        raise LakeDataError(
            f"latitude {lat_deg:.6g}, longitude {lon_deg:.6g} is no place on a lake",
            "cast",
            "Give latitude first",
        )
    if not -360.0 <= heading_deg <= 360.0:
        raise LakeDataError(f"heading {heading_deg:.6g} is outside 0 to 360 degrees", "cast")
    frame = MetricFrame(lon_deg, lat_deg)
    x_m = np.linspace(0.0, length_m, max(math.ceil(length_m / STEP_M), 1) + 1)
    angle = math.radians(heading_deg)
    return x_m, x_m * math.sin(angle), x_m * math.cos(angle), frame


def _thin(
    x: FloatArray, y: FloatArray, depth: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Means over small cells, so that a slow boat does not fill the neighbourhood."""
    cell = np.stack([np.floor(x / THIN_CELL_M), np.floor(y / THIN_CELL_M)], axis=1).astype(np.int64)
    _, inverse, counts = np.unique(cell, axis=0, return_inverse=True, return_counts=True)
    inverse = inverse.reshape(-1)
    return (
        np.bincount(inverse, x) / counts,
        np.bincount(inverse, y) / counts,
        np.bincount(inverse, depth) / counts,
    )


def _check_support(
    x: FloatArray,
    y: FloatArray,
    at_x: FloatArray,
    at_y: FloatArray,
    along_m: FloatArray,
    support_m: float,
    source: str,
) -> FloatArray:
    """Distance to the nearest sounding; refuses where the soundings end.

    A place counts as surveyed when a sounding is very near, or when one is
    within the support and soundings lie around it on more than one side.
    """
    from scipy.spatial import cKDTree

    tree = cKDTree(np.stack([x, y], axis=1))
    places = np.stack([at_x, at_y], axis=1)
    distance = np.asarray(tree.query(places)[0], dtype=np.float64)
    ok: BoolArray = distance <= BESIDE_M
    for index in np.flatnonzero((distance <= support_m) & ~ok):
        around = np.asarray(tree.query_ball_point(places[index], 2.0 * support_m), dtype=np.int64)
        angle = np.sort(np.arctan2(y[around] - at_y[index], x[around] - at_x[index]))
        gaps = np.diff(np.concatenate([angle, [angle[0] + 2.0 * math.pi]]))
        ok[index] = float(np.max(gaps)) < math.pi
    bad = np.flatnonzero(~ok)
    if bad.size:
        first = float(along_m[bad[0]])
        where = (
            "starts off the soundings"
            if first == 0.0
            else f"leaves the soundings {first:.0f} m out"
        )
        raise LakeDataError(
            f"the cast {where}; the nearest is {float(distance[bad[0]]):.0f} m away there, "
            "so the bottom is not known",
            source,
            "Cast over water that was sounded, or shorter",
        )
    return distance


def _where_are_they(soundings: Soundings) -> str:
    lat, lon = float(np.median(soundings.lat_deg)), float(np.median(soundings.lon_deg))
    return f"They lie around {lat:.5f}, {lon:.5f}"


_PAIR = re.compile(r"^\s*([^:]+):([^:]+)$")


def profile_from_list(
    text: str, length_m: float, default_unit: str | None = None, source: str = "depths"
) -> BottomProfile:
    """Bottom from depths typed by hand.

    ``"8,9,10,12 ft"`` are depths evenly spaced from rod tip to lure;
    ``"0 yd: 8 ft, 30 yd: 10 ft"`` are pairs of distance and depth. A unit
    after the last number holds for all bare ones.

    Parameters
    ----------
    text : str
        The list [-].
    length_m : float
        Length of the cast, over which evenly spaced depths spread [m].
    default_unit : str or None
        Unit where the list names none; None refuses such a list [-].
    source : str
        Name of the option for messages [-].

    Returns
    -------
    BottomProfile
        The profile; a single depth is a level bottom.

    Raises
    ------
    LakeDataError
        It is no such list.
    """
    parts = [part.strip() for part in re.split(r"[,;\n]", text) if part.strip()]
    if not parts or len(parts) > 500:
        raise LakeDataError(
            "holds no depths, or more than 500", source, "Write it like 8,9,10,12 ft"
        )
    pairs = [_PAIR.match(part) for part in parts]
    if any(pairs) and not all(pairs):
        raise LakeDataError("mixes plain depths with distance:depth pairs", source)
    depth_texts = [match[2] if match else part for match, part in zip(pairs, parts, strict=True)]
    depths = _lengths(depth_texts, default_unit, source)
    if all(pairs):
        x = _lengths(
            [match[1] for match in pairs if match],
            _unit_of(depth_texts[-1]) or default_unit,
            source,
        )
        if len(x) == 1:
            return _checked(np.array([0.0, 1.0]), np.array(depths * 2), source)
        if np.any(np.diff(x) <= 0.0):
            raise LakeDataError("distances must rise from one pair to the next", source)
        return _checked(np.array(x), np.array(depths), source)
    if len(depths) == 1:
        return _checked(np.array([0.0, 1.0]), np.array(depths * 2), source)
    return _checked(np.linspace(0.0, length_m, len(depths)), np.array(depths), source)


def _unit_of(text: str) -> str | None:
    match = re.search(r"([A-Za-z'\"]+)\s*$", text)
    return match[1] if match else None


def _lengths(texts: list[str], default_unit: str | None, source: str) -> list[float]:
    """Lengths in metres; a unit after the last one holds for all bare ones."""
    unit = _unit_of(texts[-1]) or default_unit
    values: list[float] = []
    for place, text in enumerate(texts, 1):
        try:
            values.append(parse_length_m(text, Where(source, field=f"item {place}"), unit))
        except QuantityError as error:
            raise LakeDataError(error.problem, error.where, error.remedy) from error
    return values


def _checked(x: FloatArray, depth: FloatArray, source: str) -> BottomProfile:
    if np.any(depth <= 0.0) or np.any(depth > 300.0) or np.any(x < 0.0):
        raise LakeDataError(
            "depths must be over 0 and at most 300 m, distances not negative", source
        )
    return BottomProfile(x, depth)
