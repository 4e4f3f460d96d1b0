"""Water, bottom, grass and the path of the lure, drawn into given axes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from leadsman.output import style
from leadsman.output.side_view_types import FloatArray, SideView
from leadsman.output.style import Layout

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Z90 = 1.6448536269514722
"""Half width of a central 90 % band of a normal error over its standard error [-]."""
CROP = 2.0
"""A bottom deeper than this many times the lure is cut off, and said so [-]."""
MOST_SKY = 0.28
"""Most of the height that goes to the sky; a higher rod tip is drawn lower, its stem broken [-]."""
TIP_PX = 9.0
"""Room above the rod tip for its mark [px]."""
FREE_CROP = 1.5
"""A free path deeper than this many times what really happens is cut off [-]."""


@dataclass(frozen=True, slots=True)
class SceneScale:
    """Limits of the axes of a scene, in the reader's units.

    Parameters
    ----------
    x_low, x_high : float
        Distance at the left and the right edge [units.distance].
    y_top, y_bottom : float
        Depth at the upper (negative: above the surface) and the lower edge [units.depth].
    bottom_is_cut : bool
        True if part of the bottom is deeper than shown [-].
    """

    x_low: float
    x_high: float
    y_top: float
    y_bottom: float
    bottom_is_cut: bool


def scene_scale(
    views: tuple[SideView, ...],
    width_px: float,
    height_px: float,
    sky_px: float,
    ground_px: float,
) -> SceneScale:
    """Limits that hold all of some views, with room above and below.

    Parameters
    ----------
    views : tuple of SideView
        Views to be seen at one scale [-].
    width_px, height_px : float
        Size of the axes [px].
    sky_px, ground_px : float
        Least room above the surface, and below what is deepest [px].
    """
    units = views[0].units
    x_max = max(float(np.max(v.x_m)) for v in views)
    x_min = min(0.0, *(float(np.min(v.x_m)) for v in views))
    lure = max(_deepest_of_lure(v) for v in views)
    floor, cut = lure, False
    for v in views:
        if v.bottom is not None:
            under = v.bottom.depth_at(np.linspace(x_min, x_max, 200))
            deepest = float(np.max(under))
            shallowest = float(np.min(under))
            for depth in (shallowest, deepest):
                floor = max(floor, depth) if depth <= CROP * lure else floor
            cut = cut or deepest > CROP * lure
    deepest = floor
    for v in views:
        if v.free is not None:
            deepest = max(deepest, min(float(np.max(v.free.depth_m)), FREE_CROP * floor))
    deep = max(units.depth.value(deepest), 1e-6)
    tip = units.depth.value(max(0.0, *(tip for v in views for tip in v.tips_m)))
    sky = sky_px
    per_px = deep / (height_px - sky - ground_px)
    if tip > per_px * (sky - TIP_PX):
        # The tip sets the sky: its height and the depth share what the margins leave.
        per_px = (deep + tip) / (height_px - TIP_PX - ground_px)
        sky = min(tip / per_px + TIP_PX, MOST_SKY * height_px)
        per_px = deep / (height_px - sky - ground_px)
    distance = units.distance
    span = distance.value(x_max) - distance.value(x_min)
    pad = span / width_px * 14.0
    return SceneScale(
        distance.value(x_min) - pad,
        distance.value(x_max) + pad,
        -sky * per_px,
        (height_px - sky) * per_px,
        cut,
    )


def _deepest_of_lure(view: SideView) -> float:
    deepest = float(np.max(view.depth_m))
    if view.target_m is not None:
        deepest = max(deepest, view.target_m[1])
    if view.band is not None:
        band = float(np.max(view.band.deep_90_m))
        if view.bottom is not None:  # what lies under the bottom is not seen
            band = min(band, float(np.max(view.bottom.depth_at(view.band.x_m))))
        deepest = max(deepest, band)
    return max(deepest, *(-tip for tip in view.tips_m))


def draw_scene(ax: Axes, view: SideView, scale: SceneScale, layout: Layout) -> None:
    """Draw everything of a view that is not words.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes to draw into [-].
    view : SideView
        What to draw [-].
    scale : SceneScale
        Limits of the axes [-].
    layout : Layout
        Width and type sizes [-].
    """
    ax.set_xlim(scale.x_low, scale.x_high)
    ax.set_ylim(scale.y_bottom, scale.y_top)
    ax.set_autoscale_on(False)
    _draw_water(ax, scale)
    if view.target_m is not None:
        _draw_target(ax, view, scale)
    if view.band is not None:
        _draw_band(ax, view)
    if view.bottom is not None:
        _draw_bottom(ax, view, scale)
        _draw_grass(ax, view, scale, layout)
    if view.free is not None:
        x = view.units.distance.value
        ax.plot(
            [x(v) for v in view.free.x_m],
            [view.units.depth.value(v) for v in view.free.depth_m],
            color=style.DEPTH,
            linewidth=1.3,
            linestyle=(0, (4, 3)),
            zorder=6,
            gid="free-path",
        )
    _draw_path(ax, view)


def _in_units(
    view: SideView, x_m: FloatArray, depth_m: FloatArray
) -> tuple[FloatArray, FloatArray]:
    per_x = view.units.distance.value(1.0)
    per_y = view.units.depth.value(1.0)
    return np.asarray(x_m * per_x), np.asarray(depth_m * per_y)


def _draw_water(ax: Axes, scale: SceneScale) -> None:
    ax.fill_between(
        [scale.x_low, scale.x_high], 0.0, scale.y_bottom, color=style.WATER, linewidth=0, zorder=0
    )
    ax.plot([scale.x_low, scale.x_high], [0.0, 0.0], color=style.DEPTH, linewidth=1.0, zorder=1)


def _draw_target(ax: Axes, view: SideView, scale: SceneScale) -> None:
    assert view.target_m is not None
    low, high = (view.units.depth.value(v) for v in view.target_m)
    ax.fill_between(
        [scale.x_low, scale.x_high],
        low,
        high,
        facecolor="none",
        edgecolor=style.CONTACT,
        hatch="..",
        linewidth=0,
        zorder=1,
        gid="target",
    )
    for edge in (low, high):
        ax.plot(
            [scale.x_low, scale.x_high],
            [edge, edge],
            color=style.CONTACT_CASING,
            linewidth=1.0,
            linestyle=(0, (6, 3)),
            zorder=2,
        )


def _draw_band(ax: Axes, view: SideView) -> None:
    band = view.band
    assert band is not None
    for shallow, deep, colour, name in (
        (band.shallow_90_m, band.deep_90_m, style.DEPTH_BAND_90, "band-90"),
        (band.shallow_50_m, band.deep_50_m, style.DEPTH_BAND_50, "band-50"),
    ):
        x, low = _in_units(view, band.x_m, shallow)
        _, high = _in_units(view, band.x_m, deep)
        ax.fill_between(x, low, high, color=colour, linewidth=0, zorder=2, gid=name)
        if colour == style.DEPTH_BAND_90:
            for edge in (low, high):
                ax.plot(x, edge, color=style.DEPTH_BAND_EDGE, linewidth=0.8, zorder=2)


def _draw_bottom(ax: Axes, view: SideView, scale: SceneScale) -> None:
    bottom = view.bottom
    assert bottom is not None
    to_m = 1.0 / view.units.distance.value(1.0)
    inner = bottom.x_m[(bottom.x_m > scale.x_low * to_m) & (bottom.x_m < scale.x_high * to_m)]
    x_m = np.concatenate(([scale.x_low * to_m], inner, [scale.x_high * to_m]))
    x, depth = _in_units(view, x_m, bottom.depth_at(x_m))
    ax.fill_between(
        x,
        depth,
        max(scale.y_bottom, float(np.max(depth))),
        color=style.BOTTOM,
        linewidth=0,
        zorder=3,
        gid="bottom",
    )
    if bottom.depth_se_m is not None:
        se_m = np.interp(x_m, bottom.x_m, bottom.depth_se_m)
        half = Z90 * view.units.depth.value(1.0) * se_m
        ax.fill_between(
            x,
            depth - half,
            depth + half,
            color=style.BOTTOM_BAND,
            linewidth=0,
            zorder=4,
            gid="bottom-band",
        )
        for edge in (depth - half, depth + half):
            ax.plot(
                x, edge, color=style.BOTTOM_EDGE, linewidth=0.7, linestyle=(0, (2, 2)), zorder=4
            )
    ax.plot(x, depth, color=style.BOTTOM_EDGE, linewidth=1.6, zorder=5, gid="bottom-edge")


def _draw_grass(ax: Axes, view: SideView, scale: SceneScale, layout: Layout) -> None:
    assert view.bottom is not None
    grass = view.bottom.grass
    if grass is None:
        return
    to_m = 1.0 / view.units.distance.value(1.0)
    ends = (
        max(scale.x_low * to_m, float(grass.x_m[0])),
        min(scale.x_high * to_m, float(grass.x_m[-1])),
    )
    if ends[0] >= ends[1]:
        return
    x_m = np.linspace(ends[0], ends[1], 400)
    top_m = np.interp(x_m, grass.x_m, grass.top_depth_m)
    density = np.interp(x_m, grass.x_m, grass.density)
    floor_m = view.bottom.depth_at(x_m)
    there = (top_m < floor_m) & (density > 0.0)
    x, top = _in_units(view, x_m, np.minimum(top_m, floor_m))
    _, floor = _in_units(view, x_m, floor_m)
    ax.fill_between(
        x, top, floor, where=there, color=style.GRASS, linewidth=0, zorder=4.5, gid="grass"
    )
    # Stalks stand the closer the denser the grass: 3 px when closed, 24 px when an eighth is.
    per_px = (scale.x_high - scale.x_low) / (layout.width_px - 4.0 * layout.margin_px)
    spacing = 3.0 * per_px / np.maximum(density, 0.08)
    count = np.concatenate(([0.0], np.cumsum(np.diff(x) / spacing[:-1])))
    stalks = np.interp(np.arange(0.5, count[-1], 1.0), count, x)
    stalks = stalks[np.interp(stalks, x, there.astype(np.float64)) > 0.99]
    high, low = np.interp(stalks, x, top), np.interp(stalks, x, floor)
    uneven = np.where(np.arange(stalks.size) % 3 == 0, 0.25, 0.0)  # as grass is
    gap = np.full(stalks.size, np.nan)
    ax.plot(
        np.column_stack((stalks, stalks, gap)).ravel(),
        np.column_stack((low, high + uneven * (low - high), gap)).ravel(),
        color=style.GRASS_STALK,
        linewidth=0.9,
        zorder=4.6,
        solid_capstyle="butt",
        gid="grass-stalks",
    )


def load_runs(load: FloatArray, limit: float) -> list[tuple[str, int, int]]:
    """Runs of samples in the same contact: free, light, or over the limit.

    Parameters
    ----------
    load : ndarray, shape (n,)
        Contact load [-].
    limit : float
        Greatest load that counts as light [-].

    Returns
    -------
    list of (str, int, int)
        Kind of contact, first and last sample; a run ends where the next begins [-].
    """
    kinds = np.where(load <= 0.0, 0, np.where(load <= limit, 1, 2))
    breaks = np.flatnonzero(np.diff(kinds)) + 1
    starts = [0, *breaks.tolist()]
    ends = [*breaks.tolist(), len(load) - 1]
    names = ("free", "light", "over")
    return [(names[int(kinds[a])], int(a), int(b)) for a, b in zip(starts, ends, strict=True)]


def path_runs(view: SideView) -> list[tuple[str, int, int]]:
    """Runs of a path by contact, or with a wanted depth by whether the lure is there.

    Parameters
    ----------
    view : SideView
        The view [-].
    """
    if view.target_m is None:
        return load_runs(view.load, view.load_limit)
    there = (view.depth_m >= view.target_m[0]) & (view.depth_m <= view.target_m[1])
    over = np.where(view.load > view.load_limit, view.load, 0.0)
    return load_runs(
        np.where(there, np.maximum(over, 0.5 * view.load_limit), over), view.load_limit
    )


def _draw_path(ax: Axes, view: SideView) -> None:
    x, depth = _in_units(view, view.x_m, view.depth_m)
    for kind, first, last in path_runs(view):
        stroke(ax, kind, x[first : last + 1], depth[first : last + 1], zorder=8.0)


def stroke(ax: Axes, kind: str, x: FloatArray, y: FloatArray, zorder: float) -> None:
    """Draw a stretch of path in the ink of its contact.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes to draw into [-].
    kind : str
        ``"free"``, ``"light"`` or ``"over"`` [-].
    x, y : ndarray, shape (n,)
        Points, in data of the axes [-].
    zorder : float
        Level of drawing [-].
    """
    if kind == "free":
        ax.plot(
            x,
            y,
            color=style.DEPTH,
            linewidth=style.FREE_WIDTH_PT,
            zorder=zorder,
            solid_capstyle="round",
            solid_joinstyle="round",
            gid="path-free",
        )
    elif kind == "light":
        for colour, width, level in (
            (style.CONTACT_CASING, style.CONTACT_WIDTH_PT, zorder + 0.1),
            (style.CONTACT, style.CONTACT_WIDTH_PT - 2.0, zorder + 0.2),
        ):
            ax.plot(
                x,
                y,
                color=colour,
                linewidth=width,
                zorder=level,
                solid_capstyle="butt",
                solid_joinstyle="round",
                gid="path-light",
            )
    else:
        ax.plot(
            x,
            y,
            color=style.OVER,
            linewidth=style.OVER_WIDTH_PT,
            zorder=zorder + 0.3,
            solid_capstyle="butt",
            solid_joinstyle="round",
            gid="path-over",
        )
        ax.plot(
            x,
            y,
            color=style.OVER_CORE,
            linewidth=2.0,
            linestyle=(0, (1.2, 1.8)),
            zorder=zorder + 0.4,
            gid="path-over-core",
        )
