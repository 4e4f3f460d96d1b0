"""The log of the water: where its file lies, which day it is, and the one way to write in it.

An entry is on the disk before anything is worked out from it, so that whatever fails
later, it is not lost.
"""

from __future__ import annotations

import hashlib
import platform
import re
import time
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from types import TracebackType

from leadsman.errors import LogError
from leadsman.waterlog.event_json import body_from_json, body_to_json
from leadsman.waterlog.events import (
    Amend,
    Body,
    Event,
    Place,
    SetupStart,
    SetupStop,
    TripStart,
    TripStop,
)
from leadsman.waterlog.store import Waterlog
from leadsman.waterlog.timeline import Entry, Timeline, timeline

LOG_NAME = "waterlog.sqlite"
"""Name of the log where none is given: beside the kit file, else in this folder."""

NIGHT_S = 5.0 * 3600.0
"""A day goes on over midnight if its last entry is younger than this [s]. Own choice."""


def now_utc_s() -> float:
    """Unix time now [s]."""
    return time.time()


@dataclass(frozen=True, slots=True)
class LogWhere:
    """Which log, and when.

    Parameters
    ----------
    log : pathlib.Path or None
        The file; None is `LOG_NAME` beside the kit file [-].
    kit : pathlib.Path or None
        Kit file; None takes ``kit.toml`` here, else the demo kit [-].
    at : str or None
        When it happened, "9:40" or "2026-06-21 9:40"; None is now [-].
    units : str or None
        Units to answer in; None is as the kit says [-].
    """

    log: Path | None = None
    kit: Path | None = None
    at: str | None = None
    units: str | None = None

    @property
    def path(self) -> Path:
        """The log's file."""
        if self.log is not None:
            return self.log
        return (self.kit.parent if self.kit is not None else Path()) / LOG_NAME


@dataclass(frozen=True, slots=True)
class Standing:
    """What is being fished.

    Parameters
    ----------
    setup : SetupStart or None
        Setup in hand; None while fishing rests [-].
    last_setup : SetupStart or None
        The last setup fished, resting or not [-].
    place : Place or None
        Where the boat is [-].
    start : TripStart or None
        What is known of the day [-].
    stopped : bool
        Whether the day has ended [-].
    """

    setup: SetupStart | None
    last_setup: SetupStart | None
    place: Place | None
    start: TripStart | None
    stopped: bool


class Book:
    """An open log with the device that writes in it.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    make : bool
        Make it if it is missing [-].

    Raises
    ------
    LogError
        The file is missing and not to be made, or is no log.
    """

    def __init__(self, path: Path, make: bool = True) -> None:
        if not make and not path.exists():
            raise LogError(
                "there is no log here yet", path, "Begin one with: leadsman log start LURE"
            )
        self.path = path
        self.log = Waterlog(path)
        self.device = _device()

    def __enter__(self) -> Book:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.log.close()

    def line(self, trip: str) -> Timeline:
        """A day in order, what was taken back left out.

        Parameters
        ----------
        trip : str
            The day [-].
        """
        return timeline(self.log.events(trip))

    def trip_now(self, opens: bool = False) -> str:
        """The day that an entry made now belongs to.

        Parameters
        ----------
        opens : bool
            Whether the entry begins fishing, which a day that has ended does not take [-].
        """
        now = now_utc_s()
        today = _day(now)
        trips = self.log.trips()
        newest = sorted(trips, key=lambda item: -item[2])[:3]
        for trip, _, _ in newest:
            entries = self.line(trip).entries
            if not entries:
                continue
            same = trip.startswith(today) or _day(entries[0].t_utc_s) == today
            goes_on = abs(now - entries[-1].t_utc_s) < NIGHT_S
            ended = isinstance(_last_of(entries, TripStart, TripStop), TripStop)
            if (same or goes_on) and not (opens and ended):
                return trip
        return _free_name(today, {trip for trip, _, _ in trips})

    def trip_at(self, at_utc_s: float) -> str:
        """The day that an entry about a past moment belongs to.

        Parameters
        ----------
        at_utc_s : float
            That moment, Unix time [s].
        """
        day = _day(at_utc_s)
        if day == _day(now_utc_s()):
            return self.trip_now()
        same = [trip for trip, _, _ in self.log.trips() if trip.startswith(day)]
        return same[-1] if same else day

    def last_trip(self, wanted: str | None = None) -> str:
        """The newest day, or the one that is named.

        Parameters
        ----------
        wanted : str or None
            Name of a day [-].

        Raises
        ------
        LogError
            The log is empty or has no such day.
        """
        trips = [trip for trip, _, _ in self.log.trips()]
        if not trips:
            raise LogError("the log is empty", self.path, "Begin with: leadsman log start LURE")
        if wanted is None:
            return trips[-1]
        if wanted not in trips:
            shown = ", ".join(trips[-5:])
            raise LogError(f"there is no day '{wanted[:40]}' in the log", "--day", f"Use {shown}")
        return wanted

    def write(
        self, bodies: Sequence[Body], at: str | None = None, opens: bool = False
    ) -> tuple[Event, ...]:
        """Write entries, all or none; they are on the disk when this returns.

        Parameters
        ----------
        bodies : sequence of Body
            What happened, in order [-].
        at : str or None
            When it happened, as a person types it; None is now [-].
        opens : bool
            Whether it begins fishing [-].

        Raises
        ------
        LogError
            An entry is out of bounds, or the file cannot be written.
        """
        now = now_utc_s()
        at_s = moment_utc_s(at, now) if at is not None else None
        trip = self.trip_now(opens) if at_s is None else self.trip_at(at_s)
        seq = self.log.count()
        mono_s, session = _steady_clock()
        events: list[Event] = []
        for body in bodies:
            made = [_checked(body)]
            id_ = uuid.uuid4().hex
            # The clock of the writing stays as it was; when it happened is put right beside it.
            made += [Amend(id_, at_utc_s=at_s)] if at_s is not None else []
            for item in made:
                name = id_ if item is made[0] else uuid.uuid4().hex
                seq += 1
                events.append(Event(name, trip, self.device, seq, now, item, mono_s, session))
        self.log.append(events)
        return tuple(events)


