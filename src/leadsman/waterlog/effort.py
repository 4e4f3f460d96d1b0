"""Effort: the zone length actually fished, block by block.

The physics comes in as a function from setup and place to the zone of one
cast, so this room needs none of it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from leadsman.belief.levels import Cell, DepthBands
from leadsman.waterlog.events import (
    Casts,
    Fish,
    Place,
    SetupStart,
    SetupStop,
    TripStart,
    TripStop,
)
from leadsman.waterlog.reading import Block
from leadsman.waterlog.timeline import Entry, Timeline, is_bite

BLOCK_H = 0.1  # longest block without a bite
HANDLING_H = 1.0 / 60.0  # not fishing after a fish is landed; assumption


@dataclass(frozen=True, slots=True)
class Fishing:
    """What one setup fishes at one place.

    Parameters
    ----------
    zone_m : float
        Zone length of one cast [m].
    casts_per_h : float
        Casts an hour at the angler's pace [h-1].
    depth_m : float
        Depth at which that zone lies [m].
    """

    zone_m: float
    casts_per_h: float
    depth_m: float


Physics = Callable[[SetupStart, Place], Fishing]


@dataclass(frozen=True, slots=True)
class Stretch:
    """One setup fished at one place without a break.

    Parameters
    ----------
    start_utc_s, stop_utc_s : float
        From when to when [s].
    setup : SetupStart
        With what [-].
    place : Place
        Where [-].
    fishing : Fishing
        What the physics says of it [-].
    cell : Cell
        The cell it belongs to [-].
    blocks : tuple of Block
        Its effort and bites; times in hours since the day's start [-].
    """

    start_utc_s: float
    stop_utc_s: float
    setup: SetupStart
    place: Place
    fishing: Fishing
    cell: Cell
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class DayEffort:
    """A whole day's effort.

    Parameters
    ----------
    start_utc_s : float
        Start of the day [s].
    stretches : tuple of Stretch
        In order [-].
    stray_bites : tuple of Entry
        Bites while nothing was being fished by the log [-].
    """

    start_utc_s: float
    stretches: tuple[Stretch, ...]
    stray_bites: tuple[Entry, ...] = ()

    @property
    def blocks(self) -> tuple[Block, ...]:
        """All blocks of the day in order."""
        return tuple(block for stretch in self.stretches for block in stretch.blocks)


def day_effort(line: Timeline, physics: Physics, bands: DepthBands, now_utc_s: float) -> DayEffort:
    """What was fished, for how long, and what bit.

    Parameters
    ----------
    line : Timeline
        The day [-].
    physics : callable
        Zone of a cast from a setup and a place [-].
    bands : DepthBands
        How depth is cut [-].
    now_utc_s : float
        Now, which ends a stretch that still goes on [s].
    """
    if not line.entries:
        return DayEffort(now_utc_s, ())
    starts = [e.t_utc_s for e in line.entries if isinstance(e.body, TripStart)]
    # Entries may be written later for a moment before the day was opened in the log.
    start = min([*starts, line.entries[0].t_utc_s])
    spans = _spans(line, max(now_utc_s, line.entries[-1].t_utc_s))
    bites = [e for e in line.entries if is_bite(e)]
    landed = [e for e in line.entries if isinstance(e.body, Fish)]
    counts = [e for e in line.entries if isinstance(e.body, Casts)]
    stretches: list[Stretch] = []
    held: set[str] = set()
    for t0, t1, setup, place in spans:
        last = (t0, t1) == spans[-1][:2]
        inside = [e for e in bites if t0 <= e.t_utc_s < t1 or (last and e.t_utc_s == t1)]
        inside = [e for e in inside if e.id not in held]
        held.update(e.id for e in inside)
        fishing = physics(setup, place)
        cell = Cell(
            place.place,
            bands.index_of(fishing.depth_m),
            place.cover,
            setup.sound,
            setup.colour,
            setup.work,
        )
        fish = [e.t_utc_s for e in landed if t0 <= e.t_utc_s < t1]
        counted = [e for e in counts if t0 < e.t_utc_s <= t1]
        blocks = _blocks((t0, t1), start, cell, fishing, inside, fish, counted)
        stretches.append(Stretch(t0, t1, setup, place, fishing, cell, blocks))
    stray = tuple(e for e in bites if e.id not in held)
    return DayEffort(start, tuple(stretches), stray)


def _spans(line: Timeline, now_utc_s: float) -> list[tuple[float, float, SetupStart, Place]]:
    """Spans of one setup at one place; arriving somewhere takes up the last setup again."""
    spans: list[tuple[float, float, SetupStart, Place]] = []
    setup: SetupStart | None = None
    place: Place | None = None
    since: float | None = None
    for entry in line.entries:
        body, t = entry.body, entry.t_utc_s
        if not isinstance(body, SetupStart | SetupStop | Place | TripStop):
            continue
        if since is not None and setup is not None and place is not None and t > since:
            spans.append((since, t, setup, place))
        since = None
        if isinstance(body, SetupStart):
            setup = body
        elif isinstance(body, Place):
            place = body
        if isinstance(body, SetupStart | Place) and setup is not None and place is not None:
            since = t
    if since is not None and setup is not None and place is not None and now_utc_s > since:
        spans.append((since, now_utc_s, setup, place))
    return spans


def _blocks(
    span: tuple[float, float],
    start_utc_s: float,
    cell: Cell,
    fishing: Fishing,
    bites: list[Entry],
    landed: list[float],
    counts: list[Entry],
) -> tuple[Block, ...]:
    """Cut a span at its bites and every few minutes, and share its effort out."""
    t0, t1 = span
    cuts = {t1, *(e.t_utc_s for e in bites), *(e.t_utc_s for e in counts)}
    t = t0
    for end in sorted(cuts):
        pieces = int((end - t) / (BLOCK_H * 3600.0))
        cuts.update(t + (end - t) * i / (pieces + 1) for i in range(1, pieces + 1))
        t = end
    blocks: list[Block] = []
    before = t0
    for end in sorted(cuts):
        n = sum(1 for e in bites if before < e.t_utc_s <= end or e.t_utc_s == before == t0)
        casts = _casts(before, end, t0, fishing, landed, counts)
        if end > t0:
            hours = (end - start_utc_s) / 3600.0
            blocks.append(Block(hours, cell, casts * fishing.zone_m, n))
        before = end
    return tuple(blocks)


def _casts(
    a: float, b: float, t0: float, fishing: Fishing, landed: list[float], counts: list[Entry]
) -> float:
    """Casts between two moments: counted where they were, else by the angler's pace."""
    before = t0
    for entry in counts:
        if before <= a and b <= entry.t_utc_s and entry.t_utc_s > before:
            assert isinstance(entry.body, Casts)
            return entry.body.count * (b - a) / (entry.t_utc_s - before)
        before = entry.t_utc_s
    # The minutes after a landed fish go to the fish, not to casting.
    busy_h = sum(max(min(b, t + HANDLING_H * 3600.0) - max(a, t), 0.0) / 3600.0 for t in landed)
    return max((b - a) / 3600.0 - busy_h, 0.0) * fishing.casts_per_h
