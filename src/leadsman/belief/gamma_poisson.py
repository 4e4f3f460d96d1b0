"""A rate of bites as a Gamma belief, learned from Poisson counts.

Conjugate: Gamma(shape a, effort b) seen with y bites over effort e becomes
Gamma(a + y, b + e) (any text on Bayesian statistics). Written without scipy,
so that a second implementation can follow it line by line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class GammaRate:
    """Gamma belief over bites per metre of zone.

    Parameters
    ----------
    shape : float
        Shape, as bites seen before [-].
    effort_m : float
        Inverse scale, as zone metres fished before [m].
    """

    shape: float
    effort_m: float

    @classmethod
    def from_log_moments(cls, mean: float, variance: float) -> GammaRate:
        """The Gamma whose logarithm has a given mean and variance.

        Parameters
        ----------
        mean : float
            Mean of the log of the rate per metre [-].
        variance : float
            Its variance [-].
        """
        shape = inverse_trigamma(variance)
        return cls(shape, math.exp(digamma(shape) - mean))

    @classmethod
    def from_moments(cls, mean_per_m: float, variance_per_m2: float) -> GammaRate:
        """The Gamma with a given mean and variance of the rate.

        Parameters
        ----------
        mean_per_m : float
            Mean rate [m-1].
        variance_per_m2 : float
            Variance of the rate [m-2].
        """
        return cls(mean_per_m**2 / variance_per_m2, mean_per_m / variance_per_m2)

    @property
    def mean_per_m(self) -> float:
        """Expected bites per metre of zone [m-1]."""
        return self.shape / self.effort_m

    @property
    def variance_per_m2(self) -> float:
        """Variance of the rate [m-2]."""
        return self.shape / self.effort_m**2

    @property
    def log_mean(self) -> float:
        """Mean of the log of the rate per metre [-]."""
        return digamma(self.shape) - math.log(self.effort_m)

    @property
    def log_variance(self) -> float:
        """Variance of the log of the rate [-]."""
        return trigamma(self.shape)

    def seen(self, bites: float, zone_m: float) -> GammaRate:
        """The belief after more fishing.

        Parameters
        ----------
        bites : float
            Bites seen; a fraction where old evidence is counted in part [-].
        zone_m : float
            Zone metres fished [m].
        """
        return GammaRate(self.shape + bites, self.effort_m + zone_m)

    def interval_per_m(self, coverage: float = 0.8) -> tuple[float, float]:
        """Central credible interval of the rate [m-1].

        Parameters
        ----------
        coverage : float
            Probability inside [-].
        """
        from scipy.special import gammaincinv

        tail = 0.5 * (1.0 - coverage)
        low, high = (float(gammaincinv(self.shape, p)) for p in (tail, 1.0 - tail))
        return low / self.effort_m, high / self.effort_m

    def count_chances(self, zone_m: float, up_to: int) -> list[float]:
        """Chances of 0, 1, ... bites over some fishing: the negative binomial law [-].

        Parameters
        ----------
        zone_m : float
            Zone metres to be fished [m].
        up_to : int
            Greatest count given [-].
        """
        p = zone_m / (zone_m + self.effort_m)
        chance = math.exp(self.shape * math.log1p(-p))
        chances = [chance]
        for y in range(up_to):
            chance *= p * (self.shape + y) / (y + 1.0)
            chances.append(chance)
        return chances


def digamma(x: float) -> float:
    """Derivative of ln Gamma(x) for x > 0 [-].

    Recurrence up to x >= 8, then the asymptotic series (Abramowitz & Stegun 1964, 6.3.5 and
    6.3.18); within 1e-12 of scipy's.

    Parameters
    ----------
    x : float
        Argument, above 0 [-].
    """
    total = 0.0
    while x < 8.0:
        total -= 1.0 / x
        x += 1.0
    r = 1.0 / (x * x)
    series = r * (
        1 / 12 - r * (1 / 120 - r * (1 / 252 - r * (1 / 240 - r * (1 / 132 - r * 691 / 32760))))
    )
    return total + math.log(x) - 0.5 / x - series


def trigamma(x: float) -> float:
    """Second derivative of ln Gamma(x) for x > 0 [-].

    Recurrence up to x >= 8, then the asymptotic series (Abramowitz & Stegun 1964, 6.4.6, 6.4.12).

    Parameters
    ----------
    x : float
        Argument, above 0 [-].
    """
    total = 0.0
    while x < 8.0:
        total += 1.0 / (x * x)
        x += 1.0
    r = 1.0 / (x * x)
    series = 1 / 6 - r * (1 / 30 - r * (1 / 42 - r * (1 / 30 - r * (5 / 66 - r * 691 / 2730))))
    return total + 1.0 / x + 0.5 * r + series * r / x


def inverse_trigamma(y: float) -> float:
    """The x > 0 whose trigamma is y [-].

    Newton's method on 1/trigamma, which is close to a straight line (own derivation, see
    docs/log-and-advice.md).

    Parameters
    ----------
    y : float
        Value of trigamma, above 0 [-].
    """
    if y > 1e7:
        return 1.0 / math.sqrt(y)
    if y < 1e-6:
        return 1.0 / y
    # trigamma(x) is nearly 1/x + 1/(2 x^2), which is solved outright for a start.
    x = (1.0 + math.sqrt(1.0 + 2.0 * y)) / (2.0 * y)
    for _ in range(60):
        value = trigamma(x)
        step = value * (1.0 - value / y) / _tetragamma(x)
        x += step
        if abs(step) < 1e-7 * x:
            break
    return x


def log_moments_to_gammas(mean: FloatArray, variance: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Many `GammaRate.from_log_moments` at once.

    Parameters
    ----------
    mean, variance : ndarray, shape (n,)
        Means and variances of the logs of rates per metre [-].

    Returns
    -------
    shape : ndarray, shape (n,)
        Shapes [-].
    effort_m : ndarray, shape (n,)
        Efforts [m].
    """
    shape = (1.0 + np.sqrt(1.0 + 2.0 * variance)) / (2.0 * variance)
    for _ in range(60):
        _, value, slope = _polygammas(shape)
        step = value * (1.0 - value / variance) / slope
        shape = shape + step
        if np.all(np.abs(step) < 1e-7 * shape):
            break
    return shape, np.exp(_polygammas(shape)[0] - mean)


