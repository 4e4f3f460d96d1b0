"""What lies under a cast: the bottom, and the grass that stands on it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import TechniqueError

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class GrassLayer:
    """Submersed vegetation along a cast: not a floor, a layer that can foul.

    Parameters
    ----------
    x_m : ndarray, shape (n,)
        Distances from the rod tip at the start, rising [m].
    top_depth_m : ndarray, shape (n,)
        Depth of the top of the grass below the surface; where it is at or
        below the bottom there is no grass [m].
    density : ndarray, shape (n,)
        Fraction of the ground covered, 0 (none) to 1 (closed) [-].
    """

    x_m: FloatArray
    top_depth_m: FloatArray
    density: FloatArray

    def __post_init__(self) -> None:
        _check_profile("grass", self.x_m, self.top_depth_m)
        if self.density.shape != self.x_m.shape:
            raise TechniqueError("density needs one value for each distance", "grass")
        if np.any((self.density < 0.0) | (self.density > 1.0)):
            raise TechniqueError("density is a fraction from 0 to 1", "grass")


@dataclass(frozen=True, slots=True)
class BottomProfile:
    """Depth of the bottom along a cast, piecewise linear between points.

    Beyond its ends the profile goes on level.

    Parameters
    ----------
    x_m : ndarray, shape (n,)
        Horizontal distances from the rod tip at the start toward the lure,
        strictly rising [m].
    depth_m : ndarray, shape (n,)
        Depth of the bottom below the surface, positive down [m].
    depth_se_m : ndarray, shape (n,), or None
        Standard error of the depth; None where it is not known [m].
    grass : GrassLayer or None
        Grass on that bottom [-].
    friction : float
        Coefficient of friction between lure and bottom [-].

    Raises
    ------
    TechniqueError
        The arrays do not make a profile.
    """

    x_m: FloatArray
    depth_m: FloatArray
    depth_se_m: FloatArray | None = None
    grass: GrassLayer | None = None
    friction: float = 0.0

    def __post_init__(self) -> None:
        _check_profile("bottom", self.x_m, self.depth_m)
        if np.any(self.depth_m < 0.0):
            raise TechniqueError(
                "the bottom stands out of the water", "bottom", "Cast only over water"
            )
        if self.depth_se_m is not None and self.depth_se_m.shape != self.x_m.shape:
            raise TechniqueError("standard error needs one value for each distance", "bottom")
        if not 0.0 <= self.friction <= 2.0:
            raise TechniqueError("friction is outside 0 to 2", "friction")

    @classmethod
    def flat(cls, depth_m: float, friction: float = 0.0) -> BottomProfile:
        """Level bottom of one depth.

        Parameters
        ----------
        depth_m : float
            Depth of the bottom [m].
        friction : float
            Coefficient of friction [-].
        """
        return cls(np.array([0.0, 1.0]), np.array([depth_m, depth_m]), friction=friction)

    def depth_at(self, x_m: FloatArray | float) -> FloatArray:
        """Depth of the bottom at distances from the rod tip.

        Parameters
        ----------
        x_m : float or ndarray
            Distances from the rod tip at the start [m].
        """
        return np.asarray(np.interp(x_m, self.x_m, self.depth_m), dtype=np.float64)


def _check_profile(name: str, x_m: FloatArray, depth_m: FloatArray) -> None:
    if x_m.ndim != 1 or x_m.shape != depth_m.shape or x_m.size < 2:
        raise TechniqueError("needs at least two points, one depth for each distance", name)
    if not (np.all(np.isfinite(x_m)) and np.all(np.isfinite(depth_m))):
        raise TechniqueError("has a value that is not a number", name)
    if np.any(np.diff(x_m) <= 0.0):
        raise TechniqueError("distances must rise strictly", name)
