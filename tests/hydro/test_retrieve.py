"""The retrieve against closed forms, invariances and its own fine mesh."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import SolverError, TechniqueError
from leadsman.hydro import retrieve_kernel as kernel
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve, retrieve_batch
from leadsman.hydro.retrieve_inputs import kinks, parameters, script, tables
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.technique import Step, TakeUp, Technique
from leadsman.water import Water

ROUND_WATER = Water(1000.0, 1e-3)
NO_DRAG = DragLaw(normal_constant=0.0, tangential=0.0)
FIXED_DRAG = DragLaw(normal_constant=1.2, tangential=0.015)
NEUTRAL = LineProperties(0.1e-3, 1000.0, math.inf)  # no weight in ROUND_WATER, no stretch
FLUOROCARBON = LineProperties(0.31e-3, 1780.0, 2.5e9)


def _light(degrees: float, pull_area_m2: float = 20e-4) -> LureForces:
    return LureForces(math.radians(degrees), pull_area_m2, mass_kg=1e-4)


def _typical(buoyancy_n: float = 0.05) -> LureForces:
    return LureForces(math.radians(33.0), 20e-4, 0.018, buoyancy_n)


@pytest.mark.parametrize("degrees", [3.0, 5.0, 10.0, 20.0, 30.0, 45.0, 60.0])
def test_spiral(degrees: float) -> None:
    """Own derivation: r = R exp(-theta cot delta), deepest where theta = delta."""
    got = retrieve(
        _light(degrees), NEUTRAL, Technique.steady(55.0, 0.0), None, ROUND_WATER, NO_DRAG
    )
    delta = math.radians(degrees)
    greatest = 55.0 * math.exp(-delta / math.tan(delta)) * math.sin(delta)
    assert got.max_depth_m == pytest.approx(greatest, rel=2e-3)
    deepest = int(np.argmax(got.depth_m))
    assert math.degrees(math.atan2(got.depth_m[deepest], got.x_m[deepest])) == pytest.approx(
        degrees, abs=1.0
    )
    radius = np.hypot(got.x_m, got.depth_m)
    theta = np.arctan2(got.depth_m, got.x_m)
    middle = (theta > 0.05 * delta) & (radius > 3.0)
    assert radius[middle] == pytest.approx(
        55.0 * np.exp(-theta[middle] / math.tan(delta)), abs=0.05
    )


CONTACTS = [
    (20, 3.048, 0),
    (20, 3.048, 0.6),
    (20, 3.048, -1),
    (35, 2, -1),
    (12, 1.5, 0),
    (45, 4, 0),
]


@pytest.mark.parametrize(("degrees", "depth", "tip"), CONTACTS)
def test_contact_closed_form(degrees: float, depth: float, tip: float) -> None:
    """Own derivation: N / pull = sin(delta - theta) / cos(delta), ends at (z + h) / sin(delta)."""
    got = retrieve(
        _light(degrees),
        NEUTRAL,
        Technique.steady(55.0, tip),
        BottomProfile.flat(depth),
        ROUND_WATER,
        NO_DRAG,
    )
    delta = math.radians(degrees)
    on = np.flatnonzero(got.normal_force_n > 0.0)
    assert np.all(np.diff(on) == 1)
    on = on[got.x_m[on] < got.x_m[on[0]] - 2.0]  # after the shock of landing has died out
    theta = np.arcsin((depth + tip) / got.line_out_m[on])
    assert got.load[on] == pytest.approx(
        np.sin(delta - theta) / math.cos(delta), rel=2e-3, abs=1.2e-3 if degrees < 40 else 2.5e-3
    )
    last = on[-1]  # where the normal force goes to nothing, linear between samples
    before, after = got.load[last - 1], got.load[last]
    slope = (got.line_out_m[last] - got.line_out_m[last - 1]) / (before - after)
    end = got.line_out_m[last] + slope * after
    assert end == pytest.approx((depth + tip) / math.sin(delta), rel=2e-3)


def test_a_stop_behind_a_moving_boat_is_a_steady_tow() -> None:
    """The sine-squared cable (Glauert's and Pode's limit), own derivation of the closed form.

    cot(phi_top) = cot(phi_end) + k L / T, depth = (T / k)(asinh cot phi_top - asinh cot phi_end).
    """
    speed, length, drag_n, down_n = 1.5, 40.0, 3.0, 2.5
    lure = LureForces(math.atan(down_n / drag_n), drag_n / (500.0 * speed**2))
    line = LineProperties(0.35e-3, 1000.0, math.inf)
    technique = Technique(
        length, 0.0, (Step("stop", 150.0), Step("reel", speed_m_s=1.0)), boat_m_s=-speed
    )
    law = DragLaw(normal_constant=1.2, tangential=0.0)
    got = retrieve(lure, line, technique, None, ROUND_WATER, law)
    at = int(np.searchsorted(got.t_s, 149.0))
    pull = math.hypot(drag_n, down_n)
    k = 500.0 * 1.2 * 0.35e-3 * speed**2
    # angle to the flow: cot(phi) = drag / down at the end, growing toward the tip
    end, top = drag_n / down_n, drag_n / down_n + k * length / pull
    depth = pull / k * (math.asinh(top) - math.asinh(end))
    layback = pull / k * (math.hypot(1.0, top) - math.hypot(1.0, end))
    assert depth == pytest.approx(12.251164, abs=1e-6)
    assert got.depth_m[at] == pytest.approx(depth, rel=2e-3)
    assert got.x_m[at] + speed * got.t_s[at] == pytest.approx(layback, rel=1e-3)
    assert got.pull_n[at] == pytest.approx(pull, rel=1e-3)
    assert got.tip_pull_n[at] == pytest.approx(pull, rel=1e-3)


@pytest.mark.parametrize("scale", [0.3, 2.0])
def test_similarity(scale: float) -> None:
    """Lengths by s, areas by s^2, masses by s^3: depth by s (Buckingham pi)."""

    def depth(s: float) -> float:
        lure = LureForces(math.radians(30.0), 20e-4 * s * s, 0.015 * s**3)
        line = LineProperties(0.3e-3 * s, 1000.0, 3e9)
        technique = Technique.steady(50.0 * s, -0.4 * s, 1.3)
        return retrieve(lure, line, technique, None, ROUND_WATER, FIXED_DRAG).max_depth_m

    assert depth(scale) == pytest.approx(scale * depth(1.0), rel=1e-3)


def test_speed_does_not_matter_without_weight_and_buoyancy() -> None:
    """All forces go with v^2 (own derivation); C_n constant, tip under water, no stretch."""
    lure = LureForces(math.radians(30.0), 20e-4)
    depths = [
        retrieve(
            lure, NEUTRAL, Technique.steady(50.0, -0.4, v), None, ROUND_WATER, FIXED_DRAG
        ).max_depth_m
        for v in (0.5, 1.3, 2.6)
    ]
    assert depths == pytest.approx([depths[1]] * 3, rel=1e-3)


@pytest.mark.parametrize(
    ("change", "sign"),
    [
        ({"diameter_m": 0.35e-3}, -1),
        ({"density_kg_m3": 1140.0}, -1),
    ],
)
def test_thicker_and_lighter_lines_run_shallower(change: dict[str, float], sign: int) -> None:
    """Common practice, no source."""
    technique = Technique.steady(50.0)
    usual = retrieve(_typical(), FLUOROCARBON, technique).max_depth_m
    other = retrieve(_typical(), replace(FLUOROCARBON, **change), technique).max_depth_m
    assert sign * (other - usual) > 0.02


@pytest.mark.parametrize(
    ("technique", "sign"),
    [
        (Technique.steady(60.0), 1),
        (Technique.steady(50.0, 2.5), -1),
        (Technique.steady(50.0, -1.0), 1),
        (Technique.steady(50.0, boat_m_s=0.3), -1),
        (Technique.steady(50.0, boat_m_s=-0.3), 1),
    ],
)
def test_cast_tip_and_boat_act_the_way_anglers_say(technique: Technique, sign: int) -> None:
    """Common practice, no source; the boat toward the lure shortens the path through water."""
    usual = retrieve(_typical(), FLUOROCARBON, Technique.steady(50.0)).max_depth_m
    other = retrieve(_typical(), FLUOROCARBON, technique).max_depth_m
    assert sign * (other - usual) > 0.1


def test_start_is_taut_at_reel_speed() -> None:
    got = retrieve(_typical(), FLUOROCARBON, Technique.steady(50.0, 0.6, 1.3))
    pull = 0.5 * Water().density_kg_m3 * 20e-4 * 1.3**2
    assert got.pull_n[0] == pytest.approx(pull)
    chord = math.hypot(50.0, 0.6)
    assert got.line_out_m[0] == pytest.approx(chord / (1.0 + pull / FLUOROCARBON.stiffness_n))
    assert (got.x_m[0], got.depth_m[0], got.t_s[0]) == (50.0, 0.0, 0.0)


def test_samples_are_close_and_in_order() -> None:
    got = retrieve(_typical(), FLUOROCARBON, Technique.steady(75.0), BottomProfile.flat(3.0))
    assert np.max(np.abs(np.diff(got.x_m))) <= 0.5
    assert np.all(np.diff(got.t_s) > 0.0)
    assert np.max(got.depth_m) <= 3.0 + 1e-9
    assert np.all(got.normal_force_n[got.depth_m < 2.99] == 0.0)


def test_line_is_taken_in_as_the_reel_turns() -> None:
    """With u^2 = a - b L the take-up u falls along L as u(t) = u(0) + b turns t / 2."""
    reel = TakeUp(0.8, 0.6, 120.0)
    technique = Technique(50.0, 0.5, (Step("reel", speed_m_s=2.0),), reel)
    got = retrieve(_typical(), FLUOROCARBON, technique)
    b = (0.8**2 - 0.6**2) * 2.0 / 120.0
    u = math.sqrt(0.8**2 - b * got.line_out_m[0]) + b * 2.0 * got.t_s / 2.0
    assert got.line_out_m == pytest.approx((0.8**2 - u * u) / b, abs=2e-3)


def test_script_steps_are_hit_exactly() -> None:
    steps = (
        Step("reel", 6.0, 1.2, tip_m=-0.5),
        Step("stop", 4.0),
        Step("sweep", 1.0, tip_m=1.5, pull_back_m=1.0),
        Step("reel", 3.0, 1.5),
    )
    technique = Technique(40.0, 0.5, steps)
    got = retrieve(_typical(0.1), FLUOROCARBON, technique)
    for moment, taken in ((6.0, 7.2), (10.0, 7.2), (11.0, 7.2), (14.0, 11.7)):
        assert np.min(np.abs(got.t_s - moment)) < 1e-9
        line = float(np.interp(moment, got.t_s, got.line_out_m))
        assert line == pytest.approx(got.line_out_m[0] - taken, abs=1e-6)
    after = got.t_s > 14.01  # the last reel step goes on until the lure is home
    rate = np.diff(got.line_out_m[after]) / np.diff(got.t_s[after])
    assert rate == pytest.approx(-1.5, rel=1e-6)
    assert got.line_out_m[-1] < 3.0


def test_on_a_stop_a_floating_lure_rises_and_a_sinking_one_sinks() -> None:
    steps = (Step("reel", 12.0, 1.3), Step("stop", 60.0), Step("reel", speed_m_s=1.3))
    depths = {}
    for buoyancy in (0.15, -0.08):
        got = retrieve(_typical(buoyancy), FLUOROCARBON, Technique(45.0, 0.5, steps))
        depths[buoyancy] = np.interp([12.0, 71.9], got.t_s, got.depth_m)
        slack = float(np.interp(14.0, got.t_s, got.pull_n))
        assert slack < 0.12  # a hundredth of a newton or so: the reel has stopped
    assert depths[0.15][1] < 0.5 < depths[0.15][0]
    assert depths[-0.08][1] > depths[-0.08][0] + 1.0


def test_a_lure_let_sink_on_slack_line_reaches_its_terminal_speed() -> None:
    """Drag equals weight in water: v = sqrt(W / (1/2 rho S_D)); the line is negligible."""
    weight = 0.06
    lure = LureForces(0.0, 10e-4, 0.02, -weight)
    line = LineProperties(5e-5, 998.2336, 3e9)
    steps = (Step("sweep", 0.5, pull_back_m=-5.0), Step("stop", 6.0), Step("reel", speed_m_s=1.0))
    got = retrieve(lure, line, Technique(30.0, 0.0, steps))
    speed = math.sqrt(weight / (0.5 * Water().density_kg_m3 * 10e-4))
    fall = np.interp([3.0, 6.0], got.t_s, got.depth_m)
    assert (fall[1] - fall[0]) / 3.0 == pytest.approx(speed, rel=0.02)


def test_friction_holds_the_lure_back() -> None:
    """Flat ground, straight line: T cos(theta) = D + mu N with N by the closed form's balance."""
    delta, mu, depth = math.radians(30.0), 0.3, 3.0
    got = retrieve(
        _light(30.0),
        NEUTRAL,
        Technique.steady(55.0, 0.0),
        BottomProfile.flat(depth, friction=mu),
        ROUND_WATER,
        NO_DRAG,
    )
    at = int(np.searchsorted(-got.line_out_m, -20.0))
    theta = math.asin(depth / got.line_out_m[at])
    # N = D tan(delta) - T sin(theta) and T cos(theta) = D + mu N
    pull = (1.0 + mu * math.tan(delta)) / (math.cos(theta) + mu * math.sin(theta))
    load = math.tan(delta) / pull - math.sin(theta)
    assert got.normal_force_n[at] > 0.0
    assert got.load[at] == pytest.approx(load, rel=5e-3)


