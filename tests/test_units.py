"""Quantities as people write them."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from leadsman.dimensions import ALL_DIMENSIONS, LENGTH, MASS, Dimension
from leadsman.display_units import quantity_text
from leadsman.errors import QuantityError, Where
from leadsman.units import (
    parse_angle_rad,
    parse_area_m2,
    parse_density_kg_m3,
    parse_force_n,
    parse_length_m,
    parse_mass_kg,
    parse_pressure_pa,
    parse_quantity,
    parse_range,
    parse_share,
    parse_speed_m_s,
    parse_spread,
    parse_temperature_c,
    parse_time_s,
    parse_turns,
)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("12 ft", 3.6576),
        ("12ft", 3.6576),
        ("0.31 mm", 3.1e-4),
        ("0,31 mm", 3.1e-4),
        ("60 yd", 54.864),
        ("12'6\"", 3.81),
        ("12′ 6″", 3.81),
        ("12 ft 6 in", 3.81),
        ("8 in", 0.2032),
        ("2 3/4 in", 0.06985),
        ("2-3/4 in", 0.06985),
        ("2¾ in", 0.06985),
        ("½ in", 0.0127),
        ("-5 ft", -1.524),
        ("−5 ft", -1.524),
        ("1e2 mm", 0.1),
        ("3 FATHOMS", 5.4864),
        ("6 ft.", 1.8288),
        (".5 m", 0.5),
    ],
)
def test_lengths(text: str, metres: float) -> None:
    """NIST SP 811: foot 0.3048 m, inch 0.0254 m, yard 0.9144 m, exact."""
    assert parse_length_m(text) == pytest.approx(metres, rel=1e-14)


def test_every_other_kind() -> None:
    """NIST SP 811 Appendix B factors, to all the digits printed there (from memory)."""
    assert parse_force_n("12 lb") == pytest.approx(12 * 4.4482216152605, rel=1e-14)
    assert parse_force_n("12 lb test") == parse_force_n("12 lb")
    assert parse_force_n("1 kg") == pytest.approx(9.80665, rel=1e-14)
    assert parse_mass_kg("1 oz") == pytest.approx(0.028349523125, rel=1e-14)
    assert parse_mass_kg("1 lb 3 oz") == pytest.approx(19 * 0.028349523125, rel=1e-14)
    assert parse_speed_m_s("8 mph") == pytest.approx(3.57632, rel=1e-14)
    assert parse_speed_m_s("1 kn") == pytest.approx(0.514444444444, rel=1e-11)
    assert parse_temperature_c("55 degF") == pytest.approx(12.777777777778, rel=1e-12)
    assert parse_temperature_c("32 °F") == pytest.approx(0.0, abs=1e-12)
    assert parse_temperature_c("273.15 K") == pytest.approx(0.0, abs=1e-12)
    assert parse_area_m2("3 cm2") == pytest.approx(3e-4, rel=1e-14)
    assert parse_area_m2("1 in²") == pytest.approx(6.4516e-4, rel=1e-14)
    assert parse_pressure_pa("1.6 GPa") == 1.6e9
    assert parse_pressure_pa("1 psi") == pytest.approx(6894.757293168, rel=1e-12)
    assert parse_density_kg_m3("1.14 g/cm3") == pytest.approx(1140.0)
    assert parse_density_kg_m3("1 lb/ft3") == pytest.approx(16.01846337396, rel=1e-11)
    assert parse_angle_rad("30°") == pytest.approx(math.pi / 6)
    assert parse_time_s("1 h 20 min") == 4800.0
    assert parse_turns("12 turns") == 12.0
    assert parse_share("12 %") == pytest.approx(0.12)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("12", "no unit. Add a unit, as in '12 ft'"),
        (12, "no unit"),
        ("12 lb", "is a mass, but a length is needed"),
        ("12 fete", "Perhaps 'feet' is meant"),
        ("NaN", "does not start with a number"),
        ("nan ft", "does not start with a number"),
        ("inf ft", "does not start with a number"),
        (math.nan, "does not start with a number"),
        ("1e400 ft", "too large"),
        ("1" * 400 + " ft", "too long"),
        ("1e308 km", "too large"),
        ("", "nothing is given"),
        ("   ", "nothing is given"),
        ("abc", "does not start with a number"),
        ("1,140 m", "thousands mark"),
        ("1,000,000 m", "thousands mark"),
        ("1.2.3 m", "more than one decimal point"),
        ("1/0 in", "divides by zero"),
        ("12 ft 14 in", "unknown unit"),
        ("12 ft 6 lb", "unknown unit"),
        ("1_0 m", "unknown unit"),
        (True, "is not a length"),
        (None, "is not a length"),
        ([1], "is not a length"),
    ],
)
def test_refused_with_one_clear_message(text: object, says: str) -> None:
    with pytest.raises(QuantityError, match=r"^lures\.x\.mass: ") as caught:
        parse_length_m(text, Where(field="lures.x.mass"))
    assert says in caught.value.message
    assert "\n" not in caught.value.message


def test_bare_number_takes_a_default_unit() -> None:
    assert parse_length_m("12", None, "ft") == pytest.approx(3.6576)
    assert parse_length_m(12, None, "ft") == pytest.approx(3.6576)


@pytest.mark.parametrize(
    ("text", "dimension", "ends"),
    [
        ("18-22ft", LENGTH, (5.4864, 6.7056)),
        ("18 – 22 ft", LENGTH, (5.4864, 6.7056)),
        ("18 to 22 ft", LENGTH, (5.4864, 6.7056)),
        ("18 ft..22 ft", LENGTH, (5.4864, 6.7056)),
        ("12'6\"-14'", LENGTH, (3.81, 4.2672)),
        ("-3 to 2 ft", LENGTH, (-0.9144, 0.6096)),
        ("1/4-1-1/2 oz", MASS, (0.25 * 0.028349523125, 1.5 * 0.028349523125)),
        ("3/8 to 1 1/2 oz", MASS, (0.375 * 0.028349523125, 1.5 * 0.028349523125)),
        ("12 ft", LENGTH, (3.6576, 3.6576)),
    ],
)
def test_ranges(text: str, dimension: Dimension, ends: tuple[float, float]) -> None:
    got = parse_range(text, dimension)
    assert (got.low, got.high) == pytest.approx(ends, rel=1e-12)


def test_backward_range_is_refused() -> None:
    with pytest.raises(QuantityError, match="runs backwards"):
        parse_range("22-18 ft", LENGTH)


def test_spread() -> None:
    assert parse_spread("14 +- 0.5 ft", LENGTH) == pytest.approx((4.2672, 0.1524))
    assert parse_spread("14 ft ± 6 in", LENGTH) == pytest.approx((4.2672, 0.1524))
    assert parse_spread("14 ft", LENGTH) == (pytest.approx(4.2672), None)
    with pytest.raises(QuantityError, match="not above zero"):
        parse_spread("14 +- 0 ft", LENGTH)


KINDS = [(kind, unit) for kind in ALL_DIMENSIONS for unit in kind.units]


@given(st.sampled_from(KINDS), st.floats(-1e6, 1e6).filter(lambda v: abs(v) > 1e-6))
def test_round_trip_in_every_unit(kind: tuple[Dimension, str], value: float) -> None:
    """What is written is read back to 1 part in 10^11 (absolute at the scale of an offset)."""
    dimension, unit = kind
    si = dimension.si(value, unit)
    again = parse_quantity(quantity_text(si, dimension, unit), dimension)
    assert again == pytest.approx(si, rel=2e-11, abs=1e-9 if dimension.offsets else 0.0)


@given(st.text(max_size=30))
@example("１２ ft")
@example("1e-999999 ft")
@example("- - 3 ft")
@example("3//4 ft")
@example("1 1 ft")
@example("²")
def test_any_text_is_read_or_refused(text: str) -> None:
    for dimension in ALL_DIMENSIONS:
        try:
            value = parse_quantity(text, dimension)
        except QuantityError as error:
            assert len(error.message) < 400
        else:
            assert math.isfinite(value)


@given(st.text(alphabet="0123456789 .,/-+'\"eftinozlbm~±to", max_size=25))
def test_any_near_quantity_is_read_or_refused(text: str) -> None:
    for read in (parse_range, parse_spread):
        try:
            read(text, LENGTH)
        except QuantityError as error:
            assert error.message
