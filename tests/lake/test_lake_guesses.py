from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import LakeDataError
from leadsman.lake.lake_guesses import (
    fetch_thermocline_m,
    guess_surface_c,
    guess_thermocline,
)


def test_the_guess_says_that_it_is_one_and_is_wide() -> None:
    guess = guess_thermocline(5000.0)
    assert guess.is_guess
    assert guess.high > 2.0 * guess.low
    # known to over-predict: its middle lies above what the formula gives
    assert guess.value < fetch_thermocline_m(5000.0)


@pytest.mark.parametrize("fetch_m", [0.0, -5.0, 1e9, float("nan")])
def test_no_lake_is_so_long(fetch_m: float) -> None:
    with pytest.raises(LakeDataError, match="outside 10 m to 1000 km"):
        guess_thermocline(fetch_m)


def test_seasons_are_half_a_year_apart_on_the_two_halves_of_the_earth() -> None:
    north, south = guess_surface_c(208, 43.0), guess_surface_c(208, -43.0)
    assert north.value > 24.0
    assert south.value < 4.0
    assert guess_surface_c(25, -43.0).value == pytest.approx(north.value, abs=0.2)


@given(st.integers(1, 366), st.floats(-90.0, 90.0))
def test_the_guess_is_water(day: int, latitude: float) -> None:
    guess = guess_surface_c(day, latitude)
    assert 0.0 <= guess.low <= guess.value <= guess.high <= 40.0
    assert guess.high - guess.low >= 5.0
    assert "guess" in guess.source
