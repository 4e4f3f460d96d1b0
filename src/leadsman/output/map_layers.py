"""Layers of a map: depth, contours, edge with band, stretches, casts, route."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from leadsman.output import style
from leadsman.output.map_frame import MapFrame
from leadsman.output.map_view_types import EdgeLine, FloatArray, MapView, Polyline, Ring
from leadsman.output.text_setting import PT_PX
from leadsman.output.thin_lines import SEEN_PX, thinned, thinned_ring

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.path import Path

MOST_BANDS = 7
"""Most steps of depth told by colour; more are hard to tell apart [-]."""
CONTOUR_WIDTH_PT = 0.8
"""Stroke of a contour [pt]."""
EDGE_WIDTH_PT = 2.6
"""Stroke of a grass edge, without its white casing [pt]."""
US_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
"""Steps of depth to choose from [ft]."""
US_UNEVEN = (0.0, 5.0, 10.0, 15.0, 20.0, 30.0, 50.0)
"""Steps for a lake deeper than seven steps of 5 ft [ft]; own choice."""
METRIC_UNEVEN = (0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 15.0)
"""Steps for a lake deeper than seven steps of 2 m [m]; own choice."""
METRIC_STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
"""Steps of depth to choose from [m]."""


@dataclass(frozen=True, slots=True)
class ShownDepth:
    """The part of a grid that is seen, no finer than the pixels, with its steps.

    Parameters
    ----------
    x_m, y_m : ndarray
        Columns and rows [m].
    depth : ndarray, shape (m, n)
        Depth in the reader's unit; NaN on land [units.depth].
    levels : tuple of float
        Ends of the steps of depth [units.depth].
    colours : tuple of str
        Colour of each step, one fewer than the levels [sRGB].
    m_per_px : float
        Metres in a pixel [m px-1].
    """

    x_m: FloatArray
    y_m: FloatArray
    depth: FloatArray
    levels: tuple[float, ...]
    colours: tuple[str, ...]
    m_per_px: float


def shown_depth(view: MapView, frame: MapFrame) -> ShownDepth:
    """Cut, thin and step the grid for a frame.

    Parameters
    ----------
    view : MapView
        The map [-].
    frame : MapFrame
        What is shown [-].
    """
    grid = view.grid
    columns = _cut(grid.x_m, frame.window.left_m, frame.window.right_m, frame.m_per_px)
    rows = _cut(grid.y_m, frame.window.bottom_m, frame.window.top_m, frame.m_per_px)
    thinned = grid.depth_m[np.ix_(rows, columns)]
    depth = thinned * view.units.depth.value(1.0)
    known = depth[np.isfinite(depth)]
    low, high = (float(np.min(known)), float(np.max(known))) if known.size else (0.0, 1.0)
    feet = view.units.depth.unit == "ft"
    levels = _levels(max(0.0, low), high, feet)
    colours = _colours(len(levels) - 1)
    x_m, y_m = grid.x_m[columns], grid.y_m[rows]
    return ShownDepth(x_m, y_m, depth, levels, colours, frame.m_per_px)


def _levels(low: float, high: float, feet: bool) -> tuple[float, ...]:
    """Ends of at most `MOST_BANDS` steps that hold all depths."""
    steps, uneven = (US_STEPS, US_UNEVEN) if feet else (METRIC_STEPS, METRIC_UNEVEN)
    if low < uneven[1] and high > uneven[1] * MOST_BANDS:
        # A deep lake seen whole: fine steps where the grass is, coarse ones below.
        inner = tuple(level for level in uneven if level < high)
        return (*inner, max(math.ceil(high), inner[-1] + 1.0))
    step = next((s for s in steps if _count(low, high, s) <= MOST_BANDS), None)
    if step is None:
        step = math.ceil((high - low) / MOST_BANDS / steps[-1]) * steps[-1]
    first = math.floor(low / step)
    count = max(_count(low, high, step), 1)
    return tuple((first + i) * step for i in range(count + 1))


def _count(low: float, high: float, step: float) -> int:
    return math.ceil(high / step + 1e-9) - math.floor(low / step)


def _cut(axis: FloatArray, low: float, high: float, m_per_px: float) -> npt.NDArray[np.intp]:
    """Indices of what lies between two ends, one beyond each, thinned to the pixels."""
    first = max(int(np.searchsorted(axis, low)) - 1, 0)
    last = min(int(np.searchsorted(axis, high)) + 1, axis.size)
    if last - first < 2:
        first, last = max(min(first, axis.size - 2), 0), min(max(first + 2, last), axis.size)
    cell = float(np.mean(np.diff(axis)))
    stride = max(int(m_per_px / cell), 1)
    picked = np.arange(first, last, stride)
    return picked if picked.size >= 2 else np.arange(first, last)


def _colours(count: int) -> tuple[str, ...]:
    """Steps from shallow to deep; the darkest is left out, so that lines show on all."""
    ramp = np.array([[int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in style.DEPTH_STEPS[:6]])
    at = np.linspace(0.0, len(ramp) - 1.0, count) if count > 1 else np.array([1.0])
    mixed = [[float(np.interp(a, range(len(ramp)), ramp[:, k])) for k in range(3)] for a in at]
    return tuple("#" + "".join(f"{round(c):02X}" for c in rgb) for rgb in mixed)


def draw_depth(
    ax: Axes, shown: ShownDepth, shoreline: tuple[Polyline, ...] = ()
) -> list[tuple[float, list[FloatArray]]]:
    """Draw ground and contours.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes in metres [-].
    shown : ShownDepth
        What to draw [-].
    shoreline : tuple of Polyline
        The shore; without it the outline of the grid's water is drawn [-].

    Returns
    -------
    list of (float, list of ndarray)
        Each contour's depth [units.depth] and its lines, shape (n, 2) [m].
    """
    ax.set_facecolor(style.LAND)
    masked = np.ma.masked_invalid(shown.depth)
    if masked.count() == 0 or min(shown.depth.shape) < 2:
        return []
    # The ground goes into an SVG as an image: as outlines it would be ten times the size.
    ax.set_rasterization_zorder(0.5)
    clipped = np.ma.clip(masked, shown.levels[0], shown.levels[-1])
    ax.contourf(shown.x_m, shown.y_m, clipped, levels=shown.levels, colors=shown.colours, zorder=0)
    water = np.isfinite(shown.depth).astype(np.float64)
    for line in shoreline:
        ax.plot(line.x_m, line.y_m, color=style.BOTTOM_EDGE, linewidth=1.4, zorder=2, gid="shore")
    if not shoreline and np.any(water == 0.0):
        _strokes(ax, _isolines(shown, water, 0.5), style.BOTTOM_EDGE, 1.4, 2.0, "shore")
    contours = []
    for level in shown.levels:
        if max(0.0, float(masked.min())) < level < float(masked.max()):
            lines = _isolines(shown, masked, level)
            _strokes(ax, lines, style.DEPTH, CONTOUR_WIDTH_PT, 1.0, "contour")
            contours.append((level, lines))
    return contours


def _isolines(shown: ShownDepth, values: FloatArray, level: float) -> list[FloatArray]:
    from contourpy import contour_generator

    lines = contour_generator(shown.x_m, shown.y_m, values).lines(level)
    tolerance = SEEN_PX * shown.m_per_px
    return [
        thinned(np.asarray(line, dtype=np.float64), tolerance) for line in lines if len(line) > 1
    ]


def _strokes(
    ax: Axes, lines: list[FloatArray], colour: str, width_pt: float, zorder: float, gid: str
) -> None:
    """Many lines as one stroke with gaps, which the file holds thinned to what can be seen."""
    if lines:
        gap = np.full((1, 2), np.nan)
        points = np.vstack([part for line in lines for part in (line, gap)])
        ax.plot(
            points[:, 0], points[:, 1], color=colour, linewidth=width_pt, zorder=zorder, gid=gid
        )


def draw_edge(ax: Axes, edge: EdgeLine, m_per_px: float) -> None:
    """Draw an edge over its band.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes in metres [-].
    edge : EdgeLine
        The edge [-].
    m_per_px : float
        Metres in a pixel [m px-1].
    """
    from matplotlib.patches import PathPatch

    fill, ink = edge_inks(edge.grass)
    tolerance = SEEN_PX * m_per_px
    if edge.band:
        outline = _even_odd(edge.band, tolerance)
        for hatch, alpha, colour in ((None, 0.75, fill), ("..", 0.9, "none")):
            ax.add_patch(
                PathPatch(
                    outline,
                    facecolor=colour,
                    edgecolor=ink,
                    hatch=hatch,
                    alpha=alpha,
                    linewidth=0.6,
                    zorder=3,
                    gid="edge-band",
                )
            )
    for line in edge.lines:
        x, y = thinned(np.column_stack((line.x_m, line.y_m)), tolerance).T
        for colour, width in ((style.PAPER, EDGE_WIDTH_PT + 2.0), (ink, EDGE_WIDTH_PT)):
            ax.plot(
                x,
                y,
                color=colour,
                linewidth=width,
                zorder=4,
                gid="edge",
                linestyle="-" if edge.grass or colour == style.PAPER else (0, (4, 1.6)),
            )


def edge_inks(grass: bool) -> tuple[str, str]:
    """Ground and ink of an edge.

    Parameters
    ----------
    grass : bool
        True for a grass edge [-].
    """
    if grass:
        return style.GRASS, style.GRASS_STALK
    return style.BOTTOM_BAND, style.BOTTOM_EDGE


def _even_odd(rings: tuple[Ring, ...], tolerance_m: float) -> Path:
    """One path of all rings, turned so that a ring in a ring cuts a hole."""
    from matplotlib.path import Path

    corners = [thinned_ring(np.column_stack((ring.x_m, ring.y_m)), tolerance_m) for ring in rings]
    outlines = [Path(c) for c in corners]
    vertices, codes = [], []
    for i, ring in enumerate(corners):
        around = sum(
            bool(other.contains_point(ring[0])) for j, other in enumerate(outlines) if j != i
        )
        x, y = ring[:, 0], ring[:, 1]
        left_turning = float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) > 0.0
        turned = ring if left_turning == (around % 2 == 0) else ring[::-1]
        vertices.append(np.vstack((turned, turned[:1])))
        codes += [Path.MOVETO, *[Path.LINETO] * (len(turned) - 1), Path.CLOSEPOLY]
    return Path(np.vstack(vertices), codes)


def draw_lines(ax: Axes, view: MapView) -> None:
    """Draw soundings, route, stretches and casts.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes in metres [-].
    view : MapView
        The map [-].
    """
    for track in view.sounded:
        ax.plot(
            track.x_m,
            track.y_m,
            color=style.QUIET,
            linewidth=0.9,
            zorder=2.5,
            linestyle=(0, (1, 1.5)),
            gid="soundings",
        )
    if view.route is not None:
        for colour, width in ((style.PAPER, 3.2), (style.TEXT, 1.5)):
            ax.plot(
                view.route.x_m,
                view.route.y_m,
                color=colour,
                linewidth=width,
                zorder=5,
                linestyle="-" if colour == style.PAPER else (0, (5, 2.5)),
                gid="route",
            )
    for stretch in view.stretches:
        contact_stroke(ax, stretch.line.x_m, stretch.line.y_m, 6.0, "stretch")
    for cast in view.casts:
        for colour, width in ((style.PAPER, 2.8), (style.TEXT, 1.2)):
            ax.plot(
                [cast.boat_x_m, cast.end_x_m],
                [cast.boat_y_m, cast.end_y_m],
                color=colour,
                linewidth=width,
                zorder=7,
                gid="cast",
            )
        if cast.zone is not None:
            line = cast.zone
            contact_stroke(ax, line.x_m, line.y_m, style.CONTACT_WIDTH_PT, "cast-zone", 7.5)
        boat_mark(ax, cast.boat_x_m, cast.boat_y_m)
        ax.plot(
            [cast.end_x_m],
            [cast.end_y_m],
            marker="v",
            markersize=6.5,
            zorder=8,
            markerfacecolor=style.PAPER,
            markeredgecolor=style.TEXT,
            markeredgewidth=1.2,
            gid="cast-lands",
        )


def boat_mark(ax: Axes, x: float, y: float) -> None:
    """Mark a position of the boat.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes to draw into [-].
    x, y : float
        The place, in data of the axes [-].
    """
    ax.plot(
        [x],
        [y],
        marker="o",
        markersize=7.0,
        color=style.TEXT,
        markeredgecolor=style.PAPER,
        markeredgewidth=1.2,
        zorder=9,
        gid="boat",
    )


def contact_stroke(
    ax: Axes, x: FloatArray, y: FloatArray, width_pt: float, gid: str, zorder: float = 6.0
) -> None:
    """A stroke in the ink of light contact.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Axes to draw into [-].
    x, y : ndarray, shape (n,)
        Points, in data of the axes [-].
    width_pt : float
        Width with casing [pt].
    gid : str
        Name of the stroke in the SVG [-].
    zorder : float
        Level of drawing [-].
    """
    for colour, width in ((style.CONTACT_CASING, width_pt), (style.CONTACT, width_pt - 2.0)):
        ax.plot(x, y, color=colour, linewidth=width, zorder=zorder, solid_capstyle="butt", gid=gid)


def stroke_half_px(width_pt: float) -> float:
    """Half of the width of a stroke.

    Parameters
    ----------
    width_pt : float
        Width [pt].
    """
    return 0.5 * width_pt * PT_PX
