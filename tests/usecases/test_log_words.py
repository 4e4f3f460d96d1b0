"""Entries in words, moments of the clock and sizes of fish."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.display_units import METRIC, US
from leadsman.errors import InputError
from leadsman.kitfile.template import demo_kit
from leadsman.usecases.log_book import moment_utc_s
from leadsman.usecases.log_fish import size_of
from leadsman.usecases.log_tackle import place_of, split_setup
from leadsman.usecases.log_words import entry_words, weight_text
from leadsman.waterlog.events import BODIES, Bite, Fish, Place, SetupStart, WaterReading


@pytest.fixture
def utc(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    with monkeypatch.context() as patch:
        patch.setenv("TZ", "UTC")
        time.tzset()
        yield
    time.tzset()


@pytest.mark.parametrize(
    ("texts", "length_m", "weight_kg"),
    [
        (["16 in"], 0.4064, None),
        (["1 ft 4 in"], 0.4064, None),
        (["2 lb 4 oz"], None, 1.02058283),
        (["41 cm", "1.1 kg"], 0.41, 1.1),
        (["1.1 kg", "41 cm"], 0.41, 1.1),
    ],
)
def test_sizes(texts: list[str], length_m: float | None, weight_kg: float | None) -> None:
    """Exact inch and pound of NIST SP 811: 25.4 mm and 0.45359237 kg."""
    found = size_of(texts)
    assert found[0] == (pytest.approx(length_m) if length_m else None)
    assert found[1] == (pytest.approx(weight_kg) if weight_kg else None)


@given(st.lists(st.text(max_size=12), max_size=3))
def test_any_text_is_a_size_or_a_clear_message(texts: list[str]) -> None:
    try:
        size_of(texts)
    except InputError as error:
        assert error.remedy


@given(st.text(max_size=24))
def test_any_text_is_a_moment_or_a_clear_message(text: str) -> None:
    try:
        assert moment_utc_s(text, 1.75e9) <= 1.75e9 + 60.0
    except InputError as error:
        assert error.problem


@given(st.text(max_size=30), st.one_of(st.none(), st.text(max_size=10)))
def test_any_text_is_a_place_or_a_clear_message(text: str, ground: str | None) -> None:
    try:
        assert place_of(text, None, ground).place
    except InputError as error:
        assert error.remedy


def test_moments(utc: None) -> None:
    now = 1_750_000_000.0  # 2025-06-15 15:06:40 UTC
    assert moment_utc_s("15:00", now) == now - 400.0
    assert moment_utc_s("2025-06-14 15:00", now) == now - 400.0 - 86_400.0


def test_weights() -> None:
    assert weight_text(2.25 * 0.45359237, US) == "2 lb 4 oz"
    assert weight_text(15.99 / 16 * 0.45359237, US) == "1 lb 0 oz"
    assert weight_text(1.234, METRIC) == "1.23 kg"


def test_a_position_is_a_place(utc: None) -> None:
    found = place_of("45.12345, -93.5", 3.0)
    assert (found.lat_deg, found.lon_deg) == (45.12345, -93.5)
    assert place_of("10 mile rock").lat_deg is None


def test_names_of_setups_are_read_back() -> None:
    kit = demo_kit()
    for lure in kit.lures:
        for line in kit.lines:
            assert split_setup(f"{lure.name} on {line.name}", kit) == (lure.name, line.name)
    assert split_setup("long-lip-15 on rope", kit) is None
    assert split_setup("long-lip-15", kit) is None


def test_every_kind_has_words_in_both_units() -> None:
    required: dict[str, dict[str, object]] = {
        "trip_start": {"lake": "Invented Lake"}, "setup_start": {"setup": "a on b"},
        "place": {"place": "bar", "bottom_m": 3.0}, "casts": {"count": 3},
        "fish_fate": {"fish": "event-01", "fate": "released"},
        "stretch": {"stretch": "bar", "taken": True}, "line": {"setup": "a on b"},
        "contact": {"depth_m": 3.0}, "sighting": {"what": "birds"}, "note": {"text": "x"},
        "advice": {"option": "a", "gain": 1.0, "chance": 0.7}, "undo": {"target": "event-01"},
        "amend": {"target": "event-01"},
    }  # fmt: skip
    for kind, body in BODIES.items():
        for units in (US, METRIC):
            assert entry_words(body(**required.get(kind, {})), units).strip()  # type: ignore[arg-type]


def test_units_stand_beside_numbers() -> None:
    bodies = (
        Place("bar", "drop", 3.048), Fish(0.4064, 1.0, "kept"), WaterReading(20.0, 3.048, 2.0, 6.0),
        SetupStart("a on b", cast_m=45.72, tip_m=-0.9144),
    )  # fmt: skip
    told = [entry_words(body, US) for body in bodies]
    assert "10.0 ft" in told[0]
    assert "16.00 in" in told[1]
    assert "68 degF" in told[2]
    assert "6.0 mg/L" in told[2]
    assert "50 yd" in told[3]
    assert "3.0 ft under water" in told[3]
    assert entry_words(Bite(), US) == "bite"
