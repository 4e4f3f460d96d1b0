"""Words and signs on a map: ranks, places, contour depths, scale bar, north, wind."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from leadsman.display_units import DisplayUnits
from leadsman.output import style
from leadsman.output.label_placement import Box, LabelPlacer, around, boxes_along
from leadsman.output.map_frame import MapFrame
from leadsman.output.map_layers import stroke_half_px
from leadsman.output.map_view_types import FloatArray, MapView, Polyline
from leadsman.output.style import Layout
from leadsman.output.text_setting import clean, fit, label_size_px

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MILE_M = 1609.344
"""International mile [m], exact."""
LONG_MAP_M = 3000.0
"""Maps wider than this have their scale in miles or kilometres [m]."""
NICE = (1.0, 2.0, 5.0)
"""Leading digits of round lengths [-]."""


def scale_length(width_m: float, units: DisplayUnits, fine: bool = False) -> tuple[float, str]:
    """A round length that fits in a share of the map, and how it is written.

    Parameters
    ----------
    width_m : float
        Width of the map [m].
    units : DisplayUnits
        Units the reader thinks in [-].
    fine : bool
        Never use miles or kilometres [-].

    Returns
    -------
    (float, str)
        Length of the bar [m] and its words.
    """
    short = units.distance.unit
    if width_m <= LONG_MAP_M or fine:
        unit, unit_m = short, 1.0 / units.distance.value(1.0)
    else:
        unit, unit_m = ("mi", MILE_M) if short == "yd" else ("km", 1000.0)
    most = 0.3 * width_m / unit_m
    power = 10.0 ** math.floor(math.log10(most))
    best = max(n * power for n in NICE if n * power <= most)
    return best * unit_m, f"{best:g} {unit}"


def write_map_words(
    ax: Axes,
    view: MapView,
    frame: MapFrame,
    layout: Layout,
    contours: list[tuple[float, list[FloatArray]]],
) -> None:
    """Write everything, each where nothing else is; what matters most first.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes whose data are pixels, over the map [-].
    view : MapView
        The map [-].
    frame : MapFrame
        What is shown [-].
    layout : Layout
        Width and type sizes [-].
    contours : list of (float, list of ndarray)
        Contours drawn, as `draw_depth` returns them [-].
    """
    lines = [s.line for s in view.stretches] + [line for e in view.edges for line in e.lines]
    lines += [
        Polyline(np.array([c.boat_x_m, c.end_x_m]), np.array([c.boat_y_m, c.end_y_m]))
        for c in view.casts
    ]
    if view.route is not None:
        lines.append(view.route)
    obstacles = [box for line in lines for box in _boxes(line, frame)]
    bounds = Box(3.0, 3.0, frame.width_px - 3.0, frame.height_px - 3.0)
    placer = LabelPlacer(bounds, obstacles)
    for x, y in [(c.boat_x_m, c.boat_y_m) for c in view.casts]:
        px, py = frame.to_px(x, y)
        placer.reserve(Box(px - 5.0, py - 5.0, px + 5.0, py + 5.0))
    _draw_signs(ax, view, frame, layout, placer)
    _write_ranks(ax, view, frame, layout, placer)
    _write_boats(ax, view, frame, layout, placer)
    _write_places(ax, view, frame, layout, placer)
    _write_contours(ax, view, frame, layout, placer, contours)


def _boxes(line: Polyline, frame: MapFrame) -> list[Box]:
    xs, ys = (
        np.array(v)
        for v in zip(
            *(frame.to_px(float(a), float(b)) for a, b in zip(line.x_m, line.y_m, strict=True)),
            strict=True,
        )
    )
    run = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(xs), np.diff(ys)))))
    even = np.arange(0.0, run[-1] + 1.0, 7.0)
    return boxes_along(
        np.interp(even, run, xs).tolist(), np.interp(even, run, ys).tolist(), stroke_half_px(7.0)
    )


def _middle(line: Polyline, frame: MapFrame) -> tuple[float, float] | None:
    """Middle of the part of a line that is on the map [px]."""
    run = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(line.x_m), np.diff(line.y_m)))))
    even = np.linspace(0.0, run[-1], 101)
    points = [
        frame.to_px(float(x), float(y))
        for x, y in zip(np.interp(even, run, line.x_m), np.interp(even, run, line.y_m), strict=True)
    ]
    seen = [p for p in points if 0.0 <= p[0] <= frame.width_px and 0.0 <= p[1] <= frame.height_px]
    return seen[len(seen) // 2] if seen else None


def _text(
    ax: Axes, box: Box, words: str, size_pt: float, *, bold: bool = False, ground: bool = True
) -> None:
    if ground:
        ax.fill_between(
            [box.left - 2.0, box.right + 2.0],
            box.bottom,
            box.top,
            color=style.PAPER,
            alpha=0.85,
            linewidth=0,
            zorder=11,
        )
    ax.text(
        box.left,
        0.5 * (box.bottom + box.top),
        clean(words),
        fontsize=size_pt,
        color=style.TEXT,
        fontweight="bold" if bold else "normal",
        va="center_baseline",
        zorder=12,
    )


def _write_ranks(
    ax: Axes, view: MapView, frame: MapFrame, layout: Layout, placer: LabelPlacer
) -> None:
    for stretch in sorted(view.stretches, key=lambda s: s.rank):
        middle = _middle(stretch.line, frame)
        if middle is None:
            continue
        number = str(stretch.rank)
        radius = 0.5 * label_size_px("00", layout.text_pt, bold=True)[0] + 3.0
        words = fit(stretch.label, layout.small_pt, 0.4 * frame.width_px) if stretch.label else ""
        words_w, words_h = label_size_px(words, layout.small_pt)
        height = max(2.0 * radius, words_h)
        full = 2.0 * radius + (words_w + 6.0 if words else 0.0)
        # Words only where they fit close by; the number always, if it must be over a line.
        spot = None
        if words:
            boxes = around(*middle, full, height, 36.0)
            spot = placer.place(boxes, leader_to=middle, most_cover=0.1)
        if spot is None:
            words, full = "", 2.0 * radius
            for reach, to in ((60.0, middle), (180.0, middle), (180.0, None)):
                spot = spot or placer.place(around(*middle, full, height, reach), leader_to=to)
        if spot is None:
            continue
        # The number stands at the end of the label that is nearer to the stretch.
        flip = bool(words) and middle[0] > 0.5 * (spot.left + spot.right)
        x = spot.right - radius if flip else spot.left + radius
        y = 0.5 * (spot.bottom + spot.top)
        ax.plot(
            [middle[0], x], [middle[1], y], color=style.CONTACT_CASING, linewidth=1.2, zorder=10
        )
        ax.plot(
            [x],
            [y],
            marker="o",
            markersize=2.0 * radius * 0.75,
            markerfacecolor=style.CONTACT,
            markeredgecolor=style.CONTACT_CASING,
            markeredgewidth=1.4,
            zorder=11.5,
            gid="rank",
        )
        ax.text(
            x,
            y,
            number,
            fontsize=layout.text_pt,
            fontweight="bold",
            color=style.TEXT,
            ha="center",
            va="center_baseline",
            zorder=12,
        )
        if words:
            left = spot.left + 2.0 if flip else spot.left + 2.0 * radius + 4.0
            box = Box(left, y - 0.5 * words_h, left + words_w, y + 0.5 * words_h)
            _text(ax, box, words, layout.small_pt)


def _write_boats(
    ax: Axes, view: MapView, frame: MapFrame, layout: Layout, placer: LabelPlacer
) -> None:
    done: set[int] = set()
    for cast in view.casts:
        if cast.number is None or cast.number in done:
            continue
        done.add(cast.number)
        words = str(cast.number)
        width, height = label_size_px(words, layout.text_pt, bold=True)
        x, y = frame.to_px(cast.boat_x_m, cast.boat_y_m)
        spot = placer.place(around(x, y, width, height, 40.0))
        if spot is not None:
            _text(ax, spot, words, layout.text_pt, bold=True)


def _write_places(
    ax: Axes, view: MapView, frame: MapFrame, layout: Layout, placer: LabelPlacer
) -> None:
    for place in view.places:
        x, y = frame.to_px(place.x_m, place.y_m)
        if not (0.0 <= x <= frame.width_px and 0.0 <= y <= frame.height_px):
            continue
        ax.plot(
            [x],
            [y],
            marker="s",
            markersize=7.0,
            color=style.TEXT,
            markeredgecolor=style.PAPER,
            markeredgewidth=1.2,
            zorder=10,
            gid="place",
        )
        words = fit(place.label, layout.small_pt, 0.4 * frame.width_px, bold=True)
        width, height = label_size_px(words, layout.small_pt, bold=True)
        spot = placer.place(around(x, y, width, height, 50.0))
        if spot is not None:
            _text(ax, spot, words, layout.small_pt, bold=True)


def _write_contours(
    ax: Axes,
    view: MapView,
    frame: MapFrame,
    layout: Layout,
    placer: LabelPlacer,
    contours: list[tuple[float, list[FloatArray]]],
) -> None:
    for level, lines in contours:
        words = f"{level:g}"
        width, height = label_size_px(words, layout.small_pt)
        for line in sorted(lines, key=len, reverse=True)[:2]:
            points = np.array([frame.to_px(float(x), float(y)) for x, y in line])
            length = float(np.sum(np.hypot(*np.diff(points, axis=0).T)))
            if length < 90.0:
                continue
            some = points[np.linspace(0, len(points) - 1, 24).astype(int)[1:-1]]
            boxes = [
                Box(x - 0.5 * width, y - 0.5 * height, x + 0.5 * width, y + 0.5 * height)
                for x, y in some
            ]
            spot = placer.place(boxes, gap_px=8.0)
            if spot is not None:
                _text(ax, spot, words, layout.small_pt)


def _draw_signs(
    ax: Axes, view: MapView, frame: MapFrame, layout: Layout, placer: LabelPlacer
) -> None:
    """Scale bar, north arrow and wind, in the corner where they cover least."""
    size = layout.small_pt
    width_m = frame.window.right_m - frame.window.left_m
    length_m, words = scale_length(width_m, view.units, fine=view.scale == "distance")
    bar = length_m / frame.m_per_px
    words_w, words_h = label_size_px(words, size)
    arrow = 30.0 if layout.is_phone else 36.0
    wind = 0.0 if view.wind_from_rad is None else arrow + 8.0
    wind_w = label_size_px("wind", size)[0] if wind else 0.0
    width = max(bar, words_w) + 20.0 + arrow + max(wind, wind_w + 8.0 if wind else 0.0)
    height = arrow + words_h + 6.0
    margin = 6.0
    corners = [
        Box(margin, margin, margin + width, margin + height),
        Box(frame.width_px - margin - width, margin, frame.width_px - margin, margin + height),
        Box(margin, frame.height_px - margin - height, margin + width, frame.height_px - margin),
        Box(
            frame.width_px - margin - width,
            frame.height_px - margin - height,
            frame.width_px - margin,
            frame.height_px - margin,
        ),
    ]
    spot = placer.place(sorted(corners, key=lambda box: _water_share(view, frame, box)))
    if spot is None:
        spot = corners[0]
        placer.reserve(spot)
    ax.fill_between(
        [spot.left, spot.right],
        spot.bottom,
        spot.top,
        color=style.PAPER,
        alpha=0.88,
        linewidth=0,
        zorder=13,
    )
    x, y = spot.left + 7.0, spot.bottom + 10.0
    for i in range(2):  # two halves, one filled, as on a survey sheet
        ax.fill_between(
            [x + 0.5 * i * bar, x + 0.5 * (i + 1) * bar],
            y,
            y + 6.0,
            zorder=14,
            linewidth=1.0,
            facecolor=style.TEXT if i == 0 else style.PAPER,
            edgecolor=style.TEXT,
            gid="scale-bar",
        )
    ax.text(
        x + 0.5 * bar,
        y + 6.0 + 0.6 * words_h + 2.0,
        words,
        fontsize=size,
        color=style.TEXT,
        ha="center",
        va="center_baseline",
        zorder=14,
    )
    centre = spot.left + max(bar, words_w) + 20.0 + 0.5 * arrow - 4.0
    up = math.pi / 2.0 - view.north_rad
    _arrow(ax, centre, spot.bottom + 5.0 + 0.5 * arrow, up, arrow - 6.0, "north")
    top = spot.top - 0.5 * words_h - 1.0
    ax.text(
        centre,
        top,
        "N",
        fontsize=size,
        fontweight="bold",
        color=style.TEXT,
        ha="center",
        va="center_baseline",
        zorder=14,
    )
    if view.wind_from_rad is not None:
        centre += 0.5 * arrow + 0.5 * max(arrow, wind_w) + 2.0
        toward = up - view.wind_from_rad + math.pi
        _arrow(ax, centre, spot.bottom + 5.0 + 0.5 * arrow, toward, arrow - 6.0, "wind")
        ax.text(
            centre,
            top,
            "wind",
            fontsize=size,
            color=style.TEXT,
            ha="center",
            va="center_baseline",
            zorder=14,
        )


def _water_share(view: MapView, frame: MapFrame, box: Box) -> float:
    """Share of a box that lies over known water [-]."""
    grid = view.grid
    x_px, y_px = np.meshgrid(
        np.linspace(box.left, box.right, 9), np.linspace(box.bottom, box.top, 5)
    )
    x_m = frame.window.left_m + x_px * frame.m_per_px
    y_m = frame.window.bottom_m + y_px * frame.m_per_px
    column = np.clip(np.searchsorted(grid.x_m, x_m), 0, grid.x_m.size - 1)
    row = np.clip(np.searchsorted(grid.y_m, y_m), 0, grid.y_m.size - 1)
    return float(np.mean(np.isfinite(grid.depth_m[row, column])))


def _arrow(ax: Axes, x: float, y: float, angle_rad: float, length: float, gid: str) -> None:
    dx, dy = 0.5 * length * math.cos(angle_rad), 0.5 * length * math.sin(angle_rad)
    ax.annotate(
        "",
        (x + dx, y + dy),
        (x - dx, y - dy),
        zorder=14,
        gid=gid,
        arrowprops={
            "arrowstyle": "-|>,head_width=0.4,head_length=0.8",
            "color": style.TEXT,
            "linewidth": 1.6,
            "shrinkA": 0,
            "shrinkB": 0,
        },
    )
