"""The key of a side view: a sample of each thing that is in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from leadsman.output import style
from leadsman.output.sheet import KeyEntry, Swatch
from leadsman.output.side_scene import path_runs, stroke
from leadsman.output.side_view_types import SideView

if TYPE_CHECKING:
    from matplotlib.axes import Axes


def scene_key(views: tuple[SideView, ...]) -> list[KeyEntry]:
    """Key of what is in some views, and of nothing else.

    Parameters
    ----------
    views : tuple of SideView
        The views [-].
    """
    kinds = {kind for v in views for kind, _, _ in path_runs(v)}
    limit = views[0].load_limit
    entries = []
    wanted = any(v.target_m is not None for v in views)
    words = {
        "free": "running free",
        "light": "at the wanted depth" if wanted else f"light contact (load to {limit:.2f})",
        "over": f"too hard: over {limit:.2f}",
    }
    for kind, label in words.items():
        if kind in kinds:
            entries.append(KeyEntry(label, _stroke_swatch(kind)))
    if any(v.free is not None for v in views):
        entries.append(KeyEntry("if nothing stopped it", _free_swatch))
    if any(v.band is not None for v in views):
        entries.append(KeyEntry("where it runs: 1 in 2, 9 in 10 times", _band_swatch))
    if any(v.bottom is not None and v.bottom.depth_se_m is not None for v in views):
        entries.append(KeyEntry("bottom, 9 in 10", _bottom_swatch))
    if any(v.bottom is not None and v.bottom.grass is not None for v in views):
        entries.append(KeyEntry("grass", _grass_swatch))
    if any(v.target_m is not None for v in views):
        entries.append(KeyEntry("wanted depth", _target_swatch))
    return entries


def _stroke_swatch(kind: str) -> Swatch:
    def swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
        stroke(ax, kind, np.array([x, x + w]), np.array([y + h / 2, y + h / 2]), zorder=3.0)

    return swatch


def _free_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.plot([x, x + w], [y + h / 2] * 2, color=style.DEPTH, linewidth=1.3, linestyle=(0, (4, 3)))


def _band_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.fill_between([x, x + w], y, y + h, color=style.DEPTH_BAND_90, linewidth=0)
    ax.fill_between([x, x + w], y + h / 4, y + 3 * h / 4, color=style.DEPTH_BAND_50, linewidth=0)


def _bottom_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.fill_between([x, x + w], y, y + h, color=style.BOTTOM_BAND, linewidth=0)
    ax.plot([x, x + w], [y + h / 2] * 2, color=style.BOTTOM_EDGE, linewidth=1.6)
    for edge in (y, y + h):
        ax.plot(
            [x, x + w], [edge, edge], color=style.BOTTOM_EDGE, linewidth=0.7, linestyle=(0, (2, 2))
        )


def _grass_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.fill_between([x, x + w], y, y + h, color=style.GRASS, linewidth=0)
    for at in np.arange(x + 2.0, x + w, 5.0):
        ax.plot([at, at], [y, y + h], color=style.GRASS_STALK, linewidth=0.9)


def _target_swatch(ax: Axes, x: float, y: float, w: float, h: float) -> None:
    ax.fill_between(
        [x, x + w], y, y + h, facecolor="none", edgecolor=style.CONTACT, hatch="..", linewidth=0
    )
    for edge in (y, y + h):
        ax.plot(
            [x, x + w],
            [edge, edge],
            color=style.CONTACT_CASING,
            linewidth=1.0,
            linestyle=(0, (6, 3)),
        )
