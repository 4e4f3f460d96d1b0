"""Compiled integration of a steadily towed line, from its end upward.

The state is the tension as a vector and the place: going up the line by ds,
the tension grows by the water's force on ds and by its weight,

    d(T e)/ds = F_n + F_t + w,    d(x, z)/ds = -(1 + T / EA) e,

with e the unit tangent from tip to end. The water's part has no memory of
depth, so the wet line is integrated once, upward, by Dormand and Prince's
pair of order 5 and 4 [1]_ with step control, and the part in the air, an elastic
catenary, is closed form. Line that comes to the surface is found within a
step by taking that step shorter.

References
----------
.. [1] Dormand & Prince 1980, J. Comput. Appl. Math. 6:19-26,
   from memory.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]

MAX_NODES = 256
"""Room for the nodes of one line [-]."""

MAX_STEPS = 200_000
"""Steps after which the integration is given up; the usual number is 35 to 60 [-]."""

STATUS_OK = 0
STATUS_TOP_TOO_HIGH = 1
STATUS_NO_CONVERGENCE = 2

_SPACING = 1.0 / 128.0
"""Nodes are stored at least this part of the line apart [-]."""


@njit(cache=True)
def _slope(fx, fz, par, table, out):  # type: ignore[no-untyped-def]
    """Slope of (Fx, Fz, x, z) going up the wet line.

    `par` is (1/2 rho d V^2, 1/2 rho pi d C_t V^2, net weight, 1/EA, rho V d / mu,
    log2 of the table's first Re, table points per unit of log2 Re).
    """
    tension = max(math.sqrt(fx * fx + fz * fz), 1e-12)
    c = fx / tension
    s = fz / tension
    across = par[4] * abs(s)
    place = 0.0
    if across > 0.0:
        place = (math.log2(across) - par[5]) * par[6]
    last = table.size - 1
    if place <= 0.0:
        c_n = table[0]
    elif place >= last:
        c_n = table[last]
    else:
        low = int(place)
        part = place - low
        c_n = table[low] * (1.0 - part) + table[low + 1] * part
    normal = par[0] * c_n * s * abs(s)
    along = par[1] * c * abs(c)
    stretch = 1.0 + tension * par[3]
    out[0] = normal * s + along * c
    out[1] = -normal * c + along * s + par[2]
    out[2] = -stretch * c
    out[3] = -stretch * s


@njit(cache=True)
def _dormand_prince(y, h, par, table, k, y_new, err):  # type: ignore[no-untyped-def]
    """One step of size h; k[0] must hold the slope at y and k[6] gets that at y_new."""
    fx = y[0] + h * (k[0, 0] / 5.0)
    fz = y[1] + h * (k[0, 1] / 5.0)
    _slope(fx, fz, par, table, k[1])
    fx = y[0] + h * (3.0 / 40.0 * k[0, 0] + 9.0 / 40.0 * k[1, 0])
    fz = y[1] + h * (3.0 / 40.0 * k[0, 1] + 9.0 / 40.0 * k[1, 1])
    _slope(fx, fz, par, table, k[2])
    fx = y[0] + h * (44.0 / 45.0 * k[0, 0] - 56.0 / 15.0 * k[1, 0] + 32.0 / 9.0 * k[2, 0])
    fz = y[1] + h * (44.0 / 45.0 * k[0, 1] - 56.0 / 15.0 * k[1, 1] + 32.0 / 9.0 * k[2, 1])
    _slope(fx, fz, par, table, k[3])
    a1, a2, a3, a4 = 19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0
    fx = y[0] + h * (a1 * k[0, 0] + a2 * k[1, 0] + a3 * k[2, 0] + a4 * k[3, 0])
    fz = y[1] + h * (a1 * k[0, 1] + a2 * k[1, 1] + a3 * k[2, 1] + a4 * k[3, 1])
    _slope(fx, fz, par, table, k[4])
    a1, a2, a3, a4, a5 = 9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, 0.0
    a5 = -5103.0 / 18656.0
    fx = y[0] + h * (a1 * k[0, 0] + a2 * k[1, 0] + a3 * k[2, 0] + a4 * k[3, 0] + a5 * k[4, 0])
    fz = y[1] + h * (a1 * k[0, 1] + a2 * k[1, 1] + a3 * k[2, 1] + a4 * k[3, 1] + a5 * k[4, 1])
    _slope(fx, fz, par, table, k[5])
    b1, b3, b4, b5, b6 = 35.0 / 384.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0
    for j in range(4):
        y_new[j] = y[j] + h * (
            b1 * k[0, j] + b3 * k[2, j] + b4 * k[3, j] + b5 * k[4, j] + b6 * k[5, j]
        )
    _slope(y_new[0], y_new[1], par, table, k[6])
    for j in range(4):
        err[j] = h * (
            71.0 / 57600.0 * k[0, j]
            - 71.0 / 16695.0 * k[2, j]
            + 71.0 / 1920.0 * k[3, j]
            - 17253.0 / 339200.0 * k[4, j]
            + 22.0 / 525.0 * k[5, j]
            - 1.0 / 40.0 * k[6, j]
        )


@njit(cache=True)
def dry_rise(fx, fz, length, weight, soft):  # type: ignore[no-untyped-def]
    """Height gained over a length of line in the air, an elastic catenary.

    Written without differences of near-equal tensions.
    """
    top = fz + weight * length
    low_t = math.sqrt(fx * fx + fz * fz)
    top_t = math.sqrt(fx * fx + top * top)
    mean = 0.5 * (fz + top)
    return length * 2.0 * mean / max(low_t + top_t, 1e-12) + mean * length * soft


@njit(cache=True)
def dry_run(fx, fz, length, weight, soft):  # type: ignore[no-untyped-def]
    """Horizontal distance covered by a length of line in the air."""
    if fx == 0.0 or length == 0.0:
        return 0.0
    top = fz + weight * length
    low_t = math.sqrt(fx * fx + fz * fz)
    top_t = math.sqrt(fx * fx + top * top)
    if fz >= 0.0:
        gain = (top - fz) * (1.0 + (fz + top) / (low_t + top_t))
        angle = math.log1p(gain / (fz + low_t))
    else:
        angle = math.asinh(top / fx) - math.asinh(fz / fx)
    return fx / weight * angle + fx * length * soft


@njit(cache=True)
def _free_angle(par, table):  # type: ignore[no-untyped-def]
    """Angle to the horizontal of a line that hangs free: normal drag balances weight."""
    k = np.empty(4)
    weight = par[2]
    if weight == 0.0:
        return 0.0
    low, high = 0.0, 0.5 * math.pi
    if weight < 0.0:
        low, high = -0.5 * math.pi, 0.0
    for _ in range(80):
        mid = 0.5 * (low + high)
        c, s = math.cos(mid), math.sin(mid)
        _slope(c, s, par, table, k)
        if -s * k[0] + c * k[1] > 0.0:
            low = mid
        else:
            high = mid
    return 0.5 * (low + high)


@njit(cache=True)
def _advance(straight, s, y, h, par, table, k, y_new, err):  # type: ignore[no-untyped-def]
    """Go up by h: by the exact straight line of a bare end, else by one step."""
    if not straight:
        _dormand_prince(y, h, par, table, k, y_new, err)
        return
    # Nothing pulls at the end: every piece hangs at the one free angle and its
    # tension grows in proportion to the line below it. k[0] keeps that slope.
    top = s + h
    gain = math.sqrt(k[0, 0] ** 2 + k[0, 1] ** 2)
    longer = top + 0.5 * gain * top * top * par[3]
    for j in range(2):
        y_new[j] = k[0, j] * top
        y_new[j + 2] = -k[0, j] / gain * longer if gain > 0.0 else -top * (1.0 - j)
        err[j] = 0.0
        err[j + 2] = 0.0
    k[6] = k[0]


@njit(cache=True)
def _to_waterline(  # type: ignore[no-untyped-def]
    straight, s, y, h, par, table, k, y_new, err, length, height, dry_weight
):
    """Shorten a step of h to end where the rest of the line, in the air, rises to the tip.

    Returns the step and how far the rise is then off the height [m].
    """
    low, high, gap = 0.0, h, 0.0
    for _ in range(60):
        h = 0.5 * (low + high)
        _advance(straight, s, y, h, par, table, k, y_new, err)
        gap = dry_rise(y_new[0], y_new[1], length - s - h, dry_weight, par[3]) - height
        if gap > 0.0 or y_new[1] <= 0.0:
            low = h
        else:
            high = h
        if abs(gap) < 1e-12 * length and y_new[1] > 0.0:
            break
    return h, gap


@njit(cache=True)
def integrate_up(  # type: ignore[no-untyped-def]
    end_drag, end_down, length, height, dry_weight, par, table, tol, nodes
):
    """Integrate from the end to the tip.

    Parameters
    ----------
    end_drag, end_down : float
        Force on the end, astern and down [N].
    length : float
        Unstretched line from end to tip [m].
    height : float
        Height of the tip above the water, negative under it [m].
    dry_weight : float
        Weight in air of one metre [N/m].
    par : ndarray, shape (7,)
        As in `_slope`.
    table : ndarray
        C_n [-].
    tol : float
        Error of one step, of the tension and of the line length [-].
    nodes : ndarray, shape (MAX_NODES, 5)
        Gets s from the end, Fx, Fz and x, z from the end, z down [m, N, N, m, m].

    Returns
    -------
    status : int
        `STATUS_OK`, `STATUS_TOP_TOO_HIGH` (the end would hang over the water)
        or `STATUS_NO_CONVERGENCE`.
    count : int
        Nodes on the wet line, end and waterline included.
    dry : float
        Unstretched length in the air [m].
    """
    y = np.zeros(4)
    y_new = np.empty(4)
    err = np.empty(4)
    k = np.empty((7, 4))
    y[0], y[1] = end_drag, end_down
    least = 1e-12 * length * (abs(par[2]) + par[0] + par[1]) + 1e-15
    straight = math.sqrt(end_drag * end_drag + end_down * end_down) <= least
    if straight:
        angle = _free_angle(par, table)
        y[0], y[1] = 0.0, 0.0
        _slope(math.cos(angle), math.sin(angle), par, table, k[0])
    # Line leaves the water going up (Fz > 0) where the rest of it, in the air,
    # rises just to the tip. Line that first sags from its end is still wet.
    if 0.0 < height > dry_rise(y[0], y[1], length, dry_weight, par[3]) and y[1] > 0.0:
        return STATUS_TOP_TOO_HIGH, 0, 0.0
    s = 0.0
    count = 1
    nodes[0, 0] = 0.0
    nodes[0, 1:] = y
    h_max = length / 32.0
    h = h_max
    if not straight:
        _slope(y[0], y[1], par, table, k[0])
    for _step in range(MAX_STEPS):
        h = min(h, length - s)
        _advance(straight, s, y, h, par, table, k, y_new, err)
        tension = max(math.sqrt(y_new[0] ** 2 + y_new[1] ** 2), least)
        worst = max(max(abs(err[0]), abs(err[1])) / tension, max(abs(err[2]), abs(err[3])) / length)
        if worst > tol and h > 1e-13 * length:
            h *= max(0.2, 0.9 * (tol / worst) ** 0.2)
            continue
        done = False
        if height > 0.0 and y_new[1] > 0.0:
            done = dry_rise(y_new[0], y_new[1], length - s - h, dry_weight, par[3]) <= height
        if done:
            h, gap = _to_waterline(
                straight, s, y, h, par, table, k, y_new, err, length, height, dry_weight
            )
            if gap < -1e-6 * length:
                return STATUS_TOP_TOO_HIGH, count, 0.0
        s += h
        y[:] = y_new
        k[0, :] = k[6]
        last = done or s >= length * (1.0 - 1e-13)
        if last or s - nodes[count - 1, 0] >= _SPACING * length:
            nodes[count, 0] = s
            nodes[count, 1:] = y
            count += 1
        if last:
            return STATUS_OK, count, (length - s if done else 0.0)
        h = min(h_max, h * min(5.0, 0.9 * (tol / max(worst, 1e-30)) ** 0.2))
    return STATUS_NO_CONVERGENCE, count, 0.0
