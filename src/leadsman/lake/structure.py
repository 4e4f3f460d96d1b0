"""What a line of depth does along its way: points, inside turns, drops, flats, deep water.

Which of these hold fish is common practice and has no source; the weights are
stated, and each stretch says in plain words why it stands where it does.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leadsman.dimensions import FOOT_M
from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.curvature import curvature
from leadsman.lake.edge import EdgeLine
from leadsman.lake.soundings import BoolArray, FloatArray

Kind = Literal["point", "inside turn", "straight"]

SCALE_M = 60.0
"""Scale at which bends are looked for [m]: about one long cast."""
BEND_RADIUS_SCALES = 2.0
"""A bend is one whose radius is at most this many scales [-]; a choice of ours."""
BEND_OVER_ERROR = 1.5
"""... that rises this many standard errors of the line's place out of its chord [-]; ours."""
BEND_LENGTH_SCALES = 0.4
"""... and is at least this many scales long [-]; a choice of ours."""
STRAIGHT_M = 150.0
"""Length into which straight stretches are cut [m]."""
FLAT_FALL_M = 1.5
"""The flat behind an edge reaches as far as it is at most this much shallower [m]; 5 ft."""
DEEP_MORE_M = 3.0
"""Deep water is this much deeper than the edge [m]; 10 ft, a choice of ours."""
REACH_M = 400.0
"""As far as the flat behind and deep water are looked for [m]."""
PROBE_STEP_M = 5.0


@dataclass(frozen=True, slots=True)
class StructureWeights:
    """How much each trait counts; common practice, no source.

    Parameters
    ----------
    bend, steepness, flat, deep_water : float
        Weights of a bend's sharpness, the drop beside it, the flat behind it
        and the nearness of deep water; only their ratios matter [-].
    """

    bend: float = 0.35
    steepness: float = 0.25
    flat: float = 0.15
    deep_water: float = 0.25


@dataclass(frozen=True, slots=True)
class Traits:
    """What lies along and beside a line, at each of its places.

    Parameters
    ----------
    curvature_per_m : ndarray, shape (n,)
        Bend of the line at the stated scale; positive where it bulges toward
        deep water (a point), negative on inside turns [m-1].
    slope : ndarray, shape (n,)
        Steepest 20 m of the drop within 40 m outside the line [m m-1].
    flat_width_m : ndarray, shape (n,)
        Width of the ground behind that is little shallower [m].
    deep_distance_m : ndarray, shape (n,)
        Distance to the nearest deep water; infinite where there is none near [m].
    scale_m : float
        Scale of the curvature [m].
    """

    curvature_per_m: FloatArray
    slope: FloatArray
    flat_width_m: FloatArray
    deep_distance_m: FloatArray
    scale_m: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of an edge and why it is worth a cast.

    Parameters
    ----------
    kind : {"point", "inside turn", "straight"}
        Its shape [-].
    line : int
        Number of its line [-].
    first, last : int
        Its places on the line, both included; `last` may pass the end of a
        closed line [-].
    length_m : float
        Its length [m].
    lon_deg, lat_deg : float
        Its middle [deg].
    radius_m : float
        Radius of the bend at the stated scale; infinite if straight [m].
    slope, flat_width_m, deep_distance_m : float
        Medians over the stretch [m m-1, m, m].
    position_se_m : float
        Median standard error of its place [m].
    score : float
        From 0 to 1 [-].
    reason : str
        Why, in one sentence [-].
    """

    kind: Kind
    line: int
    first: int
    last: int
    length_m: float
    lon_deg: float
    lat_deg: float
    radius_m: float
    slope: float
    flat_width_m: float
    deep_distance_m: float
    position_se_m: float
    score: float
    reason: str


def traits(
    model: BottomModel, line: EdgeLine, scale_m: float = SCALE_M, level_m: float = 0.0
) -> Traits:
    """What lies along and beside a line.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    line : EdgeLine
        A line on it [-].
    scale_m : float
        Scale at which bends are looked for [m].
    level_m : float
        Water level now above the model's reference [m].

    Returns
    -------
    Traits
        One value for each place.

    Raises
    ------
    LakeDataError
        The scale makes no sense.
    """
    if not 5.0 <= scale_m <= 1000.0:
        raise LakeDataError(f"a scale of {scale_m:.4g} m is outside 5 to 1000 m", "scale")
    return Traits(
        curvature(line, scale_m),
        _drop_outside(model, line),
        _flat_behind(model, line, level_m),
        _deep_distance(model, line, level_m),
        scale_m,
    )


def _drop_outside(model: BottomModel, line: EdgeLine) -> FloatArray:
    """Steepest 20 m within 40 m on the deep side; the line's own slope where unknown."""
    at = (0.0, 10.0, 20.0, 30.0, 40.0)
    depth = [
        model.sample(line.x_m + d * line.to_deep_x, line.y_m + d * line.to_deep_y)[0] for d in at
    ]
    falls = np.stack([(depth[i + 2] - depth[i]) / 20.0 for i in range(3)])
    steepest = np.max(np.where(np.isfinite(falls), falls, -np.inf), axis=0)
    return np.maximum(np.where(np.isfinite(steepest), steepest, line.slope), 0.0)


