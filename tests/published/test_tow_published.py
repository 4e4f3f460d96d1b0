"""The steady tow against closed forms and figures from outside the project."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.tow import GRAVITY_M_S2, tow
from leadsman.water import Water

# One case for all: 40 m of 0.35 mm line at 1.5 m/s, C_n 1.2, end drag 3 N, down-force 2.5 N.
WATER = Water(1000.0, 1e-3)
DIAMETER_M, LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N = 0.35e-3, 40.0, 1.5, 3.0, 2.5
NORMAL = DragLaw(normal_constant=1.2, tangential=0.0)
BOTH = DragLaw(normal_constant=1.2, tangential=0.015)


def _line(density_kg_m3: float = 1000.0, modulus_pa: float = math.inf) -> LineProperties:
    return LineProperties(DIAMETER_M, density_kg_m3, modulus_pa)


def test_sine_squared_cable() -> None:
    """Weightless line, normal drag only: pull constant, closed form.

    The sine-squared cable (Glauert's and Pode's limit), own derivation in
    docs/physics.md; here from the formula, and against the figures it gives.
    """
    got = tow(_line(), LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, NORMAL)
    pull = math.hypot(DRAG_N, DOWN_N)
    k = 0.5 * 1000.0 * 1.2 * DIAMETER_M * SPEED_M_S**2
    cot_end = DRAG_N / DOWN_N
    cot_top = cot_end + k * LENGTH_M / pull
    depth = pull / k * (math.asinh(cot_top) - math.asinh(cot_end))
    layback = pull / k * (math.hypot(1.0, cot_top) - math.hypot(1.0, cot_end))
    assert got.top_pull_n == pytest.approx(pull, rel=1e-8)
    assert got.depth_m == pytest.approx(depth, rel=1e-7)
    assert got.layback_m == pytest.approx(layback, rel=1e-7)
    assert got.top_angle_rad == pytest.approx(math.atan2(1.0, cot_top), rel=1e-7)
    figures = (got.top_pull_n, got.depth_m, got.layback_m, math.degrees(got.top_angle_rad))
    assert figures == pytest.approx((3.905125, 12.251164, 37.687295, 9.401095), abs=2e-6)


@pytest.mark.parametrize(
    ("density_kg_m3", "depth_m"), [(1000.0, 12.466655), (1140.0, 12.479092), (1780.0, 12.535800)]
)
def test_with_tangential_drag(density_kg_m3: float, depth_m: float) -> None:
    """Figures of scipy solve_ivp, DOP853, rtol 1e-11, run outside the project, g 9.81."""
    got = tow(_line(density_kg_m3), LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, BOTH)
    assert got.depth_m == pytest.approx(depth_m, rel=1e-6)
    if density_kg_m3 == 1000.0:
        assert got.layback_m == pytest.approx(37.633430, rel=1e-6)
        assert got.top_pull_n == pytest.approx(4.564027, rel=1e-6)


@pytest.mark.parametrize("density_kg_m3", [960.0, 1000.0, 1140.0, 1780.0, 7800.0])
@pytest.mark.parametrize("modulus_pa", [math.inf, 2e9])
@pytest.mark.parametrize("law", [NORMAL, BOTH, DragLaw()])
def test_against_scipy(density_kg_m3: float, modulus_pa: float, law: DragLaw) -> None:
    """Live against scipy's DOP853 on (tension, angle), another form of the same balance."""
    line = _line(density_kg_m3, modulus_pa)
    got = tow(line, LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, law)
    dynamic = 0.5 * WATER.density_kg_m3 * DIAMETER_M * SPEED_M_S**2
    weight = (density_kg_m3 - WATER.density_kg_m3) * line.section_m2 * GRAVITY_M_S2
    reynolds = WATER.density_kg_m3 * SPEED_M_S * DIAMETER_M / WATER.viscosity_pa_s

    def slope(_s: float, y: Any) -> list[float]:
        pull, angle = y[0], y[1]
        sin, cos = math.sin(angle), math.cos(angle)
        across = dynamic * float(law.normal(max(reynolds * abs(sin), 1e-9))) * sin * abs(sin)
        along = dynamic * math.pi * law.tangential * cos * abs(cos)
        stretch = 1.0 + pull / line.stiffness_n
        return [
            along + weight * sin,
            (weight * cos - across) / pull,
            stretch * cos,
            stretch * sin,
        ]

    start = [math.hypot(DRAG_N, DOWN_N), math.atan2(DOWN_N, DRAG_N), 0.0, 0.0]
    end = solve_ivp(slope, (0.0, LENGTH_M), start, "DOP853", rtol=1e-10, atol=1e-12).y[:, -1]
    assert got.top_pull_n == pytest.approx(end[0], rel=2e-6)
    assert got.top_angle_rad == pytest.approx(end[1], rel=2e-5)
    assert got.layback_m == pytest.approx(end[2], rel=2e-6)
    assert got.depth_m == pytest.approx(end[3], rel=2e-5)


