"""The bottom under a cast, against an analytic bottom and real transects."""

from __future__ import annotations

import math

import numpy as np
import pytest
from pyproj import Geod

from leadsman.errors import LakeDataError
from leadsman.lake.cast_profile import profile_from_list, profile_from_soundings
from leadsman.lake.demo_lake import (
    FRAME,
    GRASS_EDGE_M,
    LOG_NAME,
    contour_radius_m,
    data_folder,
    true_depth_m,
)
from leadsman.lake.frame import MetricFrame
from leadsman.lake.load_soundings import load_soundings
from leadsman.lake.soundings import Soundings


@pytest.fixture(scope="module")
def demo() -> Soundings:
    return load_soundings(data_folder() / LOG_NAME)[0]


def inclined(frame: MetricFrame) -> Soundings:
    """A plane: 4 m at the centre, 5 cm deeper each metre north, 1 cm each metre east."""
    x, y = np.meshgrid(np.arange(-100.0, 101.0, 8.0), np.arange(-60.0, 101.0, 8.0))
    lon, lat = frame.to_lonlat(x.ravel(), y.ravel())
    return Soundings(lon, lat, (4.0 + 0.05 * y + 0.01 * x).ravel(), None, "plane")


@pytest.mark.parametrize(("lon", "lat"), [(-93.0, 45.0), (180.0, -38.0), (10.0, -65.0)])
@pytest.mark.parametrize(("heading", "slope"), [(0.0, 0.05), (90.0, 0.01), (180.0, -0.05)])
def test_an_inclined_plane(lon: float, lat: float, heading: float, slope: float) -> None:
    frame = MetricFrame(lon, lat)
    cast = profile_from_soundings(inclined(frame), lat, lon, heading, 50.0)
    assert cast.bottom.depth_m == pytest.approx(4.0 + slope * cast.bottom.x_m, abs=0.03)
    assert cast.bottom.x_m[0] == 0.0
    assert cast.bottom.x_m[-1] == 50.0
    assert np.all(cast.bottom.depth_se_m > 0.2), "the survey's own error is part of it"


def test_level_shifts_the_whole_profile() -> None:
    frame = MetricFrame(-93.0, 45.0)
    low = profile_from_soundings(inclined(frame), 45.0, -93.0, 30.0, 40.0)
    high = profile_from_soundings(inclined(frame), 45.0, -93.0, 30.0, 40.0, level_m=0.5)
    assert high.bottom.depth_m - low.bottom.depth_m == pytest.approx(np.full(41, 0.5))


def test_casts_over_a_known_lake_hold_the_truth(demo: Soundings) -> None:
    """90 % bands around casts along the edge, where the track zigzags, against the formula."""
    rng = np.random.default_rng(8)
    inside = total = 0
    geod = Geod(ellps="WGS84")
    for angle in rng.uniform(0.0, 2.0 * math.pi, 40):
        radius = float(contour_radius_m(np.array([angle]), GRASS_EDGE_M)[0]) - 8.0
        lon, lat = FRAME.to_lonlat(radius * math.cos(angle), radius * math.sin(angle))
        heading = float(math.degrees(math.atan2(-math.sin(angle), math.cos(angle))) % 360.0)
        try:
            cast = profile_from_soundings(demo, float(lat), float(lon), heading, 30.0)
        except LakeDataError:
            continue
        n = cast.bottom.x_m.size
        lons, lats, _ = geod.fwd([lon] * n, [lat] * n, [heading] * n, list(cast.bottom.x_m))
        truth = true_depth_m(*FRAME.to_metric(np.array(lons), np.array(lats)))
        inside += np.count_nonzero(
            np.abs(truth - cast.bottom.depth_m) <= 1.645 * cast.bottom.depth_se_m
        )
        total += n
    assert total > 500
    assert inside / total >= 0.85


