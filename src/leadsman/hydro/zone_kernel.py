"""Walk along paths and measure contact, segment by segment (numba)."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]


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

    Between two samples in contact the load is taken as linear. Where contact
    begins between two samples the gap to the bottom is extrapolated to zero
    from the two free samples before; where it ends the load is. So the result
    does not count whole samples.

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
    for row in range(rows):
        for k in range(limits.size):
            zone[row, k] = 0.0
        near_m = 0.0
        contact_m = 0.0
        load_m = 0.0
        first_t = math.nan
        first_x = math.nan
        largest = 0.0
        travelled = 0.0
        if load[row, 0] > 0.0:
            first_t = t[row, 0]
            first_x = 0.0
        for i in range(samples - 1):
            length = abs(x[row, i + 1] - x[row, i])
            a = load[row, i]
            b = load[row, i + 1]
            largest = max(largest, b)
            ga = gap[row, i]
            gb = gap[row, i + 1]
            # near the bottom: linear gap against a level
            if ga <= near and gb <= near:
                near_m += length
            elif ga <= near:
                near_m += length * (near - ga) / (gb - ga)
            elif gb <= near:
                near_m += length * (near - gb) / (ga - gb)
            if a <= 0.0 and b <= 0.0:
                travelled += length
                continue
            start = 0.0  # fraction of the segment where contact begins and ends
            end = 1.0
            p = a  # load at those places
            q = b
            if a <= 0.0:
                start = 1.0
                if i > 0:
                    before = abs(x[row, i] - x[row, i - 1])
                    fall = gap[row, i - 1] - ga
                    if before > 0.0 and fall > 0.0 and length > 0.0:
                        start = min(max(ga, 0.0) * before / (fall * length), 1.0)
                p = b
                if i + 2 < samples and load[row, i + 2] > 0.0:
                    after = abs(x[row, i + 2] - x[row, i + 1])
                    if after > 0.0:
                        p = b + (b - load[row, i + 2]) * (1.0 - start) * length / after
                p = max(p, 1e-12)
                if math.isnan(first_t):
                    first_t = t[row, i] + start * (t[row, i + 1] - t[row, i])
                    first_x = travelled + start * length
            elif b <= 0.0:
                end = 0.5
                if i > 0 and load[row, i - 1] > a:
                    before = abs(x[row, i] - x[row, i - 1])
                    if before > 0.0 and length > 0.0:
                        end = min(a * before / ((load[row, i - 1] - a) * length), 1.0)
                q = 0.0
            part = (end - start) * length
            contact_m += part
            load_m += part * (p + q) / 2.0
            for k in range(limits.size):
                top = limits[k]
                share = 1.0
                if p > top and q > top:
                    share = 0.0
                elif p > top:
                    share = (top - q) / (p - q)
                elif q > top:
                    share = (top - p) / (q - p)
                zone[row, k] += part * share * weight[row, i]
            travelled += length
        out[row, 0] = near_m
        out[row, 1] = contact_m
        out[row, 2] = load_m
        out[row, 3] = first_t
        out[row, 4] = first_x
        out[row, 5] = largest


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
