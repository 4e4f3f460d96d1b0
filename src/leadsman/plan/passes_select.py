"""Which casts from which boat positions: the most new edge in the time there is.

A position costs time to reach and hold, each cast its own. What casts cover is submodular
(`leadsman.belief.coverage`), so greedy choice by gain over time is good, and what it misses
is bounded: no set can add more to what is covered than its casts would each add alone
(Nemhauser, Wolsey & Fisher 1978; Leskovec et al. 2007, KDD, section 3.2, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import numpy.typing as npt

from leadsman.belief.coverage import Coverage
from leadsman.errors import PlanError

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

BUNDLES_TRIED = 40
"""New positions looked at closely in each step, the most promising first [-]."""

LARGEST_BUNDLE = 8
"""Most casts a new position is opened with; more may be added later [-]."""

ROUNDS = 3
"""Rounds of taking something out and choosing again [-]."""

STARTS = 10
"""Positions at which the choice is begun anew where casts are few [-]."""

PAIRS_UP_TO = 6
"""Most positions of which pairs are taken out too [-]."""


@dataclass(frozen=True, slots=True)
class Offer:
    """Casts on offer and what they cost.

    Parameters
    ----------
    coverage : Coverage
        What each covers [m].
    position : ndarray of int, shape (casts,)
        Boat position of each cast, from 0 [-].
    cast_s : ndarray, shape (casts,)
        Time of each cast [s].
    open_s : ndarray, shape (positions,)
        Time to reach and hold each position [s].
    """

    coverage: Coverage
    position: IntArray
    cast_s: FloatArray
    open_s: FloatArray

    def __post_init__(self) -> None:
        casts = self.coverage.casts
        if self.position.shape != (casts,) or self.cast_s.shape != (casts,):
            raise PlanError("each cast needs a position and a time", "casts")
        if casts and not (np.all(self.cast_s > 0.0) and np.all(self.open_s >= 0.0)):
            raise PlanError("a cast takes more than 0 s", "casts")

    def seconds(self, casts: Sequence[int]) -> float:
        """Time of some casts and their positions.

        Parameters
        ----------
        casts : sequence of int
            The casts [-].
        """
        chosen = np.asarray(casts, dtype=np.int64)
        places = np.unique(self.position[chosen])
        return float(np.sum(self.cast_s[chosen]) + np.sum(self.open_s[places]))


@dataclass(frozen=True, slots=True)
class Selection:
    """Chosen casts.

    Parameters
    ----------
    casts : tuple of int
        In the order in which they were chosen [-].
    covered_m : float
        What they cover [m].
    seconds : float
        What they take [s].
    bound_m : float
        No choice covers more in the time allowed [m].
    """

    casts: tuple[int, ...]
    covered_m: float
    seconds: float
    bound_m: float


def select_casts(
    offer: Offer,
    budget_s: float | None = None,
    worth_share: float = 0.5,
    thorough: bool = True,
) -> Selection:
    """Choose casts.

    Parameters
    ----------
    offer : Offer
        What is on offer [-].
    budget_s : float or None
        Time there is; None goes on while the next casts bring at least `worth_share` of
        the best rate so far [s].
    worth_share : float
        That share [-].
    thorough : bool
        Whether to begin at several places and exchange casts, which takes
        many times as long and gains a few percent [-].

    Returns
    -------
    Selection
        The casts. With a budget the bound is for it, else for the time they take.
    """
    chosen = _greedy(offer, budget_s, worth_share, ())
    limit = offer.seconds(chosen) if budget_s is None else budget_s
    starts = (chosen, *_other_starts(offer, chosen, limit)) if thorough else ()
    chosen = max(
        (_improved(offer, start, limit) for start in starts),
        key=offer.coverage.covered,
        default=chosen,
    )
    covered = offer.coverage.covered(chosen)
    return Selection(
        tuple(chosen),
        covered,
        offer.seconds(chosen),
        max(upper_bound(offer, chosen, limit), covered),
    )


def _greedy(
    offer: Offer,
    budget_s: float | None,
    worth_share: float,
    start: Sequence[int],
    barred: frozenset[int] = frozenset(),
) -> list[int]:
    """Add the single cast or new position with the best gain over time until none fits or pays."""
    chosen = list(start)
    left = offer.coverage.uncovered(chosen)
    opened = np.zeros(offer.open_s.size, dtype=np.bool_)
    opened[offer.position[chosen]] = True
    taken = np.zeros(offer.coverage.casts, dtype=np.bool_)
    taken[chosen] = True
    if barred:
        taken[list(barred)] = True
    spent = offer.seconds(chosen)
    best_rate = 0.0
    while True:
        room = np.inf if budget_s is None else budget_s - spent
        step = _best_step(offer, left, opened, taken, room)
        if step is None:
            return chosen
        casts, gain, seconds = step
        covered = offer.coverage.covered(chosen) + gain
        if budget_s is None and chosen and gain / seconds < worth_share * best_rate:
            return chosen
        chosen += casts
        spent += seconds
        best_rate = max(best_rate, covered / spent)
        for cast in casts:
            left = offer.coverage.after(left, cast)
            taken[cast] = True
            opened[offer.position[cast]] = True


def _best_step(
    offer: Offer,
    left: FloatArray,
    opened: npt.NDArray[np.bool_],
    taken: npt.NDArray[np.bool_],
    room_s: float,
) -> tuple[list[int], float, float] | None:
    gains = np.where(taken, 0.0, offer.coverage.gains(left))
    best: tuple[list[int], float, float] | None = None
    here = opened[offer.position] & (gains > 1e-9) & (offer.cast_s <= room_s)
    if np.any(here):
        rate = np.where(here, gains / offer.cast_s, 0.0)
        cast = int(np.argmax(rate))
        best = ([cast], float(gains[cast]), float(offer.cast_s[cast]))
    for place in _promising(offer, gains, opened, room_s):
        bundle = _bundle(offer, left, gains, place, room_s)
        if bundle is not None and (best is None or bundle[1] / bundle[2] > best[1] / best[2]):
            best = bundle
    return best


def _promising(
    offer: Offer, gains: FloatArray, opened: npt.NDArray[np.bool_], room_s: float
) -> list[int]:
    """New positions by an upper bound of their rate, the best first."""
    value = np.where(offer.cast_s + offer.open_s[offer.position] <= room_s, gains, 0.0)
    order = np.lexsort((-value, offer.position))
    place = offer.position[order]
    first = np.searchsorted(place, np.arange(offer.open_s.size))
    rank = np.arange(order.size) - first[place]
    total = np.zeros(offer.open_s.size)
    seconds = offer.open_s.copy()
    rates = np.zeros(offer.open_s.size)
    for k in range(LARGEST_BUNDLE):
        at = order[rank == k]
        total[offer.position[at]] += value[at]
        seconds[offer.position[at]] += offer.cast_s[at]
        rates = np.maximum(rates, total / np.maximum(seconds, 1e-9))
    rates[opened] = 0.0
    best = np.argsort(-rates, kind="stable")[:BUNDLES_TRIED]
    return [int(p) for p in best if rates[p] > 0.0]


def _bundle(
    offer: Offer, left: FloatArray, gains: FloatArray, place: int, room_s: float
) -> tuple[list[int], float, float] | None:
    """A new position with the number of casts that gives it the best rate."""
    casts = np.flatnonzero((offer.position == place) & (gains > 1e-9))
    own = offer.coverage.rows(list(casts))
    chosen: list[int] = []
    total, seconds = 0.0, float(offer.open_s[place])
    best: tuple[list[int], float, float] | None = None
    for _ in range(min(LARGEST_BUNDLE, casts.size)):
        gain = own.gains(left)
        fits = offer.cast_s[casts] + seconds <= room_s
        fits[chosen] = False
        rate = np.where(fits, gain / offer.cast_s[casts], 0.0)
        k = int(np.argmax(rate))
        if rate[k] <= 0.0:
            break
        chosen.append(k)
        total += float(gain[k])
        seconds += float(offer.cast_s[casts[k]])
        left = own.after(left, k)
        if best is None or total / seconds > best[1] / best[2]:
            best = ([int(casts[i]) for i in chosen], total, seconds)
    return best


def _other_starts(offer: Offer, chosen: Sequence[int], limit_s: float) -> list[list[int]]:
    """Begin at other positions too, the more the fewer casts there are to choose."""
    count = min(STARTS, 2 * STARTS // max(len(chosen), 1))
    left = offer.coverage.nothing()
    gains = offer.coverage.gains(left)
    none = np.zeros(offer.open_s.size, dtype=np.bool_)
    made = []
    for place in _promising(offer, gains, none, limit_s)[:count]:
        bundle = _bundle(offer, left, gains, place, limit_s)
        if bundle is not None:
            made.append(_greedy(offer, limit_s, 0.0, bundle[0]))
    return made


def _improved(offer: Offer, chosen: list[int], limit_s: float) -> list[int]:
    """Fill the time that is left, then take a place, two or a cast out and choose again."""
    best = _greedy(offer, limit_s, 0.0, chosen)
    value = offer.coverage.covered(best)
    for _ in range(ROUNDS):
        before = value
        for out in _exchanges(offer, best):
            if not out <= set(best):
                continue
            rest = [cast for cast in best if cast not in out]
            for barred in (frozenset(out), frozenset()):
                other = _greedy(offer, limit_s, 0.0, rest, barred)
                worth = offer.coverage.covered(other)
                if worth > value + 1e-9:
                    best, value = other, worth
                    break
        if value <= before + 1e-9:
            break
    return best


def _exchanges(offer: Offer, chosen: Sequence[int]) -> list[set[int]]:
    """What may be taken out: each place with its casts, each cast, and pairs of few places."""
    at: dict[int, set[int]] = {}
    for cast in chosen:
        at.setdefault(int(offer.position[cast]), set()).add(cast)
    out = list(at.values())
    out += [{cast} for casts in at.values() if len(casts) > 1 for cast in casts]
    if len(at) <= PAIRS_UP_TO:
        out += [a | b for a, b in combinations(at.values(), 2)]
    return out


def upper_bound(offer: Offer, chosen: Sequence[int], limit_s: float) -> float:
    """No choice of casts covers more within the time.

    Parameters
    ----------
    offer : Offer
        What is on offer [-].
    chosen : sequence of int
        Any choice; the better, the closer the bound [-].
    limit_s : float
        The time [s].

    Returns
    -------
    float
        The least of two bounds: from what is covered already and from nothing [m].
    """
    whole = float(np.sum(offer.coverage.weight))
    found = [whole]
    for start in (tuple(chosen), ()):
        left = offer.coverage.uncovered(start)
        base = float(offer.coverage.weight @ (1.0 - left))
        gains = offer.coverage.gains(left)
        gains[list(start)] = 0.0  # they are counted in the base
        found.append(base + _most_added(offer, gains, limit_s))
    return min(found)


def _most_added(offer: Offer, gains: FloatArray, limit_s: float) -> float:
    """Fractional knapsack over the concave hulls of the positions' gains by time."""
    slopes: list[float] = []
    widths: list[float] = []
    for place in np.unique(offer.position):
        casts = np.flatnonzero((offer.position == place) & (gains > 0.0))
        casts = casts[np.argsort(-gains[casts] / offer.cast_s[casts])]
        t = np.concatenate([[0.0], offer.open_s[place] + np.cumsum(offer.cast_s[casts])])
        g = np.concatenate([[0.0], np.cumsum(gains[casts])])
        at = 0
        while at < t.size - 1:
            rise = (g[at + 1 :] - g[at]) / (t[at + 1 :] - t[at])
            k = int(np.argmax(rise))
            if rise[k] <= 0.0:
                break
            slopes.append(float(rise[k]))
            widths.append(float(t[at + 1 + k] - t[at]))
            at += 1 + k
    order = np.argsort(-np.asarray(slopes)) if slopes else np.empty(0, dtype=np.int64)
    added, room = 0.0, limit_s
    for i in order:
        use = min(widths[i], room)
        added += slopes[i] * use
        room -= use
        if room <= 0.0:
            break
    return added
