"""The table of units."""

from __future__ import annotations

import pytest

from leadsman.dimensions import ALL_DIMENSIONS, FORCE, LENGTH, MASS, TEMPERATURE


def test_chains_of_definitions() -> None:
    """NIST SP 811: 3 ft a yard, 12 in a foot, 16 oz a pound, 1 mi 1609.344 m."""
    assert LENGTH.units["yd"] == pytest.approx(3 * LENGTH.units["ft"], rel=1e-15)
    assert LENGTH.units["ft"] == pytest.approx(12 * LENGTH.units["in"], rel=1e-15)
    assert LENGTH.units["mi"] == pytest.approx(1609.344, rel=1e-15)
    assert MASS.units["lb"] == pytest.approx(16 * MASS.units["oz"], rel=1e-15)
    assert FORCE.units["lb"] == pytest.approx(4.4482216152605, rel=1e-14)


def test_temperature_fixed_points() -> None:
    """Freezing and boiling of water, and where both scales meet."""
    assert TEMPERATURE.si(212.0, "degF") == pytest.approx(100.0)
    assert TEMPERATURE.si(-40.0, "degF") == pytest.approx(-40.0)
    assert TEMPERATURE.value(0.0, "K") == pytest.approx(273.15)


@pytest.mark.parametrize("dimension", ALL_DIMENSIONS, ids=lambda d: d.name)
def test_example_is_in_its_own_units(dimension) -> None:  # type: ignore[no-untyped-def]
    unit = dimension.example.split(" ", 1)[1]
    assert unit in dimension.units
