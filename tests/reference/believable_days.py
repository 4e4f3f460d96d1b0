"""Believable days for the tests of the outlook."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from leadsman.lake.estimate import Estimate
from leadsman.lake.water_column import WaterProfile
from leadsman.plan.day_types import Day, HourOfSun


def known(value: float) -> Estimate:
    """A number the angler is sure of."""
    return Estimate(value, value, value, "given", "your word")


def guessed(value: float, low: float, high: float) -> Estimate:
    """A number that is a guess."""
    return Estimate(value, low, high, "guess", "a rule")


def stratified(oxygen_to_m: float = 7.0) -> WaterProfile:
    """Warm water over cold, oxygen down to a depth."""
    z = np.arange(0.0, 16.0)
    celsius = 9.0 + 16.0 / (1.0 + np.exp((z - 7.0) / 0.7))
    oxygen = np.where(z < oxygen_to_m, 9.0, 0.2)
    return WaterProfile(z, celsius, oxygen)


def hours(*degrees: float) -> tuple[HourOfSun, ...]:
    """Hours from five o'clock with these heights of the sun."""
    return tuple(HourOfSun(5.0 + i, math.radians(d)) for i, d in enumerate(degrees))


def a_day(**changes: Any) -> Day:
    """A summer day of which little is known."""
    return Day(**{"max_depth_m": 15.0, "summer": True, "warming": False, **changes})