def _flat_behind(model: BottomModel, line: EdgeLine, level_m: float) -> FloatArray:
    """Distance toward the shore over which the bottom is little shallower."""
    width = np.zeros(line.x_m.shape)
    going = np.ones(line.x_m.shape, dtype=bool)
    for distance in np.arange(PROBE_STEP_M, REACH_M + 0.1, PROBE_STEP_M):
        depth, _ = model.sample(
            line.x_m[going] - distance * line.to_deep_x[going],
            line.y_m[going] - distance * line.to_deep_y[going],
        )
        with np.errstate(invalid="ignore"):
            still = (depth + level_m >= line.depth_m - FLAT_FALL_M) & (
                depth + level_m <= line.depth_m + 0.5
            )
        index = np.flatnonzero(going)
        width[index[still]] = distance
        going[index[~still]] = False
        if not np.any(going):
            break
    return width


def _deep_distance(model: BottomModel, line: EdgeLine, level_m: float) -> FloatArray:
    """Distance to the nearest cell of deep water."""
    from scipy.spatial import cKDTree

    lattice = model.lattice
    with np.errstate(invalid="ignore"):
        rows, cols = np.nonzero(model.depth_m + np.float32(level_m) >= line.depth_m + DEEP_MORE_M)
    if rows.size == 0:
        return np.full(line.x_m.shape, np.inf)
    tree = cKDTree(np.stack([lattice.x_m[cols], lattice.y_m[rows]], axis=1))
    places = np.stack([line.x_m, line.y_m], axis=1)
    found = tree.query(places, distance_upper_bound=REACH_M)[0]
    return np.asarray(found, dtype=np.float64)


def rank_stretches(
    model: BottomModel,
    lines: tuple[EdgeLine, ...],
    scale_m: float = SCALE_M,
    level_m: float = 0.0,
    weights: StructureWeights | None = None,
    metric_units: bool = False,
) -> tuple[Stretch, ...]:
    """Stretches of some lines, best first.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    lines : tuple of EdgeLine
        Lines on it [-].
    scale_m : float
        Scale at which bends are looked for [m].
    level_m : float
        Water level now above the model's reference [m].
    weights : StructureWeights or None
        How much each trait counts [-].
    metric_units : bool
        Write reasons in metres instead of feet and yards [-].

    Returns
    -------
    tuple of Stretch
        Points, inside turns and straight pieces.
    """
    weights = weights or StructureWeights()
    out: list[Stretch] = []
    for number, line in enumerate(lines):
        have = traits(model, line, scale_m, level_m)
        for kind, first, last in _pieces(line, have):
            out.append(_stretch(kind, number, first, last, line, have, weights, metric_units))
    return tuple(sorted(out, key=lambda stretch: -stretch.score))


