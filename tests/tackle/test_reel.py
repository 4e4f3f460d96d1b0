"""Reels."""

from __future__ import annotations

import math

import pytest

from leadsman.errors import KitError
from leadsman.tackle.reel import Reel


def reel(**changes: object) -> Reel:
    given: dict[str, object] = {
        "name": "a",
        "take_up_full_m": 0.66,
        "capacity_m": 110.0,
        "capacity_diameter_m": 3.3e-4,
    }
    return Reel(**{**given, **changes})  # type: ignore[arg-type]


def test_spool_holds_the_same_volume_of_any_line() -> None:
    """Volume wound is conserved: length times diameter squared (geometry)."""
    assert reel().capacity_for_m(3.3e-4) == pytest.approx(110.0)
    assert reel().capacity_for_m(1.65e-4) == pytest.approx(440.0)


def test_take_up_follows_the_spool() -> None:
    """An annulus: the square of the radius is linear in the line that is off (geometry)."""
    up = reel(take_up_half_m=0.55).take_up(3.3e-4)
    assert up.per_turn_m(0.0) == pytest.approx(0.66)
    assert up.per_turn_m(55.0) == pytest.approx(0.55)
    assert up.per_turn_m(27.5) == pytest.approx(math.sqrt((0.66**2 + 0.55**2) / 2.0))


def test_half_spool_is_estimated_between_full_and_bare() -> None:
    assert 0.6 * 0.66 < reel().half_m < 0.66


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"take_up_full_m": 26.0}, "take_up_full"),
        ({"take_up_half_m": 0.7}, "take_up_half"),
        ({"capacity_m": -1.0}, "capacity"),
        ({"capacity_diameter_m": 0.33}, "capacity_diameter"),
    ],
)
def test_impossible_reels(changes: dict[str, object], field: str) -> None:
    with pytest.raises(KitError) as caught:
        reel(**changes)
    assert caught.value.where.field == field
