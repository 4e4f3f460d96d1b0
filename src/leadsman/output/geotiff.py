"""A bottom model as a GeoTIFF: depth and standard error, north up, in its own metric frame."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.model_file import write_atomically

NODATA = -9999.0


def geotiff_bytes(model: BottomModel, level_m: float = 0.0) -> bytes:
    """Content of a GeoTIFF with two bands.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    level_m : float
        Water level now above the reference, added to the depth [m].

    Returns
    -------
    bytes
        Band 1 is depth, positive down [m]; band 2 its standard error [m];
        -9999 where unknown.
    """
    from rasterio.crs import CRS
    from rasterio.io import MemoryFile
    from rasterio.transform import Affine

    lattice = model.lattice
    half = 0.5 * lattice.cell_m
    # Rows go from north to south in an image.
    place = Affine(
        lattice.cell_m, 0.0, lattice.x0_m - half, 0.0, -lattice.cell_m,
        float(lattice.y_m[-1]) + half,
    )  # fmt: skip
    with MemoryFile() as memory:
        with memory.open(
            driver="GTiff", width=lattice.nx, height=lattice.ny, count=2, dtype="float32",
            crs=CRS.from_string(lattice.frame.proj_text), transform=place, nodata=NODATA,
            compress="deflate", predictor=3, tiled=True,
        ) as out:  # fmt: skip
            layers = (
                (model.depth_m + np.float32(level_m), "depth"),
                (model.se_m, "standard error"),
            )
            for band, (values, what) in enumerate(layers, 1):
                filled = np.where(np.isfinite(values), values, NODATA).astype(np.float32)
                out.write(filled[::-1], band)
                out.set_band_description(band, what)
                out.set_band_unit(band, "m")
            out.update_tags(TITLE=model.name, CAUTION="Not for navigation.")
        return bytes(memory.read())


def write_geotiff(model: BottomModel, path: Path, level_m: float = 0.0) -> None:
    """Write a bottom model as a GeoTIFF, replacing the file in one step.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    path : pathlib.Path
        Where to [-].
    level_m : float
        Water level now above the reference [m].

    Raises
    ------
    LakeDataError
        It cannot be written.
    """
    write_atomically(path, geotiff_bytes(model, level_m))
