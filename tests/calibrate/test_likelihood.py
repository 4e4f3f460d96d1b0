"""Likelihoods, against the laws they are made of."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import integrate, stats
from synthetic_lures import THIN, TWENTY

from leadsman.calibrate.evidence import (
    DidNotReach,
    Evidence,
    Fished,
    MeasuredDepth,
    PullOnScale,
    Ticked,
    TimeToBottom,
)
from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.likelihood import (
    DIAMETER_NODES,
    DIAMETER_WEIGHTS,
    OUTLIER_CHANCE,
    exponential_normal_density,
    likelihood,
    outlier_density,
)
from leadsman.calibrate.prior import grid_of
from leadsman.calibrate.setup_response import setup_response
from leadsman.hydro.technique import Technique

FIT = first_fit(TWENTY)
GRID = grid_of(FIT)
FISHED = Fished(THIN, "thin", 0.02, Technique.steady(50.0, 0.5, 1.3))


def middle(evidence: Evidence):  # type: ignore[no-untyped-def]
    """Likelihood with the diameter as stated."""
    return likelihood(evidence, GRID, FIT.forces)[2]


def test_exponentially_modified_normal() -> None:
    """Against scipy's own exponnorm (its K is mean over sd)."""
    x = np.linspace(-2.0, 3.0, 60)
    ours = exponential_normal_density(x, 0.4, np.full(60, 0.25))
    theirs = stats.exponnorm.pdf(x, 0.4 / 0.25, scale=0.25)
    assert ours == pytest.approx(theirs, rel=1e-9)
    far = exponential_normal_density(np.array([-40.0, 60.0]), 0.4, np.full(2, 0.25))
    assert np.all(np.isfinite(far))


def test_hermite_rule() -> None:
    """Moments of the standard normal law: 0, 1, 0, 3."""
    moments = [float(DIAMETER_WEIGHTS @ DIAMETER_NODES**k) for k in (1, 2, 3, 4)]
    assert moments == pytest.approx([0.0, 1.0, 0.0, 3.0], abs=1e-12)


def test_measured_depth_is_a_density_in_what_is_measured() -> None:
    """Over all readings it integrates to 1, but for the tails of the outlier's even law."""
    cell = (4, 70, 20)
    depth = setup_response(GRID, FIT.forces, THIN, FISHED.technique).depth_m[cell]
    readings = np.linspace(depth - 3.0, depth + 3.0, 121)
    for kind in (MeasuredDepth, Ticked):
        values = [middle(kind(FISHED, float(d)))[cell] for d in readings]
        plain = np.array(values) - OUTLIER_CHANCE * outlier_density(kind(FISHED, 5.0))
        total = integrate.simpson(plain, x=readings) / (1.0 - OUTLIER_CHANCE)
        assert total == pytest.approx(1.0, abs=0.06 if kind is Ticked else 0.005)


def test_directions() -> None:
    """A tick favours lures that run a little deeper than the bottom, a miss shallower ones."""
    depth = setup_response(GRID, FIT.forces, THIN, FISHED.technique).depth_m
    tick, miss = middle(Ticked(FISHED, 5.0)), middle(DidNotReach(FISHED, 5.0))
    best = depth.ravel()[tick.argmax()]
    assert 5.0 < best < 5.5
    assert miss[depth < 4.0].min() > 0.9
    assert miss[depth > 6.5].max() < 0.05
    assert np.all(miss[depth > 6.5] >= 0.5 * OUTLIER_CHANCE)


def test_more_casts_are_sharper() -> None:
    one = middle(MeasuredDepth(FISHED, 5.0, 0.05))
    many = middle(MeasuredDepth(replace(FISHED, casts=9), 5.0, 0.05))
    assert many.max() > 1.3 * one.max()


def test_a_thicker_line_wants_a_deeper_lure() -> None:
    nodes = likelihood(MeasuredDepth(FISHED, 5.0, 0.05), GRID, FIT.forces)
    depth = setup_response(GRID, FIT.forces, THIN, FISHED.technique).depth_m
    best = [float((depth * node).sum() / node.sum()) for node in nodes]
    assert best == sorted(best)


def test_pull_is_that_of_drag_and_dive_force() -> None:
    """Pull on short line: the root of drag squared plus dive force squared (statics)."""
    angle, area, speed = GRID.angle_rad[70], math.exp(GRID.log_area[25]), 1.3
    drag = 0.5 * 998.2336 * area * speed**2
    pull = math.hypot(drag, drag * math.tan(angle))
    like = middle(PullOnScale(pull, speed))
    row = like[0, 70]
    assert int(row.argmax()) == 25
    assert row[25] == pytest.approx(0.95 / (0.12 * math.sqrt(2 * math.pi)) + 0.05 / 3.0, rel=1e-6)
    assert like[3] == pytest.approx(like[8])  # the line has nothing to do with it


def test_time_to_bottom_is_a_density_in_time() -> None:
    """Over all times at which a lure may reach 2 m it integrates to 1 within 10 % (the rate of
    sinking changes over the spread of a reading).
    """
    cell = (4, 70, 20)
    times = np.linspace(1.0, 15.0, 57)
    values = [middle(TimeToBottom(FISHED, 2.0, float(t)))[cell] for t in times]
    plain = np.array(values) - OUTLIER_CHANCE * outlier_density(TimeToBottom(FISHED, 2.0, 5.0))
    total = integrate.simpson(plain, x=times) / (1.0 - OUTLIER_CHANCE)
    assert total == pytest.approx(1.0, abs=0.1)


def test_time_to_bottom_favours_the_lure_that_is_there_then() -> None:
    seen = TimeToBottom(FISHED, 4.0, 12.0)
    depth = setup_response(GRID, FIT.forces, THIN, FISHED.technique, 12.0).depth_m
    like = middle(seen)
    assert abs(depth.ravel()[like.argmax()] - 4.0) < 0.3
