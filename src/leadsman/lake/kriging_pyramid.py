"""Kriging from blocks that widen with the distance to the soundings.

Near a track single cells decide; in a wide gap the nearest soundings would all
lie on one side of it, so there means over wider blocks stand for them. Blocks
as wide as the nearest sounding is far see the tracks on all sides.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from leadsman.lake.local_kriging import MIN_NUGGET_M2, Variogram, fit_variogram
from leadsman.lake.soundings import FloatArray

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

NEIGHBOURS = 16
"""Blocks used for one place [-]."""
BLOCK_SHARE = 1.25
"""Width of the blocks over the distance to the nearest sounding [-]. Chosen on a real lake sounded
in lines: half of it leaves only one track in sight and costs a third more error at 30 m."""
LEVELS = 8
"""Block sizes, each twice the one before [-]."""
SCALE_PRIOR = 2.0
"""Neighbours' worth of belief that it is as rough here as elsewhere [-]; a choice of ours."""
REPEATS = 4.0
"""More soundings than this in one block do not make it better [-]: they share their errors."""
CHUNK = 25_000
"""Places kriged at a time [-]: their neighbours take 30 MB."""
THREADS = 2


@dataclass(frozen=True, slots=True)
class Blocks:
    """Means of soundings over square blocks.

    Parameters
    ----------
    width_m : float
        Width of a block [m].
    x, y, z : ndarray, shape (n,)
        Mean place and mean depth [m].
    count : ndarray, shape (n,)
        Soundings in each [-].
    tree : scipy.spatial.cKDTree
        Over the mean places [-].
    """

    width_m: float
    x: FloatArray
    y: FloatArray
    z: FloatArray
    count: FloatArray
    tree: cKDTree


@dataclass(frozen=True, slots=True)
class KrigingPyramid:
    """Soundings in blocks of every size, and their variogram.

    Parameters
    ----------
    variogram : Variogram
        Of the soundings [-].
    levels : tuple
        Blocks, narrow to wide [-].
    rough_level : int
        Level at which neighbouring blocks lie on different tracks [-].
    roughness : ndarray, shape (blocks of that level,)
        Variance between neighbouring blocks there over what the variogram
        expects: how rough the bottom is here against the whole lake. Taken
        across tracks, because a track along a slope does not see it [-].
    """

    variogram: Variogram
    levels: tuple[Blocks, ...]
    rough_level: int
    roughness: FloatArray

    @classmethod
    def build(
        cls,
        x_m: FloatArray,
        y_m: FloatArray,
        depth_m: FloatArray,
        cell_m: float,
        gap_m: float = 0.0,
    ) -> KrigingPyramid:
        """Pyramid over soundings.

        Parameters
        ----------
        x_m, y_m, depth_m : ndarray, shape (n,)
            Soundings [m].
        cell_m : float
            Width of the smallest blocks [m].
        gap_m : float
            Usual gap between tracks [m].

        Raises
        ------
        LakeDataError
            There are fewer than 3 soundings.
        """
        variogram = fit_variogram(x_m, y_m, depth_m, max(60.0, 12.0 * cell_m, gap_m))
        count = np.ones(x_m.shape)
        levels: list[Blocks] = []
        width = cell_m
        for _ in range(LEVELS):
            blocks = block_means(x_m, y_m, depth_m, count, width)
            levels.append(blocks)
            x_m, y_m, depth_m, count = blocks.x, blocks.y, blocks.z, blocks.count
            width *= 2.0
            if blocks.x.size <= 2 * NEIGHBOURS:
                break
        wide = max(0.6 * gap_m, 2.0 * cell_m) / cell_m
        rough_level = min(round(float(np.log2(wide))), len(levels) - 1)
        return cls(
            variogram, tuple(levels), rough_level, _roughness(variogram, levels[rough_level])
        )

    @property
    def noise_m2(self) -> FloatArray:
        """Variance of the means of the smallest blocks, shape (blocks,) [m2]."""
        return _noise(self.variogram, self.levels[0])

    def predict(
        self, x_m: FloatArray, y_m: FloatArray, distance_m: FloatArray | None = None
    ) -> tuple[FloatArray, FloatArray]:
        """Depth and standard error of the bottom at places.

        Parameters
        ----------
        x_m, y_m : ndarray, shape (n,)
            Places [m].
        distance_m : ndarray, shape (n,), or None
            Distance to the nearest sounding; None finds it [m].

        Returns
        -------
        tuple of ndarray, shape (n,)
            Depth and standard error of interpolation [m].
        """
        if distance_m is None:
            places = np.stack([x_m, y_m], axis=1)
            distance_m = np.asarray(self.levels[0].tree.query(places, workers=2)[0], np.float64)
        cell = self.levels[0].width_m
        wanted = np.log2(np.maximum(distance_m, 1e-9) * BLOCK_SHARE / cell)
        level = np.clip(np.rint(wanted), 0, len(self.levels) - 1).astype(np.int64)
        depth = np.empty(x_m.shape)
        se = np.empty(x_m.shape)
        jobs = [
            (int(number), at[start : start + CHUNK])
            for number in np.unique(level)
            for at in (np.flatnonzero(level == number),)
            for start in range(0, at.size, CHUNK)
        ]

        def work(job: tuple[int, npt.NDArray[np.int64]]) -> None:
            number, part = job
            depth[part], se[part] = self._krige(number, x_m[part], y_m[part])

        if x_m.size < CHUNK:
            for job in jobs:
                work(job)
        else:
            with ThreadPoolExecutor(THREADS) as pool:
                list(pool.map(work, jobs))
        return depth, se

    def _krige(self, number: int, x: FloatArray, y: FloatArray) -> tuple[FloatArray, FloatArray]:
        from leadsman.lake.kriging_kernel import krige_many

        blocks = self.levels[number]
        k = min(NEIGHBOURS, blocks.x.size)
        found = blocks.tree.query(np.stack([x, y], axis=1), k=k)[1]
        index = np.asarray(found, dtype=np.int64).reshape(x.size, k)
        v = self.variogram
        out = krige_many(
            x, y, index, blocks.x, blocks.y, blocks.z, _noise(v, blocks), v.slope_m2, v.exponent
        )
        coarse = self.levels[self.rough_level].tree
        around = min(3, self.roughness.size)
        near = coarse.query(np.stack([x, y], axis=1), k=around)[1]
        scale = np.mean(self.roughness[np.asarray(near, np.int64).reshape(x.size, around)], axis=1)
        return out[:, 0], np.sqrt(out[:, 1] * scale)


