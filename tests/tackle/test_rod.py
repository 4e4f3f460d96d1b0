"""Rods."""

from __future__ import annotations

import pytest

from leadsman.errors import KitError
from leadsman.tackle.rod import Rod


def test_range_of_lures() -> None:
    rod = Rod("a", 2.3, 0.010, 0.030)
    assert rod.throws(0.010) and rod.throws(0.030)
    assert not rod.throws(0.009) and not rod.throws(0.031)


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (("a", 7.5, 0.01, 0.03), "length"),
        (("a", 2.3, 0.03, 0.01), "lure_mass"),
        (("a", 2.3, 0.0, 0.01), "lure_mass"),
        (("a", 2.3, 0.01, 0.03, "stiff"), "power"),
    ],
)
def test_impossible_rods(arguments: tuple[object, ...], field: str) -> None:
    with pytest.raises(KitError) as caught:
        Rod(*arguments)  # type: ignore[arg-type]
    assert caught.value.where.field == field
