"""Kinds of quantity, their units and the exact factors between them.

Conversion factors are the exact definitions (international foot and pound,
standard gravity) of NIST Special Publication 811 (2008), Appendix B; they are
recalled from memory and are definitions, so they have no spread.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

FOOT_M = 0.3048
"""International foot [m], exact."""
INCH_M = 0.0254
"""International inch [m], exact."""
YARD_M = 0.9144
"""International yard [m], exact."""
POUND_KG = 0.45359237
"""Avoirdupois pound [kg], exact."""
OUNCE_KG = POUND_KG / 16.0
"""Avoirdupois ounce [kg], exact."""
STANDARD_GRAVITY_M_S2 = 9.80665
"""Standard acceleration of free fall [m s-2], exact."""
POUND_FORCE_N = POUND_KG * STANDARD_GRAVITY_M_S2
"""Pound-force [N], exact."""
MPH_M_S = 0.44704
"""Mile per hour [m s-1], exact."""
KNOT_M_S = 1852.0 / 3600.0
"""International knot [m s-1], exact."""
PSI_PA = POUND_FORCE_N / INCH_M**2
"""Pound-force per square inch [Pa], exact."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """One kind of quantity and the units it may be written in.

    Parameters
    ----------
    name : str
        Name with its article, as a sentence needs it [-].
    example : str
        A quantity of this kind as a person would write it [-].
    units : dict of str to float
        SI value of one of each unit [SI].
    offsets : dict of str to float
        SI value of the zero of a unit, for units that do not start at zero [SI].
    """

    name: str
    example: str
    units: dict[str, float]
    offsets: dict[str, float]

    def si(self, value: float, unit: str) -> float:
        """Value in SI [SI]."""
        return value * self.units[unit] + self.offsets.get(unit, 0.0)

    def value(self, si: float, unit: str) -> float:
        """Value in a unit [unit]."""
        return (si - self.offsets.get(unit, 0.0)) / self.units[unit]


def _dimension(
    name: str, example: str, units: dict[str, float], offsets: dict[str, float] | None = None
) -> Dimension:
    """Spread ``"ft feet foot"`` keys over their spellings."""
    spread = {word: factor for words, factor in units.items() for word in words.split("|")}
    shifts = {word: at for words, at in (offsets or {}).items() for word in words.split("|")}
    return Dimension(name, example, spread, shifts)


LENGTH = _dimension(
    "a length",
    "12 ft",
    {
        "ft|'|foot|feet": FOOT_M,
        'in|"|inch|inches': INCH_M,
        "yd|yds|yard|yards": YARD_M,
        "m|meter|meters|metre|metres": 1.0,
        "cm|centimetre|centimetres|centimeter|centimeters": 1e-2,
        "mm|millimetre|millimetres|millimeter|millimeters": 1e-3,
        "um|μm|micrometre|micrometer": 1e-6,
        "km|kilometre|kilometres|kilometer|kilometers": 1e3,
        "mi|mile|miles": 5280.0 * FOOT_M,
        "fathom|fathoms": 6.0 * FOOT_M,
    },
)
MASS = _dimension(
    "a mass",
    "1/2 oz",
    {
        "oz|ounce|ounces": OUNCE_KG,
        "lb|lbs|pound|pounds": POUND_KG,
        "g|gram|grams|gramme|grammes": 1e-3,
        "kg|kilogram|kilograms": 1.0,
        "mg|milligram|milligrams": 1e-6,
    },
)
FORCE = _dimension(
    "a force or a pound test",
    "12 lb",
    {
        "lb|lbs|lbf|pound|pounds|lb test|lbs test|lb-test|pound test|pound-test": POUND_FORCE_N,
        "oz|ozf|ounce|ounces": POUND_FORCE_N / 16.0,
        "N|newton|newtons": 1.0,
        "kN": 1e3,
        "mN": 1e-3,
        "kg|kgf|kg test": STANDARD_GRAVITY_M_S2,
        "g|gf|gram|grams": STANDARD_GRAVITY_M_S2 * 1e-3,
    },
)
SPEED = _dimension(
    "a speed",
    "3 mph",
    {
        "mph|mi/h": MPH_M_S,
        "m/s|mps": 1.0,
        "km/h|kmh|kph": 1.0 / 3.6,
        "ft/s|fps": FOOT_M,
        "in/s": INCH_M,
        "cm/s": 1e-2,
        "kn|kt|kts|knot|knots": KNOT_M_S,
    },
)
ANGLE = _dimension(
    "an angle",
    "30 deg",
    {"deg|°|degree|degrees": math.pi / 180.0, "rad|radian|radians": 1.0},
)
AREA = _dimension(
    "an area",
    "20 cm2",
    {
        "m2|m^2|sq m": 1.0,
        "cm2|cm^2|sq cm": 1e-4,
        "mm2|mm^2|sq mm": 1e-6,
        "in2|in^2|sq in": INCH_M**2,
        "ft2|ft^2|sq ft": FOOT_M**2,
    },
)
DENSITY = _dimension(
    "a density",
    "1.14 g/cm3",
    {
        "g/cm3|g/cm^3|g/cc|g/ml|kg/l|t/m3": 1e3,
        "kg/m3|kg/m^3|g/l": 1.0,
        "lb/ft3|lb/ft^3": POUND_KG / FOOT_M**3,
    },
)
PRESSURE = _dimension(
    "a pressure or modulus",
    "1.6 GPa",
    {
        "GPa": 1e9,
        "MPa|N/mm2|N/mm^2": 1e6,
        "kPa": 1e3,
        "Pa|N/m2|N/m^2": 1.0,
        "bar": 1e5,
        "psi": PSI_PA,
        "ksi": PSI_PA * 1e3,
    },
)
TEMPERATURE = _dimension(
    "a temperature",
    "55 degF",
    {"degF|°F|F|deg F": 5.0 / 9.0, "degC|°C|C|deg C": 1.0, "K": 1.0},
    {"degF|°F|F|deg F": -160.0 / 9.0, "K": -273.15},
)
TIME = _dimension(
    "a time",
    "20 s",
    {
        "s|sec|secs|second|seconds": 1.0,
        "min|mins|minute|minutes": 60.0,
        "h|hr|hrs|hour|hours": 3600.0,
        "ms": 1e-3,
        "d|day|days": 86400.0,
    },
)
TURNS = _dimension("a number of handle turns", "12 turns", {"turns|turn": 1.0})
RATIO = _dimension("a share", "12 %", {"%|percent": 1e-2})

ALL_DIMENSIONS = (
    LENGTH, MASS, FORCE, SPEED, ANGLE, AREA, DENSITY, PRESSURE, TEMPERATURE, TIME, TURNS, RATIO,
)  # fmt: skip
"""Every kind of quantity."""
