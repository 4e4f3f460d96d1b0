"""Words on a side view: depth to plan on, zone lengths, rod tip, cast, events."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from leadsman.output import style
from leadsman.output.label_placement import Box, LabelPlacer, around
from leadsman.output.scene_frame import SceneFrame
from leadsman.output.side_marks import draw_direction, draw_tip, tip_px
from leadsman.output.side_scene import Z90
from leadsman.output.side_view_types import SideView, ZoneExtent
from leadsman.output.text_setting import (
    balanced,
    clean,
    label_size_px,
    number_size_px,
    write_number,
)

if TYPE_CHECKING:
    pass

BRACKET_PX = 5.0
"""Height of the bar of a zone extent [px]."""
FAR_PX = 60.0
"""A bottom further than this below the path does not carry the zone's bar [px]."""


def write_labels(frame: SceneFrame, view: SideView, *, words: bool = True) -> None:
    """Write the words of a view, each where nothing else is, and draw its marks.

    Parameters
    ----------
    frame : SceneFrame
        Where to write [-].
    view : SideView
        What to write [-].
    words : bool
        False draws rod tip, cast, direction and zone extents without words [-].
    """
    obstacles = _obstacles(frame, view)
    placer = LabelPlacer(Box(2.0, 2.0, frame.width_px - 2.0, frame.height_px - 2.0), obstacles)
    draw_tip(frame, view)
    draw_direction(frame, view)
    bars = [_draw_zone(frame, view, zone, words) for zone in view.zones]
    for bar in bars:
        placer.reserve(bar, crossable=True)
    if words:
        _write_sky(frame, view, placer)
        _write_call(frame, view, placer)
        for zone, bar in sorted(zip(view.zones, bars, strict=True), key=lambda z: -z[0].length_m):
            _write_zone(frame, view, zone, bar, placer)
        _write_marks(frame, view, placer)


def _obstacles(frame: SceneFrame, view: SideView) -> list[Box]:
    """What words should not cover [px]."""
    boxes = frame.curve_px(view, view.x_m, view.depth_m)
    curves = []
    if view.band is not None:
        curves += [(view.band.x_m, view.band.shallow_90_m), (view.band.x_m, view.band.deep_90_m)]
    if view.free is not None:
        curves.append((view.free.x_m, view.free.depth_m))
    if view.bottom is not None:
        x_m = np.linspace(0.0, float(np.max(view.x_m)), 200)
        depth_m = view.bottom.depth_at(x_m)
        curves.append((x_m, depth_m))
        if view.bottom.depth_se_m is not None:
            half = Z90 * np.interp(x_m, view.bottom.x_m, view.bottom.depth_se_m)
            curves += [(x_m, depth_m - half), (x_m, depth_m + half)]
        grass = view.bottom.grass
        if grass is not None:
            top_m = np.interp(x_m, grass.x_m, grass.top_depth_m)
            tall = top_m < depth_m
            curves += [(x_m[tall], top_m[tall] + f * (depth_m - top_m)[tall]) for f in (0.0, 0.5)]
    for x_m, depth_m in curves:
        boxes += frame.curve_px(view, x_m, depth_m)
    return boxes


def tip_words(view: SideView) -> str:
    """Height of the rod tip as a person says it.

    Parameters
    ----------
    view : SideView
        The view [-].
    """
    units = view.units.depth
    words = [_height_words(view, tip) for tip in view.tips_m]
    if len(words) == 2 and all(tip > 0.0 for tip in view.tips_m):
        first, last = (units.number(tip) for tip in view.tips_m)
        return f"rod tip {first}, later {last} {units.unit} up"
    return f"rod tip {', later '.join(words)}"


def _height_words(view: SideView, tip_m: float) -> str:
    if view.units.depth.number(abs(tip_m)) == view.units.depth.number(0.0):
        return "at the surface"
    return f"{view.units.depth.text(abs(tip_m))} {'up' if tip_m > 0.0 else 'under'}"


