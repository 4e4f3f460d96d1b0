"""Zone length, load and fouling of candidate casts over a gridded bottom."""

from __future__ import annotations

import math
import threading
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.hydro.fouling import (
    REFERENCE_HOOKS,
    ClearingTackle,
    FoulingCoefficients,
    clear_chance,
    pull_available,
)
from leadsman.hydro.zone import ACCEPTABLE_LOAD, NEAR_BOTTOM_M
from leadsman.lake.bottom_model import BottomModel
from leadsman.plan import passes_kernel as kernel
from leadsman.plan.passes_fit import STEEPEST_RAD, STEP_M
from leadsman.plan.passes_table import ContactTable
from leadsman.plan.passes_types import GrassStand

FloatArray = npt.NDArray[np.float64]
Float32Array = npt.NDArray[np.float32]
BoolArray = npt.NDArray[np.bool_]

DRY_M = -1e6
"""Depth that stands for land and unknown ground in the packed grid [m]: any share of it dries
a place."""

_ONE_AT_A_TIME = threading.Lock()

INTRUSION_CELL_M = 0.05
INTRUSION_CELLS = 40
"""Rows of the clearing table: intrusion times density [m] and how many [-]."""


@dataclass(frozen=True, slots=True)
class PackedGrid:
    """The bottom as the kernel reads it.

    Parameters
    ----------
    cells : ndarray of float32, shape (ny, nx, 2)
        Depth and standard error, land and unknown ground as `DRY_M` [m].
    x0_m, y0_m, cell_m : float
        Centre of the south-western cell and width of a cell [m].
    level_m : float
        Water level now above the reference [m].
    """

    cells: Float32Array
    x0_m: float
    y0_m: float
    cell_m: float
    level_m: float = 0.0

    @classmethod
    def of(cls, model: BottomModel, level_m: float = 0.0) -> PackedGrid:
        """Pack a bottom model.

        Parameters
        ----------
        model : BottomModel
            The bottom [-].
        level_m : float
            Water level now above the reference [m].
        """
        lattice = model.lattice
        cells = np.empty((*lattice.shape, 2), dtype=np.float32)
        known = np.isfinite(model.depth_m) & (model.depth_m + level_m > 0.0)
        cells[..., 0] = np.where(known, model.depth_m, DRY_M)
        cells[..., 1] = np.where(np.isfinite(model.se_m), model.se_m, 0.0)
        return cls(cells, lattice.x0_m, lattice.y0_m, lattice.cell_m, level_m)


@dataclass(frozen=True, slots=True)
class CastScores:
    """What candidate casts are worth, one row each.

    Parameters
    ----------
    zone_m : ndarray, shape (b,)
        Expected zone length, over the error of the depth and over fouling [m].
    zone_band_m : ndarray, shape (b, 2)
        Least and most of the three nodes [m].
    nominal_zone_m : ndarray, shape (b,)
        Zone length if the lure runs as thought [m].
    near_m, contact_m : ndarray, shape (b,)
        Metres near the bottom and in contact, nominal [m].
    mean_load : ndarray, shape (b,)
        Mean load over the contact [-].
    fouls, lost_chance : ndarray, shape (b,)
        Expected fouls and chance of a lost cast [-].
    shallowest_m : ndarray, shape (b,)
        Least depth under the cast [m].
    usable : ndarray of bool, shape (b,)
        Over known water, the line touching nothing, the bottom gentle enough [-].
    doubtful : ndarray of bool, shape (b,)
        The line touches a rise, or the bottom is too steep for the table [-].
    shares : ndarray of float32, shape (b, n) or (0, 0)
        Expected share of each interval in the zone, from the landing place on [-].
    """

    zone_m: FloatArray
    zone_band_m: FloatArray
    nominal_zone_m: FloatArray
    near_m: FloatArray
    contact_m: FloatArray
    mean_load: FloatArray
    fouls: FloatArray
    lost_chance: FloatArray
    shallowest_m: FloatArray
    usable: BoolArray
    doubtful: BoolArray
    shares: Float32Array

    def __len__(self) -> int:
        return int(self.zone_m.size)


