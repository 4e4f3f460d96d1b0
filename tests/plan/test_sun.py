from __future__ import annotations

import math
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from leadsman.errors import PlanError
from leadsman.plan.sun import hours_of_sun, solar_zone, sun_position, sun_times

CHICAGO = ZoneInfo("America/Chicago")


def test_sun_is_highest_at_noon_and_south_of_a_northern_place() -> None:
    noon = sun_times(date(2024, 6, 20), 45.0, -93.0, CHICAGO).noon
    assert noon is not None
    at = sun_position(noon, 45.0, -93.0)
    # at the solstice the sun stands 23.44 degrees north of the equator (astronomy, from memory)
    assert at.zenith_deg == pytest.approx(45.0 - 23.44, abs=0.05)
    assert at.azimuth_deg == pytest.approx(180.0, abs=0.2)


def test_day_and_night_are_alike_at_the_equinox() -> None:
    times = sun_times(date(2024, 3, 20), 0.0, 0.0, UTC)
    assert times.sunrise is not None and times.sunset is not None
    # 12 h and 7 min: refraction of 34' and half a sun of 16' (almanac convention, from memory)
    assert times.sunset - times.sunrise == pytest.approx(
        timedelta(hours=12, minutes=6, seconds=44), abs=timedelta(minutes=1)
    )


def test_the_sun_does_not_set_in_a_polar_summer() -> None:
    times = sun_times(date(2024, 6, 20), 75.0, 20.0, UTC)
    assert times.sunrise is None and times.sunset is None


def test_hours_are_those_of_the_clock() -> None:
    hours = hours_of_sun(date(2024, 7, 20), 45.0, -93.0, CHICAGO, 5.0, 9.5)
    assert [hour.start_h for hour in hours] == [5.0, 6.0, 7.0, 8.0, 9.0]
    heights = [hour.elevation_rad for hour in hours]
    assert heights == sorted(heights)
    half_past_five = datetime(2024, 7, 20, 5, 30, tzinfo=CHICAGO)
    expected = 90.0 - sun_position(half_past_five, 45.0, -93.0).zenith_deg
    assert math.degrees(heights[0]) == pytest.approx(expected, abs=1e-6)


def test_the_clock_change_moves_the_hour() -> None:
    summer = hours_of_sun(date(2024, 11, 2), 45.0, -93.0, CHICAGO, 8.0, 9.0)[0].elevation_rad
    winter = hours_of_sun(date(2024, 11, 3), 45.0, -93.0, CHICAGO, 8.0, 9.0)[0].elevation_rad
    assert winter - summer > math.radians(7.0), "an hour later by the sun"


@pytest.mark.parametrize(("lon_deg", "hours"), [(-93.2, -6), (0.0, 0), (179.0, 12)])
def test_zone_by_longitude(lon_deg: float, hours: int) -> None:
    assert solar_zone(lon_deg).utcoffset(None) == timedelta(hours=hours)


@pytest.mark.parametrize("span", [(9.0, 5.0), (-1.0, 5.0), (5.0, 25.0), (5.0, 5.0)])
def test_hours_that_run_backwards(span: tuple[float, float]) -> None:
    with pytest.raises(PlanError, match="no stretch of one day"):
        hours_of_sun(date(2024, 7, 20), 45.0, -93.0, CHICAGO, *span)


def test_a_place_off_the_earth() -> None:
    with pytest.raises(PlanError, match="not a place"):
        sun_times(date(2024, 7, 20), 95.0, 0.0, CHICAGO)
