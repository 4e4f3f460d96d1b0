"""Grass as a layer over the lake: how far up it reaches and how much ground it covers.

Patches that somebody drew, imported or marked on the water come first. Where
there are none the edge depth gives a prior, which is a guess and says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import numpy as np

from leadsman.errors import LakeDataError, Where
from leadsman.hydro.bottom_profile import GrassLayer
from leadsman.lake.bottom_model import BottomModel, Float32Array
from leadsman.lake.csv_layout import DEPTH_UNITS_M
from leadsman.lake.grass_edge import EdgeDepth
from leadsman.lake.lattice import Lattice
from leadsman.lake.mend_ring import mended
from leadsman.lake.read_csv import to_wgs84
from leadsman.lake.soundings import FloatArray
from leadsman.lake.vector_file import read_vector

Origin = Literal["drawn", "imported", "marked"]

PRIOR_HEIGHT_M = 1.2
"""Height of grass on its flat before it was looked at [m]; 4 ft, an assumption of ours."""
PRIOR_EDGE_HEIGHT_M = 0.6
"""Height at the outside edge, where it is sparse and short [m]; an assumption of ours."""
PRIOR_DENSITY = 0.5
"""Cover of the flat before it was looked at [-]; an assumption of ours."""
PRIOR_EDGE_DENSITY = 0.25
"""Cover at the edge itself [-]; an assumption of ours."""
DENSITY_WORDS = {"sparse": 0.2, "scattered": 0.4, "thick": 0.8, "matted": 1.0}
"""Cover by the word for it [-]; common practice, no source."""
MARK_RADIUS_M = 8.0
"""Ground that one mark on the water speaks for [m]; a choice of ours."""


@dataclass(frozen=True, slots=True)
class GrassPatch:
    """An area of grass that somebody saw.

    Parameters
    ----------
    lon_deg, lat_deg : ndarray, shape (n,)
        Its outline; a single place stands for a circle of `MARK_RADIUS_M` [deg].
    top_depth_m : float
        Depth of its top below the reference level, 0 where it reaches the
        surface [m].
    density : float
        Share of the ground covered, 0 to 1 [-].
    origin : {"drawn", "imported", "marked"}
        Where it comes from [-].

    Raises
    ------
    LakeDataError
        It is no area, or its numbers make no sense.
    """

    lon_deg: FloatArray
    lat_deg: FloatArray
    top_depth_m: float
    density: float
    origin: Origin = "drawn"

    def __post_init__(self) -> None:
        if self.lon_deg.shape != self.lat_deg.shape or self.lon_deg.size in (0, 2):
            raise LakeDataError("needs one place, or an outline of three or more", "grass patch")
        if not (np.all(np.isfinite(self.lon_deg)) and np.all(np.isfinite(self.lat_deg))):
            raise LakeDataError("has a place that is not a number", "grass patch")
        if not 0.0 <= self.density <= 1.0:
            raise LakeDataError("density is a share from 0 to 1", "grass patch")
        if not 0.0 <= self.top_depth_m <= 40.0:
            raise LakeDataError("the top is outside 0 to 40 m of depth", "grass patch")


@dataclass(frozen=True, slots=True)
class GrassMap:
    """Grass on the cells of a lattice.

    Parameters
    ----------
    lattice : Lattice
        Where the cells are [-].
    top_depth_m : ndarray of float32, shape (ny, nx)
        Depth of the top below the reference level, NaN without grass [m].
    density : ndarray of float32, shape (ny, nx)
        Share of the ground covered [-].
    seen : ndarray of bool, shape (ny, nx)
        Cells where somebody looked; the others are a guess [-].
    said : tuple of str
        How it was made, each a sentence [-].
    """

    lattice: Lattice
    top_depth_m: Float32Array
    density: Float32Array
    seen: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
    said: tuple[str, ...] = ()

    def with_patches(self, patches: Sequence[GrassPatch]) -> GrassMap:
        """The same map with patches laid over it, later ones on top.

        Parameters
        ----------
        patches : sequence of GrassPatch
            What was seen; a density of 0 marks bare ground [-].
        """
        top, density, seen = self.top_depth_m.copy(), self.density.copy(), self.seen.copy()
        for patch in patches:
            cells = _cells(patch, self.lattice)
            density[cells] = patch.density
            top[cells] = patch.top_depth_m if patch.density > 0.0 else np.nan
            seen |= cells
        seen_ha = np.count_nonzero(seen) * self.lattice.cell_area_m2 / 1e4
        told = f"{len(patches)} patches of grass laid over it, {seen_ha:.2f} ha seen"
        return replace(self, top_depth_m=top, density=density, seen=seen, said=(*self.said, told))

    def along(
        self, x_m: FloatArray, lon_deg: FloatArray, lat_deg: FloatArray, level_m: float = 0.0
    ) -> GrassLayer | None:
        """Grass along a cast.

        Parameters
        ----------
        x_m : ndarray, shape (n,)
            Distances from the rod tip, rising [m].
        lon_deg, lat_deg : ndarray, shape (n,)
            Where they are [deg].
        level_m : float
            Water level now above the reference [m].

        Returns
        -------
        GrassLayer or None
            The grass; None where there is none.
        """
        x, y = self.lattice.frame.to_metric(lon_deg, lat_deg)
        col = np.rint((x - self.lattice.x0_m) / self.lattice.cell_m)
        row = np.rint((y - self.lattice.y0_m) / self.lattice.cell_m)
        inside = (col >= 0) & (row >= 0) & (col < self.lattice.nx) & (row < self.lattice.ny)
        index = (np.where(inside, row, 0).astype(int), np.where(inside, col, 0).astype(int))
        top = np.where(inside, self.top_depth_m[index], np.nan).astype(np.float64) + level_m
        density = np.where(inside & np.isfinite(top), self.density[index], 0.0).astype(np.float64)
        if not np.any(density > 0.0):
            return None
        # Without grass the top lies far below any bottom.
        return GrassLayer(x_m, np.where(np.isfinite(top), np.maximum(top, 0.0), 1e3), density)


def prior_grass(model: BottomModel, edge: EdgeDepth) -> GrassMap:
    """Grass to be expected from the depth at which it stops.

    The chance that it grows falls through the band of the edge; on the flat
    it is thicker and taller than at the edge. All of it is an assumption
    until somebody looked.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    edge : EdgeDepth
        Where the grass stops [-].

    Returns
    -------
    GrassMap
        Nothing of it seen.
    """
    from scipy.special import ndtr

    depth = model.depth_m.astype(np.float64)
    chance = np.nan_to_num(ndtr((edge.depth_m - depth) / edge.se_m))
    # 0 at the edge, 1 from half of its depth on.
    inward = np.clip((edge.depth_m - depth) / (0.5 * edge.depth_m), 0.0, 1.0)
    inward = np.nan_to_num(inward)
    height = PRIOR_EDGE_HEIGHT_M + inward * (PRIOR_HEIGHT_M - PRIOR_EDGE_HEIGHT_M)
    density = chance * (PRIOR_EDGE_DENSITY + inward * (PRIOR_DENSITY - PRIOR_EDGE_DENSITY))
    density[density < 0.02] = 0.0
    top = np.where(density > 0.0, np.maximum(depth - height, 0.0), np.nan)
    said = (
        f"Grass is assumed to {edge.depth_m:.2f} m, {PRIOR_DENSITY:.0%} of the flat covered and "
        f"{PRIOR_HEIGHT_M:.1f} m tall; nobody has looked yet",
    )
    return GrassMap(
        model.lattice, top.astype(np.float32), density.astype(np.float32),
        np.zeros(model.lattice.shape, dtype=bool), said,
    )  # fmt: skip


def read_patches(
    path: Path, crs: str | None = None, depth_unit: str | None = None
) -> tuple[GrassPatch, ...]:
    """Patches from a vector file with attributes for top depth and density.

    The top is taken from ``top_depth``, ``top_depth_m`` or ``top_depth_ft``,
    the density from ``density``: a share, a per cent or one of sparse,
    scattered, thick and matted.

    Parameters
    ----------
    path : pathlib.Path
        GeoJSON, shapefile or GeoPackage with polygons or points [-].
    crs : str or None
        Frame where the file names none [-].
    depth_unit : str or None
        Unit of ``top_depth``; None takes metres [-].

    Returns
    -------
    tuple of GrassPatch
        The patches.

    Raises
    ------
    LakeDataError
        The file cannot be read or has no such attributes.
    """
    import shapely

    table = read_vector(path)
    frame = crs or table.crs or "EPSG:4326"
    names = {name.casefold(): name for name in table.fields}
    unit_m, top_name = 1.0, names.get("top_depth")
    for unit in ("m", "ft"):
        if f"top_depth_{unit}" in names:
            top_name, unit_m = names[f"top_depth_{unit}"], DEPTH_UNITS_M[unit]
    if top_name == names.get("top_depth") and depth_unit is not None:
        unit_m = DEPTH_UNITS_M.get(depth_unit.casefold(), math.nan)
    if top_name is None or "density" not in names:
        raise LakeDataError(
            "needs the attributes top_depth and density",
            path.name,
            f"It has: {', '.join(table.fields) or 'none'}",
        )
    patches: list[GrassPatch] = []
    for number, shape in enumerate(table.geometry):
        top = _number(table.fields[top_name][number], path.name, "top_depth") * unit_m
        density = _density(table.fields[names["density"]][number], path.name)
        for part in shapely.get_parts(shape):
            outline = part.exterior if part.geom_type == "Polygon" else part
            xy = shapely.get_coordinates(outline)
            lon, lat = to_wgs84(xy[:, 0], xy[:, 1], frame, path.name)
            patches.append(GrassPatch(lon, lat, top, density, "imported"))
    return tuple(patches)


def _number(value: object, source: str, what: str) -> float:
    try:
        return float(str(value))
    except ValueError:
        raise LakeDataError(
            f"'{str(value)[:20]}' is no number", Where(source, field=what)
        ) from None


def _density(value: object, source: str) -> float:
    word = str(value).strip().casefold()
    if word in DENSITY_WORDS:
        return DENSITY_WORDS[word]
    number = _number(word.removesuffix("%"), source, "density")
    return number / 100.0 if number > 1.0 or word.endswith("%") else number


def _cells(patch: GrassPatch, lattice: Lattice) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """Cells inside a patch."""
    import shapely
    from rasterio.features import rasterize
    from rasterio.transform import Affine

    x, y = lattice.frame.to_metric(patch.lon_deg, patch.lat_deg)
    if patch.lon_deg.size == 1:
        area = shapely.Point(float(x[0]), float(y[0])).buffer(MARK_RADIUS_M)
    else:
        area = mended(shapely.Polygon(np.stack([x, y], axis=1)), "grass patch")
    half = 0.5 * lattice.cell_m
    place = Affine(
        lattice.cell_m, 0.0, lattice.x0_m - half, 0.0, lattice.cell_m, lattice.y0_m - half
    )
    if area.is_empty or not np.all(np.isfinite(area.bounds)):
        raise LakeDataError("lies outside the lake's frame", "grass patch")
    burnt = rasterize([(area, 1)], out_shape=lattice.shape, transform=place, dtype="uint8")
    return np.asarray(burnt, dtype=bool)
