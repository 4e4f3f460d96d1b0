"""Quantities as a person writes them, read into SI and written back.

``"12 ft"``, ``"12'6\\""``, ``"3/8 oz"``, ``"0,31 mm"``, ``"18-22ft"``: text
becomes one finite number in the SI unit that the function's name ends with.
How numbers are shown to people is in `leadsman.display_units`.
"""

from __future__ import annotations

import difflib
import math
import re
import unicodedata
from dataclasses import dataclass
from datetime import date
from datetime import time as clock_time
from functools import lru_cache

from leadsman.dimensions import (
    ALL_DIMENSIONS,
    ANGLE,
    AREA,
    DENSITY,
    FORCE,
    LENGTH,
    MASS,
    PRESSURE,
    RATIO,
    SPEED,
    TEMPERATURE,
    TIME,
    TURNS,
    Dimension,
)
from leadsman.errors import QuantityError, Where

MAX_TEXT = 80
"""Longest text taken for one quantity [characters]."""

_PARTS = {  # units that people chain, largest first: 12 ft 6 in, 1 lb 3 oz, 1 h 20 min
    "a length": (("yd", "ft", "in"), ("m", "cm")),
    "a mass": (("lb", "oz"),),
    "a time": (("h", "min", "s"),),
}
_DECIMAL = r"(?:\d+(?:[.,]\d*)*|[.,]\d+)(?:[eE][+-]?\d+)?"
_FRACTION = r"(?:\d+(?:\s+|-))?\d+\s*/\s*\d+"
_NUMBER = re.compile(rf"\s*([+-]?)\s*({_FRACTION}|{_DECIMAL})", re.ASCII)
_RANGE_WORD = re.compile(r"\s+to\s+|\.\.+")
_SPREAD = re.compile(r"\+/?-|±")
_TRANSLATE = str.maketrans(
    {"−": "-", "–": "-", "—": "-", "⁄": "/", "′": "'", "’": "'", "‘": "'", "”": '"', "“": '"',
     "µ": "μ", "º": "°", "·": " "}
)  # fmt: skip

PlaceLike = Where | str | None


@lru_cache(maxsize=4096)
def _clean(text: str) -> str:
    """Fold typographic spellings into plain ones."""
    for char in set(text):
        if unicodedata.category(char) == "No" and "⁄" in unicodedata.normalize("NFKC", char):
            text = text.replace(char, " " + char)
    text = text.replace("º", "°")
    text = unicodedata.normalize("NFKC", text).translate(_TRANSLATE)
    return re.sub(r"\s+", " ", text.replace("''", '"')).strip()


def _shown(raw: object) -> str:
    if isinstance(raw, (date, clock_time)):
        text = raw.isoformat()  # a TOML date or time, as it stands in the file
    else:
        text = repr(raw) if not isinstance(raw, str) else f"'{raw}'"
    text = "".join(c if c.isprintable() else "?" for c in text)
    return text if len(text) <= MAX_TEXT else text[: MAX_TEXT - 3] + "..."


def _float(digits: str, raw: object, where: PlaceLike) -> float:
    """Read a decimal number, a fraction or a mixed number."""
    if "/" in digits:
        whole, _, part = re.sub(r"\s*/\s*", "/", digits).replace("-", " ").rpartition(" ")
        top, _, below = part.partition("/")
        if float(below) == 0.0:
            raise QuantityError(f"{_shown(raw)} divides by zero", where, "Check the fraction")
        return float(whole or 0.0) + float(top) / float(below)
    mantissa = re.split("[eE]", digits)[0]
    if "," in mantissa:
        head, _, tail = mantissa.partition(",")
        if "," in tail or "." in mantissa or (len(tail) == 3 and head.strip("0")):
            raise QuantityError(
                f"the comma in {_shown(raw)} may be a decimal or a thousands mark",
                where,
                "Write the decimals after a point and no thousands mark",
            )
        digits = digits.replace(",", ".")
    if digits.count(".") > 1:
        raise QuantityError(f"{_shown(raw)} has more than one decimal point", where)
    value = float(digits)
    if math.isinf(value):
        raise QuantityError(f"{_shown(raw)} is too large a number", where)
    return value


def _unit(text: str, dimension: Dimension, raw: object, where: PlaceLike) -> str:
    """Name of a unit of the dimension, however it is spelled."""
    if text in dimension.units:
        return text
    folded = text.casefold().replace("**", "^").replace(" per ", "/").replace(" / ", "/")
    folded = re.sub(r"\.$", "", folded)
    for name in dimension.units:
        if name.casefold() == folded:
            return name
    example = f"Write it like '{dimension.example}'"
    for other in ALL_DIMENSIONS:
        if any(name.casefold() == folded for name in other.units):
            raise QuantityError(
                f"{_shown(raw)} is {other.name}, but {dimension.name} is needed", where, example
            )
    close = difflib.get_close_matches(folded, dimension.units, n=1, cutoff=0.5)
    hint = f"Perhaps '{close[0]}' is meant" if close else example
    raise QuantityError(f"unknown unit '{text[:20]}' in {_shown(raw)}", where, hint)


