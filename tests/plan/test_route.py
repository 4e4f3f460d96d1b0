from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from leadsman.errors import PlanError
from leadsman.plan.route import DayHours, Route, Stop, choose_route


def _case(rng: np.random.Generator, count: int) -> tuple[list[Stop], np.ndarray, DayHours]:
    places = rng.uniform(0.0, 6000.0, (count + 1, 2))
    places = np.vstack((places, places[-1]))
    travel = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1)) / 8.0
    stops = []
    for index in range(count):
        opens = rng.uniform(0.0, 15000.0) if rng.random() < 0.3 else 0.0
        closes = opens + rng.uniform(3000.0, 20000.0) if rng.random() < 0.3 else np.inf
        stops.append(
            Stop(f"s{index}", rng.uniform(1200.0, 5400.0), rng.uniform(0.0, 5.0), opens, closes)
        )
    return stops, travel, DayHours(0.0, rng.uniform(6000.0, 28800.0), 900.0)


def _brute_force(stops: list[Stop], travel: np.ndarray, hours: DayHours) -> float:
    """Every order of every subset, by recursion: slow and plain."""
    count, best = len(stops), 0.0
    for size in range(1, count + 1):
        for order in permutations(range(count), size):
            now, at, ok = hours.start_s, count, True
            for index in order:
                now = max(now + travel[at, index], stops[index].opens_s) + stops[index].fish_s
                ok &= now <= stops[index].closes_s
                at = index
            if ok and now + travel[at, count + 1] <= hours.home_by_s:
                best = max(best, sum(stops[index].worth for index in order))
    return best


@pytest.mark.parametrize("seed", range(40))
def test_equals_brute_force(seed: int) -> None:
    rng = np.random.default_rng(seed)
    stops, travel, hours = _case(rng, int(rng.integers(1, 7)))
    route = choose_route(stops, travel, hours)
    assert route.exact
    assert route.worth == pytest.approx(_brute_force(stops, travel, hours), abs=1e-9)
    _kept(route, stops, travel, hours)


@pytest.mark.slow
@pytest.mark.parametrize("count", [8, 9])
def test_equals_brute_force_up_to_nine(count: int) -> None:
    stops, travel, hours = _case(np.random.default_rng(count), count)
    assert choose_route(stops, travel, hours).worth == pytest.approx(
        _brute_force(stops, travel, hours), abs=1e-9
    )


def _kept(route: Route, stops: list[Stop], travel: np.ndarray, hours: DayHours) -> None:
    at, now = len(stops), hours.start_s
    for index, arrive, begin, leave in zip(
        route.order, route.arrive_s, route.begin_s, route.leave_s, strict=True
    ):
        assert arrive == pytest.approx(now + travel[at, index])
        assert begin >= max(arrive, stops[index].opens_s) - 1e-9
        assert leave == pytest.approx(begin + stops[index].fish_s)
        assert leave <= stops[index].closes_s
        at, now = index, leave
    assert route.home_s == pytest.approx(now + travel[at, len(stops) + 1])
    assert route.home_s <= hours.home_by_s
    assert len(set(route.order)) == len(route.order)


@pytest.mark.parametrize("seed", range(200))
def test_never_misses_the_deadline(seed: int) -> None:
    rng = np.random.default_rng(1000 + seed)
    stops, travel, hours = _case(rng, int(rng.integers(1, 12)))
    _kept(choose_route(stops, travel, hours), stops, travel, hours)


def test_twenty_five_stretches_are_bounded() -> None:
    stops, travel, _ = _case(np.random.default_rng(5), 25)
    route = choose_route(stops, travel, DayHours(0.0, 8 * 3600.0, 900.0))
    assert route.exact
    assert route.worth == route.bound


def test_what_is_not_proved_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("leadsman.plan.route.FIRST_STATES", 5)
    monkeypatch.setattr("leadsman.plan.route.MOST_STATES", 5)
    stops, travel, _ = _case(np.random.default_rng(5), 25)
    hours = DayHours(0.0, 8 * 3600.0, 900.0)
    kept = choose_route(stops, travel, hours)
    monkeypatch.undo()
    best = choose_route(stops, travel, hours)
    assert not kept.exact
    assert kept.worth <= best.worth <= kept.bound


def test_worth_of_sets_may_be_more_than_a_sum() -> None:
    # two stretches with fish of one kind are worth no more than one of them
    stops = [Stop("a", 600.0, 2.0), Stop("b", 600.0, 2.0), Stop("c", 600.0, 1.5)]
    travel = np.full((5, 5), 60.0)
    hours = DayHours(0.0, 2 * 600.0 + 3 * 60.0)

    def score(members: np.ndarray) -> np.ndarray:
        return np.where(members[:, 0] | members[:, 1], 2.0, 0.0) + 1.5 * members[:, 2]

    assert sorted(choose_route(stops, travel, hours, score).order) in ([0, 2], [1, 2])


def test_replanning_when_a_stretch_is_taken() -> None:
    stops, travel, hours = _case(np.random.default_rng(9), 10)
    first = choose_route(stops, travel, hours)
    taken = first.order[0]
    left = [index for index in range(10) if index != taken]
    keep = np.array([*left, 10, 11])
    again = choose_route([stops[i] for i in left], travel[np.ix_(keep, keep)], hours)
    assert again.worth <= first.worth + 1e-9


def test_impossible_days_get_a_plain_answer() -> None:
    stops, travel = [Stop("a", 600.0, 1.0)], np.full((3, 3), 1e6)
    with pytest.raises(PlanError, match="Go home now"):
        choose_route(stops, travel, DayHours(0.0, 3600.0))
    with pytest.raises(PlanError, match="before the start"):
        DayHours(3600.0, 3600.0, 60.0)
    nothing = choose_route([], np.zeros((2, 2)), DayHours(0.0, 3600.0))
    assert nothing.order == () and nothing.exact
