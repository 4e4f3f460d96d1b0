"""How quantities are shown to people, in US or metric units."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leadsman.dimensions import (
    ANGLE,
    AREA,
    FORCE,
    LENGTH,
    MASS,
    RATIO,
    SPEED,
    TEMPERATURE,
    Dimension,
)
from leadsman.errors import QuantityError


@dataclass(frozen=True, slots=True)
class Quantity:
    """How one kind of quantity is shown.

    Parameters
    ----------
    dimension : Dimension
        Kind of quantity [-].
    unit : str
        Unit it is shown in [-].
    digits : int
        Decimals shown [-].
    """

    dimension: Dimension
    unit: str
    digits: int

    def value(self, si: float) -> float:
        """Number in the shown unit, not rounded [unit]."""
        return self.dimension.value(si, self.unit)

    def number(self, si: float) -> str:
        """Rounded number without its unit [-]."""
        if not math.isfinite(si):
            return "-"
        text = f"{self.value(si):.{self.digits}f}"
        return text.lstrip("-") if float(text) == 0.0 else text

    def text(self, si: float) -> str:
        """Rounded number with its unit [-]."""
        return f"{self.number(si)} {self.unit}"

    def band(self, low_si: float, high_si: float) -> str:
        """Two ends of a band with their unit, ``"20.1 to 23.9 ft"`` [-]."""
        return f"{self.number(low_si)} to {self.number(high_si)} {self.unit}"

    def change(self, si: float) -> str:
        """Signed difference with its unit, ``"+1.2 ft"`` [-]."""
        factor = self.dimension.units[self.unit]
        text = f"{si / factor:+.{self.digits}f}"
        return f"{text if float(text) != 0.0 else text.lstrip('+-')} {self.unit}"


@dataclass(frozen=True, slots=True)
class DisplayUnits:
    """The units one person reads in.

    Parameters
    ----------
    name : str
        ``"us"`` or ``"metric"`` [-].
    depth : Quantity
        Depths and heights of the rod tip [-].
    distance : Quantity
        Casts and stretches of the retrieve [-].
    diameter : Quantity
        Line diameters [-].
    size : Quantity
        Bodies and lips of lures [-].
    mass : Quantity
        Masses of lures [-].
    test : Quantity
        Pound test [-].
    pull : Quantity
        Line tension [-].
    speed : Quantity
        Wind and boat speeds [-].
    reel_speed : Quantity
        Line taken in per second [-].
    temperature : Quantity
        Temperatures of the water [-].
    area : Quantity
        Pull areas [-].
    angle : Quantity
        Dive angles and headings [-].
    share : Quantity
        Contact loads and chances [-].
    """

    name: str
    depth: Quantity
    distance: Quantity
    diameter: Quantity
    size: Quantity
    mass: Quantity
    test: Quantity
    pull: Quantity
    speed: Quantity
    reel_speed: Quantity
    temperature: Quantity
    area: Quantity = Quantity(AREA, "cm2", 1)
    angle: Quantity = Quantity(ANGLE, "deg", 1)
    share: Quantity = Quantity(RATIO, "%", 0)


US = DisplayUnits(
    name="us",
    depth=Quantity(LENGTH, "ft", 1),
    distance=Quantity(LENGTH, "yd", 0),
    diameter=Quantity(LENGTH, "mm", 2),  # anglers on both sides compare lines in mm
    size=Quantity(LENGTH, "in", 2),
    mass=Quantity(MASS, "oz", 2),
    test=Quantity(FORCE, "lb", 0),
    pull=Quantity(FORCE, "lb", 1),
    speed=Quantity(SPEED, "mph", 0),
    reel_speed=Quantity(SPEED, "ft/s", 1),
    temperature=Quantity(TEMPERATURE, "degF", 0),
)
"""Feet, yards, ounces, pounds, degrees Fahrenheit."""

METRIC = DisplayUnits(
    name="metric",
    depth=Quantity(LENGTH, "m", 2),
    distance=Quantity(LENGTH, "m", 0),
    diameter=Quantity(LENGTH, "mm", 2),
    size=Quantity(LENGTH, "cm", 1),
    mass=Quantity(MASS, "g", 1),
    test=Quantity(FORCE, "kg", 1),
    pull=Quantity(FORCE, "N", 1),
    speed=Quantity(SPEED, "m/s", 1),
    reel_speed=Quantity(SPEED, "m/s", 2),
    temperature=Quantity(TEMPERATURE, "degC", 1),
)
"""Metres, grams, kilograms of test, newtons, degrees Celsius."""


def display_units(name: str) -> DisplayUnits:
    """Units of display by name.

    Parameters
    ----------
    name : str
        ``"us"`` or ``"metric"`` [-].

    Raises
    ------
    QuantityError
        Neither of the two.
    """
    for units in (US, METRIC):
        if name.strip().casefold() == units.name:
            return units
    raise QuantityError(f"unknown units '{name[:20]}'", "units", "Use us or metric")


def quantity_text(si: float, dimension: Dimension, unit: str) -> str:
    """Write a quantity so that reading it back gives the same value to 1 part in 10^11.

    Parameters
    ----------
    si : float
        Value [SI].
    dimension : Dimension
        Kind of quantity [-].
    unit : str
        Unit to write it in [-].
    """
    return f"{dimension.value(si, unit):.12g} {unit}"
