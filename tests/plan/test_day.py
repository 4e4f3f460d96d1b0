from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from believable_days import a_day, guessed, hours, known, stratified
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import PlanError
from leadsman.plan.day import FACTOR_KEYS, outlook
from leadsman.plan.day_belief import share_below

FULL = {
    "profile": stratified(),
    "surface_c": known(25.0),
    "thermocline_m": known(7.0),
    "secchi_m": known(2.0),
    "grass_edge_m": guessed(3.2, 1.9, 5.6),
    "hours": hours(2.0, 12.0, 23.0, 34.0, 45.0, 55.0),
    "wind_m_s": 3.0,
    "forage": "baitfish",
    "forage_m": 5.0,
    "fish_m": (4.0, 6.0),
}


def test_a_belief_adds_up_whatever_is_known() -> None:
    for day in (a_day(), a_day(**FULL)):
        found = outlook(day)
        assert sum(band.fish for band in found.bands) == pytest.approx(1.0)
        assert sum(band.lure for band in found.bands) == pytest.approx(1.0)
        assert sum(found.covers.values()) == pytest.approx(1.0)
        assert found.joint.sum() == pytest.approx(1.0)
        m = found.fish_m
        assert m.low_90 < m.low_50 < m.median < m.high_50 < m.high_90


def test_it_is_pure() -> None:
    one, two = outlook(a_day(**FULL)), outlook(a_day(**FULL))
    assert np.array_equal(one.fish_per_m, two.fish_per_m)
    assert one.covers == two.covers


def test_next_to_no_belief_under_water_without_oxygen_and_why() -> None:
    found = outlook(a_day(**{**FULL, "fish_m": None}))
    assert share_below(found.depth_m, found.fish_per_m, 7.0) < 0.01
    (out,) = found.ruled_out
    assert out.low_m == 7.0
    assert "oxygen" in out.why
    assert out.left < 0.01


def test_with_oxygen_to_the_bottom_no_depth_is_ruled_out() -> None:
    found = outlook(a_day(**{**FULL, "profile": stratified(99.0)}))
    assert found.ruled_out == ()
    assert share_below(found.depth_m, found.fish_per_m, 7.0) > 0.02


@pytest.mark.parametrize(
    "key", [key for key in FACTOR_KEYS if key not in ("cold", "spawning", "clear-water")]
)
def test_every_factor_can_be_switched_off(key: str) -> None:
    on = outlook(a_day(**FULL))
    off = outlook(a_day(**FULL, strengths={key: 0.0}))
    assert key in {factor.key for factor in on.factors}
    assert key not in {factor.key for factor in off.factors}
    assert f"{key}: switched off" in off.unused
    changed = not np.allclose(on.fish_per_m, off.fish_per_m) or on.covers != off.covers
    assert changed, "a factor that changes nothing should not be told"


@pytest.mark.parametrize("key", ["oxygen", "grass", "forage", "light", "fish"])
def test_every_factor_can_be_weighed(key: str) -> None:
    def moved(strength: float) -> float:
        found = outlook(a_day(**FULL, strengths={key: strength}))
        return next(f.moved for f in found.factors if f.key == key)

    assert moved(0.25) < moved(1.0) < moved(2.0)


def test_every_factor_says_what_it_rests_on() -> None:
    for factor in outlook(a_day(**FULL)).factors:
        assert factor.source
        assert factor.effect
        assert factor.depth.max() <= 1.0 + 1e-9
        assert factor.depth.min() >= 0.0
        if factor.basis in ("common practice", "own assumption"):
            assert "common practice" in factor.source or "own assumption" in factor.source


def test_what_is_not_known_is_named() -> None:
    unused = " ".join(outlook(a_day()).unused)
    for word in ("oxygen", "clarity", "forage", "wind", "grass"):
        assert word in unused


def test_an_unknown_factor_is_refused() -> None:
    with pytest.raises(PlanError, match="unknown factor 'moon'"):
        outlook(a_day(strengths={"moon": 0.0}))


def test_low_sun_hours_are_worth_more_and_fish_are_shallower_in_them() -> None:
    found = outlook(a_day(secchi_m=known(5.0), hours=hours(1.0, 30.0, 65.0)))
    dawn, _, noon = found.hours
    assert dawn.weight > noon.weight
    assert dawn.fish_m.median < noon.fish_m.median
    assert np.mean([hour.weight for hour in found.hours]) == pytest.approx(1.0)


def test_in_cold_water_the_middle_of_the_day_is_best() -> None:
    found = outlook(a_day(surface_c=known(8.0), hours=hours(1.0, 20.0, 30.0)))
    weights = [hour.weight for hour in found.hours]
    assert weights == sorted(weights)


def test_no_lure_reaches_is_not_the_end_of_the_answer() -> None:
    # fact of the trade (common practice, no source): in very clear, deep water fish at 25 to 30 ft
    # come up to a lure run fast with stops well above them
    clear = outlook(a_day(max_depth_m=25.0, secchi_m=known(8.0), reach_m=5.5, fish_m=(7.6, 9.1)))
    assert "come up" in clear.reach
    assert "fast with stops" in clear.reach
    assert clear.lure_m.median < clear.fish_m.median - 1.0
    above = sum(band.lure for band in clear.bands if band.high_m <= 7.7)
    below = sum(band.fish for band in clear.bands if band.high_m <= 7.7)
    assert above > 2.0 * below, "a lure above the fish is worth running"
    dirty = outlook(a_day(max_depth_m=25.0, secchi_m=known(1.0), reach_m=5.5, fish_m=(7.6, 9.1)))
    assert dirty.reach and "come up" not in dirty.reach
    assert np.array_equal(dirty.lure_per_m, dirty.fish_per_m)
    assert outlook(a_day(reach_m=14.0, secchi_m=known(2.0))).reach == ""


def test_spring_is_shallow_on_flats_and_winter_is_deep_on_drops() -> None:
    summer = outlook(a_day(surface_c=known(26.0)))
    spring = outlook(a_day(surface_c=known(19.0), warming=True, summer=False))
    winter = outlook(a_day(surface_c=known(5.0), summer=False))
    assert spring.fish_m.median < summer.fish_m.median < winter.fish_m.median
    assert spring.covers["flat"] > summer.covers["flat"]
    assert winter.covers["drop"] > summer.covers["drop"]


@settings(max_examples=60, deadline=None)
@given(
    st.floats(1.0, 200.0),
    st.floats(0.05, 20.0),
    st.floats(0.0, 38.0),
    st.floats(0.0, 30.0),
    st.sampled_from(["clear", "broken", "overcast"]),
    st.lists(st.floats(-60.0, 90.0), max_size=4),
)
def test_no_day_breaks_it(depth, secchi, celsius, wind, sky, heights) -> None:
    found = outlook(
        a_day(
            max_depth_m=depth, secchi_m=known(secchi), surface_c=known(celsius), wind_m_s=wind,
            sky=sky, hours=hours(*heights), warming=None,
        )
    )  # fmt: skip
    assert np.isfinite(found.fish_per_m).all() and (found.fish_per_m >= 0.0).all()
    assert sum(band.fish for band in found.bands) == pytest.approx(1.0)
    assert all(a.high_m == b.low_m for a, b in pairwise(found.bands))