def test_on_a_slope_the_ground_pushes_along_its_normal() -> None:
    """Straight weightless line over rising ground, frictionless: balance along and across it."""
    rise, delta = 0.05, math.radians(30.0)
    bottom = BottomProfile(np.array([0.0, 55.0]), np.array([2.0, 2.0 + 55.0 * rise]))
    got = retrieve(_light(30.0), NEUTRAL, Technique.steady(55.0, 0.0), bottom, ROUND_WATER, NO_DRAG)
    at = int(np.searchsorted(-got.line_out_m, -25.0))
    theta = math.atan2(got.depth_m[at], got.x_m[at])
    slope = math.atan(rise)  # the lure climbs toward the tip
    # along the path T cos(theta - slope) = D, across it N = D tan(delta) - T sin(theta - slope)
    angle = theta - slope
    assert got.load[at] == pytest.approx(math.sin(delta - angle) / math.cos(delta), abs=2e-3)


def test_shallow_water_ends_the_retrieve() -> None:
    bottom = BottomProfile(np.array([0.0, 20.0, 40.0]), np.array([0.0, 0.0, 4.0]))
    got = retrieve(_typical(), FLUOROCARBON, Technique.steady(40.0), bottom)
    assert got.grounded
    assert got.x_m[-1] == pytest.approx(20.0, abs=0.5)
    assert not retrieve(_typical(), FLUOROCARBON, Technique.steady(40.0)).grounded


