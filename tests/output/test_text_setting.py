"""Text measured before it is set."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from leadsman.output.picture import house_style
from leadsman.output.text_setting import (
    balanced,
    clean,
    fit,
    label_size_px,
    number_size_px,
    text_width_px,
    wrap,
)


@pytest.mark.parametrize("text", ["12.6 to 13.9 ft", "Long thin lip", "W", "iiiiiiiiii"])
@pytest.mark.parametrize("bold", [False, True])
def test_widths_are_what_the_renderer_draws(text: str, bold: bool) -> None:
    with house_style():
        figure = Figure(figsize=(10, 2), dpi=96)
        FigureCanvasAgg(figure)
        weight = "bold" if bold else "normal"
        drawn = figure.text(0.0, 0.5, text, fontsize=12.0, fontweight=weight)
        figure.canvas.draw()
        extent = drawn.get_window_extent()
    # Hinting moves letters by parts of a pixel.
    assert text_width_px(text, 12.0, bold) == pytest.approx(extent.width, rel=0.04, abs=2.5)


def test_number_and_unit_stay_on_one_line() -> None:
    lines = wrap("a cast of 60 yd with 10 lb line", 12.0, text_width_px("a cast of 60", 12.0) + 2)
    assert not any(line.endswith(("60", "10")) for line in lines)
    assert any("60 yd" in line for line in lines)


@settings(max_examples=60, deadline=None)
@given(
    st.text(st.characters(blacklist_categories=("Cs", "Cc", "Co", "Cn")), max_size=80),
    st.floats(60.0, 400.0),
)
def test_lines_fit_whatever_the_words(text: str, width: float) -> None:
    lines = wrap(text, 10.0, width, most_lines=3)
    assert len(lines) <= 3
    assert all(text_width_px(line, 10.0) <= width + 1e-6 for line in lines)


def test_what_is_cut_says_so() -> None:
    assert fit("a very long name of a lure", 10.0, 60.0).endswith("…")
    assert fit("short", 10.0, 60.0) == "short"
    assert wrap("one two three four five six seven", 10.0, 40.0, most_lines=2)[-1].endswith("…")


def test_balanced_lines_are_about_as_long_as_one_another() -> None:
    lines = balanced("first contact, 39 yd out, 14 s", 10.0, 150.0)
    widths = [text_width_px(line, 10.0) for line in lines]
    assert len(lines) == 2
    assert min(widths) > 0.6 * max(widths)


def test_control_marks_do_not_reach_a_picture() -> None:
    assert clean("thin\x00 lip\n\tone\u202e") == "thin lip one"


def test_big_number_and_small_unit_stand_side_by_side() -> None:
    width, height = number_size_px("13.3", "ft", 18.0, 10.0)
    number, tall = label_size_px("13.3", 18.0, bold=True)
    assert width > number + label_size_px("ft", 10.0)[0]
    assert height == tall
