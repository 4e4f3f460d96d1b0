"""Candidate casts over a gridded bottom, many at once on all cores (numba)."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from numba import njit, prange

FloatArray = npt.NDArray[np.float64]
Float32Array = npt.NDArray[np.float32]

N_OUT = 12
(
    ZONE,
    ZONE_LOW,
    ZONE_HIGH,
    ZONE_AS_THOUGHT,
    NEAR,
    CONTACT,
    LOAD,
    FOULS,
    LOST,
    SHALLOWEST,
    STEEPEST,
    STATE,
) = range(N_OUT)
"""Columns of the result."""

OK, OFF_WATER, LINE_TOUCHES, STEEP = 0.0, 1.0, 2.0, 3.0
"""States: evaluated; leaves the known water; the line touches; too steep for the table."""

N_GRASS = 8
(G_ON, G_EDGE, G_SPREAD, G_HEIGHT, G_DENSITY, G_HAZARD, G_RAGGED, G_CELLS) = range(N_GRASS)
"""Grass: whether there is any, depth at which it ends [m] and over how much [m], height [m],
density [-], fouls per metre of path and intrusion in closed grass [m-2], stems above [m],
and the intrusion that fills one row of the clearing table [m]."""

MOST_INTERVALS = 220


@njit(cache=True, fastmath=True, error_model="numpy")
def _sample_line(
    grid: Float32Array,
    col: float,
    row: float,
    dcol: float,
    drow: float,
    level: float,
    depth: FloatArray,
    n: int,
) -> float:
    """Depth at n places along a line; the mean standard error, or -1 off the known water."""
    ny, nx, _ = grid.shape
    total = 0.0
    last_c, last_r = col + dcol * (n - 1), row + drow * (n - 1)
    if min(col, last_c) < 0.0 or max(col, last_c) >= nx - 1.001:
        return -1.0
    if min(row, last_r) < 0.0 or max(row, last_r) >= ny - 1.001:
        return -1.0
    for i in range(n):
        c, r = col + dcol * i, row + drow * i
        c0, r0 = int(c), int(r)
        tx, ty = c - c0, r - r0
        a = grid[r0, c0, 0] + tx * (grid[r0, c0 + 1, 0] - grid[r0, c0, 0])
        b = grid[r0 + 1, c0, 0] + tx * (grid[r0 + 1, c0 + 1, 0] - grid[r0 + 1, c0, 0])
        depth[i] = a + ty * (b - a) + level
        total += grid[r0, c0, 1]
    # dry and unknown cells are marked far above the water, see `packed_grid`
    for i in range(n):
        if depth[i] < 0.0:
            return -1.0
    return total / n


@njit(cache=True, fastmath=True, error_model="numpy")
def _angle(c: FloatArray, z: float, s: float) -> float:
    level: float = c[0] + z * (c[1] + z * (c[2] + z * c[3]))
    slope: float = c[4] + s * c[5] + z * (c[6] + z * c[7])
    return level + s * slope


@njit(cache=True, fastmath=True, error_model="numpy")
def _near_part(g0: float, g1: float, near: float) -> float:
    """Share of an interval within a gap of the bottom, the gap being linear."""
    if g0 <= near and g1 <= near:
        return 1.0
    if g0 > near and g1 > near:
        return 0.0
    return (near - min(g0, g1)) / abs(g0 - g1)


@njit(cache=True, fastmath=True, error_model="numpy")
def _load(angle: float, cos_delta: float) -> float:
    """Contact load of an angle by which the lure is kept from going down; sine by its series."""
    value: float = (angle - angle * angle * angle * 0.1666667) / cos_delta
    return value


@njit(cache=True, fastmath=True, error_model="numpy")
def _share_between(p: float, q: float, low: float, high: float) -> float:
    """Share of an interval in which a quantity linear from p to q lies between two values."""
    least, most = min(p, q), max(p, q)
    if least >= low and most <= high:
        return 1.0
    if most <= low or least >= high:
        return 0.0
    return (min(most, high) - max(least, low)) / max(most - least, 1e-12)


@njit(cache=True, fastmath=True, error_model="numpy")
def _touch_down(
    depth: FloatArray, n: int, free: FloatArray, near: float, zone: FloatArray, lure: FloatArray
) -> tuple[int, float]:
    """Follow the free path until it meets the bottom: the interval where it does, n if it
    does not, and metres near the bottom before it, in intervals.
    """
    near_n = 0.0
    lure[0] = min(free[0, 0], depth[0])
    for k in range(n):
        gap = depth[k + 1] - free[k + 1, 0]
        if gap <= 0.0:
            return k, near_n
        if gap < near:
            near_n += _near_part(depth[k] - free[k, 0], gap, near)
        zone[k] = 0.0
        lure[k + 1] = free[k + 1, 0]
    return n, near_n


@njit(cache=True, fastmath=True, error_model="numpy")
def _march(
    depth: FloatArray,
    n: int,
    coefficients: FloatArray,
    keep: FloatArray,
    cos_delta: float,
    free_path: FloatArray,
    limit: float,
    near: float,
    step: float,
    zone: FloatArray,
    lure: FloatArray,
    sums: FloatArray,
) -> None:
    """Follow the lure over one profile; fills the zone share of each interval and its depth."""
    first, near_n = _touch_down(depth, n, free_path, near, zone, lure)
    contact_n, load_n = 0.0, 0.0
    z = lure[first]
    memory = free_path[first, 1]
    slope = memory
    before = 0.0
    touching = False
    for k in range(first, n):
        kept = keep[k]
        floor = depth[k + 1]
        if k == first:
            free = memory
            z_free = free_path[k + 1, 0]
        else:
            # the free slope is -a at the lagged slope that follows it: one step of Newton's
            z_mid = max(z - 0.5 * step * slope, 0.0)
            s = kept * memory + (1.0 - kept) * slope
            c = coefficients[k, 1]
            free = slope - (slope + _angle(c, z_mid, s)) / (
                1.0 + (1.0 - kept) * (c[4] + 2.0 * s * c[5] + z_mid * (c[6] + z_mid * c[7]))
            )
            z_free = z - step * (free + free * free * free * 0.3333333)
        part, share = 0.0, 0.0
        z_next = max(z_free, 0.0)
        if touching or z_free >= floor:
            rise = (depth[k] - floor) / step
            b = rise - rise * rise * rise * 0.3333333
            # the line remembers the path, which in the interval of landing is not the bottom
            path = (z - floor) / step
            m = kept * memory + (1.0 - kept) * (path - path * path * path * 0.3333333)
            middle = 0.5 * (depth[k] + floor)
            load = _load(_angle(coefficients[k, 0], middle, m) + b, cos_delta)
            # how the load changes along this slope: kinks of the grid at its ends do not count
            after = min(k + 1, n - 1)
            change = _load(_angle(coefficients[after, 0], middle, m) + b, cos_delta) - load
            last = load + 0.5 * change
            if touching:
                # from the middle of the interval before to that of the next: the load bends
                start = load - 0.5 * before
                part = 0.5 * _share_between(start, load, 0.0, 1e9)
                part += 0.5 * _share_between(load, last, 0.0, 1e9)
                share = 0.5 * _share_between(start, load, 0.0, limit)
                share += 0.5 * _share_between(load, last, 0.0, limit)
            else:
                gap = max(depth[k] - z, 0.0)
                begin = gap / max(gap + z_free - floor, 1e-9)
                start = load + (begin - 0.5) * change
                part = (1.0 - begin) * _share_between(start, last, 0.0, 1e9)
                share = (1.0 - begin) * _share_between(start, last, 0.0, limit)
            before = change
            touching = last > 0.0
            z_next = min(z_next, floor)
            contact_n += part
            load_n += part * 0.5 * (max(start, 0.0) + max(last, 0.0))
        if touching:
            z_next, slope, memory = floor, b, m
        else:
            slope = free
            memory = kept * memory + (1.0 - kept) * free
        zone[k] = share
        near_n += _near_part(depth[k] - z, floor - z_next, near)
        z = z_next
        lure[k + 1] = z
    sums[0] = near_n * step
    sums[1] = contact_n * step
    sums[2] = load_n * step


@njit(cache=True, fastmath=True, error_model="numpy")
def _in_grass(
    depth: FloatArray,
    lure: FloatArray,
    zone: FloatArray,
    n: int,
    step: float,
    grass: FloatArray,
    stuck: FloatArray,
    out: FloatArray,
) -> None:
    """Weigh the zone with the chance of being clean, count grass as zone where it stands."""
    total = 0.0
    fouls = 0.0
    rows = stuck.shape[1]
    for k in range(n):
        floor = 0.5 * (depth[k] + depth[k + 1])
        z = 0.5 * (lure[k] + lure[k + 1])
        stands = 0.5 + (grass[0, G_EDGE] - floor) / grass[0, G_SPREAD]
        stands = min(max(stands, 0.0), 1.0)
        intrusion = z - (floor - grass[0, G_HEIGHT] - grass[0, G_RAGGED])
        if stands <= 0.0 or intrusion <= 0.0 or floor <= 0.0:
            zone[k] *= math.exp(-total)
            continue
        density = grass[0, G_DENSITY] * stands
        hazard = grass[0, G_HAZARD] * intrusion * density
        cell = min(intrusion * density / grass[0, G_CELLS], rows - 1.001)
        i = int(cell)
        held = stuck[k, i] + (cell - i) * (stuck[k, i + 1] - stuck[k, i])
        lost = hazard * held * step
        clean = math.exp(-(total + 0.5 * lost))
        fouls += hazard * step * clean
        total += lost
        # in grass any touch of it counts, as long as the lure does not plow the bottom in it
        plows = lure[k + 1] >= depth[k + 1] - 1e-9 and zone[k] <= 0.0
        reached = 0.0 if plows else 1.0
        zone[k] = clean * (stands * reached + (1.0 - stands) * zone[k])
    out[0] = fouls
    out[1] = 1.0 - math.exp(-total)


@njit(cache=True, fastmath=True, error_model="numpy")
def _state(depth: FloatArray, lure: FloatArray, n: int, step: float, x0: float, tip: float,
           steepest: float, out: FloatArray) -> float:  # fmt: skip
    """Whether the table may be trusted for this cast; fills shallowest depth and steepest slope."""
    shallow, steep = depth[n], 0.0
    # the flattest sight from the tip to the bottom nearer in than the lure
    sight = 1e9
    touches = False
    for j in range(n, -1, -1):
        x = x0 - step * j
        if x > 1.0:
            here = (depth[j] + tip) / x
            if (lure[j] + tip) / x > sight + 0.004:
                touches = True
            sight = min(sight, here)
        shallow = min(shallow, depth[j])
        if j < n and lure[j + 1] >= depth[j + 1] - 0.05:
            steep = max(steep, abs(depth[j] - depth[j + 1]) / step)
    out[SHALLOWEST] = shallow
    out[STEEPEST] = steep
    if touches:
        return LINE_TOUCHES
    if steep > steepest:
        return STEEP
    return OK


@njit(cache=True, parallel=True, fastmath=True, error_model="numpy")
def evaluate(
    grid: Float32Array,
    at: FloatArray,
    level: float,
    coefficients: FloatArray,
    keep: FloatArray,
    cosines: FloatArray,
    levels: FloatArray,
    plain: FloatArray,
    free: FloatArray,
    grass: FloatArray,
    stuck: FloatArray,
    out: FloatArray,
    trace: Float32Array,
) -> None:
    """Evaluate casts over a grid.

    Parameters
    ----------
    grid : ndarray of float32, shape (ny, nx, 2)
        Depth and standard error, dry and unknown cells far above the water [m].
    at : ndarray, shape (b, 4)
        Column and row of the landing place, and the step of one interval toward the
        boat in columns and rows [-].
    level : float
        Water level above the reference [m].
    coefficients : ndarray, shape (levels, 3, n, 2, 8)
        As in `ContactTable` [rad].
    keep : ndarray, shape (n,)
        Share of the lagged slope kept [-].
    cosines : ndarray, shape (levels, 3)
        Cosine of the dive angle [-].
    levels : ndarray, shape (levels,)
        Sizes of the relative error of the depth, evenly spaced [-].
    plain : ndarray, shape (7,)
        Own relative error [-], limit of load [-], near gap [m], step [m], cast [m], tip
        height [m], steepest slope [-].
    free : ndarray, shape (levels, 3, n + 1, 2)
        Free paths, as in `ContactTable` [m], [rad].
    grass : ndarray, shape (1, N_GRASS)
        The grass [-].
    stuck : ndarray, shape (n, m)
        Chance that a foul is not cleared, by interval and intrusion times density [-].
    out : ndarray, shape (b, N_OUT)
        Filled with the columns above [m], [-].
    trace : ndarray of float32, shape (b, n) or (0, 0)
        Filled, if it has rows, with the expected zone share of each interval [-].
    """
    n = keep.size
    step = plain[3]
    span = levels[levels.size - 1] - levels[0]
    # in chunks: scratch arrays are made once for many casts
    size = 256
    chunks = (at.shape[0] + size - 1) // size
    for chunk in prange(chunks):
        depth = np.empty(n + 1)
        lure = np.empty(n + 1)
        zone = np.empty(n)
        sums = np.empty(4)
        fouled = np.zeros(2)
        for i in range(chunk * size, min((chunk + 1) * size, at.shape[0])):
            for k in range(N_OUT):
                out[i, k] = 0.0
            se = _sample_line(grid, at[i, 0], at[i, 1], at[i, 2], at[i, 3], level, depth, n + 1)
            if se < 0.0:
                out[i, STATE] = OFF_WATER
                if trace.shape[0] > 0:
                    trace[i, :] = 0.0
                continue
            mean = 0.0
            for k in range(n + 1):
                mean += depth[k]
            mean = max(mean / (n + 1), 0.3)
            rel = math.sqrt(plain[0] * plain[0] + (se / mean) ** 2)
            place = (rel - levels[0]) / span * (levels.size - 1) + 0.5
            which = int(min(max(place, 0.0), levels.size - 1.0))
            out[i, ZONE_LOW] = 1e9
            for node in range(3):
                _march(depth, n, coefficients[which, node], keep, cosines[which, node],
                       free[which, node], plain[1], plain[2], step, zone, lure, sums)  # fmt: skip
                if grass[0, G_ON] > 0.0:
                    _in_grass(depth, lure, zone, n, step, grass, stuck, fouled)
                total = 0.0
                for k in range(n):
                    total += zone[k]
                total *= step
                weight = 2.0 / 3.0 if node == 0 else 1.0 / 6.0
                out[i, ZONE] += weight * total
                out[i, ZONE_LOW] = min(out[i, ZONE_LOW], total)
                out[i, ZONE_HIGH] = max(out[i, ZONE_HIGH], total)
                if trace.shape[0] > 0:
                    for k in range(n):
                        share = np.float32(weight * zone[k])
                        trace[i, k] = share if node == 0 else trace[i, k] + share
                if node == 0:
                    out[i, ZONE_AS_THOUGHT] = total
                    out[i, NEAR] = sums[0]
                    out[i, CONTACT] = sums[1]
                    out[i, LOAD] = sums[2] / max(sums[1], 1e-9)
                    out[i, FOULS] = fouled[0]
                    out[i, LOST] = fouled[1]
                    out[i, STATE] = _state(depth, lure, n, step, plain[4], plain[5], plain[6],
                                           out[i])  # fmt: skip