def test_a_ledge_under_the_line_is_flagged() -> None:
    flat = BottomProfile.flat(6.0)
    ledge = BottomProfile(np.array([0.0, 9.0, 10.0, 11.0, 40.0]), np.array([6, 6, 1.0, 6, 6]))
    technique = Technique.steady(50.0)
    assert not retrieve(_typical(), FLUOROCARBON, technique, flat).line_touches
    assert retrieve(_typical(), FLUOROCARBON, technique, ledge).line_touches


def test_trim_loss_matters_at_low_speed_only() -> None:
    def loss(speed: float) -> float:
        technique = Technique.steady(45.0, 0.6, speed)
        lure = _typical(0.0)
        with_couple = replace(lure, trim_speed_loss_rad_m2_s2=0.05)
        free = retrieve(lure, FLUOROCARBON, technique).max_depth_m
        return 1.0 - retrieve(with_couple, FLUOROCARBON, technique).max_depth_m / free

    assert loss(0.8) > 4.0 * loss(2.5) > 0.0


def _random_setup(
    rng: np.random.Generator, scripted: bool, jagged: bool = True
) -> tuple[LureForces, LineProperties, Technique, BottomProfile | None]:
    lure = LureForces(
        math.radians(rng.uniform(3, 50)),
        2e-4 * 30.0 ** rng.uniform(),
        0.003 * 20.0 ** rng.uniform(),
        rng.uniform(-0.1, 0.3),
        trim_speed_loss_rad_m2_s2=float(rng.choice([0.0, 0.02])),
    )
    density = float(rng.choice([970.0, 1140.0, 1780.0]))
    line = LineProperties(rng.uniform(0.1e-3, 0.55e-3), density, 1e9 * 100.0 ** rng.uniform())
    speed = rng.uniform(0.4, 3.0)
    steps: list[Step] = []
    for _ in range(int(rng.integers(1, 7)) if scripted else 0):
        kind = rng.choice(["reel", "stop", "sweep"])
        tip = float(rng.uniform(-2.0, 3.5)) if rng.random() < 0.5 else None
        if kind == "reel":
            steps.append(Step("reel", rng.uniform(0.3, 10.0), rng.uniform(0.4, 3.0), tip_m=tip))
        elif kind == "stop":
            steps.append(Step("stop", rng.uniform(0.3, 6.0)))
        else:
            seconds, back = rng.uniform(0.1, 2.0), rng.uniform(-1.5, 1.5)
            steps.append(Step("sweep", seconds, 0.0, tip_m=tip, pull_back_m=back))
    steps.append(Step("reel", speed_m_s=speed))
    cast = rng.uniform(8.0, 75.0)
    boat = float(rng.choice([0.0, rng.uniform(-0.5, 0.5)]))
    technique = Technique(cast, rng.uniform(-2.0, 3.5), tuple(steps), boat_m_s=boat)
    friction = float(rng.choice([0.0, 0.3]))
    shape = rng.integers(0, 4 if jagged else 3)
    if shape == 0:
        return lure, line, technique, None
    if shape == 1:
        return lure, line, technique, BottomProfile.flat(rng.uniform(0.5, 8.0), friction)
    if shape == 2:
        ends = np.array([rng.uniform(0.3, 8.0), rng.uniform(0.3, 8.0)])
        profile = BottomProfile(np.array([0.0, cast]), ends, friction=friction)
        return lure, line, technique, profile
    x = np.unique(np.round(rng.uniform(0.0, cast, int(rng.integers(5, 60))), 1))
    depth = np.abs(rng.uniform(0.5, 7.0) + np.cumsum(rng.normal(0.0, 0.3, x.size)))
    return lure, line, technique, BottomProfile(x, depth, friction=friction)


