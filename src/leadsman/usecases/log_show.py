"""The log of a day to read, and taking entries back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from leadsman.display_units import DisplayUnits
from leadsman.errors import LogError
from leadsman.usecases.log_book import Book, LogWhere, Standing, clock_text, now_utc_s, standing
from leadsman.usecases.log_entries import After, LogReply, put, units_of
from leadsman.usecases.log_words import entry_words, place_words, setup_words
from leadsman.waterlog.events import AdviceGiven, Amend, Event, Fish, Undo
from leadsman.waterlog.fish_care import Livewell, livewell
from leadsman.waterlog.timeline import Timeline, is_bite


@dataclass(frozen=True, slots=True)
class LogRow:
    """One entry to read.

    Parameters
    ----------
    number : int or None
        Its number of the day, by which it is taken back; None if it was [-].
    id : str
        Id of the event [-].
    t_utc_s : float
        When, Unix time [s].
    clock : str
        When, on this machine's clock [-].
    kind : str
        Kind of event [-].
    words : str
        What happened [-].
    """

    number: int | None
    id: str
    t_utc_s: float
    clock: str
    kind: str
    words: str


@dataclass(frozen=True, slots=True)
class LogView:
    """A day of the log.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    trip : str
        The day [-].
    headline : str
        The answer in a sentence [-].
    rows : tuple of LogRow
        Entries in order of time [-].
    bites, fish : int
        Bites and fish of the day [-].
    now : Standing
        What is being fished [-].
    livewell : Livewell
        Fish kept [-].
    days : int
        Days in the log [-].
    notes : tuple of str
        What was odd [-].
    units : DisplayUnits
        Units the person reads in [-].
    """

    path: Path
    trip: str
    headline: str
    rows: tuple[LogRow, ...]
    bites: int
    fish: int
    now: Standing
    livewell: Livewell
    days: int
    notes: tuple[str, ...]
    units: DisplayUnits


def show(where: LogWhere, trip: str | None = None, undone: bool = False) -> LogView:
    """A day of the log in order of time.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    trip : str or None
        Which day; None is the newest [-].
    undone : bool
        Show what was taken back too [-].
    """
    units = units_of(where)
    with Book(where.path, make=False) as book:
        day = book.last_trip(trip) if trip is not None else _current(book)
        events = book.log.events(day)
        line = book.line(day)
        days = len(book.log.trips())
    rows = list(_rows(line, units))
    if undone:
        rows += _undone(events, line, units)
        rows.sort(key=lambda row: row.t_utc_s)
    bites = sum(1 for entry in line.entries if is_bite(entry))
    fish = sum(1 for entry in line.entries if isinstance(entry.body, Fish))
    now = standing(line)
    last_s = line.entries[-1].t_utc_s if line.entries else now_utc_s()
    tank = livewell(line, last_s if now.stopped else max(now_utc_s(), last_s))
    headline = _headline(day, bites, fish, now, units)
    return LogView(
        where.path, day, headline, tuple(rows), bites, fish, now, tank, days, line.warnings, units
    )


def undo(where: LogWhere, number: int | None = None) -> LogReply:
    """Take an entry back; nothing is deleted.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    number : int or None
        Its number in ``leadsman log show``; None is the last thing written [-].
    """
    with Book(where.path, make=False) as book:
        trip = book.trip_now()
        events = book.log.events(trip)
        line = book.line(trip)
        targets = _last(events, line) if number is None else _numbered(line, number)
        units = units_of(where)
        bodies = {entry.id: entry.body for entry in line.entries}
        told = "; ".join(entry_words(bodies[i], units) for i in targets)

        def answer(after: After) -> tuple[str, Sequence[str]]:
            return f"Taken back: {told}.", ("Bring it back: leadsman log redo",)

        return put(where, book, [Undo(i) for i in targets], answer)


def redo(where: LogWhere) -> LogReply:
    """Bring back what was taken back last.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    """
    with Book(where.path, make=False) as book:
        events = book.log.events(book.trip_now())
        undone = _dead(events)
        undos = [e for e in events if isinstance(e.body, Undo) and e.id not in undone]
        # An undo of an undo is a way of bringing back, not something to bring back.
        names = {e.id for e in undos}
        undos = [e for e in undos if isinstance(e.body, Undo) and not _undoes_undo(e, events)]
        if not undos or not names:
            raise LogError("nothing was taken back today", "log redo", "See: leadsman log show")
        batch = [e for e in undos if _batch(e) == _batch(undos[-1])]
        return put(
            where, book, [Undo(e.id) for e in batch],
            lambda after: ("Brought back.", ("See: leadsman log show",)),
        )  # fmt: skip


def _current(book: Book) -> str:
    """The day that goes on, else the newest."""
    trips = {trip for trip, _, _ in book.log.trips()}
    now = book.trip_now()
    return now if now in trips else book.last_trip()


def _rows(line: Timeline, units: DisplayUnits) -> list[LogRow]:
    rows = []
    fish = 0
    for number, entry in enumerate(line.entries, 1):
        words = entry_words(entry.body, units)
        if isinstance(entry.body, Fish):
            fish += 1
            words = words.replace("fish", f"fish {fish}", 1)
        clock = clock_text(entry.t_utc_s)
        rows.append(LogRow(number, entry.id, entry.t_utc_s, clock, entry.body.kind, words))
    return rows


def _undone(events: Sequence[Event], line: Timeline, units: DisplayUnits) -> list[LogRow]:
    live = {entry.id for entry in line.entries}
    return [
        LogRow(
            None, event.id, event.time_utc_s, clock_text(event.time_utc_s), event.body.kind,
            f"taken back: {entry_words(event.body, units)}",
        )
        for event in events
        if event.id not in live and not isinstance(event.body, Undo | Amend)
    ]  # fmt: skip


def _headline(day: str, bites: int, fish: int, now: Standing, units: DisplayUnits) -> str:
    lake = f" on {now.start.lake}" if now.start is not None and now.start.lake else ""
    noun = "bite" if bites == 1 else "bites"
    counted = f"{day}{lake}: {bites} {noun}, {fish} fish"
    if now.stopped:
        return f"{counted}; the day has ended."
    if now.setup is None:
        return f"{counted}; nothing is being fished."
    place = f" at {place_words(now.place, units)}" if now.place is not None else ""
    return f"{counted}; fishing {setup_words(now.setup, units)}{place}."


def _batch(event: Event) -> tuple[str, float]:
    return event.device, event.time_utc_s


def _last(events: Sequence[Event], line: Timeline) -> list[str]:
    """What was written last and still holds; a batch goes back as one."""
    live = {e.id for e in line.entries if not isinstance(e.body, AdviceGiven)}
    held = [event for event in events if event.id in live]
    if not held:
        raise LogError("there is nothing to take back today", "log undo", "See: leadsman log show")
    return [event.id for event in held if _batch(event) == _batch(held[-1])]


def _numbered(line: Timeline, number: int) -> list[str]:
    if not 1 <= number <= len(line.entries):
        raise LogError(
            f"there is no entry number {number} today", "NUMBER", "See: leadsman log show"
        )
    return [line.entries[number - 1].id]


def _dead(events: Sequence[Event]) -> set[str]:
    """Ids that a later undo, itself not undone, names."""
    dead: set[str] = set()
    for event in reversed(events):
        if isinstance(event.body, Undo) and event.id not in dead:
            dead.add(event.body.target)
    return dead


def _undoes_undo(event: Event, events: Sequence[Event]) -> bool:
    undos = {e.id for e in events if isinstance(e.body, Undo)}
    return isinstance(event.body, Undo) and event.body.target in undos
