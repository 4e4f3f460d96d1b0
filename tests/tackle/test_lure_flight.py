"""A lure in the air."""

from __future__ import annotations

import math

import pytest

from leadsman.hydro.cast_flight_path import FLIGHT_DRAG_COEFFICIENT
from leadsman.tackle.lure import Lure
from leadsman.tackle.lure_flight import lure_flight_drag_area_m2


def test_ball_without_a_lip() -> None:
    """Mean projected area of a sphere is pi r^2 (Cauchy); the least lip adds 4 mm2 / 2."""
    lure = Lure("ball", 0.04, 0.002, 0.002, 0.02, body_width_m=0.04)
    area = math.pi * 0.02**2 + 2e-6
    assert lure_flight_drag_area_m2(lure) == pytest.approx(FLIGHT_DRAG_COEFFICIENT * area, rel=0.01)


def test_a_bigger_lure_has_more_drag() -> None:
    small = Lure("a", 0.05, 0.02, 0.02, 0.012)
    big = Lure("b", 0.09, 0.05, 0.03, 0.04)
    assert lure_flight_drag_area_m2(small) < lure_flight_drag_area_m2(big)
