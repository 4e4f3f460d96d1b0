from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import PlanError
from leadsman.usecases.target_text import parse_targets


def test_targets_with_ranges_and_chances() -> None:
    found = parse_targets("10-12 ft grass 30 %; 15 ft edge 40%; 20 ft drop 30")
    assert [t.ground for t in found] == ["grass", "grass", "edge", "drop"]
    assert [round(t.depth_m / 0.3048, 6) for t in found] == [10.0, 12.0, 15.0, 20.0]
    assert [t.chance for t in found] == [15.0, 15.0, 40.0, 30.0]


def test_without_chances_each_counts_the_same() -> None:
    assert [t.chance for t in parse_targets("3 m flat, 5 m drop")] == [1.0, 1.0]


@pytest.mark.parametrize("text", ["", "10 ft", "grass", "10 grass", "deep edge", "10 ft lava 20 %"])
def test_nonsense_gets_an_example(text: str) -> None:
    with pytest.raises(PlanError, match="Write for example"):
        parse_targets(text)


@given(st.text(max_size=40))
def test_any_text_is_targets_or_a_clear_error(text: str) -> None:
    try:
        parse_targets(text)
    except PlanError as error:
        assert error.message
