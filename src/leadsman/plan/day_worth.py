"""What time on a stretch is expected to bring.

All of it is assumption, and labelled so: bites come in proportion to the metres of zone fished
and to the belief in that depth and cover, and a stretch is fished out as it is covered again
and again. When to leave follows from that by the marginal value theorem: when what it still
brings falls to what the day brings elsewhere, travel counted (E. L. Charnov 1976, Theor. Popul.
Biol. 9:129-136, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leadsman.errors import PlanError

BEST_BITES_PER_H = 6.0
"""Bites an hour of the best setup at the best place of the day [h-1]. Own assumption, spread 1 to
20; it scales all bites alike, so it does not change the order."""
TAKES = 0.7
"""Fishing as much zone as the stretch is long takes 1 - exp(-TAKES) of the bites it has, half
[-]. Own assumption, spread 0.3 to 1.5."""
STRUCTURE_GAIN = 1.0
"""Rate at a structure score of 1 over that at 0, less 1 [-]. Common practice, no source; own
assumption, spread 0 to 3."""
SETTLE_S = 150.0
"""From arriving to the first cast [s]: find the edge with the sounder, hold the boat. Own
estimate, spread 60 to 300."""
LEAST_S, MOST_S = 900.0, 4500.0
"""Least and most time on a stretch [s]. Own choice."""
HALF_WIDTH_M = 3.0
"""How far from the edge a lure in the zone still works it [m]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Promise:
    """What a stretch has to give.

    Parameters
    ----------
    rate_per_m : float
        Bites for a metre of zone when it is fresh [m-1].
    zone_m_s : float
        Metres of zone fished a second [m s-1].
    length_m : float
        Length of the stretch [m].

    Raises
    ------
    PlanError
        A number makes no sense.
    """

    rate_per_m: float
    zone_m_s: float
    length_m: float

    def __post_init__(self) -> None:
        values = (self.rate_per_m, self.zone_m_s, self.length_m)
        if not all(math.isfinite(v) for v in values) or min(values) < 0.0 or self.length_m == 0.0:
            raise PlanError("what a stretch promises is no number", "worth")

    def bites(self, stay_s: float) -> float:
        """Expected bites in a stay, settling included [-].

        Parameters
        ----------
        stay_s : float
            Time from arriving to leaving [s].
        """
        zone_m = self.zone_m_s * max(stay_s - SETTLE_S, 0.0)
        stock = self.rate_per_m * self.length_m / TAKES
        return -stock * math.expm1(-TAKES * zone_m / self.length_m)

    def stay_s(self, elsewhere_per_s: float) -> float:
        """When to leave, as time from arriving [s].

        Parameters
        ----------
        elsewhere_per_s : float
            Bites a second that the day brings elsewhere, travel counted [s-1].
        """
        fresh = self.rate_per_m * self.zone_m_s
        if not fresh > elsewhere_per_s:
            return LEAST_S
        if elsewhere_per_s <= 0.0:
            return MOST_S
        fished = self.length_m / (TAKES * self.zone_m_s) * math.log(fresh / elsewhere_per_s)
        return min(max(SETTLE_S + fished, LEAST_S), MOST_S)


def along_share(zone_m: float, radius_m: float, position_se_m: float) -> float:
    """Share of a straight cast's zone that lies on the edge [-].

    Own derivation: the chord of a bend of radius R leaves it by w on both sides over a length of
    4 sqrt(R w); an edge whose place is off by a normal error of s lies within w of where it is
    thought with the chance erf(w / (s sqrt 2)).

    Parameters
    ----------
    zone_m : float
        Length of the zone [m].
    radius_m : float
        Radius of the bend, infinite if straight [m].
    position_se_m : float
        Standard error of the edge's place [m].
    """
    chord = 4.0 * math.sqrt(radius_m * HALF_WIDTH_M) if math.isfinite(radius_m) else math.inf
    bend = min(1.0, chord / zone_m) if zone_m > 0.0 else 1.0
    near = 1.0 if position_se_m <= 0.0 else math.erf(HALF_WIDTH_M / (position_se_m * math.sqrt(2)))
    return bend * near


def structure_factor(score: float) -> float:
    """Bites of a stretch of some structure score over those of a middling one [-].

    Parameters
    ----------
    score : float
        From 0 to 1 [-].
    """
    return (1.0 + STRUCTURE_GAIN * score) / (1.0 + 0.5 * STRUCTURE_GAIN)
