"""The main picture: a retrieve seen from the side.

One retrieve fills a picture. Several set-ups over one bottom are drawn one
below the other at the same scale: in contact they all lie on the bottom, so
that laid over one another they would hide each other just where they are to
be compared.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from leadsman.output import style
from leadsman.output.label_placement import Box
from leadsman.output.picture import house_style
from leadsman.output.scene_frame import SceneFrame
from leadsman.output.sheet import Sheet, new_sheet
from leadsman.output.side_key import scene_key
from leadsman.output.side_labels import write_labels
from leadsman.output.side_scene import SceneScale, draw_scene, scene_scale
from leadsman.output.side_view_types import (
    DepthCall,
    FreePath,
    PathBand,
    PathMark,
    RankedSide,
    SideView,
    ZoneExtent,
)
from leadsman.output.style import LAPTOP, Layout
from leadsman.output.text_setting import (
    LINE_HEIGHT,
    PT_PX,
    label_size_px,
    number_size_px,
    wrap,
    write_number,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = [
    "DepthCall",
    "FreePath",
    "PathBand",
    "PathMark",
    "RankedSide",
    "SideView",
    "ZoneExtent",
    "draw_match_view",
    "draw_side_view",
]

MOST_RANKED = 5
"""Most set-ups in one picture [-]."""


def draw_side_view(view: SideView, layout: Layout = LAPTOP) -> Figure:
    """Draw one retrieve.

    Parameters
    ----------
    view : SideView
        The retrieve [-].
    layout : Layout
        Width and type sizes [-].

    Returns
    -------
    matplotlib.figure.Figure
        The picture; see `leadsman.output.picture.save_picture` [-].
    """
    with house_style():
        left, under = _axis_room(layout)
        plot_h = 270.0 if layout.is_phone else 380.0
        width = layout.width_px - 2.0 * layout.margin_px - left
        ground = 46.0 if view.zones else 24.0
        scale = scene_scale((view,), width, plot_h, 28.0, ground)
        note = f"{view.note} {_stretch_words(view, scale, width, plot_h)}"
        sheet = new_sheet(
            layout,
            view.headline,
            plot_h + under,
            subtitle=view.subtitle,
            key=scene_key((view,)),
            note=note,
        )
        _scene_with_words(sheet, view, scale, sheet.bottom_px + under, plot_h, True, True)
        return sheet.figure


def draw_match_view(
    headline: str,
    ranked: Sequence[RankedSide],
    layout: Layout = LAPTOP,
    *,
    subtitle: str = "",
    note: str = "",
) -> Figure:
    """Draw the best set-ups over one bottom, best on top, all at one scale.

    Parameters
    ----------
    headline : str
        The sentence a person could act on [-].
    ranked : sequence of RankedSide
        One to `MOST_RANKED` set-ups, best first; three read best [-].
    layout : Layout
        Width and type sizes [-].
    subtitle, note : str
        Second line, and small words at the foot [-].

    Returns
    -------
    matplotlib.figure.Figure
        The picture [-].

    Raises
    ------
    ValueError
        None or too many are given, or their units or load limits differ.
    """
    if not 1 <= len(ranked) <= MOST_RANKED:
        raise ValueError(f"1 to {MOST_RANKED} set-ups can be drawn, not {len(ranked)}")
    views = tuple(r.side for r in ranked)
    if len({v.units.name for v in views}) > 1 or len({v.load_limit for v in views}) > 1:
        raise ValueError("set-ups in one picture need the same units and load limit")
    with house_style():
        left, under = _axis_room(layout)
        width = layout.width_px - 2.0 * layout.margin_px - left
        plot_h = 150.0 if layout.is_phone else 170.0
        heads = [_ranked_head(r, layout) for r in ranked]
        rows = [h.height_px + plot_h + 12.0 for h in heads]
        scale = scene_scale(views, width, plot_h, 12.0, 20.0)
        words = f"{note} {_stretch_words(views[0], scale, width, plot_h)}"
        sheet = new_sheet(
            layout,
            headline,
            sum(rows) + under,
            subtitle=subtitle,
            key=scene_key(views),
            note=words,
        )
        y = sheet.bottom_px + sheet.height_px
        for i, (item, head) in enumerate(zip(ranked, heads, strict=True)):
            _write_ranked_head(sheet, i + 1, head, y)
            bottom = y - head.height_px - plot_h
            last = i == len(ranked) - 1
            _scene_with_words(sheet, item.side, scale, bottom, plot_h, last, False)
            y = bottom - 12.0
        return sheet.figure


def _axis_room(layout: Layout) -> tuple[float, float]:
    """Room for the numbers left of and under the axes [px]."""
    return (38.0, 40.0) if layout.is_phone else (52.0, 48.0)


def _stretch_words(view: SideView, scale: SceneScale, width_px: float, height_px: float) -> str:
    metres_per_px_across = (scale.x_high - scale.x_low) / view.units.distance.value(1.0) / width_px
    metres_per_px_down = (scale.y_bottom - scale.y_top) / view.units.depth.value(1.0) / height_px
    factor = metres_per_px_across / metres_per_px_down
    deeper = "The bottom is deeper than shown. " if scale.bottom_is_cut else ""
    if f"{factor:.1f}" == "1.0":
        return f"{deeper}Depth and distance are drawn to one scale."
    return f"{deeper}Depth is drawn {factor:.1f} times as large as distance."


def _scene_with_words(
    sheet: Sheet,
    view: SideView,
    scale: SceneScale,
    bottom_px: float,
    height_px: float,
    distances: bool,
    alone: bool,
) -> None:
    room, _ = _axis_room(sheet.layout)
    left, width = sheet.left_px + room, sheet.width_px - room
    ax = sheet.axes(left, bottom_px, width, height_px)
    ax.set_label("scene")
    draw_scene(ax, view, scale, sheet.layout)
    _set_ticks(ax, view, sheet.layout, scale, distances)
    over = sheet.pixel_axes(left, bottom_px, width, height_px)
    over.set_label("words")
    frame = SceneFrame(over, scale, width, height_px, sheet.layout)
    write_labels(frame, view, words=alone)


def _set_ticks(
    ax: Axes, view: SideView, layout: Layout, scale: SceneScale, distances: bool
) -> None:
    from matplotlib.ticker import MaxNLocator

    steps = [1, 2, 5, 10]
    marks = MaxNLocator(nbins=7, steps=steps).tick_values(0.0, scale.y_bottom)
    ax.set_yticks([m for m in marks if 0.0 <= m <= scale.y_bottom])
    marks = MaxNLocator(nbins=6 if layout.is_phone else 9, steps=steps, integer=True).tick_values(
        0.0, scale.x_high
    )
    ax.set_xticks([m for m in marks if scale.x_low <= m <= scale.x_high])
    ax.xaxis.set_major_formatter("{x:g}")
    ax.yaxis.set_major_formatter("{x:g}")
    size = layout.small_pt
    ax.tick_params(
        labelsize=layout.text_pt,
        color=style.RULE,
        labelcolor=style.TEXT,
        length=4,
        pad=3,
        labelbottom=distances,
        bottom=distances,
    )
    for side in ("top", "right", "bottom", "left"):
        ax.spines[side].set_visible(False)
    ax.set_ylabel(f"depth, {view.units.depth.unit}", fontsize=size, color=style.QUIET, labelpad=3)
    if distances:
        ax.set_xlabel(
            f"distance from the rod tip, {view.units.distance.unit}",
            fontsize=size,
            color=style.QUIET,
            labelpad=2,
        )


@dataclass(frozen=True, slots=True)
class _RankedHead:
    """Words above one of several scenes, broken into lines."""

    setup: list[str]
    reason: list[str]
    number: str
    unit: str
    depth: str
    height_px: float


def _ranked_head(item: RankedSide, layout: Layout) -> _RankedHead:
    units = item.side.units
    number = units.distance.number(item.zone_m)
    unit = f"{units.distance.unit} in the zone"
    call = item.side.call
    depth = f"{call.what} {units.depth.text(call.depth_m)}" if call is not None else ""
    right = max(
        number_size_px(number, unit, layout.number_pt, layout.small_pt)[0],
        label_size_px(depth, layout.small_pt)[0],
    )
    room = layout.width_px - 2.0 * layout.margin_px - right - 24.0 - 14.0
    setup = wrap(item.setup, layout.text_pt, room, bold=True, most_lines=3)
    reason = wrap(item.reason, layout.small_pt, room, most_lines=4)
    left_px = (len(setup) * layout.text_pt + len(reason) * layout.small_pt) * PT_PX * LINE_HEIGHT
    right_px = (layout.number_pt + layout.small_pt) * PT_PX * LINE_HEIGHT
    return _RankedHead(setup, reason, number, unit, depth, max(left_px, right_px) + 8.0)


def _write_ranked_head(sheet: Sheet, rank: int, head: _RankedHead, top_px: float) -> None:
    layout, height, width = sheet.layout, head.height_px, sheet.width_px
    ax = sheet.pixel_axes(sheet.left_px, top_px - height, width, height)
    ax.set_label("ranked")
    y = height - layout.number_pt * PT_PX
    ax.text(0.0, y, f"{rank}", fontsize=layout.number_pt, fontweight="bold", color=style.TEXT)
    y = height
    for lines, size, weight, colour in (
        (head.setup, layout.text_pt, "bold", style.TEXT),
        (head.reason, layout.small_pt, "normal", style.QUIET),
    ):
        for line in lines:
            y -= size * PT_PX * LINE_HEIGHT
            ax.text(24.0, y + 3.0, line, fontsize=size, fontweight=weight, color=colour)
    w, h = number_size_px(head.number, head.unit, layout.number_pt, layout.small_pt)
    box = Box(width - w, height - h - 1.0, width, height - 1.0)
    write_number(ax, box, head.number, head.unit, layout.number_pt, layout.small_pt)
    y = box.bottom - layout.small_pt * PT_PX
    ax.text(width, y, head.depth, fontsize=layout.small_pt, color=style.TEXT, ha="right")
