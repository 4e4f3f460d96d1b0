"""A season in the log as a person meets it: `leadsman advise` and `leadsman review` on 200 days
and 50,000 events, by the demo kit and its physics.

    python -m bench.log_season [--days 200] [--events 250]

Prints times and their ratio to the limits wanted (advice 0.3 s, review 3 s): the first time, when
zones and days before are worked out and kept; as usual, in a program that runs; and the whole
command, with the start of the program. `bench.season_log` times the log's core alone.
"""

from __future__ import annotations

import argparse
import functools
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from leadsman.usecases.advise import AdviseQuestion, find_advice
from leadsman.usecases.log_book import LogWhere
from leadsman.usecases.review import ReviewQuestion, find_review
from leadsman.waterlog.events import (
    Bite,
    Body,
    Casts,
    Contact,
    Event,
    Fish,
    Note,
    Place,
    SetupStart,
    TripStart,
    TripStop,
)
from leadsman.waterlog.store import Waterlog

SETUPS = (
    ("long-lip-15 on fluoro-12", "silent", "natural"),
    ("long-lip-15-rattling on fluoro-12", "rattling", "light"),
    ("mid-lip-10 on fluoro-10", "rattling", "red"),
    ("long-thin-lip-20 on fluoro-10", "silent", "natural"),
)
DAY_S = 86_400.0
WANTED_S = {"advise": 0.3, "review": 3.0}
REPEATS = 5


def a_day(
    trip: str, start_s: float, n_events: int, ended: bool, rng: np.random.Generator
) -> list[Event]:
    """One invented day of eight hours."""
    bodies: list[tuple[float, Body]] = [
        (0.0, TripStart("Invented Lake", 10.0, secchi_m=3.0)),
        (0.0, Place("place 0", "edge", 4.3)),
        (0.0, SetupStart(*SETUPS[0])),
    ]
    for t in np.sort(rng.uniform(0.0, 8.0, n_events - 3 - ended)):
        bodies.append((float(t), _something(rng)))
    if ended:
        bodies.append((8.0, TripStop()))
    return [
        Event(f"{trip}-{n:05d}", trip, "phone", n, start_s + 3600.0 * t, body)
        for n, (t, body) in enumerate(bodies)
    ]


def _something(rng: np.random.Generator) -> Body:
    """Something that happens, as often as on a good day."""
    draw = rng.random()
    if draw < 0.35:
        return Bite(float(rng.uniform(0.0, 120.0)))
    if draw < 0.45:
        return Fish(float(rng.uniform(0.25, 0.5)), fate="released")
    if draw < 0.55:
        return SetupStart(*SETUPS[rng.integers(len(SETUPS))])
    if draw < 0.62:
        number = int(rng.integers(6))
        return Place(f"place {number}", ("edge", "drop", "flat")[number % 3], 2.5 + 0.6 * number)
    if draw < 0.68:
        return Contact(float(rng.uniform(2.0, 5.0)), bool(rng.random() < 0.6))
    return Casts(int(rng.integers(1, 20))) if draw < 0.8 else Note("something seen")


def a_season(path: Path, days: int, events: int) -> int:
    """Write the season, whose last day goes on now; gives the number of events."""
    rng = np.random.default_rng(1)
    now = time.time()
    with Waterlog(path) as log:
        for d in range(days):
            start_s = now - 8.0 * 3600.0 - DAY_S * (days - 1 - d)
            trip = time.strftime("%Y-%m-%d", time.localtime(start_s))
            log.append(a_day(trip, start_s, events, d < days - 1, rng))
        return log.count()


def processor_s() -> float:
    """Processor time of this program and of those it ran [s]."""
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + children.ru_utime + children.ru_stime


def seconds(work: Callable[[], object], times: int) -> tuple[float, float]:
    """Least time by the wall and least processor time that some work takes."""
    walls, processor = [], []
    for _ in range(times):
        wall, used = time.perf_counter(), processor_s()
        work()
        walls.append(time.perf_counter() - wall)
        processor.append(processor_s() - used)
    return min(walls), min(processor)


def command(word: str, path: Path, folder: Path) -> None:
    """Run a whole command."""
    more = ["--no-note"] if word == "advise" else []
    subprocess.run(
        [sys.executable, "-m", "leadsman", word, "--log", str(path), "--json", *more],
        check=True, stdout=subprocess.DEVNULL, cwd=folder,
    )  # fmt: skip


def main() -> None:
    """Make the season and time it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=200)
    parser.add_argument("--events", type=int, default=250)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "season.sqlite"
        count = a_season(path, args.days, args.events)
        size_mb = path.stat().st_size / 1e6
        print(f"{count} events, {size_mb:.1f} MB, load average {os.getloadavg()[0]:.1f}")
        where = LogWhere(path)
        work: dict[str, Callable[[], object]] = {
            "advise": lambda: find_advice(AdviseQuestion(where, keep=False)),
            "review": lambda: find_review(ReviewQuestion(where)),
        }
        first = {word: seconds(work[word], 1) for word in work}
        usual = {word: seconds(work[word], REPEATS) for word in work}
        whole = {word: seconds(functools.partial(command, word, path, folder), 3) for word in work}
        for label, found in (("first time", first), ("as usual", usual), ("whole command", whole)):
            for word, (wall_s, used_s) in found.items():
                wanted = WANTED_S[word]
                print(
                    f"{label:14s} {word}: wall {wall_s:6.3f} s, {wall_s / wanted:5.2f} of "
                    f"{wanted} s; processor {used_s:6.3f} s, {used_s / wanted:5.2f} of it"
                )


if __name__ == "__main__":
    main()