def _roughness(variogram: Variogram, blocks: Blocks) -> FloatArray:
    """Squared differences to the neighbouring blocks over those expected, drawn toward 1."""
    k = min(9, blocks.x.size)
    found = blocks.tree.query(np.stack([blocks.x, blocks.y], axis=1), k=k)
    far = np.asarray(found[0], dtype=np.float64).reshape(-1, k)[:, 1:]
    index = np.asarray(found[1], dtype=np.int64).reshape(-1, k)[:, 1:]
    expected = np.sum(2.0 * (variogram(far) + MIN_NUGGET_M2), axis=1)
    found_here = np.sum((blocks.z[index] - blocks.z[:, None]) ** 2, axis=1)
    # Differences over wide blocks sit high on the variogram; only their ratio to the rest counts.
    # Sums, not ratios, are averaged: two blocks that all but touch would else decide alone.
    usual = float(np.sum(found_here)) / max(float(np.sum(expected)), 1e-12)
    ratio = (k - 1) * found_here / np.maximum(expected * usual, 1e-12)
    return np.asarray((ratio + SCALE_PRIOR) / (k - 1 + SCALE_PRIOR), dtype=np.float64)


def _noise(variogram: Variogram, blocks: Blocks) -> FloatArray:
    return np.asarray(variogram.nugget_m2 / np.minimum(blocks.count, REPEATS), dtype=np.float64)


def block_means(
    x: FloatArray, y: FloatArray, z: FloatArray, count: FloatArray, width_m: float
) -> Blocks:
    """Means over blocks, weighted by how many soundings each value stands for.

    Parameters
    ----------
    x, y, z : ndarray, shape (n,)
        Places and depths [m].
    count : ndarray, shape (n,)
        How many soundings each stands for [-].
    width_m : float
        Width of a block [m].
    """
    from scipy.spatial import cKDTree

    col = np.floor(x / width_m).astype(np.int64)
    row = np.floor(y / width_m).astype(np.int64)
    key = (row - row.min()) * (col.max() - col.min() + 2) + (col - col.min())
    _, inverse = np.unique(key, return_inverse=True)
    total = np.bincount(inverse, count).astype(np.float64)
    mean_x = np.bincount(inverse, count * x) / total
    mean_y = np.bincount(inverse, count * y) / total
    mean_z = np.bincount(inverse, count * z) / total
    tree = cKDTree(np.stack([mean_x, mean_y], axis=1))
    return Blocks(width_m, mean_x, mean_y, mean_z, total, tree)
