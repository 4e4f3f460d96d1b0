"""Quantities as people read them."""

from __future__ import annotations

import math

import pytest

from leadsman.dimensions import LENGTH
from leadsman.display_units import METRIC, US, display_units, quantity_text
from leadsman.errors import QuantityError


def test_us_text() -> None:
    assert US.depth.text(22.2 * 0.3048) == "22.2 ft"
    assert US.distance.text(60.2 * 0.9144) == "60 yd"
    assert US.test.text(12 * 4.4482216152605) == "12 lb"
    assert US.temperature.text(12.7777777778) == "55 degF"
    assert US.depth.band(12.6 * 0.3048, 13.9 * 0.3048) == "12.6 to 13.9 ft"


def test_metric_text() -> None:
    assert METRIC.depth.text(6.766) == "6.77 m"
    assert METRIC.diameter.text(3.1e-4) == "0.31 mm"
    assert METRIC.angle.text(math.pi / 6) == "30.0 deg"


def test_changes_are_signed_and_zero_is_not() -> None:
    assert US.depth.change(1.2 * 0.3048) == "+1.2 ft"
    assert US.depth.change(-1.2 * 0.3048) == "-1.2 ft"
    assert US.depth.change(-1e-6) == "0.0 ft"
    assert US.depth.text(-1e-6) == "0.0 ft"
    assert US.temperature.change(5.0) == "+9 degF"  # a difference has no offset


def test_what_is_not_a_number_is_a_dash() -> None:
    assert US.depth.text(math.nan) == "- ft"


def test_by_name() -> None:
    assert display_units("US") is US
    assert display_units("metric") is METRIC
    with pytest.raises(QuantityError, match="Use us or metric"):
        display_units("imperial")


def test_written_text_is_short() -> None:
    assert quantity_text(3.1e-4, LENGTH, "mm") == "0.31 mm"
    assert quantity_text(3.6576, LENGTH, "ft") == "12 ft"
