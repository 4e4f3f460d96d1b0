"""The side view: what is drawn, where, in which words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from leadsman.display_units import METRIC, US, DisplayUnits
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.output.picture import picture_bytes
from leadsman.output.side_scene import load_runs
from leadsman.output.side_view import (
    DepthCall,
    PathBand,
    PathMark,
    RankedSide,
    SideView,
    ZoneExtent,
    draw_match_view,
    draw_side_view,
)
from leadsman.output.style import LAPTOP, PHONE, Layout

Make = Callable[..., SideView]
Tidy = Callable[[Figure, Layout], list[str]]
LAYOUTS = [LAPTOP, PHONE]


def words(figure: Figure) -> str:
    return picture_bytes(figure, "svg").decode("utf-8")


def axes_named(figure: Figure, name: str) -> Axes:
    return next(ax for ax in figure.axes if ax.get_label() == name)


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda x: x.name)
@pytest.mark.parametrize("units", [US, METRIC], ids=lambda x: x.name)
@pytest.mark.parametrize("tip_m", [-1.5, 3.0])
@pytest.mark.parametrize("ground", ["none", "flat", "edge"])
def test_words_are_big_enough_whole_and_apart(
    make_view: Make,
    grass_edge: BottomProfile,
    untidy: Tidy,
    layout: Layout,
    units: DisplayUnits,
    tip_m: float,
    ground: str,
) -> None:
    bottom = {"none": None, "flat": BottomProfile.flat(3.048), "edge": grass_edge}[ground]
    view = make_view(bottom=bottom, units=units, tip_m=tip_m, note="Band from the rating only.")
    assert untidy(draw_side_view(view, layout), layout) == []


@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.floats(4.0, 35.0),
    st.floats(12.0, 70.0),
    st.floats(-3.0, 4.0),
    st.floats(0.5, 15.0),
    st.sampled_from(LAYOUTS),
)
def test_any_retrieve_can_be_drawn_tidily(
    make_view: Make,
    untidy: Tidy,
    angle: float,
    cast: float,
    tip: float,
    depth: float,
    layout: Layout,
) -> None:
    view = make_view(angle_deg=angle, cast_m=cast, tip_m=tip, bottom=BottomProfile.flat(depth))
    assert untidy(draw_side_view(view, layout), layout) == []


def test_words_and_units_of_an_american_reader(make_view: Make, grass_edge: BottomProfile) -> None:
    svg = words(draw_side_view(make_view(bottom=grass_edge)))
    for said in (
        "Long thin lip ticks the edge",
        "depth, ft",
        "distance from the rod tip, yd",
        "rod tip 2.0 ft up",
        "cast lands, 60 yd",
        "retrieve",
        "first contact",
        "free-running",
        "9 in 10",
        "light contact (load to 0.12)",
        "too hard: over 0.12",
        "if nothing stopped it",
        "grass",
        "as large as distance",
    ):
        assert said in svg, said


def test_words_and_units_of_a_metric_reader(make_view: Make) -> None:
    svg = words(draw_side_view(make_view(units=METRIC, tip_m=-1.5)))
    for said in ("depth, m", "distance from the rod tip, m", "m under", "cast lands, 55 m"):
        assert said in svg, said
    assert " ft" not in svg.replace("13.9 ft", "")  # the headline is the caller's


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda x: x.name)
@pytest.mark.parametrize(
    ("start_m", "end_m", "said"),
    [
        (0.6096, 1.8288, "rod tip 2.0, later 6.0 ft up"),
        (-0.9144, 1.8288, "rod tip 3.0 ft under, later 6.0 ft up"),
        (0.6096, 0.6096, "rod tip 2.0 ft up"),
        (0.0, -0.9144, "rod tip at the surface, later 3.0 ft under"),
    ],
)
def test_a_tip_that_moves_is_drawn_and_said_twice(
    make_view: Make, untidy: Tidy, layout: Layout, start_m: float, end_m: float, said: str
) -> None:
    mark = PathMark(20.0, 4.0, "tip up to 6 ft from here, after 12 turns")
    view = make_view(
        bottom=BottomProfile.flat(4.0), tip_m=start_m, tip_end_height_m=end_m, marks=(mark,)
    )
    figure = draw_side_view(view, layout)
    assert untidy(figure, layout) == []
    assert said in words(figure)
    over = axes_named(figure, "words")
    drawn = [line for line in over.lines if str(line.get_gid()).startswith("rod-tip")]
    assert len(drawn) == len({start_m, end_m})


def test_the_key_names_only_what_is_there(make_view: Make) -> None:
    svg = words(draw_side_view(make_view(bottom=None)))
    for absent in ("light contact", "too hard", "grass", "bottom, 9 in 10", "if nothing"):
        assert absent not in svg, absent
    bare = replace(make_view(bottom=None), band=None, call=None)
    assert "1 in 2" not in words(draw_side_view(bare))


def test_depth_goes_down_and_the_rod_is_on_the_left(make_view: Make) -> None:
    view = make_view(bottom=None)
    scene = axes_named(draw_side_view(view), "scene")
    assert scene.get_ylim()[0] > scene.get_ylim()[1]
    assert scene.get_xlim()[0] < 0.0 < scene.get_xlim()[1]
    line = next(item for item in scene.lines if item.get_gid() == "path-free")
    # The international foot and yard are exact: 0.3048 and 0.9144 m.
    assert np.max(line.get_ydata()) == pytest.approx(np.max(view.depth_m) / 0.3048)
    assert np.max(line.get_xdata()) == pytest.approx(np.max(view.x_m) / 0.9144)


def test_stretch_of_depth_is_stated_as_drawn(make_view: Make) -> None:
    figure = draw_side_view(make_view(bottom=None))
    scene = axes_named(figure, "scene")
    box = scene.get_window_extent()
    across = abs(np.diff(scene.get_xlim())[0]) * 0.9144 / box.width
    down = abs(np.diff(scene.get_ylim())[0]) * 0.3048 / box.height
    assert f"drawn {across / down:.1f} times" in words(figure)


def test_the_band_stands_where_it_was_given(make_view: Make) -> None:
    view = make_view(bottom=None)
    assert view.band is not None
    scene = axes_named(draw_side_view(view), "scene")
    area = next(c for c in scene.collections if c.get_gid() == "band-90")
    ys = area.get_paths()[0].vertices[:, 1]
    assert ys.max() == pytest.approx(view.band.deep_90_m.max() / 0.3048)


def test_contact_is_drawn_thicker_the_harder_it_is(
    make_view: Make, grass_edge: BottomProfile
) -> None:
    scene = axes_named(draw_side_view(make_view(bottom=grass_edge)), "scene")
    widths = {
        name: max(line.get_linewidth() for line in scene.lines if line.get_gid() == name)
        for name in ("path-free", "path-light", "path-over")
    }
    assert widths["path-free"] < widths["path-light"] < widths["path-over"]


def test_runs_meet_and_cover_the_whole_path() -> None:
    load = np.array([0.0, 0.0, 0.05, 0.12, 0.2, 0.2, 0.1, 0.0, 0.0])
    runs = load_runs(load, 0.12)
    assert [kind for kind, _, _ in runs] == ["free", "light", "over", "light", "free"]
    assert runs[0][1] == 0
    assert runs[-1][2] == load.size - 1
    assert all(a[2] == b[1] for a, b in pairwise(runs))


def test_zone_lengths_are_written_large(make_view: Make) -> None:
    view = replace(
        make_view(bottom=BottomProfile.flat(3.048)), zones=(ZoneExtent(10.0, 10.0 + 24.6888),)
    )
    figure = draw_side_view(view)
    over = axes_named(figure, "words")
    number = next(t for t in over.texts if t.get_text() == "27")  # 24.6888 m is 27 yd
    assert number.get_fontsize() == LAPTOP.number_pt
    assert "zone-extent" in words(figure)


def test_a_wanted_depth_is_drawn_and_named(make_view: Make, untidy: Tidy) -> None:
    view = make_view(bottom=BottomProfile.flat(30.0), target_m=(4.5, 6.0))
    for layout in LAYOUTS:
        figure = draw_side_view(view, layout)
        assert untidy(figure, layout) == []
        svg = words(figure)
        assert "at the wanted depth" in svg
        assert "The bottom is deeper than shown." in svg


def test_a_very_long_and_hostile_name_is_held(make_view: Make, untidy: Tidy) -> None:
    name = "A" * 300 + " $\\frac{1}{0}$ \x00\u202e <script>alert(1)</script> " + "word " * 80
    for layout in LAYOUTS:
        figure = draw_side_view(make_view(headline=name), layout)
        assert untidy(figure, layout) == []
        assert "<script>" not in words(figure)


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda x: x.name)
def test_best_three_stand_below_one_another_at_one_scale(
    make_view: Make, grass_edge: BottomProfile, untidy: Tidy, layout: Layout
) -> None:
    ranked = [
        RankedSide(
            f"Lure number {i}, a long name, 10 lb fluorocarbon, 60 yd, tip low",
            25.0 - 5.0 * i,
            "Runs a foot past the bottom and touches along most of the flat.",
            make_view(angle_deg=18.0 - 2.0 * i, bottom=grass_edge),
        )
        for i in range(3)
    ]
    figure = draw_match_view("Tie on number 0", ranked, layout, subtitle="Over a 13 ft edge")
    assert untidy(figure, layout) == []
    scenes = [ax for ax in figure.axes if ax.get_label() == "scene"]
    assert len(scenes) == 3
    assert len({(*ax.get_xlim(), *ax.get_ylim()) for ax in scenes}) == 1
    heights = [ax.get_position().y0 for ax in scenes]
    assert heights == sorted(heights, reverse=True)
    svg = words(figure)
    for said in ("yd in the zone", ">27<", ">22<", ">16<", "free-running"):
        assert said in svg, said  # 25, 20 and 15 m in yards, rounded


def test_setups_in_one_picture_share_units_and_limit(make_view: Make) -> None:
    one = RankedSide("a", 1.0, "b", make_view())
    other = RankedSide("a", 1.0, "b", make_view(units=METRIC))
    with pytest.raises(ValueError, match="same units"):
        draw_match_view("x", [one, other])
    with pytest.raises(ValueError, match="1 to 5"):
        draw_match_view("x", [])
    with pytest.raises(ValueError, match="1 to 5"):
        draw_match_view("x", [one] * 6)


def path(**changes: object) -> SideView:
    x = np.linspace(50.0, 1.0, 20)
    given = {
        "headline": "h",
        "x_m": x,
        "depth_m": np.full(20, 2.0),
        "load": np.zeros(20),
        "tip_height_m": 0.6,
        **changes,
    }
    return SideView(**given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"x_m": np.array([1.0])}, "at least two"),
        ({"depth_m": np.zeros(3)}, "differ in length"),
        ({"depth_m": np.full(20, np.nan)}, "not a number"),
        ({"load": np.full(20, -0.1)}, "negative"),
        ({"load_limit": 0.0}, "not positive"),
        ({"tip_height_m": float("nan")}, "rod tip"),
        ({"target_m": (3.0, 2.0)}, "shallow to deep"),
        ({"x_m": np.full(20, 4.0)}, "no length"),
    ],
)
def test_arrays_that_make_no_path_are_refused(changes: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        path(**changes)


def test_bands_and_calls_must_make_sense() -> None:
    x, z = np.array([1.0, 2.0]), np.array([3.0, 3.0])
    with pytest.raises(ValueError, match="shallow to deep"):
        PathBand(x, z, z - 1.0, z, z)
    with pytest.raises(ValueError, match="must rise"):
        PathBand(x[::-1].copy(), z, z, z, z)
    with pytest.raises(ValueError, match="does not hold"):
        DepthCall(1.0, 5.0, 6.0, 7.0)
    with pytest.raises(ValueError, match="chance"):
        DepthCall(1.0, 5.0, 4.0, 7.0, chance=1.0)
    with pytest.raises(ValueError, match="beyond"):
        ZoneExtent(5.0, 4.0)
    with pytest.raises(ValueError, match="more zone"):
        ZoneExtent(4.0, 5.0, 2.0)


def test_bands_of_draws_are_their_quantiles() -> None:
    # Of 0 to 100 evenly, the 5th, 25th, 75th and 95th of a hundred are those numbers.
    draws = np.tile(np.arange(101.0)[:, None], (1, 2))
    band = PathBand.of_draws(np.array([1.0, 2.0]), draws)
    ends = (band.shallow_90_m, band.shallow_50_m, band.deep_50_m, band.deep_90_m)
    assert [float(e[0]) for e in ends] == [5.0, 25.0, 75.0, 95.0]
    with pytest.raises(ValueError, match="no path"):
        PathBand.of_draws(np.array([1.0, 2.0]), np.full((3, 2), np.nan))
    with pytest.raises(ValueError, match="each draw"):
        PathBand.of_draws(np.array([1.0, 2.0]), np.zeros((3, 5)))
