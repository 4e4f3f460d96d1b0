"""Lines with no more points than can be seen."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

SEEN_PX = 0.3
"""Points nearer than this to the thinned line are left out [px]; a third of a pixel cannot be
seen, own choice."""


def thinned(points: FloatArray, tolerance: float) -> FloatArray:
    """A line without the points that lie within a tolerance of the rest.

    Parameters
    ----------
    points : ndarray, shape (n, 2)
        The line [unit of length].
    tolerance : float
        Greatest distance of a point left out from the line that stays [unit of length].

    Returns
    -------
    ndarray, shape (m, 2)
        The line, with its ends (Douglas and Peucker 1973, as shapely does it) [unit of length].
    """
    from shapely import LineString, get_coordinates

    if len(points) < 3 or not tolerance > 0.0:
        return points
    line = LineString(points).simplify(tolerance, preserve_topology=False)
    return np.asarray(get_coordinates(line), dtype=np.float64)


def thinned_ring(points: FloatArray, tolerance: float) -> FloatArray:
    """A ring without the points that lie within a tolerance of the rest.

    Parameters
    ----------
    points : ndarray, shape (n, 2)
        The ring, its last point joined to its first [unit of length].
    tolerance : float
        Greatest distance of a point left out from the ring that stays [unit of length].

    Returns
    -------
    ndarray, shape (m, 2)
        The ring; whole if it would come to fewer than three points [unit of length].
    """
    closed = thinned(np.vstack((points, points[:1])), tolerance)
    return closed[:-1] if len(closed) > 3 else points
