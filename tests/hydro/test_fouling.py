"""Fouling in grass against closed forms; its coefficients are assumptions and are not tested."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import QuantityError
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.hydro.fouling import (
    ClearingTackle,
    FoulingCoefficients,
    clean_zone,
    clear_chance,
    fouling_hazard,
    grass_effect,
    pull_available,
)
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.zone import PathBatch

BOTTOM = BottomProfile.flat(5.0)
NEVER_CLEARS = ClearingTackle(breaking_n=1e-9)


def level_path(depth_m: float, length_m: float = 40.0, samples: int = 400) -> PathBatch:
    x = np.linspace(length_m, 0.0, samples)
    ones = np.ones(samples)
    return PathBatch.of(
        [Retrieve(length_m - x, x, depth_m * ones, x + 1.0, 3.0 * ones, ones, 0.0 * ones)]
    )


def layer(top_m: float, density: float) -> GrassLayer:
    return GrassLayer(np.array([0.0, 100.0]), np.full(2, top_m), np.full(2, density))


@pytest.mark.parametrize("density", [0.2, 1.0])
@pytest.mark.parametrize("intrusion_m", [0.1, 0.5])
def test_clean_metres_are_those_of_a_constant_hazard(density: float, intrusion_m: float) -> None:
    """Constant hazard h over length D, no clearing: (1 - exp(-h D)) / h (closed form)."""
    grass = FoulingCoefficients(hazard_per_m2=0.4, raggedness_m=0.0)
    hazard = 0.4 * intrusion_m * density
    expected = -math.expm1(-hazard * 40.0) / hazard
    found = clean_zone(
        level_path(3.0 + intrusion_m), layer(3.0, density), BOTTOM, NEVER_CLEARS, grass
    )
    assert found.clean_zone_m[0] == pytest.approx(expected, rel=1e-3)
    assert found.lost_chance[0] == pytest.approx(-math.expm1(-hazard * 40.0), rel=1e-9)
    assert found.unfouled_zone_m[0] == pytest.approx(40.0, rel=1e-12)
    assert found.low_m[0] < found.clean_zone_m[0] < found.high_m[0]


def test_clearing_thins_the_hazard() -> None:
    """A thinned Poisson process: only the share that cannot be cleared ends the cast."""
    grass = FoulingCoefficients(hazard_per_m2=0.4, raggedness_m=0.0)
    # half of the fouls need more than the median pull, and the rod gives just the median
    median_n = grass.clear_base_n + grass.clear_per_m_n * 0.5
    tackle = ClearingTackle(breaking_n=1e6, rod_power_n=median_n, rod_bend_m=0.0)
    hazard = 0.5 * 0.4 * 0.5
    found = clean_zone(level_path(3.5), layer(3.0, 1.0), BOTTOM, tackle, grass)
    assert found.clean_zone_m[0] == pytest.approx(-math.expm1(-hazard * 40.0) / hazard, rel=1e-3)
    # fouls per cast: twice the lost casts, as each foul is lost with chance one half
    assert found.fouls[0] == pytest.approx(2.0 * found.lost_chance[0], rel=1e-3)


def test_snap_is_two_springs_in_series() -> None:
    """F = s / (L / EA + bend / power); own derivation, elementary statics."""
    tackle = ClearingTackle(
        breaking_n=1e4, stiffness_n=150.0, rod_power_n=60.0, rod_bend_m=1.0, sweep_m=1.5
    )
    expected = 1.5 / (50.0 / 150.0 + 1.0 / 60.0)
    assert float(pull_available(50.0, 0.0, tackle)) == pytest.approx(expected, rel=1e-12)
    assert float(pull_available(50.0, 2.0, tackle)) == pytest.approx(expected + 2.0, rel=1e-12)
    weak = ClearingTackle(breaking_n=5.0, knot_share=0.7)
    assert float(pull_available(1.0, 0.0, weak)) == pytest.approx(3.5)


def test_low_stretch_and_strong_line_clears_better() -> None:
    """Fact of the trade 9 (common practice, no source): heavier or stiffer line clears better."""
    chances = [
        float(
            clear_chance(
                0.3, 0.8, pull_available(40.0, 3.0, ClearingTackle(strength_n, stiffness_n))
            )
        )
        for strength_n, stiffness_n in ((36.0, 90.0), (62.0, 150.0), (90.0, 2500.0))
    ]
    assert chances[0] < chances[1] < chances[2]


def test_chance_is_one_half_at_the_median_pull() -> None:
    grass = FoulingCoefficients()
    median_n = grass.clear_base_n + grass.clear_per_m_n * 0.3 * 0.8
    assert float(clear_chance(0.3, 0.8, median_n, grass)) == pytest.approx(0.5, abs=1e-12)


def test_no_grass_where_it_does_not_stand_above_the_bottom() -> None:
    effect = grass_effect(level_path(4.99), layer(5.0, 1.0), BOTTOM, NEVER_CLEARS)
    assert effect.lost_chance[0] == 0.0
    assert effect.touch_share.max() == 0.0


def test_ragged_top_is_touched_from_above() -> None:
    grass = FoulingCoefficients(raggedness_m=0.15)
    over = grass_effect(level_path(2.9), layer(3.0, 0.5), BOTTOM, NEVER_CLEARS, grass)
    clear = grass_effect(level_path(2.8), layer(3.0, 0.5), BOTTOM, NEVER_CLEARS, grass)
    assert over.touch_share.min() == 1.0
    assert clear.touch_share.max() == 0.0


@settings(max_examples=50, deadline=None)
@given(
    intrusion_m=st.floats(0.0, 3.0),
    density=st.floats(0.0, 1.0),
    hooks=st.integers(0, 9),
    more=st.floats(1.01, 3.0),
)
def test_hazard_rises_with_each_of_its_causes(
    intrusion_m: float, density: float, hooks: int, more: float
) -> None:
    here = float(fouling_hazard(intrusion_m, density, hooks))
    assert here >= 0.0
    assert float(fouling_hazard(intrusion_m * more, density, hooks)) >= here
    assert float(fouling_hazard(intrusion_m, min(density * more, 1.0), hooks)) >= here
    assert float(fouling_hazard(intrusion_m, density, hooks + 3)) >= here
    assert float(clear_chance(intrusion_m * more, density, 20.0)) <= float(
        clear_chance(intrusion_m, density, 20.0)
    )


def test_impossible_tackle_is_refused() -> None:
    with pytest.raises(QuantityError, match="strengths"):
        ClearingTackle(breaking_n=0.0)
    with pytest.raises(QuantityError, match="knot share"):
        ClearingTackle(breaking_n=10.0, knot_share=1.5)
    with pytest.raises(QuantityError, match="negative"):
        ClearingTackle(breaking_n=10.0, open_hooks=-1)
    with pytest.raises(QuantityError, match="negative"):
        FoulingCoefficients(hazard_per_m2=-1.0)
