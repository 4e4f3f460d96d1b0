"""Where to run the sounder next, so that the error falls where it matters most.

What matters is the ground within a cast of the edge. A run zigzags along a
piece of the edge; it is worth the error it takes away for the time it takes,
getting there included. Runs are chosen one by one, the best first (greedy; the
gain of a set of runs is submodular, so that is within 1 - 1/e of the best:
Nemhauser, Wolsey & Fisher 1978, Math. Program. 14:265-294, from memory), and
then put in order by the nearest next.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.edge import EdgeLine
from leadsman.lake.frame import MetricFrame
from leadsman.lake.soundings import FloatArray

PIECE_M = 250.0
"""Length of edge that one run covers [m]."""
ZIGZAG_M = 35.0
"""How far a run swings to either side of the edge [m]: half a long cast."""
WAVE_M = 80.0
"""Length of edge for one swing out and back [m]."""
CARE_M = 60.0
"""Ground farther from the edge than this counts little [m]: a long cast."""
REACH_M = 40.0
"""Distance over which a new track takes the error down [m]; a choice of ours."""
FLOOR_QUANTILE = 0.1
"""Error under a new track: what the best tenth of this map has [-]."""
MAX_RUNS = 60


@dataclass(frozen=True, slots=True)
class SurveyRun:
    """One track to run with the sounder on.

    Parameters
    ----------
    lon_deg, lat_deg : ndarray, shape (n,)
        The track [deg].
    length_m : float
        Its length [m].
    hours : float
        Time with getting there [h].
    se_before_m, se_after_m : float
        Error near the edge it covers, root mean square, now and as expected
        afterwards [m].
    reason : str
        Why, in one sentence [-].
    """

    lon_deg: FloatArray
    lat_deg: FloatArray
    length_m: float
    hours: float
    se_before_m: float
    se_after_m: float
    reason: str


@dataclass(frozen=True, slots=True)
class SurveyPlan:
    """Runs in the order to make them.

    Parameters
    ----------
    runs : tuple of SurveyRun
        The runs [-].
    hours : float
        Time for all of them [h].
    se_before_m, se_after_m : float
        Error near all of the edge, root mean square [m].
    """

    runs: tuple[SurveyRun, ...]
    hours: float
    se_before_m: float
    se_after_m: float


@dataclass(slots=True)
class _Candidate:
    x: FloatArray
    y: FloatArray
    length: float
    cells: np.ndarray[tuple[int, ...], np.dtype[np.int64]]
    share: FloatArray


def plan_survey(
    model: BottomModel,
    lines: Sequence[EdgeLine],
    hours: float,
    speed_m_s: float = 2.0,
    start_lonlat_deg: tuple[float, float] | None = None,
) -> SurveyPlan:
    """Runs that take most error away from the edges in some hours.

    Parameters
    ----------
    model : BottomModel
        The bottom as known now [-].
    lines : sequence of EdgeLine
        The edges that matter [-].
    hours : float
        Time there is [h].
    speed_m_s : float
        Speed of the boat, also between runs [m s-1].
    start_lonlat_deg : tuple of float or None
        Where the day starts; None starts at the first run [deg].

    Returns
    -------
    SurveyPlan
        The runs; at least one.

    Raises
    ------
    LakeDataError
        The time or the speed makes no sense, or is too short for one run.
    """
    if not 0.05 <= hours <= 48.0:
        raise LakeDataError(f"{hours:.3g} hours is outside 0.05 to 48", "survey")
    if not 0.3 <= speed_m_s <= 8.0:
        raise LakeDataError(f"{speed_m_s:.3g} m/s is no speed to sound at", "survey")
    if not lines:
        raise LakeDataError("there is no edge to survey", model.name)
    frame = model.lattice.frame
    cells_x, cells_y, error, weight = _ground(model, lines)
    floor = float(np.quantile(error, FLOOR_QUANTILE))
    candidates = _candidates(lines, cells_x, cells_y)
    here = None if start_lonlat_deg is None else _metric(frame, start_lonlat_deg)
    chosen, after = _choose(candidates, error, weight, floor, hours * 3600.0 * speed_m_s, here)
    if not chosen:
        raise LakeDataError(
            f"{hours:.2g} hours are too short for one run along the edge",
            "survey",
            "Give more time",
        )
    order = _nearest_order(chosen, here)
    runs = _runs(order, frame, error, floor, speed_m_s, here)
    return SurveyPlan(
        runs, float(sum(run.hours for run in runs)), _rms(error, weight), _rms(after, weight)
    )


def _metric(frame: MetricFrame, lonlat: tuple[float, float]) -> tuple[float, float]:
    x, y = frame.to_metric(lonlat[0], lonlat[1])
    if not (np.isfinite(x) and np.isfinite(y)):
        raise LakeDataError("the start is not near the lake", "survey")
    return float(x), float(y)


def _rms(error: FloatArray, weight: FloatArray) -> float:
    return float(np.sqrt(np.average(error**2, weights=weight)))


def _ground(
    model: BottomModel, lines: Sequence[EdgeLine]
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Cells near the edges, their error, and how much each matters."""
    from scipy.spatial import cKDTree

    lattice = model.lattice
    rows, cols = np.nonzero(np.isfinite(model.se_m))
    x, y = lattice.x_m[cols], lattice.y_m[rows]
    edge = np.concatenate([np.stack([line.x_m, line.y_m], axis=1) for line in lines])
    distance = np.asarray(
        cKDTree(edge).query(np.stack([x, y], axis=1), distance_upper_bound=3.0 * CARE_M)[0]
    )
    near = np.isfinite(distance)
    if not np.any(near):
        raise LakeDataError("the edges do not lie on the map", model.name)
    error = model.se_m[rows[near], cols[near]].astype(np.float64)
    return x[near], y[near], error, np.exp(-0.5 * (distance[near] / CARE_M) ** 2)


