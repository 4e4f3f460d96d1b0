"""Edges of a cone: circles of known radius, slope and length."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from leadsman.dimensions import FOOT_M
from leadsman.errors import InputError
from leadsman.usecases.lake_edge import EdgeQuestion, find_edge
from leadsman.usecases.lake_store import open_lake

from .conftest import DEEPEST_M, FRAME, RADIUS_M

SLOPE = DEEPEST_M / RADIUS_M


def _marks(path: Path, depths_m: list[float], with_depth: bool = True) -> Path:
    rows = ["lat,lon,depth_ft" if with_depth else "lat,lon"]
    for number, depth in enumerate(depths_m):
        angle, radius = 0.7 * number, RADIUS_M * (1.0 - depth / DEEPEST_M)
        lon, lat = FRAME.to_lonlat(radius * math.cos(angle), radius * math.sin(angle))
        cells = [f"{float(lat):.7f}", f"{float(lon):.7f}"]
        rows.append(",".join([*cells, f"{depth / FOOT_M:.2f}"] if with_depth else cells))
    path.write_text("\n".join(rows) + "\n")
    return path


def test_a_depth_is_a_circle(cone_lakes: Path) -> None:
    """Closed form: 2 pi R (1 - d / D), everywhere with the slope D / R."""
    found = find_edge(EdgeQuestion("Cone", cone_lakes, depth_m=5.0))
    radius = RADIUS_M * (1.0 - 5.0 / DEEPEST_M)
    assert found.length_m == pytest.approx(2.0 * math.pi * radius, rel=0.03)
    line = found.lines[0]
    x, y = FRAME.to_metric(*line.lonlat())
    assert np.max(np.abs(np.hypot(x, y) - radius)) < 5.0
    assert np.median(line.slope) == pytest.approx(SLOPE, rel=0.1)
    assert found.kind == "depth"
    assert found.ranked[0].rank == 1
    assert [item.rank for item in found.ranked] == list(range(1, len(found.ranked) + 1))


def test_more_water_moves_the_edge_up_the_bank(cone_lakes: Path) -> None:
    low, high = (
        find_edge(EdgeQuestion("Cone", cone_lakes, depth_m=5.0, level_m=level)).length_m
        for level in (0.0, 1.0)
    )
    grown = (DEEPEST_M - 4.0) / (DEEPEST_M - 5.0)
    assert high / low == pytest.approx(grown, rel=0.02)


def test_marks_make_a_grass_edge_with_a_band(own_lakes: Path, tmp_path: Path) -> None:
    depths = [3.6, 3.9, 4.0, 4.0, 4.1, 4.4]
    marks = _marks(tmp_path / "marks.csv", depths)
    found = find_edge(EdgeQuestion("Cone", own_lakes, marks=marks, keep=True))
    assert found.kind == "grass"
    assert found.depth_m == pytest.approx(4.0, abs=0.02)
    assert found.band_m[0] < 3.8 < 4.2 < found.band_m[1]
    again = find_edge(EdgeQuestion("Cone", own_lakes))
    assert again.grass == found.grass
    # Half a metre more water today: the grass did not move, so it stands deeper below the surface.
    higher = find_edge(EdgeQuestion("Cone", own_lakes, level_m=0.5))
    assert higher.depth_m == pytest.approx(found.depth_m + 0.5)
    assert higher.length_m == pytest.approx(found.length_m, rel=0.01)


def test_marks_without_depths_take_them_from_the_map(cone_lakes: Path, tmp_path: Path) -> None:
    marks = _marks(tmp_path / "bare.csv", [4.0] * 6, with_depth=False)
    found = find_edge(EdgeQuestion("Cone", cone_lakes, marks=marks))
    assert found.depth_m == pytest.approx(4.0, abs=0.2)
    assert any("taken from the map" in note for note in found.notes)


def test_marks_as_way_points(cone_lakes: Path, tmp_path: Path) -> None:
    lon, lat = FRAME.to_lonlat(np.array([200.0, 0.0, -200.0]), np.array([0.0, 200.0, 0.0]))
    points = "".join(
        f'<wpt lat="{b:.7f}" lon="{a:.7f}"><name>edge</name></wpt>'
        for a, b in zip(lon, lat, strict=True)
    )
    path = tmp_path / "marks.gpx"
    path.write_text(f'<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">{points}</gpx>')
    found = find_edge(EdgeQuestion("Cone", cone_lakes, marks=path))
    assert found.depth_m == pytest.approx(DEEPEST_M / 3.0, abs=0.2)


def test_marks_in_feet_taken_as_metres_are_doubted(cone_lakes: Path, tmp_path: Path) -> None:
    path = _marks(tmp_path / "m.csv", [4.0] * 5)
    path.write_text(path.read_text().replace("depth_ft", "depth"))
    with pytest.raises(InputError, match="look like feet"):
        find_edge(EdgeQuestion("Cone", cone_lakes, marks=path))
    right = find_edge(EdgeQuestion("Cone", cone_lakes, marks=path, marks_unit="ft"))
    assert right.depth_m == pytest.approx(4.0, abs=0.02)


def test_marks_of_elsewhere_are_refused(cone_lakes: Path, tmp_path: Path) -> None:
    path = tmp_path / "m.csv"
    path.write_text("lat,lon,depth_ft\n45.0,-91.0,12\n45.1,-91.0,13\n45.1,-91.1,13\n")
    with pytest.raises(InputError, match=r"other way round|none of"):
        find_edge(EdgeQuestion("Cone", cone_lakes, marks=path))


def test_clarity_gives_a_band_and_says_that_it_is_a_guess(cone_lakes: Path) -> None:
    """Secchi 2 m: 3.226 m after Caffrey et al. 2007, 2.777 and 3.241 after Canfield et al. 1985
    and Chambers & Kalff 1985 (both from memory), upper line 5.618 m.
    """
    found = find_edge(EdgeQuestion("Cone", cone_lakes, secchi_m=2.0))
    assert found.band_m == pytest.approx((2.777, 5.618), abs=0.002)
    assert found.band_m[0] < found.depth_m < 3.241
    assert "guess from clarity" in found.headline
    assert any("--marks" in note for note in found.notes)


def test_a_drop_has_the_width_of_the_slope(cone_lakes: Path) -> None:
    """Closed form: 2 m of fall on a slope of D / R take 50 m."""
    found = find_edge(EdgeQuestion("Cone", cone_lakes, drop_m=(4.0, 6.0), units="metric"))
    assert found.ranked
    for item in found.ranked:
        assert item.drop_width_m == pytest.approx(2.0 / SLOPE, abs=6.0)
        assert "within" in item.reason


def test_a_drop_that_is_not_there_is_told(cone_lakes: Path) -> None:
    with pytest.raises(InputError, match="nowhere"):
        find_edge(EdgeQuestion("Cone", cone_lakes, drop_m=(2.0, 11.0)))


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({}, "nothing says where the grass"),
        ({"depth_m": 5.0, "secchi_m": 2.0}, "different edges"),
        ({"depth_m": 40.0}, "the map goes"),
        ({"depth_m": 5.0, "keep": True}, "only a grass edge"),
        ({"secchi_m": 0.001}, "Secchi"),
        ({"drop_m": (6.0, 4.0)}, "lesser depth"),
        ({"depth_m": 5.0, "scale_m": 1e6}, "scale"),
        ({"depth_m": 5.0, "level_m": 99.0}, "level"),
    ],
)
def test_what_cannot_be_followed_is_told(cone_lakes: Path, more: dict, said: str) -> None:
    with pytest.raises(InputError, match=said):
        find_edge(EdgeQuestion("Cone", cone_lakes, **more))


def test_nothing_is_kept_unless_asked(own_lakes: Path) -> None:
    find_edge(EdgeQuestion("Cone", own_lakes, secchi_m=2.0))
    assert open_lake("Cone", own_lakes).record.edge is None
