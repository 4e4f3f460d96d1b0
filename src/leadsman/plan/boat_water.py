"""Where the boat can go and how fast, from the bottom and the rules."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.lake.bottom_model import BottomModel
from leadsman.plan.water_travel import WaterGrid

FloatArray = npt.NDArray[np.float64]

CELL_M = 20.0
"""Width of a cell of the grid on which ways are found [m]. Own choice."""
MOST_CELLS = 160_000
"""Cells of that grid at most [-]; wider cells on larger lakes."""


@dataclass(frozen=True, slots=True)
class SlowZone:
    """A round no-wake zone.

    Parameters
    ----------
    x_m, y_m, radius_m : float
        Middle and radius in the lake's frame [m].
    """

    x_m: float
    y_m: float
    radius_m: float


@dataclass(frozen=True, slots=True)
class BoatSpeeds:
    """How fast the boat may go.

    Parameters
    ----------
    open_m_s, slow_m_s : float
        In open water, and where no wake is allowed [m s-1].
    shore_m : float
        No wake within this distance of the shore [m].
    least_depth_m : float
        Water the boat needs [m].
    zones : tuple of SlowZone
        No-wake zones [-].
    """

    open_m_s: float
    slow_m_s: float
    shore_m: float = 0.0
    least_depth_m: float = 1.0
    zones: tuple[SlowZone, ...] = ()

    def __post_init__(self) -> None:
        if not 0.0 < self.slow_m_s <= self.open_m_s:
            raise PlanError("the no-wake speed must be above 0 and not above the other", "boat")


def water_grid(model: BottomModel, boat: BoatSpeeds, level_m: float) -> WaterGrid:
    """Speeds on a coarse grid.

    A coarse cell can be used if at least half of its fine cells are deep enough by one
    standard error; the rest of the caution is the skipper's.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    boat : BoatSpeeds
        Depth and speeds [-].
    level_m : float
        Water level now above the map's reference [m].

    Raises
    ------
    PlanError
        There is no water deep enough.
    """
    from scipy.ndimage import distance_transform_edt

    lattice = model.lattice
    block = max(round(CELL_M / lattice.cell_m), 1)
    block = max(block, math.ceil(math.sqrt(lattice.nx * lattice.ny / MOST_CELLS)))
    with np.errstate(invalid="ignore"):
        wet = model.depth_m + np.float32(level_m) > 0.0
        deep = model.depth_m + np.float32(level_m) - model.se_m >= boat.least_depth_m
    share, water = _blocks(deep, block), _blocks(wet, block)
    cell = lattice.cell_m * block
    usable = share >= 0.5
    speed = np.where(usable, boat.open_m_s, 0.0)
    if boat.shore_m > 0.0:
        off = distance_transform_edt(np.pad(water >= 0.5, 1))[1:-1, 1:-1] * cell
        speed[usable & (off < boat.shore_m)] = boat.slow_m_s
    x0 = lattice.x0_m + 0.5 * (block - 1) * lattice.cell_m
    y0 = lattice.y0_m + 0.5 * (block - 1) * lattice.cell_m
    x = x0 + cell * np.arange(speed.shape[1])
    y = y0 + cell * np.arange(speed.shape[0])
    for zone in boat.zones:
        near = np.hypot(x[None, :] - zone.x_m, y[:, None] - zone.y_m) <= zone.radius_m
        speed[usable & near] = boat.slow_m_s
    return WaterGrid(x0, y0, cell, speed)


def _blocks(mask: npt.NDArray[np.bool_], block: int) -> FloatArray:
    """Share of true cells in blocks, the last ones padded with false."""
    rows, columns = (-(-size // block) for size in mask.shape)
    padded = np.zeros((rows * block, columns * block))
    padded[: mask.shape[0], : mask.shape[1]] = mask
    return np.asarray(padded.reshape(rows, block, columns, block).mean(axis=(1, 3)))


def straightened(grid: WaterGrid, way_m: Sequence[tuple[float, float]] | FloatArray) -> FloatArray:
    """A way over water with fewer corners, none of its legs over land or slower water.

    Parameters
    ----------
    grid : WaterGrid
        Where the boat may go [-].
    way_m : array, shape (k, 2)
        Centres of the cells of the way [m].

    Returns
    -------
    ndarray, shape (n, 2)
        Corners, first and last kept [m].
    """
    points = np.asarray(way_m, dtype=np.float64)
    if len(points) <= 2:
        return points
    kept = [0]
    at = 0
    while at < len(points) - 1:
        step = min(len(points) - 1 - at, 64)
        while step > 1 and not _clear(grid, points[at : at + step + 1]):
            step -= 1 if step < 6 else step // 4
        at += step
        kept.append(at)
    return points[kept]


def _clear(grid: WaterGrid, way: FloatArray) -> bool:
    """Whether the straight leg meets no slower water than the way it replaces."""
    length = float(np.hypot(*(way[-1] - way[0])))
    t = np.linspace(0.0, 1.0, max(math.ceil(2.0 * length / grid.cell_m), 2))[:, None]
    line = way[0] + t * (way[-1] - way[0])
    return bool(np.min(_speeds(grid, line)) >= np.min(_speeds(grid, way)))


def _speeds(grid: WaterGrid, points: FloatArray) -> FloatArray:
    column = np.rint((points[:, 0] - grid.x0_m) / grid.cell_m).astype(np.int64)
    row = np.rint((points[:, 1] - grid.y0_m) / grid.cell_m).astype(np.int64)
    rows, columns = grid.speed_m_s.shape
    inside = (row >= 0) & (row < rows) & (column >= 0) & (column < columns)
    return np.where(
        inside, grid.speed_m_s[np.clip(row, 0, rows - 1), np.clip(column, 0, columns - 1)], 0.0
    )
