"""What the advice names, and when it keeps quiet."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from leadsman.belief.gamma_poisson import GammaRate
from leadsman.belief.levels import Cell
from leadsman.belief.outlook_prior import rate_prior
from leadsman.waterlog.advice import (
    USUAL,
    Advice,
    AdviceSettings,
    Option,
    advise,
    changes_between,
    trial_value,
)
from leadsman.waterlog.phrases import advice_words
from leadsman.waterlog.reading import Block, Reading, begin, observe

ZONE_M_PER_H = 1000.0
PRIOR = rate_prior(4.0, ZONE_M_PER_H, {})
RATTLING = Cell("north", 4, "edge", "rattling", "natural")
SILENT = replace(RATTLING, sound="silent")
DEEPER = replace(RATTLING, depth=5)
ELSEWHERE = replace(RATTLING, place="bar")
CELLS = (RATTLING, SILENT, DEEPER, ELSEWHERE)


def options(here: Cell) -> tuple[Option, tuple[Option, ...]]:
    made = tuple(
        Option(
            f"{c.place}/{c.depth}/{c.sound}",
            c,
            ZONE_M_PER_H,
            10.0 * (c.place != here.place)
            + 0.5 * (c.depth != here.depth)
            + 2.0 * (c.sound != here.sound),
        )
        for c in CELLS
    )
    return next(o for o in made if o.cell == here), made


def ask(reading: Reading, here: Cell, hours_left: float = 4.0, **more: object) -> Advice:
    now, offered = options(here)
    return advise(reading, now, offered, hours_left, **more)  # type: ignore[arg-type]


def fish(reading: Reading, cell: Cell, hours: float, bites: int) -> Reading:
    """Fish for some time with bites evenly spread, and blocks of at most six minutes."""
    end = reading.t_h + hours
    n = max(bites, 1)
    for i in range(n):
        stop = reading.t_h + (end - reading.t_h) / (n - i)
        while stop - reading.t_h > 0.1 + 1e-9:
            t = reading.t_h + 0.1
            reading = observe(reading, Block(t, cell, 0.1 * ZONE_M_PER_H, 0))
        zone_m = (stop - reading.t_h) * ZONE_M_PER_H
        reading = observe(reading, Block(stop, cell, zone_m, 1 if bites else 0))
    return reading


def test_a_spot_that_died_after_17_fish_is_named_the_other_sound_first() -> None:
    # Common practice, no source: the same lure in the other sound can start it again.
    reading = fish(begin(PRIOR, CELLS), RATTLING, 2.0, 17)
    assert ask(reading, RATTLING).verdict == "stay"
    named = None
    silent_h = 0.0
    while named is None and silent_h < 1.5:
        reading = fish(reading, RATTLING, 0.1, 0)
        silent_h += 0.1
        answer = ask(reading, RATTLING)
        if answer.verdict == "change":
            named = answer.best
    assert named is not None and named.changes == ("sound",)
    # 8.5 bites an hour: eight expected-bite intervals are 0.94 h.
    assert silent_h <= 0.95
    words = advice_words(answer, str)
    assert words[0] == "Go to a silent lure."


def test_when_the_other_sound_did_nothing_either_it_names_something_else() -> None:
    reading = fish(begin(PRIOR, CELLS), RATTLING, 2.0, 17)
    reading = fish(reading, RATTLING, 0.9, 0)
    reading = fish(reading, SILENT, 0.8, 0)
    answer = ask(reading, SILENT)
    assert answer.verdict == "change"
    assert answer.best.option.cell not in (RATTLING, SILENT)


def test_when_the_other_sound_bites_it_stays_with_it() -> None:
    reading = fish(begin(PRIOR, CELLS), RATTLING, 2.0, 17)
    reading = fish(reading, RATTLING, 0.9, 0)
    reading = fish(reading, SILENT, 0.5, 4)
    assert ask(reading, SILENT).verdict == "stay"
    assert ask(reading, SILENT).causes[0][0] == "sound"


@pytest.mark.parametrize("per_h", [4, 8])
def test_while_it_is_on_it_says_nothing(per_h: int) -> None:
    reading = begin(PRIOR, CELLS)
    for _ in range(6):
        reading = fish(reading, RATTLING, 1.0, per_h)
        assert ask(reading, RATTLING).verdict == "stay"
    assert reading.stops == ()


def test_a_fishless_start_is_called_not_started() -> None:
    reading = fish(begin(PRIOR, CELLS), RATTLING, 2.0, 0)
    answer = ask(reading, RATTLING)
    assert answer.status == "not started" and reading.stops == ()
    assert any("Too few bites" in w for w in advice_words(answer, str))


def test_quiet_is_kept() -> None:
    reading = fish(begin(PRIOR, CELLS), RATTLING, 2.0, 17)
    reading = fish(reading, RATTLING, 1.2, 0)
    assert ask(reading, RATTLING).verdict == "change"
    just = (reading.t_h - 0.5 * USUAL.quiet_h,)
    answer = ask(reading, RATTLING, told_at_h=just)
    assert answer.verdict == "stay" and answer.held_back
    few = AdviceSettings(most_per_h=1.0)
    told = (reading.t_h - 0.9,)
    assert ask(reading, RATTLING, told_at_h=told, settings=few).held_back
    told = (reading.t_h - 1.1,)
    assert ask(reading, RATTLING, told_at_h=told, settings=few).verdict == "change"


def test_no_change_is_named_that_cannot_be_made_in_time() -> None:
    reading = fish(begin(PRIOR, CELLS), RATTLING, 2.0, 17)
    reading = fish(reading, RATTLING, 1.2, 0)
    assert ask(reading, RATTLING, hours_left=0.03).verdict == "stay"
    assert ask(reading, RATTLING, hours_left=0.0).verdict == "stay"


def test_a_dearer_change_gains_less() -> None:
    reading = fish(begin(PRIOR, CELLS), RATTLING, 1.0, 0)
    now, offered = options(RATTLING)

    def gain(minutes: float) -> float:
        dear = tuple(replace(o, change_min=minutes) if o.cell == SILENT else o for o in offered)
        answer = advise(reading, now, dear, 4.0, settings=replace(USUAL, show=10))
        return next(r.gain for r in answer.ranked if r.option.cell == SILENT)

    gains = [gain(m) for m in (0.5, 2.0, 5.0, 20.0)]
    assert gains == sorted(gains, reverse=True) and gains[0] > gains[-1]


def test_changes_are_named_in_order() -> None:
    other = Cell("bar", 5, "drop", "silent", "dark", "snap")
    assert changes_between(RATTLING, other) == (
        "sound", "depth", "colour", "work", "cover", "place",
    )  # fmt: skip
    assert changes_between(RATTLING, RATTLING) == ()


@settings(max_examples=60)
@given(
    st.floats(0.2, 30.0),
    st.floats(50.0, 5000.0),
    st.floats(0.05, 1.0),
    st.floats(0.0, 5.0),
    st.floats(0.0, 30.0),
)
def test_a_trial_is_worth_the_sum_over_its_counts(
    a: float, b: float, trial_h: float, rest_h: float, otherwise: float
) -> None:
    # Written out with scipy's negative binomial over enough counts.
    zone = ZONE_M_PER_H * trial_h
    law = stats.nbinom(a, b / (b + zone))
    y = np.arange(int(law.ppf(1.0 - 1e-13)) + 50)
    keep = (a + y) / (b + zone) * ZONE_M_PER_H * rest_h
    wanted = float((law.pmf(y) * (y + np.maximum(keep, otherwise))).sum())
    value, _ = trial_value(GammaRate(a, b), ZONE_M_PER_H, trial_h, rest_h, otherwise)
    # Beyond 60 bites the chance of keeping is neglected.
    assert value == pytest.approx(wanted, rel=1e-6, abs=1e-3)


def test_trying_is_never_worth_less_than_the_better_of_keeping_and_leaving() -> None:
    rate = GammaRate(2.0, 800.0)
    for otherwise in (0.0, 2.0, 5.0, 9.0):
        value, _ = trial_value(rate, ZONE_M_PER_H, 0.3, 2.0, otherwise)
        assert value >= 2.5 * 0.3 + max(2.5 * 2.0, otherwise) - 1e-9
