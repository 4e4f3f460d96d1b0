"""How sharply a line of depth bends, at a stated scale."""

from __future__ import annotations

import numpy as np

from leadsman.lake.edge import EdgeLine
from leadsman.lake.soundings import FloatArray


def curvature(line: EdgeLine, scale_m: float) -> FloatArray:
    """Bend of a line after ripples shorter than a scale are taken out.

    The line is smoothed by a normal law with a standard deviation of a
    quarter of the scale along its length, which takes out what is shorter and
    keeps a circle of that radius (to exp(-1/32), 3 %).

    Parameters
    ----------
    line : EdgeLine
        The line [-].
    scale_m : float
        The scale [m].

    Returns
    -------
    ndarray, shape (n,)
        Positive where it bulges toward deep water [m-1].
    """
    from scipy.ndimage import gaussian_filter1d

    step = line.length_m / (line.along_m.size - 1)
    sigma = max(0.25 * scale_m / step, 0.5)
    # A closed line repeats its first place at its end.
    x, y = (line.x_m[:-1], line.y_m[:-1]) if line.closed else (line.x_m, line.y_m)
    pad = round(4.0 * sigma) + 2
    first: list[FloatArray] = []
    second: list[FloatArray] = []
    for values in (x, y):
        # Wrapped around where the line closes; mirrored through its ends where it does not.
        wide = np.pad(values, pad, mode="wrap") if line.closed else _through_ends(values, pad)
        smooth = np.asarray(gaussian_filter1d(wide, sigma), dtype=np.float64)
        slope = np.gradient(smooth, step)
        bend_of = np.gradient(slope, step)
        first.append(_fit(slope[pad:-pad], line.closed))
        second.append(_fit(bend_of[pad:-pad], line.closed))
    speed2 = np.maximum(first[0] ** 2 + first[1] ** 2, 1e-9)
    cross = first[0] * second[1] - first[1] * second[0]
    bend = cross / speed2**1.5
    # Left of the way is (-y', x'): where deep water lies left, a left bend is an inside turn.
    left_is_deep = -first[1] * line.to_deep_x + first[0] * line.to_deep_y > 0.0
    signed = np.where(left_is_deep, -bend, bend)
    if not line.closed:  # the ends of an open line bend by themselves
        blind = int(np.ceil(2.0 * sigma))
        signed[:blind] = 0.0
        signed[-blind:] = 0.0
    return np.asarray(signed, dtype=np.float64)


def _through_ends(values: FloatArray, pad: int) -> FloatArray:
    """A line carried on beyond its ends by its own mirror image through them."""
    pad_in = min(pad, values.size - 1)
    before = 2.0 * values[0] - values[pad_in:0:-1]
    after = 2.0 * values[-1] - values[-2 : -pad_in - 2 : -1]
    grown = np.concatenate([before, values, after])
    return np.pad(grown, pad - pad_in, mode="edge")


def _fit(values: FloatArray, closed: bool) -> FloatArray:
    """A closed line's first value again at its end."""
    return np.append(values, values[0]) if closed else values
