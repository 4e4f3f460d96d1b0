"""Season memory: strong forgetting, and what is carried."""

from __future__ import annotations

import math

import pytest

from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import RateBelief
from leadsman.belief.outlook_prior import rate_prior
from leadsman.waterlog.season import (
    ANYWHERE,
    USUAL_MEMORY,
    PastDay,
    from_text,
    remembered,
    to_text,
    weight,
)

DAY_S = 86_400.0
T0 = 1.7e9
RATTLING = Cell(ANYWHERE, 3, "edge", "rattling", "natural")
SILENT = Cell(ANYWHERE, 3, "edge", "silent", "natural")
PRIOR = rate_prior(4.0, 1000.0, {})


def past(days_ago: float, lake: str = "pond", secchi_m: float | None = 3.0) -> PastDay:
    cells = ((RATTLING, 12.0, 1500.0), (SILENT, 1.0, 1500.0))
    return PastDay(lake, T0 - days_ago * DAY_S, secchi_m, cells)


def test_weight_falls_to_1_e_over_its_memory() -> None:
    got = weight(past(USUAL_MEMORY.days), "pond", T0, 3.0)
    assert got == pytest.approx(math.exp(-1.0), rel=1e-9)


def test_weight_knows_lake_season_and_clarity() -> None:
    here = weight(past(3.0), "pond", T0, 3.0)
    assert weight(past(3.0), "other", T0, 3.0) == pytest.approx(here * USUAL_MEMORY.other_lake)
    assert weight(past(3.0), "pond", T0, 1.0) < 0.2 * here
    last_year = weight(past(365.25), "pond", T0, 3.0)
    assert last_year == pytest.approx(USUAL_MEMORY.yearly)
    assert weight(past(180.0), "pond", T0, 3.0) < 1e-4
    assert weight(past(-1.0), "pond", T0, 3.0) == 0.0  # nothing from the future


def test_what_bit_lately_is_expected_again_and_what_is_old_is_not() -> None:
    def lead(prior_days: float) -> float:
        prior = remembered(PRIOR, [past(prior_days)], "pond", T0, 3.0)
        belief = RateBelief.start(prior, [RATTLING, SILENT])
        return belief.log_moments(RATTLING)[0] - belief.log_moments(SILENT)[0]

    assert lead(2.0) > 0.3
    assert 0.0 <= lead(60.0) < 0.1 * lead(2.0)


def test_memory_moves_means_and_keeps_the_scatter() -> None:
    prior = remembered(PRIOR, [past(1.0)] * 50, "pond", T0, 3.0)
    assert prior.factors == PRIOR.factors and prior.log_rate == PRIOR.log_rate
    # However long the past, it counts for no more than the stated fishing.
    one = remembered(PRIOR, [past(1.0)] * 5, "pond", T0, 3.0)
    assert prior.means["sound=rattling"] == pytest.approx(one.means["sound=rattling"], abs=0.05)
    assert not any("place" in key for key in prior.means)


def test_no_past_changes_nothing() -> None:
    assert remembered(PRIOR, [], "pond", T0, 3.0) is PRIOR
    assert remembered(PRIOR, [past(4000.0, secchi_m=9.0)], "pond", T0, 1.0) is PRIOR


def test_a_day_survives_being_kept_as_text() -> None:
    assert from_text(to_text(past(1.0))) == past(1.0)