def evaluate_casts(
    grid: PackedGrid,
    table: ContactTable,
    tip_x_m: FloatArray,
    tip_y_m: FloatArray,
    angle_rad: FloatArray,
    *,
    limit_load: float = ACCEPTABLE_LOAD,
    near_m: float = NEAR_BOTTOM_M,
    grass: GrassStand | None = None,
    fouling: FoulingCoefficients | None = None,
    trace: bool = False,
) -> CastScores:
    """Evaluate casts.

    Parameters
    ----------
    grid : PackedGrid
        The bottom [-].
    table : ContactTable
        The setup [-].
    tip_x_m, tip_y_m : ndarray, shape (b,)
        Where the rod tip is when the retrieve starts [m].
    angle_rad : ndarray, shape (b,)
        Direction the cast flies, clockwise from the frame's north [rad].
    limit_load : float
        Largest load that counts [-].
    near_m : float
        Gap that counts as near the bottom [m].
    grass : GrassStand or None
        Grass on the bottom [-].
    fouling : FoulingCoefficients or None
        How readily it holds a lure [-].
    trace : bool
        Whether to keep where along each cast the zone lies [-].
    """
    size, n = tip_x_m.size, table.intervals
    at = _grid_steps(grid, table.cast_m, tip_x_m, tip_y_m, angle_rad)
    lure = table.setup.lure
    plain = np.array(
        [
            lure.depth_rel_se,
            limit_load,
            near_m,
            STEP_M,
            table.cast_m,
            table.tip_m,
            math.tan(STEEPEST_RAD),
        ]
    )
    layer, stuck = _grass_tables(table, grass, fouling or FoulingCoefficients())
    out = np.empty((size, kernel.N_OUT))
    shares = np.empty((size, n) if trace else (0, 0), dtype=np.float32)
    with _ONE_AT_A_TIME:  # not every threading layer bears two parallel loops at once
        kernel.evaluate(
            grid.cells, at, grid.level_m, table.coefficients, table.keep, table.cos_delta,
            table.rel_se, plain, table.free_m, layer, stuck, out, shares,
        )  # fmt: skip
    state = out[:, kernel.STATE]
    return CastScores(
        out[:, kernel.ZONE],
        out[:, [kernel.ZONE_LOW, kernel.ZONE_HIGH]],
        out[:, kernel.ZONE_AS_THOUGHT],
        out[:, kernel.NEAR],
        out[:, kernel.CONTACT],
        out[:, kernel.LOAD],
        out[:, kernel.FOULS],
        out[:, kernel.LOST],
        out[:, kernel.SHALLOWEST],
        state == kernel.OK,
        (state == kernel.LINE_TOUCHES) | (state == kernel.STEEP),
        shares,
    )


def _grid_steps(
    grid: PackedGrid, cast_m: float, x_m: FloatArray, y_m: FloatArray, angle_rad: FloatArray
) -> FloatArray:
    """Landing place and step toward the boat, in columns and rows."""
    east, north = np.sin(angle_rad), np.cos(angle_rad)
    at = np.empty((x_m.size, 4))
    at[:, 0] = (x_m + cast_m * east - grid.x0_m) / grid.cell_m
    at[:, 1] = (y_m + cast_m * north - grid.y0_m) / grid.cell_m
    at[:, 2] = -STEP_M * east / grid.cell_m
    at[:, 3] = -STEP_M * north / grid.cell_m
    return at


def _grass_tables(
    table: ContactTable, grass: GrassStand | None, fouling: FoulingCoefficients
) -> tuple[FloatArray, FloatArray]:
    """The grass as numbers, and the chance that a foul is not cleared."""
    layer = np.zeros((1, kernel.N_GRASS))
    if grass is None:
        return layer, np.zeros((1, 2))
    setup = table.setup
    tackle = ClearingTackle(
        breaking_n=setup.line.breaking_n,
        stiffness_n=setup.line.properties.stiffness_n,
        open_hooks=setup.lure.open_hooks,
        rod_power_n=setup.rod_power_n,
    )
    layer[0, kernel.G_ON] = 1.0
    layer[0, kernel.G_EDGE] = grass.edge_depth_m
    layer[0, kernel.G_SPREAD] = max(grass.edge_spread_m, 0.02)
    layer[0, kernel.G_HEIGHT] = grass.height_m
    layer[0, kernel.G_DENSITY] = grass.density
    layer[0, kernel.G_HAZARD] = fouling.hazard_per_m2 * setup.lure.open_hooks / REFERENCE_HOOKS
    layer[0, kernel.G_RAGGED] = fouling.raggedness_m
    layer[0, kernel.G_CELLS] = INTRUSION_CELL_M
    deep: FloatArray = np.asarray(INTRUSION_CELL_M * np.arange(INTRUSION_CELLS), dtype=np.float64)
    pull = pull_available(table.line_out_m, table.pull_n, tackle)
    cleared = clear_chance(deep[None, :], 1.0, pull[:, None], fouling)
    return layer, np.ascontiguousarray(1.0 - cleared)
