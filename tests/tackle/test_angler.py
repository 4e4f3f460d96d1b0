"""The person."""

from __future__ import annotations

import pytest

from leadsman.errors import KitError
from leadsman.tackle.angler import Angler, CastRecord


def test_defaults_are_a_person() -> None:
    person = Angler()
    assert 1.0 < person.grip_height_m < 2.0  # a hand at hip to chest height on a low deck
    assert person.casts == ()


@pytest.mark.parametrize(
    "make",
    [
        lambda: CastRecord(18.0, 50.0),
        lambda: CastRecord(0.018, 500.0),
        lambda: CastRecord(0.018, 50.0, 7.0),
        lambda: CastRecord(0.018, 50.0, 2.1, 0),
        lambda: Angler(grip_height_m=-1.0),
        lambda: Angler(reel_speed_m_s=0.0),
        lambda: Angler(usual_cast_m=1e9),
    ],
)
def test_impossible_people(make) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(KitError):
        make()
