"""Pixels over a scene: where a place in the water lies on the picture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from leadsman.output.label_placement import Box, boxes_along
from leadsman.output.side_scene import SceneScale
from leadsman.output.side_view_types import FloatArray, SideView
from leadsman.output.style import Layout

if TYPE_CHECKING:
    from matplotlib.axes import Axes


@dataclass(frozen=True, slots=True)
class SceneFrame:
    """Axes whose data are pixels, laid over a scene.

    Parameters
    ----------
    ax : matplotlib.axes.Axes
        Pixel axes over the scene [-].
    scale : SceneScale
        Limits of the scene below [-].
    width_px, height_px : float
        Size of both [px].
    layout : Layout
        Width and type sizes [-].
    """

    ax: Axes
    scale: SceneScale
    width_px: float
    height_px: float
    layout: Layout

    def to_px(self, view: SideView, x_m: float, depth_m: float) -> tuple[float, float]:
        """Pixels of a place in the water, y upward.

        Parameters
        ----------
        view : SideView
            View whose units the scene is drawn in [-].
        x_m, depth_m : float
            The place [m].
        """
        s = self.scale
        x = (view.units.distance.value(x_m) - s.x_low) / (s.x_high - s.x_low)
        y = (s.y_bottom - view.units.depth.value(depth_m)) / (s.y_bottom - s.y_top)
        return x * self.width_px, y * self.height_px

    def curve_px(self, view: SideView, x_m: FloatArray, depth_m: FloatArray) -> list[Box]:
        """Boxes that cover a curve [px].

        Parameters
        ----------
        view : SideView
            View whose units the scene is drawn in [-].
        x_m, depth_m : ndarray, shape (n,)
            The curve [m].
        """
        points = [self.to_px(view, float(a), float(b)) for a, b in zip(x_m, depth_m, strict=True)]
        if len(points) < 2:
            return []
        xs, ys = (np.array(c) for c in zip(*points, strict=True))
        run = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(xs), np.diff(ys)))))
        even = np.arange(0.0, run[-1], 6.0)
        return boxes_along(
            np.interp(even, run, xs).tolist(), np.interp(even, run, ys).tolist(), 4.0
        )
