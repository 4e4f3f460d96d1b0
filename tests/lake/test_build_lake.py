"""Files of every kind into one lake."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.build_lake import LakeOptions, build_lake, kind_of
from leadsman.lake.demo_lake import (
    EDGE_NAME,
    FRAME,
    LOG_NAME,
    data_folder,
    shore_radius_m,
    true_depth_m,
)
from leadsman.lake.fuse import fuse
from leadsman.output.geotiff import write_geotiff

LOG = data_folder() / LOG_NAME


def shoreline(folder: Path) -> Path:
    angle = np.linspace(0.0, 2.0 * np.pi, 361)
    radius = shore_radius_m(angle)
    lon, lat = FRAME.to_lonlat(radius * np.cos(angle), radius * np.sin(angle))
    ring = np.stack([lon, lat], axis=1)
    ring[-1] = ring[0]
    path = folder / "shore.geojson"
    geometry = {"type": "Polygon", "coordinates": [ring.tolist()]}
    feature = {"type": "Feature", "properties": {"depth_m": 0.0}, "geometry": geometry}
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))
    return path


def test_kinds(tmp_path: Path) -> None:
    assert kind_of(LOG) == "soundings"
    assert kind_of(shoreline(tmp_path)) == "contours"
    with pytest.raises(LakeDataError):
        kind_of(tmp_path / "none.tif")


def test_a_log_and_its_edge_points() -> None:
    build = build_lake("invented", [LOG, data_folder() / EDGE_NAME], LakeOptions(cell_m=10.0))
    assert len(build.reports) == 2
    assert build.validation is not None
    assert not build.shoreline
    x, y = np.array([0.0, 300.0]), np.array([-200.0, 100.0])
    depth, _ = build.model.sample_lonlat(*FRAME.to_lonlat(x, y))
    assert depth == pytest.approx(true_depth_m(x, y), abs=1.0)


def test_a_shoreline_bounds_the_map_and_a_grid_joins_in(tmp_path: Path) -> None:
    options = LakeOptions(cell_m=10.0)
    build = build_lake("invented", [LOG, shoreline(tmp_path)], options)
    assert build.shoreline
    model = build.model
    area_ha = float(np.count_nonzero(np.isfinite(model.depth_m))) * 100.0 / 1e4
    angle = np.linspace(0.0, 2.0 * np.pi, 4001)
    own_ha = float(np.trapezoid(0.5 * shore_radius_m(angle) ** 2, angle)) / 1e4
    assert area_ha == pytest.approx(own_ha, rel=0.02)
    tif = tmp_path / "grid.tif"
    write_geotiff(model, tif)
    assert kind_of(tif) == "grid"
    again = build_lake("invented", [tif, LOG], options)
    x, y = np.meshgrid(again.model.lattice.x_m, again.model.lattice.y_m)
    truth = true_depth_m(*FRAME.to_metric(*again.model.lattice.frame.to_lonlat(x, y)))
    known = np.isfinite(again.model.depth_m) & (truth > 1.0)
    error = again.model.depth_m[known] - truth[known]
    assert float(np.sqrt(np.mean(error**2))) < 0.5


def test_level_is_taken_off() -> None:
    options = LakeOptions(cell_m=10.0)
    base = build_lake("a", [LOG], options).model
    high = build_lake("a", [LOG], LakeOptions(cell_m=10.0, level_m=0.5)).model
    assert np.nanmax(np.abs(base.depth_m - high.depth_m - 0.5)) < 1e-3
    assert fuse([base], "b").name == "b"


def test_real_contours_and_units(shared_data) -> None:
    build = build_lake(
        "real",
        [shared_data("yahara_monona/monona-contours-all.shp")],
        LakeOptions(crs="EPSG:3070", cell_m=20.0),
    )
    assert build.shoreline
    assert build.validation is None
    assert 20.0 < float(np.nanmax(build.model.depth_m)) < 23.0


@pytest.mark.parametrize("count", [0, 60])
def test_number_of_files(count: int) -> None:
    with pytest.raises(LakeDataError, match="1 to 50"):
        build_lake("x", [LOG] * count)


def test_impossible_level() -> None:
    with pytest.raises(LakeDataError, match="level"):
        build_lake("x", [LOG], LakeOptions(level_m=99.0))
