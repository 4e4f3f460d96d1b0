"""Which part of a lake was sounded, and how well: the coverage map of a quality report."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leadsman.lake.bottom_model import BottomModel, Float32Array
from leadsman.lake.lattice import Lattice
from leadsman.lake.soundings import Soundings

STEPS_M = (10.0, 25.0, 50.0, 100.0)
"""Distances to the nearest sounding that a report tells of [m]."""


@dataclass(frozen=True, slots=True)
class Coverage:
    """How far each cell of a map is from the nearest sounding.

    Parameters
    ----------
    lattice : Lattice
        The cells [-].
    distance_m : ndarray of float32, shape (ny, nx)
        Distance to the nearest sounding, NaN off the map [m].
    """

    lattice: Lattice
    distance_m: Float32Array

    def share_within(self, distance_m: float) -> float:
        """Share of the map that is no farther than this from a sounding, 0 to 1.

        Parameters
        ----------
        distance_m : float
            The distance [m].
        """
        known = self.distance_m[np.isfinite(self.distance_m)]
        return float(np.mean(known <= distance_m)) if known.size else 0.0

    def summary(self) -> str:
        """One sentence on how well the map is sounded."""
        parts = [f"{100.0 * self.share_within(step):.0f} % within {step:.0f} m" for step in STEPS_M]
        return f"Of the map {', '.join(parts)} of a sounding"


def coverage_of(model: BottomModel, soundings: Sequence[Soundings]) -> Coverage:
    """Coverage of a map by soundings.

    Parameters
    ----------
    model : BottomModel
        The map [-].
    soundings : sequence of Soundings
        What it was made from [-].

    Returns
    -------
    Coverage
        Distances to the nearest sounding.
    """
    from scipy.ndimage import distance_transform_edt

    lattice = model.lattice
    empty = np.ones(lattice.shape, dtype=bool)
    for one in soundings:
        x, y = lattice.frame.to_metric(one.lon_deg, one.lat_deg)
        with np.errstate(invalid="ignore"):
            col = np.rint((x - lattice.x0_m) / lattice.cell_m)
            row = np.rint((y - lattice.y0_m) / lattice.cell_m)
            inside = (col >= 0) & (row >= 0) & (col < lattice.nx) & (row < lattice.ny)
        empty[row[inside].astype(np.int64), col[inside].astype(np.int64)] = False
    if np.all(empty):
        distance = np.full(lattice.shape, np.inf)
    else:
        distance = np.asarray(distance_transform_edt(empty), dtype=np.float64) * lattice.cell_m
    distance[~np.isfinite(model.depth_m)] = np.nan
    return Coverage(lattice, distance.astype(np.float32))
