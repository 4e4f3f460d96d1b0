"""Lines, and what the physics gets of them."""

from __future__ import annotations

import math

import pytest

from leadsman.dimensions import POUND_FORCE_N
from leadsman.errors import KitError
from leadsman.tackle.line import Line, line_properties, line_spread


def test_gaps_come_from_the_material() -> None:
    line = line_properties(Line("a", "fluorocarbon", test_n=12 * POUND_FORCE_N))
    assert line.density_kg_m3 == pytest.approx(1780.0, abs=30.0)  # 1.75 to 1.80 g/cm3, from memory
    assert 0.28e-3 < line.diameter_m < 0.34e-3
    assert 1e9 < line.modulus_pa < 4.0e9  # 4.0 GPa at the greatest draw, see line_materials


def test_given_values_win() -> None:
    line = line_properties(
        Line("a", "nylon", diameter_m=3.5e-4, density_kg_m3=1150.0, modulus_pa=2e9)
    )
    assert (line.diameter_m, line.density_kg_m3, line.modulus_pa) == (3.5e-4, 1150.0, 2e9)


def test_a_measured_diameter_is_the_surest() -> None:
    test = 12 * POUND_FORCE_N
    measured = line_spread(Line("a", "nylon", test, 3.3e-4, diameter_measured=True))
    nominal = line_spread(Line("a", "nylon", test, 3.3e-4))
    derived = line_spread(Line("a", "nylon", test))
    assert 0 < measured.diameter_log_sd < nominal.diameter_log_sd < derived.diameter_log_sd


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"material": "silk"}, "material"),
        ({"test_n": None}, "test"),
        ({"test_n": -1.0}, "test"),
        ({"test_n": math.nan}, "test"),
        ({"diameter_m": 7.9e-3}, "diameter"),
        ({"diameter_m": 3.1e-4 * 3.0}, "diameter"),
        ({"density_kg_m3": 1.14}, "density"),
        ({"modulus_pa": 1.6}, "modulus"),
        ({"name": " "}, "name"),
        ({"name": "a\nb"}, "name"),
    ],
)
def test_impossible_lines(changes: dict[str, object], field: str) -> None:
    given: dict[str, object] = {"name": "a", "material": "nylon", "test_n": 53.4}
    with pytest.raises(KitError) as caught:
        Line(**{**given, **changes})  # type: ignore[arg-type]
    assert caught.value.where.field == field
