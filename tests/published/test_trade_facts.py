"""Facts of the trade, held with archetype lures.

Every fact here is common practice, no source: what anglers tell each other
about typical tackle. An archetype's pull area comes from its size, its dive
angle from one figure of the first fact; everything else is predicted from
those two numbers. Tolerances are stated with each check. The long rod held low
and the cast of 60 to 70 yd are our assumption.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from leadsman.calibrate.depth_test import AssumedTest
from leadsman.calibrate.first_fit import LureFit, first_fit, solve_dive_angle
from leadsman.calibrate.forward import free_max_depth_m
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.cast_flight import cast_length_m
from leadsman.hydro.cast_flight_path import Wind
from leadsman.hydro.cast_flight_thrower import Thrower
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.technique import Technique
from leadsman.hydro.zone import contact_zone
from leadsman.tackle.line import Line, line_properties
from leadsman.tackle.line_materials import MaterialName
from leadsman.tackle.lure import DepthTest, Lure, RatedDepth
from leadsman.tackle.lure_flight import lure_flight_drag_area_m2

FT, YD, IN = 0.3048, 0.9144, 0.0254
LB_N, OZ_KG = 4.4482216152605, 0.028349523125
LIMITS = (0.08, 0.09, 0.10, 0.11, 0.12, 0.13, 0.14, 0.15)


def line(material: MaterialName, pounds: float) -> LineProperties:
    return line_properties(Line("line", material, pounds * LB_N))


def archetype(
    name: str, body: tuple[float, float], lip: tuple[float, float], ounces: float
) -> Lure:
    """A lure by body length and width, lip length and width in inches, and mass."""
    return Lure(
        name, body[0] * IN, lip[0] * IN, lip[1] * IN, ounces * OZ_KG, body_width_m=body[1] * IN
    )


BIG = archetype("biggest deep diver", (3.5, 1.1), (2.1, 1.15), 1.4)
LONG = archetype("smaller deep diver", (2.75, 0.85), (1.55, 0.85), 0.75)
MIDDLE = archetype("middle diver", (2.5, 0.8), (1.2, 0.8), 0.65)
SQUARE = archetype("square-lipped", (2.4, 0.8), (0.5, 0.7), 0.5)

# what the trade tells of each: depth [ft], pound test, cast [yd], rod tip [ft]
TOLD = {
    BIG.name: (25.0, 14.0, 65.0, 1.0),
    LONG.name: (20.0, 10.0, 65.0, 1.0),
    MIDDLE.name: (15.0, 11.0, 60.0, 1.0),
    SQUARE.name: (4.5, 14.0, 45.0, 1.5),
}
LURES = {lure.name: lure for lure in (BIG, LONG, MIDDLE, SQUARE)}


def told_test(name: str) -> tuple[Lure, Technique, LineProperties]:
    depth, pounds, cast, tip = TOLD[name]
    test = DepthTest("nylon", pounds * LB_N, None, cast * YD, tip * FT)
    lure = replace(LURES[name], rated=RatedDepth(depth * FT, depth * FT, test))
    return lure, Technique.steady(cast * YD, tip * FT), line("nylon", pounds)


@pytest.fixture(scope="module")
def fits() -> dict[str, LureFit]:
    return {name: first_fit(told_test(name)[0]) for name in TOLD}


def depth_ft(forces: LureForces, on: LineProperties, way: Technique) -> float:
    return free_max_depth_m(forces, on, way, DragLaw()) / FT


DEEP = (BIG.name, LONG.name, MIDDLE.name)


@pytest.mark.parametrize("name", list(TOLD))
def test_fact_1_geometry_alone_holds_the_told_depth(name: str) -> None:
    """The told depth lies inside the 90 % band that size alone gives, and within 30 % or
    1.5 ft of its middle.
    """
    lure, way, on = told_test(name)
    fit = first_fit(replace(lure, rated=None))
    rng = np.random.default_rng(7)
    depths = []
    for a, b in rng.standard_normal((150, 2)):
        forces = replace(
            fit.forces,
            dive_angle_rad=max(fit.forces.dive_angle_rad + a * fit.dive_angle_sd_rad, 0.0),
            pull_area_m2=fit.forces.pull_area_m2 * np.exp(b * fit.log_pull_area_sd),
        )
        depths.append(depth_ft(forces, on, way))
    low, middle, high = np.quantile(depths, [0.05, 0.5, 0.95])
    told = TOLD[name][0]
    assert low < told < high
    assert abs(middle - told) < max(0.3 * told, 1.5)


def test_fact_1_dive_angles_are_those_of_divers(fits: dict[str, LureFit]) -> None:
    """One told depth each needs a dive angle a plate can have, rising with the lip."""
    angles = np.degrees([fits[name].forces.dive_angle_rad for name in (SQUARE.name, *DEEP[::-1])])
    assert np.all((angles > 3.0) & (angles < 45.0))
    assert np.all(np.diff(angles) > 0.0)


def test_fact_1_a_long_diver_on_the_line_of_the_middle_one(fits: dict[str, LureFit]) -> None:
    """The 20 ft lure stays the deeper one on 12 lb, and the 25 ft one deeper still; the gaps of
    the ladder (5 ft) hold within 2 ft.
    """
    way = Technique.steady(63.0 * YD, 1.0 * FT)
    on = line("nylon", 12.0)
    big, long, middle = (depth_ft(fits[name].forces, on, way) for name in DEEP)
    assert 3.0 < big - long < 7.0
    assert 3.0 < long - middle < 7.0


@pytest.mark.parametrize("name", list(TOLD))
@pytest.mark.parametrize("material", ["nylon", "fluorocarbon", "braid"])
def test_fact_2_heavier_line_runs_shallower(
    fits: dict[str, LureFit], name: str, material: MaterialName
) -> None:
    _, way, _ = told_test(name)
    tests = (20.0, 30.0, 50.0) if material == "braid" else (8.0, 10.0, 12.0, 14.0, 17.0, 20.0)
    depths = [depth_ft(fits[name].forces, line(material, lb), way) for lb in tests]
    assert np.all(np.diff(depths) < 0.0)
    if name in DEEP and material != "braid":  # one size is a fraction of a foot to a foot
        assert np.all(np.abs(np.diff(depths)) < 1.5)


@pytest.mark.parametrize("name", list(TOLD))
@pytest.mark.parametrize("pounds", [8.0, 10.0, 12.0, 14.0, 17.0])
def test_fact_3_fluorocarbon_runs_deeper_at_one_test(
    fits: dict[str, LureFit], name: str, pounds: float
) -> None:
    """By 0.1 to 1.5 ft."""
    _, way, _ = told_test(name)
    gain = depth_ft(fits[name].forces, line("fluorocarbon", pounds), way) - depth_ft(
        fits[name].forces, line("nylon", pounds), way
    )
    assert 0.1 < gain < 1.5


def test_fact_3_most_of_the_gain_is_diameter(fits: dict[str, LureFit]) -> None:
    """The trade says density; for a deep diver most of it is the thinner line."""
    _, way, _ = told_test(LONG.name)
    forces = fits[LONG.name].forces
    nylon, fluoro = line("nylon", 12.0), line("fluorocarbon", 12.0)
    thinner = depth_ft(forces, replace(nylon, diameter_m=fluoro.diameter_m), way)
    denser = depth_ft(forces, replace(nylon, density_kg_m3=fluoro.density_kg_m3), way)
    stiffer = depth_ft(forces, replace(nylon, modulus_pa=fluoro.modulus_pa), way)
    start = depth_ft(forces, nylon, way)
    assert thinner - start > denser - start > 0.0
    assert abs(stiffer - start) < 0.1


@pytest.mark.parametrize("name", list(TOLD))
def test_fact_4_rod_tip(fits: dict[str, LureFit], name: str) -> None:
    """Each foot the tip goes down is a gain, of 0.2 to 2.5 ft for each foot of tip."""
    _, way, on = told_test(name)
    tips = np.array([-4.0, -2.0, 0.0, 2.0, 4.0, 6.0, 8.0])
    depths = [depth_ft(fits[name].forces, on, replace(way, tip_m=tip * FT)) for tip in tips]
    slope = -np.diff(depths) / np.diff(tips)
    assert np.all((slope > 0.2) & (slope < 2.5))


def test_fact_4_low_tip_gets_down_sooner(fits: dict[str, LureFit]) -> None:
    bottom = BottomProfile.flat(10.0 * FT)
    _, way, on = told_test(MIDDLE.name)
    seen = []
    for tip in (-3.0, 0.0, 3.0, 6.0):
        path = retrieve(fits[MIDDLE.name].forces, on, replace(way, tip_m=tip * FT), bottom)
        zone = contact_zone(path, bottom)
        assert zone.first_contact_m is not None and zone.first_contact_s is not None
        seen.append((zone.first_contact_m, zone.first_contact_s))
    assert np.all(np.diff(np.array(seen), axis=0) > 0.0)


@pytest.mark.parametrize("name", list(TOLD))
def test_fact_5_longer_cast(fits: dict[str, LureFit], name: str) -> None:
    """Deeper and longer in the zone; here the last foot of its depth."""
    _, way, on = told_test(name)
    depths, metres = [], []
    for cast in (20.0, 30.0, 40.0, 50.0, 60.0, 70.0):
        path = retrieve(fits[name].forces, on, replace(way, cast_m=cast * YD))
        depths.append(path.max_depth_m)
        deep = path.depth_m > path.max_depth_m - 1.0 * FT
        metres.append(float(np.ptp(path.x_m[deep])))
    assert np.all(np.diff(depths) > 0.0)
    assert np.all(np.diff(metres) > 0.0)


@pytest.fixture(scope="module")
def zone_over_ten_feet(fits: dict[str, LureFit]) -> dict[float, dict[float, float]]:
    """Metres of acceptable contact over a 10 ft flat by limit and free-running depth [ft]."""
    bottom = BottomProfile.flat(10.0 * FT)
    way, on = Technique.steady(60.0 * YD, 1.0 * FT), line("nylon", 11.0)
    ladder = (8.0, 9.0, 10.5, 11.0, 11.5, 12.0, 13.0, 14.0, 15.0, 17.0, 20.0, 22.0)
    by_limit: dict[float, dict[float, float]] = {limit: {} for limit in LIMITS}
    for depth in ladder:
        start = fits[MIDDLE.name if depth < 15.0 else LONG.name].forces
        test = AssumedTest(on, way, 0.1, 0.1, 0.1, ())
        angle, reached = solve_dive_angle(start, test, depth * FT)
        assert reached
        path = retrieve(replace(start, dive_angle_rad=angle), on, way, bottom)
        for limit in LIMITS:
            by_limit[limit][depth] = contact_zone(path, bottom, limit).zone_m
    return by_limit


@pytest.mark.parametrize("limit", LIMITS)
def test_fact_6_a_foot_deeper_than_the_bottom(
    zone_over_ten_feet: dict[float, dict[float, float]], limit: float
) -> None:
    """The best of the ladder free-runs 10.5 to 12.5 ft, the one of 11 ft has at least half of
    the best's metres, and the one of 20 ft less than a third of those of 11 ft.
    """
    zones = zone_over_ten_feet[limit]
    best = max(zones, key=lambda depth: zones[depth])
    assert 10.5 <= best <= 12.5
    assert zones[11.0] >= 0.5 * zones[best]
    assert zones[20.0] < zones[11.0] / 3.0


@pytest.mark.parametrize("limit", LIMITS)
def test_fact_12_what_touches_nothing_comes_last(
    zone_over_ten_feet: dict[float, dict[float, float]], limit: float
) -> None:
    zones = zone_over_ten_feet[limit]
    assert zones[8.0] == zones[9.0] == 0.0
    assert all(zone > 0.0 for depth, zone in zones.items() if depth > 10.0)


def test_fact_7_casts() -> None:
    """A big deep diver on a long rod can fly 60 to 70 yd (the middle of unmeasured anglers,
    within 5 yd either way), a light shallow lure flies less far, and a headwind costs distance.
    """
    thrower = Thrower()
    far = cast_length_m(thrower, BIG.mass_kg, lure_flight_drag_area_m2(BIG), rod_m=2.4)
    assert 55.0 * YD < far.angler_to_lure_m < 75.0 * YD
    light = replace(SQUARE, mass_kg=0.3 * OZ_KG)
    near = cast_length_m(thrower, light.mass_kg, lure_flight_drag_area_m2(light), rod_m=2.0)
    assert near.angler_to_lure_m < 0.85 * far.angler_to_lure_m
    against = cast_length_m(
        thrower, BIG.mass_kg, lure_flight_drag_area_m2(BIG), Wind(ahead_m_s=4.0), 2.4
    )
    assert against.angler_to_lure_m < far.angler_to_lure_m - 2.0


def test_fact_13_square_lips_stay_above_thick_grass(fits: dict[str, LureFit]) -> None:
    """Over grass whose top stands 6 ft down a square-lipped lure runs clear through the whole
    retrieve on a short rod, and every deep diver runs into it.
    """
    on, way = line("nylon", 17.0), Technique.steady(40.0 * YD, 2.0 * FT)
    assert depth_ft(fits[SQUARE.name].forces, on, way) < 6.0
    for name in DEEP:
        assert depth_ft(fits[name].forces, on, way) > 6.0


def test_fact_13_stopping_lifts_a_floating_lure(fits: dict[str, LureFit]) -> None:
    """Stop, and a floating lure rises out of the grass before it goes on."""
    from leadsman.hydro.technique import Step

    on = line("nylon", 17.0)
    forces = replace(fits[SQUARE.name].forces, buoyancy_n=0.03)
    steps = (Step("reel", 8.0, 1.3), Step("stop", 3.0), Step("reel", speed_m_s=1.3))
    path = retrieve(forces, on, Technique(40.0 * YD, 0.6, steps))
    before = np.interp(8.0, path.t_s, path.depth_m)
    after = np.interp(11.0, path.t_s, path.depth_m)
    assert after < before - 0.05
