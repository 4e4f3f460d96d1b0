"""Steady tow: limits, symmetries and the edges of what can be towed."""

from __future__ import annotations

import math
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import TechniqueError
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.tow import GRAVITY_M_S2, Tow, tow, tow_lure, warm_up
from leadsman.water import Water

LINE = LineProperties(0.35e-3, 1140.0, 3e9)
HEAVY = LineProperties(0.35e-3, 1780.0)


def test_tip_under_water_lowers_the_whole_line_by_as_much() -> None:
    at_surface = tow(LINE, 40.0, 1.5, 3.0, 2.5, 0.0)
    under = tow(LINE, 40.0, 1.5, 3.0, 2.5, -1.25)
    assert under.depth_m - at_surface.depth_m == pytest.approx(1.25, rel=1e-12)
    np.testing.assert_allclose(under.tension_n, at_surface.tension_n, rtol=1e-12)


def test_a_tip_just_over_the_water_is_a_tip_at_the_water() -> None:
    assert tow(LINE, 40.0, 1.5, 3.0, 2.5, 1e-9).depth_m == pytest.approx(
        tow(LINE, 40.0, 1.5, 3.0, 2.5, 0.0).depth_m, abs=1e-8
    )


def test_line_in_the_air_is_a_catenary_with_the_tension_of_the_line_below() -> None:
    # Own derivation: the horizontal force does not change in the air, and the
    # tension differs by weight per metre times height (inextensible line).
    got = tow(HEAVY, 40.0, 1.5, 3.0, 2.5, 2.0)
    dry = got.curve_depth_m <= 0.0
    weight = HEAVY.mass_per_length_kg_m * GRAVITY_M_S2
    waterline = float(got.tension_n[dry][-1])
    np.testing.assert_allclose(
        got.tension_n[dry], waterline - weight * got.curve_depth_m[dry], rtol=1e-9
    )
    assert got.curve_depth_m[0] == pytest.approx(-2.0, abs=1e-9)
    run, rise = np.diff(got.x_m), np.diff(got.curve_depth_m)
    np.testing.assert_allclose(np.hypot(run, rise), np.diff(got.line_m), rtol=1e-3)


def test_a_line_in_the_air_weakens_no_pull_but_costs_depth() -> None:
    low, high = tow(HEAVY, 40.0, 1.5, 3.0, 2.5, 0.0), tow(HEAVY, 40.0, 1.5, 3.0, 2.5, 3.0)
    assert high.depth_m < low.depth_m


def test_a_weight_at_rest_hangs_straight_down() -> None:
    hung = tow(HEAVY, 12.0, 0.0, 0.0, 0.4, 1.5)
    assert hung.depth_m == pytest.approx(10.5, rel=1e-9)
    assert hung.layback_m == pytest.approx(0.0, abs=1e-12)
    assert hung.top_angle_rad == pytest.approx(math.pi / 2.0)


def test_the_curve_ends_where_the_figures_say() -> None:
    got = tow(LINE, 40.0, 1.2, 1.0, 0.8, 0.6)
    assert got.curve_depth_m[-1] == pytest.approx(got.depth_m, abs=1e-9)
    assert got.x_m[-1] == got.layback_m
    assert got.tension_n[0] == pytest.approx(got.top_pull_n)
    assert got.tension_n[-1] == pytest.approx(math.hypot(1.0, 0.8))
    assert (got.line_m[0], got.line_m[-1]) == (0.0, 40.0)
    assert np.all(np.diff(got.line_m) > 0.0)


@pytest.mark.parametrize("down_n", [-2.5, -0.1])
@pytest.mark.parametrize("tip_m", [-0.5, 0.0, 1.0])
def test_an_end_that_would_fly_out_is_held_at_the_surface(down_n: float, tip_m: float) -> None:
    got = tow(HEAVY, 40.0, 1.5, 0.3, down_n, tip_m)
    assert got.at_surface
    assert got.depth_m == 0.0
    assert got.curve_depth_m[-1] == pytest.approx(0.0, abs=1e-6)


def test_deeper_with_more_down_force_shallower_with_more_speed() -> None:
    depth = [tow(LINE, 40.0, 1.5, 3.0, down).depth_m for down in (0.5, 1.0, 2.0, 4.0)]
    assert np.all(np.diff(depth) > 0.0)
    fast = [tow(LINE, 40.0, v, 3.0, 2.5).depth_m for v in (0.5, 1.0, 2.0, 3.0)]
    assert np.all(np.diff(fast) < 0.0)


