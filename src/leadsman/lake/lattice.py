"""A square lattice of cell centres in a metric frame."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.frame import MAX_EXTENT_M, MetricFrame
from leadsman.lake.soundings import FloatArray

MAX_CELLS = 40_000_000
"""Most cells of one lake [-]: 1,000 km2 at 5 m, 320 MB while it is worked on; a choice of ours."""


@dataclass(frozen=True, slots=True)
class Lattice:
    """Cell centres in rows from south to north, each from west to east.

    Parameters
    ----------
    frame : MetricFrame
        The flat frame [-].
    x0_m, y0_m : float
        Centre of the south-western cell [m].
    cell_m : float
        Width of a cell [m].
    nx, ny : int
        Number of cells east and north [-].

    Raises
    ------
    LakeDataError
        It has no cells, too many, or reaches beyond its frame.
    """

    frame: MetricFrame
    x0_m: float
    y0_m: float
    cell_m: float
    nx: int
    ny: int

    def __post_init__(self) -> None:
        if not 0.5 <= self.cell_m <= 500.0:
            raise LakeDataError(f"a cell of {self.cell_m:.4g} m is outside 0.5 to 500 m", "cell")
        if self.nx < 2 or self.ny < 2 or self.nx * self.ny > MAX_CELLS:
            raise LakeDataError(
                f"a grid of {self.nx:,} x {self.ny:,} cells is too small or too large",
                "cell",
                "Choose another cell width, or check for stray positions",
            )
        far = max(abs(self.x0_m), abs(self.y0_m), abs(self.x0_m + self.nx * self.cell_m),
                  abs(self.y0_m + self.ny * self.cell_m))  # fmt: skip
        if not far <= MAX_EXTENT_M:
            raise LakeDataError(
                f"the data reach {far / 1000.0:,.0f} km from their middle, too far for one lake",
                "extent",
                "Check for stray positions or a wrong frame",
            )

    @classmethod
    def around(
        cls, frame: MetricFrame, x_m: FloatArray, y_m: FloatArray, cell_m: float, margin_m: float
    ) -> Lattice:
        """Lattice that holds some places with a margin.

        Parameters
        ----------
        frame : MetricFrame
            The flat frame [-].
        x_m, y_m : ndarray, shape (n,)
            Places [m].
        cell_m : float
            Width of a cell [m].
        margin_m : float
            Room beyond the outermost places [m].

        Raises
        ------
        LakeDataError
            The places are not numbers, or too far apart.
        """
        if x_m.size == 0 or not (np.all(np.isfinite(x_m)) and np.all(np.isfinite(y_m))):
            raise LakeDataError("some positions are outside the lake's frame", "extent")
        x0 = math.floor((float(np.min(x_m)) - margin_m) / cell_m) * cell_m
        y0 = math.floor((float(np.min(y_m)) - margin_m) / cell_m) * cell_m
        nx = math.ceil((float(np.max(x_m)) + margin_m - x0) / cell_m) + 1
        ny = math.ceil((float(np.max(y_m)) + margin_m - y0) / cell_m) + 1
        return cls(frame, x0, y0, cell_m, nx, ny)

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return self.ny, self.nx

    @property
    def x_m(self) -> FloatArray:
        """East of the cell centres, shape (nx,) [m]."""
        return np.asarray(self.x0_m + self.cell_m * np.arange(self.nx), dtype=np.float64)

    @property
    def y_m(self) -> FloatArray:
        """North of the cell centres, shape (ny,) [m]."""
        return np.asarray(self.y0_m + self.cell_m * np.arange(self.ny), dtype=np.float64)

    @property
    def cell_area_m2(self) -> float:
        """Area of a cell [m2]."""
        return self.cell_m**2