def _pieces(line: EdgeLine, have: Traits) -> list[tuple[Kind, int, int]]:
    """Bends first, then what is left in pieces of even length."""
    bend = have.curvature_per_m
    n = bend.size
    # A bend has to stand out of the error of the line's place: its rise over a chord of one
    # scale is scale^2 / 8 R.
    limit = np.maximum(
        1.0 / (BEND_RADIUS_SCALES * have.scale_m),
        8.0 * BEND_OVER_ERROR * line.position_se_m / have.scale_m**2,
    )
    taken = np.zeros(n, dtype=bool)
    pieces: list[tuple[Kind, int, int]] = []
    for peak in np.argsort(-np.abs(bend), kind="stable"):
        if abs(bend[peak]) < limit[peak] or taken[peak]:
            continue
        first = last = int(peak)
        same = np.sign(bend) == np.sign(bend[peak])
        strong = same & (np.abs(bend) > 0.4 * abs(bend[peak]))
        while first > 0 and strong[first - 1] and not taken[first - 1]:
            first -= 1
        while last < n - 1 and strong[last + 1] and not taken[last + 1]:
            last += 1
        if line.along_m[last] - line.along_m[first] >= BEND_LENGTH_SCALES * have.scale_m:
            first, last = _widened(first, last, line, have.scale_m, taken)
            taken[first : last + 1] = True
            pieces.append(("point" if bend[peak] > 0.0 else "inside turn", first, last))
    edges = np.flatnonzero(np.diff(np.concatenate([[1], taken.astype(np.int8), [1]])))
    for start, stop in zip(edges[::2], edges[1::2], strict=True):
        length = float(line.along_m[stop - 1] - line.along_m[start])
        count = max(round(length / STRAIGHT_M), 1)
        cuts = np.linspace(start, stop - 1, count + 1).astype(int)
        for first, last in itertools.pairwise(map(int, cuts)):
            if line.along_m[last] - line.along_m[first] >= 0.3 * STRAIGHT_M:
                pieces.append(("straight", first, last))
    return pieces


def _widened(
    first: int, last: int, line: EdgeLine, scale_m: float, taken: BoolArray
) -> tuple[int, int]:
    """A bend with its shoulders, one scale long where nothing else is in the way."""
    n = line.along_m.size
    while line.along_m[last] - line.along_m[first] < scale_m:
        room_before = first > 0 and not taken[first - 1]
        room_after = last < n - 1 and not taken[last + 1]
        if not (room_before or room_after):
            break
        first -= int(room_before)
        last += int(room_after)
    return first, last


def _stretch(
    kind: Kind,
    number: int,
    first: int,
    last: int,
    line: EdgeLine,
    have: Traits,
    weights: StructureWeights,
    metric_units: bool,
) -> Stretch:
    part = slice(first, last + 1)
    sharpest = float(np.max(np.abs(have.curvature_per_m[part])))
    radius = 1.0 / sharpest if kind != "straight" and sharpest > 0.0 else float("inf")
    slope = float(np.median(have.slope[part]))
    flat = float(np.median(have.flat_width_m[part]))
    deep = float(np.median(have.deep_distance_m[part]))
    # Each trait from 0 to 1; the halves at a radius of one scale, 1 in 10, 40 m and 60 m.
    marks = (
        min(have.scale_m / (have.scale_m + radius), 1.0) if np.isfinite(radius) else 0.0,
        slope / (slope + 0.1),
        flat / (flat + 40.0),
        60.0 / (60.0 + deep) if np.isfinite(deep) else 0.0,
    )
    each = (weights.bend, weights.steepness, weights.flat, weights.deep_water)
    score = float(np.dot(marks, each) / sum(each))
    middle = (first + last) // 2
    lon, lat = line.frame.to_lonlat(line.x_m[middle], line.y_m[middle])
    return Stretch(
        kind, number, first, last, float(line.along_m[last] - line.along_m[first]), float(lon),
        float(lat), radius, slope, flat, deep, float(np.median(line.position_se_m[part])), score,
        _reason(kind, radius, slope, flat, deep, metric_units),
    )  # fmt: skip


def _reason(
    kind: Kind, radius: float, slope: float, flat: float, deep: float, metric_units: bool
) -> str:
    """One sentence a person could act on."""

    def far(metres: float) -> str:
        return f"{metres:.0f} m" if metric_units else f"{metres / (3.0 * FOOT_M):.0f} yd"

    shape = {
        "point": f"a point, bending around {far(radius)}",
        "inside turn": f"an inside turn, bending around {far(radius)}",
        "straight": "a straight stretch",
    }[kind]
    if slope >= 0.005:
        drop = f"{'steep' if slope > 0.12 else 'gentle'} outside (1 in {1.0 / slope:.0f})"
    else:
        drop = "level outside"
    behind = f"{far(flat)} of flat behind" if flat >= 10.0 else "no flat behind"
    water = f"deep water {far(deep)} away" if np.isfinite(deep) else "no deep water near"
    return f"{shape[0].upper()}{shape[1:]}: {drop}, {behind}, {water}"
