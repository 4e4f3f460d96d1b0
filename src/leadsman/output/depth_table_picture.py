"""The depth table as pages to be read: a number in each cell, its ground by depth.

The ground of a cell only helps the eye to find a depth; the number says it, so
that a grey print loses nothing. A kit of many lures takes several pages.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from leadsman.display_units import US, DisplayUnits
from leadsman.output import style
from leadsman.output.depth_table import DepthTable
from leadsman.output.picture import house_style
from leadsman.output.sheet import KeyEntry, Swatch, new_sheet
from leadsman.output.style import LAPTOP, Layout
from leadsman.output.text_setting import LINE_HEIGHT, PT_PX, fit, text_width_px

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_ROWS = 24
"""Most rows of cells on one page; a laptop shows them without scrolling much [-]."""
LEAST_CELL_PX = 34.0
"""Narrowest cell that holds a depth such as 22.5 in small type [px]."""
EDGES_M = tuple(0.3048 * feet for feet in (4.0, 8.0, 12.0, 16.0, 20.0, 24.0))
"""Depths where the ground of a cell turns darker [m]; steps of 4 ft hold the usual ladder."""


@dataclass(frozen=True, slots=True)
class _Page:
    """Rows and columns of one page."""

    rows: tuple[tuple[int, int], ...]  # (lure, line)
    columns: tuple[tuple[int, int], ...]  # (tip, cast)


def draw_depth_table(
    table: DepthTable,
    headline: str,
    units: DisplayUnits = US,
    layout: Layout = LAPTOP,
    *,
    note: str = "",
) -> tuple[Figure, ...]:
    """Draw the table, as many pages as it takes.

    Parameters
    ----------
    table : DepthTable
        The table [-].
    headline : str
        The sentence a person could act on [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    layout : Layout
        Width and type sizes [-].
    note : str
        Small words at the foot [-].

    Returns
    -------
    tuple of matplotlib.figure.Figure
        The pages in order; see `leadsman.output.picture.save_picture` [-].
    """
    with house_style():
        pages = _pages(table, layout)
        figures = []
        for number, page in enumerate(pages, 1):
            foot = f"{_band_words(table, page, units)} {note}".strip()
            if len(pages) > 1:
                foot = f"{foot} Page {number} of {len(pages)}."
            figures.append(_draw_page(table, page, headline, units, layout, foot))
        return tuple(figures)


def depth_ground(depth_m: float) -> str:
    """Ground of a cell by its depth.

    Parameters
    ----------
    depth_m : float
        Depth; NaN gives paper [m].
    """
    if np.isnan(depth_m):
        return style.PAPER
    return style.DEPTH_STEPS[int(np.searchsorted(EDGES_M, depth_m, side="right"))]


def _names_px(layout: Layout) -> float:
    """Width of the column of names [px]."""
    return 128.0 if layout.is_phone else 190.0


def _pages(table: DepthTable, layout: Layout) -> list[_Page]:
    width = layout.width_px - 2.0 * layout.margin_px - _names_px(layout)
    most = max(int(width // LEAST_CELL_PX), 1)
    casts = range(table.casts_m.size)
    tips = range(table.tips_m.size)
    columns = [(tip, cast) for tip in tips for cast in casts]
    if len(columns) <= most:
        column_pages = [tuple(columns)]
    elif len(casts) <= most:  # whole rod tips stay together
        each = max(most // len(casts), 1)
        column_pages = [
            tuple((tip, cast) for tip in tips[i : i + each] for cast in casts)
            for i in range(0, len(tips), each)
        ]
    else:
        column_pages = [
            tuple(columns[tip * len(casts) + i : tip * len(casts) + min(i + most, len(casts))])
            for tip in tips
            for i in range(0, len(casts), most)
        ]
    per_page = max(MOST_ROWS // len(table.lines), 1)  # whole lures stay together
    row_pages = []
    for i in range(0, len(table.lures), per_page):
        lures = range(i, min(i + per_page, len(table.lures)))
        rows = [(lure, line) for lure in lures for line in range(len(table.lines))]
        row_pages += [tuple(rows[j : j + MOST_ROWS]) for j in range(0, len(rows), MOST_ROWS)]
    return [_Page(rows, cols) for rows in row_pages for cols in column_pages]


def _band_words(table: DepthTable, page: _Page, units: DisplayUnits) -> str:
    """How wide the bands are, in a sentence."""
    halves = []
    for lure, line in page.rows:
        for tip, cast in page.columns:
            at = (lure, line, cast, tip)
            depth = table.depth_m[at]
            if np.isfinite(depth) and depth > 0.0:
                halves.append(0.5 * (table.high_m[at] - table.low_m[at]) / depth)
    if not halves:
        return f"Nothing on this page can be cast so far. Depths in {units.depth.unit}."
    low, high = 100.0 * min(halves), 100.0 * max(halves)
    spread = f"{low:.0f}" if f"{low:.0f}" == f"{high:.0f}" else f"{low:.0f} to {high:.0f}"
    return (
        f"Greatest free-running depth, {units.depth.unit}. Right to within {spread} % of the"
        " depth 9 times in 10. A dash: cannot be cast so far."
    )


def _draw_page(
    table: DepthTable,
    page: _Page,
    headline: str,
    units: DisplayUnits,
    layout: Layout,
    foot: str,
) -> Figure:
    row_px = 21.0 if layout.is_phone else 24.0
    line_px = layout.text_pt * PT_PX * LINE_HEIGHT
    lures = list(dict.fromkeys(lure for lure, _ in page.rows))
    single = len(table.lines) == 1
    gap_px = 0.0 if single else line_px + 4.0  # a lure's name stands above its lines
    height = 2.0 * line_px + 6.0 + len(page.rows) * row_px + len(lures) * gap_px + 8.0
    sheet = new_sheet(layout, headline, height, key=_key(table, page, units), note=foot)
    ax = sheet.pixel_axes(sheet.left_px, sheet.bottom_px, sheet.width_px, height)
    ax.set_label("table")
    names = _names_px(layout)
    cell_w = min((sheet.width_px - names) / len(page.columns), 80.0)
    _write_columns(ax, table, page, units, layout, names, cell_w, height)
    top = height - 2.0 * line_px - 6.0
    for lure in lures:
        if not single:
            top -= gap_px
            name = fit(table.lures[lure], layout.text_pt, sheet.width_px, bold=True)
            ax.text(
                0.0, top + 5.0, name, fontsize=layout.text_pt, fontweight="bold", color=style.TEXT
            )
        for row_lure, line in page.rows:
            if row_lure != lure:
                continue
            top -= row_px
            label = table.lures[lure] if single else table.lines[line]
            ax.text(
                0.0 if single else 8.0,
                top + 0.5 * row_px,
                fit(label, layout.small_pt, names - 14.0),
                fontsize=layout.small_pt,
                color=style.TEXT,
                va="center_baseline",
            )
            _draw_row(ax, table, page, (lure, line), units, layout, (names, top, cell_w, row_px))
    return sheet.figure


def _write_columns(
    ax: Axes,
    table: DepthTable,
    page: _Page,
    units: DisplayUnits,
    layout: Layout,
    names: float,
    cell_w: float,
    height: float,
) -> None:
    line_px = layout.text_pt * PT_PX * LINE_HEIGHT
    y_tip, y_cast = height - line_px + 4.0, height - 2.0 * line_px
    tips = list(dict.fromkeys(tip for tip, _ in page.columns))
    x = names
    for tip in tips:
        casts = [cast for t, cast in page.columns if t == tip]
        span = len(casts) * cell_w
        words = tip_words(float(table.tips_m[tip]), units)
        size = layout.text_pt
        if text_width_px(words, size, True) > span - 6.0:
            size = layout.small_pt
        ax.text(
            x + 0.5 * span,
            y_tip,
            fit(words, size, span + (0.0 if len(tips) > 1 else 60.0), bold=True),
            fontsize=size,
            fontweight="bold",
            color=style.TEXT,
            ha="center",
        )
        ax.plot([x + 3.0, x + span - 3.0], [y_tip - 5.0] * 2, color=style.TEXT, linewidth=1.0)
        for i, cast in enumerate(casts):
            ax.text(
                x + (i + 0.5) * cell_w,
                y_cast,
                units.distance.number(float(table.casts_m[cast])),
                fontsize=layout.small_pt,
                color=style.TEXT,
                ha="center",
            )
        x += span
    ax.text(
        0.0, y_cast, f"cast, {units.distance.unit}", fontsize=layout.small_pt, color=style.QUIET
    )


def tip_words(tip_m: float, units: DisplayUnits) -> str:
    """Height of the rod tip in two or three words.

    Parameters
    ----------
    tip_m : float
        Height, negative under water [m].
    units : DisplayUnits
        Units the reader thinks in [-].
    """
    number = units.depth.number(abs(tip_m)).removesuffix(".0").removesuffix(".00")
    if float(number) == 0.0:
        return "tip at surface"
    return f"tip {number} {units.depth.unit} {'up' if tip_m > 0.0 else 'under'}"


def _draw_row(
    ax: Axes,
    table: DepthTable,
    page: _Page,
    row: tuple[int, int],
    units: DisplayUnits,
    layout: Layout,
    place: tuple[float, float, float, float],
) -> None:
    from matplotlib.collections import PolyCollection

    left, bottom, cell_w, row_px = place
    cells, grounds = [], []
    previous = page.columns[0][0]
    for i, (tip, cast) in enumerate(page.columns):
        depth_m = float(table.depth_m[row[0], row[1], cast, tip])
        ground = depth_ground(depth_m)
        x = left + i * cell_w
        inset = 3.0 if tip != previous else 0.5  # a wider gap between rod tips
        previous = tip
        low, high = bottom + 0.5, bottom + row_px - 0.5
        near, far = x + inset, x + cell_w - 0.5
        cells.append([(near, low), (far, low), (far, high), (near, high)])
        grounds.append(ground)
        ax.text(
            x + 0.5 * cell_w,
            bottom + 0.5 * row_px,
            "–" if np.isnan(depth_m) else units.depth.number(depth_m),
            fontsize=layout.small_pt,
            fontweight="bold",
            color=style.ink_on(ground),
            ha="center",
            va="center_baseline",
        )
    ax.add_collection(
        PolyCollection(cells, facecolors=grounds, linewidths=0.0, gid="cells"), autolim=False
    )


def _key(table: DepthTable, page: _Page, units: DisplayUnits) -> list[KeyEntry]:
    """Grounds that are on the page, shallow to deep."""
    found = set()
    for lure, line in page.rows:
        for tip, cast in page.columns:
            depth_m = float(table.depth_m[lure, line, cast, tip])
            if np.isfinite(depth_m):
                found.add(int(np.searchsorted(EDGES_M, depth_m, side="right")))
    ends = [units.depth.value(edge) for edge in EDGES_M]
    digits = 0 if units.depth.unit == "ft" else 1
    entries = []
    for step in sorted(found):
        if step == 0:
            label = f"under {ends[0]:.{digits}f} {units.depth.unit}"
        elif step == len(ends):
            label = f"over {ends[-1]:.{digits}f}"
        else:
            label = f"{ends[step - 1]:.{digits}f}–{ends[step]:.{digits}f}"
        entries.append(KeyEntry(label, _ground_swatch(style.DEPTH_STEPS[step])))
    return entries


def _ground_swatch(colour: str) -> Swatch:
    def swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
        ax.fill_between([x, x + w], y, y + h, facecolor=colour, edgecolor=style.RULE, linewidth=0.8)

    return swatch
