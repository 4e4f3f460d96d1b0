"""Pictures of a day on the water: bites by depth and time, and what worked.

Blue is depth, as everywhere. A bite is an open ring, a landed fish a filled
one, a stop a short bar: shapes say it, colour only helps.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from leadsman.belief.levels import DepthBands
from leadsman.display_units import US, DisplayUnits
from leadsman.output import style
from leadsman.output.picture import house_style
from leadsman.output.sheet import KeyEntry, Sheet, new_sheet
from leadsman.output.style import LAPTOP, Layout
from leadsman.output.text_setting import LINE_HEIGHT, PT_PX, fit, text_width_px
from leadsman.waterlog.review import RateRow, Review

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_LEVELS = 6
"""Most rows of one factor in the picture of rates; the table has them all [-]."""
_TITLES = {
    "depth": "Depth",
    "cover": "Cover",
    "sound": "Sound",
    "colour": "Colour",
    "work": "Worked",
    "place": "Place",
}


def draw_day(
    review: Review,
    bands: DepthBands,
    headline: str,
    units: DisplayUnits = US,
    layout: Layout = LAPTOP,
) -> Figure:
    """Draw bites by depth and time over where the time went.

    Parameters
    ----------
    review : Review
        The day [-].
    bands : DepthBands
        How depth is cut [-].
    headline : str
        The sentence a person could act on [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    layout : Layout
        Width and type sizes [-].
    """
    with house_style():
        height = 300.0 if layout.is_phone else 380.0
        key = [
            KeyEntry("fished at that depth", _effort_swatch),
            KeyEntry("bite", _bite_swatch),
            KeyEntry("fish landed", _fish_swatch),
        ]
        if review.stops:
            key.append(KeyEntry("it stopped", _stop_swatch))
        sheet = new_sheet(layout, headline, height, key=key)
        line_px = layout.small_pt * PT_PX * LINE_HEIGHT
        left = text_width_px("00.0", layout.small_pt) + 12.0
        foot = 2.0 * line_px + 6.0
        ax = sheet.axes(
            sheet.left_px + left,
            sheet.bottom_px + foot,
            sheet.width_px - left - 8.0,
            height - foot - line_px - 4.0,
        )
        ax.set_label("day")
        deepest = _deepest_band(review, bands)
        hours = max([stop for _, _, stop in review.effort_by_band_h] or [1.0])
        ax.set_xlim(0.0, max(hours, 0.25))
        ax.set_ylim(bands.edges_m[deepest + 1], 0.0)
        _draw_effort(ax, review, bands)
        _draw_bites(ax, review)
        _draw_stops(ax, review, bands)
        _frame_day(sheet, ax, bands, deepest, units)
        return sheet.figure


def draw_rates(
    review: Review,
    headline: str,
    say_level: Callable[[str, str], str] = lambda factor, level: level.replace("_", " "),
    layout: Layout = LAPTOP,
) -> Figure:
    """Draw bites per 100 yd of zone for everything that was tried, with 80 % intervals.

    Parameters
    ----------
    review : Review
        The day [-].
    headline : str
        The sentence a person could act on [-].
    say_level : callable
        Words for a level of a factor, such as ("depth", "3") [-].
    layout : Layout
        Width and type sizes [-].
    """
    rows = [row for factor in _TITLES for row in _shown(review, factor)]
    with house_style():
        line_px = layout.text_pt * PT_PX * LINE_HEIGHT
        row_px = line_px + 5.0
        heads = len({row.factor for row in rows})
        height = max((len(rows) + heads) * row_px + 2.0 * line_px + 10.0, 80.0)
        sheet = new_sheet(
            layout,
            headline,
            height,
            key=[KeyEntry("bites per 100 yd of zone, 8 times in 10 within the bar", _bar_swatch)],
            note="Tried little, the bar is long: it says what is not known yet.",
        )
        _draw_rate_rows(sheet, rows, say_level, row_px)
        return sheet.figure


def _shown(review: Review, factor: str) -> list[RateRow]:
    rows = [row for row in review.rates if row.factor == factor]
    # With one level only there is nothing to compare.
    return rows[:MOST_LEVELS] if len(rows) > 1 else []


def _deepest_band(review: Review, bands: DepthBands) -> int:
    fished = [band for band, _, _ in review.effort_by_band_h]
    return min(max(fished, default=len(bands) - 1) + 1, len(bands) - 1)


def _draw_effort(ax: Axes, review: Review, bands: DepthBands) -> None:
    for band, start, stop in review.effort_by_band_h:
        top, bottom = bands.limits_m(band)
        ax.fill_between(
            [start, stop], top, bottom, color=style.DEPTH_BAND_90, linewidth=0.0, zorder=1
        )


def _draw_bites(ax: Axes, review: Review) -> None:
    for landed, face in ((False, style.PAPER), (True, style.DEPTH)):
        points = [p for p in review.points if p.landed is landed]
        if points:
            ax.plot(
                [p.t_h for p in points],
                [p.depth_m for p in points],
                linestyle="none",
                marker="o",
                markersize=9.0,
                markerfacecolor=face,
                markeredgecolor=style.DEPTH if not landed else style.PAPER,
                markeredgewidth=1.8 if not landed else 0.8,
                zorder=3,
                clip_on=False,
            )


def _draw_stops(ax: Axes, review: Review, bands: DepthBands) -> None:
    for stop in review.stops:
        band = next((b for b, a, z in review.effort_by_band_h if a <= stop.t_h <= z + 1e-9), None)
        if band is not None:
            top, bottom = bands.limits_m(band)
            ax.plot([stop.t_h, stop.t_h], [top, bottom], color=style.OVER, linewidth=4.0, zorder=2)


def _frame_day(
    sheet: Sheet, ax: Axes, bands: DepthBands, deepest: int, units: DisplayUnits
) -> None:
    layout = sheet.layout
    edges = bands.edges_m[: deepest + 2]
    for edge in edges:
        ax.axhline(edge, color=style.RULE, linewidth=0.6, zorder=0)
    ax.set_yticks(list(edges), [f"{round(units.depth.value(e), 1):g}" for e in edges])
    ax.tick_params(labelsize=layout.small_pt, colors=style.TEXT, length=0.0)
    for side in ax.spines.values():
        side.set_visible(False)
    _, right = ax.get_xlim()
    step = 1 if right <= 10 else 2
    ticks = [float(h) for h in range(0, int(right) + 1, step)]
    ax.set_xticks(ticks, [f"{t:.0f}" for t in ticks])
    line_px = layout.small_pt * PT_PX * LINE_HEIGHT
    sheet.write(
        sheet.left_px,
        sheet.bottom_px + sheet.height_px - 0.8 * line_px,
        f"depth, {units.depth.unit}",
        layout.small_pt,
        color=style.QUIET,
    )
    sheet.write(
        sheet.left_px + sheet.width_px,
        sheet.bottom_px + 0.2 * line_px,
        "hours since launch",
        layout.small_pt,
        color=style.QUIET,
        ha="right",
    )


def _draw_rate_rows(
    sheet: Sheet, rows: list[RateRow], say_level: Callable[[str, str], str], row_px: float
) -> None:
    layout = sheet.layout
    top = sheet.bottom_px + sheet.height_px
    if not rows:
        sheet.write(sheet.left_px, top - row_px, "Only one way was tried.", layout.text_pt)
        return
    names_px = 110.0 if layout.is_phone else 220.0
    figures_px = text_width_px("000 bites, 00.0 h", layout.small_pt) + 14.0
    if layout.is_phone:
        figures_px = text_width_px("000 in 00.0 h", layout.small_pt) + 8.0
    wide = sheet.width_px - names_px - figures_px
    greatest = max(row.high_per_100_yd for row in rows)
    ax = sheet.pixel_axes(sheet.left_px + names_px, sheet.bottom_px, wide, sheet.height_px)
    ax.set_label("rates")
    scale = (wide - 12.0) / greatest
    y, factor = top, ""
    for row in rows:
        if row.factor != factor:
            factor = row.factor
            y -= row_px
            head = _TITLES[factor]
            sheet.write(sheet.left_px, y + 5.0, head, layout.text_pt, fontweight="bold")
        y -= row_px
        name = fit(say_level(row.factor, row.level), layout.text_pt, names_px - 18.0)
        sheet.write(sheet.left_px + 10.0, y + 5.0, name, layout.text_pt)
        middle = y - sheet.bottom_px + 0.5 * row_px
        low, mean, high = (
            scale * r for r in (row.low_per_100_yd, row.per_100_yd, row.high_per_100_yd)
        )
        ax.plot(
            [low, high],
            [middle, middle],
            color=style.DEPTH_BAND_EDGE,
            linewidth=5.0,
            solid_capstyle="butt",
        )
        ax.plot(
            [mean], [middle], "o", color=style.DEPTH, markersize=8.0, markeredgecolor=style.PAPER
        )
        noun = "bite" if row.bites == 1 else "bites"
        bites = f"{row.bites} in" if layout.is_phone else f"{row.bites} {noun},"
        sheet.write(
            sheet.left_px + sheet.width_px,
            y + 5.0,
            f"{bites} {row.hours:.1f} h",
            layout.small_pt,
            color=style.QUIET,
            ha="right",
        )
    _rate_scale(ax, greatest, scale, layout)


def _rate_scale(ax: Axes, greatest: float, scale: float, layout: Layout) -> None:
    step = next((s for s in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0) if greatest / s <= 6.0), 20.0)
    tick = 0.0
    while tick <= greatest + 1e-9:
        x = scale * tick
        ax.axvline(x, ymin=0.07, color=style.RULE, linewidth=0.6, zorder=0)
        ax.text(
            x, 2.0, f"{tick:g}", fontsize=layout.small_pt, color=style.QUIET, ha="center"
        ).set_clip_on(False)
        tick = round(tick + step, 6)


def _effort_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.fill_between([x, x + w], y, y + h, color=style.DEPTH_BAND_90, linewidth=0.0)


def _bite_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.plot(
        [x + w / 2],
        [y + h / 2],
        "o",
        markersize=8.0,
        markerfacecolor=style.PAPER,
        markeredgecolor=style.DEPTH,
        markeredgewidth=1.8,
    )


def _fish_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.plot(
        [x + w / 2],
        [y + h / 2],
        "o",
        markersize=8.0,
        color=style.DEPTH,
        markeredgecolor=style.PAPER,
    )


def _stop_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.plot([x + w / 2, x + w / 2], [y, y + h], color=style.OVER, linewidth=4.0)


def _bar_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    middle = y + h / 2
    ax.plot(
        [x, x + w],
        [middle, middle],
        color=style.DEPTH_BAND_EDGE,
        linewidth=5.0,
        solid_capstyle="butt",
    )
    ax.plot(
        [x + w / 2], [middle], "o", color=style.DEPTH, markersize=7.0, markeredgecolor=style.PAPER
    )
