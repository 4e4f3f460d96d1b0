"""Which stretches to fish, in which order, between launch and the deadline.

The orienteering problem with windows, solved by dynamic programming over sets
of stretches: for a set and the stretch fished last only the earliest finish
matters, because what a set is worth does not depend on its order. Sets that
could not be brought home in time are never built, which is what keeps it small:
in eight hours a boat fishes some eight stretches of twenty-five.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]

MOST_STOPS = 40
"""Stretches that fit the bits of a set [-]."""

MOST_STATES = 60_000
"""States kept on one level; beyond them the answer is no longer proved best [-]."""

FIRST_STATES = 1_500
"""States kept on one level of the quick first search, whose answer prunes the full one [-]."""

Score = Callable[[BoolArray], FloatArray]
"""Worth of sets of stretches: membership, shape (sets, stops) -> worth, shape (sets,)."""


@dataclass(frozen=True, slots=True)
class Stop:
    """A stretch that may be fished.

    Parameters
    ----------
    name : str
        What to call it [-].
    fish_s : float
        Time to fish it [s].
    worth : float
        What fishing it is expected to bring, at least 0 [bites, kg].
    opens_s, closes_s : float
        It must be begun at or after the first and be left by the second,
        in seconds of the day [s].
    """

    name: str
    fish_s: float
    worth: float
    opens_s: float = 0.0
    closes_s: float = np.inf

    def __post_init__(self) -> None:
        if not (self.fish_s > 0.0 and np.isfinite(self.fish_s)):
            raise PlanError("fishing it must take some time", self.name)
        if not (self.worth >= 0.0 and np.isfinite(self.worth)):
            raise PlanError("its worth must be a number of at least 0", self.name)
        if not self.opens_s <= self.closes_s:
            raise PlanError("it closes before it opens", self.name)


@dataclass(frozen=True, slots=True)
class DayHours:
    """The hours there are.

    Parameters
    ----------
    start_s : float
        Launch, or now, in seconds of the day [s].
    deadline_s : float
        When the boat must be back [s].
    reserve_s : float
        Time kept back for what goes wrong [s].

    Raises
    ------
    PlanError
        Nothing is left between start and deadline.
    """

    start_s: float
    deadline_s: float
    reserve_s: float = 0.0

    def __post_init__(self) -> None:
        if not self.reserve_s >= 0.0:
            raise PlanError("the reserve cannot be negative", "reserve")
        if not self.start_s <= self.home_by_s:
            raise PlanError(
                "the deadline less its reserve lies before the start",
                "deadline",
                "Start earlier or keep a smaller reserve",
            )

    @property
    def home_by_s(self) -> float:
        """When the plan is home: the deadline less the reserve [s]."""
        return self.deadline_s - self.reserve_s


@dataclass(frozen=True, slots=True)
class Route:
    """Stretches in the order in which to fish them.

    Parameters
    ----------
    order : tuple of int
        Indices of the stops [-].
    arrive_s, begin_s, leave_s : tuple of float
        When each is reached, begun and left, in seconds of the day [s].
    home_s : float
        When the boat is home [s].
    worth : float
        What the set is worth [bites, kg].
    bound : float
        No route is worth more than this [bites, kg].
    exact : bool
        Whether the route is proved best [-].
    """

    order: tuple[int, ...]
    arrive_s: tuple[float, ...]
    begin_s: tuple[float, ...]
    leave_s: tuple[float, ...]
    home_s: float
    worth: float
    bound: float
    exact: bool


@dataclass(frozen=True, slots=True)
class _Level:
    """All states with one number of stops: set, last stop, finish, index into the level before."""

    sets: IntArray
    last: IntArray
    finish_s: FloatArray
    parent: IntArray


def choose_route(
    stops: Sequence[Stop],
    travel_s: FloatArray,
    hours: DayHours,
    score: Score | None = None,
) -> Route:
    """Choose and order stretches so that the set is worth most and the deadline is kept.

    Parameters
    ----------
    stops : sequence of Stop
        Stretches that may be fished [-].
    travel_s : ndarray, shape (n + 2, n + 2)
        Time between places: the stops, then where the boat is, then home;
        infinite where there is no way over water [s].
    hours : DayHours
        The hours there are [-].
    score : callable or None
        Worth of sets of stops, never less for a larger set; None adds up
        the worth of each [-].

    Returns
    -------
    Route
        The best route; with `exact` false the best of those kept.

    Raises
    ------
    PlanError
        Home itself cannot be reached in time, or the table does not fit.
    """
    count = len(stops)
    if travel_s.shape != (count + 2, count + 2):
        raise PlanError(f"the table of times is not for {count} stops, here and home", "travel")
    if count > MOST_STOPS:
        raise PlanError(f"{count} stretches are more than {MOST_STOPS}", "stretches", "Drop some")
    if np.any(np.isnan(travel_s)) or np.any(travel_s < 0.0):
        raise PlanError("a travel time is negative or not a number", "travel")
    here, home = count, count + 1
    if hours.start_s + travel_s[here, home] > hours.home_by_s:
        raise PlanError(
            "even going straight home misses the deadline less its reserve",
            "deadline",
            "Go home now",
        )
    worth = score or _additive(stops)
    search = _Search.of(stops, travel_s, hours)
    levels, exact = _levels(search, FIRST_STATES, None)
    order, best_worth = _best(levels, worth, count)
    if not exact:
        # Only an additive worth has the optimistic bound that prunes.
        levels, exact = _levels(search, MOST_STATES, best_worth if score is None else None)
        better, better_worth = _best(levels, worth, count)
        if better_worth > best_worth:
            order, best_worth = better, better_worth
    bound = best_worth
    if not exact and score is None:
        bound = float(search.optimistic(np.zeros(1, dtype=np.int64), np.array([hours.start_s]))[0])
    elif not exact:
        bound = float(worth(np.ones((1, count), dtype=np.bool_))[0])
    return _timed(order, stops, travel_s, hours, best_worth, max(bound, best_worth), exact)


def _best(levels: Sequence[_Level], worth: Score, count: int) -> tuple[tuple[int, ...], float]:
    """Order and worth of the best set; of sets worth the same, the one done first."""
    best_worth = float(worth(np.zeros((1, count), dtype=np.bool_))[0])
    best: tuple[int, int] | None = None
    for depth, level in enumerate(levels):
        values = worth(_members(level.sets, count))
        place = int(np.lexsort((level.finish_s, -values))[0])
        if values[place] > best_worth + 1e-12:
            best_worth, best = float(values[place]), (depth, place)
    return _unwind(levels, best), best_worth


def _additive(stops: Sequence[Stop]) -> Score:
    each = np.array([stop.worth for stop in stops])
    return lambda members: np.asarray(members @ each, dtype=np.float64)


def _members(sets: IntArray, count: int) -> BoolArray:
    return ((sets[:, None] >> np.arange(count)) & 1).astype(np.bool_)


@dataclass(frozen=True, slots=True)
class _Search:
    """The stops as arrays, with what the bound needs.

    `cost_s` is the least time a stop can take: fishing it and the shortest way
    to it. Taking stops in falling worth per cost, the last one in part, is the
    linear relaxation of a knapsack (Dantzig 1957, Oper. Res. 5:266, from
    memory), so no route from a state is worth more.
    """

    travel_s: FloatArray
    hours: DayHours
    fish_s: FloatArray
    opens_s: FloatArray
    closes_s: FloatArray
    worth: FloatArray
    cost_s: FloatArray
    home_s: float
    by_density: IntArray

    @classmethod
    def of(cls, stops: Sequence[Stop], travel_s: FloatArray, hours: DayHours) -> _Search:
        count = len(stops)
        fish, opens, closes, worth = (
            np.array([getattr(stop, name) for stop in stops], dtype=np.float64)
            for name in ("fish_s", "opens_s", "closes_s", "worth")
        )
        ways = np.array(travel_s[: count + 1, :count])
        ways[np.arange(count), np.arange(count)] = np.inf
        cost = fish + (ways.min(axis=0) if count else 0.0)
        order = np.argsort(-worth / cost, kind="stable")
        home = float(travel_s[:count, count + 1].min()) if count else 0.0
        return cls(travel_s, hours, fish, opens, closes, worth, cost, home, order)

    def optimistic(self, sets: IntArray, finish_s: FloatArray) -> FloatArray:
        """No route through these states is worth more, shape (states,)."""
        order = self.by_density
        inside = _members(sets, order.size)
        free = ~inside[:, order] & np.isfinite(self.cost_s[order])
        cost = np.where(free, np.where(np.isfinite(self.cost_s), self.cost_s, 0.0)[order], 0.0)
        left = (self.hours.home_by_s - self.home_s - finish_s)[:, None]
        before = np.cumsum(cost, axis=1) - cost
        share = np.clip((left - before) / np.where(cost > 0.0, cost, 1.0), 0.0, 1.0)
        more = (share * free) @ self.worth[order]
        return np.asarray(inside @ self.worth + more)


def _levels(search: _Search, most: int, known: float | None) -> tuple[list[_Level], bool]:
    """Every set that can be brought home in time, with its earliest finish for each last stop.

    With the worth of a known route, states that cannot beat it are dropped,
    which loses nothing; beyond `most` states the least promising are, which may.
    """
    count = search.worth.size
    levels: list[_Level] = []
    sets = np.zeros(1, dtype=np.int64)
    last = np.full(1, count, dtype=np.int64)
    finish = np.full(1, search.hours.start_s)
    exact = True
    while sets.size and count:
        grown: list[tuple[IntArray, IntArray, FloatArray, IntArray]] = []
        for stop in range(count):
            begin = np.maximum(finish + search.travel_s[last, stop], search.opens_s[stop])
            end = begin + search.fish_s[stop]
            ok = ((sets >> stop) & 1 == 0) & (end <= search.closes_s[stop])
            ok &= end + search.travel_s[stop, count + 1] <= search.hours.home_by_s
            index = np.flatnonzero(ok)
            grown.append((sets[index] | (1 << stop), np.full(index.size, stop), end[index], index))
        sets, last, finish, parent = (np.concatenate(part) for part in zip(*grown, strict=True))
        if not sets.size:
            break
        keep = _earliest(sets, last, finish, count)
        if known is not None or keep.size > most:
            hope = search.optimistic(sets[keep], finish[keep])
            if known is not None:
                keep, hope = keep[hope > known + 1e-12], hope[hope > known + 1e-12]
            if keep.size > most:
                exact = False
                keep = keep[np.argsort(-hope, kind="stable")[:most]]
        if not keep.size:
            break
        sets, last, finish, parent = sets[keep], last[keep], finish[keep], parent[keep]
        levels.append(_Level(sets, last, finish, parent))
    return levels, exact


def _earliest(sets: IntArray, last: IntArray, finish: FloatArray, count: int) -> IntArray:
    """Of states with the same set and last stop, the one that finishes first."""
    key = sets * (count + 1) + last
    order = np.lexsort((finish, key))
    first = np.ones(order.size, dtype=np.bool_)
    first[1:] = key[order][1:] != key[order][:-1]
    return np.asarray(order[first])


def _unwind(levels: Sequence[_Level], best: tuple[int, int] | None) -> tuple[int, ...]:
    if best is None:
        return ()
    depth, place = best
    order: list[int] = []
    for level in reversed(levels[: depth + 1]):
        order.append(int(level.last[place]))
        place = int(level.parent[place])
    return tuple(reversed(order))


def _timed(
    order: tuple[int, ...],
    stops: Sequence[Stop],
    travel_s: FloatArray,
    hours: DayHours,
    worth: float,
    bound: float,
    exact: bool,
) -> Route:
    at, now = len(stops), hours.start_s
    arrive: list[float] = []
    begin: list[float] = []
    leave: list[float] = []
    for index in order:
        arrive.append(now + float(travel_s[at, index]))
        begin.append(max(arrive[-1], stops[index].opens_s))
        now = begin[-1] + stops[index].fish_s
        leave.append(now)
        at = index
    home_s = now + float(travel_s[at, len(stops) + 1])
    return Route(order, tuple(arrive), tuple(begin), tuple(leave), home_s, worth, bound, exact)