def _compound(rest: str, first: float, dimension: Dimension) -> float | None:
    """SI value of chained parts such as 12 ft 6 in; None if it is not that."""
    pieces = re.findall(rf"([a-zA-Z'\"]+)\s*(?:({_DECIMAL}|{_FRACTION})(?=\s*[a-zA-Z'\"]))?", rest)
    if "".join(a + b for a, b in pieces).replace(" ", "") != rest.replace(" ", ""):
        return None
    values = [first]
    for _, number in pieces[:-1]:
        values.append(_float(number, rest, None))
    for family in _PARTS.get(dimension.name, ()):
        order = {dimension.units[name]: rank for rank, name in enumerate(family)}
        names = [dimension.units.get(unit.casefold(), math.nan) for unit, _ in pieces]
        ranks = [order.get(factor, -1) for factor in names]
        if min(ranks) < 0 or ranks != sorted(set(ranks)):
            continue
        if all(b * fb < fa for b, fb, fa in zip(values[1:], names[1:], names, strict=False)):
            return sum(value * factor for value, factor in zip(values, names, strict=True))
    return None


def parse_quantity(
    raw: object, dimension: Dimension, where: PlaceLike = None, default_unit: str | None = None
) -> float:
    """Read one quantity of a known kind.

    Parameters
    ----------
    raw : object
        Text with a number and a unit, or a bare number [-].
    dimension : Dimension
        Kind of quantity [-].
    where : Where or str or None
        Place for the error message [-].
    default_unit : str or None
        Unit of a bare number; None refuses bare numbers [-].

    Returns
    -------
    float
        Finite value in SI (degC for temperatures) [SI].

    Raises
    ------
    QuantityError
        It is not a finite quantity of this kind.
    """
    example = f"Write it like '{dimension.example}'"
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise QuantityError(f"{_shown(raw)} is not {dimension.name}", where, example)
    text = repr(raw) if not isinstance(raw, str) else raw
    if len(text) > MAX_TEXT:
        raise QuantityError(f"{_shown(raw)} is too long for {dimension.name}", where, example)
    text = _clean(text)
    match = _NUMBER.match(text)
    if match is None:
        problem = f"{_shown(raw)} does not start with a number" if text else "nothing is given"
        raise QuantityError(problem, where, example)
    number = _float(match[2], raw, where)
    sign = -1.0 if match[1] == "-" else 1.0
    rest = text[match.end() :].strip()
    if not rest:
        if default_unit is None:
            raise QuantityError(
                f"{_shown(raw)} has no unit", where, f"Add a unit, as in '{dimension.example}'"
            )
        rest = default_unit
    si = _compound(rest, number, dimension) if re.search(r"\d\s*[a-zA-Z'\"]", rest) else None
    if si is None:
        si = dimension.si(sign * number, _unit(rest, dimension, raw, where))
    else:
        si *= sign
    if not math.isfinite(si):
        raise QuantityError(f"{_shown(raw)} is too large a number", where)
    return si


