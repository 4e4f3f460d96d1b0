"""Levers: every step with its sign, its size to scale, its unit."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure

from leadsman.display_units import METRIC, US, DisplayUnits
from leadsman.output.levers_picture import Change, Lever, LeversView, draw_levers
from leadsman.output.picture import picture_bytes
from leadsman.output.style import LAPTOP, PHONE, Layout

Tidy = Callable[[Figure, Layout], list[str]]
FOOT_M, YARD_M = 0.3048, 0.9144


def change(value: float, unit_m: float, half: float) -> Change:
    return Change(value * unit_m, (value - half) * unit_m, (value + half) * unit_m)


def make(units: DisplayUnits = US, zones: bool = True) -> LeversView:
    rows = [
        ("line one size thinner, 8 lb fluorocarbon", 0.9, 4.0, False),
        ("of that, diameter", 0.8, 3.6, True),
        ("of that, stretch", 0.0, 0.0, True),
        ("10 yd less cast", -1.7, -11.0, False),
        ("tip 3 ft under water", 1.9, 2.0, False),
    ]
    return LeversView(
        "To get a foot deeper, go down one line size",
        tuple(
            Lever(
                step,
                change(depth, FOOT_M, 0.4),
                change(zone, YARD_M, 2.5) if zones else None,
                part,
            )
            for step, depth, zone, part in rows
        ),
        units,
        subtitle="Long thin lip on 10 lb fluorocarbon, 60 yd, tip 2 ft up",
    )


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=lambda x: x.name)
@pytest.mark.parametrize("units", [US, METRIC], ids=lambda x: x.name)
@pytest.mark.parametrize("zones", [True, False])
def test_words_are_big_enough_whole_and_apart(
    untidy: Tidy, layout: Layout, units: DisplayUnits, zones: bool
) -> None:
    assert untidy(draw_levers(make(units, zones), layout), layout) == []


def test_signs_and_units_are_written() -> None:
    svg = picture_bytes(draw_levers(make()), "svg").decode()
    for said in ("depth, ft", "in the zone, yd", ">+0.9<", ">−1.7<", ">−11<", "shallower", "more"):
        assert said in svg, said
    svg = picture_bytes(draw_levers(make(METRIC)), "svg").decode()
    for said in ("depth, m", "in the zone, m", ">−10<"):  # 11 yd is 10.06 m
        assert said in svg, said


def test_without_a_bottom_there_is_no_zone() -> None:
    svg = picture_bytes(draw_levers(make(zones=False)), "svg").decode()
    assert "in the zone" not in svg


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=lambda x: x.name)
def test_bars_are_to_scale_on_their_side_of_zero(layout: Layout) -> None:
    view = make()
    figure = draw_levers(view, layout)
    panel = next(ax for ax in figure.axes if ax.get_label() == "depth, ft")
    bars = [c for c in panel.collections if c.get_gid() == "bar"]
    assert all(isinstance(bar, PolyCollection) for bar in bars)
    spans = [
        (b.get_paths()[0].vertices[:, 0].min(), b.get_paths()[0].vertices[:, 0].max()) for b in bars
    ]
    zero = spans[2][0]  # the bar of no change
    lengths = np.array(
        [right - zero if left >= zero - 1e-6 else left - zero for left, right in spans]
    )
    values = np.array([lever.depth.value_m for lever in view.levers])
    assert lengths == pytest.approx(values * lengths[0] / values[0], abs=1e-6)
    # Bands stay within the panel.
    width = panel.get_xlim()[1]
    for line in panel.lines:
        assert np.min(line.get_xdata()) >= 0.0
        assert np.max(line.get_xdata()) <= width


def test_changes_must_make_sense() -> None:
    with pytest.raises(ValueError, match="not a number"):
        Change(float("nan"))
    with pytest.raises(ValueError, match="two ends"):
        Change(0.1, 0.0)
    with pytest.raises(ValueError, match="does not hold"):
        Change(0.1, 0.2, 0.3)
    with pytest.raises(ValueError, match="1 to 30"):
        LeversView("h", ())
