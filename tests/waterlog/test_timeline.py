"""Undo, amendments and clocks that were set."""

from __future__ import annotations

import pytest

from leadsman.waterlog.events import Amend, Bite, Body, Event, Fish, Note, SetupStart, Undo
from leadsman.waterlog.timeline import backdated, timeline

T0 = 1.7e9


def event(n: int, body: Body, t: float, mono: float | None = None, device: str = "phone") -> Event:
    session = None if mono is None else "run-1"
    return Event(f"{device}-{n:06d}", "trip", device, n, T0 + t, body, mono, session)


def ids(events: list[Event]) -> list[str]:
    return [e.id for e in timeline(events).entries]


def test_undo_takes_back_and_undo_of_undo_brings_back() -> None:
    bite = event(1, Bite(), 0)
    undo = event(2, Undo(bite.id), 5)
    redo = event(3, Undo(undo.id), 9)
    assert ids([bite]) == [bite.id]
    assert ids([bite, undo]) == []
    assert ids([bite, undo, redo]) == [bite.id]
    assert ids([redo, undo, bite]) == [bite.id]  # order of arrival does not matter


def test_an_undo_that_came_before_its_target_still_counts() -> None:
    bite = event(1, Bite(), 0)
    undo = event(2, Undo(bite.id), 5)
    assert ids([undo]) == []
    assert "not here" in timeline([undo]).warnings[0]
    assert ids([undo, bite]) == []


def test_amendments_apply_in_turn_and_can_be_undone() -> None:
    setup = event(1, SetupStart("deep rod", "silent"), 0)
    one = event(2, Amend(setup.id, {"sound": "rattling"}), 10)
    two = event(3, Amend(setup.id, {"colour": "dark"}, T0 - 60), 20)
    (entry,) = timeline([setup, one, two]).entries
    assert entry.body == SetupStart("deep rod", "rattling", "dark")
    assert entry.t_utc_s == T0 - 60
    (entry,) = timeline([setup, one, two, event(4, Undo(two.id), 30)]).entries
    assert entry.body == SetupStart("deep rod", "rattling")
    assert entry.t_utc_s == T0


def test_a_wrong_amendment_is_left_out_and_said() -> None:
    fish = event(1, Fish(0.4), 0)
    bad = event(2, Amend(fish.id, {"length_m": -3.0}), 5)
    line = timeline([fish, bad])
    assert line.entries[0].body == Fish(0.4)
    assert "left out" in line.warnings[0]


def test_one_more_tap_backdates_a_bite() -> None:
    bite = event(1, Bite(), 600)
    line = timeline([bite, backdated(bite, 5.0, "phone-000002", 2, T0 + 610)])
    assert line.entries[0].t_utc_s == T0 + 300
    assert timeline([event(1, Bite(ago_s=300.0), 600)]).entries[0].t_utc_s == T0 + 300


def test_a_clock_set_back_keeps_order_and_warns() -> None:
    events = [
        event(1, Note("a"), 0),
        event(2, Note("b"), 600),
        event(3, Note("c"), 600 - 3600),  # the clock was set back by an hour and a bit
        event(4, Note("d"), 900 - 3600),
    ]
    line = timeline(events)
    assert [e.id[-1] for e in line.entries] == ["1", "2", "3", "4"]
    times = [e.t_utc_s - T0 for e in line.entries]
    # The later clock is believed; the time between earlier events is kept.
    assert times == [-3600, -3000, -3000, -2700]
    assert any("set back by 60 min" in w for w in line.warnings)


def test_a_clock_that_is_never_set_makes_the_correction_exact() -> None:
    events = [
        event(1, Note("a"), 7200, mono=10.0),  # two hours fast
        event(2, Note("b"), 7800, mono=610.0),
        event(3, Note("c"), 1200, mono=1210.0),
    ]
    times = [e.t_utc_s - T0 for e in timeline(events).entries]
    assert times == pytest.approx([0.0, 600.0, 1200.0], abs=1e-6)


def test_two_devices_are_merged_by_time() -> None:
    events = [
        event(1, Note("a"), 0),
        event(1, Note("b"), 50, device="laptop"),
        event(2, Note("c"), 100),
    ]
    assert [e.device for e in timeline(events).entries] == ["phone", "laptop", "phone"]
    assert timeline(events).warnings == ()
