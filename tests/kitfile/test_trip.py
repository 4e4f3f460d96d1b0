"""Trip files: what is read, and what a mistake gets."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import InputError, KitError
from leadsman.kitfile.trip import demo_trip_text, parse_trip, read_trip

DEMO = demo_trip_text()


def test_quantities_become_si() -> None:
    trip = parse_trip(DEMO)
    assert trip.hours.launch_s == 6 * 3600.0
    assert trip.hours.deadline_s == 14 * 3600.0
    assert trip.hours.reserve_s == 20 * 60.0
    assert math.isclose(trip.boat.speed_m_s, 25 * 0.44704)  # mile per hour, exact
    assert math.isclose(trip.boat.no_wake[0].radius_m, 150 * 0.9144)  # yard, exact
    assert trip.fish.seen_m == pytest.approx((11 * 0.3048, 15 * 0.3048))
    assert trip.water.temperature_c == pytest.approx((76 - 32) / 1.8)
    assert trip.launch.back_at_deg == trip.launch.at_deg


@pytest.mark.parametrize(
    ("was", "wrong", "field", "says"),
    [
        ('launch = "6:00"', 'launch = "26:00"', "day.launch", "2:00 pm"),
        ('speed = "25 mph"', 'sped = "25 mph"', "boat.sped", "'speed'"),
        ("rods = 3", 'rods = "3"', "tackle.rods", "whole number"),
        ('clarity = "9 ft"', 'clarity = "9"', "water.clarity", "unit"),
        ('deadline = "14:00"', 'deadline = "6:10"', "day.deadline", "reserve"),
        ('at = "45.0039, -90.0010"', 'at = "-89.0, 145.0"', "", ""),
        ('at = "45.0039, -90.0010"', 'at = "-190.0, 45.0"', "launch.at", "latitude"),
        ('want = "bites"', 'want = "bytes"', "aim.want", "'bites'"),
        ("date = 2025-07-12", 'date = "12 July"', "day.date", "2025-07-12"),
        ('speed = "25 mph"', 'speed = "250 mph"', "boat.speed", "100 mph"),
        ('name = "demo"', 'name = "demo"\nfile = "x.csv"', "lake", "twice"),
        ('radius = "150 yd"', 'radius = "-1 yd"', "no_wake.1.radius", "20 km"),
    ],
)
def test_a_mistake_is_placed(was: str, wrong: str, field: str, says: str) -> None:
    text = DEMO.replace(was, wrong, 1)
    assert text != DEMO
    if not field:
        parse_trip(text)  # a place on Earth; that it is not on the lake is told later
        return
    with pytest.raises(KitError) as caught:
        parse_trip(text)
    error = caught.value
    assert error.where.field == field
    assert says in error.message
    line = text.splitlines()[(error.where.line or 1) - 1]
    assert line.startswith((wrong.splitlines()[0], "["))


def test_a_missing_table_and_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(KitError, match="'launch' is missing"):
        parse_trip(
            '[day]\ndate = 2025-07-12\nlaunch = "6:00"\ndeadline = "9:00"\n[lake]\nname = "demo"'
        )
    with pytest.raises(KitError, match="plan --new"):
        read_trip(tmp_path / "none.toml")


def test_files_are_seen_from_the_trip(tmp_path: Path) -> None:
    path = tmp_path / "trip.toml"
    path.write_text(DEMO, encoding="utf-8")
    assert read_trip(path).source.file("kit.toml") == tmp_path / "kit.toml"


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(DEMO)), st.text(max_size=6))
def test_no_slip_of_the_keys_breaks_the_reader(at: int, typed: str) -> None:
    try:
        parse_trip(DEMO[:at] + typed + DEMO[at:])
    except InputError as error:
        assert error.message
