"""From the lake's bottom model to what a map shows."""

from __future__ import annotations

from itertools import pairwise
from typing import cast

import numpy as np
import numpy.typing as npt

from leadsman.lake.bottom_model import BottomModel
from leadsman.output.map_view_types import DepthGrid, EdgeLine, Polyline, Ring

FloatArray = npt.NDArray[np.float64]

Z90 = 1.6448536269514722
"""Half width of a central 90 % band of a normal error over its standard error [-]."""
LEAST_POINTS = 4
"""Lines of fewer points are specks of the grid and left out [-]."""


def depth_grid_of(model: BottomModel, level_m: float = 0.0) -> DepthGrid:
    """Grid of a bottom model at a water level.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    level_m : float
        Water level of the day over the reference, positive is more water [m].

    Raises
    ------
    ValueError
        At that level no cell is under water.
    """
    lattice = model.lattice
    depth = model.depth_m.astype(np.float64) + level_m
    depth[depth < 0.0] = np.nan
    return DepthGrid(
        lattice.x0_m + lattice.cell_m * np.arange(lattice.nx, dtype=np.float64),
        lattice.y0_m + lattice.cell_m * np.arange(lattice.ny, dtype=np.float64),
        depth,
    )


def depth_edge_of(
    model: BottomModel,
    depth_m: float,
    what: str,
    *,
    depth_se_m: float = 0.0,
    grass: bool = True,
    level_m: float = 0.0,
) -> EdgeLine:
    """Contour of one depth, with the band that the errors of bottom and depth give it.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    depth_m : float
        Depth of the edge below the surface of the day [m].
    what : str
        What the edge is, such as ``"grass edge, 13 ft"`` [-].
    depth_se_m : float
        Standard error of the depth of the edge itself, independent of the
        error of the bottom [m].
    grass : bool
        True for a grass edge, False for a bare depth or drop [-].
    level_m : float
        Water level of the day over the reference [m].

    Returns
    -------
    EdgeLine
        The contour, and as its band all ground whose depth is within 1.645
        standard errors of the edge's: where the edge may lie nine times in ten [-].
    """
    from contourpy import contour_generator

    grid = depth_grid_of(model, level_m)
    error = np.hypot(model.se_m.astype(np.float64), depth_se_m)
    lines = contour_generator(grid.x_m, grid.y_m, np.ma.masked_invalid(grid.depth_m)).lines(depth_m)
    away = np.abs(grid.depth_m - depth_m) / np.maximum(error, 1e-6)
    generator = contour_generator(
        grid.x_m, grid.y_m, np.ma.masked_invalid(away), fill_type="OuterOffset"
    )
    points_of, offsets_of = cast(
        tuple[list[FloatArray], list[npt.NDArray[np.uint32]]], generator.filled(-1.0, Z90)
    )
    rings: list[Ring] = []
    for points, offsets in zip(points_of, offsets_of, strict=True):
        for first, last in pairwise(offsets.tolist()):
            ring = points[first : last - 1]  # it closes on its first point
            if len(ring) >= LEAST_POINTS:
                rings.append(Ring(ring[:, 0].copy(), ring[:, 1].copy()))
    return EdgeLine(
        tuple(_polyline(line) for line in lines if len(line) >= LEAST_POINTS),
        tuple(rings),
        what,
        grass,
    )


def _polyline(points: object) -> Polyline:
    xy = np.asarray(points, dtype=np.float64)
    return Polyline(xy[:, 0].copy(), xy[:, 1].copy())