def parse_length_m(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Length [m]; see `parse_quantity`."""
    return parse_quantity(raw, LENGTH, where, default_unit)


def parse_mass_kg(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Mass [kg]; see `parse_quantity`."""
    return parse_quantity(raw, MASS, where, default_unit)


def parse_force_n(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Force or line test, where pounds and kilograms are forces [N]; see `parse_quantity`."""
    return parse_quantity(raw, FORCE, where, default_unit)


def parse_speed_m_s(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Speed [m s-1]; see `parse_quantity`."""
    return parse_quantity(raw, SPEED, where, default_unit)


def parse_angle_rad(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Angle [rad]; see `parse_quantity`."""
    return parse_quantity(raw, ANGLE, where, default_unit)


def parse_area_m2(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Area [m2]; see `parse_quantity`."""
    return parse_quantity(raw, AREA, where, default_unit)


def parse_density_kg_m3(
    raw: object, where: PlaceLike = None, default_unit: str | None = None
) -> float:
    """Density [kg m-3]; see `parse_quantity`."""
    return parse_quantity(raw, DENSITY, where, default_unit)


def parse_pressure_pa(
    raw: object, where: PlaceLike = None, default_unit: str | None = None
) -> float:
    """Pressure, modulus or strength [Pa]; see `parse_quantity`."""
    return parse_quantity(raw, PRESSURE, where, default_unit)


def parse_temperature_c(
    raw: object, where: PlaceLike = None, default_unit: str | None = None
) -> float:
    """Temperature [degC]; see `parse_quantity`."""
    return parse_quantity(raw, TEMPERATURE, where, default_unit)


def parse_time_s(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Time [s]; see `parse_quantity`."""
    return parse_quantity(raw, TIME, where, default_unit)


def parse_turns(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Handle turns [turn]; see `parse_quantity`."""
    return parse_quantity(raw, TURNS, where, default_unit)


def parse_share(raw: object, where: PlaceLike = None, default_unit: str | None = None) -> float:
    """Share, as in ``"12 %"`` [-]; see `parse_quantity`."""
    return parse_quantity(raw, RATIO, where, default_unit)


@dataclass(frozen=True, slots=True)
class QuantityRange:
    """A range of one quantity.

    Parameters
    ----------
    low : float
        Lower end [SI].
    high : float
        Upper end, at least `low` [SI].
    """

    low: float
    high: float


def parse_range(
    raw: object, dimension: Dimension, where: PlaceLike = None, default_unit: str | None = None
) -> QuantityRange:
    """Read a range such as ``"18-22ft"``, ``"1/4 to 3/4 oz"`` or ``"5 ft..7 ft"``.

    A single quantity is a range of no width. The lower end may leave its unit
    to the upper one.

    Parameters
    ----------
    raw : object
        Text [-].
    dimension : Dimension
        Kind of quantity [-].
    where : Where or str or None
        Place for the error message [-].
    default_unit : str or None
        Unit of bare numbers; None refuses them [-].

    Raises
    ------
    QuantityError
        It is not a range, or runs backwards.
    """
    if isinstance(raw, str) and len(raw) <= MAX_TEXT:
        for low_text, high_text in _splits(_clean(raw)):
            ends = _range_ends(low_text, high_text, dimension, where, default_unit)
            if ends is not None:
                if ends.low > ends.high:
                    raise QuantityError(
                        f"the range {_shown(raw)} runs backwards",
                        where,
                        "Put the smaller end first",
                    )
                return ends
    value = parse_quantity(raw, dimension, where, default_unit)
    return QuantityRange(value, value)


def _splits(text: str) -> list[tuple[str, str]]:
    """Every place at which a text may be two ends of a range, likeliest first."""
    words = list(_RANGE_WORD.finditer(text))
    if words:
        return [(text[: m.start()], text[m.end() :]) for m in words]
    dashes = [m.start() for m in re.finditer("-", text) if m.start() > 0]
    return [(text[:at], text[at + 1 :]) for at in dashes if text[at - 1] not in "eE/"]


def _range_ends(
    low_text: str, high_text: str, dimension: Dimension, where: PlaceLike, default: str | None
) -> QuantityRange | None:
    try:
        high = parse_quantity(high_text, dimension, where, default)
        match = _NUMBER.match(high_text)
        unit = high_text[match.end() :].strip() if match else ""
        shared = unit if unit and not re.search(r"\d\s*[a-zA-Z]", unit) else default
        return QuantityRange(parse_quantity(low_text, dimension, where, shared), high)
    except QuantityError:
        return None


def parse_spread(
    raw: object, dimension: Dimension, where: PlaceLike = None, default_unit: str | None = None
) -> tuple[float, float | None]:
    """Read a value with its spread, such as ``"14 +- 0.5 ft"``.

    Parameters
    ----------
    raw : object
        Text [-].
    dimension : Dimension
        Kind of quantity, one without an offset [-].
    where : Where or str or None
        Place for the error message [-].
    default_unit : str or None
        Unit of bare numbers; None refuses them [-].

    Returns
    -------
    value : float
        The value [SI].
    spread : float or None
        Its spread, above zero; None if none is given [SI].

    Raises
    ------
    QuantityError
        It is not a quantity, or the spread is not above zero.
    """
    pieces = _SPREAD.split(_clean(raw)) if isinstance(raw, str) and len(raw) <= MAX_TEXT else [raw]
    if len(pieces) == 1:
        return parse_quantity(raw, dimension, where, default_unit), None
    if len(pieces) > 2:
        raise QuantityError(f"{_shown(raw)} has more than one spread", where)
    spread_text = str(pieces[1]).strip()
    spread = parse_quantity(spread_text, dimension, where, default_unit)
    match = _NUMBER.match(spread_text)
    unit = spread_text[match.end() :].strip() if match else ""
    value = parse_quantity(pieces[0], dimension, where, unit or default_unit)
    if not spread > 0.0:
        raise QuantityError(f"the spread in {_shown(raw)} is not above zero", where)
    return value, spread
