"""One retrieve: against the independent solver, its time over random setups, and in batches.

    python bench/retrieve.py              a few minutes, most of it for the independent solver
    python bench/retrieve.py --quick      without the independent solver
    python bench/retrieve.py --check      exits 1 if a figure misses its mark

Marks: 0.25 ms for one retrieve with contact (median of 1,000 random setups, one core), none of
10,000 fails, and two threads do 1.8 times the work of one. Times hold only on an idle machine,
so the load is printed beside them.
"""

from __future__ import annotations

import argparse
import math
import os
import sys
import time
from pathlib import Path

import numpy as np

from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve, retrieve_batch, warm_up
from leadsman.hydro.technique import Step, Technique

REFERENCE = Path(__file__).parents[1] / "tests" / "reference"
MOST_MS = 0.25
LEAST_GAIN = 1.8
Setup = tuple[LureForces, LineProperties, Technique, BottomProfile]


def random_setup(rng: np.random.Generator, scripted: bool) -> Setup:
    """A setup from the whole range of tackle, over a flat, sloping or humpy bottom."""
    lure = LureForces(
        math.radians(rng.uniform(3.0, 50.0)),
        2e-4 * 30.0 ** rng.uniform(),
        0.003 * 20.0 ** rng.uniform(),
        rng.uniform(-0.1, 0.3),
    )
    density = float(rng.choice([970.0, 1140.0, 1780.0]))
    line = LineProperties(rng.uniform(1e-4, 5.5e-4), density, 1e9 * 100.0 ** rng.uniform())
    cast = rng.uniform(8.0, 75.0)
    steps: list[Step] = []
    for _ in range(int(rng.integers(1, 7)) if scripted else 0):
        tip = float(rng.uniform(-2.0, 3.5))
        steps.append(Step("reel", rng.uniform(0.5, 8.0), rng.uniform(0.4, 3.0), tip_m=tip))
        steps.append(Step("stop", rng.uniform(0.3, 5.0)))
        lift = rng.uniform(-1.0, 1.0)
        steps.append(Step("sweep", rng.uniform(0.2, 2.0), tip_m=tip + lift, pull_back_m=lift))
    steps.append(Step("reel", speed_m_s=rng.uniform(0.4, 3.0)))
    boat = float(rng.choice([0.0, rng.uniform(-0.5, 0.5)]))
    technique = Technique(cast, rng.uniform(-2.0, 3.5), tuple(steps), boat_m_s=boat)
    x = np.linspace(0.0, cast, int(rng.choice([2, 2, 6, 20])))
    depth = rng.uniform(1.0, 7.0) + rng.choice([0.0, 0.3]) * rng.standard_normal(x.size)
    return lure, line, technique, BottomProfile(x, np.maximum(depth, 0.3))


def one_core() -> float:
    """Median time of one retrieve in contact [ms]."""
    rng = np.random.default_rng(1)
    setups, contact = [], 0
    while len(setups) < 1000:
        setup = random_setup(rng, scripted=False)
        if retrieve(*setup).first_contact_index is not None:
            setups.append(setup)
        contact += 1
    times = []
    for setup in setups:
        best = math.inf
        for _ in range(3):
            began = time.perf_counter()
            retrieve(*setup)
            best = min(best, time.perf_counter() - began)
        times.append(1e3 * best)
    share = np.percentile(times, [50, 90, 99])
    print(
        f"one retrieve with contact, one core: median {share[0]:.3f} ms, "
        f"90 % {share[1]:.3f}, 99 % {share[2]:.3f} ({len(setups)} of {contact} setups touch)"
    )
    return float(share[0])


def failures() -> int:
    """How many of 10,000 random retrieves, half of them scripted, are not solved."""
    rng = np.random.default_rng(2)
    failed = 0
    for number in range(10_000):
        lure, line, technique, bottom = random_setup(rng, scripted=number % 2 == 1)
        failed += not retrieve_batch(lure, line, technique, bottom, threads=1).solved[0]
    print(f"random retrieves that fail: {failed} of 10,000")
    return failed


def gain() -> float:
    """How much more two threads do than one, best of five each."""
    rng = np.random.default_rng(3)
    setups = [random_setup(rng, scripted=False) for _ in range(2000)]
    lures, lines, techniques = ([s[i] for s in setups] for i in range(3))
    bottom = BottomProfile.flat(3.0)
    best = {}
    for threads in (1, 2):
        best[threads] = math.inf
        for _ in range(5):
            began = time.perf_counter()
            retrieve_batch(lures, lines, techniques, bottom, threads=threads)
            best[threads] = min(best[threads], time.perf_counter() - began)
    ratio = best[1] / best[2]
    per = {threads: 1e6 * seconds / len(setups) for threads, seconds in best.items()}
    print(
        f"batch: {per[1]:.0f} us a retrieve on one thread, {per[2]:.0f} on two: {ratio:.2f} times"
    )
    return ratio


def against_reference() -> None:
    """The same retrieve by the explicit reference at about our own error, as a ratio."""
    sys.path.insert(0, str(REFERENCE))
    from slow_retrieve import Case, Leg, solve

    case = Case(
        pull_area_m2=20e-4,
        dive_angle_rad=math.radians(33.0),
        buoyancy_n=0.05,
        mass_kg=0.018,
        diameter_m=0.31e-3,
        density_kg_m3=1780.0,
        modulus_pa=2.5e9,
        cast_m=55.0,
        tip_m=0.6,
        legs=(Leg(math.inf, 1.3),),
    )
    solve(case, 12)  # compiles
    fine = solve(case, 96).max_depth_m
    lure = LureForces(case.dive_angle_rad, case.pull_area_m2, case.mass_kg, case.buoyancy_n)
    line = LineProperties(case.diameter_m, case.density_kg_m3, case.modulus_pa)
    began = time.perf_counter()
    for _ in range(200):
        ours = retrieve(lure, line, Technique.steady(55.0, 0.6, 1.3))
    seconds = (time.perf_counter() - began) / 200
    error = abs(ours.max_depth_m / fine - 1.0)
    for segments in (12, 16, 24, 32, 48, 64):
        began = time.perf_counter()
        coarse = solve(case, segments).max_depth_m
        theirs = time.perf_counter() - began
        if abs(coarse / fine - 1.0) <= max(error, 1e-3):
            break
    print(
        f"explicit reference, {segments} segments: {theirs * 1e3:.0f} ms at "
        f"{abs(coarse / fine - 1.0):.2%}; ours {seconds * 1e3:.3f} ms at {error:.2%}: "
        f"{theirs / seconds:,.0f} times faster"
    )


def main() -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="time and robustness of the retrieve")
    parser.add_argument("--check", action="store_true")
    parser.add_argument("--quick", action="store_true")
    given = parser.parse_args()
    warm_up()
    load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"
    print(f"load of the machine before: {load} on {os.cpu_count()} cores")
    milliseconds = one_core()
    ratio = gain()
    failed = failures()
    if not given.quick:
        against_reference()
    missed = milliseconds > MOST_MS or failed > 0 or ratio < LEAST_GAIN
    return 1 if given.check and missed else 0


if __name__ == "__main__":
    raise SystemExit(main())
