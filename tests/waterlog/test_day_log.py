"""From the file to a reading: today is read, the past is summed up once and kept."""

from __future__ import annotations

from pathlib import Path

import pytest

from leadsman.belief.levels import LADDER
from leadsman.belief.outlook_prior import rate_prior
from leadsman.waterlog.day_log import past_days, read_today
from leadsman.waterlog.effort import Fishing
from leadsman.waterlog.events import (
    AdviceGiven,
    Bite,
    Body,
    Event,
    Place,
    SetupStart,
    TripStart,
    TripStop,
    Undo,
)
from leadsman.waterlog.store import Waterlog

T0 = 1.7e9
PRIOR = rate_prior(4.0, 600.0, {})
calls: list[str] = []


def physics(setup: SetupStart, place: Place) -> Fishing:
    calls.append(setup.setup)
    return Fishing(20.0, 30.0, 4.2)


def write(log: Waterlog, trip: str, start_s: float, *steps: tuple[float, Body]) -> None:
    log.append(
        Event(f"{trip}-{n:06d}", trip, "phone", n, start_s + 60.0 * t, body)
        for n, (t, body) in enumerate(steps)
    )


def a_day(log: Waterlog, trip: str, start_s: float, bites: int) -> None:
    steps: list[tuple[float, Body]] = [
        (0, TripStart("pond", 6.0)),
        (0, Place("p")),
        (0, SetupStart("deep", "rattling")),
    ]
    steps += [(5.0 * (n + 1), Bite()) for n in range(bites)]
    steps += [(70, AdviceGiven("x", 1.0, 0.6)), (120, TripStop())]
    write(log, trip, start_s, *steps)


def test_today_is_read_with_hours_left_and_advice_given(tmp_path: Path) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        a_day(log, "today", T0, 10)
        today = read_today(log, "today", PRIOR, physics, LADDER, T0 + 7200.0, [])
    assert today.hours_left == pytest.approx(4.0)
    assert today.told_at_h == (pytest.approx(70.0 / 60.0),)
    assert today.reading.t_h == pytest.approx(2.0)
    assert sum(b.bites for b in today.effort.blocks) == 10


def test_the_past_is_worked_out_once_and_anew_when_it_changes(tmp_path: Path) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        a_day(log, "one", T0, 10)
        a_day(log, "today", T0 + 86_400.0, 0)
        calls.clear()
        (first,) = past_days(log, physics, "v1", LADDER, "today")
        assert calls and sum(b for _, b, _ in first.cells) == 10
        calls.clear()
        assert past_days(log, physics, "v1", LADDER, "today") == [first]
        assert not calls
        # Another kit or physics, or one more event, and it is worked out again.
        past_days(log, physics, "v2", LADDER, "today")
        assert calls
        log.append([Event("late-undo", "one", "laptop", 0, T0 + 9e4, Undo("one-000003"))])
        (undone,) = past_days(log, physics, "v1", LADDER, "today")
        assert sum(b for _, b, _ in undone.cells) == 9


def test_good_days_raise_what_is_expected_today(tmp_path: Path) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        a_day(log, "one", T0 - 86_400.0, 20)
        a_day(log, "today", T0, 0)
        past = past_days(log, physics, "v1", LADDER, "today")
        start = T0 + 1.0

        def expected(days: list) -> float:
            today = read_today(log, "today", PRIOR, physics, LADDER, start, days)
            belief = today.reading.hypotheses[0].belief
            return belief.rate(today.effort.blocks[0].cell).mean_per_m

        assert expected(past) > 1.2 * expected([])
