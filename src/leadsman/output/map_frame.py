"""A window of the lake on a rectangle of pixels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leadsman.output.map_view_types import DepthGrid, Window


@dataclass(frozen=True, slots=True)
class MapFrame:
    """A window of the lake on a rectangle of pixels, one scale both ways.

    Parameters
    ----------
    window : Window
        What is shown, grown to the shape of the rectangle [-].
    width_px, height_px : float
        The rectangle [px].
    """

    window: Window
    width_px: float
    height_px: float

    @property
    def m_per_px(self) -> float:
        """Metres in a pixel [m px-1]."""
        return (self.window.right_m - self.window.left_m) / self.width_px

    def to_px(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Pixels of a place, y upward.

        Parameters
        ----------
        x_m, y_m : float
            Easting and northing [m].
        """
        return (
            (x_m - self.window.left_m) / self.m_per_px,
            (y_m - self.window.bottom_m) / self.m_per_px,
        )


def map_frame(window: Window, width_px: float, low_px: float, high_px: float) -> MapFrame:
    """Grow a window to a rectangle of given width and bounded height.

    Parameters
    ----------
    window : Window
        What must be seen [-].
    width_px : float
        Width of the rectangle [px].
    low_px, high_px : float
        Bounds of its height [px].
    """
    across, up = window.right_m - window.left_m, window.top_m - window.bottom_m
    height_px = round(min(max(width_px * up / across, low_px), high_px))
    m_per_px = max(across / width_px, up / height_px)
    half_x, half_y = 0.5 * m_per_px * width_px, 0.5 * m_per_px * height_px
    x, y = 0.5 * (window.left_m + window.right_m), 0.5 * (window.bottom_m + window.top_m)
    grown = Window(x - half_x, y - half_y, x + half_x, y + half_y)
    return MapFrame(grown, width_px, height_px)


def whole_window(grid: DepthGrid) -> Window:
    """Window that holds all water of a grid with a small margin.

    Parameters
    ----------
    grid : DepthGrid
        The grid [-].
    """
    water = np.isfinite(grid.depth_m)
    xs = grid.x_m[np.any(water, axis=0)]
    ys = grid.y_m[np.any(water, axis=1)]
    span = max(float(np.ptp(xs)), float(np.ptp(ys)), 1.0)
    margin = 0.03 * span
    return Window(
        float(xs[0]) - margin, float(ys[0]) - margin, float(xs[-1]) + margin, float(ys[-1]) + margin
    )
