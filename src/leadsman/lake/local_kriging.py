"""Depth at places between soundings by ordinary kriging on the nearest of them.

Ordinary kriging with a power variogram, g(h) = nugget + c h^a (Cressie 1993,
Statistics for Spatial Data, sections 2.3 and 3.2; from memory). The variogram
is fitted to the soundings themselves, so the standard error grows with the
distance to them as the lake's own bottom asks for.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.soundings import FloatArray

MAX_ANCHORS = 1000
"""Soundings from which pairs are taken for the variogram [-]."""
PAIRS_EACH = 24
"""Near and far partners of each of them [-]."""
MAX_THINNED = 8000
"""Soundings among which far partners are looked for [-]."""
BINS = 14
"""Classes of distance [-]."""
EXPONENTS = np.arange(0.6, 1.96, 0.1)
"""Exponents tried; 2 would be a bottom without any roughness [-]."""
NEAREST = 24
"""Soundings used for one place [-]."""
MIN_NUGGET_M2 = 0.03**2
"""Least nugget [m2]: a depth is logged to a tenth of a foot at best."""


@dataclass(frozen=True, slots=True)
class Variogram:
    """Half the mean squared difference of depths over distance.

    Parameters
    ----------
    nugget_m2 : float
        Value at no distance: sounding noise [m2].
    slope_m2 : float
        Value added at 1 m [m2].
    exponent : float
        Power of distance, below 2 [-].
    """

    nugget_m2: float
    slope_m2: float
    exponent: float

    def __call__(self, distance_m: FloatArray) -> FloatArray:
        """Value at distances, without the nugget [m2]."""
        return np.asarray(self.slope_m2 * distance_m**self.exponent, dtype=np.float64)


def fit_variogram(
    x_m: FloatArray, y_m: FloatArray, depth_m: FloatArray, reach_m: float = 60.0
) -> Variogram:
    """Variogram of soundings by weighted least squares on binned pairs.

    In each bin the robust estimate of Cressie & Hawkins (1980, Math. Geol.
    12:115-125; from memory) is taken, the fourth power of the mean root of the
    differences over 2 (0.457 + 0.494 / n), so that a few walls do not speak for
    the whole lake.

    Parameters
    ----------
    x_m, y_m : ndarray, shape (n,)
        Places [m].
    depth_m : ndarray, shape (n,)
        Depths [m].
    reach_m : float
        Longest distance of a pair [m].

    Returns
    -------
    Variogram
        The fit.

    Raises
    ------
    LakeDataError
        There are fewer than 3 soundings.
    """
    if x_m.size < 3:
        raise LakeDataError("at least 3 soundings are needed to map a bottom", "soundings")
    h, g = _pairs(x_m, y_m, depth_m, reach_m)
    if h.size < 10:
        # Soundings too far apart to tell: a bed of 6 degrees, stated as a wide error.
        return Variogram(MIN_NUGGET_M2, 0.5 * 0.1**2, 1.9)
    edges = np.quantile(h, np.linspace(0.0, 1.0, BINS + 1))
    which = np.clip(np.searchsorted(edges, h, side="right") - 1, 0, BINS - 1)
    counts = np.bincount(which, minlength=BINS).astype(np.float64)
    ok = counts > 0
    mean_h = np.bincount(which, h, BINS)[ok] / counts[ok]
    root = np.bincount(which, np.sqrt(g), BINS)[ok] / counts[ok]
    mean_g = root**4 / (2.0 * (0.457 + 0.494 / counts[ok]))
    return _least_squares(mean_h, mean_g, counts[ok])


def _pairs(
    x: FloatArray, y: FloatArray, depth: FloatArray, reach_m: float
) -> tuple[FloatArray, FloatArray]:
    """Distances and absolute differences of depth of many pairs, near ones and far ones."""
    from scipy.spatial import cKDTree

    rng = np.random.default_rng(20)
    places = np.stack([x, y], axis=1)
    # Evenly spread over the record: deterministic, and it covers every track.
    anchors = np.unique(np.linspace(0, x.size - 1, MAX_ANCHORS).astype(np.int64))
    k = min(PAIRS_EACH, x.size)
    near = np.asarray(cKDTree(places).query(places[anchors], k=k)[1], dtype=np.int64).reshape(-1, k)
    first, second = [np.repeat(anchors, k)], [near.reshape(-1)]
    thin = np.arange(x.size)
    if x.size > MAX_THINNED:
        thin = np.sort(rng.choice(x.size, MAX_THINNED, replace=False))
    starts = thin[np.linspace(0, thin.size - 1, min(MAX_ANCHORS, thin.size)).astype(np.int64)]
    far = cKDTree(places[thin]).query_ball_point(places[starts], reach_m)
    for start, found in zip(starts, far, strict=True):
        index = np.asarray(found, dtype=np.int64)
        if index.size > PAIRS_EACH:
            index = rng.choice(index, PAIRS_EACH, replace=False)
        first.append(np.full(index.size, start))
        second.append(thin[index])
    one, two = np.concatenate(first), np.concatenate(second)
    distance = np.hypot(x[one] - x[two], y[one] - y[two])
    keep = (distance > 0.0) & (distance <= reach_m)
    return distance[keep], np.abs(depth[one] - depth[two])[keep]


def _least_squares(h: FloatArray, g: FloatArray, counts: FloatArray) -> Variogram:
    """Best of the exponents, with nugget and slope kept positive."""
    # Relative errors: the variogram near zero matters most for kriging.
    weight = np.sqrt(counts) / np.maximum(g, MIN_NUGGET_M2)
    best: tuple[float, Variogram] | None = None
    for exponent in EXPONENTS:
        design = np.stack([np.ones_like(h), h**exponent], axis=1) * weight[:, None]
        (nugget, slope), misfit = _two_positive(design, g * weight)
        fit = Variogram(max(float(nugget), MIN_NUGGET_M2), max(float(slope), 1e-8), float(exponent))
        if best is None or misfit < best[0]:
            best = (misfit, fit)
    if best is None:
        raise LakeDataError("the soundings have no variogram", "soundings")
    return best[1]


def _two_positive(design: FloatArray, values: FloatArray) -> tuple[FloatArray, float]:
    """Least squares with two coefficients, neither negative, and the misfit.

    With two unknowns the best fit is the free one, or one on an axis; this
    spares loading a general solver on the way of a quick answer.
    """
    free = np.linalg.lstsq(design, values, rcond=None)[0]
    tries = [free] if np.all(free >= 0.0) else []
    for axis in (0, 1):
        column = design[:, axis]
        alone = np.zeros(2)
        alone[axis] = max(float(column @ values) / max(float(column @ column), 1e-300), 0.0)
        tries.append(alone)
    misfits = [float(np.linalg.norm(design @ found - values)) for found in tries]
    best = int(np.argmin(misfits))
    return np.asarray(tries[best], dtype=np.float64), misfits[best]


def krige(
    x_m: FloatArray,
    y_m: FloatArray,
    depth_m: FloatArray,
    variogram: Variogram,
    at_x_m: FloatArray,
    at_y_m: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Depth and its standard error at places.

    Parameters
    ----------
    x_m, y_m, depth_m : ndarray, shape (n,)
        Soundings [m].
    variogram : Variogram
        Of the soundings [-].
    at_x_m, at_y_m : ndarray, shape (m,)
        Where to estimate [m].

    Returns
    -------
    tuple of ndarray, shape (m,)
        Depth and standard error of the bottom itself, without the noise of a
        single sounding [m].
    """
    from scipy.spatial import cKDTree

    k = min(NEAREST, x_m.size)
    tree = cKDTree(np.stack([x_m, y_m], axis=1))
    found = tree.query(np.stack([at_x_m, at_y_m], axis=1), k=k)
    far = np.asarray(found[0], dtype=np.float64).reshape(at_x_m.size, k)
    index = np.asarray(found[1], dtype=np.int64).reshape(at_x_m.size, k)
    px, py, pz = x_m[index], y_m[index], depth_m[index]
    between = np.hypot(px[:, :, None] - px[:, None, :], py[:, :, None] - py[:, None, :])
    # Ordinary kriging in variogram form; the nugget is noise of the soundings, so it
    # stands on the diagonal (negative, as gamma(0) = 0 for the bottom itself).
    system = np.zeros((at_x_m.size, k + 1, k + 1))
    system[:, :k, :k] = variogram(between)
    system[:, np.arange(k), np.arange(k)] = -variogram.nugget_m2
    system[:, :k, k] = 1.0
    system[:, k, :k] = 1.0
    right = np.ones((at_x_m.size, k + 1))
    right[:, :k] = variogram(far)
    weights = np.linalg.solve(system, right[:, :, None])[:, :, 0]
    depth = np.einsum("ij,ij->i", weights[:, :k], pz)
    variance = np.einsum("ij,ij->i", weights, right)
    return depth, np.sqrt(np.maximum(variance, 0.0))
