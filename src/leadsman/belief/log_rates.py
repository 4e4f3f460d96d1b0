"""Rates of bites that share what they learn: a dynamic generalised linear model.

The log of the rate in a cell is a sum of effects (all, depth, cover, sound,
colour, work, place and some products), each with a normal prior, so that a
bite in one cell also speaks for its neighbours: partial pooling. One block of
fishing updates the cell's own rate by the exact Gamma-Poisson rule and hands
the news to the effects by linear Bayes; between blocks every effect slides
back to its prior with its own memory: forgetting (West, Harrison & Migon 1985,
J. Am. Stat. Assoc. 80:73-83, doi 10.1080/01621459.1985.10477131, from memory
for the pages). With a single effect it is the Gamma-Poisson model itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from leadsman.belief.gamma_poisson import GammaRate, log_moments_to_gammas
from leadsman.belief.levels import Cell

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Factor:
    """Something the rate depends on.

    Parameters
    ----------
    name : str
        A field of `Cell`, several joined by ``*``, or ``all`` [-].
    sd : float
        Standard deviation of its effects on the log rate [-].
    memory_h : float
        Time over which what was learned falls to 1/e; ``math.inf`` never
        forgets [h].
    band_length : float
        For depth: distance over which bands are alike, in bands; 0 makes them
        strangers [-].
    """

    name: str
    sd: float
    memory_h: float = math.inf
    band_length: float = 0.0


@dataclass(frozen=True, slots=True)
class RatePrior:
    """What is believed before the first cast.

    Parameters
    ----------
    log_rate : float
        Mean of the log of the bites per metre where every effect is 0 [-].
    factors : tuple of Factor
        The effects and how much they may matter [-].
    means : mapping of str to float
        Prior mean of single effects, by key ``factor=level`` such as
        ``depth=3``; 0 where missing [-].
    """

    log_rate: float
    factors: tuple[Factor, ...]
    means: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class RateBelief:
    """Joint normal belief over all effects.

    Parameters
    ----------
    prior : RatePrior
        What it started from and slides back to [-].
    keys : dict of str to int
        Place of each effect ``factor=level`` in the arrays [-].
    places : dict of Cell to ndarray of int
        Places of the effects that add up to each known cell's log rate [-].
    memory_h : ndarray, shape (n,)
        Memory of each effect [h].
    prior_mean, mean : ndarray, shape (n,)
        Prior and present mean of the effects [-].
    prior_cov, cov : ndarray, shape (n, n)
        Prior and present covariance [-].
    """

    prior: RatePrior
    keys: dict[str, int]
    places: dict[Cell, IntArray]
    memory_h: FloatArray
    prior_mean: FloatArray
    prior_cov: FloatArray
    mean: FloatArray
    cov: FloatArray

    @classmethod
    def start(cls, prior: RatePrior, cells: Iterable[Cell] = ()) -> RateBelief:
        """The prior belief over the effects that some cells need.

        Parameters
        ----------
        prior : RatePrior
            Prior [-].
        cells : iterable of Cell
            Cells that will be asked about; others may follow [-].
        """
        none, square = np.zeros(0), np.zeros((0, 0))
        return cls(prior, {}, {}, none, none, square, none, square).with_cells(cells)

    def with_cells(self, cells: Iterable[Cell]) -> RateBelief:
        """The same belief with room for more cells, their new effects at the prior.

        Parameters
        ----------
        cells : iterable of Cell
            Cells to make room for [-].
        """
        strangers = [cell for cell in cells if cell not in self.places]
        if not strangers:
            return self
        keys, places = dict(self.keys), dict(self.places)
        for cell in strangers:
            names = [f"{f.name}={cell.level(f.name)}" for f in self.prior.factors]
            places[cell] = np.array([keys.setdefault(name, len(keys)) for name in names])
        old = len(self.keys)
        if len(keys) == old:
            return replace(self, places=places)
        memory = {f.name: f.memory_h for f in self.prior.factors}
        prior_mean = np.array([self.prior.means.get(key, 0.0) for key in keys])
        prior_cov = _prior_covariance(self.prior.factors, list(keys))
        # A new effect is tied to the old ones by its prior regression on them, so a depth band
        # asked about late still hears what its neighbours learned.
        regress = np.linalg.solve(prior_cov[:old, :old], prior_cov[:old, old:])
        mean = prior_mean.copy()
        mean[:old] = self.mean
        mean[old:] += regress.T @ (self.mean - self.prior_mean)
        cov = prior_cov.copy()
        cov[:old, :old] = self.cov
        cov[:old, old:] = self.cov @ regress
        cov[old:, :old] = cov[:old, old:].T
        cov[old:, old:] += regress.T @ (self.cov - self.prior_cov) @ regress
        return replace(
            self,
            keys=keys,
            places=places,
            memory_h=np.array([memory[key.split("=", 1)[0]] for key in keys]),
            prior_mean=prior_mean,
            prior_cov=prior_cov,
            mean=mean,
            cov=cov,
        )

    def log_moments(self, cell: Cell) -> tuple[float, float]:
        """Mean and variance of the log of the bites per metre in a cell [-].

        Parameters
        ----------
        cell : Cell
            Cell [-].
        """
        at = self.places[cell]
        variance = float(self.cov[at][:, at].sum())
        return self.prior.log_rate + float(self.mean[at].sum()), max(variance, 1e-6)

    def rate(self, cell: Cell) -> GammaRate:
        """Gamma belief over the bites per metre in a cell.

        Parameters
        ----------
        cell : Cell
            Cell [-].
        """
        return GammaRate.from_log_moments(*self.log_moments(cell))

    def rates(self, cells: Sequence[Cell]) -> tuple[FloatArray, FloatArray]:
        """Shapes and efforts of the Gamma beliefs of many cells, as `rate` one by one.

        Parameters
        ----------
        cells : sequence of Cell
            Cells [-].

        Returns
        -------
        shape : ndarray, shape (n,)
            Shapes [-].
        effort_m : ndarray, shape (n,)
            Efforts [m].
        """
        at = np.array([self.places[cell] for cell in cells])
        mean = self.prior.log_rate + self.mean[at].sum(axis=1)
        variance = self.cov[at[:, :, None], at[:, None, :]].sum(axis=(1, 2))
        return log_moments_to_gammas(mean, np.clip(variance, 1e-6, 1e6))

    def seen(self, cell: Cell, bites: float, zone_m: float) -> RateBelief:
        """The belief after a block of fishing in one cell.

        Parameters
        ----------
        cell : Cell
            What was fished [-].
        bites : float
            Bites [-].
        zone_m : float
            Zone fished [m].
        """
        return self.seen_with_chance(cell, bites, zone_m)[0]

    def seen_with_chance(self, cell: Cell, bites: float, zone_m: float) -> tuple[RateBelief, float]:
        """The belief after a block, and the chance it had given to that count.

        Parameters
        ----------
        cell : Cell
            What was fished [-].
        bites : float
            Bites [-].
        zone_m : float
            Zone fished [m].
        """
        belief = self.with_cells((cell,))
        at = belief.places[cell]
        before = GammaRate.from_log_moments(*belief.log_moments(cell))
        f, q = before.log_mean, before.log_variance
        after = before.seen(bites, zone_m)
        gain = belief.cov[:, at].sum(axis=1)
        mean = belief.mean + gain * ((after.log_mean - f) / q)
        cov = belief.cov - np.outer(gain, gain) * ((1.0 - after.log_variance / q) / q)
        chance = before.count_chances(zone_m, int(bites))[-1]
        return belief.with_moments(mean, cov), chance

    def with_moments(self, mean: FloatArray, cov: FloatArray) -> RateBelief:
        """The same effects with another belief over them.

        Parameters
        ----------
        mean : ndarray, shape (n,)
            Mean [-].
        cov : ndarray, shape (n, n)
            Covariance [-].
        """
        return RateBelief(
            self.prior,
            self.keys,
            self.places,
            self.memory_h,
            self.prior_mean,
            self.prior_cov,
            mean,
            cov,
        )

    def after(self, hours: float) -> RateBelief:
        """The belief after some time without news: a step back to the prior.

        Parameters
        ----------
        hours : float
            Time that passed [h].
        """
        if hours <= 0.0:
            return self
        keep = np.exp(-hours / self.memory_h)
        both = np.outer(keep, keep)
        return self.with_moments(
            self.prior_mean + keep * (self.mean - self.prior_mean),
            both * self.cov + (1.0 - both) * self.prior_cov,
        )

    def moved(self, shifts: Mapping[str, float], extra_sd: float = 0.0) -> RateBelief:
        """The belief with some effects moved outright, as after a change that was noticed.

        Parameters
        ----------
        shifts : mapping of str to float
            What to add to the mean of effects, by key [-].
        extra_sd : float
            Standard deviation added to those effects [-].
        """
        mean, cov = self.mean.copy(), self.cov.copy()
        for key, shift in shifts.items():
            i = self.keys[key]
            mean[i] += shift
            cov[i, i] += extra_sd**2
        return self.with_moments(mean, cov)

    def chance_better(self, cell: Cell, other: Cell, log_zone_ratio: float = 0.0) -> float:
        """Chance that a cell gives more bites than another, each with its zone per hour [-].

        Parameters
        ----------
        cell, other : Cell
            Cells to compare [-].
        log_zone_ratio : float
            Log of the zone per hour in `cell` over that in `other` [-].
        """
        weights = np.zeros(len(self.keys))
        weights[self.places[cell]] += 1.0
        weights[self.places[other]] -= 1.0
        mean = float(weights @ self.mean) + log_zone_ratio
        variance = float(weights @ self.cov @ weights)
        if variance < 1e-12:
            return 0.5 if abs(mean) < 1e-12 else float(mean > 0.0)
        return 0.5 * math.erfc(-mean / math.sqrt(2.0 * variance))


def _prior_covariance(factors: tuple[Factor, ...], keys: list[str]) -> FloatArray:
    by_name = {f.name: f for f in factors}
    split = [key.split("=", 1) for key in keys]
    cov = np.zeros((len(keys), len(keys)))
    for i, (name_i, level_i) in enumerate(split):
        for j in range(i + 1):
            name_j, level_j = split[j]
            if name_i == name_j:
                factor = by_name[name_i]
                cov[i, j] = cov[j, i] = factor.sd**2 * _alike(factor, level_i, level_j)
    return cov


def _alike(factor: Factor, level_i: str, level_j: str) -> float:
    """Prior correlation of two effects of a factor: 1 for the same, less for other bands."""
    if level_i == level_j:
        return 1.0
    alike = 1.0
    for name, a, b in zip(
        factor.name.split("*"), level_i.split("*"), level_j.split("*"), strict=True
    ):
        if name == "depth" and factor.band_length > 0.0:
            alike *= math.exp(-0.5 * ((int(a) - int(b)) / factor.band_length) ** 2)
        elif a != b:
            return 0.0
    return alike
