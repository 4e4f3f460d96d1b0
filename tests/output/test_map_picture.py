"""The map: to scale, north up as told, the edge with its band, not for navigation."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch

from leadsman.display_units import METRIC, US, DisplayUnits
from leadsman.output.map_frame import map_frame
from leadsman.output.map_labels import scale_length
from leadsman.output.map_layers import shown_depth
from leadsman.output.map_picture import (
    CastLine,
    DepthGrid,
    EdgeLine,
    MapView,
    Place,
    Polyline,
    Ring,
    Stretch,
    Window,
    draw_map,
)
from leadsman.output.picture import picture_bytes
from leadsman.output.style import LAPTOP, PHONE, Layout

Tidy = Callable[[Figure, Layout], list[str]]


def circle(radius_m: float, first: float = 0.0, last: float = 1.0) -> tuple[np.ndarray, np.ndarray]:
    turn = np.linspace(2.0 * np.pi * first, 2.0 * np.pi * last, 90)
    return 500.0 + radius_m * np.cos(turn), 500.0 + radius_m * np.sin(turn)


def make(units: DisplayUnits = US, **changes: object) -> MapView:
    """A round lake, a cone 10 m deep and 480 m in radius: every contour is a circle."""
    axis = np.linspace(0.0, 1000.0, 201)
    x, y = np.meshgrid(axis, axis)
    depth = 10.0 * (1.0 - np.hypot(x - 500.0, y - 500.0) / 480.0)
    depth[depth < 0.0] = np.nan
    edge = EdgeLine(
        (Polyline(*circle(288.0)),),
        (Ring(*(v[:-1] for v in circle(307.0))), Ring(*(v[:-1] for v in circle(269.0)))),
        "grass edge, 13 ft",
    )
    stretches = tuple(
        Stretch(i + 1, Polyline(*circle(288.0, 0.2 * i, 0.2 * i + 0.1)), words)
        for i, words in enumerate(("inside turn", "steep", "point by deep water", "wide flat"))
    )
    given = {
        "headline": "Start at 1: 200 yd of edge in the lee",
        "grid": DepthGrid(axis, axis, depth),
        "edges": (edge,),
        "stretches": stretches,
        "places": (Place(500.0, 60.0, "South launch"),),
        "units": units,
        "wind_from_rad": np.radians(225.0),
        **changes,
    }
    return MapView(**given)  # type: ignore[arg-type]


def zoomed(units: DisplayUnits = US) -> MapView:
    casts = tuple(
        CastLine(
            790.0,
            450.0 + 40.0 * i,
            792.0,
            500.0 + 40.0 * i,
            Polyline(np.array([790.5, 791.5]), np.array([465.0, 490.0]) + 40.0 * i),
            i + 1,
        )
        for i in range(3)
    )
    window = Window(700.0, 420.0, 900.0, 620.0)
    return make(units, casts=casts, stretches=(), window=window, places=())


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=lambda x: x.name)
@pytest.mark.parametrize("units", [US, METRIC], ids=lambda x: x.name)
def test_words_are_big_enough_whole_and_apart(
    untidy: Tidy, layout: Layout, units: DisplayUnits
) -> None:
    for view in (make(units), zoomed(units)):
        assert untidy(draw_map(view, layout), layout) == []


@pytest.mark.parametrize("layout", [LAPTOP, PHONE], ids=lambda x: x.name)
def test_one_scale_both_ways_and_a_bar_of_the_length_it_says(layout: Layout) -> None:
    figure = draw_map(make(), layout)
    ax = next(a for a in figure.axes if a.get_label() == "map")
    box = ax.get_window_extent()
    across = np.diff(ax.get_xlim())[0] / box.width
    up = np.diff(ax.get_ylim())[0] / box.height
    assert across == pytest.approx(up, rel=1e-3)
    over = next(a for a in figure.axes if a.get_label() == "words")
    halves = [c for c in over.collections if c.get_gid() == "scale-bar"]
    ends = [half.get_paths()[0].vertices[:, 0] for half in halves]
    length_px = max(e.max() for e in ends) - min(e.min() for e in ends)
    words = next(t.get_text() for t in over.texts if t.get_text().endswith(" yd"))
    assert length_px * across == pytest.approx(float(words.split()[0]) * 0.9144, rel=1e-3)


def test_scale_lengths_are_round_and_in_the_readers_units() -> None:
    assert scale_length(1000.0, US) == (pytest.approx(200 * 0.9144), "200 yd")
    assert scale_length(1000.0, METRIC) == (pytest.approx(200.0), "200 m")
    assert scale_length(9000.0, US) == (pytest.approx(1609.344), "1 mi")
    assert scale_length(9000.0, METRIC) == (pytest.approx(2000.0), "2 km")
    assert scale_length(9000.0, US, fine=True)[1] == "2000 yd"


def test_every_map_says_that_it_is_not_for_navigation() -> None:
    for view in (make(), zoomed(), make(note="x")):
        assert "Not for navigation." in picture_bytes(draw_map(view), "svg").decode()


def test_contours_lie_where_the_cone_has_that_depth() -> None:
    # Closed form: depth d lies on the circle of radius 480 (1 - d / 10) m.
    view = make(METRIC)
    figure = draw_map(view)
    ax = next(a for a in figure.axes if a.get_label() == "map")
    contours = [line for line in ax.lines if line.get_gid() == "contour"]
    radii = []
    for line in contours:
        radius = np.hypot(line.get_xdata() - 500.0, line.get_ydata() - 500.0)
        radii.append(float(np.nanmean(radius)))
        assert np.nanmax(radius) - np.nanmin(radius) < 3.0
    # Steps of 2 m, the first contour under the shore at 2 m: 10 m is the tip of the cone.
    assert radii == pytest.approx([480.0 * (1.0 - d / 10.0) for d in (2.0, 4.0, 6.0, 8.0)], abs=3.0)


def test_depth_steps_hold_all_depths_in_the_readers_units() -> None:
    view = make()
    frame = map_frame(Window(0.0, 0.0, 1000.0, 1000.0), 900.0, 300.0, 640.0)
    shown = shown_depth(view, frame)
    assert shown.levels[0] <= np.nanmin(shown.depth)
    assert shown.levels[-1] >= np.nanmax(shown.depth)
    assert len(shown.colours) == len(shown.levels) - 1 <= 7
    assert np.nanmax(shown.depth) == pytest.approx(10.0 / 0.3048, rel=0.02)


@pytest.mark.parametrize("units", [US, METRIC], ids=lambda x: x.name)
@pytest.mark.parametrize("deep_m", [1.0, 5.0, 10.0, 22.0, 150.0])
def test_few_rising_steps_with_fine_ones_in_the_shallows(
    units: DisplayUnits, deep_m: float
) -> None:
    axis = np.linspace(0.0, 1000.0, 51)
    grid = DepthGrid(axis, axis, np.tile(deep_m * axis / 1000.0, (51, 1)))
    frame = map_frame(Window(0.0, 0.0, 1000.0, 1000.0), 900.0, 300.0, 640.0)
    shown = shown_depth(make(units, grid=grid), frame)
    widths = np.diff(shown.levels)
    assert np.all(widths > 0.0)
    assert len(widths) <= 7
    assert shown.levels[0] == 0.0
    assert shown.levels[-1] >= np.nanmax(shown.depth)
    if deep_m > 20.0:  # grass grows in the shallows: there a step is 5 ft or 2 m
        assert widths[0] == (5.0 if units is US else 2.0)
        assert (
            f"over {shown.levels[-2]:g}"
            in picture_bytes(
                draw_map(make(units, grid=grid, edges=(), stretches=())), "svg"
            ).decode()
        )


def test_the_band_of_the_edge_is_a_ring_with_a_hole() -> None:
    figure = draw_map(make())
    ax = next(a for a in figure.axes if a.get_label() == "map")
    patch = next(p for p in ax.patches if isinstance(p, PathPatch))
    outline = patch.get_path()
    # Rings turn opposite ways, so that the inner one is a hole by either rule of filling.
    areas = [
        0.5 * float(np.sum(v[:-1, 0] * v[1:, 1] - v[1:, 0] * v[:-1, 1]))
        for v in (p for p in np.split(outline.vertices, np.flatnonzero(outline.codes == 1)[1:]))
    ]
    assert len(areas) == 2
    assert areas[0] * areas[1] < 0.0
    assert abs(sum(areas)) == pytest.approx(np.pi * (307.0**2 - 269.0**2), rel=0.01)


def test_north_arrow_turns_with_the_map() -> None:
    def head(view: MapView) -> np.ndarray:
        figure = draw_map(view)
        over = next(a for a in figure.axes if a.get_label() == "words")
        arrow = next(t for t in over.texts if t.get_gid() == "north")
        return np.array(arrow.xy) - np.array(arrow.get_position())

    assert head(make())[1] > 0.0
    assert abs(head(make())[0]) < 1e-9
    turned = head(make(north_rad=np.pi / 2.0))  # north to the right
    assert turned[0] > 0.0
    assert abs(turned[1]) < 1e-6


def test_wind_arrow_blows_the_way_the_wind_goes() -> None:
    # Wind from the south-west goes to the north-east: up and to the right.
    over = next(a for a in draw_map(make()).axes if a.get_label() == "words")
    arrow = next(t for t in over.texts if t.get_gid() == "wind")
    dx, dy = np.array(arrow.xy) - np.array(arrow.get_position())
    assert dx > 0.0
    assert dy == pytest.approx(dx)


def test_ranks_boats_and_places_are_written() -> None:
    svg = picture_bytes(draw_map(make()), "svg").decode()
    for said in (">1<", ">2<", ">3<", ">4<", "South launch", "grass edge, 13 ft", "ft deep"):
        assert said in svg, said
    svg = picture_bytes(draw_map(zoomed()), "svg").decode()
    for said in (">1<", ">2<", ">3<", "boat, cast", "in the zone"):
        assert said in svg, said


def test_a_window_off_the_water_still_draws() -> None:
    view = make(window=Window(-500.0, -500.0, -300.0, -300.0), stretches=(), edges=(), places=())
    assert picture_bytes(draw_map(view), "png")[:4] == b"\x89PNG"


def test_a_large_grid_is_thinned_to_the_pixels() -> None:
    axis = np.linspace(0.0, 8000.0, 1601)
    depth = 5.0 + np.sin(axis / 400.0)[None, :] + np.cos(axis / 500.0)[:, None]
    frame = map_frame(Window(0.0, 0.0, 8000.0, 8000.0), 900.0, 300.0, 640.0)
    shown = shown_depth(replace(make(), grid=DepthGrid(axis, axis, depth)), frame)
    assert shown.depth.shape[0] <= 2 * 640
    assert shown.depth.shape[1] <= 2 * 900


@pytest.mark.parametrize(
    ("build", "said"),
    [
        (lambda: DepthGrid(np.array([0.0, 0.0]), np.array([0.0, 1.0]), np.ones((2, 2))), "rise"),
        (lambda: DepthGrid(np.array([0.0, 1.0]), np.array([0.0, 1.0]), np.ones((3, 2))), "fit"),
        (
            lambda: DepthGrid(np.array([0.0, 1.0]), np.array([0.0, 1.0]), np.full((2, 2), np.nan)),
            "no depth",
        ),
        (lambda: Polyline(np.array([0.0]), np.array([0.0])), "two points"),
        (lambda: Polyline(np.array([0.0, np.nan]), np.array([0.0, 1.0])), "not a number"),
        (lambda: Ring(np.array([0.0, 1.0]), np.array([0.0, 1.0])), "three points"),
        (lambda: Window(0.0, 0.0, 0.0, 1.0), "no area"),
        (lambda: CastLine(0.0, 0.0, np.inf, 0.0), "not a number"),
    ],
)
def test_shapes_that_make_no_map_are_refused(build: Callable[[], object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        build()
