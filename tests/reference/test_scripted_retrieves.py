"""Stops, lifts, drops, slopes and friction against the slow solver, run live on a coarse mesh."""

from __future__ import annotations

import math

import numpy as np
import pytest
from slow_retrieve import Case, Leg, Path, solve

from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.technique import Step, Technique

SEGMENTS = 64
CAST_M = 45.0
LINE = LineProperties(0.31e-3, 1400.0, 4e9)
FLOATS = LureForces(math.radians(30.0), 12e-4, 0.018, 0.06)
SINKS = LureForces(math.radians(25.0), 10e-4, 0.018, -0.05)


def _reel(seconds: float = math.inf, speed_m_s: float = 1.3, tip_m: float | None = None) -> Step:
    return Step("reel", seconds, speed_m_s, tip_m)


SCRIPTS = {
    "stop, lure rises": (FLOATS, 0.6, (_reel(14.0), Step("stop", 4.0), _reel())),
    "long stop, lure comes up": (FLOATS, 0.6, (_reel(14.0), Step("stop", 15.0), _reel())),
    "stop, lure sinks": (SINKS, 0.6, (_reel(14.0), Step("stop", 4.0), _reel())),
    "lift and reel down": (
        FLOATS,
        0.6,
        (
            _reel(12.0),
            Step("sweep", 1.5, 0.0, 2.0, 1.2),
            _reel(2.0, 1.3, 0.3),
            _reel(),
        ),
    ),
    "snap and drop": (
        FLOATS,
        -0.5,
        (
            _reel(12.0),
            Step("sweep", 0.4, 0.0, 1.5, 0.8),
            Step("sweep", 0.8, 0.0, -0.5, -0.8),
            Step("stop", 1.5),
            _reel(),
        ),
    ),
    "tip rises": (FLOATS, -0.9, (_reel(15.0), _reel(12.0, 1.3, 2.5), _reel())),
    "burst": (FLOATS, 0.3, (_reel(12.0, 0.8), _reel(6.0, 2.2), _reel(math.inf, 0.9))),
}


def _legs(tip_m: float, steps: tuple[Step, ...]) -> tuple[Leg, ...]:
    legs, height = [], tip_m
    for step in steps:
        to = height if step.tip_m is None else step.tip_m
        endless = math.isinf(step.seconds)
        rise = 0.0 if endless else (to - height) / step.seconds
        back = 0.0 if endless else step.pull_back_m / step.seconds
        legs.append(Leg(step.seconds, step.speed_m_s, rise, back))
        height = to
    return tuple(legs)


def _slow(
    lure: LureForces,
    tip_m: float,
    steps: tuple[Step, ...],
    bottom_m: float = math.inf,
    slope: float = 0.0,
    friction: float = 0.0,
) -> Path:
    case = Case(
        lure.pull_area_m2,
        lure.dive_angle_rad,
        lure.buoyancy_n,
        lure.mass_kg,
        LINE.diameter_m,
        LINE.density_kg_m3,
        LINE.modulus_pa,
        CAST_M,
        tip_m,
        _legs(tip_m, steps),
        bottom_m=bottom_m,
        bottom_slope=slope,
        friction=friction,
    )
    return solve(case, SEGMENTS)


@pytest.mark.parametrize("name", SCRIPTS)
def test_script(name: str) -> None:
    """Depth at every quarter second within 3 % of the greatest, half of that on the mean."""
    lure, tip_m, steps = SCRIPTS[name]
    slow = _slow(lure, tip_m, steps)
    ours = retrieve(lure, LINE, Technique(CAST_M, tip_m, steps))
    times = np.arange(0.5, min(slow.t_s[-1], ours.t_s[-1]), 0.25)
    assert times.size > 80
    off = np.interp(times, ours.t_s, ours.depth_m) - np.interp(times, slow.t_s, slow.depth_m)
    assert np.max(np.abs(off)) < 0.03 * slow.max_depth_m
    assert math.sqrt(float(np.mean(off**2))) < 0.012 * slow.max_depth_m
    assert ours.max_depth_m == pytest.approx(slow.max_depth_m, rel=0.01)


@pytest.mark.parametrize("friction", [0.0, 0.3])
@pytest.mark.parametrize("slope", [-0.03, 0.0, 0.06])
def test_load_on_a_slope_with_friction(slope: float, friction: float) -> None:
    """Load within 0.01 at five places, on a bottom that rises or falls toward the boat."""
    under_tip = 2.0 if slope >= 0.0 else 3.4
    steps = (_reel(),)
    slow = _slow(FLOATS, 0.6, steps, under_tip, slope, friction)
    far = np.array([-5.0, CAST_M + 5.0])
    bottom = BottomProfile(far, under_tip + slope * far, friction=friction)
    ours = retrieve(FLOATS, LINE, Technique(CAST_M, 0.6, steps), bottom)
    at = np.flatnonzero(slow.normal_n > 0.0)
    x = slow.x_m[at[0]] + np.linspace(0.1, 0.9, 5) * (slow.x_m[at[-1]] - slow.x_m[at[0]])
    theirs = np.interp(-x, -slow.x_m, slow.normal_n / slow.pull_n)
    assert np.max(theirs) > 0.03
    np.testing.assert_allclose(np.interp(-x, -ours.x_m, ours.load), theirs, atol=0.01)
