from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import InputError, TechniqueError
from leadsman.usecases.wind_text import parse_wind


def test_from_ahead_blows_into_the_face() -> None:
    wind = parse_wind("10 mph from ahead")
    assert wind.ahead_m_s == pytest.approx(4.4704)
    assert wind.right_m_s == pytest.approx(0.0, abs=1e-12)


def test_sides_and_quarters() -> None:
    assert parse_wind("2 m/s from the right").right_m_s == pytest.approx(2.0)
    behind_left = parse_wind("2 m/s from behind left")
    assert behind_left.ahead_m_s < 0.0
    assert behind_left.right_m_s < 0.0


def test_compass_wind_is_taken_against_the_heading() -> None:
    # a north wind met by a cast to the east comes from the left
    wind = parse_wind("3 m/s from N", heading_deg=90.0)
    assert wind.right_m_s == pytest.approx(-3.0)
    assert parse_wind("3 m/s from 90 deg", heading_deg=90.0).ahead_m_s == pytest.approx(3.0)


@pytest.mark.parametrize("text", ["", "8 mph", "from ahead", "8 mph from above", "fast from ahead"])
def test_nonsense_gets_an_example(text: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_wind(text)
    assert "--wind" in caught.value.message


def test_compass_without_heading_asks_for_it() -> None:
    with pytest.raises(TechniqueError, match="--heading"):
        parse_wind("8 mph from NW")


@given(st.text(max_size=40))
def test_any_text_is_a_wind_or_a_clear_error(text: str) -> None:
    try:
        parse_wind(text)
    except InputError as error:
        assert error.message
