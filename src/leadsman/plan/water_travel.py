"""Travel over water only: the quickest way on a grid, with speed limits."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError

if TYPE_CHECKING:
    from scipy.sparse import csr_array

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

SNAP_CELLS = 6
"""How far a place may lie from water the boat can use and still be moved to it [cells]."""


@dataclass(frozen=True)
class WaterGrid:
    """Where a boat may go and how fast.

    Parameters
    ----------
    x0_m, y0_m : float
        Centre of the cell of row 0 and column 0 in the lake's frame [m].
    cell_m : float
        Width of a cell [m].
    speed_m_s : ndarray, shape (rows, columns)
        Speed allowed in each cell; 0 where the boat must not go [m s-1].

    Raises
    ------
    PlanError
        The grid holds no water.
    """

    x0_m: float
    y0_m: float
    cell_m: float
    speed_m_s: FloatArray

    def __post_init__(self) -> None:
        if self.speed_m_s.ndim != 2 or not self.cell_m > 0.0:
            raise PlanError("is not a grid", "water")
        if not np.all(np.isfinite(self.speed_m_s)) or np.any(self.speed_m_s < 0.0):
            raise PlanError("a speed is negative or not a number", "water")
        if not np.any(self.speed_m_s > 0.0):
            raise PlanError("there is no water deep enough for the boat", "water")

    @cached_property
    def graph(self) -> csr_array[np.float64]:
        """Sparse graph of travel times between neighbouring cells."""
        from scipy.sparse import coo_array

        speed = self.speed_m_s
        rows, columns = speed.shape
        number = np.arange(rows * columns, dtype=np.int64).reshape(rows, columns)
        wet = speed > 0.0
        tails: list[IntArray] = []
        heads: list[IntArray] = []
        times: list[FloatArray] = []
        for down, right in ((0, 1), (1, 0), (1, 1), (1, -1)):
            here = (slice(0, rows - down), slice(max(-right, 0), columns - max(right, 0)))
            there = (slice(down, rows), slice(max(right, 0), columns + min(right, 0)))
            ok = wet[here] & wet[there]
            if down and right:
                # A diagonal step is allowed only where it cuts no corner of land.
                beside = (here[0], there[1])
                below = (there[0], here[1])
                ok &= wet[beside] & wet[below]
            length = self.cell_m * math.hypot(down, right)
            mean = 2.0 / (1.0 / speed[here][ok] + 1.0 / speed[there][ok])
            tails.append(number[here][ok])
            heads.append(number[there][ok])
            times.append(length / mean)
        size = rows * columns
        return coo_array(
            (np.concatenate(times), (np.concatenate(tails), np.concatenate(heads))),
            shape=(size, size),
        ).tocsr()

    def cell_of(self, x_m: float, y_m: float) -> int:
        """Number of the usable cell nearest to a place.

        Parameters
        ----------
        x_m, y_m : float
            Place in the lake's frame [m].

        Raises
        ------
        PlanError
            No usable water is near.
        """
        rows, columns = self.speed_m_s.shape
        row = round((y_m - self.y0_m) / self.cell_m)
        column = round((x_m - self.x0_m) / self.cell_m)
        top, left = max(row - SNAP_CELLS, 0), max(column - SNAP_CELLS, 0)
        near = self.speed_m_s[
            top : max(row + SNAP_CELLS + 1, 0), left : max(column + SNAP_CELLS + 1, 0)
        ]
        wet = np.argwhere(near > 0.0)
        if not wet.size:
            raise PlanError(
                f"no water the boat can use lies near {x_m:.0f} m east, {y_m:.0f} m north",
                "place",
                "Give a place on the water",
            )
        apart = np.hypot(wet[:, 0] + top - row, wet[:, 1] + left - column)
        found_row, found_column = wet[int(np.argmin(apart))] + (top, left)
        assert 0 <= found_row < rows
        return int(found_row * columns + found_column)


@dataclass(frozen=True, slots=True)
class TravelTable:
    """Times and ways between places.

    Parameters
    ----------
    time_s : ndarray, shape (n, n)
        Quickest time from one place to another; infinite where there is no
        way over water [s].
    cells : ndarray of int, shape (n,)
        Cell of each place [-].
    before : ndarray of int, shape (n, cells)
        Cell before each cell on the way from each place [-].
    grid : WaterGrid
        The grid [-].
    """

    time_s: FloatArray
    cells: IntArray
    before: npt.NDArray[np.int32]
    grid: WaterGrid

    def way(self, start: int, end: int) -> FloatArray:
        """Centres of the cells from one place to another, shape (k, 2) as x, y [m].

        Parameters
        ----------
        start, end : int
            Indices of the places [-].

        Raises
        ------
        PlanError
            There is no way over water.
        """
        if not math.isfinite(float(self.time_s[start, end])):
            raise PlanError("there is no way over water between two of the places", "route")
        columns = self.grid.speed_m_s.shape[1]
        cell, first = int(self.cells[end]), int(self.cells[start])
        cells = [cell]
        while cell != first:
            cell = int(self.before[start, cell])
            cells.append(cell)
        rows, cols = np.divmod(np.array(cells[::-1]), columns)
        return np.column_stack(
            (self.grid.x0_m + cols * self.grid.cell_m, self.grid.y0_m + rows * self.grid.cell_m)
        )


def travel_table(grid: WaterGrid, places_m: Sequence[tuple[float, float]]) -> TravelTable:
    """Quickest ways between all places, by Dijkstra's method on the grid.

    Parameters
    ----------
    grid : WaterGrid
        Where the boat may go [-].
    places_m : sequence of (float, float)
        Places in the lake's frame, x and y [m].

    Returns
    -------
    TravelTable
        Times and ways.

    Raises
    ------
    PlanError
        A place is not near usable water.
    """
    from scipy.sparse.csgraph import dijkstra

    cells = np.array([grid.cell_of(x, y) for x, y in places_m], dtype=np.int64)
    time_s, before = dijkstra(grid.graph, directed=False, indices=cells, return_predecessors=True)
    return TravelTable(np.asarray(time_s[:, cells]), cells, before, grid)
