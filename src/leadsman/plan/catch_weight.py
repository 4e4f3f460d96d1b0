"""Expected weight of the best few legal fish of a day.

Bites come at random (a Poisson law), a share is landed, lengths follow a normal law. With K_w
landed legal fish heavier than w, the best N weigh together the integral over w of E[min(K_w, N)];
without exchanging fish the first N are kept, which weigh E[min(K_0, N)] times the mean legal
fish. Own derivation, see docs/plan.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.plan.day_types import Species

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

STANDARD_WEIGHT: dict[Species, tuple[float, float]] = {
    "largemouth": (-5.528, 3.273),
    "smallmouth": (-5.329, 3.200),
    "spotted": (-5.392, 3.215),
}
"""log10 of weight in grams is a + b log10 of total length in millimetres: standard weights, those
of fish in good condition (Henson 1991; Kolander et al. 1993; Wiens et al. 1996; all from memory).
Fish of one length differ by 10 to 20 %."""

GRID = 120
"""Weights at which the integral is taken [-]."""


@dataclass(frozen=True, slots=True)
class FishSizes:
    """Lengths of the fish, and what counts.

    Parameters
    ----------
    species : {"largemouth", "smallmouth", "spotted"}
        Fish [-].
    mean_m : tuple of float
        Mean length in each group of stretches [m].
    sd_m : float
        Standard deviation of lengths [m].
    least_m : float
        Least legal length; 0 for none [m].
    count : int
        How many fish count [-].
    culling : bool
        Whether a kept fish may be exchanged for a better one [-].
    landed : float
        Share of bites that are landed [-].

    Raises
    ------
    PlanError
        A number makes no sense.
    """

    species: Species
    mean_m: tuple[float, ...]
    sd_m: float
    least_m: float = 0.0
    count: int = 5
    culling: bool = True
    landed: float = 0.7

    def __post_init__(self) -> None:
        if not (self.sd_m > 0.0 and self.mean_m and min(self.mean_m) > 0.0):
            raise PlanError("lengths of fish must be above 0", "aim")
        if self.count < 1 or not 0.0 < self.landed <= 1.0 or self.least_m < 0.0:
            raise PlanError("the aim makes no sense", "aim")

    def weight_kg(self, length_m: FloatArray | float) -> FloatArray:
        """Standard weight of a length [kg].

        Parameters
        ----------
        length_m : float or ndarray
            Total length [m].
        """
        a, b = STANDARD_WEIGHT[self.species]
        mm = np.maximum(np.asarray(length_m, dtype=np.float64), 1e-6) * 1e3
        return np.asarray(10.0 ** (a + b * np.log10(mm)) * 1e-3)

    def length_grid_m(self) -> FloatArray:
        """Lengths at which the integral is taken, from the legal one up [m]."""
        top = max(self.mean_m) + 6.0 * self.sd_m
        return np.linspace(max(self.least_m, 0.02), max(top, self.least_m + 0.01), GRID)

    def longer(self, length_m: FloatArray) -> FloatArray:
        """Share of the fish of each group longer than each length, shape (groups, n) [-].

        Parameters
        ----------
        length_m : ndarray, shape (n,)
            Lengths [m].
        """
        from scipy.special import ndtr

        mean = np.array(self.mean_m)[:, None]
        return np.asarray(ndtr((mean - length_m[None, :]) / self.sd_m), dtype=np.float64)


def few(mean: FloatArray, count: int) -> FloatArray:
    """E[min(K, count)] of a Poisson number K [-].

    Parameters
    ----------
    mean : ndarray
        Mean of K [-].
    count : int
        How many count [-].
    """
    from scipy.special import pdtrc

    mean = np.asarray(mean, dtype=np.float64)
    below = np.zeros(mean.shape)
    for i in range(count):
        below += pdtrc(i, mean)  # chance of more than i
    return below


def expected_weight_kg(sizes: FishSizes, bites: FloatArray) -> FloatArray:
    """Expected weight of the fish that count.

    Parameters
    ----------
    sizes : FishSizes
        Lengths and what counts [-].
    bites : ndarray, shape (m, groups)
        Expected bites in each group of stretches [-].

    Returns
    -------
    ndarray, shape (m,)
        Weight [kg].
    """
    length = sizes.length_grid_m()
    weight = sizes.weight_kg(length)
    landed = sizes.landed * np.asarray(bites, dtype=np.float64)
    tail = landed @ sizes.longer(length)
    if not sizes.culling:
        legal = tail[:, 0]
        total = legal * weight[0] + _integral(tail, weight)
        mean = np.divide(total, legal, out=np.zeros_like(legal), where=legal > 0.0)
        return np.asarray(few(legal, sizes.count) * mean)
    table = np.concatenate([[0.0], np.geomspace(1e-4, max(float(np.max(tail)), 1e-3), 400)])
    counted = np.interp(tail, table, few(table, sizes.count))
    # everything heavier than the least legal fish counts from its first gram
    return np.asarray(counted[:, 0] * weight[0] + _integral(counted, weight))


def _integral(values: FloatArray, at: FloatArray) -> FloatArray:
    """Integral over the last axis by the trapezoid rule."""
    return np.asarray((0.5 * (values[:, 1:] + values[:, :-1])) @ np.diff(at))


def legal_chance(sizes: FishSizes, bites: FloatArray) -> tuple[float, float]:
    """Expected legal fish landed, and the chance of as many as count [-].

    Parameters
    ----------
    sizes : FishSizes
        Lengths and what counts [-].
    bites : ndarray, shape (groups,)
        Expected bites [-].
    """
    from scipy.special import pdtrc

    least = np.array([max(sizes.least_m, 0.02)])
    mean = float(sizes.landed * bites @ sizes.longer(least)[:, 0])
    return mean, float(pdtrc(sizes.count - 1, mean)) if math.isfinite(mean) else 0.0
