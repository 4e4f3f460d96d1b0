"""A sheet with its words set and room left for the plot, measured in pixels."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from leadsman.output import style
from leadsman.output.style import CSS_PX_PER_INCH, Layout
from leadsman.output.text_setting import LINE_HEIGHT, PT_PX, clean, text_width_px, wrap

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.text import Text

Swatch = Callable[["Axes", float, float, float, float], None]
"""Draws a sample within (axes, left, bottom, width, height), in pixels."""


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """One entry of a key: a sample and what it stands for.

    Parameters
    ----------
    label : str
        What it stands for [-].
    swatch : callable
        Draws the sample [-].
    """

    label: str
    swatch: Swatch


@dataclass(frozen=True, slots=True)
class Sheet:
    """A figure with its words set and a rectangle left to draw in.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        The figure [-].
    layout : Layout
        Width and type sizes [-].
    left_px, bottom_px, width_px, height_px : float
        The rectangle left to draw in, from the lower left corner [px].
    total_height_px : float
        Height of the figure [px].
    """

    figure: Figure
    layout: Layout
    left_px: float
    bottom_px: float
    width_px: float
    height_px: float
    total_height_px: float

    def axes(self, left_px: float, bottom_px: float, width_px: float, height_px: float) -> Axes:
        """Axes at a place on the figure.

        Parameters
        ----------
        left_px, bottom_px, width_px, height_px : float
            The place, from the lower left corner of the figure [px].
        """
        total_w, total_h = self.layout.width_px, self.total_height_px
        return self.figure.add_axes(
            (left_px / total_w, bottom_px / total_h, width_px / total_w, height_px / total_h)
        )

    def pixel_axes(
        self, left_px: float, bottom_px: float, width_px: float, height_px: float
    ) -> Axes:
        """Axes without frame whose data are pixels, y upward.

        Parameters
        ----------
        left_px, bottom_px, width_px, height_px : float
            The place, from the lower left corner of the figure [px].
        """
        ax = self.axes(left_px, bottom_px, width_px, height_px)
        ax.set_xlim(0.0, width_px)
        ax.set_ylim(0.0, height_px)
        ax.set_axis_off()
        return ax

    def write(self, x_px: float, y_px: float, text: str, size_pt: float, **kwargs: Any) -> Text:
        """Set one line with its baseline at a place on the figure.

        Parameters
        ----------
        x_px, y_px : float
            Start of the baseline, from the lower left corner [px].
        text : str
            The line [-].
        size_pt : float
            Size of the type [pt].
        **kwargs
            Passed on to matplotlib's text [-].
        """
        options = {"color": style.TEXT, "va": "baseline", "ha": "left", **kwargs}
        return self.figure.text(
            x_px / self.layout.width_px,
            y_px / self.total_height_px,
            clean(text),
            fontsize=size_pt,
            **options,
        )


def key_rows(
    entries: Sequence[KeyEntry], layout: Layout, width_px: float
) -> list[list[tuple[float, KeyEntry]]]:
    """Entries of a key flowed into rows, each with its left edge.

    Parameters
    ----------
    entries : sequence of KeyEntry
        The entries, in order [-].
    layout : Layout
        Type sizes [-].
    width_px : float
        Width of a row [px].
    """
    rows: list[list[tuple[float, KeyEntry]]] = []
    x = width_px + 1.0
    gap = 10.0 if layout.is_phone else 18.0
    for entry in entries:
        need = _swatch_px(layout) + 6.0 + text_width_px(clean(entry.label), layout.small_pt)
        if not rows or x + need > width_px:
            rows.append([])
            x = 0.0
        rows[-1].append((x, entry))
        x += need + gap
    return rows


def _swatch_px(layout: Layout) -> float:
    return 26.0 if layout.is_phone else 34.0


def new_sheet(
    layout: Layout,
    headline: str,
    plot_height_px: float,
    *,
    subtitle: str = "",
    key: Sequence[KeyEntry] = (),
    note: str = "",
    listing: Sequence[str] = (),
) -> Sheet:
    """A sheet with headline, second line, key, list and note, and room for the plot.

    Parameters
    ----------
    layout : Layout
        Width and type sizes [-].
    headline : str
        The sentence a person could act on [-].
    plot_height_px : float
        Height of the room for the plot [px].
    subtitle : str
        Second line, smaller [-].
    key : sequence of KeyEntry
        Key below the plot [-].
    note : str
        Small words at the foot [-].
    listing : sequence of str
        Items between key and note, each on lines of its own [-].
    """
    from matplotlib.figure import Figure

    margin = layout.margin_px
    width = layout.width_px - 2.0 * margin
    heads = wrap(headline, layout.headline_pt, width, bold=True)
    subs = wrap(subtitle, layout.text_pt, width) if subtitle else []
    items = [line for item in listing for line in wrap(item, layout.small_pt, width)]
    notes = wrap(note, layout.small_pt, width) if note else []
    rows = key_rows(key, layout, width)
    head_px = layout.headline_pt * PT_PX * LINE_HEIGHT
    sub_px = layout.text_pt * PT_PX * LINE_HEIGHT
    note_px = layout.small_pt * PT_PX * LINE_HEIGHT
    row_px = note_px + 4.0
    top = margin + len(heads) * head_px + len(subs) * sub_px + 8.0
    list_px = len(items) * note_px + (6.0 if items else 0.0)
    foot = margin + len(notes) * note_px + list_px + len(rows) * row_px
    foot += 10.0 if rows or notes or items else 0.0
    total = float(round(top + plot_height_px + foot))
    figure = Figure(
        figsize=(layout.width_px / CSS_PX_PER_INCH, total / CSS_PX_PER_INCH),
        dpi=CSS_PX_PER_INCH,
        facecolor=style.PAPER,
    )
    figure.set_label(clean(headline))
    sheet = Sheet(
        figure, layout, margin, total - top - plot_height_px, width, plot_height_px, total
    )
    y = total - margin
    for line in heads:
        y -= head_px
        sheet.write(margin, y + 0.28 * head_px, line, layout.headline_pt, fontweight="bold")
    for line in subs:
        y -= sub_px
        sheet.write(margin, y + 0.22 * sub_px, line, layout.text_pt, color=style.QUIET)
    y = margin + len(notes) * note_px + list_px
    _draw_key(sheet, rows, margin, y, width, row_px)
    for line in items:
        y -= note_px
        sheet.write(margin, y + 0.25 * note_px, line, layout.small_pt)
    y = margin + len(notes) * note_px
    for line in notes:
        y -= note_px
        sheet.write(margin, y + 0.25 * note_px, line, layout.small_pt, color=style.QUIET)
    return sheet


def _draw_key(
    sheet: Sheet,
    rows: list[list[tuple[float, KeyEntry]]],
    left_px: float,
    bottom_px: float,
    width_px: float,
    row_px: float,
) -> None:
    if not rows:
        return
    height = len(rows) * row_px
    room = 4.0  # for the half of a rim that stands out of the first sample
    ax = sheet.pixel_axes(left_px - room, bottom_px + 3.0, width_px + 2.0 * room, height)
    ax.set_label("key")
    swatch = _swatch_px(sheet.layout)
    for i, row in enumerate(rows):
        bottom = height - (i + 1) * row_px
        for start, entry in row:
            x = start + room
            entry.swatch(ax, x, bottom + 3.0, swatch, row_px - 6.0)
            ax.text(
                x + swatch + 6.0,
                bottom + 0.5 * row_px,
                clean(entry.label),
                fontsize=sheet.layout.small_pt,
                color=style.TEXT,
                va="center_baseline",
            )
