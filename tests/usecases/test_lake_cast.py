"""The bottom under a cast on a cone: a straight line down the slope."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from leadsman.errors import InputError
from leadsman.lake.grass_edge import edge_from_points
from leadsman.usecases.lake_cast import cast_on_lake, grass_on_cast
from leadsman.usecases.lake_store import keep_edge, open_lake
from leadsman.usecases.questions import BottomQuestion, GrassQuestion, LakeCastQuestion
from leadsman.usecases.resolve_bottom import resolve_bottom

from .conftest import DEEPEST_M, FRAME, RADIUS_M, cone_depth_m


def _place(x: float, y: float) -> tuple[float, float]:
    lon, lat = FRAME.to_lonlat(x, y)
    return float(lat), float(lon)


@pytest.mark.parametrize("heading", [0.0, 90.0, 225.0, -90.0])
def test_depth_along_any_heading(cone_lakes: Path, heading: float) -> None:
    lat, lon = _place(80.0, 60.0)
    cast = cast_on_lake(open_lake("Cone", cone_lakes), lat, lon, heading, 50.0)
    x = 80.0 + cast.bottom.x_m * math.sin(math.radians(heading))
    y = 60.0 + cast.bottom.x_m * math.cos(math.radians(heading))
    truth = cone_depth_m(np.hypot(x, y))
    assert cast.bottom.depth_se_m is not None
    assert np.max(np.abs(cast.bottom.depth_m - truth)) < 0.3
    assert np.all(np.abs(cast.bottom.depth_m - truth) < 2.0 * cast.bottom.depth_se_m)


def test_level_adds_to_every_depth(cone_lakes: Path) -> None:
    lake, place = open_lake("Cone", cone_lakes), _place(100.0, 0.0)
    low = cast_on_lake(lake, *place, 0.0, 40.0)
    high = cast_on_lake(lake, *place, 0.0, 40.0, level_m=0.6)
    np.testing.assert_allclose(high.bottom.depth_m - low.bottom.depth_m, 0.6, atol=1e-9)


def test_grass_stands_where_the_edge_lets_it(own_lakes: Path) -> None:
    """From 200 m out toward the middle the cone reaches 5 m at a radius of 175 m: 25 m out."""
    lake = keep_edge(open_lake("Cone", own_lakes), edge_from_points(np.full(9, 5.0)))
    cast = cast_on_lake(lake, *_place(200.0, 0.0), 270.0, 60.0)
    assert cast.grass_from_m == pytest.approx([0.0])
    assert cast.grass_to_m == pytest.approx([200.0 - RADIUS_M * (1.0 - 5.0 / DEEPEST_M)], abs=5.0)
    grass = grass_on_cast(cast, 3.0, 0.5)
    assert grass is not None
    inside = grass.x_m < cast.grass_to_m[0]
    assert np.all(grass.density[inside] == 0.5)
    assert grass.density[-1] == 0.0
    deeper = cast_on_lake(lake, *_place(100.0, 0.0), 270.0, 60.0)
    assert grass_on_cast(deeper, 3.0, 0.5) is None


def test_the_questions_use_it(own_lakes: Path) -> None:
    keep_edge(open_lake("Cone", own_lakes), edge_from_points(np.full(9, 5.0)))
    lat, lon = _place(200.0, 0.0)
    where = LakeCastQuestion("Cone", lat, lon, 270.0, own_lakes)
    plain = resolve_bottom(BottomQuestion(lake=where), 60.0)
    assert plain.bottom is not None
    assert plain.bottom.grass is not None
    assert any("assumed from the edge" in note for note in plain.notes)
    grassy = resolve_bottom(BottomQuestion(lake=where, grass=GrassQuestion(3.0, 0.4)), 60.0)
    assert grassy.bottom is not None
    assert grassy.bottom.grass is not None
    assert grassy.bottom.grass.density[-1] == 0.0
    told = GrassQuestion(3.0, 0.4, 0.0, 60.0)
    everywhere = resolve_bottom(BottomQuestion(lake=where, grass=told), 60.0)
    assert everywhere.bottom is not None
    assert everywhere.bottom.grass is not None
    assert everywhere.bottom.grass.density[1] == pytest.approx(0.4)


def test_off_the_map_is_told_with_the_distance(cone_lakes: Path) -> None:
    lake = open_lake("Cone", cone_lakes)
    with pytest.raises(InputError, match=r"leaves the (mapped )?water [45]\d m out"):
        cast_on_lake(lake, *_place(250.0, 0.0), 90.0, 100.0)
    with pytest.raises(InputError, match="latitude comes first"):
        cast_on_lake(lake, -91.0 + 100.0, 46.0, 0.0, 50.0)
    with pytest.raises(InputError, match="outside 1 to 200 m"):
        cast_on_lake(lake, *_place(0.0, 0.0), 0.0, 500.0)
    with pytest.raises(InputError, match="numbers"):
        cast_on_lake(lake, *_place(0.0, 0.0), float("nan"), 50.0)


def test_low_water_leaves_the_shallows_dry(cone_lakes: Path) -> None:
    lake = open_lake("Cone", cone_lakes)
    with pytest.raises(InputError, match="leaves the water"):
        cast_on_lake(lake, *_place(200.0, 0.0), 90.0, 60.0, level_m=-3.0)


def test_two_bottoms_are_one_too_many() -> None:
    where = LakeCastQuestion("Cone", 46.0, -91.0, 0.0)
    with pytest.raises(InputError, match="given twice"):
        BottomQuestion(depths="10 ft", lake=where)
