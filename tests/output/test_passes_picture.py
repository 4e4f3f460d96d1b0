"""The picture of a pass: what it must show, and that it is tidy."""

from __future__ import annotations

import matplotlib.pyplot as plt
import numpy as np
import pytest
from pass_cases import model_of, setup, slope, straight

from leadsman.output.passes_picture import draw_pass, pass_view
from leadsman.output.style import LAPTOP, PHONE, Layout
from leadsman.plan.passes import PassPlanner
from leadsman.plan.passes_settings import PassSettings
from leadsman.plan.passes_types import GrassStand, PassPlan

MODEL = model_of(slope)


@pytest.fixture(scope="module")
def plan() -> PassPlan:
    settings = PassSettings(boat="hold", minutes=9.0)
    return PassPlanner(MODEL, setup(), settings).plan(straight(grass=GrassStand(3.7)))


def test_every_cast_stop_and_zone_is_shown(plan: PassPlan) -> None:
    view = pass_view(plan, MODEL, edge_se_m=0.1)
    assert len(view.casts) == plan.casts
    numbers = [cast.number for cast in view.casts if cast.number is not None]
    assert numbers == [stop.number for stop in plan.stops]
    for cast in view.casts:
        assert cast.zone is not None
        way = np.array([cast.end_x_m - cast.boat_x_m, cast.end_y_m - cast.boat_y_m])
        length = float(np.hypot(*way))
        for x, y in zip(cast.zone.x_m, cast.zone.y_m, strict=True):
            along = float(np.dot([x - cast.boat_x_m, y - cast.boat_y_m], way)) / length
            aside = abs(way[0] * (y - cast.boat_y_m) - way[1] * (x - cast.boat_x_m)) / length
            assert 0.0 <= along <= length
            assert aside < 1e-6


def test_the_window_holds_all_casts_and_is_no_more_than_zoomed(plan: PassPlan) -> None:
    view = pass_view(plan, MODEL)
    window = view.window
    assert window is not None
    for cast in view.casts:
        assert window.left_m < cast.end_x_m < window.right_m
        assert window.bottom_m < cast.boat_y_m < window.top_m
    assert window.right_m - window.left_m < 2.5 * plan.stretch.length_m
    assert view.edges[0].grass
    assert "12.1 ft" in view.edges[0].what


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=["laptop", "phone"])
def test_tidy(plan: PassPlan, layout: Layout, untidy: object) -> None:
    figure = draw_pass(plan, MODEL, edge_se_m=0.1, wind_from_rad=1.0, layout=layout)
    try:
        assert untidy(figure, layout) == []  # type: ignore[operator]
        words = " ".join(text.get_text() for text in figure.findobj(plt.Text))
        assert "Not for navigation" in words
    finally:
        plt.close(figure)
