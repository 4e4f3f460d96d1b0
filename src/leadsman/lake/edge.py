"""A depth contour as lines to fish along, with how sure their place is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.soundings import FloatArray

STEP_M = 5.0
"""Spacing of the places along a line [m]."""
MIN_LENGTH_M = 60.0
"""Shorter lines are left out [m]: less than one long cast; a choice of ours."""
SMOOTH_CELLS = 0.8
"""Standard deviation of the smoothing before contours are drawn [cell]: enough against the steps
of the cells, too little to move a line at the brink of a drop."""
MAX_POSITION_SE_M = 200.0
"""On a flat a contour lies anywhere; no wider error than this is stated [m]."""
PROBE_M = 10.0
"""Half-length over which the slope across a line is taken [m]."""


@dataclass(frozen=True, slots=True)
class EdgeLine:
    """One line of equal depth, in steps of equal length.

    Parameters
    ----------
    frame : MetricFrame
        Frame of the places [-].
    x_m, y_m : ndarray, shape (n,)
        Places along the line [m].
    along_m : ndarray, shape (n,)
        Distance along it from its first place [m].
    depth_m : float
        Depth below the surface of the day [m].
    closed : bool
        Whether it ends where it began [-].
    to_deep_x, to_deep_y : ndarray, shape (n,)
        Unit vector across the line toward deeper water [-].
    slope : ndarray, shape (n,)
        Steepness of the bottom across the line [m m-1].
    depth_se_m : ndarray, shape (n,)
        Standard error of the depth: of the map, and of the depth at which
        the grass stops [m].
    position_se_m : ndarray, shape (n,)
        Standard error of the line's place, across it [m].
    """

    frame: MetricFrame
    x_m: FloatArray
    y_m: FloatArray
    along_m: FloatArray
    depth_m: float
    closed: bool
    to_deep_x: FloatArray
    to_deep_y: FloatArray
    slope: FloatArray
    depth_se_m: FloatArray
    position_se_m: FloatArray

    @property
    def length_m(self) -> float:
        """Length of the line [m]."""
        return float(self.along_m[-1])

    def lonlat(self) -> tuple[FloatArray, FloatArray]:
        """Longitude and latitude of the places, each of shape (n,) [deg]."""
        return self.frame.to_lonlat(self.x_m, self.y_m)

    def side(self, offset_se: float) -> tuple[FloatArray, FloatArray]:
        """The line moved toward deep water by a number of its own standard errors.

        Parameters
        ----------
        offset_se : float
            How many; 1.645 and -1.645 bound the 90 % band [-].

        Returns
        -------
        tuple of ndarray, shape (n,)
            Places in the frame [m].
        """
        shift = offset_se * self.position_se_m
        return self.x_m + shift * self.to_deep_x, self.y_m + shift * self.to_deep_y


def edge_lines(
    model: BottomModel,
    depth_m: float,
    depth_se_m: float = 0.0,
    level_m: float = 0.0,
    min_length_m: float = MIN_LENGTH_M,
) -> tuple[EdgeLine, ...]:
    """Lines where the bottom has a depth, longest first.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    depth_m : float
        Depth below the surface of the day [m].
    depth_se_m : float
        Standard error of that depth itself, such as of where grass stops [m].
    level_m : float
        Water level now above the model's reference [m].
    min_length_m : float
        Shorter lines are left out [m].

    Returns
    -------
    tuple of EdgeLine
        The lines.

    Raises
    ------
    LakeDataError
        The lake has no such depth.
    """
    import contourpy

    if not 0.0 < depth_m < 400.0:
        raise LakeDataError(f"{depth_m:.4g} m is no depth to follow", "edge depth")
    smooth = smoothed(model, SMOOTH_CELLS * model.lattice.cell_m)
    generator = contourpy.contour_generator(
        model.lattice.x_m, model.lattice.y_m, np.ma.masked_invalid(smooth.depth_m), corner_mask=True
    )
    lines: list[EdgeLine] = []
    for raw in generator.lines(depth_m - level_m):
        xy = np.asarray(raw, dtype=np.float64)
        line = _line(model, smooth, xy, depth_m, depth_se_m, min_length_m)
        if line is not None:
            lines.append(line)
    if not lines:
        low, high = float(np.nanmin(model.depth_m)), float(np.nanmax(model.depth_m))
        raise LakeDataError(
            f"no line of {depth_m:.2f} m depth is longer than {min_length_m:.0f} m; the map goes "
            f"from {max(low + level_m, 0.0):.1f} to {high + level_m:.1f} m",
            model.name,
            "Choose another depth",
        )
    return tuple(sorted(lines, key=lambda line: -line.length_m))


def smoothed(model: BottomModel, sigma_m: float) -> BottomModel:
    """The same bottom with ripples narrower than a scale taken out.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    sigma_m : float
        Standard deviation of the smoothing [m].
    """
    from dataclasses import replace

    from scipy.ndimage import gaussian_filter

    sigma = sigma_m / model.lattice.cell_m
    known = np.isfinite(model.depth_m)
    total = gaussian_filter(np.where(known, model.depth_m, 0.0).astype(np.float64), sigma)
    weight = gaussian_filter(known.astype(np.float64), sigma)
    with np.errstate(invalid="ignore", divide="ignore"):
        depth = np.where(known, total / weight, np.nan).astype(np.float32)
    return replace(model, depth_m=depth)


def _line(
    model: BottomModel,
    smooth: BottomModel,
    xy: FloatArray,
    depth_m: float,
    depth_se_m: float,
    min_length_m: float,
) -> EdgeLine | None:
    """A contour in equal steps with what is beside it; None where it is too short."""
    piece = np.hypot(*np.diff(xy, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(piece)])
    length = float(along[-1])
    if length < min_length_m or xy.shape[0] < 3:
        return None
    closed = bool(np.all(xy[0] == xy[-1]))
    at = np.linspace(0.0, length, max(round(length / STEP_M), 8) + 1)
    x, y = np.interp(at, along, xy[:, 0]), np.interp(at, along, xy[:, 1])
    slope_x, slope_y = _gradient(smooth, x, y)
    slope = np.hypot(slope_x, slope_y)
    safe = np.maximum(slope, 1e-6)
    _, se = model.sample(x, y)
    se = np.hypot(np.nan_to_num(se, nan=float(np.nanmax(model.se_m))), depth_se_m)
    position = np.minimum(se / safe, MAX_POSITION_SE_M)
    return EdgeLine(
        model.lattice.frame, x, y, at, depth_m, closed, slope_x / safe, slope_y / safe, slope, se,
        position,
    )  # fmt: skip


def _gradient(model: BottomModel, x: FloatArray, y: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Slope of depth eastward and northward, one-sided where the map ends."""
    here, _ = model.sample(x, y)
    parts: list[FloatArray] = []
    for dx, dy in ((PROBE_M, 0.0), (0.0, PROBE_M)):
        ahead, _ = model.sample(x + dx, y + dy)
        behind, _ = model.sample(x - dx, y - dy)
        both = (ahead - behind) / (2.0 * PROBE_M)
        one = np.where(np.isfinite(ahead), ahead - here, here - behind) / PROBE_M
        parts.append(np.nan_to_num(np.where(np.isfinite(both), both, one)))
    return parts[0], parts[1]
