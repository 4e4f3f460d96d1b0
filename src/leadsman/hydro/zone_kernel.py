"""Walk along paths and measure contact, segment by segment (numba)."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]


GAP_TOLERANCE_M = 1e-3
"""A load with more water than this under the lure is not contact but a sample interpolated
between a free place and one in contact [m]. Own choice: far under a lip's length."""

NEAR, CONTACT, LOAD, FIRST_S, FIRST_M, LARGEST = range(6)
"""Columns of the result of `contact_totals`."""


@njit(cache=True)
def _trim(gap: FloatArray, load: FloatArray, clean: FloatArray) -> None:
    """Copy the load of one path without what interpolation smears over the ends of contact."""
    n = load.size
    for i in range(n):
        smeared = load[i] > 0.0 and gap[i] > GAP_TOLERANCE_M and (i == 0 or clean[i - 1] == 0.0)
        clean[i] = 0.0 if smeared else load[i]
    for i in range(n - 2, -1, -1):
        if clean[i] > 0.0 and gap[i] > GAP_TOLERANCE_M and clean[i + 1] == 0.0:
            clean[i] = 0.0


@njit(cache=True)
def _share_under(p: float, q: float, top: float) -> float:
    """Share of a segment on which a linear quantity from p to q is at most top."""
    if p <= top and q <= top:
        return 1.0
    if p > top and q > top:
        return 0.0
    return (top - min(p, q)) / abs(p - q)


@njit(cache=True)
def _contact_part(
    i: int, x: FloatArray, gap: FloatArray, load: FloatArray
) -> tuple[float, float, float, float]:
    """Fractions of segment i where contact begins and ends, and the loads there.

    Where contact begins the gap of the two free samples before is extrapolated
    to zero, and the load there from the two samples after; where it ends the
    load is extrapolated to zero.
    """
    length = abs(x[i + 1] - x[i])
    a, b = load[i], load[i + 1]
    if a <= 0.0:
        start = 1.0
        if i > 0:
            before = abs(x[i] - x[i - 1])
            fall = gap[i - 1] - gap[i]
            if before > 0.0 and fall > 0.0 and length > 0.0:
                start = min(max(gap[i], 0.0) * before / (fall * length), 1.0)
        p = b
        if i + 2 < x.size and load[i + 2] > 0.0:
            after = abs(x[i + 2] - x[i + 1])
            if after > 0.0:
                p = b + (b - load[i + 2]) * (1.0 - start) * length / after
        return start, 1.0, max(p, 1e-12), b
    if b <= 0.0:
        end = 0.5
        if i > 0 and load[i - 1] > a and length > 0.0:
            before = abs(x[i] - x[i - 1])
            end = min(a * before / ((load[i - 1] - a) * length), 1.0)
        return 0.0, end, a, 0.0
    return 0.0, 1.0, a, b


@njit(cache=True)
def contact_totals(
    t: FloatArray,
    x: FloatArray,
    gap: FloatArray,
    load: FloatArray,
    weight: FloatArray,
    limits: FloatArray,
    near: float,
    zone: FloatArray,
    out: FloatArray,
) -> None:
    """Add up contact along every path of a batch, cut at the crossings.

    Parameters
    ----------
    t, x : ndarray, shape (b, n)
        Time [s] and horizontal position [m].
    gap : ndarray, shape (b, n)
        Depth of the bottom less depth of the lure [m].
    load : ndarray, shape (b, n)
        Contact load, 0 where free [-].
    weight : ndarray, shape (b, n - 1)
        What a metre of each segment counts in `zone` [-].
    limits : ndarray, shape (k,)
        Limits of acceptable load [-].
    near : float
        Gap that still counts as near the bottom [m].
    zone : ndarray, shape (b, k)
        Filled: weighted metres with 0 < load <= limit [m].
    out : ndarray, shape (b, 6)
        Filled: near [m], contact [m], integral of load [m], first contact
        time [s] (nan if none), distance gone until it [m], largest load [-].
    """
    rows, samples = x.shape
    clean = np.empty(samples)
    for row in range(rows):
        zone[row, :] = 0.0
        out[row, :] = 0.0
        out[row, FIRST_S] = math.nan
        out[row, FIRST_M] = math.nan
        _trim(gap[row], load[row], clean)
        travelled = 0.0
        if clean[0] > 0.0:
            out[row, FIRST_S] = t[row, 0]
            out[row, FIRST_M] = 0.0
        for i in range(samples - 1):
            length = abs(x[row, i + 1] - x[row, i])
            out[row, LARGEST] = max(out[row, LARGEST], clean[i + 1])
            out[row, NEAR] += length * _share_under(gap[row, i], gap[row, i + 1], near)
            if clean[i] > 0.0 or clean[i + 1] > 0.0:
                start, end, p, q = _contact_part(i, x[row], gap[row], clean)
                part = (end - start) * length
                out[row, CONTACT] += part
                out[row, LOAD] += part * (p + q) / 2.0
                for k in range(limits.size):
                    zone[row, k] += part * _share_under(p, q, limits[k]) * weight[row, i]
                if math.isnan(out[row, FIRST_S]):
                    out[row, FIRST_S] = t[row, i] + start * (t[row, i + 1] - t[row, i])
                    out[row, FIRST_M] = travelled + start * length
            travelled += length


@njit(cache=True)
def band_totals(
    t: FloatArray,
    x: FloatArray,
    depth: FloatArray,
    load: FloatArray,
    weight: FloatArray,
    top: float,
    bottom: float,
    limits: FloatArray,
    zone: FloatArray,
    seconds: FloatArray,
) -> None:
    """Add up the metres and seconds of every path inside a depth band.

    Parameters
    ----------
    t, x, depth : ndarray, shape (b, n)
        Time [s], horizontal position [m] and depth [m].
    load : ndarray, shape (b, n)
        Contact load [-].
    weight : ndarray, shape (b, n - 1)
        What a metre of each segment counts in `zone` [-].
    top, bottom : float
        Edges of the band [m].
    limits : ndarray, shape (k,)
        Limits of acceptable load; a plowing lure is not in the zone [-].
    zone : ndarray, shape (b, k)
        Filled: weighted metres in the band [m].
    seconds : ndarray, shape (b,)
        Filled: time in the band [s].
    """
    rows, samples = x.shape
    for row in range(rows):
        for k in range(limits.size):
            zone[row, k] = 0.0
        seconds[row] = 0.0
        for i in range(samples - 1):
            a = depth[row, i]
            b = depth[row, i + 1]
            low = min(a, b)
            high = max(a, b)
            if high < top or low > bottom:
                continue
            share = 1.0
            if high > low:
                share = (min(high, bottom) - max(low, top)) / (high - low)
            length = share * abs(x[row, i + 1] - x[row, i])
            seconds[row] += share * (t[row, i + 1] - t[row, i])
            mean_load = 0.5 * (load[row, i] + load[row, i + 1])
            for k in range(limits.size):
                if mean_load <= limits[k]:
                    zone[row, k] += length * weight[row, i]
