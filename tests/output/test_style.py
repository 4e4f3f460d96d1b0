"""Colours that stay apart: for colour-blind eyes, in grey print and in the sun."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest

from leadsman.output import style
from leadsman.output.map_layers import CONTOUR_WIDTH_PT, EDGE_WIDTH_PT
from leadsman.output.style import contrast_ratio, ink_on, relative_luminance

# Machado, Oliveira & Fernandes 2009, IEEE Trans. Vis. Comput. Graph. 15:1291-1298,
# doi 10.1109/TVCG.2009.113, severity 1.0, for linear RGB. The first two matrices were read
# where they are quoted in published source code, the third is from memory.
SIGHT = {
    "normal": np.eye(3),
    "protanopia": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deuteranopia": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritanopia": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}

# Linear sRGB to XYZ, D65: IEC 61966-2-1, from memory.
TO_XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])

APART = 20.0
"""Least CIE 1976 colour difference of things that must not be mixed up [-]. Own choice, about
ten times what is just noticed side by side (2.3, Mahy et al. 1994, from memory)."""

MEANINGS = {
    "running free": style.DEPTH,
    "light contact": style.CONTACT,
    "over the limit": style.OVER,
}
GROUNDS = {"water": style.WATER, "bottom": style.BOTTOM, "grass": style.GRASS}


def linear(colour: str) -> np.ndarray:
    shares = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255.0
    return np.where(shares <= 0.04045, shares / 12.92, ((shares + 0.055) / 1.055) ** 2.4)


def lab(rgb: np.ndarray) -> np.ndarray:
    """CIE L*a*b*, D65 (CIE 15, from memory)."""
    xyz = TO_XYZ @ rgb / np.sum(TO_XYZ, axis=1)
    e = 216.0 / 24389.0
    f = np.where(xyz > e, np.cbrt(np.maximum(xyz, 0.0)), (24389.0 / 27.0 * xyz + 16.0) / 116.0)
    return np.array([116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2])])


def difference(one: str, other: str, sight: np.ndarray) -> float:
    seen = [lab(np.clip(sight @ linear(c), 0.0, 1.0)) for c in (one, other)]
    return float(np.linalg.norm(seen[0] - seen[1]))


def test_simulation_keeps_grey_and_maps_red_and_green_together() -> None:
    # The matrices must be what they claim: greys stay, red and green draw near.
    for name, sight in SIGHT.items():
        assert sight.sum(axis=1) == pytest.approx(np.ones(3), abs=2e-6), name
    plain = difference("#C00000", "#4E7A00", SIGHT["normal"])
    assert difference("#C00000", "#4E7A00", SIGHT["deuteranopia"]) < 0.5 * plain


def test_lab_of_white_and_red() -> None:
    # sRGB white and red in CIE Lab D65: 100, 0, 0 and 53.24, 80.09, 67.20; from memory.
    assert lab(linear("#FFFFFF")) == pytest.approx([100.0, 0.0, 0.0], abs=0.02)
    assert lab(linear("#FF0000")) == pytest.approx([53.24, 80.09, 67.20], abs=0.1)


@pytest.mark.parametrize("sight", SIGHT)
def test_kinds_of_contact_stay_apart(sight: str) -> None:
    for one, other in combinations(MEANINGS, 2):
        assert difference(MEANINGS[one], MEANINGS[other], SIGHT[sight]) >= APART, (one, other)


@pytest.mark.parametrize("sight", SIGHT)
def test_every_stroke_stands_out_from_every_ground(sight: str) -> None:
    for meaning, colour in MEANINGS.items():
        for ground, below in GROUNDS.items():
            assert difference(colour, below, SIGHT[sight]) >= APART, (meaning, ground)


@pytest.mark.parametrize("sight", SIGHT)
def test_water_bottom_and_grass_stay_apart_by_their_inks(sight: str) -> None:
    # Grounds are pale. Grass and bottom as grounds alone come to 12 for deuteranopes: what parts
    # them is the dark line of the bottom, which must stand out from both, and the stalks.
    pairs = [
        (style.WATER, style.BOTTOM),
        (style.WATER, style.GRASS),
        (style.GRASS, style.GRASS_STALK),
        (style.BOTTOM, style.BOTTOM_EDGE),
        (style.GRASS, style.BOTTOM_EDGE),
        (style.GRASS_STALK, style.CONTACT),
    ]
    for one, other in pairs:
        assert difference(one, other, SIGHT[sight]) >= APART, (one, other)


@pytest.mark.parametrize("sight", SIGHT)
def test_grass_edge_and_contours_are_told_by_more_than_colour(sight: str) -> None:
    # Green and blue draw near for tritanopes whatever the green: 13 here, best found 18. On maps
    # the edge is therefore three times as wide as a contour, cased in white, its band dotted.
    assert difference(style.GRASS_STALK, style.DEPTH, SIGHT[sight]) >= 0.5 * APART
    assert EDGE_WIDTH_PT >= 3.0 * CONTOUR_WIDTH_PT


def test_published_contrast_ratios() -> None:
    # WCAG 2.1: black on white is 21:1; #767676 is the lightest grey at 4.5:1 on white (from
    # memory, 4.54).
    assert contrast_ratio("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast_ratio("#FFFFFF", "#767676") == pytest.approx(4.54, abs=0.005)
    assert relative_luminance("#FFFFFF") == pytest.approx(1.0)


@pytest.mark.parametrize(
    "ground",
    [style.PAPER, style.WATER, style.BOTTOM, style.GRASS, style.CONTACT, style.BOTTOM_BAND],
)
def test_words_reach_the_enhanced_contrast(ground: str) -> None:
    # WCAG 2.1, 1.4.6: 7:1, asked of all words because the sun takes contrast away.
    assert contrast_ratio(style.TEXT, ground) >= 7.0


def test_quiet_words_reach_the_enhanced_contrast_on_paper() -> None:
    assert contrast_ratio(style.QUIET, style.PAPER) >= 7.0


@pytest.mark.parametrize("ground", [style.WATER, style.BOTTOM, style.GRASS])
@pytest.mark.parametrize("stroke", [style.DEPTH, style.CONTACT_CASING, style.OVER])
def test_strokes_reach_the_contrast_of_graphics(stroke: str, ground: str) -> None:
    # WCAG 2.1, 1.4.11: 3:1 for graphics that are needed to understand.
    assert contrast_ratio(stroke, ground) >= 3.0


def test_contact_is_told_without_colour() -> None:
    widths = (style.FREE_WIDTH_PT, style.CONTACT_WIDTH_PT, style.OVER_WIDTH_PT)
    assert all(b / a >= 1.4 for a, b in pairwise(widths))
    # In grey, light contact has a pale core in a dark casing, over the limit a dark body.
    assert contrast_ratio(style.CONTACT, style.CONTACT_CASING) >= 4.5
    assert contrast_ratio(style.OVER, style.OVER_CORE) >= 4.5


def test_depth_steps_fall_in_lightness_for_all_eyes() -> None:
    for sight in SIGHT.values():
        lightness = [lab(np.clip(sight @ linear(c), 0.0, 1.0))[0] for c in style.DEPTH_STEPS]
        assert all(a - b >= 3.0 for a, b in pairwise(lightness))


@pytest.mark.parametrize("ground", style.DEPTH_STEPS)
def test_numbers_read_on_every_depth(ground: str) -> None:
    assert contrast_ratio(ink_on(ground), ground) >= 4.5


@pytest.mark.parametrize("wrong", ["#FFF", "FFFFFF", "#GGGGGG", ""])
def test_a_colour_must_be_six_digits(wrong: str) -> None:
    with pytest.raises(ValueError):
        relative_luminance(wrong)
