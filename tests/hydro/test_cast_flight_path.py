"""Flight against closed forms and an independent integrator."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight_path import CALM, Wind, flight_drag_area_m2, fly

G = 9.81


def test_straight_up_has_its_closed_form() -> None:
    # Quadratic drag, terminal speed v_t = v0: height v_t^2/(2 g) ln 2, time up v_t/g atan 1,
    # back at v_t/sqrt 2 after v_t/g asinh 1 (any mechanics text; own derivation).
    terminal = 30.0
    path = fly(30.0, math.pi / 2.0, 0.0, G / terminal**2, gravity_m_s2=G)
    assert path.apex_m == pytest.approx(terminal**2 / (2 * G) * math.log(2.0), rel=1e-6)
    assert path.apex_time_s == pytest.approx(terminal / G * math.atan(1.0), rel=1e-6)
    assert path.end_speed_m_s == pytest.approx(terminal / math.sqrt(2.0), rel=1e-5)
    assert path.time_s - path.apex_time_s == pytest.approx(terminal / G * math.asinh(1.0), rel=1e-5)
    assert path.apex_m == pytest.approx(31.795742, rel=1e-6)


@pytest.mark.parametrize(
    ("speed", "degrees", "drag", "reach", "apex"),
    [(30.0, 40.0, 0.01, 56.131348, 14.383419), (30.0, 40.0, 0.02, 42.185814, 11.934945)],
)
def test_oblique_flight_against_scipy_dop853_figures(
    speed: float, degrees: float, drag: float, reach: float, apex: float
) -> None:
    # Figures by scipy solve_ivp DOP853, rtol 1e-11.
    path = fly(speed, math.radians(degrees), 0.0, drag, gravity_m_s2=G)
    assert path.ahead_m == pytest.approx(reach, rel=1e-5)
    assert path.apex_m == pytest.approx(apex, rel=1e-6)
    split = fly(speed, math.radians(degrees), 0.0, 0.3 * drag, 0.7 * drag, gravity_m_s2=G)
    assert split.ahead_m == pytest.approx(reach, rel=1e-5)


def test_vacuum_range_has_its_closed_form() -> None:
    path = fly(40.0, math.pi / 4.0, 0.0, 0.0, gravity_m_s2=G)
    assert path.ahead_m == pytest.approx(40.0**2 / G, rel=1e-9)
    assert path.ahead_m == pytest.approx(163.09888, rel=1e-6)


def _scipy_landing(
    speed: float, angle: float, height: float, air: float, line: float, wind: Wind, fall: float
) -> tuple[float, float]:
    z0 = wind.roughness_m

    def rates(_t: float, s: np.ndarray) -> list[float]:
        profile = math.log((max(s[2], 0.0) + z0) / z0) / math.log((wind.height_m + z0) / z0)
        rel = np.array([s[3] + wind.ahead_m_s * profile, s[4] - wind.right_m_s * profile, s[5]])
        ground = s[3:6]
        acc = -air * np.linalg.norm(rel) * rel
        acc = acc - line / (1.0 - fall * s[0]) * np.linalg.norm(ground) * ground
        return [*ground, acc[0], acc[1], acc[2] - 9.80665]

    def water(_t: float, s: np.ndarray) -> float:
        return float(s[2])

    water.terminal = True  # type: ignore[attr-defined]
    water.direction = -1.0  # type: ignore[attr-defined]
    start = [0.0, 0.0, height, speed * math.cos(angle), 0.0, speed * math.sin(angle)]
    run = solve_ivp(rates, (0.0, 60.0), start, "DOP853", rtol=1e-10, atol=1e-10, events=water)
    end = run.y_events[0][0]
    return float(end[0]), float(end[1])


@settings(max_examples=25, deadline=None)
@given(
    speed=st.floats(15.0, 65.0),
    angle=st.floats(0.1, 1.2),
    height=st.floats(0.5, 5.0),
    air=st.floats(0.0, 0.06),
    line=st.floats(0.0, 0.03),
    ahead=st.floats(-10.0, 10.0),
    right=st.floats(-10.0, 10.0),
    fall=st.floats(0.0, 0.004),
)
def test_any_flight_agrees_with_scipy(
    speed: float,
    angle: float,
    height: float,
    air: float,
    line: float,
    ahead: float,
    right: float,
    fall: float,
) -> None:
    # scipy.integrate.solve_ivp, DOP853, run live on independently written equations.
    wind = Wind(ahead, right)
    path = fly(speed, angle, height, air, line, wind, fall)
    x, y = _scipy_landing(speed, angle, height, air, line, wind, fall)
    assert math.hypot(path.ahead_m - x, path.left_m - y) < 0.002 + 1e-4 * math.hypot(x, y)


def test_wind_carries_the_lure_with_it() -> None:
    calm = fly(40.0, 0.6, 3.0, 0.02)
    assert fly(40.0, 0.6, 3.0, 0.02, wind=Wind(5.0)).ahead_m < calm.ahead_m
    assert fly(40.0, 0.6, 3.0, 0.02, wind=Wind(-5.0)).ahead_m > calm.ahead_m
    assert fly(40.0, 0.6, 3.0, 0.02, wind=Wind(0.0, 5.0)).left_m > 1.0
    behind = Wind.coming_from(5.0, math.pi)
    assert behind.ahead_m_s == pytest.approx(-5.0) and abs(behind.right_m_s) < 1e-12


def test_wind_is_as_told_at_its_height() -> None:
    # Log law of the wall: told lower down, the same figure means more wind aloft.
    forecast = fly(40.0, 0.6, 3.0, 0.02, wind=Wind(5.0, height_m=10.0))
    by_hand = fly(40.0, 0.6, 3.0, 0.02, wind=Wind(5.0, height_m=2.0))
    assert by_hand.ahead_m < forecast.ahead_m
    assert CALM.ahead_m_s == 0.0


def test_mean_projected_area_of_a_sphere_and_a_plate() -> None:
    # Cauchy: a quarter of the surface. A sphere shows pi r^2; a plate of area A shows A / 2.
    assert flight_drag_area_m2(0.02, 0.02, 0.02, 0.0, 1.0) == pytest.approx(math.pi * 1e-4)
    plate = flight_drag_area_m2(0.02, 0.02, 0.02, 4e-4, 1.0) - math.pi * 1e-4
    assert plate == pytest.approx(2e-4)


def test_mean_projected_area_of_an_ellipsoid_against_its_integral() -> None:
    # Projected area of an ellipsoid along unit n: pi sqrt(sum (b c n_x)^2 ...), averaged.
    a, b, c = 0.045, 0.015, 0.012
    rng = np.random.default_rng(5)
    n = rng.normal(size=(200_000, 3))
    n /= np.linalg.norm(n, axis=1)[:, None]
    mean = math.pi * np.mean(np.sqrt(((n * [b * c, a * c, a * b]) ** 2).sum(axis=1)))
    area = flight_drag_area_m2(2 * a, 2 * b, 2 * c, 0.0, 1.0)
    assert area == pytest.approx(mean, rel=0.013)


def test_wind_out_of_reason_is_refused() -> None:
    with pytest.raises(TechniqueError, match="wind"):
        Wind(60.0)
    with pytest.raises(TechniqueError, match="height"):
        Wind(5.0, height_m=0.0)
    with pytest.raises(TechniqueError, match="roughness"):
        Wind(5.0, roughness_m=1.0)
