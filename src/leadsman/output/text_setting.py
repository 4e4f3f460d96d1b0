"""Text measured before it is set: widths, lines, and big numbers with small units."""

from __future__ import annotations

import re
import unicodedata
import warnings
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from leadsman.output import style
from leadsman.output.label_placement import Box
from leadsman.output.style import CSS_PX_PER_INCH

if TYPE_CHECKING:
    from matplotlib.axes import Axes

PT_PX = CSS_PX_PER_INCH / 72.0
"""Reference pixels per point [px pt-1]."""
LINE_HEIGHT = 1.28
"""Distance of lines of text over the size of the type [-]."""
FONT = "DejaVu Sans"
"""Comes with matplotlib, so that pictures are the same on every machine [-]."""

_NUMBER_AND_UNIT = re.compile(r"(\d) (ft|yd|m|km|lb|oz|mm|in|mph|kg|g|h|min|s|%)\b")


def clean(text: str) -> str:
    """Text fit for one line of a picture: no control marks, single spaces.

    Parameters
    ----------
    text : str
        Text, perhaps typed by the user [-].
    """
    kept = "".join(
        " " if ch.isspace() else ch
        for ch in text
        if ch.isspace() or unicodedata.category(ch)[0] != "C"
    )
    return " ".join(kept.split())


@lru_cache(maxsize=4096)
def text_width_px(text: str, size_pt: float, bold: bool = False) -> float:
    """Width of one line of text.

    Parameters
    ----------
    text : str
        The line [-].
    size_pt : float
        Size of the type [pt].
    bold : bool
        Bold type [-].
    """
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    if not text:
        return 0.0
    font = FontProperties(family=FONT, size=size_pt, weight="bold" if bold else "normal")
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", message="Glyph .* missing from font")
        width, _, _ = text_to_path.get_text_width_height_descent(text, font, False)
    return float(width) * PT_PX


def join_units(text: str) -> str:
    """Text whose numbers keep their unit beside them when lines are broken.

    Parameters
    ----------
    text : str
        Text with plain spaces [-].
    """
    return _NUMBER_AND_UNIT.sub("\\1\u00a0\\2", text)


def wrap(
    text: str, size_pt: float, width_px: float, bold: bool = False, most_lines: int = 6
) -> list[str]:
    """Text broken into lines that fit; what is too long ends in an ellipsis.

    Parameters
    ----------
    text : str
        Text [-].
    size_pt : float
        Size of the type [pt].
    width_px : float
        Greatest width of a line [px].
    bold : bool
        Bold type [-].
    most_lines : int
        Greatest number of lines [-].
    """
    lines: list[str] = []
    line = ""
    for word in join_units(clean(text)).split(" "):
        longer = f"{line} {word}" if line else word
        if text_width_px(longer, size_pt, bold) <= width_px:
            line = longer
            continue
        if line:
            lines.append(line)
        line = fit(word, size_pt, width_px, bold)
    if line:
        lines.append(line)
    if len(lines) > most_lines:
        rest = " ".join(lines[most_lines - 1 :]) + " …"
        lines = [*lines[: most_lines - 1], fit(rest, size_pt, width_px, bold)]
    return lines


def balanced(text: str, size_pt: float, width_px: float) -> list[str]:
    """Text in as few lines as the width needs, all of about one length.

    Parameters
    ----------
    text : str
        Text [-].
    size_pt : float
        Size of the type [pt].
    width_px : float
        Greatest width of a line [px].
    """
    lines = wrap(text, size_pt, width_px, most_lines=3)
    narrow = width_px
    while narrow > 0.4 * width_px:
        narrow -= 4.0
        tighter = wrap(text, size_pt, narrow, most_lines=3)
        if len(tighter) > len(lines) or any("…" in line for line in tighter):
            break
        lines = tighter
    return lines


def fit(text: str, size_pt: float, width_px: float, bold: bool = False) -> str:
    """One line cut to a width, with an ellipsis where something was cut.

    Parameters
    ----------
    text : str
        Text [-].
    size_pt : float
        Size of the type [pt].
    width_px : float
        Greatest width [px].
    bold : bool
        Bold type [-].
    """
    text = clean(text)[:400]
    if text_width_px(text, size_pt, bold) <= width_px:
        return text
    keep = text
    while keep and text_width_px(keep.rstrip(" .…") + "…", size_pt, bold) > width_px:
        keep = keep[:-1]
    return keep.rstrip(" .…") + "…"


def label_size_px(text: str, size_pt: float, bold: bool = False) -> tuple[float, float]:
    """Width and height of one line of text.

    Parameters
    ----------
    text : str
        The line [-].
    size_pt : float
        Size of the type [pt].
    bold : bool
        Bold type [-].
    """
    return text_width_px(clean(text), size_pt, bold), size_pt * PT_PX * 1.2


def write_number(
    ax: Axes, box: Box, number: str, unit: str, number_pt: float, unit_pt: float
) -> None:
    """A big number and its small unit on one baseline.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes whose data are pixels [-].
    box : Box
        Where; see `number_size_px` for its size [px].
    number, unit : str
        The number and its unit [-].
    number_pt, unit_pt : float
        Sizes of the type [pt].
    """
    width, height = label_size_px(number, number_pt, bold=True)
    base = box.bottom + 0.24 * height
    options: dict[str, Any] = {"color": style.TEXT, "va": "baseline", "ha": "left", "zorder": 12}
    ax.text(box.left, base, number, fontsize=number_pt, fontweight="bold", **options)
    ax.text(box.left + width + 3.0, base, unit, fontsize=unit_pt, **options)


def number_size_px(number: str, unit: str, number_pt: float, unit_pt: float) -> tuple[float, float]:
    """Size of a big number with its small unit.

    Parameters
    ----------
    number, unit : str
        The number and its unit [-].
    number_pt, unit_pt : float
        Sizes of the type [pt].
    """
    width, height = label_size_px(number, number_pt, bold=True)
    return width + 3.0 + label_size_px(unit, unit_pt)[0], height