def _check_sound(got: Retrieve, bottom: BottomProfile | None) -> None:
    for values in (got.t_s, got.x_m, got.depth_m, got.pull_n, got.tip_pull_n, got.normal_force_n):
        assert np.all(np.isfinite(values))
    assert np.all(got.depth_m >= 0.0)
    assert np.all(got.normal_force_n >= 0.0)
    assert np.all(got.pull_n > 0.0)
    assert np.all(np.diff(got.t_s) >= 0.0)
    if bottom is not None:
        turn = np.max(np.abs(np.diff(bottom.depth_m) / np.diff(bottom.x_m)))
        limit = bottom.depth_at(got.x_m) + 0.05 * turn / 2.0 + 2e-3  # kinks are rounded
        assert np.all(got.depth_m <= limit)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.integers(0, 2**32 - 1))
def test_every_possible_retrieve_is_solved(seed: int) -> None:
    setup = _random_setup(np.random.default_rng(seed), scripted=bool(seed % 2))
    _check_sound(retrieve(*setup), setup[3])


@pytest.mark.slow
def test_ten_thousand_random_retrieves_are_solved() -> None:
    rng = np.random.default_rng(20_000)
    for number in range(10_000):
        setup = _random_setup(rng, scripted=number % 2 == 1)
        _check_sound(retrieve(*setup), setup[3])


