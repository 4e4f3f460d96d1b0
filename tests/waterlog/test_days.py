"""The simulated days: the world does what its settings say, and the advice is worth asking."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))

from bench.days.__main__ import POLICIES, Outcome, report, run
from bench.days.baselines import StickToSpot, best_first, play
from bench.days.world import Choice, draw_day, load_settings

SETTINGS = load_settings()


def test_every_kind_says_why_it_is_there() -> None:
    kinds = SETTINGS["kind"]
    assert len(kinds) >= 5 and set(kinds) == set(SETTINGS["mix"])
    assert all(len(kind["why"]) > 40 for kind in kinds.values())


def test_on_a_steady_day_bites_come_at_the_stated_rate() -> None:
    # Expected bites of a day: rate an hour within the drawn range, times eight hours.
    low, high = SETTINGS["default"]["best_bites_per_h"]
    bites = [play(draw_day(SETTINGS, "steady", seed), StickToSpot()) for seed in range(60)]
    mean = 8.0 * (low + high) / 2.0
    spread = np.std(bites) / np.sqrt(len(bites))
    assert abs(np.mean(bites) - mean) < 4.0 * spread


def test_the_same_day_is_drawn_again_from_the_same_seed() -> None:
    one, two = (draw_day(SETTINGS, "roam", 3) for _ in range(2))
    assert [one.cast(best_first(one.plan)) for _ in range(50)] == [
        two.cast(best_first(two.plan)) for _ in range(50)
    ]


def test_a_school_tires_of_a_sound_and_takes_the_other() -> None:
    day = draw_day(SETTINGS, "tire", 4)
    choice = best_first(day.plan)
    fresh = day.rate_per_m(choice, 0.0)
    while not day.tired[choice.place, choice.sound]:
        day.cast(choice)
    low, high = SETTINGS["kind"]["tire"]["tire_fish"]
    assert low <= day.caught[choice.place, choice.sound] <= high + 3
    assert day.rate_per_m(choice, 0.0) == pytest.approx(fresh * 0.1)
    other = Choice(choice.place, choice.band, 1 - choice.sound, choice.colour)
    assert day.rate_per_m(other, 0.0) == pytest.approx(fresh * SETTINGS["world"]["other_sound"])


def test_changes_cost_time() -> None:
    day = draw_day(SETTINGS, "steady", 1)
    here = best_first(day.plan)
    rod = Choice(here.place, (here.band + 1) % 5, here.sound, here.colour)
    snap = Choice(here.place, here.band, 1 - here.sound, here.colour)
    move = Choice((here.place + 1) % 6, here.band, here.sound, here.colour)
    costs = [day.change_min(here, c) for c in (here, rod, snap, move)]
    assert costs[:3] == [0.0, 0.5, 2.0] and costs[3] >= 6.0


def test_the_advice_is_worth_asking() -> None:
    # 24 days are few: the ratios of a thousand are in docs/log-and-advice.md; this holds the sign.
    outcomes = run(SETTINGS, days=24, seed=77, jobs=1)
    bites = np.array([o.bites for o in outcomes], dtype=float).sum(axis=0)
    by_name = dict(zip(POLICIES, bites, strict=True))
    assert by_name["oracle"] == max(bites)
    assert by_name["advice"] > 1.1 * by_name["rotate rods and sounds, first spot"]
    assert by_name["advice"] > 1.1 * by_name["stick to first setup, plan's places"]
    assert by_name["advice"] > 0.95 * by_name["stick to first spot and setup"]


def test_the_report_gives_ratios_and_regret() -> None:
    text = report(
        [Outcome("steady", (10, 8, 5, 4, 4, 12), 1), Outcome("blank", (1, 1, 0, 0, 0, 3), 0)]
    )
    assert "advice / stick to first spot and setup: 1.22" in text
    assert "regret against the oracle: mean 2.0" in text
