"""From runs of the full solver to the coefficients of a contact table."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.hydro.retrieve_result import Retrieve

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

STEP_M = 1.0
"""Length of an interval along a cast [m]. Own choice: a fifth of a usual grid cell."""

TERMS = 8
"""Terms of the polynomial: 1, z, z2, z3, s, s2, z s, z2 s [-]."""

OWN_RIDGE = 1e-4
"""Pull of the fits to contact and to free running toward their common one [-]."""

STEEPEST_RAD = 0.35
"""Slopes beyond this are not fitted, and a cast over one is solved in full [rad]."""

HEAVIEST_LOAD = 0.7
"""Loads beyond this are not fitted [-]: far over every limit that is asked for."""

LIGHT_LOAD = 0.15
"""Loads about and under this are fitted closest [-]: the limits asked for are 0.08 to 0.15."""

LAGS_PER_M = (0.0, 0.001, 0.002, 0.003, 0.004, 0.006, 0.008, 0.012)
"""Lag lengths tried, over the square of the distance from the tip [m-1]. A taut line under
linear drag takes a new shape over a length that grows with the square of its own."""

SAME_PATH_RUNS = 6
"""Runs whose free way down is fitted too, as an anchor [-]."""

TIP_CLEAR_M = 0.3
"""The last of a retrieve is not fitted [m]."""


def along(run: Retrieve, x_m: FloatArray, values: FloatArray) -> FloatArray:
    """Values at distances, the end values beyond the ends of the path."""
    order = np.argsort(run.x_m, kind="stable")
    return np.asarray(np.interp(x_m, run.x_m[order], values[order]), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class _Samples:
    """All runs at the middles of the intervals, shape (runs, n) each."""

    depth_m: FloatArray
    slope_rad: FloatArray
    excess_rad: FloatArray
    load: FloatArray
    usable: BoolArray
    pull_n: FloatArray
    line_out_m: FloatArray
    time_s: FloatArray

    @classmethod
    def of(cls, runs: list[Retrieve], cast_m: float, cos_delta: float) -> _Samples:
        ends = np.array([float(np.min(run.x_m)) for run in runs])
        last = float(np.quantile(ends, 0.4)) + TIP_CLEAR_M
        n = int((cast_m - last) / STEP_M)
        if n < 4:
            raise PlanError(f"a cast of {cast_m:.0f} m is too short to plan with", "cast")
        nodes: FloatArray = np.asarray(cast_m - STEP_M * np.arange(n + 1), dtype=np.float64)
        mids: FloatArray = 0.5 * (nodes[1:] + nodes[:-1])
        rows = []
        for index, (run, end) in enumerate(zip(runs, ends, strict=True)):
            depth = along(run, nodes, run.depth_m)
            touch = (run.normal_force_n > 0.0).astype(np.float64)
            # leaving the bottom is smooth, so an interval may end free; landing is not
            held = along(run, nodes[:-1], touch)
            loose = np.maximum(along(run, nodes[1:], touch), along(run, nodes[:-1], touch))
            middle = along(run, mids, touch)
            # positive where the path rises toward the boat
            slope = np.arctan((depth[:-1] - depth[1:]) / STEP_M)
            load = along(run, mids, run.load)
            contact = (held == 1.0) & (middle == 1.0)
            free = (loose == 0.0) & (middle == 0.0)
            pressed = np.arcsin(np.clip(load * cos_delta, -1.0, 1.0)) - slope
            good = (contact | free) & (nodes[1:] > end + TIP_CLEAR_M)
            good &= (np.abs(slope) < STEEPEST_RAD) | (free & (np.abs(slope) < 1.2))
            good &= load < HEAVIEST_LOAD
            if index >= SAME_PATH_RUNS:
                # before they touch all runs are the same path, which is known by itself
                good &= np.cumsum(contact) > 0
            rows.append(
                (
                    along(run, mids, run.depth_m),
                    slope,
                    np.where(contact, pressed, -slope),
                    load,
                    good,
                    along(run, mids, run.pull_n),
                    along(run, mids, run.line_out_m),
                    along(run, mids, run.t_s),
                )
            )
        columns = [np.array(column) for column in zip(*rows, strict=True)]
        return cls(*columns)


@dataclass(frozen=True, slots=True)
class ContactFit:
    """Coefficients at each interval and how well they fit."""

    coefficients: FloatArray
    keep: FloatArray
    lag: float
    rms: float
    pull_n: FloatArray
    line_out_m: FloatArray
    time_s: FloatArray

    @classmethod
    def of(
        cls, runs: list[Retrieve], cast_m: float, cos_delta: float, lag: float | None
    ) -> ContactFit:
        samples = _Samples.of(runs, cast_m, cos_delta)
        mids: FloatArray = np.asarray(
            cast_m - STEP_M * (np.arange(samples.depth_m.shape[1]) + 0.5), dtype=np.float64
        )
        weight = np.where(samples.usable, 1.0 / (1.0 + (samples.load / LIGHT_LOAD) ** 2), 0.0)
        tried = []
        for one in LAGS_PER_M if lag is None else (lag,):
            keep = lag_share(mids, one)
            tried.append((_held_back_error(samples, lagged(samples.slope_rad, keep), weight), one))
        rms, best = min(tried)
        keep = lag_share(mids, best)
        coefficients = _both(samples, lagged(samples.slope_rad, keep), weight)
        return cls(
            coefficients,
            keep,
            best,
            rms,
            np.median(samples.pull_n, axis=0),
            np.median(samples.line_out_m, axis=0),
            np.median(samples.time_s, axis=0),
        )


def lag_share(x_m: FloatArray, lag_per_m: float) -> FloatArray:
    """Share of the lagged slope kept over an interval.

    Parameters
    ----------
    x_m : ndarray, shape (n,)
        Distance of the middle of the interval from the tip at the start [m].
    lag_per_m : float
        Lag length over the square of the distance [m-1].
    """
    length = np.maximum(lag_per_m * x_m**2, 1e-3)
    return np.asarray(np.exp(-STEP_M / length), dtype=np.float64)


def lagged(slope_rad: FloatArray, keep: FloatArray) -> FloatArray:
    """Slope of the path as the line remembers it.

    Parameters
    ----------
    slope_rad : ndarray, shape (runs, n)
        Slope of each interval from the landing place on [rad].
    keep : ndarray, shape (n,)
        Share kept over each interval [-].
    """
    out = np.empty_like(slope_rad)
    memory = slope_rad[:, 0]
    for k in range(slope_rad.shape[1]):
        memory = keep[k] * memory + (1.0 - keep[k]) * slope_rad[:, k]
        out[:, k] = memory
    return out


def terms(depth_m: FloatArray, slope_rad: FloatArray) -> FloatArray:
    """Terms of the polynomial, shape (..., TERMS).

    Parameters
    ----------
    depth_m : ndarray
        Depth of the lure [m].
    slope_rad : ndarray
        Lagged slope [rad].
    """
    z, s = depth_m, slope_rad
    return np.stack([np.ones_like(z), z, z * z, z**3, s, s * s, z * s, z * z * s], axis=-1)


def _held_back_error(samples: _Samples, slope: FloatArray, weight: FloatArray) -> float:
    """Root mean square error of a on every fourth run, from a fit to the others [rad]."""
    runs, n = slope.shape
    held = np.arange(runs) % 4 == 3
    total, count = 0.0, 1e-12
    for k in range(0, n, 2):
        train = np.where(held, 0.0, weight[:, k])
        if np.count_nonzero(train) < 3 * TERMS:
            continue
        matrix = terms(samples.depth_m[:, k], slope[:, k])
        error = matrix @ _least_squares(matrix, samples.excess_rad[:, k], train)
        error = np.minimum(np.abs(error - samples.excess_rad[:, k]), 0.05)
        total += float(np.sum(np.where(held, weight[:, k], 0.0) * error**2))
        count += float(np.sum(np.where(held, weight[:, k], 0.0)))
    return math.sqrt(total / count)


def _both(samples: _Samples, slope: FloatArray, weight: FloatArray) -> FloatArray:
    """Coefficients at each interval, on the bottom and free, shape (n, 2, TERMS)."""
    n = slope.shape[1]
    out = np.zeros((n, 2, TERMS))
    rich = [int(np.count_nonzero(weight[:, k])) >= 3 * TERMS for k in range(n)]
    for k in range(n):
        if not rich[k]:
            continue
        matrix = terms(samples.depth_m[:, k], slope[:, k])
        wanted = samples.excess_rad[:, k]
        whole = _least_squares(matrix, wanted, weight[:, k])
        for state, where in enumerate((samples.load[:, k] > 0.0, samples.load[:, k] <= 0.0)):
            own = np.where(where, weight[:, k], 0.0)
            rest = wanted - matrix @ whole
            out[k, state] = whole + _least_squares(matrix, rest, own, OWN_RIDGE)
    # where few runs have touched yet, or run on, what is known nearest by stands in
    known = np.flatnonzero(rich)
    if known.size == 0:
        raise PlanError("the lure touches no bottom that a table could be made from", "cast")
    nearest = known[np.argmin(np.abs(np.arange(n)[:, None] - known[None, :]), axis=1)]
    return np.asarray(out[nearest], dtype=np.float64)


def _least_squares(
    matrix: FloatArray, wanted: FloatArray, weight: FloatArray, ridge: float = 1e-7
) -> FloatArray:
    """Weighted ridge regression on scaled terms, twice, without what lies far off at first."""
    total = float(np.sum(weight))
    if total <= 0.0:
        return np.zeros(TERMS)
    scale = np.maximum(np.sqrt(weight @ matrix**2 / total), 1e-9)
    a = matrix / scale
    found: FloatArray = np.zeros(TERMS)
    for _ in range(2):
        left = (a.T * weight) @ a + ridge * total * np.eye(TERMS)
        found = np.asarray(np.linalg.solve(left, (a.T * weight) @ wanted), dtype=np.float64)
        error = np.abs(a @ found - wanted)
        kept = max(5.0 * float(np.median(error[weight > 0.0])), 0.004)
        weight = np.where(error <= kept, weight, 0.0)
    return np.asarray(found / scale, dtype=np.float64)
