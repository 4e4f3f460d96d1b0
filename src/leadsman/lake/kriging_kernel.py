"""Ordinary kriging at many places at once, compiled.

The system is solved in its covariance form, C = sill - g(h), by a Cholesky
factor; any sill large enough gives the same weights and the same variance,
because the weights add up to one (Cressie 1993, section 3.2; from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


def _krige_many(
    at_x: FloatArray, at_y: FloatArray, index: IntArray, x: FloatArray, y: FloatArray,
    z: FloatArray, noise: FloatArray, slope: float, exponent: float,
) -> FloatArray:  # fmt: skip
    """Depth and kriging variance at each place."""
    n, k = index.shape
    out = np.empty((n, 2))
    half = 0.5 * exponent
    for i in range(n):
        cov = np.empty((k, k))
        low = np.zeros((k, k))
        right = np.empty(k)
        ones = np.empty(k)
        far = 0.0
        for a in range(k):
            ja = index[i, a]
            for b in range(a):
                jb = index[i, b]
                h2 = (x[ja] - x[jb]) ** 2 + (y[ja] - y[jb]) ** 2
                cov[a, b] = slope * h2**half
                far = max(far, cov[a, b])
            h2 = (x[ja] - at_x[i]) ** 2 + (y[ja] - at_y[i]) ** 2
            right[a] = slope * h2**half
            far = max(far, right[a])
        j0 = index[i, 0]
        sill = 4.0 * far + 1e-6
        for a in range(k):  # Cholesky of C + noise
            for b in range(a + 1):
                value = sill - cov[a, b] if b < a else sill + noise[index[i, a]] + 1e-9 * sill
                for c in range(b):
                    value -= low[a, c] * low[b, c]
                if a == b:
                    low[a, a] = math.sqrt(max(value, 1e-12))
                else:
                    low[a, b] = value / low[b, b]
        for a in range(k):
            r, o = sill - right[a], 1.0
            for c in range(a):
                r -= low[a, c] * right[c]
                o -= low[a, c] * ones[c]
            right[a] = r / low[a, a]
            ones[a] = o / low[a, a]
        # In the factor's own coordinates every product is a plain sum.
        oo = 0.0
        rr = 0.0
        ro = 0.0
        for a in range(k):
            oo += ones[a] * ones[a]
            rr += right[a] * right[a]
            ro += right[a] * ones[a]
        lagrange = (1.0 - ro) / oo
        depth = 0.0
        data = np.empty(k)
        for a in range(k):
            value = z[index[i, a]] - z[j0]
            for c in range(a):
                value -= low[a, c] * data[c]
            data[a] = value / low[a, a]
            depth += data[a] * (right[a] + lagrange * ones[a])
        out[i, 0] = z[j0] + depth
        out[i, 1] = max(sill - rr + (1.0 - ro) ** 2 / oo, 0.0)
    return out


krige_many: Callable[..., Any] = njit(cache=True, nogil=True)(_krige_many)
"""Compiled `_krige_many`: see there for its arguments. It lets go of the interpreter's lock, so
that plain threads share the work; numba's own threads must not be entered twice at once, which a
web server would do."""


def warm_up() -> None:
    """Compile the kernel, or load it where that was done before."""
    one = np.array([0.0, 1.0, 2.0])
    index = np.array([[0, 1, 2]], dtype=np.int64)
    krige_many(one[:1], one[:1], index, one, one, one, one + 0.1, 0.01, 1.5)
