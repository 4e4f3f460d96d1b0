"""Depth bands and cells."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.belief.levels import FOOT_M, LADDER, Cell, DepthBands, colour_family_of, quoted
from leadsman.errors import PlanError


def test_the_ladder_keeps_the_usual_depths_apart() -> None:
    # An angler's ladder is about 8, 10, 12, 15, 17, 20, 25 ft (common practice, no source).
    bands = [LADDER.index_of(FOOT_M * ft) for ft in (8, 10, 12, 15, 17, 20, 25)]
    assert len(set(bands)) == 7 and bands == sorted(bands)


@given(st.floats(0.0, 40.0))
def test_a_depth_lies_within_its_band(depth_m: float) -> None:
    low, high = LADDER.limits_m(LADDER.index_of(depth_m))
    assert low <= depth_m < high or depth_m >= LADDER.edges_m[-1]
    assert low < LADDER.middle_m(LADDER.index_of(depth_m)) < high


@pytest.mark.parametrize("edges", [(), (1.0,), (1.0, 1.0), (2.0, 1.0), (-1.0, 2.0)])
def test_edges_that_do_not_rise_are_refused(edges: tuple[float, ...]) -> None:
    with pytest.raises(PlanError, match="rise"):
        DepthBands(edges)


@given(st.text(max_size=20), st.text(max_size=20))
def test_names_with_any_letters_stay_apart(one: str, other: str) -> None:
    assert (quoted(one) == quoted(other)) == (one == other)
    assert not set("*=") & set(quoted(one))


def test_levels_of_products() -> None:
    cell = Cell("a*b", 3, "edge", "silent", "natural")
    assert cell.level("all") == ""
    assert cell.level("place*depth") == "a%2Ab*3"


def test_colours_fish_confuse_share_a_family() -> None:
    # Chartreuse and white are easily confused: Mitchem et al. 2019, Curr. Zool. 65:43-52.
    assert colour_family_of("bright") == colour_family_of("pale") == "light"
    assert colour_family_of("dark") == "dark" and colour_family_of("crawfish") == "red"
    with pytest.raises(PlanError, match="unknown colour"):
        colour_family_of("plaid")
