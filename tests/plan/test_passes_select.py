"""Chosen casts against an exact solver, and the bounds against both."""

from __future__ import annotations

import itertools
import math

import numpy as np
import numpy.typing as npt
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from leadsman.belief.coverage import Coverage
from leadsman.errors import PlanError
from leadsman.plan.passes_select import Offer, select_casts, upper_bound


def offer_of(seed: int, positions: int = 6, per_place: int = 3, cells: int = 30) -> Offer:
    """Casts along a line, each covering a run of cells with some chance."""
    rng = np.random.default_rng(seed)
    casts = positions * per_place
    chance = np.zeros((casts, cells))
    for i in range(casts):
        start = int(rng.integers(-3, cells - 3))
        run = int(rng.integers(3, 10))
        chance[i, max(start, 0) : start + run] = rng.uniform(0.3, 1.0)
    return Offer(
        Coverage(rng.uniform(1.0, 3.0, cells), csr_array(chance)),
        np.repeat(np.arange(positions), per_place),
        rng.uniform(30.0, 60.0, casts),
        rng.uniform(20.0, 90.0, positions),
    )


def exact(offer: Offer, budget_s: float) -> float:
    """Best cover by mixed integer programming with tangents (outer approximation).

    A cell's cover 1 - exp(-y) with y = sum x log(1 / (1 - p)) is concave in y, so tangents
    bound it from above; they are added at each answer until the answer is as good as its bound.
    """
    coverage = offer.coverage
    casts, cells, places = coverage.casts, coverage.weight.size, offer.open_s.size
    rate = -np.log1p(-np.minimum(coverage.chance.toarray(), 1.0 - 1e-9))
    size = casts + places + cells
    rows, highs = [], []

    def row(values: dict[int, float], high: float) -> None:
        line = np.zeros(size)
        for place, value in values.items():
            line[place] = value
        rows.append(line)
        highs.append(high)

    row(
        dict(enumerate(offer.cast_s)) | {casts + p: s for p, s in enumerate(offer.open_s)},
        budget_s,
    )
    for i in range(casts):
        row({i: 1.0, casts + int(offer.position[i]): -1.0}, 0.0)

    def tangent(cell: int, y: float) -> None:
        # cover <= 1 - e^-y0 + e^-y0 (y - y0)
        steep = math.exp(-y)
        values = {i: -steep * rate[i, cell] for i in range(casts) if rate[i, cell] > 0.0}
        row(values | {casts + places + cell: 1.0}, 1.0 - steep - steep * y)

    for cell, y in itertools.product(range(cells), (0.0, 0.7, 2.0)):
        tangent(cell, y)
    cost = np.concatenate([np.zeros(casts + places), -coverage.weight])
    whole = np.concatenate([np.ones(casts + places), np.zeros(cells)])
    best = 0.0
    for _ in range(60):
        found = milp(
            cost,
            constraints=LinearConstraint(np.array(rows), -np.inf, np.array(highs)),
            bounds=Bounds(0.0, 1.0),
            integrality=whole,
        )
        chosen = np.flatnonzero(found.x[:casts] > 0.5)
        best = max(best, coverage.covered(chosen))
        if -found.fun <= best * (1.0 + 1e-4) + 1e-9:
            return best
        y = rate[chosen].sum(axis=0)
        for cell in range(cells):
            tangent(cell, float(y[cell]))
    raise AssertionError("the outer approximation did not close")


def brute(offer: Offer, budget_s: float) -> float:
    every = range(offer.coverage.casts)
    return max(
        offer.coverage.covered(s)
        for k in range(1, offer.coverage.casts + 1)
        for s in itertools.combinations(every, k)
        if offer.seconds(s) <= budget_s
    )


def test_the_exact_solver_is_exact() -> None:
    offer = offer_of(3, positions=3, per_place=3, cells=12)
    assert exact(offer, 260.0) == pytest.approx(brute(offer, 260.0), rel=2e-4)


def test_at_least_95_percent_of_the_exact_best_on_20_small_cases() -> None:
    shares = []
    for seed in range(20):
        offer = offer_of(seed)
        budget = 250.0 + 15.0 * seed
        found = select_casts(offer, budget)
        best = exact(offer, budget)
        assert found.seconds <= budget + 1e-9
        assert found.bound_m >= best * (1.0 - 2e-4)
        shares.append(found.covered_m / best)
    print(f"least {min(shares):.3f}, mean {np.mean(shares):.3f} of the exact best")
    assert min(shares) >= 0.95


def test_bound_holds_for_any_choice() -> None:
    offer = offer_of(1, positions=3, per_place=3, cells=12)
    best = brute(offer, 240.0)
    chosen: tuple[int, ...]
    for chosen in ((), (0,), (2, 5)):
        assert upper_bound(offer, chosen, 240.0) >= best - 1e-9


def test_what_is_covered_is_not_taken_twice() -> None:
    same = np.tile(np.array([[1.0] * 5 + [0.0] * 5]), (3, 1))
    other = np.array([[0.0] * 5 + [1.0] * 5])
    offer = Offer(
        Coverage(np.ones(10), csr_array(np.vstack([same, other]))),
        np.array([0, 0, 1, 1]),
        np.full(4, 40.0),
        np.full(2, 30.0),
    )
    found = select_casts(offer, None)
    assert found.covered_m == pytest.approx(10.0)
    assert len(found.casts) == 2
    assert found.seconds == pytest.approx(110.0)  # both from the one place that has both


def test_without_a_budget_it_stops_where_it_no_longer_pays() -> None:
    weights: npt.NDArray[np.float64] = np.array([20.0, 20.0, 1.0])
    offer = Offer(
        Coverage(weights, csr_array(np.eye(3))), np.arange(3), np.full(3, 40.0), np.full(3, 40.0)
    )
    assert set(select_casts(offer, None, 0.5).casts) == {0, 1}
    assert set(select_casts(offer, None, 0.0).casts) == {0, 1, 2}


def test_refuses_casts_without_time() -> None:
    with pytest.raises(PlanError):
        Offer(Coverage(np.ones(1), csr_array(np.eye(1))), np.array([0]), np.zeros(1), np.zeros(1))
