"""What the day may ask."""

from __future__ import annotations

from dataclasses import replace

import pytest

from leadsman.errors import PlanError
from leadsman.lake.estimate import Estimate
from leadsman.plan.day import outlook
from leadsman.plan.day_targets import DayTarget, day_targets, relative_rates
from leadsman.plan.day_types import Day

FT = 0.3048
EDGE = Estimate(13 * FT, 12 * FT, 14 * FT, "given", "your word")
DAY = Day(max_depth_m=12.0, grass="some", grass_edge_m=EDGE, summer=True)


def test_grass_edge_and_drop_are_asked_for() -> None:
    """Fact of the trade: thicker grass inside the edge, the edge, and deeper beyond; common
    practice, no source.
    """
    targets = day_targets(outlook(DAY))
    assert sum(t.chance for t in targets) == pytest.approx(1.0)
    by = {t.ground: t.depth_m for t in targets}
    assert by["edge"] == pytest.approx(13 * FT)
    assert 9.5 * FT <= by["grass"] <= 12 * FT
    assert by["drop"] > by["edge"]
    assert list(targets) == sorted(targets, key=lambda t: -t.chance)


def test_no_grass_asks_for_none_and_no_oxygen_for_nothing_below() -> None:
    bare = day_targets(outlook(replace(DAY, grass="none", grass_edge_m=None)))
    assert {t.ground for t in bare} <= {"flat", "drop"}
    floor = Estimate(5.0, 4.8, 5.2, "given", "your word")
    shallow = day_targets(outlook(replace(DAY, oxygen_floor_m=floor)))
    assert max(t.depth_m for t in shallow) <= 5.0


def test_fish_seen_deep_move_the_chance_deep() -> None:
    plain = {t.ground: t.chance for t in day_targets(outlook(DAY))}
    deep = {
        t.ground: t.chance for t in day_targets(outlook(replace(DAY, fish_m=(16 * FT, 22 * FT))))
    }
    assert deep["drop"] > plain.get("drop", 0.0)


def test_rates_are_relative_to_the_best() -> None:
    found = outlook(DAY)
    targets = day_targets(found)
    rates = relative_rates(found, targets)
    assert max(rates) == 1.0 and min(rates) > 0.0


def test_impossible_targets() -> None:
    with pytest.raises(PlanError):
        DayTarget("edge", 0.1, 1.0)
    with pytest.raises(PlanError):
        DayTarget("edge", 3.0, 1.5)