def _write_sky(frame: SceneFrame, view: SideView, placer: LabelPlacer) -> None:
    size = frame.layout.small_pt
    start_x, start_y = frame.to_px(view, float(np.max(view.x_m)), 0.0)
    tip_x, tip_y = tip_px(frame, view, max(view.tips_m))
    tip = tip_words(view)
    cast = f"cast lands, {view.units.distance.text(float(np.max(view.x_m)))}"
    width, height = label_size_px(tip, size)
    y = max(start_y + 7.0, min(tip_y - 0.4 * height, frame.height_px - height - 3.0))
    left = tip_x + 9.0
    _label(frame, Box(left, y, left + width, y + height), tip, size)
    placer.reserve(Box(left, y, left + width, y + height))
    width, height = label_size_px(cast, size)
    box = Box(start_x - width - 9.0, start_y + 7.0, start_x - 9.0, start_y + 7.0 + height)
    cast_box = placer.place([box, *(_shift(box, 0.0, up) for up in (6.0, 12.0, 18.0))])
    if cast_box is not None:
        _label(frame, cast_box, cast, size)
    words = "retrieve"
    width, height = label_size_px(words, size)
    arrow = 30.0
    middle = 0.5 * (tip_x + start_x)
    box = Box(middle - 0.5 * (width + arrow), start_y + 7.0, middle + 0.5 * (width + arrow), 0.0)
    box = Box(box.left, box.bottom, box.right, box.bottom + height)
    shifts = [_shift(box, dx, 0.0) for dx in (0.0, 12.0, -12.0, 24.0, -24.0, 36.0, 48.0)]
    spot = placer.place(shifts, gap_px=12.0)
    if spot is not None:
        mid = 0.5 * (spot.bottom + spot.top)
        frame.ax.annotate(
            "",
            (spot.left, mid),
            (spot.left + arrow - 5.0, mid),
            arrowprops={
                "arrowstyle": "-|>",
                "color": style.TEXT,
                "linewidth": 1.4,
                "shrinkA": 0,
                "shrinkB": 0,
            },
        )
        _label(frame, Box(spot.left + arrow, spot.bottom, spot.right, spot.top), words, size)


def _shift(box: Box, dx: float, dy: float) -> Box:
    return Box(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy)


def _label(
    frame: SceneFrame,
    box: Box,
    text: str,
    size_pt: float,
    colour: str = style.TEXT,
) -> None:
    frame.ax.text(
        box.left,
        0.5 * (box.bottom + box.top),
        clean(text),
        fontsize=size_pt,
        color=colour,
        va="center_baseline",
        ha="left",
        zorder=12,
    )


def _under_px(frame: SceneFrame, view: SideView, zone: ZoneExtent) -> float:
    """Height just under everything drawn along a zone extent [px]."""
    x_m = np.linspace(zone.near_x_m, zone.far_x_m, 30)
    order = np.argsort(view.x_m)
    deepest = np.interp(x_m, view.x_m[order], view.depth_m[order])
    if view.band is not None and view.bottom is None:
        deepest = np.maximum(deepest, np.interp(x_m, view.band.x_m, view.band.deep_90_m))
    if view.bottom is not None:
        under = view.bottom.depth_at(x_m)
        if view.bottom.depth_se_m is not None:
            under = under + Z90 * np.interp(x_m, view.bottom.x_m, view.bottom.depth_se_m)
        _, lure_y = frame.to_px(view, 0.0, float(np.max(deepest)))
        _, bottom_y = frame.to_px(view, 0.0, float(np.max(under)))
        if lure_y - bottom_y < FAR_PX:  # else the mark would stand far from what it marks
            deepest = np.maximum(deepest, under)
        elif view.band is not None:
            deepest = np.maximum(deepest, np.interp(x_m, view.band.x_m, view.band.deep_90_m))
    _, y = frame.to_px(view, 0.0, float(np.max(deepest)))
    return y


def _draw_zone(frame: SceneFrame, view: SideView, zone: ZoneExtent, numbered: bool) -> Box:
    """A bar under a stretch in the zone; gives its box."""
    left, _ = frame.to_px(view, zone.near_x_m, 0.0)
    right, _ = frame.to_px(view, zone.far_x_m, 0.0)
    under = label_size_px("0", frame.layout.number_pt, bold=True)[1] if numbered else 0.0
    top = max(_under_px(frame, view, zone) - 12.0, under + BRACKET_PX + 8.0)
    frame.ax.fill_between(
        [left, right],
        top - BRACKET_PX,
        top,
        facecolor=style.CONTACT,
        edgecolor=style.CONTACT_CASING,
        linewidth=1.2,
        zorder=9,
        gid="zone-extent",
    )
    for end in (left, right):
        cap = [top - BRACKET_PX - 3.0, top + 3.0]
        frame.ax.plot([end, end], cap, color=style.CONTACT_CASING, linewidth=1.6, zorder=9)
    return Box(left, top - BRACKET_PX, right, top)