def test_a_cast_off_the_soundings_is_refused_with_the_distance() -> None:
    frame = MetricFrame(-93.0, 45.0)
    soundings = inclined(frame)
    # The plane is sounded to 60 m south (last row at -60); a cast of 100 m leaves it.
    with pytest.raises(LakeDataError, match=r"leaves the soundings (6\d|7\d) m out"):
        profile_from_soundings(soundings, 45.0, -93.0, 180.0, 100.0)
    with pytest.raises(LakeDataError, match="no soundings lie within"):
        profile_from_soundings(soundings, 45.1, -93.0, 180.0, 50.0)


def test_a_cast_onto_the_shore_is_refused() -> None:
    frame = MetricFrame(-93.0, 45.0)
    base = inclined(frame)
    beach = Soundings(base.lon_deg, base.lat_deg, np.maximum(base.depth_m - 3.0, 0.0), None, "b")
    with pytest.raises(LakeDataError, match=r"leaves the water \d+ m out"):
        profile_from_soundings(beach, 45.0, -93.0, 180.0, 55.0, level_m=-0.3)


def test_real_transects(shared_data) -> None:
    soundings, _ = load_soundings(shared_data("iisd_ela_227/227_LA.csv"))
    cast = profile_from_soundings(soundings, 49.6879, -93.6885, 60.0, 50.0)
    # Every sounding within 3 m of the cast lies within the profile's 99 % band and noise.
    frame = MetricFrame(-93.6885, 49.6879)
    x, y = frame.to_metric(soundings.lon_deg, soundings.lat_deg)
    along = x * math.sin(math.radians(60.0)) + y * math.cos(math.radians(60.0))
    beside = np.abs(x * math.cos(math.radians(60.0)) - y * math.sin(math.radians(60.0)))
    near = (beside < 3.0) & (along > 0.0) & (along < 50.0)
    assert np.count_nonzero(near) > 5
    misfit = soundings.depth_m[near] - cast.bottom.depth_at(along[near])
    assert np.all(np.abs(misfit) < 2.58 * np.max(cast.bottom.depth_se_m) + 0.3)
    with pytest.raises(LakeDataError, match="leaves the soundings"):
        profile_from_soundings(soundings, 49.6879, -93.6885, 150.0, 200.0)


@pytest.mark.parametrize(
    ("lat", "lon", "heading", "length"),
    [
        (float("nan"), 0.0, 0.0, 50.0),
        (95.0, 0.0, 0.0, 50.0),
        (45.0, -93.0, 999.0, 50.0),
        (45.0, -93.0, 0.0, 0.0),
        (45.0, -93.0, 0.0, 1e9),
    ],
)
def test_impossible_casts(lat: float, lon: float, heading: float, length: float) -> None:
    with pytest.raises(LakeDataError):
        profile_from_soundings(inclined(MetricFrame(-93.0, 45.0)), lat, lon, heading, length)


def test_depth_list_evenly_spaced() -> None:
    bottom = profile_from_list("8,9,10,12 ft", 60.0)
    assert bottom.x_m == pytest.approx([0.0, 20.0, 40.0, 60.0])
    assert bottom.depth_m == pytest.approx(np.array([8.0, 9.0, 10.0, 12.0]) * 0.3048)


def test_depth_list_as_pairs() -> None:
    bottom = profile_from_list("0 yd: 8 ft, 30 yd: 10 ft", 60.0)
    assert bottom.x_m == pytest.approx([0.0, 27.432])
    assert bottom.depth_m == pytest.approx([2.4384, 3.048])


def test_one_depth_is_a_level_bottom() -> None:
    assert profile_from_list("10 ft", 60.0).depth_at(33.0) == pytest.approx(3.048)
    assert profile_from_list("3", 60.0, "m").depth_at(33.0) == pytest.approx(3.0)


@pytest.mark.parametrize(
    "text", ["", ",,", "8,9", "8 ft, nonsense", "0:8 ft, 10", "10 m:3 m, 5 m:4 m", "-3 m",
             "9999 ft", "1 m," * 600]
)  # fmt: skip
def test_lists_of_no_use(text: str) -> None:
    with pytest.raises(LakeDataError):
        profile_from_list(text, 60.0)
