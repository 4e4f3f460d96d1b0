"""The surrogate against the solver: error over its whole range, and time.

python bench/surrogate.py [--draws 15]
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent / "fit"))

from fit_surrogate import BOX, TEST_MESH, TRAIN_MESH, at, draw, show, solve
from scipy.stats import qmc

from leadsman.calibrate.input_spread import LureSpread
from leadsman.calibrate.quick_band import quick_band
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.surrogate import free_max_depths, free_paths
from leadsman.hydro.surrogate_groups import groups_of
from leadsman.hydro.technique import Technique


def seconds(work: Callable[[], object], repeats: int = 40) -> float:
    """Least wall time of several runs."""
    times = []
    for _ in range(repeats):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    return min(times)


def search_worst(rounds: int, seed: int) -> tuple[float, int]:
    """Largest relative error found by climbing from the worst of many draws, and its solves.

    Points of the unit cube over the box are moved at random by ever smaller steps and kept
    where the error grew and the point is still in range.
    """
    rng = np.random.default_rng(seed)
    unit = qmc.Sobol(len(BOX), seed=seed).random_base2(13)

    def error(points: np.ndarray) -> np.ndarray:
        pars, tip, speed = at(points)
        depth, inside = free_max_depths(pars, tip, speed)
        out = np.full(tip.size, -1.0)
        if inside.any():
            truth = solve(pars[inside], tip[inside], speed[inside], TRAIN_MESH)[1][:, 0]
            out[inside] = np.abs(depth[inside] / truth - 1.0)
        return out

    worst = error(unit)
    count = int(np.sum(worst >= 0.0))
    top = np.argsort(-worst)[:40]
    unit, worst = unit[top], worst[top]
    for k in range(rounds):
        step = 0.08 * 0.93**k * rng.normal(size=unit.shape) * (rng.random(unit.shape) < 0.4)
        moved = np.clip(unit + step, 0.0, 1.0)
        new = error(moved)
        count += int(np.sum(new >= 0.0))
        better = new > worst
        unit[better], worst[better] = moved[better], new[better]
    return float(worst.max()), count


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="surrogate against solver")
    parser.add_argument("--draws", type=int, default=15, help="log2 of the draws")
    parser.add_argument("--seed", type=int, default=2026)
    asked = parser.parse_args()
    pars, tip, speed = draw(asked.draws, asked.seed)
    inside = groups_of(pars, tip, speed).inside
    pars, tip, speed = pars[inside], tip[inside], speed[inside]
    paths, summary = solve(pars, tip, speed, TEST_MESH)
    truth = summary[:, 0]
    depth, _ = free_max_depths(pars, tip, speed)
    relative = np.abs(depth / truth - 1.0)
    show("greatest depth, error over depth", relative)
    largest, count = search_worst(40, asked.seed)
    print(f"largest error that a search found in range, {count} more solves: {largest:.3%}")
    quick = free_paths(pars, tip, speed)
    worst = np.zeros(truth.size)
    for i in range(truth.size):
        z = np.interp(quick.line_out_m[i], paths[i, ::-1, 3], paths[i, ::-1, 2])
        far = quick.line_out_m[i] > 0.1 * quick.line_out_m[i, 0]
        worst[i] = np.max(np.abs(z - quick.depth_m[i])[far]) / max(truth[i], 2.0)
    show("depth along the path until a tenth of the line is left", worst)

    n = min(256, truth.size)
    few = (pars[:n], tip[:n], speed[:n])
    own = seconds(lambda: free_paths(*few)) / n
    only = seconds(lambda: free_max_depths(*few)) / n
    began = time.process_time()
    solve(*few, (1.0, 1.0))
    full = (time.process_time() - began) / n
    print(f"a path: {own * 1e6:.1f} us; a greatest depth: {only * 1e6:.1f} us, one core")
    print(f"the solver: {full * 1e6:.0f} us of one core; ratio {full / own:.0f}, {full / only:.0f}")

    lure = LureSpread(LureForces(math.radians(33.0), 20e-4, 0.02, 0.05), math.radians(2.0), 0.25)
    line = LineProperties(0.31e-3, 1780.0, 2e9)
    casts = [Technique.steady(30.0 + 0.03 * k) for k in range(1000)]
    quick_band(lure, line, casts[0])

    def thousand() -> None:
        with ThreadPoolExecutor(2) as pool:
            list(pool.map(lambda cast: quick_band(lure, line, cast), casts))

    began = time.process_time()
    thousand()
    spent = time.process_time() - began
    wall = seconds(thousand, 3)
    print(f"1,000 depths with their bands on two threads: {wall:.2f} s, {spent:.2f} s of processor")


if __name__ == "__main__":
    main()
