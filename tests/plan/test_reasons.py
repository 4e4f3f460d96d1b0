"""Sentences say the numbers they are given, in the units asked for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from leadsman.display_units import METRIC, US
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.plan.match_types import DepthBand, MatchRequest
from leadsman.plan.reasons import (
    Measures,
    exclusion,
    match_reason,
    schedule_words,
    tip_height,
)
from leadsman.plan.tip_schedule import TipKnot, TipSchedule

FT_M = 0.3048
FLAT = MatchRequest(BottomProfile.flat(10.0 * FT_M))


def measures(**changes: float) -> Measures:
    given = {
        "zone_m": 27.0 * 0.9144,
        "contact_m": 26.0,
        "plowing_m": 1.0,
        "near_m": 30.0,
        "mean_load": 0.05,
        "free_max_depth_m": 11.0 * FT_M,
        "lost_chance": 0.0,
    }
    return Measures(first_contact_m=None, **(given | changes))


@pytest.mark.parametrize(
    ("tip_ft", "words"),
    [(2.0, "2 ft up"), (-3.0, "3 ft under water"), (0.1, "at the surface"), (6.4, "6.5 ft up")],
)
def test_tip_heights_in_words(tip_ft: float, words: str) -> None:
    assert tip_height(tip_ft * FT_M, US) == words


def test_metric_heights_go_to_a_tenth_of_a_metre() -> None:
    assert tip_height(0.61, METRIC) == "0.6 m up"


def test_a_schedule_is_said_as_a_person_would() -> None:
    low_then_up = TipSchedule(0.3048, (TipKnot(12.0, 0.3048), TipKnot(14.0, 6 * FT_M)))
    assert schedule_words(low_then_up, US) == "12 turns low (1 ft up), then up to 6 ft"
    easing = TipSchedule(
        -2 * FT_M,
        (TipKnot(20.0, -2 * FT_M), TipKnot(22.0, 6 * FT_M), TipKnot(65.0, 0.0)),
    )
    assert schedule_words(easing, US) == (
        "20 turns low (2 ft under water), then up to 6 ft, "
        "then evenly down to the surface by turn 65"
    )
    assert schedule_words(TipSchedule(0.6096), US) == "tip held 2 ft up"
    falling = TipSchedule(6 * FT_M, (TipKnot(45.0 * 0.9144, FT_M),), in_turns=False)
    assert schedule_words(falling, US) == (
        "start with the tip 6 ft up, then evenly down to 1 ft by 45 yd reeled in"
    )


def test_reason_of_a_good_setup_gives_depth_zone_and_load() -> None:
    said = match_reason(FLAT, measures())
    assert said == (
        "Free-runs 11.0 ft, 1.0 ft past the 10.0 ft bottom: "
        "ticks for 27 yd of each cast at a mean load of 0.05."
    )


def test_reason_of_a_deep_setup_says_so() -> None:
    said = match_reason(
        FLAT, measures(free_max_depth_m=22.0 * FT_M, plowing_m=20.0 * 0.9144, zone_m=3.0 * 0.9144)
    )
    assert "2.2 times the 10.0 ft bottom" in said
    assert "too deep" in said
    assert "20 of 28 yd" in said


@pytest.mark.parametrize(
    ("changes", "kind", "words"),
    [
        ({"free_max_depth_m": 8.3 * FT_M, "contact_m": 0.0}, "short", "1.7 ft short"),
        ({"free_max_depth_m": 25.0 * FT_M, "plowing_m": 25.9}, "plows", "2.5 times"),
        ({"plowing_m": 0.0}, "misses", "hardly ever"),
    ],
)
def test_exclusions_say_why(changes: dict[str, float], kind: str, words: str) -> None:
    found, said = exclusion(FLAT, measures(**changes))
    assert found == kind
    assert words in said


def test_a_band_is_told_as_a_band() -> None:
    band = MatchRequest(band=DepthBand(18.0 * FT_M, 22.0 * FT_M))
    assert "stays in 18.0 to 22.0 ft for 27 yd" in match_reason(band, measures())
    kind, said = exclusion(band, measures(free_max_depth_m=15.0 * FT_M))
    assert kind == "short"
    assert "3.0 ft short of the band" in said


def test_over_grass_what_is_on_the_bottom_is_told_apart() -> None:
    """A zone of 33 yd with 14 yd of it on the bottom must not be called 33 yd of ticking."""
    grass = GrassLayer(np.array([0.0, 60.0]), np.full(2, 6.0 * FT_M), np.full(2, 0.5))
    request = MatchRequest(replace(BottomProfile.flat(10.0 * FT_M), grass=grass))
    said = match_reason(request, measures(zone_m=33.0 * 0.9144, contact_m=14.0 * 0.9144))
    assert "works grass and bottom for 33 yd" in said
    assert "on the bottom for 14 yd at a mean load of 0.05" in said
    assert "ticks" not in said
