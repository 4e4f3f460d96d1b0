"""How much of an edge is covered: nothing counts twice, however often it is fished.

The edge is cut into cells. A cast covers a cell with a chance; a cell is covered once any
cast has. What a set of casts covers in expectation,

    f(S) = sum over cells of  weight (1 - product over S of (1 - chance)),

grows with S, and by less the more is in S already (it is monotone and submodular), which is
what makes greedy choice good and bounds provable (Nemhauser, Wolsey & Fisher 1978, Math.
Program. 14:265-294). Chances of different casts count as independent.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.sparse import csr_array

from leadsman.errors import PlanError

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Coverage:
    """Which cells casts may cover.

    Parameters
    ----------
    weight : ndarray, shape (cells,)
        What each cell is worth, such as its length [m].
    chance : scipy.sparse.csr_array, shape (casts, cells)
        Chance that each cast covers each cell [-].

    Raises
    ------
    PlanError
        The shapes differ, a weight is negative or a chance is outside 0 to 1.
    """

    weight: FloatArray
    chance: csr_array

    def __post_init__(self) -> None:
        if self.chance.shape[1] != self.weight.size:
            raise PlanError("cells and chances do not fit", "coverage")
        data = self.chance.data
        if np.any(self.weight < 0.0) or (data.size and (data.min() < 0.0 or data.max() > 1.0)):
            raise PlanError("weights are at least 0 and chances from 0 to 1", "coverage")

    @property
    def casts(self) -> int:
        """Number of casts [-]."""
        return int(self.chance.shape[0])

    def nothing(self) -> FloatArray:
        """Chance of each cell of being uncovered before the first cast, shape (cells,) [-]."""
        return np.ones(self.weight.size)

    def after(self, uncovered: FloatArray, cast: int) -> FloatArray:
        """Chance of each cell of being uncovered after one more cast.

        Parameters
        ----------
        uncovered : ndarray, shape (cells,)
            The same before it [-].
        cast : int
            The cast [-].
        """
        first, last = self.chance.indptr[cast], self.chance.indptr[cast + 1]
        left = uncovered.copy()
        left[self.chance.indices[first:last]] *= 1.0 - self.chance.data[first:last]
        return left

    def uncovered(self, casts: Iterable[int]) -> FloatArray:
        """Chance of each cell of being uncovered after some casts, shape (cells,) [-].

        Parameters
        ----------
        casts : iterable of int
            The casts [-].
        """
        left = self.nothing()
        for cast in casts:
            left = self.after(left, cast)
        return left

    def covered(self, casts: Iterable[int]) -> float:
        """What some casts cover in expectation, nothing counted twice.

        Parameters
        ----------
        casts : iterable of int
            The casts [-].

        Returns
        -------
        float
            In the unit of the weights [m].
        """
        return float(self.weight @ (1.0 - self.uncovered(casts)))

    def gains(self, uncovered: FloatArray) -> FloatArray:
        """What each cast would add, shape (casts,), in the unit of the weights [m].

        Parameters
        ----------
        uncovered : ndarray, shape (cells,)
            Chance of each cell of being uncovered so far [-].
        """
        return np.asarray(self.chance @ (self.weight * uncovered), dtype=np.float64)

    def rows(self, casts: npt.ArrayLike) -> Coverage:
        """The same cells with some of the casts only.

        Parameters
        ----------
        casts : sequence of int
            Which, in the order wanted [-].
        """
        return Coverage(self.weight, csr_array(self.chance[np.asarray(casts, dtype=np.int64)]))
