"""The outlook of a day: belief over depth, with temperature and oxygen beside it.

Depth runs down. The bars are a histogram: a bar's area is its chance, and the number says it. A
lake with no profile gives one panel; guesses are drawn as bands and say so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from leadsman.lake.estimate import Estimate
from leadsman.output import style
from leadsman.output.picture import house_style
from leadsman.output.sheet import KeyEntry, Sheet, new_sheet
from leadsman.output.style import LAPTOP, Layout
from leadsman.output.text_setting import LINE_HEIGHT, PT_PX, text_width_px
from leadsman.plan.day_types import Outlook

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

LEAST_SHOWN_M = 6.0
"""Least depth of the picture [m]; a lake as shallow as that is shown whole."""


@dataclass(frozen=True, slots=True)
class _Mark:
    """A depth worth a line across the panels."""

    depth_m: float
    words: str
    colour: str
    dashes: tuple[float, float] | None
    band_m: tuple[float, float] | None = None


def draw_outlook(found: Outlook, headline: str, layout: Layout = LAPTOP) -> Figure:
    """Draw the outlook.

    Parameters
    ----------
    found : Outlook
        The outlook [-].
    headline : str
        The sentence a person could act on [-].
    layout : Layout
        Width and type sizes [-].

    Returns
    -------
    matplotlib.figure.Figure
        The picture; see `leadsman.output.picture.save_picture` [-].
    """
    with house_style():
        start = found.start
        height = 400.0 if layout.is_phone else 460.0
        sheet = new_sheet(
            layout,
            headline,
            height,
            subtitle=_covers(found),
            key=_key(found),
            note=(
                f"Start {start.sound}, {start.colour} colours; the reasons are in the table. "
                "An outlook is a guess, not for navigation; local law first."
            ),
        )
        _draw_panels(sheet, found)
        return sheet.figure


def shown_depth_m(found: Outlook) -> float:
    """Depth down to which there is something to see [m].

    Parameters
    ----------
    found : Outlook
        The outlook [-].
    """
    day = found.day
    wanted = [LEAST_SHOWN_M, 1.15 * found.fish_m.high_90]
    for mark in (day.thermocline_m, day.grass_edge_m):
        if mark is not None:
            wanted.append(min(1.1 * mark.high, 15.0))
    wanted += [out.low_m + 2.5 for out in found.ruled_out]
    return min(max(wanted), day.max_depth_m, float(found.depth_m[-1]))


def _covers(found: Outlook) -> str:
    order = sorted(found.covers, key=lambda name: -found.covers[name])
    parts = [f"{name.split('_')[0]} {100.0 * found.covers[name]:.0f}" for name in order]
    return f"Cover, in 100 fish: {', '.join(parts)}"


def _draw_panels(sheet: Sheet, found: Outlook) -> None:
    layout, units = sheet.layout, found.day.units
    line_px = layout.text_pt * PT_PX * LINE_HEIGHT
    head, foot = 2.0 * line_px + 4.0, layout.small_pt * PT_PX * LINE_HEIGHT + 8.0
    digits = text_width_px("00 m", layout.small_pt) + 10.0
    panels = _panels(found)
    gap = 8.0 if layout.is_phone else 22.0
    small = 0.0
    if panels:
        small = 58.0 if layout.is_phone else 170.0
    wide = sheet.width_px - digits - len(panels) * (small + gap)
    bottom, height = sheet.bottom_px + foot, sheet.height_px - head - foot
    deepest = shown_depth_m(found)
    top = bottom + height
    ax = sheet.axes(sheet.left_px + digits, bottom, wide, height)
    ax.set_label("belief")
    _frame(ax, deepest)
    _head(sheet, sheet.left_px + digits, top, "Where the fish are", "chance by depth")
    _depth_ticks(sheet, ax, deepest, units.depth.unit)
    marks = _marks(found, deepest, layout.is_phone)
    _draw_bars(ax, found, layout, deepest)
    all_axes = [ax]
    left = sheet.left_px + digits + wide + gap
    for title, unit, values in panels:
        beside = sheet.axes(left, bottom, small, height)
        beside.set_label(title)
        _frame(beside, deepest)
        _head(sheet, left, top, title, unit)
        seen = np.where(found.depth_m <= deepest, values, np.nan)
        _draw_curve(sheet, beside, found.depth_m, seen, (left, bottom, small))
        all_axes.append(beside)
        left += small + gap
    for i, axes in enumerate(all_axes):
        _draw_marks(axes, found, marks, deepest, first=i == 0, layout=layout)


def _panels(found: Outlook) -> list[tuple[str, str, np.ndarray]]:
    """Title, unit and values on the grid of what stands beside the belief."""
    profile, units = found.day.profile, found.day.units
    if profile is None:
        return []
    within = found.depth_m <= profile.depth_m[-1]
    celsius = np.where(within, profile.temperature_at(found.depth_m), np.nan)
    shown = [units.temperature.value(float(c)) for c in celsius]
    unit = units.temperature.unit.replace("deg", "°")
    panels = [("Water", unit, np.array(shown))]
    oxygen = profile.oxygen_at(found.depth_m)
    if oxygen is not None:
        panels.append(("Oxygen", "mg/L", np.where(within, oxygen, np.nan)))
    return panels


def _frame(ax: Axes, deepest_m: float) -> None:
    ax.set_ylim(deepest_m, 0.0)
    ax.set_xlim(0.0, 1.0)
    ax.set_facecolor(style.WATER)
    ax.set_xticks([])
    ax.set_yticks([])
    for side in ax.spines.values():
        side.set_visible(False)
    ax.axhline(0.0, color=style.DEPTH, linewidth=2.0, clip_on=False)


def _head(sheet: Sheet, x_px: float, top_px: float, title: str, unit: str) -> None:
    size = sheet.layout.text_pt
    line = size * PT_PX * LINE_HEIGHT
    sheet.write(x_px, top_px + line + 4.0, title, size, fontweight="bold")
    sheet.write(x_px, top_px + 6.0, unit, sheet.layout.small_pt, color=style.QUIET)


def _depth_ticks(sheet: Sheet, ax: Axes, deepest_m: float, unit: str) -> None:
    metre = 0.3048 if unit == "ft" else 1.0
    steps = (2.0, 5.0, 10.0, 20.0) if unit == "ft" else (0.5, 1.0, 2.0, 5.0)
    step = next((s for s in steps if deepest_m / (s * metre) <= 8.5), steps[-1])
    for k in range(int(deepest_m / (step * metre)) + 1):
        depth = k * step * metre
        if depth > 0.0:
            ax.axhline(depth, color=style.PAPER, linewidth=1.0, zorder=1)
        words = f"{k * step:g} {unit}" if k == 0 else f"{k * step:g}"
        ax.annotate(
            words,
            (0.0, depth),
            (-6.0, 0.0),
            textcoords="offset points",
            ha="right",
            va="center",
            fontsize=sheet.layout.small_pt,
            color=style.QUIET,
            annotation_clip=False,
        )


def _draw_bars(ax: Axes, found: Outlook, layout: Layout, deepest_m: float) -> None:
    heights = [band.fish / (band.high_m - band.low_m) for band in found.bands]
    scale = 0.8 / max(*heights, *found.lure_per_m)
    for band, height in zip(found.bands, heights, strict=True):
        if band.low_m >= deepest_m:
            continue
        high = min(band.high_m, deepest_m)
        ax.fill_between(
            [0.0, height * scale],
            band.low_m,
            high,
            facecolor=style.DEPTH_BAND_50,
            edgecolor=style.DEPTH_BAND_EDGE,
            linewidth=0.8,
            zorder=2,
        )
        if high == band.high_m and band.fish >= 0.005:
            ax.annotate(
                f"{100.0 * band.fish:.0f} %",
                (0.0, 0.5 * (band.low_m + high)),
                (5.0, 0.0),
                textcoords="offset points",
                va="center_baseline",
                fontsize=layout.text_pt,
                fontweight="bold",
                color=style.TEXT,
                zorder=6,
            )
    if found.come_up_m > 0.0:
        density = found.lure_per_m * scale
        ax.plot(density, found.depth_m, color=style.DEPTH, linewidth=2.2, zorder=4)


def _draw_curve(
    sheet: Sheet,
    ax: Axes,
    depth_m: np.ndarray,
    values: np.ndarray,
    place: tuple[float, float, float],
) -> None:
    """One reading against depth, its least and greatest told at the foot."""
    low, high = float(np.nanmin(values)), float(np.nanmax(values))
    span = max(high - low, 1e-6)
    low_end, high_end = low - 0.08 * span, high + 0.08 * span
    ax.set_xlim(low_end, high_end)
    ax.plot(values, depth_m, color=style.TEXT, linewidth=2.0, zorder=5, clip_on=True)
    left, bottom, width = place
    y = bottom - sheet.layout.small_pt * PT_PX * LINE_HEIGHT
    size = sheet.layout.small_pt
    sheet.write(left, y, f"{low:.0f}", size, color=style.QUIET)
    sheet.write(left + width, y, f"{high:.0f}", size, color=style.QUIET, ha="right")


def _marks(found: Outlook, deepest_m: float, phone: bool) -> list[_Mark]:
    day, text = found.day, found.day.units.depth.text
    marks: list[_Mark] = []
    edge, cline = day.grass_edge_m, day.thermocline_m
    if edge is not None and edge.value < deepest_m:
        marks.append(
            _Mark(
                edge.value,
                _words("grass to", edge, text, phone),
                style.GRASS_STALK,
                None,
                _band(edge),
            )
        )
    if cline is not None and cline.value < deepest_m:
        words = _words("thermocline", cline, text, phone)
        marks.append(_Mark(cline.value, words, style.TEXT, (6.0, 3.0), _band(cline)))
    if day.reach_m is not None and day.reach_m < deepest_m:
        words = f"lures reach {text(day.reach_m)}"
        marks.append(_Mark(day.reach_m, words, style.DEPTH, (1.0, 1.5)))
    for out in found.ruled_out:
        words = out.why if phone else f"below {text(out.low_m)}: {out.why}"
        marks.append(_Mark(out.low_m, words, style.OVER, (2.0, 2.0)))
    return marks


def _band(found: Estimate) -> tuple[float, float] | None:
    return (found.low, found.high) if found.is_guess else None


def _words(what: str, found: Estimate, text: Any, phone: bool) -> str:
    guess = "?" if phone else ", a guess"
    return f"{what} {text(found.value)}{guess if found.is_guess else ''}"


def _draw_marks(
    ax: Axes,
    found: Outlook,
    marks: Sequence[_Mark],
    deepest_m: float,
    *,
    first: bool,
    layout: Layout,
) -> None:
    for out in found.ruled_out:
        ax.axhspan(
            out.low_m, deepest_m, facecolor=style.LAND, edgecolor=style.RULE, hatch="///",
            linewidth=0.0, zorder=1.5,
        )  # fmt: skip
    for mark in marks:
        line: Any = "-" if mark.dashes is None else (0, mark.dashes)
        start = 0.0
        if first:  # leaves the chances readable
            start = 0.3 if layout.is_phone else 0.12
        ax.axhline(
            mark.depth_m, start, 1.0, color=mark.colour, linewidth=1.8, linestyle=line, zorder=4
        )
    if first:
        _write_marks(ax, marks, deepest_m, layout)


def _write_marks(ax: Axes, marks: Sequence[_Mark], deepest_m: float, layout: Layout) -> None:
    """Words of the marks at the right, one below the other where they would meet."""
    line_m = 0.055 * deepest_m
    lowest = -1.0
    for lane, mark in enumerate(sorted(marks, key=lambda m: m.depth_m)):
        at = max(mark.depth_m - 0.5 * line_m, lowest + line_m, 0.6 * line_m)
        if lowest > 0.0 and at < mark.depth_m + 0.5 * line_m and at > mark.depth_m - 0.4 * line_m:
            at = mark.depth_m + 0.6 * line_m  # not across its own line
        lowest = at
        if mark.band_m is not None:
            low, high = mark.band_m
            x = 0.995 - 0.012 * lane
            ax.plot(
                [x, x], [low, min(high, deepest_m)], color=mark.colour, linewidth=3.0, alpha=0.6,
                zorder=3, solid_capstyle="butt",
            )  # fmt: skip
        ax.annotate(
            mark.words,
            (0.955, at),
            ha="right",
            va="center",
            fontsize=layout.small_pt,
            color=mark.colour,
            zorder=7,
            bbox={"facecolor": style.PAPER, "alpha": 0.8, "edgecolor": "none", "pad": 1.0},
        )


def _key(found: Outlook) -> list[KeyEntry]:
    entries = [KeyEntry("fish by depth; area is chance", _bar_swatch)]
    if found.come_up_m > 0.0:
        entries.append(KeyEntry("where they take a lure, coming up", _line_swatch))
    if found.ruled_out:
        entries.append(KeyEntry("next to no fish", _hatch_swatch))
    return entries


def _bar_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.fill_between([x, x + w], y, y + h, facecolor=style.DEPTH_BAND_50,
                    edgecolor=style.DEPTH_BAND_EDGE, linewidth=0.8)  # fmt: skip


def _line_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.plot([x, x + w], [y + 0.5 * h] * 2, color=style.DEPTH, linewidth=2.2)


def _hatch_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.fill_between([x, x + w], y, y + h, facecolor=style.LAND, edgecolor=style.RULE,
                    hatch="///", linewidth=0.0)  # fmt: skip
