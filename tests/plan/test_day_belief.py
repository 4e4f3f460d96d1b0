from __future__ import annotations

import numpy as np
import pytest
from believable_days import a_day, known
from hypothesis import given
from hypothesis import strategies as st

from leadsman.belief.levels import COVERS, LADDER
from leadsman.plan.day_belief import (
    DOUBT,
    band_chances,
    combined,
    cover_chances,
    density,
    integral,
    joint_chances,
    median_band_m,
    middle_of,
    risen,
    share_below,
    with_parts,
)
from leadsman.plan.day_types import DayFactor

Z = np.linspace(0.0, 12.0, 121)


def factor(key: str, depth: np.ndarray, **changes) -> DayFactor:
    told = {"known": "", "effect": "", "basis": "own assumption", "source": "", "is_guess": False}
    return DayFactor(key=key, depth=depth, **{**told, **changes})


def test_a_uniform_belief_has_uniform_quantiles() -> None:
    even = density(Z, np.ones_like(Z))
    found = middle_of(Z, even)
    quantiles = (found.low_90, found.low_50, found.median, found.high_50, found.high_90)
    # a uniform law on 0 to 12: closed form
    assert quantiles == pytest.approx((0.6, 3.0, 6.0, 9.0, 11.4))
    assert share_below(Z, even, 9.0) == pytest.approx(0.25)


def test_factors_multiply_with_a_share_of_doubt() -> None:
    start, half = np.ones_like(Z), np.where(Z < 6.0, 1.0, 0.0)
    found = combined(Z, [factor("start", start), factor("grass", half)])
    # nine tenths in the upper half, and a tenth spread evenly: 0.9 + 0.05 above
    assert share_below(Z, found, 6.0) == pytest.approx(0.5 * DOUBT, abs=0.005)
    assert integral(Z, found) == pytest.approx(1.0)


def test_oxygen_shapes_the_doubt_as_well() -> None:
    shut = np.where(Z < 6.0, 1.0, 0.003)
    found = combined(Z, [factor("start", np.ones_like(Z)), factor("oxygen", shut)])
    assert share_below(Z, found, 6.0) < 0.005


@given(st.floats(0.0, 4.0), st.floats(0.5, 11.0))
def test_strength_is_a_power_and_zero_is_off(strength: float, at: float) -> None:
    bump = 0.2 + np.exp(-((Z - at) ** 2))
    plain = combined(Z, [factor("start", np.ones_like(Z))])
    found = combined(
        Z, [factor("start", np.ones_like(Z)), factor("grass", bump, strength=strength)]
    )
    by_hand = combined(Z, [factor("start", np.ones_like(Z)), factor("grass", bump**strength)])
    assert np.allclose(found, by_hand)
    if strength == 0.0:
        assert np.allclose(found, plain)


def test_fish_that_come_up_put_the_lure_above_them() -> None:
    fish = density(Z, np.exp(-0.5 * ((Z - 8.0) / 0.3) ** 2))
    lure = risen(Z, fish, 3.0)
    # even over 0 to 3 m above 8 m: the middle lies 1.5 m higher
    assert middle_of(Z, lure).median == pytest.approx(6.5, abs=0.1)
    assert share_below(Z, lure, 9.5) < 1e-3
    assert integral(Z, lure) == pytest.approx(1.0)
    assert np.array_equal(risen(Z, fish, 0.0), fish)


def test_bands_add_up_and_end_at_the_bottom() -> None:
    fish = density(Z, np.exp(-Z / 3.0))
    bands = band_chances(Z, fish, fish)
    assert sum(band.fish for band in bands) == pytest.approx(1.0)
    assert bands[0].low_m == 0.0
    assert bands[-1].high_m == 12.0
    assert [band.high_m for band in bands[:-1]] == list(LADDER.edges_m[1:])
    # exponential law cut at 12 m: closed form
    expected = (1.0 - np.exp(-LADDER.edges_m[1] / 3.0)) / (1.0 - np.exp(-4.0))
    assert bands[0].fish == pytest.approx(expected, rel=2e-3)


def test_a_shallow_pond_has_its_bands_cut() -> None:
    z = np.linspace(0.0, 2.0, 21)
    bands = band_chances(z, density(z, np.ones_like(z)), density(z, np.ones_like(z)))
    assert [band.high_m for band in bands] == pytest.approx([4 * 0.3048, 2.0])


def test_covers_add_up_and_the_angler_can_rule_one_out() -> None:
    flats = factor("wind", np.ones_like(Z), cover={"flat": 4.0})
    free = cover_chances(a_day(), [flats])
    assert sum(free.values()) == pytest.approx(1.0)
    assert max(free, key=lambda c: free[c]) == "flat"
    ruled = cover_chances(a_day(cover_weights={"flat": 0.0}), [flats])
    assert ruled["flat"] == 0.0
    assert sum(ruled.values()) == pytest.approx(1.0)


def test_joint_chances_keep_both_margins() -> None:
    fish = density(Z, np.exp(-Z / 4.0))
    bands = band_chances(Z, fish, fish)
    covers = cover_chances(a_day(), [])
    table = joint_chances(a_day(grass_edge_m=known(3.8)), bands, covers)
    assert table.sum(axis=1) == pytest.approx([band.lure for band in bands], abs=1e-6)
    assert table.sum(axis=0) == pytest.approx([covers[c] for c in COVERS], abs=1e-6)
    edge, flat = COVERS.index("edge"), COVERS.index("flat")
    at_edge = LADDER.index_of(3.8)
    assert table[at_edge, edge] / table[at_edge].sum() > table[0, edge] / table[0].sum()
    assert table[0, flat] / table[0].sum() > table[-1, flat] / table[-1].sum()


def test_each_part_is_the_belief_with_it_against_that_without_it() -> None:
    deep = 0.1 + 0.9 / (1.0 + np.exp(-(Z - 6.0)))
    told = with_parts(
        Z, [factor("start", np.exp(-Z / 3.0)), factor("forage", deep), factor("wind", Z * 0 + 1)]
    )
    by_key = {part.key: part for part in told}
    assert by_key["forage"].shift_m > 0.3
    assert 0.0 < by_key["forage"].moved < 1.0
    assert by_key["start"].shift_m < 0.0
    assert (by_key["wind"].shift_m, by_key["wind"].moved) == pytest.approx((0.0, 0.0))


def test_the_middle_s_band_holds_the_middle_and_grows_with_a_doubtful_factor() -> None:
    start = factor("start", np.exp(-Z / 4.0))
    deep = factor("forage", 0.1 + 0.9 / (1.0 + np.exp(-(Z - 6.0))))
    median = middle_of(Z, combined(Z, [start])).median
    low, high = median_band_m(Z, [start], median)
    assert low < median < high
    both = middle_of(Z, combined(Z, [start, deep])).median
    wide = median_band_m(Z, [start, deep], both)
    assert wide[1] - wide[0] > high - low
    none = median_band_m(Z, [factor("start", np.ones_like(Z))], 6.0)
    assert none == pytest.approx((6.0, 6.0)), "a factor that says nothing moves nothing"