def _write_zone(
    frame: SceneFrame, view: SideView, zone: ZoneExtent, bar: Box, placer: LabelPlacer
) -> None:
    layout = frame.layout
    number, unit = view.units.distance.number(zone.length_m), view.units.distance.unit
    width, height = number_size_px(number, unit, layout.number_pt, layout.small_pt)
    centre = 0.5 * (bar.left + bar.right)
    y = bar.bottom - 4.0 - height
    # Under its own bar, so that it cannot be read as another's.
    near = max(0.5 * (bar.right - bar.left - width), 6.0)
    beside = max(near, 0.5 * width + 4.0)
    shifts = (0.0, 0.5 * near, -0.5 * near, near, -near, beside, -beside)
    spot = placer.place(
        Box(centre - 0.5 * width + dx, y - dy, centre + 0.5 * width + dx, y - dy + height)
        for dy in (0.0, 0.4 * height)
        for dx in shifts
    )
    if spot is not None:
        write_number(frame.ax, spot, number, unit, layout.number_pt, layout.small_pt)


def _write_call(frame: SceneFrame, view: SideView, placer: LabelPlacer) -> None:
    call = view.call
    if call is None:
        return
    layout = frame.layout
    units = view.units.depth
    number, unit = units.number(call.depth_m), units.unit
    ends = f"{units.number(call.low_m)} to {units.number(call.high_m)}"
    band = f"{ends}, {round(10 * call.chance)} in 10"
    first_w, first_h = number_size_px(number, unit, layout.number_pt, layout.small_pt)
    what_w, what_h = label_size_px(call.what, layout.small_pt)
    band_w, _ = label_size_px(band, layout.small_pt)
    width, height = max(first_w, what_w, band_w), first_h + 2.0 * what_h
    x, y = frame.to_px(view, call.x_m, call.depth_m)
    shown = y >= 4.0
    y = max(y, 4.0)
    _, surface = frame.to_px(view, 0.0, 0.0)
    columns = [0.0] + [side * dx for dx in np.arange(30.0, 400.0, 30.0) for side in (1.0, -1.0)]
    candidates = [
        Box(x + dx - 0.5 * width, top - height, x + dx + 0.5 * width, top)
        for dx in columns
        for top in (*np.linspace(surface - 6.0, max(y, height), 8), y - 10.0)
        if top <= surface - 6.0
    ]
    spot = placer.place(candidates, leader_to=(x, y))
    if spot is None:
        return
    frame.ax.annotate(
        "",
        (x, y),
        _leader_start(spot, x, y),
        zorder=11,
        arrowprops={
            "arrowstyle": "-" if shown else "-|>",
            "color": style.TEXT,
            "linewidth": 1.0,
            "shrinkA": 0,
            "shrinkB": 0,
        },
    )
    if shown:
        frame.ax.plot(
            [x],
            [y],
            marker="o",
            markersize=5.0,
            markerfacecolor=style.PAPER,
            markeredgecolor=style.TEXT,
            markeredgewidth=1.2,
            zorder=11,
            gid="depth-call",
        )
    top = spot.top
    _label(frame, Box(spot.left, top - what_h, spot.right, top), call.what, layout.small_pt)
    middle = Box(spot.left, top - what_h - first_h, spot.right, top - what_h)
    write_number(frame.ax, middle, number, unit, layout.number_pt, layout.small_pt)
    _label(
        frame, Box(spot.left, spot.bottom, spot.right, spot.bottom + what_h), band, layout.small_pt
    )


def _leader_start(spot: Box, x: float, y: float) -> tuple[float, float]:
    """Where a leader leaves a label, a little off its words [px]."""
    near_x, near_y = spot.nearest(x, y)
    length = math.hypot(x - near_x, y - near_y)
    share = min(3.0 / length, 1.0) if length > 0.0 else 0.0
    return near_x + share * (x - near_x), near_y + share * (y - near_y)


def _write_marks(frame: SceneFrame, view: SideView, placer: LabelPlacer) -> None:
    size = frame.layout.small_pt
    widest = min(0.36 * frame.width_px, 220.0)
    for mark in view.marks:
        lines = balanced(mark.label, size, widest)
        width = max(label_size_px(line, size)[0] for line in lines)
        _, line_height = label_size_px(lines[0], size)
        x, y = frame.to_px(view, mark.x_m, mark.depth_m)
        candidates = around(x, y, width, line_height * len(lines), 130.0)
        spot = placer.place(candidates, leader_to=(x, y))
        frame.ax.plot(
            [x],
            [y],
            marker="D",
            markersize=5.5,
            markerfacecolor=style.PAPER,
            markeredgecolor=style.TEXT,
            markeredgewidth=1.2,
            zorder=11,
            gid="mark",
        )
        if spot is None:
            continue
        near_x, near_y = _leader_start(spot, x, y)
        frame.ax.plot([x, near_x], [y, near_y], color=style.TEXT, linewidth=0.8, zorder=11)
        for i, line in enumerate(lines):
            top = spot.top - i * line_height
            _label(frame, Box(spot.left, top - line_height, spot.right, top), line, size)