def test_a_lure_is_towed_by_its_own_forces() -> None:
    water = Water()
    lure = LureForces(math.radians(30.0), 12e-4, buoyancy_n=0.05)
    pull = 0.5 * water.density_kg_m3 * 12e-4 * 1.4**2
    by_hand = tow(LINE, 30.0, 1.4, pull, pull * math.tan(math.radians(30.0)) - 0.05, 0.6)
    assert tow_lure(lure, LINE, 30.0, 1.4, 0.6).depth_m == by_hand.depth_m


def test_trim_lost_at_low_speed_costs_depth_and_stops_at_level() -> None:
    lure = LureForces(math.radians(30.0), 12e-4)
    losing = replace(lure, trim_speed_loss_rad_m2_s2=0.05)
    neutral = replace(LINE, density_kg_m3=Water().density_kg_m3)
    fast = [tow_lure(this, neutral, 30.0, 3.0).depth_m for this in (lure, losing)]
    slow = [tow_lure(this, neutral, 30.0, 0.8).depth_m for this in (lure, losing)]
    assert slow[1] / slow[0] < fast[1] / fast[0] < 1.0
    assert tow_lure(losing, neutral, 30.0, 0.2).depth_m == pytest.approx(0.0, abs=1e-6)
    assert tow_lure(losing, neutral, 30.0, 0.0).depth_m == pytest.approx(0.0, abs=1e-6)


@settings(max_examples=150, deadline=None)
@given(
    diameter_mm=st.floats(0.05, 2.0),
    density=st.floats(1000.0, 8000.0),
    modulus=st.sampled_from([math.inf, 1e8, 2e9, 1e11]),
    length=st.floats(3.5, 1000.0),
    speed=st.sampled_from([0.0, 0.01, 0.1, 1.0, 5.0]),
    end_drag=st.sampled_from([0.0, 1e-6, 1e-3, 0.1, 3.0, 100.0]),
    end_down=st.sampled_from([0.0, 1e-6, 1e-3, 0.1, 3.0, 100.0]),
    tip=st.floats(-3.0, 3.0),
)
def test_every_line_that_sinks_gets_a_shape(
    diameter_mm: float,
    density: float,
    modulus: float,
    length: float,
    speed: float,
    end_drag: float,
    end_down: float,
    tip: float,
) -> None:
    line = LineProperties(diameter_mm * 1e-3, density, modulus)
    got = tow(line, length, speed, end_drag, end_down, tip)
    _check_balance(got, line, end_drag, length)
    assert got.curve_depth_m[0] == pytest.approx(-tip, abs=1e-6 * length)
    assert np.all(np.isfinite(got.tension_n))


def _check_balance(got: Tow, line: LineProperties, end_drag: float, length: float) -> None:
    """The line is never longer than it stretches to, and drag only adds to the pull."""
    stretched = length * (1.0 + float(np.max(got.tension_n)) / line.stiffness_n)
    assert math.hypot(got.layback_m, got.curve_depth_m[-1] - got.curve_depth_m[0]) <= stretched * (
        1.0 + 1e-9
    )
    assert got.top_pull_n * math.cos(got.top_angle_rad) >= end_drag * (1.0 - 1e-6)


@pytest.mark.parametrize(
    "bad",
    [
        {"line_out_m": 0.0},
        {"speed_m_s": -1.0},
        {"speed_m_s": float("nan")},
        {"end_drag_n": -0.1},
        {"end_down_n": float("inf")},
        {"tip_height_m": 200.0},
        {"tip_height_m": 12.0},
    ],
)
def test_what_cannot_be_towed_is_refused(bad: dict[str, float]) -> None:
    good = {"line_out_m": 10.0, "speed_m_s": 1.0, "end_drag_n": 1.0, "end_down_n": 1.0}
    with pytest.raises(TechniqueError):
        tow(LINE, **(good | bad))


def test_no_normal_drag_is_a_straight_pull() -> None:
    neutral = LineProperties(0.35e-3, 998.2336)
    got = tow(neutral, 20.0, 1.5, 3.0, 4.0, 0.0, Water(), DragLaw(0.0, 1.0, 0.0))
    assert (got.depth_m, got.layback_m) == (pytest.approx(16.0), pytest.approx(12.0))


def test_warm_up_leaves_the_kernel_ready() -> None:
    warm_up()
    began = time.perf_counter()
    tow(LINE, 40.0, 1.5, 3.0, 2.5, 0.6)
    assert time.perf_counter() - began < 0.5
