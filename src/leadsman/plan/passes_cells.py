"""The stretch cut into cells, and which cells a cast may cover."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.belief.coverage import Coverage
from leadsman.plan.passes_fit import STEP_M
from leadsman.plan.passes_types import EdgeStretch

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

CELL_M = 2.0
"""Length of a cell of an edge [m]; a patch of a drop or flat is twice as wide."""


PLACE_NODES = (-1.2816, -0.5244, 0.0, 0.5244, 1.2816)
"""10, 30, 50, 70 and 90 % points of the normal law, in standard errors [-]."""

BLUR_M = 1.0
"""Width over which reach fades out [m]; own choice, a metre of path is not seen finer."""


@dataclass(frozen=True, slots=True)
class Cells:
    """What there is to cover.

    Parameters
    ----------
    x_m, y_m : ndarray, shape (c,)
        Middles of the cells [m].
    along_m : ndarray, shape (c,)
        Where along the stretch they lie [m].
    length_m : float
        Metres of zone that cover a cell [m].
    reach_m : float
        Farthest a lure may be from the middle [m].
    se_m : ndarray, shape (c,)
        Standard error of the place of the edge across itself [m].
    normal_x, normal_y : ndarray, shape (c,)
        Unit vector across the stretch [-].
    is_edge : bool
        Cells of an edge; else patches of ground [-].
    """

    x_m: FloatArray
    y_m: FloatArray
    along_m: FloatArray
    length_m: float
    reach_m: float
    se_m: FloatArray
    normal_x: FloatArray
    normal_y: FloatArray
    is_edge: bool


def cells_of(stretch: EdgeStretch) -> Cells:
    """Cut a stretch into cells.

    Parameters
    ----------
    stretch : EdgeStretch
        An edge gives cells along it, a drop or a flat patches beside it [-].
    """
    at = stretch.along_m
    wide = stretch.kind != "edge"
    step = 2.0 * CELL_M if wide else CELL_M
    n = max(round(stretch.length_m / step), 1)
    along = (np.arange(n) + 0.5) * stretch.length_m / n
    x, y, nx, ny, se = (
        np.interp(along, at, v)
        for v in (
            stretch.x_m,
            stretch.y_m,
            stretch.to_deep_x,
            stretch.to_deep_y,
            stretch.position_se_m,
        )
    )
    size = np.maximum(np.hypot(nx, ny), 1e-9)
    nx, ny = nx / size, ny / size
    length = stretch.length_m / n
    if not wide:
        return Cells(x, y, along, length, stretch.half_width_m, se, nx, ny, True)
    m = max(round(2.0 * stretch.half_width_m / step), 1)
    off = ((np.arange(m) + 0.5) / m * 2.0 - 1.0) * stretch.half_width_m
    rows = [np.repeat(v, m) for v in (x, y, along, se, nx, ny)]
    shift = np.tile(off, n)
    return Cells(
        rows[0] + shift * rows[4],
        rows[1] + shift * rows[5],
        rows[2],
        step,
        0.75 * step,
        rows[3],
        rows[4],
        rows[5],
        False,
    )


def cast_coverage(
    cells: Cells,
    end_x_m: FloatArray,
    end_y_m: FloatArray,
    angle_rad: FloatArray,
    shares: npt.NDArray[np.float32],
    cast: IntArray,
    casts: int,
) -> Coverage:
    """Chance that each cast covers each cell.

    Parameters
    ----------
    cells : Cells
        What there is to cover [-].
    end_x_m, end_y_m : ndarray, shape (b,)
        Where the lure lands [m].
    angle_rad : ndarray, shape (b,)
        Direction of the cast, clockwise from the frame's north [rad].
    shares : ndarray of float32, shape (b, n)
        Expected share of each interval in the zone, from the landing place on [-].
    cast : ndarray of int, shape (b,)
        Number of each cast [-].
    casts : int
        How many casts there are in all [-].

    Notes
    -----
    An interval in the zone works the cell it is nearest to, if it is within reach of the edge.
    Where the edge really lies is the same for all casts: each cell stands five times, for the
    edge at the 10, 30, 50, 70 and 90 % points of its error, a fifth of its length each. Two
    casts side by side do not cover the same edge twice, and casts at different distances find
    it wherever it is.
    """
    from scipy.sparse import csr_array
    from scipy.spatial import cKDTree

    tree = cKDTree(np.stack([cells.x_m, cells.y_m], axis=1))
    row, k = np.nonzero(shares > 1e-3)
    back = (k + 0.5) * STEP_M
    x = end_x_m[row] - back * np.sin(angle_rad[row])
    y = end_y_m[row] - back * np.cos(angle_rad[row])
    most = cells.reach_m + (3.0 * float(np.max(cells.se_m)) if cells.is_edge else 0.0)
    found = tree.query(np.stack([x, y], axis=1), distance_upper_bound=max(most, cells.length_m))
    cell = np.asarray(found[1], dtype=np.int64)
    near = cell < cells.x_m.size
    row, k, x, y, cell = row[near], k[near], x[near], y[near], cell[near]
    dx, dy = x - cells.x_m[cell], y - cells.y_m[cell]
    across = dx * cells.normal_x[cell] + dy * cells.normal_y[cell]
    beyond = np.abs(dx * cells.normal_y[cell] - dy * cells.normal_x[cell])
    if cells.is_edge:
        shift = np.array(PLACE_NODES)[:, None] * cells.se_m[cell][None, :]
        within = np.clip((cells.reach_m - np.abs(across - shift)) / BLUR_M + 0.5, 0.0, 1.0)
        # past the ends of the stretch nothing counts
        within *= beyond <= cells.length_m
    else:
        within = np.ones((1, row.size))
    states, size = within.shape[0], cells.x_m.size
    chance = (shares[row, k] * STEP_M / cells.length_m * within).ravel()
    column = (cell[None, :] + size * np.arange(states)[:, None]).ravel()
    line = np.tile(cast[row], states)
    some = chance > 0.0
    table = csr_array(
        (chance[some].astype(np.float64), (line[some], column[some])), shape=(casts, states * size)
    )
    table.sum_duplicates()
    table.data = np.clip(table.data, 0.0, 1.0)
    return Coverage(np.full(states * size, cells.length_m / states), table)
