from __future__ import annotations

import math
import re
from datetime import date
from time import tzset

import pytest

from leadsman.errors import PlanError
from leadsman.usecases.resolve_sun import resolve_sun

DAY, PLACE = date(2024, 7, 20), (45.0, -93.2)


def test_without_day_or_place_there_is_no_sun() -> None:
    assert resolve_sun(None, PLACE, None, None).hours == ()
    assert resolve_sun(DAY, None, None, None).hours == ()


@pytest.mark.parametrize("given", [{"zone": "UTC-5"}, {"hours_h": (6.0, 10.0)}])
def test_hours_without_a_day_are_refused(given) -> None:
    with pytest.raises(PlanError, match="need a day and a place"):
        resolve_sun(None, PLACE, given.get("zone"), given.get("hours_h"))


def test_all_the_light_of_the_day_unless_told() -> None:
    found = resolve_sun(DAY, PLACE, "America/Chicago", None)
    # length of the day 2 acos(-tan(lat) tan(decl)) / 15 deg per hour, declination 20.6 deg on
    # 20 July (astronomy, from memory): 14.9 h, and some 12 min of refraction; noon by
    # longitude at 13:13, and 6 min of the equation of time
    half_h = math.degrees(math.acos(-math.tan(math.radians(45.0)) * math.tan(math.radians(20.6))))
    half_h = half_h / 15.0 + 0.1
    noon_h = 12.0 + (93.2 - 75.0) / 15.0 + 0.1
    assert found.hours[0].start_h == math.floor(noon_h - half_h)
    assert found.hours[-1].start_h == math.ceil(noon_h + half_h) - 1.0
    clock = re.search(r"Sunrise (\d+):(\d+)", " ".join(found.notes))
    assert clock is not None
    assert int(clock[1]) + int(clock[2]) / 60.0 == pytest.approx(noon_h - half_h, abs=0.06)


@pytest.mark.parametrize("zone", ["UTC-5", "utc -5", "GMT-05:00", "America/Chicago"])
def test_ways_to_write_a_zone(zone: str) -> None:
    found = resolve_sun(DAY, PLACE, zone, (6.0, 8.0))
    same = resolve_sun(DAY, PLACE, "America/Chicago", (6.0, 8.0))
    assert found.hours == same.hours


@pytest.mark.parametrize("zone", ["Middle/Earth", "", "UTC-99", "../etc", "a\0b"])
def test_an_unknown_zone(zone: str) -> None:
    with pytest.raises(PlanError, match="unknown time zone"):
        resolve_sun(DAY, PLACE, zone, None)


@pytest.mark.parametrize(
    ("machine", "words"),
    [("America/Chicago", "this computer's zone"), ("Asia/Tokyo", "from the longitude alone")],
)
def test_the_machine_s_zone_counts_only_near_the_place(
    machine: str, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TZ", machine)
    tzset()
    try:
        assert words in resolve_sun(DAY, PLACE, None, None).notes[0]
    finally:
        monkeypatch.undo()
        tzset()


def test_a_polar_summer_has_24_hours() -> None:
    found = resolve_sun(date(2024, 6, 20), (75.0, 20.0), "UTC+2", None)
    assert len(found.hours) == 24
    assert all(hour.elevation_rad > 0.0 for hour in found.hours)
