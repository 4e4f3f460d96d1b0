"""Grids written by a general raster library, read back as bottom models."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import rasterio
from rasterio.transform import from_origin

from leadsman.errors import LakeDataError
from leadsman.lake.read_grid import GridOptions, read_grid

NODATA = -9999.0


def cone(n: int = 60) -> np.ndarray:
    """A cone 8 m deep in the middle, in cells of 10 m; depth 8 (1 - r / 300 m)."""
    at = (np.arange(n) - (n - 1) / 2.0) * 10.0
    x, y = np.meshgrid(at, at)
    depth = 8.0 * (1.0 - np.hypot(x, y) / 280.0)
    return np.where(depth > 0.0, depth, NODATA)


def write(folder: Path, values: np.ndarray, crs: str | None = "EPSG:26915", **extra) -> Path:
    path = folder / "bottom.tif"
    with rasterio.open(
        path, "w", driver="GTiff", width=values.shape[1], height=values.shape[0], count=1,
        dtype="float32", crs=crs, transform=from_origin(500_000.0, 4_983_000.0, 10.0, 10.0),
        nodata=NODATA, **extra,
    ) as out:  # fmt: skip
        out.write(values.astype("float32"), 1)
    return path


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_geotiff(tmp_path: Path, sign: float) -> None:
    values = cone()
    path = write(tmp_path, np.where(values == NODATA, NODATA, sign * values))
    model, report = read_grid(path, "cone")
    # Centre of the cone: column and row 29.5, so 300 m east and 300 m south of the corner.
    from pyproj import Transformer

    to_deg = Transformer.from_crs("EPSG:26915", "EPSG:4326", always_xy=True)
    for east, depth in ((0.0, 8.0), (140.0, 4.0)):
        lon, lat = to_deg.transform(500_300.0 + east, 4_982_700.0)
        found, se = model.sample_lonlat(np.array([lon]), np.array([lat]))
        assert found[0] == pytest.approx(depth, abs=0.25)
        assert 0.2 < se[0] < 1.0
    # Volume of a cone of radius 280 m: pi r^2 h / 3; area pi r^2.
    assert model.area_deeper_m2(0.0) == pytest.approx(np.pi * 280.0**2, rel=0.02)
    assert model.area_deeper_m2(4.0) == pytest.approx(np.pi * 140.0**2, rel=0.02)
    assert any("down" in said for said in report.said)


def test_elevations_and_feet(tmp_path: Path) -> None:
    values = cone()
    path = write(tmp_path, np.where(values == NODATA, NODATA, 259.0 - values))
    model, _ = read_grid(path, "cone", GridOptions(surface_elevation_m=259.0))
    assert float(np.nanmax(model.depth_m)) == pytest.approx(8.0, abs=0.3)
    path = write(tmp_path, np.where(values == NODATA, NODATA, values / 0.3048))
    model, _ = read_grid(path, "cone", GridOptions(depth_unit="ft"))
    assert float(np.nanmax(model.depth_m)) == pytest.approx(8.0, abs=0.3)


def test_ascii_grid_needs_its_frame(tmp_path: Path) -> None:
    values = cone(30)
    rows = "\n".join(" ".join(f"{v:.3f}" for v in row) for row in values)
    path = tmp_path / "bottom.asc"
    path.write_text(
        "ncols 30\nnrows 30\nxllcorner 500000\nyllcorner 4980000\ncellsize 10\n"
        f"NODATA_value -9999\n{rows}\n"
    )
    with pytest.raises(LakeDataError, match="names no frame"):
        read_grid(path, "cone")
    model, _ = read_grid(path, "cone", GridOptions(crs="EPSG:26915"))
    assert float(np.nanmax(model.depth_m)) == pytest.approx(float(values.max()), abs=0.3)


def test_netcdf(tmp_path: Path) -> None:
    netcdf = pytest.importorskip("netCDF4")
    path = tmp_path / "bottom.nc"
    with netcdf.Dataset(path, "w") as out:
        out.createDimension("lat", 40)
        out.createDimension("lon", 40)
        lat = out.createVariable("lat", "f8", ("lat",))
        lon = out.createVariable("lon", "f8", ("lon",))
        lat[:] = 45.0 + 0.0001 * np.arange(40)
        lat.units, lat.standard_name = "degrees_north", "latitude"
        lon[:] = -93.0 + 0.0001 * np.arange(40)
        lon.units, lon.standard_name = "degrees_east", "longitude"
        out.createVariable("quality", "f4", ("lat", "lon"))[:] = 1.0
        out.createVariable("depth", "f4", ("lat", "lon"))[:] = 5.0 + 0.01 * np.arange(40)[:, None]
    model, _ = read_grid(path, "n")
    found, _ = model.sample_lonlat(np.array([-92.998]), np.array([45.002]))
    assert found[0] == pytest.approx(5.2, abs=0.02)
    with pytest.raises(LakeDataError, match="no variable"):
        read_grid(path, "n", GridOptions(variable="nothing"))


def test_antimeridian_and_south(tmp_path: Path) -> None:
    path = tmp_path / "bottom.tif"
    values = np.full((20, 20), 5.0, "float32")
    with rasterio.open(
        path, "w", driver="GTiff", width=20, height=20, count=1, dtype="float32",
        crs="EPSG:2193", transform=from_origin(1_800_000.0, 5_700_000.0, 10.0, 10.0),
    ) as out:  # fmt: skip
        out.write(values, 1)
    model, _ = read_grid(path, "south")
    assert model.lattice.frame.lat0_deg < -38.0
    assert np.nanmedian(model.depth_m) == pytest.approx(5.0)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"II*\x00" + b"\x00" * 50, "cannot be read"),
        (
            b"ncols 9999999\nnrows 9999999\nxllcorner 0\nyllcorner 0\ncellsize 1e-9\n1 2\n",
            "more than|cannot",
        ),
        (b"CDF\x01 nonsense", "cannot be read"),
        (b"\x89HDF\r\n\x1a\n nonsense", "cannot be read"),
        (b"hello", "no GeoTIFF"),
        (b"", "empty"),
    ],
)
def test_damaged_files(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "bad.tif"
    path.write_bytes(content)
    with pytest.raises(LakeDataError, match=words):
        read_grid(path, "bad")


def test_grids_of_no_use(tmp_path: Path) -> None:
    with pytest.raises(LakeDataError, match="names no frame"):
        read_grid(write(tmp_path, cone(), crs=None), "x")
    with pytest.raises(LakeDataError, match=r"no values|no cell under water"):
        read_grid(write(tmp_path, np.full((20, 20), NODATA)), "x")
    with pytest.raises(LakeDataError, match="no cell under water"):
        read_grid(write(tmp_path, np.full((20, 20), 1e4)), "x")


def test_a_small_file_with_a_huge_grid_is_refused_before_it_is_unpacked(tmp_path: Path) -> None:
    path = tmp_path / "bomb.tif"
    with rasterio.open(
        path, "w", driver="GTiff", width=200_000, height=200_000, count=1, dtype="uint8",
        crs="EPSG:26915", transform=from_origin(500_000.0, 4_983_000.0, 1.0, 1.0),
        compress="deflate", sparse_ok=True, tiled=True, BIGTIFF="YES",
    ):  # fmt: skip
        pass
    with pytest.raises(LakeDataError, match="more than we read"):
        read_grid(path, "bomb")
