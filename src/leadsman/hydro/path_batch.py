"""Paths of many retrieves side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import TechniqueError
from leadsman.hydro.retrieve_result import Retrieve

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PathBatch:
    """Paths of many retrieves side by side, for the vectorised measures.

    Shorter paths are filled up by repeating their last sample, which adds no
    length and no time.

    Parameters
    ----------
    t_s : ndarray, shape (b, n)
        Time since each retrieve started [s].
    x_m : ndarray, shape (b, n)
        Horizontal position of the lure [m].
    depth_m : ndarray, shape (b, n)
        Depth of the lure [m].
    line_out_m : ndarray, shape (b, n)
        Unstretched line between tip and lure [m].
    pull_n : ndarray, shape (b, n)
        Line tension at the lure [N].
    load : ndarray, shape (b, n)
        Contact load, 0 where the lure runs free [-].
    line_touches : ndarray of bool, shape (b,)
        Whether the line itself touched the bottom [-].
    solved : ndarray of bool, shape (b,)
        Whether the physics could be computed; where not, nothing of that path counts [-].
    """

    t_s: FloatArray
    x_m: FloatArray
    depth_m: FloatArray
    line_out_m: FloatArray
    pull_n: FloatArray
    load: FloatArray
    line_touches: npt.NDArray[np.bool_]
    solved: npt.NDArray[np.bool_]

    def __len__(self) -> int:
        return int(self.x_m.shape[0])

    @property
    def max_depth_m(self) -> FloatArray:
        """Greatest depth of each path, shape (b,) [m]."""
        return np.asarray(self.depth_m.max(axis=1), dtype=np.float64)

    @classmethod
    def of(cls, retrieves: Sequence[Retrieve]) -> PathBatch:
        """Put retrieves side by side.

        Parameters
        ----------
        retrieves : sequence of Retrieve
            At least one retrieve [-].

        Raises
        ------
        TechniqueError
            There is no retrieve.
        """
        if not retrieves:
            raise TechniqueError("there is no retrieve to measure", "retrieve")
        n = max(max(r.x_m.size for r in retrieves), 2)

        def fill(arrays: list[FloatArray]) -> FloatArray:
            full = np.empty((len(arrays), n))
            for row, values in enumerate(arrays):
                full[row, : values.size] = values
                full[row, values.size :] = values[-1]
            return full

        return cls(
            t_s=fill([r.t_s for r in retrieves]),
            x_m=fill([r.x_m for r in retrieves]),
            depth_m=fill([r.depth_m for r in retrieves]),
            line_out_m=fill([r.line_out_m for r in retrieves]),
            pull_n=fill([r.pull_n for r in retrieves]),
            load=fill([r.load for r in retrieves]),
            line_touches=np.array([r.line_touches for r in retrieves], dtype=np.bool_),
            solved=np.ones(len(retrieves), dtype=np.bool_),
        )
