"""Compiled first guess of the surrogate: a line bowed as if it were at rest in its own frame.

The chord from tip to lure turns as the lure dives. Drag that grows with the square of the
distance from the tip bows a line of tension T so that its end stands ``K x^2 / (4 T)`` steeper
than the chord; the lure dives at its own angle to that end. What this leaves out (a bow
that changes, large bows, drag along the line) is what the fitted correction has to learn.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]

# Columns of the groups, see surrogate_groups.
DELTA, TRIM, K, TIP, BUOYANCY, WEIGHT, BOAT, STRETCH = range(8)
N_BASE = 8


@njit(cache=True, nogil=True)
def chord_angles(groups: FloatArray, stations: FloatArray, angle: FloatArray) -> FloatArray:
    """Angle of the chord below the horizontal at parts of the line left.

    Fills `angle`, shape (n, stations); returns the lure's dive angle at the start, after
    buoyancy and trim, shape (n,).
    """
    n = groups.shape[0]
    first = np.empty(n)
    for i in range(n):
        delta, trim, k = groups[i, DELTA], groups[i, TRIM], groups[i, K]
        buoyancy, weight = groups[i, BUOYANCY], groups[i, WEIGHT]
        boat, stretch = groups[i, BOAT], groups[i, STRETCH]
        tan_delta = math.tan(delta)
        theta = math.asin(groups[i, TIP])
        angle[i, 0] = theta
        along = 1.0 - boat * math.cos(theta)
        v2 = along * along * (1.0 + tan_delta * tan_delta)
        psi = max(delta - trim / v2 - buoyancy / v2, 0.3 * delta)
        x = math.tan(psi)
        psi = math.atan(x)
        left, last_rate, last_step, dive = 1.0, 0.0, 1.0, psi
        for j in range(1, stations.size):
            u = stations[j - 1]
            cos, sin = math.cos(theta), math.sin(theta)
            along = max(1.0 - boat * cos, 0.2)
            tension = 1.0
            for _ in range(2):
                v2 = along * along * (1.0 + x * x)
                turned = min(trim / v2, delta)
                lost = turned * (1.0 + turned * turned / 3.0)  # its tangent
                # path is psi - theta below the horizontal
                cos_psi = 1.0 / math.sqrt(1.0 + x * x)
                cos_path = cos_psi * (cos + x * sin)
                sin_path = cos_psi * (x * cos - sin)
                normal = (tan_delta - lost) / (1.0 + tan_delta * lost)
                normal -= buoyancy * cos_path / v2
                tangential = 1.0 + buoyancy * sin_path / v2
                tension = v2 * math.sqrt(normal * normal + tangential * tangential)
                dive = math.atan2(normal, tangential)
                bow = 0.25 * k * u * along * along / tension
                misfit = psi - dive + bow * x * abs(x) - 0.5 * weight * u * cos / tension
                psi -= misfit / (1.0 + 2.0 * bow * abs(x) * (1.0 + x * x))
                x = math.tan(psi)
            if j == 1:
                first[i] = dive
            rate = x * along + boat * sin
            # the line stretches before the lure moves
            now = min(stations[j] * (1.0 + stretch * tension) / (1.0 + stretch), left * 0.9995)
            step = math.log(left / now)
            left = now
            if j == 1:
                theta += step * rate
            else:
                part = 0.5 * step / last_step
                theta += step * ((1.0 + part) * rate - part * last_rate)
            last_rate, last_step = rate, step
            angle[i, j] = theta
    return first
