"""Beliefs on the grid."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats
from synthetic_lures import TWENTY

from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.input_spread import InputSpread
from leadsman.calibrate.posterior import DragBelief, GridBelief, SortedDepth
from leadsman.calibrate.prior import grid_of

FIT = first_fit(TWENTY)
GRID = grid_of(FIT)


def ridge(angle_sd: float, area_sd: float, rho: float, per_drag: float) -> GridBelief:
    """Weights of a known normal law whose angle moves with the drag."""
    c = GRID.log_drag[:, None, None]
    a = (GRID.angle_rad[None, :, None] - 0.5 - per_drag * c) / angle_sd
    s = (GRID.log_area[None, None, :] - GRID.log_area_centre) / area_sd
    log = -0.5 * (a**2 - 2 * rho * a * s + s**2) / (1 - rho**2) - 0.5 * (c / 0.1) ** 2
    weight = np.exp(log) * GRID.angle_weight[None, :, None]
    return GridBelief.of(GRID, weight, FIT.forces, 0.01)


def test_moments_of_a_known_normal_law() -> None:
    belief = ridge(0.04, 0.3, -0.6, 0.0)
    assert belief.centre.dive_angle_rad == pytest.approx(0.5, abs=2e-3)
    assert belief.dive_angle_sd_rad == pytest.approx(0.04, rel=0.02)
    assert belief.log_pull_area_sd == pytest.approx(0.3, rel=0.02)
    assert belief.correlation == pytest.approx(-0.6, abs=0.02)
    assert belief.centre.mass_kg == FIT.forces.mass_kg


def test_draws_follow_the_law_given_the_drag() -> None:
    """20,000 draws: conditional mean, spreads and correlation of the known law."""
    belief = ridge(0.04, 0.3, -0.6, 0.2)
    rng = np.random.default_rng(2)
    log_drag = np.full(20_000, 0.135)  # between two nodes
    angle, area = belief.draw(rng.standard_normal((20_000, 2)), log_drag)
    assert angle.mean() == pytest.approx(0.5 + 0.2 * 0.135, abs=2e-3)
    assert angle.std() == pytest.approx(0.04, rel=0.04)
    assert np.log(area).std() == pytest.approx(0.3, rel=0.04)
    assert np.corrcoef(angle, np.log(area))[0, 1] == pytest.approx(-0.6, abs=0.03)


def test_draws_outside_the_drags_of_the_grid_stay_finite() -> None:
    belief = ridge(0.04, 0.3, -0.6, 0.2)
    angle, area = belief.draw(np.zeros((2, 2)), np.array([-3.0, 3.0]))
    assert np.all(np.isfinite(angle)) and np.all(np.isfinite(area))


def test_bands_are_quantiles() -> None:
    depth = np.linspace(0.0, 10.0, 4001)
    weight = stats.norm.pdf(depth, 6.0, 0.5)
    band = SortedDepth(depth).band(weight)
    assert (band.low_m, band.middle_m, band.high_m) == pytest.approx(
        tuple(stats.norm.ppf([0.05, 0.5, 0.95], 6.0, 0.5)), abs=5e-3
    )
    assert band.width_m == pytest.approx(0.5 * 2 * 1.6449, abs=5e-3)


def test_learned_drag_goes_into_the_bands_inputs() -> None:
    belief = DragBelief.of(GRID.log_drag, stats.norm.pdf(GRID.log_drag, 0.12, 0.09))
    assert belief.log_mean == pytest.approx(0.12, abs=5e-3)
    assert belief.log_sd == pytest.approx(math.hypot(0.09, 0.07 / math.sqrt(12)), rel=0.05)
    spread = belief.learned(replace(InputSpread(), cast_log_sd=0.03))
    assert spread.normal_centre == pytest.approx(math.exp(belief.log_mean))
    assert (spread.vibration_rise_mean, spread.cast_log_sd) == (0.0, 0.03)
