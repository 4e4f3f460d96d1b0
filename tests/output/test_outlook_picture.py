"""Outlook: depth down, chances as areas, what rules depths out in sight."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from believable_days import a_day, guessed, hours, known, stratified
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.text import Text

from leadsman.display_units import METRIC, US
from leadsman.output.outlook_picture import draw_outlook, shown_depth_m
from leadsman.output.picture import picture_bytes
from leadsman.output.style import LAPTOP, PHONE, Layout
from leadsman.plan.day import outlook
from leadsman.plan.day_types import Day, Outlook

Tidy = Callable[[Figure, Layout], list[str]]
HEAD = "Start at 5 to 12 ft along the outside edge of the grass, rattling lure, natural colours"

DAYS: dict[str, Day] = {
    "profile": a_day(
        profile=stratified(), thermocline_m=known(6.9), secchi_m=known(1.5),
        grass_edge_m=guessed(2.6, 1.4, 4.8), hours=hours(2.0, 30.0, 60.0),
    ),
    "clear": a_day(
        max_depth_m=25.0, secchi_m=known(7.0), thermocline_m=guessed(6.2, 4.2, 9.2),
        grass_edge_m=guessed(6.5, 3.9, 10.9), reach_m=5.5,
    ),
    "pond": a_day(max_depth_m=1.6, units=METRIC),
    "nothing": a_day(),
}  # fmt: skip


@pytest.fixture(params=list(DAYS))
def found(request: pytest.FixtureRequest) -> Outlook:
    """An outlook to draw."""
    return outlook(DAYS[request.param])


def words(figure: Figure) -> str:
    return " | ".join(text.get_text() for text in figure.findobj(Text) if isinstance(text, Text))


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=lambda x: x.name)
def test_words_are_tidy(found: Outlook, layout: Layout, untidy: Tidy) -> None:
    assert untidy(draw_outlook(found, HEAD, layout), layout) == []


def test_depth_runs_down_in_every_panel(found: Outlook) -> None:
    figure = draw_outlook(found, HEAD)
    panels = [ax for ax in figure.axes if ax.get_label() in ("belief", "Water", "Oxygen")]
    assert len(panels) == (3 if found.day.profile is not None else 1)
    for ax in panels:
        bottom, top = ax.get_ylim()
        assert top == 0.0
        assert bottom == pytest.approx(shown_depth_m(found))


def test_areas_of_bars_are_chances(found: Outlook) -> None:
    figure = draw_outlook(found, HEAD)
    (ax,) = (ax for ax in figure.axes if ax.get_label() == "belief")
    boxes = [
        item.get_paths()[0].get_extents() for item in ax.collections
        if isinstance(item, PolyCollection)
    ]  # fmt: skip
    whole = [band for band in found.bands if band.high_m <= shown_depth_m(found)]
    areas = np.array([box.width * box.height for box in boxes[: len(whole)]])
    chances = np.array([band.fish for band in whole])
    assert areas / areas.sum() == pytest.approx(chances / chances.sum(), abs=1e-9)


def test_oxygen_and_thermocline_are_marked_and_named() -> None:
    text = words(draw_outlook(outlook(DAYS["profile"]), HEAD))
    assert "thermocline 22.6 ft" in text
    assert "oxygen under 3 mg/L" in text
    assert "a guess" in text, "the grass edge is one"


def test_guesses_say_so_on_the_phone_too() -> None:
    text = words(draw_outlook(outlook(DAYS["clear"]), HEAD, PHONE))
    assert "grass to 21.3 ft?" in text
    assert "take a lure" in text
    assert "lures reach 18.0 ft" in text


def test_units_are_those_of_the_reader() -> None:
    metric = outlook(a_day(profile=stratified(), thermocline_m=known(6.9), units=METRIC))
    text = words(draw_outlook(metric, HEAD))
    assert "thermocline 6.90 m" in text and "°C" in text
    us = words(draw_outlook(outlook(a_day(profile=stratified(), units=US)), HEAD))
    assert "°F" in us


def test_the_same_outlook_gives_the_same_bytes() -> None:
    one, two = (
        picture_bytes(draw_outlook(outlook(DAYS["profile"]), HEAD), "svg") for _ in range(2)
    )
    assert one == two
