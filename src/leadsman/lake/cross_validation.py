"""How wrong the map is where nobody sounded: whole squares are hidden and predicted."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leadsman.lake.bottom_model import Z_90
from leadsman.lake.kriging_pyramid import REPEATS, KrigingPyramid, block_means
from leadsman.lake.soundings import BoolArray, FloatArray
from leadsman.lake.survey_error import survey_se_m

FOLDS = 4
MAX_SOUNDINGS = 200_000
"""Soundings used for the test; of larger records whole tiles are drawn [-]."""
MAX_HELD_OUT = 4000
"""Blocks predicted in one fold [-]."""
PUBLISHED_RMSE_M = (0.3, 0.92)
"""Published scale of interpolation error [m]: under 0.3 (Lake Vrana, 14 methods; Siljeg et al.
2015, Hydrol. Earth Syst. Sci. 19:3653) to 0.92 (a reservoir; Curtarelli et al. 2015, ISPRS Int.
J. Geo-Inf. 4:220)."""
MIN_SCALE, MAX_SCALE = 0.3, 4.0
SURVEY_SCALES = (1.0, 0.85, 0.7, 0.55, 0.4)
"""Factors tried on the survey standard's error [-]. A record may agree with itself better than
the standard asks, but it does not see what all its soundings share (level, depth of the
transducer, speed of sound), so not less than 0.4 of it, 0.1 m, is kept; a choice of ours."""
DISTANCE_BINS = 8
MAX_WEIGHT = 10.0


@dataclass(frozen=True, slots=True)
class CrossValidation:
    """Result of hiding squares of soundings and predicting them from the rest.

    All figures are weighted to the distances at which the map's cells lie
    from the nearest sounding.

    Parameters
    ----------
    square_m : float
        Width of the hidden squares [m].
    count : int
        Block means predicted [-].
    rmse_m : float
        Root mean square error [m].
    bias_m : float
        Mean of predicted minus measured [m].
    raw_coverage_90 : float
        Share of errors within the 90 % band before any scaling [-].
    coverage_90 : float
        Share within the 90 % band as stated, scaled on other folds than it is
        judged on [-].
    interpolation_scale : float
        Factor put on the standard error of interpolation [-].
    survey_scale : float
        Factor put on the survey error, 1 or less [-].
    """

    square_m: float
    count: int
    rmse_m: float
    bias_m: float
    raw_coverage_90: float
    coverage_90: float
    interpolation_scale: float
    survey_scale: float

    def __str__(self) -> str:
        low, high = PUBLISHED_RMSE_M
        return (
            f"{self.count:,} places hidden in {self.square_m:.0f} m squares were predicted to "
            f"{self.rmse_m:.2f} m (root mean square; published surveys {low} to {high} m); "
            f"the stated 90 % band held {100.0 * self.coverage_90:.0f} % of them"
        )


@dataclass(frozen=True, slots=True)
class _Errors:
    error: FloatArray
    krige_se: FloatArray
    survey_se: FloatArray
    noise_se: FloatArray
    distance: FloatArray
    fold: FloatArray
    weight: FloatArray

    def where(self, keep: BoolArray) -> _Errors:
        return _Errors(
            self.error[keep], self.krige_se[keep], self.survey_se[keep], self.noise_se[keep],
            self.distance[keep], self.fold[keep], self.weight[keep],
        )  # fmt: skip

    def covered(self, interpolation: float, survey: float) -> float:
        band = Z_90 * np.sqrt(
            (interpolation * self.krige_se) ** 2 + (survey * self.survey_se) ** 2 + self.noise_se**2
        )
        return float(np.average(np.abs(self.error) <= band, weights=self.weight))


def cross_validate(
    x_m: FloatArray,
    y_m: FloatArray,
    depth_m: FloatArray,
    cell_m: float,
    map_distance_m: FloatArray,
    seed: int = 7,
) -> CrossValidation:
    """Blocked cross-validation of the kriging that makes the map.

    Squares are hidden of half and of the whole width of the usual gap, and
    each hidden place weighs so that together they lie as far from the
    soundings left as the cells of the map lie from all of them.

    Parameters
    ----------
    x_m, y_m, depth_m : ndarray, shape (n,)
        Soundings [m].
    cell_m : float
        Width of a cell [m].
    map_distance_m : ndarray, shape (m,)
        Distance to the nearest sounding of the cells to be mapped [m].
    seed : int
        Of the draw of squares [-].

    Returns
    -------
    CrossValidation
        Errors and the scales that make the stated band honest.

    Raises
    ------
    LakeDataError
        There are fewer than 3 soundings.
    """
    gap = 2.0 * float(np.quantile(map_distance_m, 0.9)) if map_distance_m.size else 0.0
    square = max(gap, 6.0 * cell_m)
    few = _some_tiles(x_m, y_m, 20.0 * square, seed)
    x_m, y_m, depth_m = x_m[few], y_m[few], depth_m[few]
    parts = [
        _hidden_errors(x_m, y_m, depth_m, cell_m, width, square, seed)
        for width in (0.5 * square, square)
    ]
    columns = zip(*(part for part in parts if part), strict=True)
    joined = [np.concatenate(column) for column in columns]
    if not joined or joined[0].size < 30:
        nan = float("nan")
        return CrossValidation(square, 0, nan, nan, nan, nan, 1.0, 1.0)
    error, krige_se, survey_se, noise_se, distance, fold_of = joined
    errors = _Errors(
        error, krige_se, survey_se, noise_se, distance, fold_of, _weights(distance, map_distance_m)
    )
    held: list[float] = []
    share: list[float] = []
    for fold in range(FOLDS):
        mine = errors.fold == fold
        if np.any(mine) and np.count_nonzero(~mine) >= 30:
            held.append(errors.where(mine).covered(*_scales(errors.where(~mine))))
            share.append(float(np.sum(errors.weight[mine])))
    mean_square = float(np.average(errors.error**2, weights=errors.weight))
    return CrossValidation(
        square,
        int(errors.error.size),
        float(np.sqrt(mean_square)),
        float(np.average(errors.error, weights=errors.weight)),
        errors.covered(1.0, 1.0),
        float(np.average(held, weights=share)) if held else float("nan"),
        *_scales(errors),
    )


def _some_tiles(x: FloatArray, y: FloatArray, tile_m: float, seed: int) -> BoolArray:
    """Soundings of enough whole tiles of a very large record to judge all of it by."""
    if x.size <= MAX_SOUNDINGS:
        return np.ones(x.shape, dtype=bool)
    col, row = np.floor(x / tile_m).astype(np.int64), np.floor(y / tile_m).astype(np.int64)
    key = (row - row.min()) * (np.ptp(col) + 2) + col - col.min()
    _, tile = np.unique(key, return_inverse=True)
    counts = np.bincount(tile)
    order = np.random.default_rng(seed).permutation(counts.size)
    enough = int(np.searchsorted(np.cumsum(counts[order]), MAX_SOUNDINGS)) + 1
    return np.asarray(np.isin(tile, order[:enough]), dtype=bool)


def _hidden_errors(
    x: FloatArray,
    y: FloatArray,
    depth: FloatArray,
    cell_m: float,
    square_m: float,
    gap_m: float,
    seed: int,
) -> tuple[FloatArray, ...]:
    """Error, kriging, survey and noise error, distance and fold of every hidden block."""
    rng = np.random.default_rng(seed)
    col = np.floor(x / square_m).astype(np.int64)
    row = np.floor(y / square_m).astype(np.int64)
    _, square = np.unique(
        (row - row.min()) * (np.ptp(col) + 2) + col - col.min(), return_inverse=True
    )
    fold_of = rng.integers(0, FOLDS, int(square.max()) + 1)[square]
    parts: list[tuple[FloatArray, ...]] = []
    for fold in range(FOLDS):
        keep = fold_of != fold
        if np.count_nonzero(keep) < 30 or np.all(keep):
            continue
        model = KrigingPyramid.build(x[keep], y[keep], depth[keep], cell_m, gap_m)
        ones = np.ones(int(np.count_nonzero(~keep)))
        blocks = block_means(x[~keep], y[~keep], depth[~keep], ones, cell_m)
        pick = np.arange(blocks.x.size)
        if pick.size > MAX_HELD_OUT:
            pick = rng.choice(pick, MAX_HELD_OUT, replace=False)
        at_x, at_y = blocks.x[pick], blocks.y[pick]
        distance = np.asarray(
            model.levels[0].tree.query(np.stack([at_x, at_y], axis=1))[0], np.float64
        )
        found, se = model.predict(at_x, at_y, distance)
        noise = np.sqrt(model.variogram.nugget_m2 / np.minimum(blocks.count[pick], REPEATS))
        which = np.full(pick.size, float(fold))
        parts.append((found - blocks.z[pick], se, survey_se_m(found), noise, distance, which))
    return tuple(np.concatenate(column) for column in zip(*parts, strict=True))


def _weights(distance: FloatArray, map_distance: FloatArray) -> FloatArray:
    """Weights that give the hidden places the distances of the map's cells."""
    edges = np.unique(np.quantile(map_distance, np.linspace(0.0, 1.0, DISTANCE_BINS + 1)))
    if edges.size < 2:
        return np.ones(distance.shape)
    bins = edges.size - 1
    mine = np.clip(np.searchsorted(edges, distance, side="right") - 1, 0, bins - 1)
    theirs = np.clip(np.searchsorted(edges, map_distance, side="right") - 1, 0, bins - 1)
    have = np.bincount(mine, minlength=bins) / distance.size
    want = np.bincount(theirs, minlength=bins) / map_distance.size
    ratio = np.where(have > 0.0, want / np.maximum(have, 1e-9), 0.0)
    return np.asarray(np.clip(ratio, 0.0, MAX_WEIGHT)[mine], dtype=np.float64)


def _scales(errors: _Errors) -> tuple[float, float]:
    """Factors on interpolation and survey error that make the 90 % band hold 90 %.

    Near the soundings the survey error decides, far from them the
    interpolation; the pair is chosen that is honest in both.
    """
    middle = float(np.median(errors.distance))
    near, far = errors.where(errors.distance <= middle), errors.where(errors.distance > middle)
    best = (math.inf, 1.0, 1.0)
    for survey in SURVEY_SCALES:
        scale = _bisect(lambda s, g=survey: errors.covered(s, g))  # type: ignore[misc]
        misfit = abs(errors.covered(scale, survey) - 0.9)
        for part in (near, far):
            if part.error.size and np.sum(part.weight) > 0.0:
                misfit += abs(part.covered(scale, survey) - 0.9)
        if misfit < best[0] - 1e-9:
            best = (misfit, scale, survey)
    return best[1], best[2]


def _bisect(coverage: Callable[[float], float]) -> float:
    low, high = MIN_SCALE, MAX_SCALE
    for _ in range(24):
        middle = 0.5 * (low + high)
        if coverage(middle) < 0.9:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
