"""The pieces of the compiled solver, each against its definition written out again."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest

from leadsman.hydro import drag
from leadsman.hydro import retrieve_kernel as k
from leadsman.hydro.drag import DragLaw, interpolate_normal

FloatArray = npt.NDArray[np.float64]


def _profile() -> FloatArray:
    x = np.array([-1e5, 0.0, 3.0, 3.5, 10.0, 1e5])
    depth = np.array([2.0, 2.0, 4.0, 1.0, 5.0, 5.0])
    return np.stack([x, depth, np.array([0.0, 0.1, 0.1, 0.1, 0.1, 0.0])])


def _parameters(**changed: float) -> FloatArray:
    par = np.zeros(k.N_PAR)
    par[k.DELTA] = math.radians(30.0)
    par[k.PULL_AREA] = 15e-4
    par[k.MASS] = 0.012
    par[k.BUOYANCY] = 0.05
    par[k.DIAMETER] = 0.3e-3
    par[k.LINE_DENSITY] = 1780.0
    par[k.COMPLIANCE] = 1.0 / 200.0
    par[k.CN_FACTOR] = 1.0
    par[k.CT] = 0.0065
    par[k.CAST] = 40.0
    par[k.WATER_DENSITY] = 998.2336
    par[k.VISCOSITY] = 1.002e-3
    par[k.CAPACITY] = 1.0
    par[k.MESH] = par[k.STEP_SCALE] = 1.0
    for name, value in changed.items():
        par[getattr(k, name)] = value
    return par


def test_the_kernel_reads_the_table_that_the_drag_law_writes() -> None:
    assert (k.LOG2_RE_MIN, k.LOG2_RE_MAX) == (drag.LOG2_RE_MIN, drag.LOG2_RE_MAX)
    table = DragLaw(normal_factor=1.3).normal_table()
    for re in (1e-4, 0.3, 57.0, 810.0, 9e4):
        force, _ = k._normal_drag(-re / 500.0, 0.7, 500.0, 1.0, table)
        assert force == pytest.approx(
            -0.7 * interpolate_normal(table, re) * (re / 500.0) ** 2, rel=1e-9
        )


@pytest.mark.parametrize("v", [-1.3, -0.02, 1e-4, 0.4, 2.2])
def test_derivative_of_normal_drag(v: float) -> None:
    table = DragLaw().normal_table()
    _, slope = k._normal_drag(v, 0.15, 300.0, 1.2, table)
    h = 1e-5 * abs(v)
    up, _ = k._normal_drag(v + h, 0.15, 300.0, 1.2, table)
    down, _ = k._normal_drag(v - h, 0.15, 300.0, 1.2, table)
    assert slope == pytest.approx((up - down) / (2 * h), rel=2e-3)


def test_bottom_is_the_profile_but_for_rounded_kinks() -> None:
    ground = _profile()
    x, depth, _ = ground
    places = np.linspace(-2.0, 12.0, 2801)
    got = np.array([k._bottom(p, ground, 2)[0] for p in places])
    away = np.min(np.abs(places[:, None] - x[None, 1:-1]), axis=1) > 0.1001
    assert np.allclose(got[away], np.interp(places[away], x, depth), atol=1e-12)
    # a parabola over a kink of slope change m leaves it by m half / 4 at most
    turn = np.max(np.abs(np.diff(np.diff(depth) / np.diff(x))))
    assert np.max(np.abs(got - np.interp(places, x, depth))) <= turn * 0.1 / 4.0 + 1e-9


@pytest.mark.parametrize("place", [-1.0, 0.03, 2.95, 3.02, 3.45, 3.55, 7.0, 9.97])
def test_slope_and_curvature_of_the_bottom(place: float) -> None:
    ground = _profile()
    h = 1e-5
    up = k._bottom(place + h, ground, 0)
    down = k._bottom(place - h, ground, 4)
    _, slope, bend, _ = k._bottom(place, ground, 0)
    assert slope == pytest.approx((up[0] - down[0]) / (2 * h), abs=1e-6)
    assert bend == pytest.approx((up[1] - down[1]) / (2 * h), abs=1e-4)


def _lure_again(vx: float, vz: float, theta: float, par: FloatArray) -> FloatArray:
    """Force on the lure as its model is stated, in vectors."""
    velocity = np.array([vx, vz])
    v = float(np.hypot(vx, vz))
    toward_line = -np.array([math.cos(theta), math.sin(theta)])
    delta = min(max(par[k.DELTA] - par[k.TRIM_LOSS] / v**2, 0.0), par[k.DELTA])
    share = float(velocity @ toward_line) / v / (0.6 * math.cos(par[k.DELTA]))
    share = min(max(share, 0.0), 1.0)
    gate = share * share * (3.0 - 2.0 * share)
    q = 0.5 * par[k.WATER_DENSITY] * par[k.PULL_AREA]
    down = np.array([vz, -vx]) / v
    force = -q * v * velocity + q * math.tan(delta) * v * v * gate * down
    return np.array([force[0], force[1] - par[k.BUOYANCY]])


@pytest.mark.parametrize(
    ("vx", "vz", "theta"),
    [(-1.3, 0.4, 0.2), (-1.3, -0.4, 0.1), (-0.2, 0.5, 0.3), (0.3, 0.2, 0.4), (-0.4, -1.0, 1.2)],
)
@pytest.mark.parametrize("loss", [0.0, 0.03])
def test_lure_force_and_its_derivatives(vx: float, vz: float, theta: float, loss: float) -> None:
    par = _parameters(TRIM_LOSS=loss)
    got = np.array(k._lure(vx, vz, math.cos(theta), math.sin(theta), par))
    assert got[:2] == pytest.approx(_lure_again(vx, vz, theta, par), rel=1e-6, abs=1e-9)
    h = 1e-6
    for column, (dx, dz, dt) in enumerate([(h, 0, 0), (0, h, 0), (0, 0, h)]):
        up = _lure_again(vx + dx, vz + dz, theta + dt, par)
        down = _lure_again(vx - dx, vz - dz, theta - dt, par)
        slope = (up - down) / (2 * h)
        pair = got[[2, 4]] if column == 0 else got[[3, 5]] if column == 1 else got[[6, 7]]
        assert pair == pytest.approx(slope, rel=1e-4, abs=1e-5)


def test_rotation_of_a_block() -> None:
    ex, ez = math.cos(0.7), math.sin(0.7)
    turn = np.array([[ex, -ez], [ez, ex]])  # columns e and p
    block = np.array([[2.0, -0.7], [0.0, 1.1]])
    got = np.zeros(8)
    k._rotate(2.0, -0.7, 1.1, ex, ez, 0.3, got, 2)
    sunk = np.array([[0.0, 0.0], [0.0, 0.3]])  # floating acts on the vertical only
    assert np.allclose(got[2:6].reshape(2, 2), turn @ block @ turn.T - sunk)
    assert np.all(got[[0, 1, 6, 7]] == 0.0)


def test_bdf2_and_the_prediction_are_exact_for_a_parabola() -> None:
    node = np.zeros((k.N_NODE, k.MAX_NODES))
    seg = np.ones((k.N_SEG, k.MAX_NODES))
    times = np.array([0.0, 0.3, 0.4, 0.65])

    def place(t: float) -> float:
        return 2.0 - 1.5 * t + 0.8 * t * t

    node[k.X2, 0], node[k.X1, 0], node[k.X0, 0] = (place(t) for t in times[:3])
    c0, _, _ = k._predict(1, 2, 0.25, 0.1, 0.3, node, seg)
    assert node[k.PX, 0] == pytest.approx(place(0.65), rel=1e-12)
    velocity = c0 * place(0.65) + node[k.HX, 0]
    assert velocity == pytest.approx(-1.5 + 2 * 0.8 * 0.65, rel=1e-12)


def test_one_step_balances_the_forces_on_every_node() -> None:
    """Forces written out again node by node: what Newton found leaves next to nothing."""
    par = _parameters()
    table = DragLaw().normal_table()
    node = np.zeros((k.N_NODE, k.MAX_NODES))
    seg = np.zeros((k.N_SEG, k.MAX_NODES))
    script = np.array([[1e18, 1.3, -0.5, -0.5, 0.0, 0.0]])  # tip under water: all is wet
    n = k._mesh(node, par)
    length, v = k._start(n, node, seg, par, script)
    dt = 0.1
    c0, c1, _ = k._predict(n, 0, dt, 1.0, 1.0, node, seg)
    node[k.X, 0], node[k.Z, 0] = 0.0, 0.5
    hseg = np.zeros((2, k.MAX_NODES))
    hseg[0, :n] = c1 * seg[k.UX0, :n]
    hseg[1, :n] = c1 * seg[k.UZ0, :n]
    vx0, vz0 = node[k.AX0, n], node[k.AZ0, n]
    r0 = node[[k.X0, k.Z0], : n + 1].copy()
    u0 = seg[[k.UX0, k.UZ0], :n].copy()
    new = length - v * dt
    nothing = np.array([[-1e5, 1e5], [1e9, 1e9], [0.0, 0.0]])
    ok, _ = k._newton(
        n, new, v, c0, c0, c1 * vx0, c1 * vz0, k.FREE, 0, node, seg, hseg, par, table, nothing, 1e-4
    )
    assert ok
    r = node[[k.X, k.Z], : n + 1]
    s = node[k.SF, : n + 1]
    a = (r - r0) / dt
    a[:, 0] = (r[:, 0] - np.array([0.0, 0.5])) / dt
    force = np.zeros((2, n + 1))
    rho, d = par[k.WATER_DENSITY], par[k.DIAMETER]
    area = math.pi / 4 * d * d
    for j in range(n):
        l0 = (s[j + 1] - s[j]) * new
        edge = r[:, j + 1] - r[:, j]
        stretched = float(np.hypot(*edge))
        e = edge / stretched
        p = np.array([-e[1], e[0]])
        tension = seg[k.T, j]
        strain = stretched / l0 - 1.0
        assert strain == pytest.approx(tension * par[k.COMPLIANCE] - k.BARRIER / tension, abs=1e-7)
        wet = min(max(0.5 + (r[1, j] + r[1, j + 1]) / 2 / max(abs(edge[1]), 0.02), 0.0), 1.0)
        lower = 1.0 - 0.5 * wet if edge[1] >= 0 else 0.5 * wet
        middle = (1 - lower) * a[:, j] + lower * a[:, j + 1]
        vn = float(middle @ p)
        vt = float(middle @ e) - (1 - (1 - lower) * s[j] - lower * s[j + 1]) * v * stretched / l0
        cn = interpolate_normal(table, rho * abs(vn) * d / par[k.VISCOSITY])
        pull = -0.5 * rho * d * (cn * abs(vn) * vn * p + math.pi * par[k.CT] * abs(vt) * vt * e)
        pull = pull * wet * l0
        u = (a[:, j] + a[:, j + 1]) / 2 - (1 - (s[j] + s[j + 1]) / 2) * v * stretched / l0 * e
        inertia = par[k.LINE_DENSITY] * area * l0 * (u - u0[:, j]) / dt
        dry_weight = np.array([0.0, par[k.LINE_DENSITY] * area * k.G * l0 * (1 - wet)])
        dry = 0.5 * (1 - wet) if edge[1] >= 0 else 1 - 0.5 * (1 - wet)
        weight = np.array([0.0, (par[k.LINE_DENSITY] - rho) * area * k.G * l0 * wet])
        force[:, j] += tension * e + (1 - lower) * (pull + weight) + (1 - dry) * dry_weight
        force[:, j] -= inertia / 2
        force[:, j + 1] += -tension * e + lower * (pull + weight) + dry * dry_weight - inertia / 2
    theta = math.atan2(r[1, n] - r[1, n - 1], r[0, n] - r[0, n - 1])
    force[:, n] += _lure_again(a[0, n], a[1, n], theta, par)
    force[:, n] -= par[k.MASS] * (a[:, n] - np.array([vx0, vz0])) / dt
    assert np.max(np.abs(force[:, 1:])) < 2e-3 * seg[k.T, n - 1]


def test_a_chord_through_a_hump_is_seen() -> None:
    ground = np.array([[-1e5, 0.0, 10.0, 20.0, 1e5], [5.0, 5.0, 2.0, 5.0, 5.0], [0.0] * 5])
    assert k._cut_through(12.0, 3.0, 8.0, 3.0, ground) == pytest.approx(0.5)
    assert k._cut_through(12.0, 1.5, 8.0, 1.5, ground) == 2.0


def test_next_kink_on_the_way_to_the_tip() -> None:
    ground = _profile()
    assert k._kink_ahead(5.0, ground) == pytest.approx(5.0 - 3.5 - 0.1)
    assert k._kink_ahead(3.55, ground) == pytest.approx(0.15)
    assert k._kink_ahead(-2.0, ground) == 1e9


def test_line_below_a_hump_is_seen() -> None:
    node = np.zeros((k.N_NODE, k.MAX_NODES))
    node[k.X, :3] = [0.0, 10.0, 20.0]
    node[k.Z, :3] = [-0.5, 2.0, 4.0]
    x = np.array([-1e5, 0.0, 14.0, 15.0, 16.0, 30.0, 1e5])
    deep = np.stack([x, np.full(7, 6.0), np.zeros(7)])
    hump = deep.copy()
    hump[1, 3] = 2.9  # the line is 3 m deep there
    assert not k._line_touches(2, node, deep)
    assert k._line_touches(2, node, hump)
