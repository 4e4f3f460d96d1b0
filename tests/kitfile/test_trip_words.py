"""Times of day, dates and places as written."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import QuantityError
from leadsman.kitfile.trip_words import calendar_date, clock_s, clock_text, place_deg


@given(st.integers(0, 1439))
def test_there_and_back(minute: int) -> None:
    assert clock_s(clock_text(60.0 * minute)) == 60.0 * minute
    assert clock_text(60.0 * minute + 59.0) == clock_text(60.0 * minute)


def test_forms_of_a_time() -> None:
    assert clock_s("2:05 pm") == 14 * 3600.0 + 300.0
    assert clock_s("12:10 am") == 600.0
    assert clock_s("12:10PM") == 12 * 3600.0 + 600.0
    assert clock_s(dt.time(6, 30)) == 6.5 * 3600.0
    assert clock_s("24:00") == 86400.0
    for wrong in ("6", "25:00", "24:01", "6:60", "13:00 pm", "0:10 am", "", None, 6.5, "六:00"):
        with pytest.raises(QuantityError, match="no time of day"):
            clock_s(wrong)


def test_dates_and_places() -> None:
    assert calendar_date("2025-07-12") == calendar_date(dt.date(2025, 7, 12))
    with pytest.raises(QuantityError, match="no date"):
        calendar_date("12 July")
    assert place_deg("45.5, -90") == place_deg("45.5 -90.0") == (45.5, -90.0)
    for wrong in ("45", "here", "95, 10", "10, 190", "nan, 5", 45.0, None):
        with pytest.raises(QuantityError):
            place_deg(wrong)
