"""What a retrieve came to: the running depth as a curve, with its loads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Retrieve:
    """The path of the lure through one retrieve.

    Samples run from the end of the cast to the rod tip.

    Parameters
    ----------
    t_s : ndarray, shape (n,)
        Time since the retrieve started [s].
    x_m : ndarray, shape (n,)
        Horizontal position of the lure, from the place of the rod tip at the
        start, toward the lure positive, fixed to the ground [m].
    depth_m : ndarray, shape (n,)
        Depth of the lure below the surface [m].
    line_out_m : ndarray, shape (n,)
        Unstretched line between tip and lure [m].
    pull_n : ndarray, shape (n,)
        Line tension at the lure [N].
    tip_pull_n : ndarray, shape (n,)
        Line tension at the rod tip [N].
    normal_force_n : ndarray, shape (n,)
        Force of the bottom on the lure along the bottom's normal; 0 where it
        runs free [N].
    line_touches : bool
        True if anywhere the line itself went below the bottom between tip and
        lure, which is detected and not solved [-].
    grounded : bool
        True if the retrieve ended where the bottom meets the surface, or with the
        lure stuck before a wall [-].
    """

    t_s: FloatArray
    x_m: FloatArray
    depth_m: FloatArray
    line_out_m: FloatArray
    pull_n: FloatArray
    tip_pull_n: FloatArray
    normal_force_n: FloatArray
    line_touches: bool = False
    grounded: bool = False

    @property
    def max_depth_m(self) -> float:
        """Greatest depth reached [m]."""
        return float(np.max(self.depth_m))

    @property
    def load(self) -> FloatArray:
        """Contact load, normal force over line tension at the lure, shape (n,) [-].

        At most 10, which stands for a lure that lies on the bottom under slack line.
        """
        return np.minimum(self.normal_force_n / np.maximum(self.pull_n, 1e-9), 10.0)

    @property
    def first_contact_index(self) -> int | None:
        """Index of the first sample in contact with the bottom; None if there is none [-]."""
        touching = np.flatnonzero(self.normal_force_n > 0.0)
        return int(touching[0]) if touching.size else None
