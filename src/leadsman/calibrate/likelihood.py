"""How likely each thing that was seen is, for every lure of the grid.

Every kind allows for being plainly wrong (a wrong line noted, weed on the
hooks, a stump taken for the bottom): a mixture with an outlier that says
nothing of the lure. Own derivation, see docs/calibration.md.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.evidence import (
    DidNotReach,
    Evidence,
    Fished,
    MeasuredDepth,
    PullOnScale,
    Ticked,
    TimeToBottom,
)
from leadsman.calibrate.parameter_grid import ParameterGrid
from leadsman.calibrate.setup_response import SetupResponse, setup_response
from leadsman.hydro.lure_forces import LureForces

FloatArray = npt.NDArray[np.float64]

OUTLIER_CHANCE = 0.05
"""Chance that an observation is plainly wrong [-]; our assumption."""
OUTLIER_DEPTH_SPAN_M = 12.0
"""Depths that a wrong observation may name, evenly [m]; our assumption."""
OUTLIER_TIME_SPAN_S = 40.0
"""Times to the bottom that a wrong row may name, evenly [s]; our assumption."""
OUTLIER_LOG_PULL_SPAN = 3.0
"""Range of ln pull that a wrong reading may take, evenly [-]; our assumption."""
TICK_OVERRUN = 0.06
"""Mean overrun of a lure that is said to tick, over the depth of the bottom [-].

A lure that would run about a foot deeper than the bottom ticks (common
practice, no source): some 6 % at 15 ft, falling off exponentially.
"""
MODEL_LOG_SD = 0.015
"""Spread of ln depth by what the model leaves out: waves, wobble, current [-]; our assumption."""
LOG_DEPTH_PER_BOAT_SPEED = 0.4
"""Change of ln depth by the boat's speed along the cast [s m-1]: 0.3 m/s moves depth by 10 to
13 %, own trial."""
SLOWEST_SINKING_M_S = 0.01
"""Least rate of sinking that a time to the bottom is read with [m s-1]: slower lures level out."""
WATER_DENSITY_KG_M3 = 998.2336
"""Of fresh water at 20 degC [kg m-3], Martin & McCutcheon 1999."""

DIAMETER_NODES, DIAMETER_WEIGHTS = np.polynomial.hermite_e.hermegauss(5)
DIAMETER_WEIGHTS = DIAMETER_WEIGHTS / DIAMETER_WEIGHTS.sum()
"""Gauss-Hermite rule for the shared error of a line's diameter, in its spreads [-]."""


def outlier_density(evidence: Evidence) -> float:
    """Density or chance of an observation that is plainly wrong.

    Parameters
    ----------
    evidence : Evidence
        What was seen [-].

    Returns
    -------
    float
        In the units of `likelihood`: per metre of depth, per second, per
        unit of ln pull, or a chance [m-1], [s-1], [-], [-].
    """
    if isinstance(evidence, DidNotReach):
        return 0.5
    if isinstance(evidence, PullOnScale):
        return 1.0 / OUTLIER_LOG_PULL_SPAN
    if isinstance(evidence, TimeToBottom):
        return 1.0 / OUTLIER_TIME_SPAN_S
    return 1.0 / OUTLIER_DEPTH_SPAN_M


def likelihood(evidence: Evidence, grid: ParameterGrid, lure: LureForces) -> FloatArray:
    """Likelihood of one observation over the grid, outliers included.

    Parameters
    ----------
    evidence : Evidence
        What was seen [-].
    grid : ParameterGrid
        Lures to hold it against [-].
    lure : LureForces
        Mass and buoyancy of the lure [-].

    Returns
    -------
    ndarray, shape (5, DRAG_NODES, ANGLE_NODES, AREA_NODES)
        Likelihood for each node of the line's diameter error [m-1, s-1 or -].
    """
    if isinstance(evidence, PullOnScale):
        own = _pull(evidence, grid)
        return _mixed(np.broadcast_to(own, (DIAMETER_NODES.size, *own.shape)), evidence)
    fished = evidence.fished
    at_s = evidence.time_s if isinstance(evidence, TimeToBottom) else None
    response = setup_response(grid, lure, fished.line, fished.technique, at_s)
    noise = _input_log_sd(response, fished)
    nodes = [
        _depth_likelihood(evidence, response, noise, float(node) * fished.diameter_log_sd)
        for node in DIAMETER_NODES
    ]
    return _mixed(np.stack(nodes), evidence)