def test_constant_tangential_force_of_the_old_tables_is_near() -> None:
    """Tangential force constant along the line: a quadrature, own derivation.

    The law of Pode 1951, DTMB Report 687 (from memory for the law). It is not
    the law used here, so it only brackets it: the depth moves by 0.5 %, the
    pull by 2 %.
    """
    k = 0.5 * 1000.0 * 1.2 * DIAMETER_M * SPEED_M_S**2
    f = 0.5 * 1000.0 * math.pi * DIAMETER_M * 0.015 * SPEED_M_S**2
    start = math.hypot(DRAG_N, DOWN_N)
    cot_end = DRAG_N / DOWN_N
    # T = T_end + f s and d(cot phi)/ds = k / T  give  cot phi (s) in closed form.
    pull = start + f * LENGTH_M

    def cot(s: float) -> float:
        return cot_end + k / f * math.log1p(f * s / start)

    depth = quad(lambda s: 1.0 / math.hypot(1.0, cot(s)), 0.0, LENGTH_M, epsabs=1e-12)[0]
    layback = quad(lambda s: cot(s) / math.hypot(1.0, cot(s)), 0.0, LENGTH_M, epsabs=1e-12)[0]
    assert (depth, layback, pull) == pytest.approx((12.522237, 37.618056, 4.647326), abs=2e-6)
    got = tow(_line(), LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, BOTH)
    assert got.depth_m == pytest.approx(depth, rel=5e-3)
    assert got.top_pull_n == pytest.approx(pull, rel=2e-2)


@pytest.mark.parametrize("law", [NORMAL, DragLaw(tangential=0.0), DragLaw(None, 1.3, 0.0)])
@pytest.mark.parametrize("density_kg_m3", [960.0, 1140.0, 1780.0, 7800.0])
def test_pull_grows_by_weight_times_depth_without_tangential_drag(
    law: DragLaw, density_kg_m3: float
) -> None:
    """T_top - T_end = submerged weight per metre x depth, exactly: own derivation."""
    line = _line(density_kg_m3)
    got = tow(line, LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, law)
    weight = (density_kg_m3 - WATER.density_kg_m3) * line.section_m2 * GRAVITY_M_S2
    gained = got.top_pull_n - math.hypot(DRAG_N, DOWN_N)
    assert gained == pytest.approx(weight * got.depth_m, abs=2e-7)


@pytest.mark.parametrize(
    ("weight_ratio", "angle_deg"),
    [(0.01, 5.725), (0.1, 17.964), (0.5, 38.668), (1.0, 51.827), (2.0, 65.530)],
)
def test_long_heavy_line_with_nothing_at_its_end(weight_ratio: float, angle_deg: float) -> None:
    """sin^2 phi / cos phi = W / R, closed form; a small load must be forgotten."""
    line = _line(1780.0)
    weight = 780.0 * line.section_m2 * GRAVITY_M_S2
    speed = math.sqrt(weight / (weight_ratio * 0.5 * 1000.0 * 1.2 * DIAMETER_M))
    for end_drag_n in (0.0, 1e-5):
        got = tow(line, 400.0, speed, end_drag_n, 0.0, 0.0, WATER, NORMAL)
        assert math.degrees(got.top_angle_rad) == pytest.approx(angle_deg, abs=2e-3)


@pytest.mark.parametrize(
    ("density_kg_m3", "modulus_pa", "depth_m", "layback_m"),
    [
        (1000.0, 2e9, 12.735252, 38.459965),
        (1780.0, 2e9, 12.806234, None),
        (1000.0, 20e9, 12.493514, None),
    ],
)
def test_stretch_with_drag_per_unstretched_metre(
    density_kg_m3: float, modulus_pa: float, depth_m: float, layback_m: float | None
) -> None:
    """The stretch convention: figures of an ODE run outside the project.

    Of the three conventions the one with drag per unstretched metre gives
    12.806 m at 2 GPa and 1780 kg/m3; volume conserved would give 12.747 m and
    drag per stretched metre at a fixed diameter 12.688 m.
    """
    line = _line(density_kg_m3, modulus_pa)
    got = tow(line, LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, BOTH)
    assert got.depth_m == pytest.approx(depth_m, rel=1e-6)
    if layback_m is not None:
        assert got.layback_m == pytest.approx(layback_m, rel=1e-6)


