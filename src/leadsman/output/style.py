"""Colours, text sizes and picture widths that mean the same thing everywhere.

A colour stands for one thing: blue is depth, brown the bottom, green grass,
and the three contact inks say how hard the lure presses on the bottom. A pale
tint of a colour is the 90 % band of that thing, a stronger tint its 50 % band.
Nothing is told by colour alone: contact is also told by width and by the core
of the stroke, grass by stalks, bands by their edges, so that a grey print and
colour-blind eyes lose nothing. `tests/output/test_style.py` holds the pairs
that must stay apart against a published simulation of colour-blind sight.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

PAPER = "#FFFFFF"
"""Ground of every picture; plain white is the brightest ground in the sun [sRGB]."""
TEXT = "#14181C"
"""Words and numbers [sRGB]."""
QUIET = "#4A525A"
"""Units, axis words, notes: less than `TEXT`, still 7:1 on paper [sRGB]."""
RULE = "#A9B1B8"
"""Thin rules and ticks [sRGB]."""

WATER = "#EAF1F7"
"""Water where its depth is not told by colour [sRGB]."""
DEPTH = "#1B4F8A"
"""Running depth, free; depth in tables and bars [sRGB]."""
DEPTH_BAND_50 = "#9DBCE0"
"""Where the running depth lies one time in two [sRGB]."""
DEPTH_BAND_90 = "#C9DBEF"
"""Where the running depth lies nine times in ten [sRGB]."""
DEPTH_BAND_EDGE = "#5E86B8"
"""Edge of that band, so that it does not fade in the sun [sRGB]."""
DEPTH_STEPS = ("#F1F6FB", "#D6E5F3", "#B5D0EA", "#8DB5DC", "#5E94C8", "#3572AE", "#1B4F8A")
"""Depth from shallow to deep, lightness falling throughout [sRGB]."""

BOTTOM = "#C4B39D"
"""The bottom [sRGB]."""
BOTTOM_EDGE = "#3E342A"
"""The line of the bottom [sRGB]."""
BOTTOM_BAND = "#DED4C8"
"""Where the bottom may lie nine times in ten [sRGB]."""
LAND = "#E4E0DA"
"""Ground out of the water, on maps [sRGB]."""

GRASS = "#A3C98A"
"""Ground of a grass layer [sRGB]."""
GRASS_STALK = "#2F6B1F"
"""Stalks of grass; the grass edge on maps [sRGB]."""

CONTACT = "#F5A800"
"""Core of the stroke in light contact; zone length in bars and on maps [sRGB]."""
CONTACT_CASING = "#3A2600"
"""Casing of the stroke in light contact [sRGB]."""
OVER = "#8A0F3F"
"""Contact over the limit: plowing [sRGB]."""
OVER_CORE = "#FFFFFF"
"""Dashes within the stroke over the limit [sRGB]."""

FREE_WIDTH_PT = 2.2
"""Stroke of the running depth where nothing is touched [pt]."""
CONTACT_WIDTH_PT = 5.0
"""Stroke in light contact, with its casing [pt]."""
OVER_WIDTH_PT = 7.5
"""Stroke over the limit [pt]."""

CSS_PX_PER_INCH = 96.0
"""Reference pixels per inch (CSS Values and Units Level 3, from memory) [px in-1]."""
MIN_TEXT_PX = 11.0
"""Least type size in any picture at its stated width [px]."""


@dataclass(frozen=True, slots=True)
class Layout:
    """A width to be looked at, with the type that reads well at that width.

    Parameters
    ----------
    name : str
        ``"laptop"`` or ``"phone"`` [-].
    width_px : float
        Width of the picture in reference pixels, 96 to the inch [px].
    headline_pt, number_pt, text_pt, small_pt : float
        Type of the sentence on top, of answers, of words and of the smallest
        marks [pt].
    margin_px : float
        Free margin all round [px].
    """

    name: Literal["laptop", "phone"]
    width_px: float
    headline_pt: float
    number_pt: float
    text_pt: float
    small_pt: float
    margin_px: float

    @property
    def is_phone(self) -> bool:
        """True if the picture is for a narrow upright screen [-]."""
        return self.name == "phone"


LAPTOP = Layout("laptop", 960.0, 17.0, 18.0, 11.5, 10.0, 20.0)
"""For a laptop, a report and print [-]."""
PHONE = Layout("phone", 380.0, 12.5, 15.0, 9.5, 8.5, 10.0)
"""For a phone held upright [-]."""


def relative_luminance(colour: str) -> float:
    """Relative luminance of a colour, 0 (black) to 1 (white).

    Parameters
    ----------
    colour : str
        sRGB colour as ``#RRGGBB`` [-].

    Returns
    -------
    float
        Relative luminance as defined by WCAG 2.1, W3C Recommendation [-].

    Raises
    ------
    ValueError
        The colour is not written as ``#RRGGBB``.
    """
    if len(colour) != 7 or colour[0] != "#":
        raise ValueError(f"colour {colour!r} is not #RRGGBB")
    shares = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast_ratio(one: str, other: str) -> float:
    """Contrast of two colours, 1 (none) to 21 (black on white).

    Parameters
    ----------
    one, other : str
        sRGB colours as ``#RRGGBB``, in either order [-].

    Returns
    -------
    float
        Contrast ratio as defined by WCAG 2.1, W3C Recommendation [-].
    """
    bright, dark = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def ink_on(ground: str) -> str:
    """Whichever of `TEXT` and `PAPER` reads better on a ground.

    Parameters
    ----------
    ground : str
        sRGB colour of the ground as ``#RRGGBB`` [-].
    """
    dark_is_better = contrast_ratio(TEXT, ground) >= contrast_ratio(PAPER, ground)
    return TEXT if dark_is_better else PAPER
