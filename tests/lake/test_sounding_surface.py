"""Maps from soundings: truth known, error honest, moored boats refused."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import Z_90, BottomModel
from leadsman.lake.contour_surface import lattice_for, model_from_contours
from leadsman.lake.cross_validation import PUBLISHED_RMSE_M
from leadsman.lake.demo_lake import FRAME, LOG_NAME, data_folder, true_depth_m
from leadsman.lake.frame import MetricFrame
from leadsman.lake.load_soundings import load_soundings
from leadsman.lake.read_contours import ContourOptions, read_contours
from leadsman.lake.sounding_surface import (
    lattice_for_soundings,
    model_from_soundings,
)
from leadsman.lake.soundings import Soundings


def test_a_plane_comes_back() -> None:
    frame = MetricFrame(-93.0, 45.0)
    x, y = np.meshgrid(np.arange(-300.0, 301.0, 12.0), np.arange(-200.0, 201.0, 30.0))
    lon, lat = frame.to_lonlat(x.ravel(), y.ravel())
    soundings = Soundings(lon, lat, (6.0 + 0.01 * x + 0.005 * y).ravel(), None, "plane")
    model, _ = model_from_soundings([soundings], "plane")
    at_x, at_y = np.array([3.0, 100.0, -150.0]), np.array([-100.0, 50.0, 111.0])
    lon, lat = frame.to_lonlat(at_x, at_y)
    depth, _ = model.sample_lonlat(lon, lat)
    assert depth == pytest.approx(6.0 + 0.01 * at_x + 0.005 * at_y, abs=0.08)


def test_the_invented_lake_is_mapped_with_an_honest_error() -> None:
    soundings, _ = load_soundings(data_folder() / LOG_NAME)
    model, validation = model_from_soundings([soundings], "invented")
    x, y = np.meshgrid(model.lattice.x_m, model.lattice.y_m)
    truth = true_depth_m(*FRAME.to_metric(*model.lattice.frame.to_lonlat(x, y)))
    known = np.isfinite(model.depth_m) & (truth > 0.0)
    error = (model.depth_m - truth)[known]
    assert np.sqrt(np.mean(error**2)) < 0.45
    assert 0.85 <= np.mean(np.abs(error) <= Z_90 * model.se_m[known]) <= 0.985
    assert 0.85 <= validation.coverage_90 <= 0.95


def practice_day(truth: BottomModel, spacing_m: float, noise_m: float, seed: int) -> Soundings:
    """Lines across the lake as an angler would run them, with noise in depth and place."""
    rng = np.random.default_rng(seed)
    lattice = truth.lattice
    lines = []
    for number, east in enumerate(np.arange(lattice.x_m[0] + 50.0, lattice.x_m[-1], spacing_m)):
        north = np.arange(lattice.y_m[0], lattice.y_m[-1], 5.0)
        lines.append(np.stack([east + 20.0 * np.sin(north / 300.0 + number), north], axis=1))
    xy = np.concatenate(lines)
    depth, _ = truth.sample(xy[:, 0], xy[:, 1])
    wet = np.isfinite(depth) & (depth > 0.8)
    xy = xy[wet] + rng.normal(0.0, 1.5, (int(wet.sum()), 2))
    depth = depth[wet] + rng.normal(0.0, noise_m, int(wet.sum()))
    lon, lat = lattice.frame.to_lonlat(xy[:, 0], xy[:, 1])
    return Soundings(lon, lat, np.maximum(depth, 0.1), None, "practice day")


@pytest.mark.parametrize(("spacing_m", "noise_m"), [(150.0, 0.1), (220.0, 0.25)])
def test_blocked_cross_validation_on_a_real_lake(shared_data, spacing_m, noise_m) -> None:
    """Lake Monona sounded in lines; scale of error from Siljeg 2015 and Curtarelli 2015."""
    regions, _ = read_contours(
        shared_data("yahara_monona/monona-contours-all.shp"), ContourOptions(crs="EPSG:3070")
    )
    truth = model_from_contours(regions, "truth", lattice_for(regions, 10.0))
    soundings = practice_day(truth, spacing_m, noise_m, 4)
    lattice = lattice_for_soundings([soundings], 10.0)
    model, validation = model_from_soundings([soundings], "mapped", lattice)
    assert validation.count > 1000
    assert validation.rmse_m < PUBLISHED_RMSE_M[1]
    assert 0.85 <= validation.coverage_90 <= 0.95
    assert "published surveys" in str(validation)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    at, _ = truth.sample_lonlat(*lattice.frame.to_lonlat(x, y))
    known = np.isfinite(model.depth_m) & np.isfinite(at)
    covered = np.mean(np.abs(model.depth_m - at)[known] <= Z_90 * model.se_m[known])
    assert 0.85 <= covered <= 0.97


def test_real_transects_make_a_map(shared_data) -> None:
    soundings, _ = load_soundings(shared_data("iisd_ela_227/227_LA.csv"))
    model, validation = model_from_soundings(
        [soundings], "small", lattice_for_soundings([soundings], 2.0)
    )
    area_ha = np.count_nonzero(np.isfinite(model.depth_m)) * 4.0 / 1e4
    assert 4.0 < area_ha < 6.5, "the lake has about 5 ha"
    assert 0.85 <= validation.coverage_90 <= 0.95
    assert validation.rmse_m < PUBLISHED_RMSE_M[1]


def test_a_moored_boat_is_refused_honestly(shared_data) -> None:
    soundings, _ = load_soundings(shared_data("gpsd_sounder/sounder.log"))
    with pytest.raises(LakeDataError, match="did not move"):
        model_from_soundings([soundings], "moored")


def test_a_shoreline_is_zero_depth() -> None:
    frame = MetricFrame(-93.0, 45.0)
    x, y = np.meshgrid(np.arange(-100.0, 101.0, 10.0), np.arange(-100.0, 101.0, 10.0))
    lon, lat = frame.to_lonlat(x.ravel(), y.ravel())
    soundings = Soundings(lon, lat, np.full(x.size, 3.0), None, "level")
    lattice = lattice_for_soundings([soundings], 5.0)
    from leadsman.lake.lattice import Lattice

    wide = Lattice(lattice.frame, -200.0, -200.0, 5.0, 81, 81)
    gx, gy = np.meshgrid(wide.x_m, wide.y_m)
    water = np.hypot(gx, gy) < 180.0
    model, _ = model_from_soundings([soundings], "pond", wide, water)
    depth, _ = model.sample(np.array([0.0, 150.0, 176.0]), np.zeros(3))
    assert depth[0] == pytest.approx(3.0, abs=0.1)
    assert depth[0] > depth[1] > depth[2]
    assert depth[2] < 1.0
    assert not np.any(np.isfinite(model.depth_m[~water]))


def test_nothing_and_too_little() -> None:
    with pytest.raises(LakeDataError):
        model_from_soundings([], "x")
    two = Soundings(np.array([-93.0, -93.001]), np.array([45.0, 45.0]), np.array([3.0, 4.0]))
    with pytest.raises(LakeDataError, match="map nothing"):
        model_from_soundings([two], "x")


def test_antimeridian_lake() -> None:
    frame = MetricFrame(180.0, -38.0)
    x, y = np.meshgrid(np.arange(-100.0, 101.0, 10.0), np.arange(-100.0, 101.0, 20.0))
    lon, lat = frame.to_lonlat(x.ravel(), y.ravel())
    model, _ = model_from_soundings([Soundings(lon, lat, np.full(x.size, 4.0), None, "a")], "a")
    assert model.lattice.nx < 60
    assert np.nanmedian(model.depth_m) == pytest.approx(4.0, abs=0.01)


@pytest.mark.slow
def test_a_million_soundings_in_bounds_of_time_and_memory() -> None:
    import resource
    import time

    rng = np.random.default_rng(0)
    frame = MetricFrame(-93.0, 45.0)
    n = 1_000_000
    y = np.repeat(np.arange(-3150.0, 3150.0, 25.0), 4000)[:n]
    x = np.tile(np.linspace(-3150.0, 3150.0, 4000), 260)[:n]
    depth = 10.0 + 3.0 * np.sin(x / 300.0) * np.cos(y / 250.0) + rng.normal(0.0, 0.1, n)
    lon, lat = frame.to_lonlat(x, y)
    start = time.process_time()
    model, _ = model_from_soundings([Soundings(lon, lat, depth, None, "big")], "big")
    assert time.process_time() - start < 20.0
    assert np.count_nonzero(np.isfinite(model.depth_m)) > 1_500_000
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss < 2 * 1024**2
