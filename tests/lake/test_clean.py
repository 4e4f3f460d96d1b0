"""What cannot be true goes, with a count; nothing else does."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.clean import clean
from leadsman.lake.demo_lake import LOG_NAME, data_folder
from leadsman.lake.frame import MetricFrame
from leadsman.lake.read_csv import read_csv
from leadsman.lake.read_nmea import read_nmea
from leadsman.lake.soundings import ReadReport, Soundings

FRAME = MetricFrame(-90.0, 45.0)


def track(depth_m: np.ndarray, spacing_m: float = 5.0, timed: bool = True) -> Soundings:
    n = depth_m.size
    lon, lat = FRAME.to_lonlat(np.arange(n) * spacing_m, np.zeros(n))
    return Soundings(lon, lat, depth_m, 2.0 * np.arange(n) if timed else None, "track")


def cleaned(soundings: Soundings) -> tuple[Soundings, ReadReport]:
    n = len(soundings)
    return clean(soundings, ReadReport("track", "csv", n, n))


def counts(report: ReadReport) -> dict[str, int]:
    return {item.reason: item.count for item in report.dropped}


def test_real_transects_lose_their_six_stray_fixes_and_nothing_else(shared_data) -> None:
    """IISD-ELA, Lake 227: the 6 points near 93.740 W lie 3.5 km from the other 1,033."""
    raw, report = read_csv(shared_data("iisd_ela_227/227_LA.csv"))
    left, report = clean(raw, report)
    assert len(left) == 1033
    assert report.dropped_count == 6
    assert "stray fix" in report.dropped[0].reason
    expected = raw.where(raw.lon_deg > -93.70)
    assert np.array_equal(left.lon_deg, expected.lon_deg)
    assert np.array_equal(left.depth_m, expected.depth_m)


def test_a_moored_boat_maps_nothing_and_says_so(shared_data) -> None:
    left, report = clean(*read_nmea(shared_data("gpsd_sounder/sounder.log")))
    assert len(left) < 10
    assert any("maps nothing" in text for text in report.warnings)


@pytest.mark.parametrize("length", [1, 2, 3])
@pytest.mark.parametrize("spike_m", [-4.0, 6.0])
def test_spikes_go_and_their_neighbours_stay(length: int, spike_m: float) -> None:
    depth = 5.0 + np.sin(np.arange(200) / 15.0)
    depth[100 : 100 + length] += spike_m
    left, report = cleaned(track(depth))
    assert counts(report) == {"depth spike": length}
    assert np.array_equal(left.depth_m, np.delete(depth, range(100, 100 + length)))


@pytest.mark.parametrize("slope_deg", [5.0, 20.0, 40.0])
def test_a_steep_bank_and_a_wall_are_no_spikes(slope_deg: float) -> None:
    x = np.arange(200) * 5.0
    bank = np.clip(2.0 + np.tan(np.radians(slope_deg)) * (x - 400.0), 2.0, 14.0)
    wall = np.where(x < 500.0, 3.0, 12.0)
    for depth in (bank, wall):
        left, report = cleaned(track(depth))
        assert len(left) == 200, report.summary()


def test_a_hump_of_several_soundings_is_kept() -> None:
    x = np.arange(200) * 5.0
    left, _ = cleaned(track(9.0 - 5.0 * np.exp(-(((x - 500.0) / 30.0) ** 2))))
    assert len(left) == 200


def test_zero_depths_amid_deep_water_go_and_a_shore_stays() -> None:
    depth = np.concatenate([np.zeros(3), np.linspace(0.1, 6.0, 97)])
    depth[60:64] = 0.0
    left, report = cleaned(track(depth))
    assert counts(report) == {"zero depth amid deeper water (lost bottom)": 4}
    assert np.count_nonzero(left.depth_m == 0.0) == 3
    assert any("shoreline" in text for text in report.said)


@pytest.mark.parametrize("run", [1, 2, 3])
def test_fixes_that_jump_away_and_back_go(run: int) -> None:
    base = track(np.full(100, 5.0), timed=False)
    lat = base.lat_deg.copy()
    lat[50 : 50 + run] += 0.004
    jumped = Soundings(base.lon_deg, lat, base.depth_m, None, "track")
    left, report = cleaned(jumped)
    assert len(left) == 100 - run, report.summary()
    assert np.ptp(left.lat_deg) < 1e-4


def test_two_far_parts_of_a_lake_are_both_kept() -> None:
    one = track(np.full(400, 5.0))
    lon, lat = FRAME.to_lonlat(np.arange(300) * 5.0, np.full(300, 9000.0))
    both = Soundings(
        np.concatenate([one.lon_deg, lon]),
        np.concatenate([one.lat_deg, lat]),
        np.full(700, 5.0),
        None,
        "two",
    )
    left, report = cleaned(both)
    assert len(left) == 700
    assert any("2 separate groups" in text for text in report.said)


def test_clock_jumps_are_told_and_cost_nothing() -> None:
    base = track(np.full(50, 5.0))
    time_s = base.time_s.copy()
    time_s[20:] -= 3600.0
    time_s[40:] += 7200.0
    left, report = cleaned(Soundings(base.lon_deg, base.lat_deg, base.depth_m, time_s, "t"))
    assert len(left) == 50
    assert any("backward 1 times" in text for text in report.warnings)
    assert any("1 pauses" in text for text in report.said)


def test_a_stuck_position_with_changing_depth_is_flagged() -> None:
    base = track(np.linspace(3.0, 9.0, 60))
    lon = base.lon_deg.copy()
    lon[30:45] = lon[30]
    lat = base.lat_deg.copy()
    lat[30:45] = lat[30]
    left, report = cleaned(Soundings(lon, lat, base.depth_m, base.time_s, "t"))
    assert len(left) == 46
    assert any("position was stuck" in text for text in report.warnings)


def test_antimeridian_does_not_tear_a_track_apart() -> None:
    frame = MetricFrame(180.0, -38.0)
    lon, lat = frame.to_lonlat(np.arange(-50, 50) * 5.0, np.zeros(100))
    assert lon.min() < -179.0 < 179.0 < lon.max()
    left, _ = cleaned(Soundings(lon, lat, np.full(100, 4.0), None, "t"))
    assert len(left) == 100


def test_all_zero_is_refused() -> None:
    with pytest.raises(LakeDataError, match="every depth is zero"):
        cleaned(track(np.zeros(20)))


@pytest.mark.parametrize("n", [1, 2, 5])
def test_few_points_pass(n: int) -> None:
    left, _ = cleaned(track(np.full(n, 3.0)))
    assert len(left) == n


def test_fixes_all_over_the_world_end_in_bounds_of_time() -> None:
    rng = np.random.default_rng(1)
    n = 20_000
    wild = Soundings(rng.uniform(-180, 180, n), rng.uniform(-85, 85, n), np.full(n, 5.0), None, "w")
    left, report = cleaned(wild)
    assert len(left) + report.dropped_count == n


def test_invented_log_loses_what_was_put_into_it() -> None:
    """The generator made 14 spikes, 8 lost bottoms, 9 bad checksums, 5 lost and 2 stray fixes."""
    left, report = clean(*read_nmea(data_folder() / LOG_NAME))
    found = counts(report)
    assert found["wrong checksum"] == 9
    assert found["no bottom in the sentence"] == 8
    assert found["position sentence without a valid fix"] == 5
    assert found["stray fix, off the track and back at once"] == 2
    assert 10 <= found["depth spike"] <= 14
    assert len(left) == report.points_in - 8 - found["depth spike"]
