"""Levers against the project's own orientation table and the signs the trade knows."""

from __future__ import annotations

import math

import pytest

from leadsman.errors import PlanError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.plan.candidates import Candidate, LineOption, LureOption
from leadsman.plan.levers import Lever, LeverSetup, LeverSteps, LeverTable, levers
from leadsman.plan.match_types import MatchRequest
from leadsman.plan.tip_schedule import TipSchedule

FT_M = 0.3048

# Archetype: delta 33 deg, S_D 20 cm2, 55 m cast, tip 0.6 m up, 0.31 mm fluorocarbon. The depths
# used below come from a crude explicit solver of the design trial, good to 1 or 2 %.
LURE = LureOption("long lip", LureForces(math.radians(33.0), 20e-4, 0.020))
FLUOROCARBON = LineOption("12 lb fluorocarbon", LineProperties(0.31e-3, 1780.0, 2.2e9), 53.4)
NYLON = LineOption("12 lb nylon", LineProperties(0.35e-3, 1140.0, 2.5e9), 53.4)
SETUP = LeverSetup(
    Candidate(LURE, FLUOROCARBON, (55.0,), (0.6,), 1.3),
    55.0,
    TipSchedule(0.6, in_turns=False),
    line_up=LineOption("next up", LineProperties(0.34e-3, 1780.0, 2.2e9), 64.0),
    line_down=LineOption("next down", LineProperties(0.28e-3, 1780.0, 2.2e9), 43.0),
    materials=(NYLON,),
)


@pytest.fixture(scope="module")
def table() -> LeverTable:
    return levers(SETUP, MatchRequest(BottomProfile.flat(20.0 * FT_M)))


def one(table: LeverTable, control: str, word: str) -> Lever:
    [found] = [x for x in table.levers if x.control == control and word in x.step]
    return found


def test_depths_are_those_of_the_design_trial(table: LeverTable) -> None:
    """Crude solver of the design trial: 22.2 ft; 0.28 mm 22.9, 0.34 mm 21.4 ft. Own trial, 2 %."""
    assert table.max_depth_m / FT_M == pytest.approx(22.2, rel=0.02)
    up, down = one(table, "line size", " up"), one(table, "line size", " down")
    assert up.depth_change_m / FT_M == pytest.approx(21.4 - 22.2, abs=0.2)
    assert down.depth_change_m / FT_M == pytest.approx(22.9 - 22.2, abs=0.2)


def test_longer_cast_and_tip_follow_the_design_trial(table: LeverTable) -> None:
    """Own trial: 46/55/64 m casts give 19.5/22.2/24.5 ft; 0.3 m of tip is 2.6 % of depth."""
    longer, shorter = one(table, "cast", "longer"), one(table, "cast", "shorter")
    assert longer.depth_change_m / FT_M == pytest.approx(24.5 - 22.2, abs=0.4)
    assert shorter.depth_change_m / FT_M == pytest.approx(19.5 - 22.2, abs=0.4)
    higher = one(table, "tip", "higher")
    assert higher.depth_change_m / table.max_depth_m == pytest.approx(-0.052, abs=0.01)


def test_material_splits_into_parts_that_add_up(table: LeverTable) -> None:
    """Own trial: of the 1.3 ft from nylon to fluorocarbon most is diameter, about 0.2 ft density,
    and stretch hardly matters.
    """
    nylon = one(table, "material", "nylon")
    parts = {part.name: part.depth_change_m for part in nylon.parts}
    assert sum(parts.values()) == pytest.approx(nylon.depth_change_m, abs=1e-9)
    assert nylon.depth_change_m / FT_M == pytest.approx(20.9 - 22.2, abs=0.25)
    assert parts["diameter"] < 3.0 * parts["density"] < 0.0
    assert parts["density"] / FT_M == pytest.approx(-0.2, abs=0.12)
    assert abs(parts["stretch"]) < 0.1 * abs(nylon.depth_change_m)
    zones = [part.zone_change_m for part in nylon.parts]
    assert nylon.zone_change_m is not None
    assert sum(z for z in zones if z is not None) == pytest.approx(nylon.zone_change_m, abs=1e-9)


def test_signs_are_those_the_trade_knows(table: LeverTable) -> None:
    """Facts 2, 4 and 5 (common practice, no source), and drift from the design trial."""
    assert one(table, "line size", " up").depth_change_m < 0.0
    assert one(table, "tip", "higher").depth_change_m < 0.0
    assert one(table, "tip", "lower").depth_change_m > 0.0
    under = one(table, "tip", "under water").depth_change_m
    assert under > one(table, "tip", "lower").depth_change_m
    assert one(table, "cast", "longer").depth_change_m > 0.0
    assert one(table, "drift", "toward").depth_change_m < 0.0
    assert one(table, "drift", "away").depth_change_m > 0.0
    assert one(table, "buoyancy", "more").depth_change_m < 0.0


def test_without_weight_and_buoyancy_speed_changes_nothing() -> None:
    """Dimensional analysis (own derivation): no weight, no buoyancy, constant coefficients and
    no stretch leave a path that does not depend on speed.
    """
    from leadsman.hydro.drag import DragLaw
    from leadsman.plan.match_types import DepthBand

    line = LineOption("neutral", LineProperties(0.31e-3, 998.2336), 53.4)
    lure = LureOption("neutral", LureForces(math.radians(33.0), 20e-4, 0.001))
    # the tip at the surface, as weight in the air does not cancel
    setup = LeverSetup(
        Candidate(lure, line, (55.0,), (0.0,), 1.3), 55.0, TipSchedule(0.0, in_turns=False)
    )
    request = MatchRequest(band=DepthBand(0.0, 100.0), drag=DragLaw(normal_constant=1.2))
    found = levers(setup, request)
    for word in ("faster", "slower"):
        lever = one(found, "speed", word)
        assert abs(lever.depth_change_m) < 0.002 * found.max_depth_m
        assert not lever.matters


def test_depth_alone_needs_no_bottom() -> None:
    found = levers(SETUP)
    assert found.zone_m is None
    assert all(lever.zone_change_m is None for lever in found.levers)
    assert found.max_depth_m / FT_M == pytest.approx(22.2, rel=0.02)


def test_steps_must_be_above_zero() -> None:
    with pytest.raises(PlanError, match="steps"):
        levers(SETUP, steps=LeverSteps(cast_m=0.0))