def _candidates(
    lines: Sequence[EdgeLine], cells_x: FloatArray, cells_y: FloatArray
) -> list[_Candidate]:
    """A zigzag along each piece of each edge, and the cells it would sound."""
    from scipy.spatial import cKDTree

    places = np.stack([cells_x, cells_y], axis=1)
    out: list[_Candidate] = []
    for line in lines:
        count = max(round(line.length_m / PIECE_M), 1)
        cuts = np.linspace(0, line.x_m.size - 1, count + 1).astype(int)
        for first, last in itertools.pairwise(map(int, cuts)):
            part = slice(first, last + 1)
            phase = (line.along_m[part] - line.along_m[first]) / WAVE_M
            swing = ZIGZAG_M * (4.0 * np.abs(phase % 1.0 - 0.5) - 1.0)
            x = line.x_m[part] + swing * line.to_deep_x[part]
            y = line.y_m[part] + swing * line.to_deep_y[part]
            if x.size < 2:
                continue
            track = cKDTree(np.stack([x, y], axis=1))
            distance = np.asarray(track.query(places, distance_upper_bound=REACH_M)[0])
            cells = np.flatnonzero(np.isfinite(distance))
            length = float(np.sum(np.hypot(np.diff(x), np.diff(y))))
            # Under the track the error falls to the floor, at the reach not at all.
            out.append(_Candidate(x, y, length, cells, 1.0 - distance[cells] / REACH_M))
    return out


def _after(error: FloatArray, share: FloatArray, floor: float) -> FloatArray:
    return np.minimum(error, error - share * (error - floor))


def _choose(
    candidates: list[_Candidate],
    error: FloatArray,
    weight: FloatArray,
    floor: float,
    budget_m: float,
    here: tuple[float, float] | None,
) -> tuple[list[_Candidate], FloatArray]:
    """Best gain per metre first, as long as there is time."""
    left = budget_m
    now = error.copy()
    chosen: list[_Candidate] = []
    open_ones = list(candidates)
    while open_ones and len(chosen) < MAX_RUNS:
        best: tuple[float, int, float] | None = None
        for index, c in enumerate(open_ones):
            there = min(
                (_gap(other, c) for other in chosen),
                default=0.0
                if here is None
                else float(np.min(np.hypot(c.x - here[0], c.y - here[1]))),
            )
            cost = c.length + there
            if cost > left:
                continue
            fallen = _after(now[c.cells], c.share, floor)
            gain = float(np.sum(weight[c.cells] * (now[c.cells] ** 2 - fallen**2)))
            if best is None or gain / cost > best[0]:
                best = (gain / cost, index, cost)
        if best is None or best[0] <= 0.0:
            break
        c = open_ones.pop(best[1])
        left -= best[2]
        now[c.cells] = _after(now[c.cells], c.share, floor)
        chosen.append(c)
    return chosen, now


def _gap(one: _Candidate, two: _Candidate) -> float:
    """Least distance between the ends of two runs."""
    ends = [(one.x[i], one.y[i], two.x[j], two.y[j]) for i in (0, -1) for j in (0, -1)]
    return min(float(np.hypot(a - c, b - d)) for a, b, c, d in ends)


def _nearest_order(chosen: list[_Candidate], here: tuple[float, float] | None) -> list[_Candidate]:
    """Runs by the nearest next end, each turned so that it starts there."""
    left = list(chosen)
    at = here or (float(left[0].x[0]), float(left[0].y[0]))
    out: list[_Candidate] = []
    while left:
        ways = [
            (float(np.hypot(c.x[end] - at[0], c.y[end] - at[1])), index, end)
            for index, c in enumerate(left)
            for end in (0, -1)
        ]
        _, index, end = min(ways)
        c = left.pop(index)
        if end == -1:
            c = _Candidate(c.x[::-1], c.y[::-1], c.length, c.cells, c.share)
        out.append(c)
        at = (float(c.x[-1]), float(c.y[-1]))
    return out


def _runs(
    order: list[_Candidate],
    frame: MetricFrame,
    error: FloatArray,
    floor: float,
    speed_m_s: float,
    here: tuple[float, float] | None,
) -> tuple[SurveyRun, ...]:
    runs: list[SurveyRun] = []
    now = error.copy()
    at = here or (float(order[0].x[0]), float(order[0].y[0]))
    for c in order:
        way = float(np.hypot(c.x[0] - at[0], c.y[0] - at[1]))
        before = float(np.sqrt(np.mean(now[c.cells] ** 2))) if c.cells.size else 0.0
        now[c.cells] = _after(now[c.cells], c.share, floor)
        after = float(np.sqrt(np.mean(now[c.cells] ** 2))) if c.cells.size else 0.0
        lon, lat = frame.to_lonlat(c.x, c.y)
        runs.append(
            SurveyRun(
                lon, lat, c.length, (c.length + way) / speed_m_s / 3600.0, before, after,
                f"Error near the edge here falls from about {before:.2f} to {after:.2f} m",
            )
        )  # fmt: skip
        at = (float(c.x[-1]), float(c.y[-1]))
    return tuple(runs)