def _polygammas(x: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Digamma, trigamma and tetragamma of an array, as the scalar functions."""
    zero, one, two = np.zeros_like(x), np.zeros_like(x), np.zeros_like(x)
    for _ in range(8):
        zero, one, two = zero - 1.0 / x, one + 1.0 / x**2, two - 2.0 / x**3
        x = x + 1.0
    r = 1.0 / (x * x)
    s0 = r * (1 / 12 - r * (1 / 120 - r * (1 / 252 - r * (1 / 240 - r * (1 / 132)))))
    s1 = 1 / 6 - r * (1 / 30 - r * (1 / 42 - r * (1 / 30 - r * (5 / 66))))
    s2 = 1 / 2 - r * (1 / 6 - r * (1 / 6 - r * (3 / 10 - r * 5 / 6)))
    zero = zero + np.log(x) - 0.5 / x - s0
    return zero, one + 1.0 / x + 0.5 * r + s1 * r / x, two - r - r / x - r * r * s2


def _tetragamma(x: float) -> float:
    """Third derivative of ln Gamma(x), negative for x > 0."""
    total = 0.0
    while x < 8.0:
        total -= 2.0 / (x * x * x)
        x += 1.0
    r = 1.0 / (x * x)
    series = 1 / 2 - r * (1 / 6 - r * (1 / 6 - r * (3 / 10 - r * 5 / 6)))
    return total - r - r / x - r * r * series