@pytest.mark.parametrize("buoyancy", [0.3, -0.1])
@pytest.mark.parametrize("boat", [1.2, 2.5])
def test_a_boat_that_overruns_its_line_is_survived(buoyancy: float, boat: float) -> None:
    lure = LureForces(math.radians(20.0), 5e-4, 0.004, buoyancy)
    technique = Technique.steady(30.0, 3.0, 0.6, boat_m_s=boat)
    got = retrieve(lure, FLUOROCARBON, technique)
    _check_sound(got, None)
    assert got.x_m[-1] - boat * got.t_s[-1] < 8.0


def _fine(
    setup: tuple[LureForces, LineProperties, Technique, BottomProfile | None],
) -> tuple[float, float]:
    """Greatest depth and metres of contact on four times the nodes and a third of the steps."""
    par = parameters(*setup, Water(), DragLaw())
    par[kernel.MESH], par[kernel.STEP_SCALE] = 4.0, 0.3
    rec = np.empty((60_000, kernel.N_REC))
    ground = kinks(setup[3])
    count, _, _ = kernel.solve(par, script(setup[2]), tables(), ground, rec)
    rec = rec[:count]
    on = rec[1:, kernel.R_MODE] == kernel.ON_BOTTOM
    contact = float(np.sum(np.abs(np.diff(rec[:, kernel.R_X]))[on]))
    return float(np.max(rec[:, kernel.R_Z])), contact


