from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from leadsman.errors import LakeDataError
from leadsman.lake.water_column import (
    WaterProfile,
    oxygen_floor_m,
    saturation_mg_l,
    thermocline_m,
)
from leadsman.water import fresh_density_kg_m3


def profile(depths: list[float], temps: list[float], oxygen: list[float] | None = None):
    return WaterProfile(
        np.array(depths), np.array(temps), None if oxygen is None else np.array(oxygen)
    )


def layered(at_m: float, spacing_m: float = 1.0) -> WaterProfile:
    """Warm over cold, with a smooth step about a depth."""
    z = np.arange(0.0, 21.0, spacing_m)
    return WaterProfile(z, 8.0 + 16.0 / (1.0 + np.exp((z - at_m) / 0.8)))


@pytest.mark.parametrize("at_m", [4.5, 7.5, 11.5])
def test_thermocline_lies_at_the_step(at_m: float) -> None:
    # The density of warm water falls faster with temperature than that of cold, so the steepest
    # density lies somewhat above the steepest temperature.
    found = thermocline_m(layered(at_m))
    assert found is not None
    assert at_m - 0.8 < found < at_m + 0.2


def test_thermocline_follows_a_shift_and_a_scale_of_depth() -> None:
    plain = layered(7.5)
    at = thermocline_m(plain)
    assert at is not None
    shifted = WaterProfile(plain.depth_m + 2.0, plain.temperature_c)
    scaled = WaterProfile(plain.depth_m * 0.5, plain.temperature_c)
    assert thermocline_m(shifted) == pytest.approx(at + 2.0)
    assert thermocline_m(scaled) == pytest.approx(0.5 * at)


def at_density(kg_m3: float) -> float:
    """Temperature above 4 degC at which fresh water has a density."""
    return float(brentq(lambda c: fresh_density_kg_m3(c) - kg_m3, 4.0, 40.0))


@pytest.mark.parametrize(("above", "below", "expected"), [(0.2, 0.2, 1.5), (0.2, 0.6, 5.0 / 3.0)])
def test_the_middle_leans_to_the_steeper_neighbour(
    above: float, below: float, expected: float
) -> None:
    # Read et al. 2011: with gradients g0, g1 (greatest), g2 the depth divides the interval by
    # 1/(g1 - g2) to 1/(g1 - g0); 1.0 about 0.2 and 0.6: 2.5 to 1.25, two thirds of the way down.
    steps = [996.0, 996.0 + above, 997.0 + above, 997.0 + above + below]
    p = profile([0.0, 1.0, 2.0, 3.0], [at_density(rho) for rho in steps])
    assert thermocline_m(p) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(
    ("depths", "temps"),
    [
        ([0.0], [20.0]),
        ([0.0, 5.0], [20.0, 8.0]),
        ([0.0, 2.0, 4.0, 6.0], [20.0, 19.8, 19.6, 19.1]),
    ],
    ids=["one point", "two points", "under 1 degC"],
)
def test_no_thermocline_where_read_2011_gives_none(depths, temps) -> None:
    assert thermocline_m(profile(depths, temps)) is None


def test_water_that_grows_lighter_downward_has_none() -> None:
    # from 4 to 0 degC water expands: density falls with depth here
    assert thermocline_m(profile([0.0, 1.0, 2.0, 3.0], [3.9, 2.5, 1.5, 0.5])) is None


def test_steepest_at_the_end_is_the_middle_of_its_interval() -> None:
    assert thermocline_m(profile([0.0, 1.0, 2.0, 3.0], [25.0, 15.0, 14.0, 13.5])) == 0.5


def test_oxygen_floor_is_the_first_reading_short_of_it() -> None:
    p = profile([0.0, 2.0, 4.0, 6.0], [20.0] * 4, [8.0, 5.0, 2.9, 0.1])
    assert oxygen_floor_m(p) == 4.0
    assert oxygen_floor_m(p, limit_mg_l=2.0) == 6.0
    assert oxygen_floor_m(profile([0.0, 2.0], [20.0, 20.0], [8.0, 7.0])) is None
    assert oxygen_floor_m(profile([0.0, 2.0], [20.0, 20.0])) is None


def test_oxygen_is_read_across_gaps() -> None:
    p = profile([0.0, 1.0, 2.0], [20.0] * 3, [8.0, np.nan, 4.0])
    read = p.oxygen_at(np.array([1.0, 9.0]))
    assert read is not None
    assert read.tolist() == [6.0, 4.0]


@given(st.floats(0.0, 40.0))
def test_warm_water_holds_less_oxygen(celsius: float) -> None:
    cold, warm = saturation_mg_l(np.array([celsius, celsius + 1.0]))
    assert 5.0 < warm < cold < 15.0


@pytest.mark.parametrize(
    ("depths", "temps", "words"),
    [
        ([], [], "at least one"),
        ([0.0, 1.0], [20.0], "one length"),
        ([2.0, 1.0], [20.0, 19.0], "rise"),
        ([-1.0, 1.0], [20.0, 19.0], "rise"),
        ([0.0, 1.0], [20.0, np.nan], "not a number"),
        ([0.0, 1.0], [20.0, 68.0], "outside 0 to 40"),
    ],
)
def test_what_is_no_profile_is_refused(depths, temps, words) -> None:
    with pytest.raises(LakeDataError, match=words):
        WaterProfile(np.array(depths, dtype=float), np.array(temps, dtype=float))
