"""From what is thought likely at launch to a prior over rates of bites.

Every number here is an assumption: no published data give the scatter of
bites over depth, cover, sound and colour for one angler in one day. The
reasons are in docs/log-and-advice.md; the log teaches the rest.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from leadsman.belief.gamma_poisson import digamma, inverse_trigamma
from leadsman.belief.levels import quoted
from leadsman.belief.log_rates import Factor, RatePrior
from leadsman.errors import PlanError

# (name, scatter of the effect on the log rate, memory in hours, alike over bands)
FACTORS: tuple[Factor, ...] = (
    Factor("all", 0.3, 2.0),
    Factor("depth", 1.3, 4.0, 1.0),
    Factor("cover", 0.4, 6.0),
    Factor("sound", 0.5, 5.0),
    Factor("colour", 0.4, 5.0),
    Factor("work", 0.3, 6.0),
    Factor("place", 0.8, 3.0),
    Factor("place*sound", 0.3, 4.0),
    Factor("place*depth", 0.4, 3.0, 1.0),
)

# A weight of nothing is never believed wholly: fish were caught where none should be.
LEAST_WEIGHT = 0.03


def rate_prior(
    best_bites_per_h: float,
    zone_m_per_h: float,
    weights: Mapping[str, Mapping[str, float]],
    factors: tuple[Factor, ...] = FACTORS,
) -> RatePrior:
    """Prior whose best cell is expected to give a certain number of bites an hour.

    Parameters
    ----------
    best_bites_per_h : float
        Bites an hour expected of the best setup at the best place [h-1].
    zone_m_per_h : float
        Zone fished in an hour that this goes with [m/h].
    weights : mapping of str to mapping of str to float
        For each factor its levels' relative rates, any scale; a level not
        named counts as the best [-].
    factors : tuple of Factor
        Scatter and memory of the effects [-].

    Returns
    -------
    RatePrior
        The prior.

    Raises
    ------
    PlanError
        A rate or weight is not positive, or a factor is unknown.
    """
    if not (best_bites_per_h > 0.0 and zone_m_per_h > 0.0):
        raise PlanError("expected bites and zone per hour must be above 0", "outlook")
    known = {f.name for f in factors}
    means: dict[str, float] = {}
    for name, levels in weights.items():
        if name not in known:
            raise PlanError(f"unknown factor {name!r}", "outlook", f"Use one of {sorted(known)}")
        top = max(levels.values(), default=0.0)
        if levels and not top > 0.0:
            raise PlanError(f"every weight of {name} is 0", "outlook", "Give one above 0")
        for level, weight in levels.items():
            means[f"{name}={quoted(level)}"] = math.log(max(weight / top, LEAST_WEIGHT))
    # The mean of a Gamma lies above exp(mean of its log) by shape / exp(digamma(shape)).
    shape = inverse_trigamma(sum(f.sd**2 for f in factors))
    log_rate = math.log(best_bites_per_h / zone_m_per_h) - math.log(shape) + digamma(shape)
    return RatePrior(log_rate, factors, means)
