"""What lines are made of."""

from __future__ import annotations

import math

import pytest

from leadsman.dimensions import POUND_FORCE_N
from leadsman.tackle.line_materials import (
    BRAID,
    FLUOROCARBON,
    MATERIALS,
    NYLON,
    TYPICAL_DIAMETERS_MM,
    diameter_from_test_m,
    diameter_log_sd,
)


@pytest.mark.parametrize(
    ("material", "pounds", "millimetres"),
    [(m, lb, d) for m, table in TYPICAL_DIAMETERS_MM.items() for lb, d in table.items()],
)
def test_derived_diameter_holds_the_usual_one(
    material: str, pounds: int, millimetres: float
) -> None:
    """Usual diameters by pound test: common practice, no source. Within one stated spread."""
    known = MATERIALS[material]  # type: ignore[index]
    derived = diameter_from_test_m(pounds * POUND_FORCE_N, known)
    assert abs(math.log(derived * 1e3 / millimetres)) <= diameter_log_sd(known)


def test_definition_of_stress() -> None:
    """Force over section is the strength, whatever the test (strength of materials)."""
    for pounds in (6.0, 12.0, 30.0):
        force = pounds * POUND_FORCE_N
        for material in MATERIALS.values():
            section = math.pi / 4.0 * diameter_from_test_m(force, material) ** 2
            assert force / section == pytest.approx(material.strength_pa, rel=1e-12)


def test_order_of_the_trade() -> None:
    """Common practice, no source: at one test braid is by far the thinnest and fluorocarbon
    no thicker than nylon; nylon sinks slowly, fluorocarbon faster, braid floats.
    """
    for pounds in (8.0, 10.0, 12.0, 14.0):
        nylon, fluoro, braid = (
            diameter_from_test_m(pounds * POUND_FORCE_N, m) for m in (NYLON, FLUOROCARBON, BRAID)
        )
        assert braid < 0.7 * fluoro < 0.7 * nylon
    assert BRAID.density_kg_m3 < 998.0 < NYLON.density_kg_m3 < FLUOROCARBON.density_kg_m3


def test_ten_to_fourteen_pound_nylon() -> None:
    """10 to 14 lb nylon is some 0.28 to 0.37 mm (common practice, no source)."""
    for pounds in (10.0, 12.0, 14.0):
        assert 0.28e-3 <= diameter_from_test_m(pounds * POUND_FORCE_N, NYLON) <= 0.37e-3


def test_every_material_says_where_it_is_from() -> None:
    for material in MATERIALS.values():
        assert "from memory" in material.source or "no source" in material.source
