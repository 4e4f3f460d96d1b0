"""From factors to a belief: product, floor, bands, covers, and each factor's part."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from leadsman.belief.levels import COVERS, LADDER, Cover, DepthBands
from leadsman.plan.day_types import BandChance, Day, DayFactor, DepthMiddle, FloatArray

DOUBT = 0.1
"""Share of the belief that only the start and oxygen shape [-]: the factors are rough, and several
tell of one thing, so their product is too sure. Own assumption, spread 0.05 to 0.2."""
LEAST_COVER = 0.04
"""Least chance of a cover the angler has not ruled out [-]. Own assumption."""
HARD = ("start", "oxygen")
"""Factors that also shape the share left to doubt [-]."""


def integral(depth_m: FloatArray, values: FloatArray) -> float:
    """Integral over depth by the trapezoid rule [unit of the values times m].

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Grid of depths [m].
    values : ndarray, shape (n,)
        Values on it [any].
    """
    return float(np.sum(0.5 * (values[1:] + values[:-1]) * np.diff(depth_m)))


def density(depth_m: FloatArray, weight: FloatArray) -> FloatArray:
    """A weight on depth as a density that integrates to 1 [m-1].

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Even grid of depths [m].
    weight : ndarray, shape (n,)
        Weight [-].
    """
    return np.asarray(weight / integral(depth_m, weight), dtype=np.float64)


def combined(
    depth_m: FloatArray, factors: Sequence[DayFactor], extra: FloatArray | None = None
) -> FloatArray:
    """Density of the belief that some factors make together [m-1].

    Their product, each to the power of its strength, mixed with a share of doubt that only the
    start and oxygen shape.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Even grid of depths [m].
    factors : sequence of DayFactor
        Factors [-].
    extra : ndarray, shape (n,), or None
        One more factor, such as the light of one hour [-].
    """
    product, doubt = np.ones_like(depth_m), np.ones_like(depth_m)
    for factor in factors:
        product = product * factor.depth**factor.strength
        if factor.key in HARD:
            doubt = doubt * factor.depth**factor.strength
    if extra is not None:
        product = product * extra
    return (1.0 - DOUBT) * density(depth_m, product) + DOUBT * density(depth_m, doubt)


def risen(depth_m: FloatArray, fish_per_m: FloatArray, come_up_m: float) -> FloatArray:
    """Density over the depth of a lure that is taken by fish there or below it [m-1].

    A fish at a depth is as likely to take a lure at any depth from its own up to `come_up_m`
    above it: own assumption.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Even grid of depths [m].
    fish_per_m : ndarray, shape (n,)
        Density over the depth of the fish [m-1].
    come_up_m : float
        How far fish rise to a lure [m].
    """
    step = float(depth_m[1] - depth_m[0])
    cells = round(come_up_m / step)
    if cells < 1:
        return fish_per_m
    padded = np.concatenate((fish_per_m, np.zeros(cells)))
    mean = sum(padded[i : i + fish_per_m.size] for i in range(cells + 1)) / (cells + 1)
    return density(depth_m, np.asarray(mean, dtype=np.float64))


def middle_of(depth_m: FloatArray, per_m: FloatArray) -> DepthMiddle:
    """Median, half and nine tenths of a density.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Grid of depths [m].
    per_m : ndarray, shape (n,)
        Density [m-1].
    """
    below = _cumulative(depth_m, per_m)
    marks = np.interp((0.5, 0.25, 0.75, 0.05, 0.95), below, depth_m)
    return DepthMiddle(*(float(mark) for mark in marks))


def band_chances(
    depth_m: FloatArray, fish_per_m: FloatArray, lure_per_m: FloatArray, ladder: DepthBands = LADDER
) -> tuple[BandChance, ...]:
    """Chances of the bands of the ladder down to the bottom, and of what lies deeper.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Grid of depths [m].
    fish_per_m, lure_per_m : ndarray, shape (n,)
        Densities [m-1].
    ladder : DepthBands
        Bands [m].
    """
    deepest = float(depth_m[-1])
    edges = [edge for edge in ladder.edges_m if edge < deepest - 1e-9] + [deepest]
    fish = np.diff(np.interp(edges, depth_m, _cumulative(depth_m, fish_per_m)))
    lure = np.diff(np.interp(edges, depth_m, _cumulative(depth_m, lure_per_m)))
    return tuple(
        BandChance(low, high, float(f), float(r))
        for low, high, f, r in zip(edges, edges[1:], fish, lure, strict=False)
    )


def share_below(depth_m: FloatArray, per_m: FloatArray, limit_m: float) -> float:
    """Belief below a depth [-].

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Grid of depths [m].
    per_m : ndarray, shape (n,)
        Density [m-1].
    limit_m : float
        Depth [m].
    """
    return 1.0 - float(np.interp(limit_m, depth_m, _cumulative(depth_m, per_m)))


def cover_chances(day: Day, factors: Sequence[DayFactor]) -> dict[Cover, float]:
    """Chance of each cover [-].

    Parameters
    ----------
    day : Day
        The angler's own weights [-].
    factors : sequence of DayFactor
        Factors [-].
    """
    weights: dict[Cover, float] = {}
    for cover in COVERS:
        weight = 1.0
        for factor in factors:
            weight *= factor.cover.get(cover, 1.0) ** factor.strength
        weights[cover] = weight
    total = sum(weights.values())
    spare = 1.0 - LEAST_COVER * len(COVERS)
    chances = {cover: LEAST_COVER + spare * weights[cover] / total for cover in COVERS}
    if day.cover_weights:
        chances = {c: p * day.cover_weights.get(c, 1.0) for c, p in chances.items()}
        total = sum(chances.values())
        chances = {c: p / total for c, p in chances.items()}
    return chances


def joint_chances(
    day: Day, bands: Sequence[BandChance], covers: Mapping[Cover, float]
) -> FloatArray:
    """Chance of each band of depth with each cover [-].

    Some pairs go together (the edge lies at one depth, flats are shallow, open water is deep), by
    weights that are own assumptions; they are scaled until rows and columns add up to the chances
    of bands and covers (iterative proportional fitting, Deming & Stephan 1940, from memory).

    Parameters
    ----------
    day : Day
        Day, for the depth of the grass edge [-].
    bands : sequence of BandChance
        Bands [-].
    covers : mapping of str to float
        Chances of covers [-].

    Returns
    -------
    ndarray, shape (bands, covers)
        Chances, 1 in all [-].
    """
    middle = np.array([0.5 * (band.low_m + band.high_m) for band in bands])
    edge = day.grass_edge_m
    at, half = (edge.value, max(0.5 * (edge.high - edge.low), 1.0)) if edge else (3.5, 2.0)
    fits = {
        "edge": 0.1 + np.exp(-0.5 * ((middle - at) / half) ** 2),
        "flat": 0.1 + 1.0 / (1.0 + np.exp((middle - at) / 0.8)),
        "drop": np.full_like(middle, 0.6),
        "open_water": 0.1 + 1.0 / (1.0 + np.exp(-(middle - 4.0) / 1.0)),
    }
    table = np.stack([fits[cover] for cover in COVERS], axis=1)
    rows = np.array([band.lure for band in bands]) + 1e-12
    columns = np.array([covers[cover] for cover in COVERS]) + 1e-12
    rows, columns = rows / rows.sum(), columns / columns.sum()
    for _ in range(200):
        table = table * (rows / table.sum(axis=1))[:, None]
        table = table * (columns / table.sum(axis=0))[None, :]
    return np.asarray(table, dtype=np.float64)


def median_band_m(
    depth_m: FloatArray, factors: Sequence[DayFactor], median_m: float
) -> tuple[float, float]:
    """Middle of the belief if the factors counted half or double.

    How strongly a factor counts is mostly an assumption, taken as good to a factor of two, each
    apart from the others: their shifts add as squares.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Grid of depths [m].
    factors : sequence of DayFactor
        Factors [-].
    median_m : float
        Middle of the belief as it is [m].

    Returns
    -------
    tuple of float
        Shallow and deep end [m].
    """
    base = middle_of(depth_m, combined(depth_m, factors)).median
    up, down = 0.0, 0.0
    for i, factor in enumerate(factors):
        shifts = [0.0]
        for scale in (0.5, 2.0):
            changed = replace(factor, strength=scale * factor.strength)
            others = [*factors[:i], changed, *factors[i + 1 :]]
            shifts.append(middle_of(depth_m, combined(depth_m, others)).median - base)
        up += min(shifts) ** 2
        down += max(shifts) ** 2
    return (
        max(median_m - math.sqrt(up), 0.0),
        min(median_m + math.sqrt(down), float(depth_m[-1])),
    )


def with_parts(depth_m: FloatArray, factors: Sequence[DayFactor]) -> tuple[DayFactor, ...]:
    """Factors with what each moves: the belief with all of them against that without one.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Grid of depths [m].
    factors : sequence of DayFactor
        Factors [-].
    """
    whole = combined(depth_m, factors)
    median = middle_of(depth_m, whole).median
    told: list[DayFactor] = []
    for i, factor in enumerate(factors):
        others = combined(depth_m, [*factors[:i], *factors[i + 1 :]])
        moved = 0.5 * integral(depth_m, np.abs(whole - others))
        told.append(
            replace(factor, shift_m=median - middle_of(depth_m, others).median, moved=moved)
        )
    return tuple(told)


def _cumulative(depth_m: FloatArray, per_m: FloatArray) -> FloatArray:
    steps = 0.5 * (per_m[1:] + per_m[:-1]) * np.diff(depth_m)
    total = np.concatenate(([0.0], np.cumsum(steps)))
    return np.asarray(total / total[-1], dtype=np.float64)
