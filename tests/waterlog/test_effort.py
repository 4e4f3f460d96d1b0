"""Effort is zone length: casts at the angler's pace or counted, times metres a cast."""

from __future__ import annotations

import itertools

import pytest

from leadsman.belief.levels import LADDER
from leadsman.waterlog.effort import HANDLING_H, DayEffort, Fishing, day_effort
from leadsman.waterlog.events import (
    Bite,
    Body,
    Casts,
    Event,
    Fish,
    Place,
    SetupStart,
    SetupStop,
    TripStart,
    TripStop,
)
from leadsman.waterlog.timeline import timeline

T0 = 1.7e9
DEEP, SHALLOW = SetupStart("deep"), SetupStart("shallow", "rattling")
NORTH, SOUTH = Place("north edge"), Place("south flat", "flat")


def physics(setup: SetupStart, place: Place) -> Fishing:
    """20 m of zone a cast and 30 casts an hour with the deep rod, half of that otherwise."""
    return Fishing(20.0, 30.0, 4.2) if setup.setup == "deep" else Fishing(10.0, 30.0, 2.0)


def effort(*steps: tuple[float, Body], now_min: float = 0.0) -> DayEffort:
    events = [
        Event(f"phone-{n:06d}", "trip", "phone", n, T0 + 60.0 * t, body)
        for n, (t, body) in enumerate(steps)
    ]
    return day_effort(timeline(events), physics, LADDER, T0 + 60.0 * now_min)


def test_an_hour_at_thirty_casts_of_twenty_metres_is_600_m() -> None:
    day = effort((0, TripStart("lake")), (0, NORTH), (0, DEEP), (60, SetupStop()))
    assert sum(b.zone_m for b in day.blocks) == pytest.approx(30 * 20.0)
    assert max(b.t_h for b in day.blocks) == pytest.approx(1.0)
    assert {b.cell.depth for b in day.blocks} == {LADDER.index_of(4.2)}
    steps = [b.t_h for b in day.blocks]
    assert max(b - a for a, b in itertools.pairwise(steps)) <= 0.1 + 1e-9


def test_counted_casts_replace_the_pace() -> None:
    day = effort((0, NORTH), (0, DEEP), (30, Casts(6)), (60, SetupStop()))
    assert sum(b.zone_m for b in day.blocks) == pytest.approx(6 * 20.0 + 15 * 20.0)


def test_bites_cut_blocks_and_fish_take_time() -> None:
    day = effort((0, NORTH), (0, DEEP), (10, Bite()), (20, Fish(0.4)), (60, SetupStop()))
    ends = {round(b.t_h * 60): b.bites for b in day.blocks if b.bites}
    assert ends == {10: 1, 20: 1}
    assert sum(b.zone_m for b in day.blocks) == pytest.approx((1.0 - HANDLING_H) * 600.0)


def test_a_fish_that_names_its_bite_is_no_second_bite() -> None:
    day = effort((0, NORTH), (0, DEEP), (10, Bite()), (11, Fish(bite="phone-000002")), now_min=30)
    assert sum(b.bites for b in day.blocks) == 1


def test_changes_of_rod_and_place_open_new_stretches() -> None:
    day = effort(
        (0, NORTH), (0, DEEP), (20, SHALLOW), (40, SetupStop()), (50, SOUTH), (80, TripStop())
    )
    spans = [
        (s.cell.place, s.setup.setup, round((s.stop_utc_s - s.start_utc_s) / 60))
        for s in day.stretches
    ]
    # Arriving somewhere takes up the last setup again; the run between the places is no effort.
    assert spans == [
        ("north edge", "deep", 20),
        ("north edge", "shallow", 20),
        ("south flat", "shallow", 30),
    ]
    assert day.stretches[2].cell.cover == "flat"


def test_a_stretch_that_goes_on_ends_now() -> None:
    day = effort((0, NORTH), (0, DEEP), now_min=15)
    assert sum(b.zone_m for b in day.blocks) == pytest.approx(150.0)


def test_a_bite_outside_of_any_stretch_is_kept_apart() -> None:
    day = effort((0, Bite()), (5, NORTH), (5, DEEP), (30, TripStop()))
    assert [e.id for e in day.stray_bites] == ["phone-000000"]
    assert sum(b.bites for b in day.blocks) == 0


def test_every_bite_is_counted_once_also_at_the_seams() -> None:
    day = effort(
        (0, NORTH),
        (0, DEEP),
        (0, Bite()),
        (20, Bite()),
        (20, SHALLOW),
        (20, Bite()),
        (40, Bite()),
        (40, TripStop()),
    )
    assert sum(b.bites for b in day.blocks) + len(day.stray_bites) == 4


def test_nothing_logged_is_nothing_fished() -> None:
    assert effort().blocks == ()
