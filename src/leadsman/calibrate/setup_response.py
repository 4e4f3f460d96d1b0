"""How deep every lure of the grid would run on one setup, and how input errors move it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.parameter_grid import (
    ANGLE_SOLVED,
    AREA_SOLVED,
    DRAG_SOLVED,
    ParameterGrid,
    lagrange,
)
from leadsman.errors import SolverError
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Technique

FloatArray = npt.NDArray[np.float64]

LOG_STEP = 0.06
"""Step of ln diameter and ln cast for the slopes [-]."""
TIP_STEP_M = 0.15
"""Step of the tip height for the slopes [m]."""
LEAST_DEPTH_M = 0.02
"""Depth under which a logarithm of depth makes no sense [m]."""


@dataclass(frozen=True, slots=True)
class SetupResponse:
    """Depth over the grid of a lure's numbers for one line and technique.

    Parameters
    ----------
    depth_m : ndarray, shape (DRAG_NODES, ANGLE_NODES, AREA_NODES)
        Greatest free-running depth, or the depth at one time [m].
    per_log_diameter, per_log_cast, per_tip : ndarray, shape (ANGLE_NODES, AREA_NODES)
        Slopes of ln depth by ln diameter [-], ln cast [-] and tip height [m-1].
    per_time_m_s : ndarray or None
        Slope of depth by time, where depth is that at one time; shape as
        `depth_m` [m s-1].
    """

    depth_m: FloatArray
    per_log_diameter: FloatArray
    per_log_cast: FloatArray
    per_tip: FloatArray
    per_time_m_s: FloatArray | None = None

    def log_sd(
        self, cast_log_sd: float, tip_sd_m: float, other_log_sd: float, diameter_log_sd: float = 0.0
    ) -> FloatArray:
        """Spread of ln depth that input errors make, shape (ANGLE_NODES, AREA_NODES) [-].

        Parameters
        ----------
        cast_log_sd : float
            Spread of ln cast [-].
        tip_sd_m : float
            Spread of the tip height [m].
        other_log_sd : float
            Spread of ln depth by all else [-].
        diameter_log_sd : float
            Spread of ln diameter [-].
        """
        return np.sqrt(
            (self.per_log_cast * cast_log_sd) ** 2
            + (self.per_tip * tip_sd_m) ** 2
            + (self.per_log_diameter * diameter_log_sd) ** 2
            + other_log_sd**2
        )


@lru_cache(maxsize=512)
def setup_response(
    grid: ParameterGrid,
    lure: LureForces,
    line: LineProperties,
    technique: Technique,
    at_s: float | None = None,
) -> SetupResponse:
    """Solve one setup over the grid; solved once for each distinct setup.

    Parameters
    ----------
    grid : ParameterGrid
        The grid [-].
    lure : LureForces
        The lure; its dive angle and pull area are the grid's [-].
    line : LineProperties
        Line [-].
    technique : Technique
        How the cast is fished [-].
    at_s : float or None
        Time since the retrieve started at which the depth is taken; None
        takes the greatest depth [s].
    """
    drags, angles, areas = grid.solved_log_drag, grid.solved_angle_rad, grid.solved_log_area
    shape = (DRAG_SOLVED, ANGLE_SOLVED, AREA_SOLVED)
    cases = [(c, a, s) for c in drags for a in angles for s in areas]
    values, rates = _solve(lure, line, technique, cases, at_s)
    depth = np.maximum(grid.refine(_filled(values.reshape(shape))), 0.0)
    # slopes hardly change over the grid: every second angle and area, at the published drag
    some_angles, some_areas = angles[::2], areas[::2]
    few = [(0.0, a, s) for a in some_angles for s in some_areas]
    middle, _ = _solve(lure, line, technique, few, at_s)
    thicker = replace(line, diameter_m=line.diameter_m * math.exp(LOG_STEP))
    longer = replace(technique, cast_m=technique.cast_m * math.exp(LOG_STEP))
    higher = _raised(technique, TIP_STEP_M)
    slopes = []
    for other_line, other_way, step in (
        (thicker, technique, LOG_STEP),
        (line, longer, LOG_STEP),
        (line, higher, TIP_STEP_M),
    ):
        moved, _ = _solve(lure, other_line, other_way, few, at_s)
        ratio = np.maximum(moved, LEAST_DEPTH_M) / np.maximum(middle, LEAST_DEPTH_M)
        slope = np.nan_to_num(np.log(ratio) / step).reshape(some_angles.size, some_areas.size)
        fine = lagrange(some_angles.size, depth.shape[1], 2) @ slope
        slopes.append(fine @ lagrange(some_areas.size, depth.shape[2], 2).T)
    rate = grid.refine(rates.reshape(shape)) if at_s is not None else None
    return SetupResponse(depth, slopes[0], slopes[1], slopes[2], rate)


def _filled(values: FloatArray) -> FloatArray:
    """Carry neighbours along the angle into the rare nodes that the solver gave up on."""
    bad = ~np.isfinite(values)
    if not bad.any():
        return values
    out = values.copy()
    places = np.arange(values.shape[1], dtype=np.float64)
    for i, k in zip(*np.nonzero(bad.any(axis=1)), strict=True):
        good = ~bad[i, :, k]
        if not good.any():
            raise SolverError("no lure of the grid could be solved on this setup")
        out[i, :, k] = np.interp(places, places[good], values[i, good, k])
    return out


def _raised(technique: Technique, rise_m: float) -> Technique:
    steps = tuple(
        step if step.tip_m is None else replace(step, tip_m=step.tip_m + rise_m)
        for step in technique.steps
    )
    return replace(technique, tip_m=technique.tip_m + rise_m, steps=steps)


def _solve(
    lure: LureForces,
    line: LineProperties,
    technique: Technique,
    cases: list[tuple[float, float, float]],
    at_s: float | None,
) -> tuple[FloatArray, FloatArray]:
    """Depth of each case and its rate of change at the time, shape (n,) each [m], [m s-1]."""
    from leadsman.hydro.retrieve import retrieve_batch

    lures = [
        replace(lure, dive_angle_rad=float(angle), pull_area_m2=float(np.exp(log_area)))
        for _, angle, log_area in cases
    ]
    laws = [DragLaw(normal_factor=math.exp(log_drag)) for log_drag, _, _ in cases]
    batch = retrieve_batch(lures, line, technique, drags=laws, samples=2 if at_s is None else 160)
    if at_s is None:
        return np.where(batch.solved, batch.max_depth_m, np.nan), np.zeros(len(cases))
    depth = np.empty(len(cases))
    rate = np.empty(len(cases))
    for i in range(len(cases)):
        before, now, after = np.interp(
            [at_s - 0.5, at_s, at_s + 0.5], batch.t_s[i], batch.depth_m[i]
        )
        depth[i], rate[i] = now, after - before
    return depth, rate
