"""Belief about one lure as weights on the grid, exact to the grid's step."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.input_spread import TRIM_LOSS_MEAN_RAD_M2_S2, InputSpread
from leadsman.calibrate.parameter_grid import ParameterGrid
from leadsman.hydro.lure_forces import LureForces

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class DepthBand:
    """Middle and 90 % band of a depth.

    Parameters
    ----------
    low_m, middle_m, high_m : float
        5 %, 50 % and 95 % quantiles [m].
    """

    low_m: float
    middle_m: float
    high_m: float

    @property
    def width_m(self) -> float:
        """Full width of the band [m]."""
        return self.high_m - self.low_m


@dataclass(frozen=True, slots=True)
class DragBelief:
    """What is believed of the factor on the line's C_n, shared by all lures.

    Parameters
    ----------
    log_mean : float
        Mean of ln of the factor [-].
    log_sd : float
        Standard deviation of ln of the factor [-].
    weight : ndarray, shape (DRAG_NODES,)
        Weights at the nodes of the grid, summing to 1 [-].
    """

    log_mean: float
    log_sd: float
    weight: FloatArray

    @classmethod
    def of(cls, log_drag: FloatArray, weight: FloatArray) -> DragBelief:
        """Belief from weights at nodes.

        Parameters
        ----------
        log_drag, weight : ndarray, shape (DRAG_NODES,)
            Nodes and weights, in any scale [-].
        """
        share = weight / weight.sum()
        mean = float(share @ log_drag)
        # a node stands for its cell, whose own spread counts once the belief is that narrow
        own = (log_drag[1] - log_drag[0]) ** 2 / 12.0
        return cls(mean, math.sqrt(float(share @ (log_drag - mean) ** 2) + own), share)

    def learned(self, spread: InputSpread) -> InputSpread:
        """Spread of inputs in which the drag of the line is the learned one.

        Parameters
        ----------
        spread : InputSpread
            Spread of everything but the lure [-].
        """
        return replace(
            spread,
            normal_centre=math.exp(self.log_mean),
            normal_log_sd=self.log_sd,
            vibration_rise_mean=0.0,
        )


@dataclass(frozen=True, slots=True)
class GridBelief:
    """Belief about a lure: weights over drag factor, dive angle and pull area.

    It draws as `leadsman.calibrate.input_spread.LureBelief` asks.

    Parameters
    ----------
    grid : ParameterGrid
        Axes [-].
    weight : ndarray, shape (DRAG_NODES, ANGLE_NODES, AREA_NODES)
        Weights, summing to 1 [-].
    centre : LureForces
        Means of the two numbers with the lure's mass and buoyancy [-].
    buoyancy_sd_n : float
        Standard deviation of the net buoyancy [N].
    trim_loss_mean_rad_m2_s2 : float
        Mean of the exponential spread of c [rad m2 s-2].
    """

    grid: ParameterGrid
    weight: FloatArray
    centre: LureForces
    buoyancy_sd_n: float
    trim_loss_mean_rad_m2_s2: float = TRIM_LOSS_MEAN_RAD_M2_S2

    @classmethod
    def of(
        cls, grid: ParameterGrid, weight: FloatArray, forces: LureForces, buoyancy_sd_n: float
    ) -> GridBelief:
        """Belief from weights in any scale.

        Parameters
        ----------
        grid : ParameterGrid
            Axes [-].
        weight : ndarray, shape (DRAG_NODES, ANGLE_NODES, AREA_NODES)
            Weights [-].
        forces : LureForces
            Mass and buoyancy [-].
        buoyancy_sd_n : float
            Standard deviation of the net buoyancy [N].
        """
        share = weight / weight.sum()
        angle = float(share.sum(axis=(0, 2)) @ grid.angle_rad)
        log_area = float(share.sum(axis=(0, 1)) @ grid.log_area)
        centre = replace(forces, dive_angle_rad=angle, pull_area_m2=math.exp(log_area))
        return cls(grid, share, centre, buoyancy_sd_n)

    @property
    def dive_angle_sd_rad(self) -> float:
        """Standard deviation of the dive angle [rad]."""
        share = self.weight.sum(axis=(0, 2))
        return float(np.sqrt(share @ (self.grid.angle_rad - self.centre.dive_angle_rad) ** 2))

    @property
    def log_pull_area_sd(self) -> float:
        """Standard deviation of ln pull area [-]."""
        share = self.weight.sum(axis=(0, 1))
        mean = math.log(self.centre.pull_area_m2)
        return float(np.sqrt(share @ (self.grid.log_area - mean) ** 2))

    @property
    def correlation(self) -> float:
        """Correlation of dive angle and ln pull area [-]."""
        share = self.weight.sum(axis=0)
        a = self.grid.angle_rad - self.centre.dive_angle_rad
        b = self.grid.log_area - math.log(self.centre.pull_area_m2)
        return float(a @ share @ b) / (self.dive_angle_sd_rad * self.log_pull_area_sd)

    def draw(self, scores: FloatArray, log_drag: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Dive angles [rad] and pull areas [m2] for normal scores and given drag.

        Parameters
        ----------
        scores : ndarray, shape (n, 2)
            Independent standard normal scores [-].
        log_drag : ndarray, shape (n,)
            ln of the factor on C_n of each draw [-].

        Returns
        -------
        dive_angle_rad, pull_area_m2 : ndarray, shape (n,)
            Draws [rad], [m2].
        """
        chance = np.array([0.5 * math.erfc(-s / math.sqrt(2.0)) for s in scores.ravel().tolist()])
        chance = chance.reshape(scores.shape)
        nodes = self.grid.log_drag
        place = np.clip((log_drag - nodes[0]) / (nodes[1] - nodes[0]), 0.0, nodes.size - 1.001)
        below = place.astype(np.int64)
        share = place - below
        # the same scores at the drag's two neighbouring nodes, blended
        low = self._draw_at(below, chance)
        high = self._draw_at(below + 1, chance)
        angle = (1.0 - share) * low[0] + share * high[0]
        log_area = (1.0 - share) * low[1] + share * high[1]
        return angle, np.exp(log_area)

    def _draw_at(
        self, node: npt.NDArray[np.int64], chance: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        angle = np.empty(node.size)
        log_area = np.empty(node.size)
        for k in np.unique(node).tolist():
            rows = np.flatnonzero(node == k)
            table = self.weight[k]
            if table.sum() < 1e-12:  # no belief there: take the whole's shape
                table = self.weight.sum(axis=0)
            angle[rows] = _inverse(self.grid.angle_rad, table.sum(axis=1), chance[rows, 0])
            at = np.abs(self.grid.angle_rad[:, None] - angle[rows]).argmin(axis=0)
            for row, i in zip(rows.tolist(), at.tolist(), strict=True):
                strip = table[i] if table[i].sum() > 0.0 else table.sum(axis=0)
                log_area[row] = _inverse(self.grid.log_area, strip, chance[row : row + 1, 1])[0]
        return angle, log_area


def _inverse(nodes: FloatArray, weight: FloatArray, chance: FloatArray) -> FloatArray:
    """Quantiles of weights at nodes, each weight spread evenly over its cell."""
    edges = np.concatenate(
        ([1.5 * nodes[0] - 0.5 * nodes[1]], 0.5 * (nodes[1:] + nodes[:-1]), [nodes[-1]])
    )
    total = np.concatenate(([0.0], np.cumsum(weight)))
    rising = total + 1e-12 * total[-1] * np.arange(total.size)
    return np.asarray(np.interp(chance * rising[-1], rising, edges), dtype=np.float64)


class SortedDepth:
    """Quantiles of one depth under many sets of weights, sorted once.

    Parameters
    ----------
    depth_m : ndarray
        Depth of every cell of the grid [m].
    """

    def __init__(self, depth_m: FloatArray) -> None:
        flat = depth_m.ravel()
        self._order = np.argsort(flat)
        self._sorted = flat[self._order]

    def band(self, weight: FloatArray) -> DepthBand:
        """Middle and 90 % band under weights.

        Parameters
        ----------
        weight : ndarray
            Weight of every cell, in any scale, shape as the depth's [-].
        """
        total = np.cumsum(weight.ravel()[self._order])
        middle = total - 0.5 * weight.ravel()[self._order]
        low, mid, high = np.interp(np.array([0.05, 0.5, 0.95]) * total[-1], middle, self._sorted)
        return DepthBand(float(low), float(mid), float(high))
