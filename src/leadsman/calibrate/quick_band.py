"""The band of the greatest free-running depth in under a millisecond, for sliders.

The depth of a few draws comes from the surrogate; a sum of quadratics in the inputs is
fitted to them and read at many more draws. See docs/bands.md.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.input_draws import INPUT_NAMES, InputDraws, draw_inputs, normal_scores
from leadsman.calibrate.input_spread import InputSpread, LureBelief
from leadsman.calibrate.running_band import Band, Share, quadratics, shares_of_fit
from leadsman.errors import SolverError
from leadsman.hydro import retrieve_inputs as inputs
from leadsman.hydro import retrieve_kernel as solver
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.retrieve import retrieve_batch
from leadsman.hydro.surrogate import free_max_depths, is_steady, steady_speed_m_s
from leadsman.hydro.technique import Technique
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]

QUICK_DRAWS = 64
"""Draws whose depth is computed [-]: 25 coefficients are fitted to them."""

READ_DRAWS = 2048
"""Draws at which the fit is read for the quantiles [-]."""


@dataclass(frozen=True, slots=True)
class QuickBand:
    """Band of the greatest free-running depth of one setup.

    Parameters
    ----------
    max_depth_m : Band
        Greatest depth [m].
    shares : tuple of Share
        What the doubt comes from, largest first [-].
    surrogate_part : float
        Part of the draws that the surrogate computed; the rest is the solver's [-].
    """

    max_depth_m: Band
    shares: tuple[Share, ...]
    surrogate_part: float


def quick_band(
    lure: LureBelief,
    line: LineProperties,
    technique: Technique,
    water: Water | None = None,
    spread: InputSpread | None = None,
    drag: DragLaw | None = None,
    seed: int = 1,
) -> QuickBand:
    """Band of the greatest free-running depth, quickly.

    Parameters
    ----------
    lure : LureBelief
        What is believed of the lure [-].
    line : LineProperties
        The line [-].
    technique : Technique
        How it is fished; the surrogate takes only steady ones [-].
    water : Water or None
        The water [-].
    spread : InputSpread or None
        Spread of everything but the lure [-].
    drag : DragLaw or None
        Drag of the line at its middle [-].
    seed : int
        Seed of the draws [-].

    Raises
    ------
    SolverError
        A draw outside of the surrogate's range could not be solved.
    """
    water = water or Water()
    drag = drag or DragLaw()
    spread = spread or InputSpread()
    draws = draw_inputs(lure, line, technique, drag, spread, QUICK_DRAWS, seed)
    depth = np.zeros(QUICK_DRAWS)
    inside = np.zeros(QUICK_DRAWS, dtype=np.bool_)
    if is_steady(technique):
        base = inputs.parameters(lure.centre, line, technique, None, water, drag)
        depth, inside = free_max_depths(
            _parameters(base, draws),
            technique.tip_m + draws.tip_shift_m,
            steady_speed_m_s(technique) * draws.speed_factor,
        )
    outside = np.flatnonzero(~inside).tolist()
    if outside:
        rows = [draws.retrieve_input(i, lure.centre, line, technique, drag) for i in outside]
        lures, lines, techniques, drags = zip(*rows, strict=True)
        solved = retrieve_batch(lures, lines, techniques, None, water, drags, samples=2)
        if not np.all(solved.solved):
            raise SolverError("a draw of a band could not be solved")
        depth[outside] = solved.max_depth_m
    inverse, few, many = _response(QUICK_DRAWS, READ_DRAWS, seed)
    fit = inverse @ depth
    # coefficients fitted to few draws leave less than they would of new ones
    freedom = QUICK_DRAWS / (QUICK_DRAWS - fit.size)
    left = float(np.mean((depth - few @ fit) ** 2)) * freedom
    return QuickBand(
        Band.of(np.maximum(many @ fit, 0.0)),
        shares_of_fit(fit, left),
        1.0 - len(outside) / QUICK_DRAWS,
    )


def _parameters(base: FloatArray, draws: InputDraws) -> FloatArray:
    pars = np.tile(base, (len(draws), 1))
    # the factor on C_n of the middle is in the draws already
    constant = base[solver.CN_TABLE] != 0.0
    pars[:, solver.DELTA] = draws.dive_angle_rad
    pars[:, solver.PULL_AREA] = draws.pull_area_m2
    pars[:, solver.TRIM_LOSS] = draws.trim_loss_rad_m2_s2
    pars[:, solver.BUOYANCY] = draws.buoyancy_n
    thicker = draws.diameter_m
    middle = base[solver.DIAMETER]
    pars[:, solver.COMPLIANCE] *= (middle / thicker) ** 2
    pars[:, solver.DIAMETER] = thicker
    if not constant:
        pars[:, solver.CN_FACTOR] = draws.normal_factor
    pars[:, solver.CT] = draws.tangential
    pars[:, solver.CAST] = draws.cast_m
    pars[:, solver.BOAT] = draws.boat_m_s
    return pars


@functools.lru_cache(maxsize=4)
def _response(few: int, many: int, seed: int) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Pseudo-inverse of the basis at the few draws, and the basis at the few and the many."""
    k = len(INPUT_NAMES)
    computed = quadratics(normal_scores(few, k, seed))
    inverse = np.asarray(np.linalg.pinv(computed), dtype=np.float64)
    return inverse, computed, quadratics(normal_scores(many, k, seed + 1))
