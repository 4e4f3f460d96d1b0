"""Likelihoods of many observations multiplied, each line's diameter error averaged out."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.likelihood import DIAMETER_WEIGHTS

FloatArray = npt.NDArray[np.float64]
SingleArray = npt.NDArray[np.float32]


class ObservationProduct:
    """Product of likelihoods, grown by one observation at a time.

    Observations on one line share the error of its diameter: they are
    multiplied node by node of that error, and the nodes are averaged last.
    Every result is up to a factor.

    Parameters
    ----------
    lines : sequence of str
        The line of each observation [-].
    shape : tuple of int
        Shape of the grid [-].
    """

    def __init__(self, lines: Sequence[str], shape: tuple[int, ...]) -> None:
        self._lines = list(lines)
        self._by_node = {
            line: np.ones((DIAMETER_WEIGHTS.size, *shape)) for line in dict.fromkeys(lines)
        }
        self._averaged = {line: np.ones(shape) for line in self._by_node}
        self._ones = np.ones(shape)

    def add(self, index: int, like: SingleArray) -> None:
        """Multiply one observation in.

        Parameters
        ----------
        index : int
            Which observation [-].
        like : ndarray, shape (5, ...)
            Its likelihood by node of the diameter error [m-1 or -].
        """
        line = self._lines[index]
        nodes = self._by_node[line]
        nodes *= like
        nodes /= nodes.max()
        self._averaged[line] = _average(nodes)

    def all(self) -> FloatArray:
        """Product of all that were added, shape of the grid [-]."""
        return self._rest_of(None)

    def with_and_without(self, index: int, like: SingleArray) -> tuple[FloatArray, FloatArray]:
        """Products with and without one observation that was added, in one scale.

        Parameters
        ----------
        index : int
            Which observation [-].
        like : ndarray, shape (5, ...)
            Its likelihood, above zero everywhere [m-1 or -].

        Returns
        -------
        with_it, without : ndarray, shape of the grid
            The two products, up to one common factor [-].
        """
        line = self._lines[index]
        rest = self._rest_of(line)
        return rest * self._averaged[line], rest * _average(self._by_node[line] / like)

    def _rest_of(self, left_out: str | None) -> FloatArray:
        total = self._ones
        for line, averaged in self._averaged.items():
            if line != left_out:
                total = total * averaged
                total = total / total.max()
        return total


def _average(nodes: FloatArray) -> FloatArray:
    return np.asarray(np.tensordot(DIAMETER_WEIGHTS, nodes, axes=1), dtype=np.float64)
