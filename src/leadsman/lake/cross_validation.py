"""How wrong the map is where nobody sounded: whole squares are hidden and predicted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leadsman.lake.bottom_model import Z_90
from leadsman.lake.kriging_pyramid import KrigingPyramid, block_means
from leadsman.lake.soundings import FloatArray
from leadsman.lake.survey_error import survey_se_m

FOLDS = 4
MAX_HELD_OUT = 4000
"""Blocks predicted in one fold [-]."""
PUBLISHED_RMSE_M = (0.3, 0.92)
"""Published scale of interpolation error [m]: under 0.3 (Lake Vrana, 14 methods; Siljeg et al.
2015, Hydrol. Earth Syst. Sci. 19:3653) to 0.92 (a reservoir; Curtarelli et al. 2015, ISPRS Int.
J. Geo-Inf. 4:220)."""
MIN_SCALE, MAX_SCALE = 0.3, 4.0


@dataclass(frozen=True, slots=True)
class CrossValidation:
    """Result of hiding squares of soundings and predicting them from the rest.

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
    fold: FloatArray

    def covered(self, interpolation: float, survey: float, fold: int | None = None) -> float:
        chosen = slice(None) if fold is None else self.fold == fold
        band = Z_90 * np.sqrt(
            (interpolation * self.krige_se) ** 2 + (survey * self.survey_se) ** 2 + self.noise_se**2
        )
        return float(np.mean((np.abs(self.error) <= band)[chosen]))

    def without(self, fold: int) -> _Errors:
        keep = self.fold != fold
        return _Errors(
            self.error[keep], self.krige_se[keep], self.survey_se[keep], self.noise_se[keep],
            self.fold[keep],
        )  # fmt: skip


def cross_validate(
    x_m: FloatArray,
    y_m: FloatArray,
    depth_m: FloatArray,
    cell_m: float,
    square_m: float,
    seed: int = 7,
) -> CrossValidation:
    """Blocked cross-validation of the kriging that makes the map.

    Parameters
    ----------
    x_m, y_m, depth_m : ndarray, shape (n,)
        Soundings [m].
    cell_m : float
        Width of a cell [m].
    square_m : float
        Width of the hidden squares, about the gap between tracks [m].
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
    errors = _hidden_errors(x_m, y_m, depth_m, cell_m, square_m, seed)
    if errors.error.size < 30:
        return CrossValidation(square_m, int(errors.error.size), float("nan"), float("nan"),
                               float("nan"), float("nan"), 1.0, 1.0)  # fmt: skip
    scales = _scales(errors)
    held: list[float] = []
    weight: list[float] = []
    for fold in range(FOLDS):
        other = errors.without(fold)
        size = errors.error.size - other.error.size
        if size == 0 or other.error.size < 30:
            continue
        held.append(errors.covered(*_scales(other), fold=fold))
        weight.append(float(size))
    coverage = float(np.average(held, weights=weight)) if held else float("nan")
    return CrossValidation(
        square_m,
        int(errors.error.size),
        float(np.sqrt(np.mean(errors.error**2))),
        float(np.mean(errors.error)),
        errors.covered(1.0, 1.0),
        coverage,
        *scales,
    )


def _hidden_errors(
    x: FloatArray, y: FloatArray, depth: FloatArray, cell_m: float, square_m: float, seed: int
) -> _Errors:
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
        model = KrigingPyramid.build(x[keep], y[keep], depth[keep], cell_m)
        ones = np.ones(int(np.count_nonzero(~keep)))
        blocks = block_means(x[~keep], y[~keep], depth[~keep], ones, cell_m)
        pick = np.arange(blocks.x.size)
        if pick.size > MAX_HELD_OUT:
            pick = rng.choice(pick, MAX_HELD_OUT, replace=False)
        found, se = model.predict(blocks.x[pick], blocks.y[pick])
        noise = np.sqrt(model.variogram.nugget_m2 / np.minimum(blocks.count[pick], 4.0))
        parts.append(
            (found - blocks.z[pick], se, survey_se_m(found), noise, np.full(pick.size, float(fold)))
        )
    if not parts:
        return _Errors(*(np.zeros(0) for _ in range(5)))
    return _Errors(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def _scales(errors: _Errors) -> tuple[float, float]:
    """Factors on interpolation and survey error that make the 90 % band hold 90 %.

    Where the record agrees with itself better than the survey standard asks,
    the survey part is drawn in first; where it agrees worse, the
    interpolation part is widened.
    """
    if errors.covered(1.0, 1.0) < 0.9:
        return _bisect(lambda s: errors.covered(s, 1.0), 1.0, MAX_SCALE), 1.0
    if errors.covered(1.0, 0.1) < 0.9:
        return 1.0, _bisect(lambda s: errors.covered(1.0, s), 0.1, 1.0)
    return _bisect(lambda s: errors.covered(s, 0.1), MIN_SCALE, 1.0), 0.1


def _bisect(coverage: Callable[[float], float], low: float, high: float) -> float:
    for _ in range(30):
        middle = 0.5 * (low + high)
        if coverage(middle) < 0.9:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