def standing(line: Timeline) -> Standing:
    """What is being fished at the end of a timeline.

    Parameters
    ----------
    line : Timeline
        The day [-].
    """
    entries = line.entries
    setup = _last_of(entries, SetupStart, SetupStop, TripStop)
    ended = _last_of(entries, TripStart, TripStop, SetupStart, Place)
    starts = [e.body for e in entries if isinstance(e.body, TripStart)]
    last_setup = _last_of(entries, SetupStart)
    place = _last_of(entries, Place)
    return Standing(
        setup if isinstance(setup, SetupStart) else None,
        last_setup if isinstance(last_setup, SetupStart) else None,
        place if isinstance(place, Place) else None,
        starts[0] if starts else None,
        isinstance(ended, TripStop),
    )


def moment_utc_s(text: str, now: float) -> float:
    """A past moment from "9:40" or "2026-06-21 9:40" on this machine's clock [s].

    Parameters
    ----------
    text : str
        As typed [-].
    now : float
        Unix time now [s].

    Raises
    ------
    LogError
        It is no moment, or lies ahead.
    """
    match = re.fullmatch(r"\s*(?:(\d{4}-\d\d-\d\d)[ T])?\s*(\d{1,2}):(\d\d)\s*", text)
    try:
        if match is None:
            raise ValueError
        day = date.fromisoformat(match[1]) if match[1] else datetime.fromtimestamp(now).date()
        found = datetime(day.year, day.month, day.day, int(match[2]), int(match[3])).timestamp()
    except (ValueError, OverflowError, OSError):
        raise LogError(
            f"'{text[:30]}' is not a moment", "--at", "Write 9:40, or 2026-06-21 9:40"
        ) from None
    if found > now + 60.0:
        raise LogError(f"'{text[:30]}' has not happened yet", "--at", "Give a moment that is past")
    if found < 0.0:
        raise LogError(f"'{text[:30]}' is before 1970", "--at", "Check the year")
    return found


def clock_text(t_utc_s: float) -> str:
    """A moment as this machine's clock shows it.

    Parameters
    ----------
    t_utc_s : float
        Unix time [s].
    """
    return datetime.fromtimestamp(t_utc_s).strftime("%H:%M")


def _checked(body: Body) -> Body:
    """The body as it will be read again: what could not be read must not be written."""
    return body_from_json(body.kind, body_to_json(body), "this entry")


def _last_of(entries: Sequence[Entry], *kinds: type[Body]) -> Body | None:
    for entry in reversed(entries):
        if isinstance(entry.body, kinds):
            return entry.body
    return None


def _day(t_utc_s: float) -> str:
    return datetime.fromtimestamp(t_utc_s).date().isoformat()


def _free_name(day: str, taken: set[str]) -> str:
    number = 1
    name = day
    while name in taken:
        number += 1
        name = f"{day}-{number}"
    return name


def _device() -> str:
    """A name for this machine that says nothing of its owner."""
    text = f"{platform.node()} {uuid.getnode()}"
    return f"computer-{hashlib.sha256(text.encode()).hexdigest()[:8]}"


def _steady_clock() -> tuple[float | None, str | None]:
    """A clock that is never set, and which run of it, where the machine tells."""
    try:
        boot = Path("/proc/sys/kernel/random/boot_id").read_text("ascii").strip()
    except (OSError, UnicodeDecodeError):
        return None, None
    return time.monotonic(), hashlib.sha256(boot.encode()).hexdigest()[:12]