@pytest.mark.parametrize(("horizontal_n", "vertical_n"), [(3.0, 2.5), (0.02, 0.0), (0.5, 1e-3)])
def test_no_water_flow_is_the_catenary(horizontal_n: float, vertical_n: float) -> None:
    """Inextensible catenary, closed form of any statics text."""
    line = _line(1780.0)
    weight = 780.0 * line.section_m2 * GRAVITY_M_S2
    got = tow(line, LENGTH_M, 0.0, horizontal_n, vertical_n, 0.0, WATER, BOTH)
    a = horizontal_n / weight
    low, top = vertical_n / horizontal_n, (vertical_n + weight * LENGTH_M) / horizontal_n
    assert got.layback_m == pytest.approx(a * (math.asinh(top) - math.asinh(low)), rel=1e-7)
    depth = a * (math.hypot(1.0, top) - math.hypot(1.0, low))
    assert got.depth_m == pytest.approx(depth, rel=1e-6)


@pytest.mark.parametrize("scale", [0.25, 3.0])
def test_dimensional_similarity(scale: float) -> None:
    """Every length by s and every force by s^2 scales depth by s (Buckingham pi)."""
    base = tow(_line(), LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, BOTH)
    line = LineProperties(DIAMETER_M * scale, 1000.0)
    scaled = tow(
        line,
        LENGTH_M * scale,
        SPEED_M_S,
        DRAG_N * scale**2,
        DOWN_N * scale**2,
        0.0,
        WATER,
        BOTH,
    )
    assert scaled.depth_m == pytest.approx(base.depth_m * scale, rel=1e-7)


def test_speed_does_not_matter_when_all_forces_grow_with_its_square() -> None:
    slow = tow(_line(), LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, BOTH)
    fast = tow(_line(), LENGTH_M, 2 * SPEED_M_S, 4 * DRAG_N, 4 * DOWN_N, 0.0, WATER, BOTH)
    np.testing.assert_allclose(
        [fast.depth_m, fast.layback_m], [slow.depth_m, slow.layback_m], rtol=1e-7
    )


def test_effect_of_the_uncertain_tangential_coefficient() -> None:
    """C_t 0 to 0.02 moves depth from 12.25 to 12.54 m and pull from 3.91 to 4.7 N.

    Why a wide prior on C_t does little harm (Cipolla & Keith 2002, abstract, for its size).
    """
    ends = [
        tow(_line(), LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, DragLaw(1.2, 1.0, c_t))
        for c_t in (0.0, 0.02)
    ]
    assert [e.depth_m for e in ends] == pytest.approx([12.25, 12.54], abs=6e-3)
    assert [e.top_pull_n for e in ends] == pytest.approx([3.91, 4.77], abs=8e-2)


def _moordyn_cases() -> list[dict[str, Any]]:
    path = Path(__file__).parents[1] / "reference" / "moordyn_tow.json"
    return list(json.loads(path.read_text(encoding="utf-8"))["cases"])


@pytest.mark.parametrize("case", _moordyn_cases(), ids=lambda case: str(case["name"]))
def test_against_frozen_moordyn(case: dict[str, Any]) -> None:
    """`moordyn` 2.7.2, an independent general cable code; tests/reference/make_moordyn_tow.py."""
    line = _line(case["density_kg_m3"], case["modulus_pa"])
    got = tow(line, LENGTH_M, SPEED_M_S, DRAG_N, DOWN_N, 0.0, WATER, BOTH)
    assert got.depth_m == pytest.approx(case["depth_m"], rel=5e-4)
    assert got.layback_m == pytest.approx(case["layback_m"], rel=5e-4)
    assert case["last_tenth_m"] < 1e-4 * case["depth_m"], "the frozen run had settled"


@pytest.mark.parametrize(
    ("name", "depth_m"),
    [("neutral-2GPa", 12.736016), ("heavy-2GPa", 12.806989), ("neutral-20GPa", 12.494315)],
)
def test_frozen_moordyn_agrees_with_an_earlier_trial(name: str, depth_m: float) -> None:
    """Figures of this project's own earlier trial of the same code, input files lost."""
    frozen = next(case for case in _moordyn_cases() if case["name"] == name)
    assert frozen["depth_m"] == pytest.approx(depth_m, rel=1e-5)


@pytest.mark.slow
def test_moordyn_live_gives_the_frozen_figures() -> None:
    """Reruns the first case, some 15 s, in a process of its own for its chatter."""
    script = Path(__file__).parents[1] / "reference" / "make_moordyn_tow.py"
    done = subprocess.run(
        [sys.executable, str(script), "--case", "0"], capture_output=True, text=True, check=True
    )
    live = json.loads(done.stdout[done.stdout.rindex("{") :])
    frozen = _moordyn_cases()[0]
    assert live["depth_m"] == pytest.approx(frozen["depth_m"], rel=1e-5)
    assert live["layback_m"] == pytest.approx(frozen["layback_m"], rel=1e-5)
