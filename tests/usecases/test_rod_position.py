from __future__ import annotations

import pytest

from leadsman.errors import TechniqueError
from leadsman.usecases.rod_position import tip_height_m


def test_positions_stand_in_the_order_of_their_names() -> None:
    heights = [tip_height_m(word) for word in ("under", "low", "usual", "high")]
    assert heights == sorted(heights)
    assert heights[0] < 0.0 < heights[1]


def test_a_long_rod_spans_more_than_three_metres() -> None:
    # "a long rod spans more than 3 m between high and under water": common practice, no source
    assert tip_height_m("high", 2.7) - tip_height_m("under", 2.7) > 3.0


def test_unknown_word_names_the_known_ones() -> None:
    with pytest.raises(TechniqueError, match="under, low, usual, high"):
        tip_height_m("sideways")