def _mixed(own: FloatArray, evidence: Evidence) -> FloatArray:
    return (1.0 - OUTLIER_CHANCE) * own + OUTLIER_CHANCE * outlier_density(evidence)


def _input_log_sd(response: SetupResponse, fished: Fished) -> FloatArray:
    """Errors from cast to cast average out over the casts; what the model leaves out stays."""
    by_cast = response.log_sd(
        fished.cast_log_sd, fished.tip_sd_m, LOG_DEPTH_PER_BOAT_SPEED * fished.boat_sd_m_s
    )
    return np.asarray(np.sqrt(by_cast**2 / fished.casts + MODEL_LOG_SD**2))


def _depth_likelihood(
    evidence: Ticked | DidNotReach | MeasuredDepth | TimeToBottom,
    response: SetupResponse,
    log_sd: FloatArray,
    d_log_diameter: float,
) -> FloatArray:
    depth = response.depth_m * np.exp(response.per_log_diameter * d_log_diameter)
    sd = np.sqrt(evidence.depth_sd_m**2 + (log_sd * depth) ** 2)
    if isinstance(evidence, TimeToBottom):
        # the time is what was noted: its density is that of the depth times the rate of sinking
        assert response.per_time_m_s is not None
        rate = np.maximum(np.abs(response.per_time_m_s), SLOWEST_SINKING_M_S)
        sd = np.sqrt(sd**2 + (rate * evidence.time_sd_s) ** 2)
        return rate * _normal_density(depth - evidence.depth_m, sd)
    miss = depth - evidence.depth_m
    if isinstance(evidence, DidNotReach):
        return normal_cdf(-miss / sd)
    if isinstance(evidence, Ticked):
        mean = TICK_OVERRUN * evidence.depth_m
        return exponential_normal_density(miss, mean, sd)
    return _normal_density(miss, sd)


def _normal_density(miss: FloatArray, sd: FloatArray) -> FloatArray:
    return np.asarray(np.exp(-0.5 * (miss / sd) ** 2) / (sd * math.sqrt(2.0 * math.pi)))


def _pull(evidence: PullOnScale, grid: ParameterGrid) -> FloatArray:
    """On short line the pull is 1/2 rho S_D v^2 / cos(delta): drag and dive force together."""
    pressure = 0.5 * WATER_DENSITY_KG_M3 * evidence.speed_m_s**2
    log_pull = (
        math.log(pressure)
        + grid.log_area[None, None, :]
        - np.log(np.cos(grid.angle_rad))[None, :, None]
    )
    miss = (math.log(evidence.pull_n) - log_pull) / evidence.log_sd
    density = np.exp(-0.5 * miss**2) / (evidence.log_sd * math.sqrt(2.0 * math.pi))
    return np.broadcast_to(density, (grid.log_drag.size, *density.shape[1:]))


def normal_cdf(x: FloatArray) -> FloatArray:
    """Distribution function of the standard normal law.

    Parameters
    ----------
    x : ndarray
        Where [-].
    """
    from scipy.special import ndtr

    return np.asarray(ndtr(x), dtype=np.float64)


def exponential_normal_density(x: FloatArray, mean: float, sd: FloatArray) -> FloatArray:
    """Density of an exponential of a mean plus a normal error of a spread.

    Parameters
    ----------
    x : ndarray
        Where [m].
    mean : float
        Mean of the exponential, above 0 [m].
    sd : ndarray
        Spread of the normal error [m].

    Returns
    -------
    ndarray
        Density [m-1].

    Notes
    -----
    The exponentially modified Gaussian,
    ``exp(s^2/(2 m^2) - x/m) Phi(x/s - s/m) / m`` (Grushka 1972, Anal. Chem.
    44:1733, from memory), in logarithms so that its tails do not overflow.
    """
    from scipy.special import log_ndtr

    log = 0.5 * (sd / mean) ** 2 - x / mean + log_ndtr(x / sd - sd / mean)
    return np.asarray(np.exp(log) / mean, dtype=np.float64)
