"""The bottom of a lake as a grid: depth and its standard error everywhere."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError
from leadsman.lake.lattice import Lattice
from leadsman.lake.soundings import FloatArray

Float32Array = npt.NDArray[np.float32]

KNOWS_NOTHING_M = 50.0
"""Standard error that stands for no knowledge of depth at all [m]."""
Z_90 = 1.644854
"""Half-width of a 90 % interval of the normal law in standard errors [-]."""


@dataclass(frozen=True, slots=True)
class BottomModel:
    """Depth and standard error at the cells of a lattice, NaN off the known water.

    Parameters
    ----------
    name : str
        Name of the lake [-].
    lattice : Lattice
        Where the cells are [-].
    depth_m : ndarray of float32, shape (ny, nx)
        Depth below the reference level, positive down; the water level of the
        day is added when it is asked [m].
    se_m : ndarray of float32, shape (ny, nx)
        Standard error of the depth of the bottom: interpolation and survey
        error in quadrature [m].
    sources : tuple of str
        What it was made from [-].
    said : tuple of str
        How it was made, each a sentence [-].

    Raises
    ------
    LakeDataError
        The arrays do not fit the lattice, or no cell is known.
    """

    name: str
    lattice: Lattice
    depth_m: Float32Array
    se_m: Float32Array
    sources: tuple[str, ...] = ()
    said: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.depth_m.shape != self.lattice.shape or self.se_m.shape != self.lattice.shape:
            raise LakeDataError("depth and error do not fit the lattice", self.name)
        if not np.any(np.isfinite(self.depth_m)):
            raise LakeDataError("no cell has a known depth", self.name)

    def sample(
        self, x_m: FloatArray, y_m: FloatArray, level_m: float = 0.0
    ) -> tuple[FloatArray, FloatArray]:
        """Depth and standard error at places in the frame, bilinear between cells.

        Where some of the four cells around a place are unknown, the known
        ones count by their share; with less than half of the weight known the
        place is unknown.

        Parameters
        ----------
        x_m, y_m : ndarray, shape (n,)
            Places in the lattice's frame [m].
        level_m : float
            Water level now above the reference level [m].

        Returns
        -------
        tuple of ndarray, shape (n,)
            Depth below the surface of the day and its standard error, NaN
            where unknown [m].
        """
        depth, se = _bilinear(self, np.asarray(x_m, np.float64), np.asarray(y_m, np.float64))
        return depth + level_m, se

    def sample_lonlat(
        self, lon_deg: FloatArray, lat_deg: FloatArray, level_m: float = 0.0
    ) -> tuple[FloatArray, FloatArray]:
        """Depth and standard error at longitudes and latitudes.

        Parameters
        ----------
        lon_deg, lat_deg : ndarray, shape (n,)
            Places on WGS84 [deg].
        level_m : float
            Water level now above the reference level [m].

        Returns
        -------
        tuple of ndarray, shape (n,)
            Depth and standard error, NaN where unknown [m].
        """
        x, y = self.lattice.frame.to_metric(lon_deg, lat_deg)
        return self.sample(x, y, level_m)

    def area_deeper_m2(self, depth_m: float, level_m: float = 0.0) -> float:
        """Area of the water that is deeper than a depth.

        Parameters
        ----------
        depth_m : float
            The depth [m].
        level_m : float
            Water level now above the reference level [m].

        Returns
        -------
        float
            Area [m2].
        """
        with np.errstate(invalid="ignore"):
            deeper = np.count_nonzero(self.depth_m + np.float32(level_m) >= np.float32(depth_m))
        return float(deeper) * self.lattice.cell_area_m2

    def renamed(self, name: str) -> BottomModel:
        """The same bottom under another name."""
        return replace(self, name=name)


_CHUNK = 16_384
"""Places handled at a time [-]: their arrays stay in the processor's cache."""


def _bilinear(model: BottomModel, x: FloatArray, y: FloatArray) -> tuple[FloatArray, FloatArray]:
    depth = np.full(x.shape, np.nan)
    se = np.full(x.shape, np.nan)
    flat_x, flat_y = x.reshape(-1), y.reshape(-1)
    for start in range(0, flat_x.size, _CHUNK):
        part = slice(start, start + _CHUNK)
        _bilinear_chunk(
            model, flat_x[part], flat_y[part], depth.reshape(-1)[part], se.reshape(-1)[part]
        )
    return depth, se


def _bilinear_chunk(
    model: BottomModel, x: FloatArray, y: FloatArray, depth: FloatArray, se: FloatArray
) -> None:
    """Fill depth and error of one chunk in place."""
    lattice = model.lattice
    col = (x - lattice.x0_m) / lattice.cell_m
    row = (y - lattice.y0_m) / lattice.cell_m
    with np.errstate(invalid="ignore"):
        inside = (
            (col >= -0.5) & (row >= -0.5) & (col <= lattice.nx - 0.5) & (row <= lattice.ny - 0.5)
        )
    if not np.all(inside):
        col = np.where(inside, col, 0.0)
        row = np.where(inside, row, 0.0)
    c0 = np.clip(col.astype(np.int64), 0, lattice.nx - 2)
    r0 = np.clip(row.astype(np.int64), 0, lattice.ny - 2)
    tx = np.clip(col - c0, 0.0, 1.0)
    ty = np.clip(row - r0, 0.0, 1.0)
    at = r0 * lattice.nx + c0
    flat_depth, flat_se = model.depth_m.reshape(-1), model.se_m.reshape(-1)
    shares = ((1.0 - tx) * (1.0 - ty), tx * (1.0 - ty), (1.0 - tx) * ty, tx * ty)
    total = np.zeros(x.shape)
    error = np.zeros(x.shape)
    for step, share in zip((0, 1, lattice.nx, lattice.nx + 1), shares, strict=True):
        index = at + step
        total += share * flat_depth.take(index)
        error += share * flat_se.take(index)
    # NaN spreads to a place from any unknown corner; those few are done again with care.
    redo = np.flatnonzero(np.isnan(total) & inside)
    if redo.size:
        total[redo], error[redo] = _known_corners(model, at[redo], [s[redo] for s in shares])
    depth[inside] = total[inside]
    se[inside] = error[inside]


def _known_corners(
    model: BottomModel, at: npt.NDArray[np.int64], shares: list[FloatArray]
) -> tuple[FloatArray, FloatArray]:
    """Weighted mean of the known corners where they hold at least half of the weight."""
    flat_depth, flat_se = model.depth_m.reshape(-1), model.se_m.reshape(-1)
    total, error, weight = (np.zeros(at.shape) for _ in range(3))
    for step, share in zip((0, 1, model.lattice.nx, model.lattice.nx + 1), shares, strict=True):
        value = flat_depth[at + step]
        known = np.isfinite(value)
        total += np.where(known, share * value, 0.0)
        error += np.where(known, share * flat_se[at + step], 0.0)
        weight += np.where(known, share, 0.0)
    enough = weight >= 0.5
    safe = np.where(enough, weight, 1.0)
    return np.where(enough, total / safe, np.nan), np.where(enough, error / safe, np.nan)
