"""Bottom models from grids: GeoTIFF, ESRI ASCII grid, NetCDF."""

from __future__ import annotations

import math
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import numpy as np

from leadsman.errors import LakeDataError, Where
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.csv_layout import DEPTH_UNITS_M
from leadsman.lake.file_guard import checked_size
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import MAX_CELLS, Lattice
from leadsman.lake.soundings import DEEPEST_LAKE_M, FloatArray, ReadReport
from leadsman.lake.survey_error import survey_se_m

MAX_GRID_BYTES = 1024 * 1024 * 1024
EVEN_LAW = 0.2887
"""Standard deviation of an even law of width 1, 1 / sqrt(12) [-]."""
_KINDS: tuple[tuple[str, tuple[bytes, ...]], ...] = (
    ("GTiff", (b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+")),
    ("netCDF", (b"CDF\x01", b"CDF\x02", b"CDF\x05", b"\x89HDF\r\n\x1a\n")),
    ("AAIGrid", (b"ncols", b"NCOLS", b"nrows", b"NROWS")),
)
_VARIABLES = ("depth", "elevation", "z", "bathymetry", "band1", "topo")


@dataclass(frozen=True, slots=True)
class GridOptions:
    """What the user says about a grid; the rest is detected.

    Parameters
    ----------
    crs : str or None
        Frame where the file names none [-].
    depth_unit : str or None
        ``"ft"`` or ``"m"`` [-].
    sign : {"down", "up"} or None
        Whether values count positive down or up [-].
    surface_elevation_m : float or None
        Elevation of the water surface, for grids of bottom elevation [m].
    se_m : float or None
        Standard error of the grid by its makers; None takes the survey
        standard and the coarseness of the cells [m].
    variable : str or None
        Variable of a NetCDF file [-].
    """

    crs: str | None = None
    depth_unit: str | None = None
    sign: Literal["down", "up"] | None = None
    surface_elevation_m: float | None = None
    se_m: float | None = None
    variable: str | None = None


def read_grid(
    path: Path, name: str, options: GridOptions | None = None, cell_m: float | None = None
) -> tuple[BottomModel, ReadReport]:
    """Read a grid of depths or bottom elevations.

    Parameters
    ----------
    path : pathlib.Path
        GeoTIFF, ESRI ASCII grid or NetCDF [-].
    name : str
        Name of the lake [-].
    options : GridOptions or None
        What is known about it [-].
    cell_m : float or None
        Width of the model's cells; None takes the grid's own within 2 to 5 m,
        wider for large lakes [m].

    Returns
    -------
    tuple of BottomModel and ReadReport
        The model, and what was found.

    Raises
    ------
    LakeDataError
        It is damaged, too large, or has no usable frame or depth.
    """
    options = options or GridOptions()
    checked_size(path, MAX_GRID_BYTES)
    driver = _driver(path)
    said: list[str] = []
    values, lattice, source_cell_m = _warped(path, driver, options, cell_m, said)
    depth = _as_depth(values, options, path.name, said)
    dry = np.isfinite(depth) & (depth <= 0.0)
    deep = depth > DEEPEST_LAKE_M
    depth[dry | deep] = np.nan
    if not np.any(np.isfinite(depth)):
        raise LakeDataError("holds no cell under water", path.name, "Check sign, unit and surface")
    se = _error(depth, source_cell_m, lattice.cell_m, options.se_m)
    count = int(np.count_nonzero(np.isfinite(depth)))
    said.append(
        f"{count * lattice.cell_area_m2 / 1e4:.1f} ha of water on {lattice.cell_m:g} m cells, "
        f"{float(np.nanmin(depth)):.1f} to {float(np.nanmax(depth)):.1f} m deep"
    )
    model = BottomModel(
        name, lattice, depth.astype(np.float32), se.astype(np.float32), (path.name,), tuple(said)
    )
    doubts = ("values deeper than any lake were left out",) if np.any(deep) else ()
    return model, ReadReport(path.name, "grid", int(values.size), count, tuple(said), (), doubts)


def _driver(path: Path) -> str:
    """Which reader the content asks for; no other is let loose on it."""
    with path.open("rb") as handle:
        head = handle.read(64).lstrip()
    for driver, starts in _KINDS:
        if head.startswith(starts):
            return driver
    raise LakeDataError(
        "is no GeoTIFF, ASCII grid or NetCDF by its content", path.name, "Export it as GeoTIFF"
    )


def _dataset_name(path: Path, driver: str, options: GridOptions) -> str:
    """Name under which the raster library opens the wanted layer."""
    import rasterio
    from rasterio.errors import NotGeoreferencedWarning

    if driver != "netCDF":
        return str(path)
    with warnings.catch_warnings():
        # The outer file of a NetCDF has no place of its own; its variables have.
        warnings.simplefilter("ignore", NotGeoreferencedWarning)
        outer = rasterio.open(path, driver=driver)
    with outer:
        layers = {str(s).rsplit(":", 1)[-1].strip('"'): str(s) for s in outer.subdatasets}
        if not layers:
            return str(path)
    if options.variable is not None:
        if options.variable not in layers:
            raise LakeDataError(
                f"has no variable '{options.variable[:40]}'", path.name,
                f"Its variables are: {', '.join(list(layers)[:12])}",
            )  # fmt: skip
        return layers[options.variable]
    for wanted in _VARIABLES:
        for layer, full in layers.items():
            if layer.casefold() == wanted:
                return full
    raise LakeDataError(
        "which variable holds the depth cannot be told", path.name,
        f"Name one of: {', '.join(list(layers)[:12])}",
    )  # fmt: skip


def _warped(
    path: Path, driver: str, options: GridOptions, cell_m: float | None, said: list[str]
) -> tuple[FloatArray, Lattice, float]:
    """Values on a lattice in a metric frame around the grid."""
    import rasterio
    from rasterio.errors import RasterioError

    try:
        with rasterio.open(_dataset_name(path, driver, options)) as source:
            if source.width * source.height > MAX_CELLS:
                raise LakeDataError(
                    f"has {source.width:,} x {source.height:,} cells, more than we read",
                    path.name,
                    "Cut out the lake first",
                )
            crs = _crs(source, options, path.name, said)
            units = (source.units or (None,))[0]
            if units and options.depth_unit is None:
                said.append(f"The grid names its unit: {str(units)[:20]}")
            values, lattice, own_cell = _to_lattice(source, crs, cell_m, path.name)
            if units and options.depth_unit is None and str(units).casefold() in DEPTH_UNITS_M:
                values *= DEPTH_UNITS_M[str(units).casefold()]
            return values, lattice, own_cell
    except (RasterioError, ValueError, MemoryError, OSError) as error:
        why = " ".join(str(error).split()).rsplit("/", 1)[-1][:100]
        raise LakeDataError(f"cannot be read as a grid ({why})", path.name) from error


def _crs(source: Any, options: GridOptions, name: str, said: list[str]) -> str:
    if options.crs is not None:
        said.append(f"Frame {options.crs[:40]}, as given")
        return options.crs
    if source.crs is not None:
        said.append(f"Frame {str(source.crs)[:40]}, by the file")
        return str(source.crs.to_wkt())
    left, bottom, right, top = source.bounds
    if -180.0 <= left < right <= 180.0 and -90.0 <= bottom < top <= 90.0:
        said.append("The file names no frame; longitude and latitude on WGS84 are assumed")
        return "EPSG:4326"
    raise LakeDataError(
        "names no frame", Where(name, field="crs"), "Give it, such as --crs EPSG:26915"
    )


def _to_lattice(
    source: Any, crs: str, cell_m: float | None, name: str
) -> tuple[FloatArray, Lattice, float]:
    from rasterio.crs import CRS
    from rasterio.transform import Affine
    from rasterio.warp import Resampling, reproject, transform_bounds

    wanted = CRS.from_user_input(crs)
    west, south, east, north = transform_bounds(wanted, CRS.from_epsg(4326), *source.bounds)
    if not all(map(math.isfinite, (west, south, east, north))):
        raise LakeDataError("does not lie in its frame", Where(name, field="crs"))
    if east < west:
        east += 360.0
    lon0 = (0.5 * (west + east) + 180.0) % 360.0 - 180.0
    frame = MetricFrame(round(lon0, 6), round(0.5 * (south + north), 6))
    bounds = transform_bounds(wanted, CRS.from_string(frame.proj_text), *source.bounds)
    own_cell = math.sqrt(
        abs((bounds[2] - bounds[0]) * (bounds[3] - bounds[1])) / (source.width * source.height)
    )
    area_m2 = abs((bounds[2] - bounds[0]) * (bounds[3] - bounds[1]))
    # Finer than a coarse source, so that its shore is not moved by half a cell of ours.
    cell = cell_m or max(
        min(max(round(own_cell, 2), 2.0), 5.0), math.ceil(math.sqrt(area_m2 / 2e7))
    )
    lattice = Lattice.around(
        frame, np.array([bounds[0], bounds[2]]), np.array([bounds[1], bounds[3]]), cell, cell
    )
    half = 0.5 * cell
    grid = np.full(lattice.shape, np.nan, dtype=np.float64)
    band = source.read(1, masked=True).astype(np.float64).filled(np.nan)
    band[np.abs(band) > 1e5] = np.nan
    place = {
        "src_transform": source.transform,
        "src_crs": wanted,
        "dst_transform": Affine(cell, 0.0, lattice.x0_m - half, 0.0, cell, lattice.y0_m - half),
        "dst_crs": CRS.from_string(frame.proj_text),
    }
    reproject(
        band, grid, src_nodata=np.nan, dst_nodata=np.nan, resampling=Resampling.bilinear, **place
    )
    # Bilinear weights reach half a cell beyond the last known one; the shore stays where it was.
    known = np.zeros(lattice.shape, dtype=np.float64)
    reproject(np.isfinite(band).astype(np.float64), known, resampling=Resampling.bilinear, **place)
    grid[known <= 0.5] = np.nan
    return grid, lattice, own_cell


def _as_depth(values: FloatArray, options: GridOptions, name: str, said: list[str]) -> FloatArray:
    """Depths positive down."""
    if options.depth_unit is not None:
        if options.depth_unit.casefold() not in DEPTH_UNITS_M:
            raise LakeDataError(
                f"'{options.depth_unit[:20]}' is no unit of depth", name, "Use ft or m"
            )
        values = values * DEPTH_UNITS_M[options.depth_unit.casefold()]
        said.append(f"Values are in {options.depth_unit}, as given")
    good = values[np.isfinite(values)]
    if good.size == 0:
        raise LakeDataError("holds no values", name)
    if options.surface_elevation_m is not None:
        said.append(f"Elevations taken from a water surface at {options.surface_elevation_m:.2f} m")
        return np.asarray(options.surface_elevation_m - values)
    nonzero = good[good != 0.0]
    up = float(np.mean(nonzero < 0.0)) > 0.5 if nonzero.size else False
    sign = options.sign or ("up" if up else "down")
    how = "as given" if options.sign else "by most values"
    said.append(f"Values count {'negative' if sign == 'up' else 'positive'} down, {how}")
    return np.asarray(-values if sign == "up" else values)


def _error(
    depth: FloatArray, source_cell_m: float, cell_m: float, se_m: float | None
) -> FloatArray:
    """Error of the survey and of the coarseness of its cells on slopes."""
    if se_m is not None:
        return np.where(np.isfinite(depth), se_m, np.nan)
    filled = np.where(np.isfinite(depth), depth, np.nanmedian(depth))
    slope_y, slope_x = np.gradient(filled, cell_m)
    coarse = EVEN_LAW * source_cell_m * np.minimum(np.hypot(slope_x, slope_y), 1.0)
    return np.where(np.isfinite(depth), np.hypot(survey_se_m(filled), coarse), np.nan)
