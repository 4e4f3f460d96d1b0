"""The grid of dive angle, pull area and drag of the line on which beliefs are exact.

Depth is a smooth function of the three, so that it is solved at few nodes and
carried to the fine grid by local cubics; own derivation, see docs/calibration.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

ANGLE_MOST_RAD = math.radians(60.0)
"""Steepest dive angle of any grid [rad]."""
ANGLE_LEAST_RAD = math.radians(0.2)
"""Smallest dive angle of any grid [rad]."""
ANGLE_NODES, AREA_NODES, DRAG_NODES = 140, 41, 11
"""Nodes of the fine grid [-]."""
ANGLE_SOLVED, AREA_SOLVED, DRAG_SOLVED = 13, 5, 3
"""Nodes at which retrieves are solved [-]."""
AREA_HALF_WIDTH = 1.4
"""How far ln S_D reaches from its centre, 3.5 spreads of what size says [-]."""
LOG_DRAG_LOW, LOG_DRAG_HIGH = -0.25, 0.45
"""Ends of ln of the factor on C_n [-]."""


@dataclass(frozen=True, slots=True)
class ParameterGrid:
    """Axes of the fine grid and of the nodes that are solved.

    Arrays over the fine grid have the shape ``(drag, angle, area)``.

    Parameters
    ----------
    angle_low_rad, angle_high_rad : float
        Ends of the axis of the dive angle, which is even in its square root [rad].
    log_area_centre : float
        Middle of the axis of ln S_D, S_D in m2 [-].
    """

    angle_low_rad: float
    angle_high_rad: float
    log_area_centre: float

    @classmethod
    def around(cls, angle_rad: float, pull_area_m2: float) -> ParameterGrid:
        """Grid wide enough for a lure whose first figures are badly off.

        Parameters
        ----------
        angle_rad : float
            First figure of the dive angle [rad].
        pull_area_m2 : float
            First figure of the pull area [m2].
        """
        low = max(0.2 * angle_rad, ANGLE_LEAST_RAD)
        high = min(2.2 * angle_rad + math.radians(10.0), ANGLE_MOST_RAD)
        return cls(low, high, math.log(pull_area_m2))

    def _roots(self, nodes: int) -> FloatArray:
        return np.linspace(math.sqrt(self.angle_low_rad), math.sqrt(self.angle_high_rad), nodes)

    @property
    def angle_rad(self) -> FloatArray:
        """Dive angles, shape (ANGLE_NODES,) [rad]."""
        return self._roots(ANGLE_NODES) ** 2

    @property
    def angle_weight(self) -> FloatArray:
        """Width of each angle's cell, shape (ANGLE_NODES,), up to a factor [-]."""
        return self._roots(ANGLE_NODES)

    @property
    def log_area(self) -> FloatArray:
        """Ln S_D, shape (AREA_NODES,) [-]."""
        half = AREA_HALF_WIDTH
        return self.log_area_centre + np.linspace(-half, half, AREA_NODES)

    @property
    def log_drag(self) -> FloatArray:
        """Ln of the factor on C_n, shape (DRAG_NODES,) [-]."""
        return np.linspace(LOG_DRAG_LOW, LOG_DRAG_HIGH, DRAG_NODES)

    @property
    def solved_angle_rad(self) -> FloatArray:
        """Dive angles that are solved, shape (ANGLE_SOLVED,) [rad]."""
        return self._roots(ANGLE_SOLVED) ** 2

    @property
    def solved_log_area(self) -> FloatArray:
        """Ln S_D that are solved, shape (AREA_SOLVED,) [-]."""
        half = AREA_HALF_WIDTH
        return self.log_area_centre + np.linspace(-half, half, AREA_SOLVED)

    @property
    def solved_log_drag(self) -> FloatArray:
        """Ln of the factor on C_n that are solved, shape (DRAG_SOLVED,) [-]."""
        return np.linspace(LOG_DRAG_LOW, LOG_DRAG_HIGH, DRAG_SOLVED)

    def refine(self, solved: FloatArray) -> FloatArray:
        """Carry values from the solved nodes to the fine grid.

        Parameters
        ----------
        solved : ndarray, shape (DRAG_SOLVED, ANGLE_SOLVED, AREA_SOLVED)
            Values at the solved nodes [any].

        Returns
        -------
        ndarray, shape (DRAG_NODES, ANGLE_NODES, AREA_NODES)
            Values on the fine grid [any].
        """
        out = np.einsum("id,dab->iab", lagrange(DRAG_SOLVED, DRAG_NODES, 3), solved)
        out = np.einsum("ja,iab->ijb", lagrange(ANGLE_SOLVED, ANGLE_NODES, 4), out)
        return np.asarray(np.einsum("kb,ijb->ijk", lagrange(AREA_SOLVED, AREA_NODES, 4), out))


@lru_cache(maxsize=32)
def lagrange(coarse: int, fine: int, points: int) -> FloatArray:
    """Matrix of local Lagrange interpolation between even grids with common ends.

    Parameters
    ----------
    coarse, fine : int
        Nodes of the two grids [-].
    points : int
        Neighbouring coarse nodes that each value is made of [-].

    Returns
    -------
    ndarray, shape (fine, coarse)
        Weights, each row summing to 1 [-].
    """
    points = min(points, coarse)
    matrix = np.zeros((fine, coarse))
    for row, place in enumerate(np.linspace(0.0, coarse - 1.0, fine)):
        first = int(np.clip(math.floor(place) - (points - 1) // 2, 0, coarse - points))
        nodes = range(first, first + points)
        for i in nodes:
            weight = 1.0
            for j in nodes:
                if j != i:
                    weight *= (place - j) / (i - j)
            matrix[row, i] = weight
    matrix.setflags(write=False)
    return matrix
