"""Play simulated days with every policy and print how they compare.

    python -m bench.days [--days 1000] [--seed 0] [--settings other.toml] [--jobs 2]

Prints bites by kind of day, the ratio of the advice to each policy with its
bootstrap interval, regret against the oracle with its spread, and how often
the advice spoke.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from multiprocessing import Pool
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from bench.days.advised import Advised
from bench.days.baselines import (
    Oracle,
    Policy,
    Rotate,
    RotateAtSpot,
    StickToSetup,
    StickToSpot,
    play,
)
from bench.days.world import draw_day, load_settings

FloatArray = npt.NDArray[np.float64]

POLICIES: dict[str, Callable[[], Policy]] = {
    "advice": Advised,
    "stick to first spot and setup": StickToSpot,
    "stick to first setup, plan's places": StickToSetup,
    "rotate rods and sounds, plan's places": Rotate,
    "rotate rods and sounds, first spot": RotateAtSpot,
    "oracle": Oracle,
}


@dataclass(frozen=True, slots=True)
class Outcome:
    """Bites of one day under every policy, and how often the advice spoke."""

    kind: str
    bites: tuple[int, ...]
    changes: int


def play_all(task: tuple[str, int], settings: dict[str, Any]) -> Outcome:
    """Play one day once with each policy, from the same draw of the truth."""
    kind, seed = task
    bites: list[int] = []
    changes = 0
    for make in POLICIES.values():
        policy = make()
        bites.append(play(draw_day(settings, kind, seed), policy))
        if isinstance(policy, Advised):
            changes = policy.changes
    return Outcome(kind, tuple(bites), changes)


def tasks(settings: dict[str, Any], days: int, seed: int) -> list[tuple[str, int]]:
    """Days by kind in the shares of the settings' mix."""
    mix: dict[str, float] = settings["mix"]
    total = sum(mix.values())
    chosen: list[tuple[str, int]] = []
    for kind, share in mix.items():
        chosen += [(kind, seed * 1_000_000 + i) for i in range(round(days * share / total))]
    return chosen


def run(settings: dict[str, Any], days: int, seed: int, jobs: int) -> list[Outcome]:
    """Play many days."""
    todo = tasks(settings, days, seed)
    one = partial(play_all, settings=settings)
    if jobs <= 1:
        return [one(task) for task in todo]
    with Pool(jobs) as pool:
        return pool.map(one, todo, chunksize=4)


def ratio(outcomes: list[Outcome], policy: int) -> tuple[float, float, float]:
    """Bites of the advice over those of a policy, with a 95 % bootstrap interval over days."""
    bites = np.array([o.bites for o in outcomes], dtype=float)
    rng = np.random.default_rng(0)
    picks = rng.integers(0, len(bites), (2000, len(bites)))
    sums = bites[picks].sum(axis=1)
    found = sums[:, 0] / np.maximum(sums[:, policy], 1e-9)
    low, high = np.quantile(found, [0.025, 0.975])
    return float(bites[:, 0].sum() / max(bites[:, policy].sum(), 1e-9)), float(low), float(high)


def report(outcomes: list[Outcome]) -> str:
    """The table and the ratios as text."""
    names = list(POLICIES)
    lines = ["bites a day by kind: " + "; ".join(f"({i}) {n}" for i, n in enumerate(names))]
    head = "".join(f"{f'({i})':>8}" for i in range(len(names)))
    lines.append(f"{'kind':<12}{'days':>6}{head}  advice/(1)  advice/(2)  changes a day")
    for kind in dict.fromkeys(o.kind for o in outcomes):
        some = [o for o in outcomes if o.kind == kind]
        means = np.mean([o.bites for o in some], axis=0)
        row = "".join(f"{m:8.1f}" for m in means)
        changes = np.mean([o.changes for o in some])
        lines.append(
            f"{kind:<12}{len(some):>6}{row}{means[0] / max(means[1], 1e-9):>12.2f}"
            f"{means[0] / max(means[2], 1e-9):>12.2f}{changes:>15.1f}"
        )
    for i, name in enumerate(names[1:], start=1):
        value, low, high = ratio(outcomes, i)
        lines.append(f"advice / {name}: {value:.2f} (95 % {low:.2f} to {high:.2f})")
    bites = np.array([o.bites for o in outcomes], dtype=float)
    regret = bites[:, names.index("oracle")] - bites[:, 0]
    low, middle, high = np.quantile(regret, [0.1, 0.5, 0.9])
    lines.append(
        f"regret against the oracle: mean {regret.mean():.1f} bites a day, sd {regret.std():.1f}, "
        f"10/50/90 % {low:.0f}/{middle:.0f}/{high:.0f}"
    )
    return "\n".join(lines)


def main() -> None:
    """Read the options, play, print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--settings", type=Path, default=None)
    args = parser.parse_args()
    print(report(run(load_settings(args.settings), args.days, args.seed, args.jobs)))


if __name__ == "__main__":
    main()
