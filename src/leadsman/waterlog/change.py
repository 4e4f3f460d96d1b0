"""Was it on, and is it off now? A change detector with a stated false-alarm rate.

Bites over a stint (one way of fishing one place) are Poisson with an unknown
rate. Against "steady all along" stands "after bite j the rate fell to a small
share of what it was". With the scale prior d(rate)/rate on the unknown rate
both integrate in closed form, and with n bites over an effort E, of which the
last m bites and effort G came after bite j, the Bayes factor is

    share^m * (E / (E - (1 - share) * G))^n        (own derivation, docs/log-and-advice.md)

which depends on the rate nowhere. The score is the sum over j, weighed by how
likely a stint is to die after j bites; the alarm goes off above a threshold.
What that means in false alarms and delay was measured and is in the docs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

Status = Literal["not started", "on", "stopped"]


@dataclass(frozen=True, slots=True)
class ChangeSettings:
    """How the detector weighs things.

    Parameters
    ----------
    rest_share : float
        Share of the rate that is left after a stop [-].
    least_bites : int
        Bites before a stint counts as having been on [-].
    threshold : float
        Score at which the stop is called; set for under 5 % false alarms in
        a steady day of 30 to 50 bites [-].
    weight, tire_weight : float
        Weight of a stop after any bite, and more for a stop after
        `tire_from` to `tire_to` bites, where spots are said to die after 15 to
        20 fish (common practice, no source) [-].
    tire_from, tire_to : int
        Bites between which `tire_weight` is added [-].
    """

    rest_share: float = 0.05
    least_bites: int = 6
    threshold: float = 800.0
    weight: float = 0.2
    tire_weight: float = 3.0
    tire_from: int = 13
    tire_to: int = 22


USUAL_CHANGE = ChangeSettings()


@dataclass(frozen=True, slots=True)
class Stint:
    """One way of fishing one place, as effort and the effort at each bite.

    Parameters
    ----------
    zone_m : float
        Zone fished since the stint began [m].
    bites_at_m : tuple of float
        Zone fished up to each bite [m].
    """

    zone_m: float = 0.0
    bites_at_m: tuple[float, ...] = ()

    def fished(self, zone_m: float, bites: int) -> Stint:
        """The stint after a further block, whose bites came at its end.

        Parameters
        ----------
        zone_m : float
            Zone fished [m].
        bites : int
            Bites [-].
        """
        end = self.zone_m + zone_m
        return Stint(end, self.bites_at_m + (end,) * bites)


def stop_score(stint: Stint, settings: ChangeSettings) -> float:
    """Weighed sum of Bayes factors for a stop against a steady stint [-].

    Parameters
    ----------
    stint : Stint
        The stint [-].
    settings : ChangeSettings
        Weights [-].
    """
    n = len(stint.bites_at_m)
    score = 0.0
    for j in range(settings.least_bites, n + 1):
        after_m = stint.zone_m - stint.bites_at_m[j - 1]
        kept_m = stint.zone_m - (1.0 - settings.rest_share) * after_m
        log_factor = (n - j) * math.log(settings.rest_share)
        log_factor += n * math.log(stint.zone_m / kept_m)
        tiring = settings.tire_from <= j <= settings.tire_to
        score += (settings.weight + tiring * settings.tire_weight) * math.exp(log_factor)
    return score


def fading(stint: Stint, least_bites: int, settings: ChangeSettings) -> float:
    """The same score with a stop as likely after every bite: is it fading? [-]

    Parameters
    ----------
    stint : Stint
        The stint [-].
    least_bites : int
        Bites before it can be fading [-].
    settings : ChangeSettings
        Rest share and least bites [-].
    """
    return stop_score(
        stint, replace(settings, weight=1.0, tire_weight=0.0, least_bites=least_bites)
    )


def status(stint: Stint, settings: ChangeSettings) -> Status:
    """Not started (too few bites to have been on), on, or stopped.

    Parameters
    ----------
    stint : Stint
        The stint [-].
    settings : ChangeSettings
        Weights [-].
    """
    if len(stint.bites_at_m) < settings.least_bites:
        return "not started"
    return "stopped" if stop_score(stint, settings) >= settings.threshold else "on"
