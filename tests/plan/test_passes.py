"""Passes on invented lakes: fact 8 of the trade, time, wind, and what cannot be done."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from pass_cases import FloatArray, model_of, setup, slope, straight

from leadsman.errors import PlanError
from leadsman.plan.passes import PassPlanner
from leadsman.plan.passes_settings import BoatLimits, PassSettings, WindOnCasts
from leadsman.plan.passes_types import EdgeStretch, GrassStand, PassPlan

HOLD = PassSettings(boat="hold")


@pytest.fixture(scope="module")
def planner() -> PassPlanner:
    return PassPlanner(model_of(slope), setup(), HOLD)


@pytest.fixture(scope="module")
def plan(planner: PassPlanner) -> PassPlan:
    return planner.plan(straight())


def off_edge_deg(heading_deg: float) -> float:
    """Angle between a heading and the edge of `slope`, which runs east and west [deg]."""
    return abs((heading_deg - 90.0 + 90.0) % 180.0 - 90.0)


def test_the_boat_stays_outside_and_casts_along_the_edge(plan: PassPlan) -> None:
    """Fact 8 of the trade (common practice, no source): outside the grass, parallel to it."""
    assert plan.stops
    for stop in plan.stops:
        assert stop.y_m < 0.0  # deep water lies to the south
        for cast in stop.casts:
            assert off_edge_deg(cast.heading_deg) <= 25.0


def test_parallel_casts_beat_square_ones(planner: PassPlanner, plan: PassPlan) -> None:
    """Fact 8: casts along the edge put more of it in the zone than casts across it."""
    from leadsman.plan.passes_candidates import boat_places
    from leadsman.plan.passes_cells import cells_of

    stretch = straight()
    places = boat_places(planner.model, stretch, planner.settings, 40.0)
    across = planner._across(stretch, places, cells_of(stretch))
    best = max(cast.new_edge_m for stop in plan.stops for cast in stop.casts)
    assert across is not None
    assert best > 1.5 * across


def test_numbers_hang_together(plan: PassPlan) -> None:
    casts = [cast for stop in plan.stops for cast in stop.casts]
    assert sum(cast.new_edge_m for cast in casts) == pytest.approx(plan.covered_m, rel=1e-6)
    assert plan.covered_m <= plan.bound_m + 1e-9
    assert plan.covered_m <= plan.stretch.length_m
    assert plan.zone_m >= plan.covered_m - 1e-6
    assert plan.zone_per_hour_m == pytest.approx(plan.covered_m / plan.minutes * 60.0)
    assert sum(cast.seconds for cast in casts) < plan.minutes * 60.0
    for stop in plan.stops:
        for cast in stop.casts:
            reach = math.hypot(cast.end_x_m - stop.x_m, cast.end_y_m - stop.y_m)
            assert reach == pytest.approx(cast.cast_m + HOLD.rod_reach_m)


def test_positions_on_the_map_are_those_in_the_frame(plan: PassPlan, planner: PassPlanner) -> None:
    frame = planner.model.lattice.frame
    for stop in plan.stops:
        x, y = frame.to_metric(stop.lon_deg, stop.lat_deg)
        assert (float(x), float(y)) == pytest.approx((stop.x_m, stop.y_m), abs=0.01)


def test_a_time_is_kept(planner: PassPlanner) -> None:
    short = PassPlanner(planner.model, planner.setup, replace(HOLD, minutes=8.0))
    short._tables = planner._tables
    assert short.plan(straight()).minutes <= 8.0 + 1e-9


def test_more_time_covers_more(planner: PassPlanner) -> None:
    covered = []
    for minutes in (6.0, 12.0, 24.0):
        one = PassPlanner(planner.model, planner.setup, replace(HOLD, minutes=minutes))
        one._tables = planner._tables
        covered.append(one.plan(straight()).covered_m)
    assert covered[0] < covered[1] < covered[2]


def test_a_headwind_is_avoided_where_it_can_be(planner: PassPlanner) -> None:
    """Wind from the east: with casts as good both ways, those down the wind are made."""
    off = np.linspace(0.0, math.pi, 5)
    wind = WindOnCasts(math.radians(90.0), 5.0, off, np.linspace(36.0, 48.0, 5))
    windy = PassPlanner(planner.model, planner.setup, replace(HOLD, wind=wind, minutes=10.0))
    found = windy.plan(straight())
    headings = [cast.heading_deg for stop in found.stops for cast in stop.casts]
    down = sum(math.cos(math.radians(h - 270.0)) > 0.0 for h in headings)
    assert down > 0.6 * len(headings)
    assert any("wind" in reason for reason in found.reasons)
    lengths = {round(c.cast_m) for s in found.stops for c in s.casts}
    assert lengths <= {36, 40, 44, 48}


def test_works_into_the_wind(planner: PassPlanner) -> None:
    off = np.linspace(0.0, math.pi, 5)
    for from_deg, sign in ((90.0, 1.0), (270.0, -1.0)):
        wind = WindOnCasts(math.radians(from_deg), 5.0, off, np.full(5, 44.0))
        windy = PassPlanner(planner.model, planner.setup, replace(HOLD, wind=wind, minutes=12.0))
        along = [stop.x_m for stop in windy.plan(straight()).stops]
        assert sign * (along[-1] - along[0]) > 0.0


def test_a_boat_that_creeps_goes_one_way_and_casts_ahead(planner: PassPlanner) -> None:
    creeping = PassPlanner(planner.model, planner.setup, replace(HOLD, boat="creep"))
    found = creeping.plan(straight())
    assert found.boat == "creep"
    assert found.boat_m_s > 0.0
    x = np.array([stop.x_m for stop in found.stops])
    way = np.sign(np.diff(x))
    assert np.all(way == way[0])
    for stop in found.stops:
        for cast in stop.casts:
            assert (cast.end_x_m - stop.x_m) * way[0] > 0.0


def test_a_point_is_fished_on_both_sides() -> None:
    """Around a point the casts follow its two flanks."""

    def point(x: FloatArray, y: FloatArray) -> FloatArray:
        return slope(x, y - 40.0 + 0.8 * np.abs(x))

    x = np.arange(-70.0, 71.0, 5.0)
    line = 40.0 - 0.8 * np.abs(x)
    nx, ny = np.sign(x + 1e-9) * -0.62 * -1.0, np.full(x.size, -0.78)
    stretch = EdgeStretch("point", x, line, nx, ny, np.full(x.size, 0.8), 3.7)
    found = PassPlanner(model_of(point), setup(26.0, cast_m=40.0), HOLD).plan(stretch)
    sides = {np.sign(stop.x_m) for stop in found.stops}
    assert sides >= {-1.0, 1.0}


def test_a_flat_is_fanned(planner: PassPlanner) -> None:
    flat = PassPlanner(model_of(lambda x, y: 3.6 + 0.0 * x), setup(), replace(HOLD, minutes=15.0))
    found = flat.plan(straight(kind="flat", half_width_m=20.0))
    headings = {round(cast.heading_deg / 15.0) for stop in found.stops for cast in stop.casts}
    assert len(headings) >= 4
    assert found.covered_m > 0.0


def test_grass_fouls_and_says_so(planner: PassPlanner) -> None:
    with_grass = PassPlanner(planner.model, planner.setup, replace(HOLD, minutes=10.0))
    with_grass._tables = planner._tables
    found = with_grass.plan(straight(grass=GrassStand(3.7, 0.3, 0.6, 0.4)))
    assert any(cast.foul_chance > 0.0 for stop in found.stops for cast in stop.casts)
    assert any("assumption" in reason for reason in found.reasons)


def test_a_stretch_shorter_than_a_cast_is_planned_and_says_so(planner: PassPlanner) -> None:
    found = planner.plan(straight(length_m=20.0))
    assert any("shorter than a cast" in reason for reason in found.reasons)


def test_no_safe_water_names_the_nearest() -> None:
    deep_boat = replace(HOLD, limits=BoatLimits(least_depth_m=6.3, shore_m=5.0))
    with pytest.raises(PlanError, match=r"The nearest such water lies \d+ yd outside"):
        PassPlanner(model_of(slope), setup(), deep_boat).plan(straight())
    wide = replace(HOLD, limits=BoatLimits(least_depth_m=30.0))
    with pytest.raises(PlanError, match="allow less water"):
        PassPlanner(model_of(slope), setup(), wide).plan(straight())


def test_a_lure_that_does_not_reach_says_how_far_it_is_short() -> None:
    with pytest.raises(PlanError, match=r"short of the bottom.*fish above") as caught:
        PassPlanner(model_of(slope), setup(angle_deg=8.0), HOLD).plan(straight())
    assert "thinner line" in caught.value.message


def test_a_lure_that_only_plows_is_refused() -> None:
    shallow = model_of(lambda x, y: 1.9 + 0.0 * x)
    stretch = replace(straight(), depth_m=1.9)
    wanted = replace(HOLD, limits=BoatLimits(least_depth_m=1.0), limit_load=0.01)
    with pytest.raises(PlanError, match="does not ride this stretch lightly"):
        PassPlanner(shallow, setup(angle_deg=40.0, tip_m=-1.0), wanted).plan(stretch)


def test_too_little_time_says_how_much_it_takes(planner: PassPlanner) -> None:
    hurried = PassPlanner(planner.model, planner.setup, replace(HOLD, minutes=0.5))
    hurried._tables = planner._tables
    with pytest.raises(PlanError, match="Allow 2 minutes"):
        hurried.plan(straight())
