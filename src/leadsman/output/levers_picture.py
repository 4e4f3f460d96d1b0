"""What one step of each control changes: signed bars in depth and in zone length."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from leadsman.display_units import US, DisplayUnits, Quantity
from leadsman.output import style
from leadsman.output.label_placement import Box
from leadsman.output.picture import house_style
from leadsman.output.sheet import KeyEntry, Sheet, new_sheet
from leadsman.output.style import LAPTOP, Layout
from leadsman.output.text_setting import (
    LINE_HEIGHT,
    PT_PX,
    number_size_px,
    text_width_px,
    wrap,
    write_number,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


@dataclass(frozen=True, slots=True)
class Change:
    """A signed change with its band.

    Parameters
    ----------
    value_m : float
        The change [m].
    low_m, high_m : float or None
        Ends of its 90 % band; None where it is not known [m].

    Raises
    ------
    ValueError
        Not a number, or the band does not hold the value.
    """

    value_m: float
    low_m: float | None = None
    high_m: float | None = None

    def __post_init__(self) -> None:
        ends = [v for v in (self.low_m, self.high_m) if v is not None]
        if not all(math.isfinite(v) for v in (self.value_m, *ends)):
            raise ValueError("change: a value is not a number")
        if len(ends) == 1:
            raise ValueError("change: a band has two ends")
        if ends and not ends[0] <= self.value_m <= ends[1]:
            raise ValueError("change: the band does not hold the value")

    @property
    def least_m(self) -> float:
        """Least of value, band and 0 [m]."""
        return min(0.0, self.value_m, self.value_m if self.low_m is None else self.low_m)

    @property
    def greatest_m(self) -> float:
        """Greatest of value, band and 0 [m]."""
        return max(0.0, self.value_m, self.value_m if self.high_m is None else self.high_m)


@dataclass(frozen=True, slots=True)
class Lever:
    """One step of one control and what it changes.

    Parameters
    ----------
    step : str
        The step as a person would say it, such as ``"10 yd more cast"`` [-].
    depth : Change
        Change of the greatest depth, positive deeper [-].
    zone : Change or None
        Change of the zone length, positive longer; None without a bottom [-].
    part : bool
        True if the step is a part of the one above it [-].
    """

    step: str
    depth: Change
    zone: Change | None = None
    part: bool = False


@dataclass(frozen=True, slots=True)
class LeversView:
    """Levers of one set-up.

    Parameters
    ----------
    headline : str
        The sentence a person could act on [-].
    levers : tuple of Lever
        The levers in the order to be read [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    subtitle, note : str
        Second line, and small words at the foot [-].
    """

    headline: str
    levers: tuple[Lever, ...]
    units: DisplayUnits = US
    subtitle: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if not 1 <= len(self.levers) <= 30:
            raise ValueError("levers: 1 to 30 can be drawn")


@dataclass(frozen=True, slots=True)
class _Panel:
    """One column of bars."""

    title: str
    less: str
    more: str
    quantity: Quantity
    changes: tuple[Change | None, ...]
    fill: str
    edge: str


def draw_levers(view: LeversView, layout: Layout = LAPTOP) -> Figure:
    """Draw what one step of each control changes.

    Parameters
    ----------
    view : LeversView
        The levers [-].
    layout : Layout
        Width and type sizes [-].

    Returns
    -------
    matplotlib.figure.Figure
        The picture; see `leadsman.output.picture.save_picture` [-].
    """
    panels = _panels(view)
    with house_style():
        head = 3.0 * layout.text_pt * PT_PX * LINE_HEIGHT
        width = layout.width_px - 2.0 * layout.margin_px
        label_w = width if layout.is_phone else 0.29 * width
        words = [
            wrap(lever.step, layout.text_pt, label_w - _indent(lever), most_lines=2)
            for lever in view.levers
        ]
        rows = [_row_px(lines, layout) for lines in words]
        banded = any(
            c is not None and c.low_m is not None for panel in panels for c in panel.changes
        )
        key = [KeyEntry("true change lies there 9 in 10 times", _whisker_swatch)] if banded else []
        sheet = new_sheet(
            layout,
            view.headline,
            head + sum(rows) + 8.0,
            subtitle=view.subtitle,
            key=key,
            note=view.note,
        )
        top = sheet.bottom_px + sheet.height_px
        _write_steps(sheet, view, words, rows, top - head)
        left = sheet.left_px + (0.0 if layout.is_phone else label_w)
        gap = 12.0 if layout.is_phone else 28.0
        room = sheet.left_px + width - left - (len(panels) - 1) * gap
        for panel in panels:
            panel_w = room / len(panels)
            ax = sheet.pixel_axes(left, sheet.bottom_px, panel_w, sheet.height_px)
            ax.set_label(panel.title)
            _draw_panel(ax, panel, rows, panel_w, sheet.height_px, layout)
            left += panel_w + gap
        return sheet.figure


def _panels(view: LeversView) -> list[_Panel]:
    depth = _Panel(
        f"depth, {view.units.depth.unit}",
        "shallower",
        "deeper",
        view.units.depth,
        tuple(lever.depth for lever in view.levers),
        style.DEPTH,
        style.DEPTH,
    )
    zones = tuple(lever.zone for lever in view.levers)
    if all(zone is None for zone in zones):
        return [depth]
    zone = _Panel(
        f"in the zone, {view.units.distance.unit}",
        "less",
        "more",
        view.units.distance,
        zones,
        style.CONTACT,
        style.CONTACT_CASING,
    )
    return [depth, zone]


def _indent(lever: Lever) -> float:
    return 18.0 if lever.part else 0.0


def _row_px(lines: Sequence[str], layout: Layout) -> float:
    words = len(lines) * layout.text_pt * PT_PX * LINE_HEIGHT
    if layout.is_phone:
        return words + _bar_px(layout) + 18.0
    return max(words, _bar_px(layout)) + 12.0


def _bar_px(layout: Layout) -> float:
    return 16.0 if layout.is_phone else 20.0


def _bar_middle(row_top: float, row_px: float, layout: Layout) -> float:
    """Height of the middle of a bar within its row [px]."""
    if layout.is_phone:
        return row_top - row_px + 12.0 + 0.5 * _bar_px(layout)
    return row_top - 0.5 * row_px


def _write_steps(
    sheet: Sheet, view: LeversView, words: list[list[str]], rows: list[float], top_px: float
) -> None:
    layout = sheet.layout
    line_px = layout.text_pt * PT_PX * LINE_HEIGHT
    for lever, lines, row in zip(view.levers, words, rows, strict=True):
        y = top_px - 3.0 if layout.is_phone else top_px - 0.5 * (row - len(lines) * line_px)
        for line in lines:
            y -= line_px
            sheet.write(
                sheet.left_px + _indent(lever),
                y + 0.27 * line_px,
                line,
                layout.text_pt,
                color=style.QUIET if lever.part else style.TEXT,
            )
        top_px -= row


def _draw_panel(
    ax: Axes,
    panel: _Panel,
    rows: list[float],
    width_px: float,
    height_px: float,
    layout: Layout,
) -> None:
    to_px = _scale(panel, width_px, layout)
    zero = to_px(0.0)
    line_px = layout.text_pt * PT_PX * LINE_HEIGHT
    ax.text(
        zero,
        height_px - 0.8 * line_px,
        panel.title,
        fontsize=layout.text_pt,
        fontweight="bold",
        color=style.TEXT,
        ha=_anchor(zero, text_width_px(panel.title, layout.text_pt, True), width_px),
    )
    y = height_px - 2.0 * line_px
    arrows = ((f"◂ {panel.less}", zero - 5.0, "right"), (f"{panel.more} ▸", zero + 5.0, "left"))
    for words, x, anchor in arrows:
        ax.text(x, y, words, fontsize=layout.small_pt, color=style.QUIET, ha=anchor)
    top = height_px - 3.0 * line_px
    if not layout.is_phone:  # on a phone the words of the steps stand in its way
        ax.plot([zero, zero], [top - sum(rows), top], color=style.TEXT, linewidth=1.2, zorder=3)
    for change, row in zip(panel.changes, rows, strict=True):
        middle = _bar_middle(top, row, layout)
        if change is not None:
            reach = 0.5 * _bar_px(layout) + 2.0
            ax.plot(
                [zero, zero],
                [middle - reach, middle + reach],
                color=style.TEXT,
                linewidth=1.2,
                zorder=3,
            )
            _draw_bar(ax, panel, change, to_px, middle, layout)
        top -= row


def _anchor(x_px: float, text_px: float, width_px: float) -> str:
    if x_px - 0.5 * text_px < 0.0:
        return "left"
    return "right" if x_px + 0.5 * text_px > width_px else "center"


def _scale(panel: _Panel, width_px: float, layout: Layout) -> Callable[[float], float]:
    """From metres to pixels, right of the numbers, with room for the words at the head."""
    changes = [c for c in panel.changes if c is not None]
    low = min(c.least_m for c in changes)
    high = max(c.greatest_m for c in changes)
    first = _numbers_px(panel, layout)
    room = width_px - first - 6.0
    # Words at the head stand left and right of zero; they may stand over the numbers.
    left_words = text_width_px(f"◂ {panel.less}", layout.small_pt) + 6.0 - first
    right_words = text_width_px(f"{panel.more} ▸", layout.small_pt) + 6.0
    scale = room / max(high - low, 1e-9)
    for _ in range(60):
        under, over = max(left_words, -low * scale), max(right_words, high * scale)
        if under + over <= room:
            break
        scale *= 0.95
    zero = first + under
    return lambda metres: zero + metres * scale


def _numbers_px(panel: _Panel, layout: Layout) -> float:
    """Width of the column of numbers [px]."""
    widest = 0.0
    for change in panel.changes:
        if change is not None:
            size = number_size_px(*_signed(panel, change), layout.text_pt, layout.small_pt)
            widest = max(widest, size[0])
    return widest + (10.0 if layout.is_phone else 16.0)


def _signed(panel: _Panel, change: Change) -> tuple[str, str]:
    number, unit = panel.quantity.change(change.value_m).rsplit(" ", 1)
    return number.replace("-", "−"), unit


def _draw_bar(
    ax: Axes,
    panel: _Panel,
    change: Change,
    to_px: Callable[[float], float],
    middle: float,
    layout: Layout,
) -> None:
    half = 0.5 * _bar_px(layout)
    zero, end = to_px(0.0), to_px(change.value_m)
    ax.fill_between(
        sorted((zero, end)),
        middle - half,
        middle + half,
        facecolor=panel.fill,
        edgecolor=panel.edge,
        linewidth=1.2,
        zorder=2,
        gid="bar",
    )
    if change.low_m is not None and change.high_m is not None:
        low, high = to_px(change.low_m), to_px(change.high_m)
        # Light under dark, so that the whisker shows on the bar as well as beside it.
        for colour, width in ((style.PAPER, 3.2), (style.TEXT, 1.6)):
            ax.plot([low, high], [middle] * 2, color=colour, linewidth=width, zorder=4)
            for x in (low, high):
                cap = [middle - 0.5 * half, middle + 0.5 * half]
                ax.plot([x, x], cap, color=colour, linewidth=width, zorder=4)
    number, unit = _signed(panel, change)
    width, height = number_size_px(number, unit, layout.text_pt, layout.small_pt)
    right = _numbers_px(panel, layout) - (10.0 if layout.is_phone else 16.0)
    box = Box(right - width, middle - 0.5 * height, right, middle + 0.5 * height)
    write_number(ax, box, number, unit, layout.text_pt, layout.small_pt)


def _whisker_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.plot([x, x + w], [y + 0.5 * h] * 2, color=style.TEXT, linewidth=1.6)
    for at in (x, x + w):
        ax.plot([at, at], [y + 0.2 * h, y + 0.8 * h], color=style.TEXT, linewidth=1.6)
