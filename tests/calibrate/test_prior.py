"""Priors on the grid."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from synthetic_lures import FT, TWENTY

from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.posterior import GridBelief, SortedDepth
from leadsman.calibrate.prior import drag_prior, grid_of, lure_prior
from leadsman.calibrate.setup_response import setup_response

FIT = first_fit(TWENTY)
GRID = grid_of(FIT)


def test_drag_prior_is_skewed_and_stays_near_the_published_fits() -> None:
    """Published fits differ by 8 %, vibration raises by 0 to 30 % (checks of the line's drag)."""
    log_drag = GRID.log_drag
    weight = drag_prior(log_drag)
    mean = float(weight @ log_drag)
    sd = math.sqrt(float(weight @ (log_drag - mean) ** 2))
    skew = float(weight @ ((log_drag - mean) / sd) ** 3)
    assert weight.sum() == pytest.approx(1.0)
    assert 0.03 < mean < 0.12 and 0.08 < sd < 0.14 and skew > 0.05


def test_rating_is_the_middle_of_the_prior_on_its_own_test() -> None:
    prior = lure_prior(TWENTY, FIT, GRID)
    assert FIT.test is not None
    shape = setup_response(GRID, FIT.forces, FIT.test.line, FIT.test.technique)
    band = SortedDepth(shape.depth_m).band(prior.weight * drag_prior(GRID.log_drag)[:, None, None])
    assert band.middle_m == pytest.approx(20.0 * FT, rel=0.05)
    assert band.low_m < 17.5 * FT and band.high_m > 22.0 * FT


def test_rating_says_nothing_of_the_drag() -> None:
    prior = lure_prior(TWENTY, FIT, GRID)
    assert prior.weight.sum(axis=(1, 2)) == pytest.approx(np.ones(GRID.log_drag.size))
    assert prior.size_only.sum(axis=(1, 2)) == pytest.approx(np.ones(GRID.log_drag.size))


def test_grid_prior_and_first_fit_agree() -> None:
    """The normal approximation of the first fit against the grid: mean within half a spread,
    spreads within 40 % (the grid also lets a rating be wrong and size have its say).
    """
    prior = lure_prior(TWENTY, FIT, GRID)
    k = int(np.abs(GRID.log_drag).argmin())
    only = np.zeros_like(prior.weight)
    only[k] = prior.weight[k]
    belief = GridBelief.of(GRID, only, FIT.forces, 0.0)
    gap = belief.centre.dive_angle_rad - FIT.forces.dive_angle_rad
    assert abs(gap) < 0.5 * FIT.dive_angle_sd_rad
    assert belief.dive_angle_sd_rad == pytest.approx(FIT.dive_angle_sd_rad, rel=0.4)
    assert belief.correlation < -0.3


def test_no_rating_leaves_size() -> None:
    lure = replace(TWENTY, rated=None)
    fit = first_fit(lure)
    prior = lure_prior(lure, fit, grid_of(fit))
    assert prior.if_rating_wrong is None
    belief = GridBelief.of(grid_of(fit), prior.weight, fit.forces, 0.0)
    assert belief.centre.dive_angle_rad == pytest.approx(fit.forces.dive_angle_rad, abs=0.02)
    assert belief.correlation == pytest.approx(0.0, abs=1e-6)
