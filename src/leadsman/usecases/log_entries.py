"""Entries of the log: each is written first, and answered afterwards."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import LogError
from leadsman.usecases.log_book import Book, LogWhere, Standing, clock_text, now_utc_s, standing
from leadsman.usecases.log_words import entry_words
from leadsman.waterlog.events import (
    Bite,
    Body,
    Casts,
    Contact,
    Event,
    Fish,
    FishFate,
    LineCare,
    Note,
    Sighting,
    StretchStatus,
    WaterReading,
)
from leadsman.waterlog.fish_care import livewell
from leadsman.waterlog.timeline import Timeline, is_bite

LAW = "Local rules on licence, seasons, rods and limits come first."


@dataclass(frozen=True, slots=True)
class LogReply:
    """What an entry came to.

    Parameters
    ----------
    headline : str
        What was written, in a sentence [-].
    path : pathlib.Path
        The log's file [-].
    trip : str
        The day [-].
    events : tuple of str
        Ids of what was written [-].
    notes : tuple of str
        What follows from it [-].
    cautions : tuple of str
        What to mind [-].
    """

    headline: str
    path: Path
    trip: str
    events: tuple[str, ...]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class After:
    """The log after an entry, for its answer.

    Parameters
    ----------
    line : Timeline
        The day in order [-].
    now : Standing
        What is being fished [-].
    units : DisplayUnits
        Units the person reads in [-].
    events : tuple of Event
        What was written [-].
    """

    line: Timeline
    now: Standing
    units: DisplayUnits
    events: tuple[Event, ...]

    @property
    def bites(self) -> int:
        """Bites of the day [-]."""
        return sum(1 for entry in self.line.entries if is_bite(entry))

    @property
    def when(self) -> str:
        """When the entry happened, on the clock."""
        return next(
            (clock_text(e.t_utc_s) for e in self.line.entries if e.id == self.events[0].id), ""
        )


Answer = Callable[[After], tuple[str, Sequence[str]]]


def units_of(where: LogWhere) -> DisplayUnits:
    """Units to answer in: as asked, else as the kit says, else US.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    """
    if where.units is not None:
        return display_units(where.units)
    kit = where.kit if where.kit is not None else Path("kit.toml")
    if not kit.exists():
        return display_units("us")
    from leadsman.usecases.resolve_setup import load_kit

    return display_units(load_kit(where.kit)[0].units)


def put(
    where: LogWhere,
    book: Book,
    bodies: Sequence[Body],
    answer: Answer,
    opens: bool = False,
) -> LogReply:
    """Write entries, then say what they came to.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    book : Book
        The open log [-].
    bodies : sequence of Body
        What happened [-].
    answer : callable
        Headline and notes from the log as it is after the entry [-].
    opens : bool
        Whether the entry begins fishing [-].

    Raises
    ------
    LogError
        The entry is out of bounds or could not be written.
    """
    if where.units is not None:
        display_units(where.units)
    events = book.write(bodies, where.at, opens)
    ids = tuple(event.id for event in events)
    trip = events[0].trip
    try:
        line = book.line(trip)
        after = After(line, standing(line), units_of(where), events)
        headline, notes = answer(after)
        cautions = livewell(line, now_utc_s()).cautions
        # The last one is the word on local rules; it goes with fish, not with every note.
        if not isinstance(events[0].body, Fish | FishFate):
            cautions = cautions[:-1]
    except Exception as error:
        # The entry is on the disk; that its answer failed must not look like a lost entry.
        headline = "Written. What it comes to could not be worked out"
        return LogReply(f"{headline} ({error}).", book.path, trip, ids)
    return LogReply(headline, book.path, trip, ids, tuple(notes), cautions)


def count_casts(where: LogWhere, count: int) -> LogReply:
    """Note how many casts were made since the last change or count.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    count : int
        Casts [-].
    """
    with Book(where.path) as book:
        return put(
            where, book, [Casts(count)], lambda after: (f"{count} casts to {after.when}.", ())
        )


def bite(where: LogWhere, ago_s: float = 0.0) -> LogReply:
    """Note a bite.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    ago_s : float
        How long ago it was [s].
    """
    with Book(where.path) as book:

        def answer(after: After) -> tuple[str, Sequence[str]]:
            return f"Bite {after.bites} of the day, at {after.when}.", on_what(after)

        return put(where, book, [Bite(ago_s)], answer)


def on_what(after: After) -> tuple[str, ...]:
    """What a bite counts for, or why it counts for nothing yet.

    Parameters
    ----------
    after : After
        The log after the entry [-].
    """
    now = after.now
    if now.setup is None or now.place is None:
        missing = "setup" if now.setup is None else "place"
        word = "start LURE" if now.setup is None else "place NAME --depth '14 ft'"
        return (
            f"It is kept, but no {missing} is being fished, so it speaks for none. "
            f"Add it: leadsman log {word} --at TIME",
        )
    return (f"On {now.setup.setup} at {now.place.place}.",)


def mark_stretch(where: LogWhere, stretch: str, taken: bool) -> LogReply:
    """Note that a stretch is taken by another boat, or free again.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    stretch : str
        Its name [-].
    taken : bool
        True if it is taken [-].
    """
    with Book(where.path) as book:
        word = "taken: left out of the advice" if taken else "free"
        body = StretchStatus(_needed(stretch, "a stretch", "STRETCH"), taken)
        return put(where, book, [body], lambda after: (f"{body.stretch} is {word}.", ()))


def mark_line(where: LogWhere, retied: bool, setup: str | None = None) -> LogReply:
    """Note that the line was checked, or cut back and retied.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    retied : bool
        True if it was retied [-].
    setup : str or None
        Of which setup; None is the one in hand [-].
    """
    with Book(where.path) as book:
        if setup is None:
            last = standing(book.line(book.trip_now())).last_setup
            if last is None:
                raise LogError(
                    "no setup is in hand", "--setup", "Name it, 'mid-lip-12 on fluoro-12'"
                )
            setup = last.setup
        body = LineCare(setup, "retied" if retied else "checked")
        return put(where, book, [body], lambda after: (f"Line of {body.setup} {body.action}.", ()))


def touch(where: LogWhere, depth_m: float, touched: bool = True) -> LogReply:
    """Note that the lure touched a bottom of known depth, or did not reach it.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    depth_m : float
        Depth of the bottom [m].
    touched : bool
        Whether it touched [-].
    """
    with Book(where.path) as book:

        def answer(after: After) -> tuple[str, Sequence[str]]:
            words = entry_words(Contact(depth_m, touched), after.units)
            note = "Keep it for the lure's depth: leadsman review --note-observations"
            return f"{capital(words)}, at {after.when}.", (*on_what(after), note)

        return put(where, book, [Contact(depth_m, touched)], answer)


def saw(where: LogWhere, what: str, text: str = "") -> LogReply:
    """Note something seen.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    what : str
        forage, grass, birds, ... [-].
    text : str
        More [-].
    """
    body = Sighting(_needed(what, "what was seen", "WHAT"), text)
    with Book(where.path) as book:
        return put(
            where, book, [body],
            lambda after: (f"{capital(entry_words(body, after.units))}, at {after.when}.", ()),
        )  # fmt: skip


def measure_water(where: LogWhere, reading: WaterReading) -> LogReply:
    """Note a reading of the water or of the livewell.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    reading : WaterReading
        The reading [-].
    """
    values = (reading.temperature_c, reading.secchi_m, reading.oxygen_mg_l, reading.level_m)
    if all(value is None for value in values):
        raise LogError(
            "no reading is given", "log water",
            "Give a temperature, --clarity, --oxygen or --level",
        )  # fmt: skip
    with Book(where.path) as book:
        return put(
            where, book, [reading],
            lambda after: (f"{capital(entry_words(reading, after.units))}.", ()),
        )  # fmt: skip


def note(where: LogWhere, text: str) -> LogReply:
    """Note words.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    text : str
        The words [-].
    """
    body = Note(_needed(text, "a note", "TEXT"))
    with Book(where.path) as book:
        return put(where, book, [body], lambda after: (f"Noted at {after.when}.", ()))


def _needed(text: str, what: str, where: str) -> str:
    found = " ".join(text.split())
    if not found:
        raise LogError(f"{what} has no words", where, "Write some")
    return found


def capital(text: str) -> str:
    """The text with a capital first letter.

    Parameters
    ----------
    text : str
        Text [-].
    """
    return text[:1].upper() + text[1:]


def bites_text(count: int) -> str:
    """A number of bites in words.

    Parameters
    ----------
    count : int
        Bites [-].
    """
    return "1 bite" if count == 1 else f"{count} bites"
