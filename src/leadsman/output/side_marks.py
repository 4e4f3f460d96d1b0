"""Signs on a side view: rod tip, place where the cast lands, direction of the retrieve."""

from __future__ import annotations

import numpy as np

from leadsman.output import style
from leadsman.output.scene_frame import SceneFrame
from leadsman.output.side_scene import TIP_PX
from leadsman.output.side_view_types import SideView


def draw_direction(frame: SceneFrame, view: SideView) -> None:
    """An arrowhead on the path, the way the lure is reeled.

    Parameters
    ----------
    frame : SceneFrame
        Where to draw [-].
    view : SideView
        What to draw [-].
    """
    points = np.array(
        [frame.to_px(view, float(a), float(b)) for a, b in zip(view.x_m, view.depth_m, strict=True)]
    )
    run = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
    free = run[view.load <= 0.0]
    if free.size < 2:
        return
    # In the free run off the cast, where there is always some length of plain line.
    first_touch = run[np.argmax(view.load > 0.0)] if np.any(view.load > 0.0) else run[-1]
    at = 0.45 * first_touch if first_touch > 40.0 else 0.5 * run[-1]
    tail, head = (
        (float(np.interp(s, run, points[:, 0])), float(np.interp(s, run, points[:, 1])))
        for s in (at - 8.0, at + 8.0)
    )
    frame.ax.annotate(
        "",
        head,
        tail,
        zorder=9,
        arrowprops={
            "arrowstyle": "-|>,head_width=0.42,head_length=0.8",
            "color": style.DEPTH,
            "linewidth": 2.0,
            "shrinkA": 0,
            "shrinkB": 0,
        },
    )


def tip_px(frame: SceneFrame, view: SideView, height_m: float) -> tuple[float, float]:
    """Pixels of the rod tip at a height, held within the picture.

    Parameters
    ----------
    frame : SceneFrame
        Where to draw [-].
    view : SideView
        What to draw [-].
    height_m : float
        Height of the tip, negative under water [m].
    """
    x, y = frame.to_px(view, 0.0, -height_m)
    return x, min(y, frame.height_px - TIP_PX)


def draw_tip(frame: SceneFrame, view: SideView) -> None:
    """The rod tip, filled at the start and open at the end, and where the cast lands.

    Parameters
    ----------
    frame : SceneFrame
        Where to draw [-].
    view : SideView
        What to draw [-].
    """
    _, surface = frame.to_px(view, 0.0, 0.0)
    for i, height_m in enumerate(view.tips_m):
        x, y = tip_px(frame, view, height_m)
        to_scale = abs(y - frame.to_px(view, 0.0, -height_m)[1]) < 0.5
        frame.ax.plot(
            [x, x],
            [surface, y],
            color=style.TEXT,
            linewidth=1.0,
            linestyle="-" if to_scale else (0, (2, 2)),
            zorder=9,
        )
        frame.ax.plot(
            [x],
            [y],
            marker="o",
            markersize=6.0,
            color=style.TEXT,
            markerfacecolor=style.TEXT if i == 0 else style.PAPER,
            zorder=10,
            gid="rod-tip",
        )
    start = int(np.argmin(np.abs(view.x_m - np.max(view.x_m))))
    x, y = frame.to_px(view, float(view.x_m[start]), float(view.depth_m[start]))
    frame.ax.plot(
        [x],
        [y],
        marker="v",
        markersize=8.0,
        markerfacecolor=style.PAPER,
        zorder=10,
        markeredgecolor=style.TEXT,
        markeredgewidth=1.4,
        gid="cast-lands",
    )
