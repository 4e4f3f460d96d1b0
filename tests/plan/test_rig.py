from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest

from leadsman.errors import PlanError
from leadsman.plan.rig import RiggedRod, RigProblem, best_rig, greedy_rig, worth_of


def _case(rng: np.random.Generator) -> RigProblem:
    rods, lines, lures, targets = (int(rng.integers(1, top)) for top in (4, 3, 5, 6))
    zone = rng.uniform(0.0, 30.0, (rods, lines, lures, targets))
    zone[rng.random(zone.shape) < 0.4] = 0.0
    zone[..., 0] += 1.0
    return RigProblem(
        zone,
        rng.dirichlet(np.ones(targets)),
        tuple(int(line) for line in rng.integers(-1, lines, rods)),
        rods_used=int(rng.integers(1, rods + 1)),
        snaps=int(rng.integers(0, 3)),
        respool_m=float(rng.uniform(0.0, 3.0)),
        snap_share=float(rng.uniform(0.0, 0.3)),
    )


def _brute_force(problem: RigProblem) -> float:
    """Every line and every tied and snapped lure on every rod: slow and plain."""
    rods, lines, lures, _ = problem.zone_m.shape
    best = 0.0

    def options(rod: int, free: frozenset[int]) -> list[RiggedRod | None]:
        found: list[RiggedRod | None] = [None]
        for line, tied in product(range(lines), sorted(free)):
            if not problem.allowed[rod, line, tied]:
                continue
            others = [n for n in sorted(free - {tied}) if problem.allowed[rod, line, n]]
            for size in range(min(problem.snaps, len(others)) + 1):
                found += [RiggedRod(rod, line, tied, c) for c in combinations(others, size)]
        return found

    def walk(rod: int, free: frozenset[int], chosen: tuple[RiggedRod, ...]) -> None:
        nonlocal best
        if rod == rods:
            best = max(best, worth_of(problem, chosen).worth_m)
            return
        for item in options(rod, free):
            if item is None:
                walk(rod + 1, free, chosen)
            elif len(chosen) < problem.rods_used:
                walk(rod + 1, free - {item.tied, *item.snaps}, (*chosen, item))

    walk(0, frozenset(range(lures)), ())
    return best


@pytest.mark.parametrize("block", range(10))
def test_equals_brute_force(block: int) -> None:
    # 200 small random cases in all
    for seed in range(block * 20, block * 20 + 20):
        problem = _case(np.random.default_rng(seed))
        rig = best_rig(problem)
        assert rig.proved
        # HiGHS accepts integers to 1e-6, so its best may be that little off
        assert rig.worth_m == pytest.approx(_brute_force(problem), abs=1e-5), seed
        assert greedy_rig(problem).worth_m <= rig.worth_m + 1e-9


def test_each_lure_is_tied_once_and_each_rod_keeps_its_limits() -> None:
    for seed in range(50):
        problem = _case(np.random.default_rng(1000 + seed))
        rig = best_rig(problem)
        used = [lure for item in rig.rods for lure in (item.tied, *item.snaps)]
        assert len(used) == len(set(used))
        assert len(rig.rods) <= problem.rods_used
        assert all(len(item.snaps) <= problem.snaps for item in rig.rods)
        assert all(
            problem.allowed[item.rod, item.line, lure]
            for item in rig.rods
            for lure in (item.tied, *item.snaps)
        )


def test_greedy_can_be_beaten() -> None:
    # one lure that is fair everywhere takes the only rod from the two that are best together
    zone = np.zeros((2, 1, 3, 2))
    zone[0, 0] = [[6.0, 6.0], [10.0, 0.0], [0.0, 0.0]]
    zone[1, 0] = [[0.0, 0.0], [0.0, 0.0], [0.0, 10.0]]
    zone[0, 0, 2] = [0.0, 0.0]
    problem = RigProblem(zone, np.array([0.5, 0.5]), (0, 0), rods_used=2, snaps=0)
    assert best_rig(problem).worth_m == pytest.approx(10.0)
    assert greedy_rig(problem).worth_m <= 10.0


def test_a_line_that_is_spooled_stays_unless_another_earns_its_cost() -> None:
    zone = np.zeros((1, 2, 1, 1))
    zone[0, :, 0, 0] = [10.0, 10.4]
    stay = RigProblem(zone, np.ones(1), (0,), 1, respool_m=0.5)
    go = RigProblem(zone, np.ones(1), (0,), 1, respool_m=0.1)
    assert best_rig(stay).rods[0].line == 0
    assert best_rig(go).rods[0].line == 1


def _kit(rods: int, lures: int, targets: int) -> RigProblem:
    """A ladder of lures over a ladder of depths; a longer rod gives a little more of everything."""
    runs = np.random.default_rng(3).uniform(1.0, 8.0, lures) - 0.2 * np.arange(6)[:, None]
    ask = np.linspace(1.0, 8.0, targets)
    zone = 20.0 * np.exp(-0.5 * ((runs[..., None] - ask - 0.4) / 0.5) ** 2)
    full = zone * (1.0 + 0.05 * np.arange(rods)[:, None, None, None])
    full[full < 1.0] = 0.0
    return RigProblem(
        full, np.full(targets, 1.0 / targets), tuple(range(rods)), rods_used=min(rods, 4), snaps=2
    )


def test_a_kit_is_proved_and_beats_greed() -> None:
    problem = _kit(3, 12, 12)
    rig = best_rig(problem, seconds=60.0)
    assert rig.proved
    assert rig.worth_m > greedy_rig(problem).worth_m


def test_a_large_kit_is_bounded_in_time() -> None:
    problem = _kit(6, 20, 20)
    rig = best_rig(problem, seconds=1.0)
    ceiling = float(problem.chance @ problem.zone_m.max(axis=(0, 1, 2)))
    assert rig.worth_m <= rig.bound_m <= ceiling + 1e-6


def test_nothing_to_rig_is_said() -> None:
    with pytest.raises(PlanError, match="nothing in the kit"):
        best_rig(RigProblem(np.zeros((1, 1, 1, 1)), np.ones(1), (0,), 1))
    with pytest.raises(PlanError, match="no rod"):
        RigProblem(np.zeros((1, 1, 1, 1)), np.ones(1), (0,), 0)
