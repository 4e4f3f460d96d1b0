"""The depth table as pages: every number once, readable, in print too."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest
from matplotlib.figure import Figure

from leadsman.display_units import METRIC, US, DisplayUnits
from leadsman.output import style
from leadsman.output.depth_table import DepthTable
from leadsman.output.depth_table_picture import depth_ground, draw_depth_table
from leadsman.output.picture import picture_bytes
from leadsman.output.style import LAPTOP, PHONE, Layout, contrast_ratio, ink_on

Tidy = Callable[[Figure, Layout], list[str]]


def make(lures: int, lines: int, casts: int = 6, tips: int = 3) -> DepthTable:
    """Every depth another one, so that each can be found again."""
    shape = (lures, lines, casts, tips)
    depth = 0.3048 * (1.0 + 0.1 * np.arange(float(np.prod(shape)))).reshape(shape) % 9.0
    return DepthTable(
        tuple(f"Lure {i} with a fairly long name" for i in range(lures)),
        tuple(f"{8 + 2 * i} lb fluorocarbon" for i in range(lines)),
        np.linspace(20.0, 70.0, casts) * 0.9144,
        np.linspace(-1.2, 2.4, tips),
        depth,
        0.92 * depth,
        1.08 * depth,
    )


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=lambda x: x.name)
@pytest.mark.parametrize("units", [US, METRIC], ids=lambda x: x.name)
def test_words_are_big_enough_whole_and_apart(
    untidy: Tidy, layout: Layout, units: DisplayUnits
) -> None:
    for figure in draw_depth_table(make(3, 2), "Lure 0 covers 12 to 22 ft", units, layout):
        assert untidy(figure, layout) == []


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=lambda x: x.name)
@pytest.mark.parametrize(("lures", "lines"), [(1, 1), (7, 1), (9, 4), (1, 30)])
def test_every_depth_is_on_exactly_one_page(layout: Layout, lures: int, lines: int) -> None:
    table = make(lures, lines, casts=4, tips=2)
    cells = 0
    for figure in draw_depth_table(table, "h", US, layout):
        page = next(ax for ax in figure.axes if ax.get_label() == "table")
        here = sum(len(c.get_paths()) for c in page.collections if c.get_gid() == "cells")
        numbers = [t for t in page.texts if re.fullmatch(r"\d+\.\d", t.get_text())]
        assert len(numbers) == here
        cells += here
    assert cells == table.depth_m.size


def test_numbers_are_feet_to_a_tenth() -> None:
    table = make(1, 1, casts=1, tips=1)  # 1 ft deep
    svg = picture_bytes(draw_depth_table(table, "h")[0], "svg").decode()
    assert ">1.0<" in svg
    assert "8 % of the depth 9 times in 10" in svg
    assert "depth, ft" in svg


def test_a_cast_that_cannot_be_made_is_a_dash() -> None:
    good = make(1, 1, casts=2, tips=1)
    nothing = np.full_like(good.depth_m, np.nan)
    table = DepthTable(good.lures, good.lines, good.casts_m, good.tips_m, nothing, nothing, nothing)
    svg = picture_bytes(draw_depth_table(table, "h")[0], "svg").decode()
    assert svg.count(">–<") == 2
    assert "Nothing on this page" in svg


def test_deeper_is_darker_and_numbers_read_on_it() -> None:
    grounds = [depth_ground(0.3048 * feet) for feet in (2.0, 6.0, 10.0, 14.0, 18.0, 22.0, 28.0)]
    assert grounds == list(style.DEPTH_STEPS)
    assert depth_ground(float("nan")) == style.PAPER
    assert all(contrast_ratio(ink_on(g), g) >= 4.5 for g in grounds)
