"""The order of a day: which stretches, how long on each, home in time.

How long to stay is set by one number for the whole day, what the day brings a second elsewhere
(marginal value); for each of several values of it the best order is searched exactly, and the
best of all is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.plan.catch_weight import FishSizes, expected_weight_kg
from leadsman.plan.day_stretches import MOST_STRETCHES
from leadsman.plan.day_worth import LEAST_S, MOST_S, Promise
from leadsman.plan.route import DayHours, Route, Score, Stop, choose_route

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

ELSEWHERE = (0.08, 0.16, 0.28, 0.45, 0.65)
"""What the day brings elsewhere, as shares of the best fresh rate, that are tried [-]."""
QUICK_ELSEWHERE = (0.16, 0.35)
"""The same for a new plan on the water [-]."""
SHORT_S = 300.0
"""Least stay where no longer one fits [s]. Own choice."""
WORTH_A_MOVE = 0.4
"""A stretch that brings less than this share of the day's mean in its time is left out, if the
day loses little by it [-]. Own choice: every move costs nerves too."""
LITTLE = 0.03
"""What the day may lose by leaving such stretches out [-]. Own choice."""
SLACK_STEP_S = 60.0
"""Time left over is given out in steps of this [s]."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A stretch as the order of the day sees it.

    Parameters
    ----------
    name : str
        What to call it [-].
    promise : Promise
        What it has to give [-].
    group : int
        Group of fish sizes it belongs to [-].
    opens_s, closes_s : float
        When it may be fished, in seconds of the day [s].
    """

    name: str
    promise: Promise
    group: int = 0
    opens_s: float = 0.0
    closes_s: float = np.inf


@dataclass(frozen=True, slots=True)
class DayOrder:
    """Stretches in order, with times and what they bring.

    Parameters
    ----------
    route : Route
        Order and times; its stops are the offers [-].
    stay_s : tuple of float
        Stay on each stretch of the order [s].
    bites : tuple of float
        Expected bites of each [-].
    weight_kg : float or None
        Expected weight of the fish that count; None where bites are the aim [kg].
    """

    route: Route
    stay_s: tuple[float, ...]
    bites: tuple[float, ...]
    weight_kg: float | None = None

    @property
    def total_bites(self) -> float:
        """Expected bites of the day [-]."""
        return sum(self.bites)


def order_day(
    offers: Sequence[Offer],
    travel_s: FloatArray,
    hours: DayHours,
    sizes: FishSizes | None = None,
    quick: bool = False,
) -> DayOrder:
    """Choose stretches, order and stays.

    Parameters
    ----------
    offers : sequence of Offer
        Stretches that may be fished [-].
    travel_s : ndarray, shape (n + 2, n + 2)
        Times between the stretches, then from here and to home [s].
    hours : DayHours
        Start, deadline and reserve [-].
    sizes : FishSizes or None
        With them the aim is the weight of the best fish, else bites [-].
    quick : bool
        Fewer trials, for a new plan on the water [-].

    Returns
    -------
    DayOrder
        The best found; empty where nothing fits.

    Raises
    ------
    PlanError
        Home itself cannot be reached in time.
    """
    if travel_s.shape != (len(offers) + 2, len(offers) + 2):
        raise PlanError("the table of times does not fit the stretches", "travel")
    kept = _worth_weighing(offers, travel_s)
    places = [*kept, len(offers), len(offers) + 1]
    own = [offers[i] for i in kept]
    times = travel_s[np.ix_(places, places)]
    best: tuple[float, DayOrder] | None = None

    def tried(stays: Sequence[float], score: Score | None = None) -> tuple[float, DayOrder]:
        found = _filled(_ordered(own, stays, times, hours, score), own, times, hours)
        return _better(best, found, sizes, own)

    fresh = max((o.promise.rate_per_m * o.promise.zone_m_s for o in own), default=0.0)
    for share in QUICK_ELSEWHERE if quick else ELSEWHERE:
        best = tried([offer.promise.stay_s(share * fresh) for offer in own])
    assert best is not None
    if not best[1].route.order and own:
        best = tried([SHORT_S] * len(own))
    if sizes is not None and own:
        stays = _stays_of(best[1], own, fresh)
        best = tried(stays, _score(own, stays, sizes))
    order = _without_little(best[1], own, times, hours)
    return _renumbered(_weighed(order, sizes, own), kept)


def _without_little(
    order: DayOrder, offers: Sequence[Offer], travel_s: FloatArray, hours: DayHours
) -> DayOrder:
    """The same without stretches that hardly pay, their time given to the others."""
    mean = order.total_bites / max(sum(order.stay_s), 1.0)
    keep = [
        k
        for k, (bites, stay) in enumerate(zip(order.bites, order.stay_s, strict=True))
        if bites >= WORTH_A_MOVE * mean * stay
    ]
    if len(keep) in (0, len(order.bites)):
        return order
    places = [order.route.order[k] for k in keep]
    few = [*places, len(offers), len(offers) + 1]
    fewer = _ordered(
        [offers[i] for i in places], [order.stay_s[k] for k in keep],
        travel_s[np.ix_(few, few)], hours, None,
    )  # fmt: skip
    filled = _filled(_renumbered(fewer, places), offers, travel_s, hours)
    return filled if filled.total_bites >= (1.0 - LITTLE) * order.total_bites else order


def _worth_weighing(offers: Sequence[Offer], travel_s: FloatArray) -> list[int]:
    """The more promising stretches within reach, few enough for the exact search."""
    here, home = len(offers), len(offers) + 1
    reach = travel_s[here, :here] + travel_s[:here, home]
    value = np.array([o.promise.bites(0.5 * (LEAST_S + MOST_S)) for o in offers])
    good = [int(i) for i in np.flatnonzero(np.isfinite(reach) & (value > 0.0))]
    good.sort(key=lambda i: -float(value[i]) / (LEAST_S + 0.5 * float(reach[i])))
    return sorted(good[:MOST_STRETCHES])


def _ordered(
    offers: Sequence[Offer],
    stays: Sequence[float],
    travel_s: FloatArray,
    hours: DayHours,
    score: Score | None,
) -> DayOrder:
    stops = [
        Stop(o.name, stay, o.promise.bites(stay), o.opens_s, o.closes_s)
        for o, stay in zip(offers, stays, strict=True)
    ]
    route = choose_route(stops, travel_s, hours, score)
    return DayOrder(
        route,
        tuple(stays[i] for i in route.order),
        tuple(stops[i].worth for i in route.order),
    )


def _score(offers: Sequence[Offer], stays: Sequence[float], sizes: FishSizes) -> Score:
    """Expected weight of the fish that count, for many sets of stretches at once."""
    groups = len(sizes.mean_m)
    bites = np.zeros((len(offers), groups))
    for i, (offer, stay) in enumerate(zip(offers, stays, strict=True)):
        bites[i, offer.group] = offer.promise.bites(stay)

    def score(member: BoolArray) -> FloatArray:
        return expected_weight_kg(sizes, member.astype(np.float64) @ bites)

    return score


def _weighed(order: DayOrder, sizes: FishSizes | None, offers: Sequence[Offer]) -> DayOrder:
    if sizes is None:
        return order
    bites = np.zeros((1, len(sizes.mean_m)))
    for i, expected in zip(order.route.order, order.bites, strict=True):
        bites[0, offers[i].group] += expected
    return replace(order, weight_kg=float(expected_weight_kg(sizes, bites)[0]))


def _better(
    best: tuple[float, DayOrder] | None,
    found: DayOrder,
    sizes: FishSizes | None,
    offers: Sequence[Offer],
) -> tuple[float, DayOrder]:
    weighed = _weighed(found, sizes, offers)
    value = weighed.total_bites if weighed.weight_kg is None else weighed.weight_kg
    return (value, found) if best is None or value > best[0] + 1e-12 else best


def _stays_of(order: DayOrder, offers: Sequence[Offer], fresh: float) -> list[float]:
    """Stays of the best order so far, for every stretch."""
    chosen = dict(zip(order.route.order, order.stay_s, strict=True))
    usual = [o.promise.stay_s(ELSEWHERE[2] * fresh) for o in offers]
    return [chosen.get(i, usual[i]) for i in range(len(offers))]


def _filled(
    order: DayOrder, offers: Sequence[Offer], travel_s: FloatArray, hours: DayHours
) -> DayOrder:
    """Time left over goes where another minute brings most; the deadline is kept."""
    stays = list(order.stay_s)
    picked = [offers[i] for i in order.route.order]
    left = hours.home_by_s - order.route.home_s
    gone = [False] * len(stays)
    while left >= SLACK_STEP_S and not all(gone):
        gains = [
            -1.0 if done else o.promise.bites(s + SLACK_STEP_S) - o.promise.bites(s)
            for o, s, done in zip(picked, stays, gone, strict=True)
        ]
        k = int(np.argmax(gains))
        trial = [s + SLACK_STEP_S * (j == k) for j, s in enumerate(stays)]
        timed = _timed(order, picked, trial, travel_s, hours)
        if stays[k] >= MOST_S or timed is None or gains[k] <= 0.0:
            gone[k] = True
            continue
        stays = trial
        left = hours.home_by_s - timed.route.home_s
    return _timed(order, picked, stays, travel_s, hours) or order


def _timed(
    order: DayOrder,
    picked: Sequence[Offer],
    stays: Sequence[float],
    travel_s: FloatArray,
    hours: DayHours,
) -> DayOrder | None:
    """The same order with other stays; None where it no longer fits."""
    at, now = len(travel_s) - 2, hours.start_s
    arrive: list[float] = []
    begin: list[float] = []
    leave: list[float] = []
    for index, offer, stay in zip(order.route.order, picked, stays, strict=True):
        arrive.append(now + float(travel_s[at, index]))
        begin.append(max(arrive[-1], offer.opens_s))
        now = begin[-1] + stay
        if now > offer.closes_s + 1e-9:
            return None
        leave.append(now)
        at = index
    home_s = now + float(travel_s[at, len(travel_s) - 1])
    if home_s > hours.home_by_s + 1e-9:
        return None
    bites = tuple(o.promise.bites(s) for o, s in zip(picked, stays, strict=True))
    route = replace(
        order.route, arrive_s=tuple(arrive), begin_s=tuple(begin), leave_s=tuple(leave),
        home_s=home_s,
    )  # fmt: skip
    return DayOrder(route, tuple(stays), bites)


def _renumbered(order: DayOrder, kept: Sequence[int]) -> DayOrder:
    return replace(
        order, route=replace(order.route, order=tuple(kept[i] for i in order.route.order))
    )
