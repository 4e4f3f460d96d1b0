"""A map of the lake, or zoomed on one stretch: bottom, edge, ranked stretches, casts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from leadsman.output import style
from leadsman.output.map_frame import map_frame, whole_window
from leadsman.output.map_labels import write_map_words
from leadsman.output.map_layers import (
    ShownDepth,
    boat_mark,
    contact_stroke,
    draw_depth,
    draw_edge,
    draw_lines,
    edge_inks,
    shown_depth,
)
from leadsman.output.map_view_types import (
    MAP_CAUTION,
    NOT_FOR_NAVIGATION,
    CastLine,
    DepthGrid,
    EdgeLine,
    MapView,
    Place,
    Polyline,
    Ring,
    Stretch,
    Window,
)
from leadsman.output.picture import house_style
from leadsman.output.sheet import KeyEntry, Swatch, new_sheet
from leadsman.output.style import LAPTOP, Layout

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = [
    "CastLine",
    "DepthGrid",
    "EdgeLine",
    "MapView",
    "Place",
    "Polyline",
    "Ring",
    "Stretch",
    "Window",
    "draw_map",
]


def draw_map(view: MapView, layout: Layout = LAPTOP) -> Figure:
    """Draw a map.

    Parameters
    ----------
    view : MapView
        The map [-].
    layout : Layout
        Width and type sizes [-].

    Returns
    -------
    matplotlib.figure.Figure
        The picture; see `leadsman.output.picture.save_picture` [-].
    """
    with house_style():
        width = layout.width_px - 2.0 * layout.margin_px
        bounds = (240.0, 470.0) if layout.is_phone else (380.0, 640.0)
        frame = map_frame(view.window or whole_window(view.grid), width, *bounds)
        shown = shown_depth(view, frame)
        note = f"{NOT_FOR_NAVIGATION} {MAP_CAUTION} {view.note}".strip()
        sheet = new_sheet(
            layout,
            view.headline,
            frame.height_px + 10.0,
            subtitle=view.subtitle,
            key=_key(view, shown),
            note=note,
            listing=view.reasons,
        )
        place = (sheet.left_px, sheet.bottom_px + 10.0, width, frame.height_px)
        ax = sheet.axes(*place)
        ax.set_label("map")
        ax.set_xlim(frame.window.left_m, frame.window.right_m)
        ax.set_ylim(frame.window.bottom_m, frame.window.top_m)
        ax.set_autoscale_on(False)
        ax.set_xticks([])
        ax.set_yticks([])
        for spine in ax.spines.values():
            spine.set_color(style.RULE)
        contours = draw_depth(ax, shown, view.shoreline)
        for edge in view.edges:
            draw_edge(ax, edge, frame.m_per_px)
        draw_lines(ax, view)
        words = sheet.pixel_axes(*place)
        words.set_label("words")
        write_map_words(words, view, frame, layout, contours)
        return sheet.figure


def _key(view: MapView, shown: ShownDepth) -> list[KeyEntry]:
    unit = view.units.depth.unit
    entries = []
    for i, colour in enumerate(shown.colours):
        low, high = shown.levels[i], shown.levels[i + 1]
        open_ended = i == len(shown.colours) - 1 and i > 0 and high - low > shown.levels[1]
        label = f"over {low:g}" if open_ended else f"{low:g}–{high:g}"
        label += f" {unit} deep" if i == 0 else ""
        entries.append(KeyEntry(label, _ground_swatch(colour)))
    if np.any(np.isnan(shown.depth)):
        entries.append(KeyEntry("land or not sounded", _ground_swatch(style.LAND)))
    for edge in view.edges:
        label = f"{edge.what}, pale: 9 in 10" if edge.band else edge.what
        entries.append(KeyEntry(label, _edge_swatch(edge)))
    if view.stretches:
        entries.append(KeyEntry(view.stretch_words, _stretch_swatch))
    if view.casts:
        entries.append(KeyEntry("boat, cast", _cast_swatch))
        if any(cast.zone is not None for cast in view.casts) and not view.stretches:
            entries.append(KeyEntry("in the zone", _stretch_swatch))
    if view.route is not None:
        entries.append(KeyEntry("way of the boat", _line_swatch(style.TEXT, 1.5, (5.0, 2.5))))
    if view.sounded:
        entries.append(KeyEntry("soundings", _line_swatch(style.QUIET, 0.9, (1.0, 1.5))))
    return entries


def _ground_swatch(colour: str) -> Swatch:
    def swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
        ax.fill_between(
            [x, x + w], y, y + h, facecolor=colour, edgecolor=style.DEPTH, linewidth=0.8
        )

    return swatch


def _line_swatch(colour: str, width: float, dashes: tuple[float, float]) -> Swatch:
    def swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
        ax.plot([x, x + w], [y + h / 2] * 2, color=colour, linewidth=width, linestyle=(0, dashes))

    return swatch


def _edge_swatch(edge: EdgeLine) -> Swatch:
    fill, ink = edge_inks(edge.grass)

    def swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
        if edge.band:
            ax.fill_between(
                [x, x + w], y, y + h, facecolor=fill, edgecolor=ink, hatch="..", linewidth=0.6
            )
        ax.plot(
            [x, x + w],
            [y + h / 2] * 2,
            color=ink,
            linewidth=2.4,
            linestyle="-" if edge.grass else (0, (4, 1.6)),
        )

    return swatch


def _stretch_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    contact_stroke(ax, np.array([x, x + w]), np.array([y + h / 2] * 2), 6.0, "key-stretch")


def _cast_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.plot([x + 4.0, x + w - 4.0], [y + h / 2] * 2, color=style.TEXT, linewidth=1.2)
    boat_mark(ax, x + 4.0, y + h / 2)
    ax.plot(
        [x + w - 4.0],
        [y + h / 2],
        marker="v",
        markersize=6.5,
        markerfacecolor=style.PAPER,
        markeredgecolor=style.TEXT,
        markeredgewidth=1.2,
    )
