"""GeoTIFFs read back by a general library and by our own reader."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import rasterio

from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.lake.read_grid import read_grid
from leadsman.output.geotiff import NODATA, write_geotiff


def slope() -> BottomModel:
    lattice = Lattice(MetricFrame(-93.0, 45.0), -200.0, -100.0, 5.0, 81, 41)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    depth = (6.0 + 0.01 * x + 0.02 * y).astype("float32")
    depth[:3] = np.nan
    return BottomModel("slope", lattice, depth, np.full(depth.shape, 0.25, "float32"))


def test_bands_places_and_frame(tmp_path: Path) -> None:
    path = tmp_path / "slope.tif"
    write_geotiff(slope(), path, level_m=0.5)
    with rasterio.open(path) as image:
        assert image.count == 2
        assert image.nodata == NODATA
        assert image.descriptions == ("depth", "standard error")
        assert image.units == ("m", "m")
        # North up, and a place in the frame falls on its depth.
        assert image.transform.e < 0.0
        ((depth, se),) = image.sample([(100.0, 50.0)])
        assert depth == pytest.approx(6.5 + 1.0 + 1.0, abs=1e-4)
        assert se == pytest.approx(0.25)
        ((missing, _),) = image.sample([(0.0, -100.0)])
        assert missing == NODATA
        from rasterio.warp import transform

        lon, lat = transform(image.crs, "EPSG:4326", [0.0], [0.0])
        assert (lon[0], lat[0]) == (pytest.approx(-93.0), pytest.approx(45.0))


def test_there_and_back(tmp_path: Path) -> None:
    path = tmp_path / "slope.tif"
    model = slope()
    write_geotiff(model, path)
    again, _ = read_grid(path, "again")
    lon, lat = model.lattice.frame.to_lonlat(np.array([0.0, 120.0]), np.array([20.0, -30.0]))
    depth, _ = again.sample_lonlat(lon, lat)
    assert depth == pytest.approx([6.4, 6.6], abs=0.02)
