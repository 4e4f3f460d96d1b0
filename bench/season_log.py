"""A season in the log: how long advice and review take with 200 days and 50,000 events.

    python -m bench.season_log [--days 200] [--events 250]

Prints times and their ratio to the limits wanted (advice 0.3 s, review 3 s), first with nothing
worked out before, then as usual.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from leadsman.belief.levels import LADDER
from leadsman.belief.outlook_prior import rate_prior
from leadsman.waterlog.advice import Option, advise
from leadsman.waterlog.day_log import Today, past_days, read_today
from leadsman.waterlog.effort import Fishing
from leadsman.waterlog.events import (
    Bite,
    Body,
    Contact,
    Event,
    Fish,
    Note,
    Place,
    SetupStart,
    TripStart,
    TripStop,
)
from leadsman.waterlog.review import review
from leadsman.waterlog.store import Waterlog

DEPTHS_M = {"long": 5.2, "middle": 4.1, "short": 2.6}


def physics(setup: SetupStart, place: Place) -> Fishing:
    """A stand-in for the physics."""
    return Fishing(22.0, 40.0, DEPTHS_M[setup.setup])


def a_day(trip: str, start_s: float, n_events: int, rng: np.random.Generator) -> list[Event]:
    """One invented day."""
    bodies: list[tuple[float, Body]] = [(0.0, TripStart("Invented Lake", 8.0, secchi_m=3.0))]
    bodies += [(0.0, Place("p0")), (0.0, SetupStart("long", "rattling"))]
    for t in np.sort(rng.uniform(0.0, 8.0, n_events - 4)):
        draw = rng.random()
        body: Body
        if draw < 0.45:
            body = Bite()
        elif draw < 0.6:
            body = Fish(float(rng.uniform(0.25, 0.5)))
        elif draw < 0.7:
            sound = "rattling" if rng.random() < 0.5 else "silent"
            body = SetupStart(str(rng.choice(list(DEPTHS_M))), sound)
        elif draw < 0.75:
            body = Place(f"p{rng.integers(6)}", str(rng.choice(["edge", "drop"])))
        elif draw < 0.8:
            body = Contact(float(rng.uniform(2.0, 5.5)))
        else:
            body = Note("something seen")
        bodies.append((float(t), body))
    bodies.append((8.0, TripStop()))
    return [
        Event(f"{trip}-{n:05d}", trip, "phone", n, start_s + 3600.0 * t, body)
        for n, (t, body) in enumerate(bodies)
    ]


def ask(path: Path, clock: Callable[[], float]) -> tuple[float, float]:
    """Seconds for advice and for a review, each from opening the file."""
    prior = rate_prior(4.0, 900.0, {"depth": {str(d): 1.0 for d in range(len(LADDER))}})
    t0 = clock()
    with Waterlog(path) as log:
        trip, _, _ = log.trips()[-1]
        today = _read(log, trip, prior)
        here, options = _options(today)
        advise(today.reading, here, options, 2.0)
    t1 = clock()
    with Waterlog(path) as log:
        past_days(log, physics, "v1", LADDER, trip)
        today = _read(log, trip, prior)
        review(today.line, today.effort, lambda stretch: (4.0, 0.2))
    return t1 - t0, clock() - t1


def _read(log: Waterlog, trip: str, prior: object) -> Today:
    past = past_days(log, physics, "v1", LADDER, trip)
    end = log.events(trip)[-1].time_utc_s
    return read_today(log, trip, prior, physics, LADDER, end, past)  # type: ignore[arg-type]


def _options(today: Today) -> tuple[Option, tuple[Option, ...]]:
    cells = sorted({s.cell for s in today.effort.stretches}, key=repr)
    options = tuple(Option(str(i), c, 880.0, 2.0) for i, c in enumerate(cells))
    return options[0], options


def main() -> None:
    """Make the season and time it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=200)
    parser.add_argument("--events", type=int, default=250)
    args = parser.parse_args()
    rng = np.random.default_rng(1)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "season.db"
        with Waterlog(path) as log:
            for d in range(args.days):
                log.append(a_day(f"day-{d:04d}", 1.7e9 + 86_400.0 * d, args.events, rng))
            print(f"{log.count()} events, {path.stat().st_size / 1e6:.1f} MB")
        cases = (
            ("first time, wall clock", time.perf_counter, 1),
            ("as usual, wall clock", time.perf_counter, 3),
            ("as usual, processor time", time.process_time, 3),
        )
        for name, clock, times in cases:
            advice_s, review_s = min(ask(path, clock) for _ in range(times))
            print(
                f"{name}: advice {advice_s:.3f} s ({advice_s / 0.3:.2f} of 0.3 s), "
                f"review {review_s:.3f} s ({review_s / 3.0:.2f} of 3 s)"
            )


if __name__ == "__main__":
    main()