def test_mesh_and_steps_are_fine_enough() -> None:
    """Against our own fine mesh; the independent solver is in tests/reference."""
    rng = np.random.default_rng(5)
    errors = []
    for _ in range(60):
        setup = _random_setup(rng, scripted=False, jagged=False)
        depth, contact = _fine(setup)
        batch = retrieve_batch(setup[0], setup[1], setup[2], setup[3], threads=1)
        error = abs(float(batch.max_depth_m[0]) - depth)
        assert error < max(0.01 * depth, 0.03)
        errors.append(error / max(depth, 0.5))
        if contact > 10.0:
            assert float(batch.contact_m[0]) == pytest.approx(contact, rel=0.03)
    assert np.percentile(errors, 95) < 0.005


def test_a_failure_is_ours_for_usual_tackle_and_explained_for_the_rest(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def give_up(*given: object) -> tuple[int, int, bool]:
        given[-1][0, kernel.R_T] = 0.0  # type: ignore[index]
        return 1, kernel.FAILED, False

    monkeypatch.setattr(kernel, "solve", give_up)
    with pytest.raises(SolverError):
        retrieve(_typical(), FLUOROCARBON, Technique.steady(50.0))
    rope = LineProperties(4.4e-3, 20_000.0, 5e11)
    with pytest.raises(TechniqueError, match="Stay within"):
        retrieve(_typical(), rope, Technique.steady(50.0))


def test_batch_is_the_single_retrieve_many_times() -> None:
    rng = np.random.default_rng(9)
    setups = [_random_setup(rng, scripted=n % 2 == 1) for n in range(40)]
    bottom = BottomProfile(np.array([0.0, 20.0, 60.0]), np.array([2.0, 4.0, 3.5]), friction=0.1)
    lures, lines, techniques = ([s[i] for s in setups] for i in range(3))
    batch = retrieve_batch(lures, lines, techniques, bottom, threads=2)
    assert len(batch) == 40
    assert np.all(batch.solved)
    for i, (lure, line, technique, _) in enumerate(setups):
        one = retrieve(lure, line, technique, bottom)
        assert batch.max_depth_m[i] == one.max_depth_m
        assert batch.line_touches[i] == one.line_touches
        assert batch.x_m[i, 0] == technique.cast_m
        assert batch.x_m[i, -1] == pytest.approx(one.x_m[-1])
        assert batch.t_s[i, -1] == pytest.approx(one.t_s[-1])
        again = np.interp(batch.t_s[i], one.t_s, one.depth_m)
        assert batch.depth_m[i] == pytest.approx(again, abs=1e-9)
        first = one.first_contact_index
        if first is None:
            assert np.isnan(batch.first_contact_x_m[i])
        else:
            assert batch.first_contact_x_m[i] == one.x_m[first]
            assert batch.first_contact_s[i] == one.t_s[first]


def test_batch_at_given_distances() -> None:
    places = np.array([5.0, 30.0, 10.0, 44.0])
    laws = [DragLaw(normal_factor=f) for f in (1.0, 1.15, 1.3)] + [DragLaw(normal_constant=1.2)]
    batch = retrieve_batch(
        _typical(), FLUOROCARBON, Technique.steady(50.0), None, None, laws, at_x_m=places
    )
    assert batch.x_m[0] == pytest.approx(np.sort(places)[::-1])
    assert np.all(np.diff(batch.max_depth_m[:3]) < -0.05)
    one = retrieve(_typical(), FLUOROCARBON, Technique.steady(50.0), drag=laws[3])
    again = np.interp(batch.x_m[3][::-1], one.x_m[::-1], one.depth_m[::-1])
    assert batch.depth_m[3][::-1] == pytest.approx(again, abs=1e-9)


def test_batch_refuses_what_does_not_fit() -> None:
    with pytest.raises(TechniqueError, match="differ in length"):
        retrieve_batch([_typical()] * 2, [FLUOROCARBON] * 3, Technique.steady(30.0))
    with pytest.raises(TechniqueError, match="nothing to retrieve"):
        retrieve_batch([], FLUOROCARBON, Technique.steady(30.0))
    with pytest.raises(TechniqueError, match="two samples"):
        retrieve_batch([_typical()], FLUOROCARBON, Technique.steady(30.0), samples=1)
