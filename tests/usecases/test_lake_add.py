"""Files of every kind into one lake, held against cones whose depth is a formula."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from leadsman.dimensions import FOOT_M
from leadsman.errors import InputError
from leadsman.lake.frame import MetricFrame
from leadsman.usecases.lake_store import list_lakes, open_lake

from .conftest import (
    DEEPEST_M,
    FRAME,
    RADIUS_M,
    add,
    cone_depth_m,
    cone_rows,
    told,
    write_cone,
    write_rings,
)


def _depth_at(lake, x: float, y: float, frame: MetricFrame = FRAME, level_m: float = 0.0) -> float:
    lon, lat = frame.to_lonlat(x, y)
    depth, _ = lake.model.sample_lonlat(np.array([float(lon)]), np.array([float(lat)]), level_m)
    return float(depth[0])


def test_areas_deeper_are_those_of_the_cone(cone_lakes: Path) -> None:
    """Closed form: pi R^2 (1 - d / D)^2."""
    model = open_lake("Cone", cone_lakes).model
    for depth in (2.0, 4.0, 6.0, 8.0):
        truth = math.pi * RADIUS_M**2 * (1.0 - depth / DEEPEST_M) ** 2
        assert model.area_deeper_m2(depth) == pytest.approx(truth, rel=0.02), depth


def test_soundings_and_contours_are_fused_and_both_are_told(cone_lakes: Path) -> None:
    record = open_lake("Cone", cone_lakes).record
    assert [file.report.file_format for file in record.files] == ["contours", "csv"]
    assert record.has_shoreline
    assert record.check is not None
    assert record.check.count > 30
    assert record.reference == "full pool"


def test_band_holds_the_truth(cone_lakes: Path) -> None:
    lake = open_lake("Cone", cone_lakes)
    rng = np.random.default_rng(5)
    radius, angle = 280.0 * np.sqrt(rng.uniform(0, 1, 400)), rng.uniform(0, 2 * np.pi, 400)
    lon, lat = FRAME.to_lonlat(radius * np.cos(angle), radius * np.sin(angle))
    depth, se = lake.model.sample_lonlat(lon, lat)
    assert np.all(np.isfinite(depth))
    assert np.mean(np.abs(depth - cone_depth_m(radius)) <= 1.645 * se) >= 0.9


def test_feet_and_metres_give_the_same_lake(tmp_path: Path) -> None:
    metres = write_cone(tmp_path / "m.csv")
    rows = [f"{a:.8f},{b:.8f},{d / FOOT_M:.3f}" for a, b, d in cone_rows()]
    named = tmp_path / "ft.csv"
    named.write_text("\n".join(["lon,lat,depth_ft", *rows]) + "\n")
    bare = tmp_path / "bare.csv"
    bare.write_text("\n".join(["lon,lat,depth", *rows]) + "\n")
    lakes = tmp_path / "lakes"
    deepest = add("m", lakes, metres).max_depth_m
    assert add("ft", lakes, named).max_depth_m == pytest.approx(deepest, abs=0.02)
    assert add("said", lakes, told(bare, depth_unit="ft")).max_depth_m == pytest.approx(
        deepest, abs=0.02
    )
    doubt = add("bare", lakes, bare)
    assert any("feet" in text for text in doubt.record.files[0].report.warnings)


def test_level_of_the_day_is_taken_off(tmp_path: Path) -> None:
    """Soundings of a day with 1 m more water are 1 m deeper than the reference."""
    rows = [f"{a:.8f},{b:.8f},{d + 1.0:.3f}" for a, b, d in cone_rows()]
    high = tmp_path / "high.csv"
    high.write_text("\n".join(["lon,lat,depth_m", *rows]) + "\n")
    report = add("L", tmp_path / "lakes", told(high, level_m=1.0))
    lake = report.lake
    assert _depth_at(lake, 100.0, 0.0) == pytest.approx(float(cone_depth_m(100.0)), abs=0.15)
    assert _depth_at(lake, 100.0, 0.0, level_m=-0.5) == pytest.approx(
        float(cone_depth_m(100.0)) - 0.5, abs=0.15
    )
    assert any("above the reference" in text for text in report.record.files[0].report.said)


def test_bottom_elevations_need_the_surface(tmp_path: Path) -> None:
    rows = [f"{a:.8f},{b:.8f},{257.5 - d:.3f}" for a, b, d in cone_rows()]
    path = tmp_path / "e.csv"
    path.write_text("\n".join(["lon,lat,elevation_m", *rows]) + "\n")
    with pytest.raises(InputError, match="surface"):
        add("E", tmp_path / "lakes", path)
    lake = add("E", tmp_path / "lakes", told(path, surface_elevation_m=257.5)).lake
    assert _depth_at(lake, 0.0, 150.0) == pytest.approx(float(cone_depth_m(150.0)), abs=0.15)


@pytest.mark.parametrize(
    "frame",
    [MetricFrame(180.0, 52.0), MetricFrame(172.0, -44.5), MetricFrame(-72.5, -41.0)],
    ids=["antimeridian", "south-east", "south-west"],
)
def test_anywhere_on_earth(frame: MetricFrame, tmp_path: Path) -> None:
    lake = add("W", tmp_path / "lakes", write_cone(tmp_path / "w.csv", frame)).lake
    for x, y in ((60.0, 20.0), (-60.0, -20.0)):  # both sides of the middle
        assert _depth_at(lake, x, y, frame) == pytest.approx(
            float(cone_depth_m(math.hypot(x, y))), abs=0.2
        )


def test_columns_the_other_way_round_are_said(tmp_path: Path) -> None:
    rows = [f"{b:.8f},{a:.8f},{d:.3f}" for a, b, d in cone_rows()]
    path = tmp_path / "swapped.csv"
    path.write_text("\n".join(["lon,lat,depth_m", *rows]) + "\n")
    report = add("S", tmp_path / "lakes", path)
    assert report.centre_deg == pytest.approx((46.0, -91.0), abs=0.01)
    assert any("other way round" in text for text in report.record.files[0].report.said)


def test_soundings_off_the_water_are_counted(tmp_path: Path) -> None:
    track = write_cone(tmp_path / "t.csv")
    lon, lat = FRAME.to_lonlat(np.arange(320.0, 380.0, 5.0), np.zeros(12))
    more = [f"{a:.8f},{b:.8f},2.0" for a, b in zip(lon, lat, strict=True)]
    track.write_text(track.read_text() + "\n".join(more) + "\n")
    report = add("O", tmp_path / "lakes", write_rings(tmp_path / "r.geojson"), track)
    dropped = {d.reason: d.count for d in report.record.files[1].report.dropped}
    assert dropped["outside the shoreline (off the water)"] == 12


def test_soundings_of_another_lake_are_refused(tmp_path: Path) -> None:
    other = write_cone(tmp_path / "t.csv", MetricFrame(-91.0, 46.02))
    with pytest.raises(InputError, match="outside the lake's shoreline"):
        add("O", tmp_path / "lakes", write_rings(tmp_path / "r.geojson"), other)
    assert list_lakes(tmp_path / "lakes") == ()


def test_a_name_taken_is_refused_then_joined_then_replaced(own_lakes: Path, tmp_path: Path) -> None:
    track = write_cone(tmp_path / "new.csv")
    before = open_lake("Cone", own_lakes).record
    with pytest.raises(InputError, match="already"):
        add("Cone", own_lakes, track)
    joined = add("Cone", own_lakes, track, if_exists="join").record
    assert len(joined.files) == len(before.files) + 1
    assert joined.reference == "full pool"
    replaced = add("Cone", own_lakes, track, if_exists="replace").record
    assert [file.report.source for file in replaced.files] == ["new.csv"]
    with pytest.raises(InputError, match="join"):
        add("Nowhere", own_lakes, track, if_exists="join")


def test_a_moored_boat_maps_nothing(tmp_path: Path) -> None:
    path = tmp_path / "moored.csv"
    path.write_text("lon,lat,depth_m\n" + "-91.0,46.0,2.4\n" * 60)
    with pytest.raises(InputError, match="did not move"):
        add("M", tmp_path / "lakes", path)
    beside = add("M", tmp_path / "lakes", write_rings(tmp_path / "r.geojson"), path)
    assert beside.record.check is None  # the contours alone make the map


def test_nothing_is_changed_when_one_file_is_bad(own_lakes: Path, tmp_path: Path) -> None:
    before = sorted((p.name, p.stat().st_mtime_ns) for p in (own_lakes / "cone").iterdir())
    bad = tmp_path / "bad.tif"
    bad.write_bytes(b"II*\x00 and then nothing")
    with pytest.raises(InputError):
        add("Cone", own_lakes, write_cone(tmp_path / "n.csv"), bad, if_exists="replace")
    after = sorted((p.name, p.stat().st_mtime_ns) for p in (own_lakes / "cone").iterdir())
    assert after == before
