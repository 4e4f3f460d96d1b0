"""What is believed of a lure before it is fished, on the grid."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.depth_test import RATING_LOG_SD
from leadsman.calibrate.first_fit import LureFit
from leadsman.calibrate.parameter_grid import ParameterGrid
from leadsman.calibrate.setup_response import LEAST_DEPTH_M, setup_response
from leadsman.hydro.drag import NORMAL_FIT_LOG_SD, VIBRATION_RISE_MEAN
from leadsman.tackle.lure import Lure

FloatArray = npt.NDArray[np.float64]

SIZE_ANGLE_SD_RAD = math.radians(12.0)
"""Spread of the dive angle that size leaves where a package speaks too [rad]; our assumption:
with a rating, size only says what is impossible."""
WRONG_RATING_CHANCE = 0.2
"""Chance that a rated depth is plainly off [-]; our assumption, no source."""
WRONG_RATING_LOG_SD = 0.35
"""Spread of ln depth of such a rating [-]; our assumption, no source."""


@dataclass(frozen=True, slots=True)
class GridPrior:
    """Prior over the grid.

    Parameters
    ----------
    weight : ndarray, shape (DRAG_NODES, ANGLE_NODES, AREA_NODES)
        Size and rating together, summing to 1 at each drag factor [-].
    size_only : ndarray, shape as `weight`
        Size alone, likewise [-].
    if_rating_wrong : ndarray or None
        The part of `weight` in which the rating is plainly off; None without a rating [-].
    rating_log_sd : ndarray or None, shape (ANGLE_NODES, AREA_NODES)
        Spread of ln rated depth by promise and test [-].
    """

    weight: FloatArray
    size_only: FloatArray
    if_rating_wrong: FloatArray | None = None
    rating_log_sd: FloatArray | None = None


def grid_of(fit: LureFit) -> ParameterGrid:
    """Grid around a first fit.

    Parameters
    ----------
    fit : LureFit
        First fit [-].
    """
    return ParameterGrid.around(fit.forces.dive_angle_rad, fit.forces.pull_area_m2)


def lure_prior(lure: Lure, fit: LureFit, grid: ParameterGrid) -> GridPrior:
    """Prior of one lure: size, and the rated depth as a measurement under its test.

    Parameters
    ----------
    lure : Lure
        Lure [-].
    fit : LureFit
        Its first fit [-].
    grid : ParameterGrid
        Grid [-].
    """
    from leadsman.calibrate.lure_geometry import dive_angle_from_size_rad

    angle_sd = fit.dive_angle_sd_rad
    angle_mean = fit.forces.dive_angle_rad
    if fit.basis == "rated depth":
        angle_sd = SIZE_ANGLE_SD_RAD
        angle_mean = dive_angle_from_size_rad(lure)
    size = _normal(grid.angle_rad, angle_mean, angle_sd)[:, None] * _normal(
        grid.log_area, math.log(fit.forces.pull_area_m2), fit.log_pull_area_sd
    )
    # the angle's cells are not even
    size = size * grid.angle_weight[:, None]
    base = np.broadcast_to(size / size.sum(), (grid.log_drag.size, *size.shape))
    if fit.test is None or fit.rated_depth_m is None or lure.rated is None:
        return GridPrior(base, base)
    test = fit.test
    response = setup_response(grid, fit.forces, test.line, test.technique)
    width = 0.25 * (lure.rated.deep_m - lure.rated.shallow_m)
    other = math.hypot(RATING_LOG_SD, max(width, 0.1) / fit.rated_depth_m)
    sd = response.log_sd(test.cast_log_sd, test.tip_sd_m, other, test.diameter_log_sd)
    miss = np.log(np.maximum(response.depth_m, LEAST_DEPTH_M) / fit.rated_depth_m)
    right = np.exp(-0.5 * (miss / sd) ** 2) / sd
    broad = np.hypot(sd, WRONG_RATING_LOG_SD)
    wrong = np.exp(-0.5 * (miss / broad) ** 2) / broad
    wrong_part = WRONG_RATING_CHANCE * wrong * base
    weight = (1.0 - WRONG_RATING_CHANCE) * right * base + wrong_part
    # a rating places the lure and says nothing of the drag of everybody's line
    total = weight.sum(axis=(1, 2), keepdims=True)
    return GridPrior(weight / total, base, wrong_part / total, sd)


def drag_prior(grid_log_drag: FloatArray) -> FloatArray:
    """Prior of ln of the factor on C_n at the grid's nodes.

    A normal error of the published fits times a rise by vibration with an
    exponential prior: skewed, shared by all lures.

    Parameters
    ----------
    grid_log_drag : ndarray, shape (DRAG_NODES,)
        Nodes [-].

    Returns
    -------
    ndarray, shape (DRAG_NODES,)
        Weights, summing to 1 [-].
    """
    rise = -VIBRATION_RISE_MEAN * np.log1p(-(np.arange(200) + 0.5) / 200.0)
    centres = np.log1p(rise)
    weight = _normal(grid_log_drag[:, None], centres[None, :], NORMAL_FIT_LOG_SD).mean(axis=1)
    return np.asarray(weight / weight.sum())


def _normal(x: FloatArray, mean: FloatArray | float, sd: FloatArray | float) -> FloatArray:
    return np.asarray(np.exp(-0.5 * ((x - mean) / sd) ** 2), dtype=np.float64)
