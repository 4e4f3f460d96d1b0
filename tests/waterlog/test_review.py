"""The review's numbers against sums by hand and scipy's Gamma."""

from __future__ import annotations

import pytest
from scipy import stats

from leadsman.belief.levels import LADDER
from leadsman.waterlog.effort import Fishing, day_effort
from leadsman.waterlog.events import (
    AdviceGiven,
    Bite,
    Body,
    Contact,
    Event,
    Fish,
    Place,
    SetupStart,
    TripStart,
    TripStop,
)
from leadsman.waterlog.phrases import review_words
from leadsman.waterlog.review import HUNDRED_YARDS_M, Review, review
from leadsman.waterlog.timeline import timeline

T0 = 1.7e9


def physics(setup: SetupStart, place: Place) -> Fishing:
    return Fishing(20.0, 30.0, 4.2 if setup.setup == "deep" else 2.0)


def report(*steps: tuple[float, Body]) -> Review:
    line = timeline(
        [
            Event(f"phone-{n:06d}", "t", "phone", n, T0 + 60.0 * t, body)
            for n, (t, body) in enumerate(steps)
        ]
    )
    return review(line, day_effort(line, physics, LADDER, T0), lambda stretch: (4.6, 0.2))


def full_day() -> Review:
    steps: list[tuple[float, Body]] = [
        (0, TripStart("pond")),
        (0, Place("north")),
        (0, SetupStart("deep", "rattling", cast_m=55.0)),
        (10, Bite()),
        (20, Bite()),
        (25, Contact(4.3)),
        (30, Contact(5.0, touched=False)),
        (35, AdviceGiven("x", 1.0, 0.7, True)),
        (60, SetupStart("shallow", "silent")),
        (90, Fish(0.4, fate="kept")),
        (120, TripStop()),
    ]
    return report(*steps)


def test_sums() -> None:
    got = full_day()
    assert (got.bites, got.fish, got.hours) == (3, 1, pytest.approx(2.0))
    # An hour at 30 casts of 20 m, and one less the minute after the fish.
    assert got.zone_m == pytest.approx(600.0 + 600.0 * 59.0 / 60.0)
    assert (got.advice_given, got.advice_followed) == (1, 1)
    assert len(got.livewell.kept) == 1
    assert [round(p.t_h * 60) for p in got.points] == [10, 20, 90]
    assert [p.landed for p in got.points] == [False, False, True]


def test_rates_are_gamma_posteriors() -> None:
    row = next(r for r in full_day().rates if (r.factor, r.level) == ("sound", "rattling"))
    law = stats.gamma(2 + 0.5, scale=1.0 / (600.0 + HUNDRED_YARDS_M))
    assert row.per_100_yd == pytest.approx(law.mean() * HUNDRED_YARDS_M)
    assert row.low_per_100_yd == pytest.approx(law.ppf(0.1) * HUNDRED_YARDS_M)
    assert row.high_per_100_yd == pytest.approx(law.ppf(0.9) * HUNDRED_YARDS_M)


def test_contacts_are_compared_and_proposed() -> None:
    got = full_day()
    assert [(c.touched, round(c.surprise, 6)) for c in got.contacts] == [(True, -1.5), (False, 2.0)]
    assert [(p.kind, p.depth_m, p.setup, p.cast_m) for p in got.proposed] == [
        ("ticked", 4.3, "deep", 55.0),
        ("did_not_reach", 5.0, "deep", 55.0),
    ]


def test_a_stop_is_found_afterwards() -> None:
    steps: list[tuple[float, Body]] = [(0, Place("north")), (0, SetupStart("deep"))]
    steps += [(6.0 * n, Bite()) for n in range(1, 18)]
    got = report(*steps, (6.0 * 17 + 90.0, TripStop()))
    assert [(s.place, s.bites) for s in got.stops] == [("north", 17)]


def test_words() -> None:
    say = "{:d} fathoms".format
    assert review_words(report(), say) == "Nothing was fished by this log."
    quiet = report((0, Place("north")), (0, SetupStart("deep")), (90, TripStop()))
    assert review_words(quiet, say) == "No bites in 1.5 h of fishing."
    words = review_words(full_day(), say)
    band = LADDER.index_of(4.2)
    assert words == f"3 bites in 2.0 h; best at {band} fathoms, rattling lures ahead."
