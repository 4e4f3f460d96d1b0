"""The first fit, against the closed-form spiral and by solving it forward again."""

from __future__ import annotations

import math
import time
from dataclasses import replace

import pytest

from leadsman.calibrate.depth_test import RATING_LOG_SD, fill_test
from leadsman.calibrate.first_fit import first_fit, solve_dive_angle
from leadsman.calibrate.forward import free_max_depth_m
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Technique
from leadsman.kitfile.template import demo_kit
from leadsman.tackle.lure import DepthTest, Lure, RatedDepth

LURE = Lure("a", 0.070, 0.039, 0.0216, 0.021, body_width_m=0.0216)
TOLD = DepthTest("nylon", 44.48, 3.0e-4, 55.0, 0.0)


def spiral(lure: LureForces, line: LineProperties, way: Technique, drag: DragLaw) -> float:
    """Closed-form limit R exp(-d cot d) sin d (own derivation, see docs)."""
    angle = lure.dive_angle_rad
    return way.cast_m * math.exp(-angle / math.tan(angle)) * math.sin(angle)


@pytest.mark.parametrize("degrees", [0.5, 2.0, 10.0, 20.0, 30.0, 45.0, 60.0])
def test_dive_angle_is_recovered_from_the_spiral(degrees: float) -> None:
    test = fill_test(TOLD, 0.020)
    truth = LureForces(math.radians(degrees), 20e-4)
    depth = spiral(truth, test.line, test.technique, DragLaw())
    angle, reached = solve_dive_angle(truth, test, depth, spiral)
    assert reached
    assert math.degrees(angle) == pytest.approx(degrees, rel=3e-3)


def test_spread_is_that_of_the_spiral() -> None:
    """Where only cast and promise matter, sd(delta) = z sqrt(cast^2 + promise^2) / (dz/ddelta)."""
    angle, reach = math.radians(20.0), 55.0
    depth = reach * math.exp(-angle / math.tan(angle)) * math.sin(angle)
    slope = depth * angle / math.sin(angle) ** 2  # d/dd (-d cot d + ln sin d) = d / sin^2 d
    lure = replace(LURE, rated=RatedDepth(depth, depth, TOLD))
    fit = first_fit(lure, spiral)
    cast = fill_test(TOLD, lure.mass_kg).cast_log_sd
    wanted = depth * math.hypot(cast, RATING_LOG_SD) / slope
    assert fit.dive_angle_sd_rad == pytest.approx(wanted, rel=0.03)
    assert fit.correlation == pytest.approx(0.0, abs=1e-9)
    assert fit.angle_per_log_drag_rad == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("lure", demo_kit().lures, ids=lambda lure: lure.name)
def test_fit_reaches_the_rated_depth_when_solved_again(lure: Lure) -> None:
    fit = first_fit(lure)
    assert fit.basis == "rated depth" and fit.reached
    assert fit.test is not None and fit.rated_depth_m is not None
    depth = free_max_depth_m(fit.forces, fit.test.line, fit.test.technique, DragLaw())
    assert depth == pytest.approx(fit.rated_depth_m, rel=2e-3, abs=1e-3)
    assert -1.0 < fit.correlation < 0.0  # less pull wants a steeper dive


def test_spread_holds_a_lure_of_other_pull_area() -> None:
    """A lure of 1.49 times the pull area that reaches the same depth lies on the ridge: its
    angle is what the correlation says, within the curvature of the ridge (1.5 degrees).
    """
    lure = replace(LURE, rated=RatedDepth(6.0, 6.0, TOLD))
    fit = first_fit(lure)
    assert fit.test is not None
    wider = replace(fit.forces, pull_area_m2=fit.forces.pull_area_m2 * math.exp(0.4))
    angle, _ = solve_dive_angle(wider, fit.test, 6.0)
    ridge = fit.correlation * fit.dive_angle_sd_rad * 0.4 / fit.log_pull_area_sd
    assert angle - fit.forces.dive_angle_rad == pytest.approx(ridge, abs=math.radians(1.5))
    drag = DragLaw(normal_factor=math.exp(0.15))
    angle, _ = solve_dive_angle(fit.forces, fit.test, 6.0, drag=drag)
    gain = 0.15 * fit.angle_per_log_drag_rad
    assert angle - fit.forces.dive_angle_rad == pytest.approx(gain, abs=math.radians(0.5))


def test_less_told_is_less_sure() -> None:
    told = first_fit(replace(LURE, rated=RatedDepth(6.0, 6.0, TOLD)))
    untold = first_fit(replace(LURE, rated=RatedDepth(6.0, 6.0)))
    ranged = first_fit(replace(LURE, rated=RatedDepth(4.5, 7.5, TOLD)))
    assert untold.dive_angle_sd_rad > told.dive_angle_sd_rad
    assert ranged.dive_angle_sd_rad > told.dive_angle_sd_rad


def test_impossible_promise_is_flagged() -> None:
    fit = first_fit(replace(LURE, rated=RatedDepth(19.0, 19.0, replace(TOLD, cast_m=20.0))))
    assert not fit.reached


def test_what_the_kit_gives_is_kept() -> None:
    given = first_fit(replace(LURE, dive_angle_rad=0.5, pull_area_m2=18e-4))
    assert (given.forces.dive_angle_rad, given.forces.pull_area_m2) == (0.5, 18e-4)
    assert given.basis == "given"
    assert given.log_pull_area_sd < first_fit(LURE).log_pull_area_sd
    assert first_fit(LURE).basis == "size only"


def test_fast_enough_for_a_command() -> None:
    lure = replace(LURE, rated=RatedDepth(6.0, 6.0))
    first_fit(lure)
    start = time.perf_counter()
    for _ in range(5):
        first_fit(lure)
    assert (time.perf_counter() - start) / 5 < 0.05  # 5 ms alone; the machine may be busy
