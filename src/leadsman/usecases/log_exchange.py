"""The log out to a file, and other devices' files in."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path

from leadsman.errors import LogError
from leadsman.usecases.log_book import Book, LogWhere
from leadsman.waterlog.events import Event
from leadsman.waterlog.exchange import load, save
from leadsman.waterlog.store import Waterlog, salvage

DATABASES = (".sqlite", ".db")
TEXTS = (".csv", ".json")


@dataclass(frozen=True, slots=True)
class ExchangeReply:
    """What went out or came in.

    Parameters
    ----------
    headline : str
        The answer in a sentence [-].
    path : pathlib.Path
        The log's file [-].
    file : pathlib.Path
        The other file [-].
    new, known : int
        Entries that were new there, and that were there already [-].
    days : tuple of str
        Days they belong to [-].
    """

    headline: str
    path: Path
    file: Path
    new: int
    known: int
    days: tuple[str, ...]


def export_log(
    where: LogWhere, file: Path, trip: str | None = None, over: bool = False
) -> ExchangeReply:
    """Write a log, or one day of it, as CSV or JSON, or copy the whole file.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    file : pathlib.Path
        File that ends with .csv, .json or .sqlite [-].
    trip : str or None
        Only this day [-].
    over : bool
        Write over a file that is there [-].

    Raises
    ------
    LogError
        The file is there already, has another ending, or cannot be written.
    """
    ending = file.suffix.lower()
    if ending not in (*TEXTS, *DATABASES):
        raise LogError("an export ends with .csv, .json or .sqlite", file, "Change its name")
    if not file.parent.is_dir():
        raise LogError("the folder is not there", file.parent, "Make it first")
    same = file.exists() and where.path.exists() and file.samefile(where.path)
    if same or (file.exists() and (not over or not file.is_file())):
        remedy = "Choose another name" if same else "Choose another name, or add --over"
        raise LogError("the file is there already", file, remedy)
    with Book(where.path, make=False) as book:
        if ending in DATABASES:
            if trip is not None:
                raise LogError("a copy holds every day", "--day", "Export .csv or .json instead")
            return _copy(book, file)
        events = book.log.events(book.last_trip(trip) if trip is not None else None)
        save(events, file)
    return ExchangeReply(
        f"{len(events)} entries of {_days_text(events)} written to {file.name}.",
        where.path, file, len(events), 0, _days(events),
    )  # fmt: skip


def _copy(book: Book, file: Path) -> ExchangeReply:
    with tempfile.TemporaryDirectory(dir=file.parent, prefix=".leadsman-") as folder:
        part = Path(folder) / "copy.sqlite"
        book.log.copy_to(part)
        part.replace(file)
    days = tuple(trip for trip, _, _ in book.log.trips())
    count = book.log.count()
    return ExchangeReply(
        f"The log with {count} entries copied to {file.name}.", book.path, file, count, 0, days
    )


def import_log(where: LogWhere, file: Path) -> ExchangeReply:
    """Take in another device's log; entries that are there already are left alone.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    file : pathlib.Path
        File that ends with .csv, .json or .sqlite [-].

    Raises
    ------
    LogError
        The file is no log, or an entry contradicts one with the same id; nothing was taken in.
    """
    if not file.is_file():
        raise LogError("there is no such file", file, "Check its name")
    if file.suffix.lower() not in (*TEXTS, *DATABASES):
        raise LogError("a log to take in ends with .csv, .json or .sqlite", file, "Check its name")
    events = _read(file)
    with Book(where.path) as book:
        done = book.log.append(events)
    known = f", {len(done.known)} were there already" if done.known else ""
    return ExchangeReply(
        f"{len(done.new)} new entries from {file.name}{known}.",
        where.path, file, len(done.new), len(done.known), _days(events),
    )  # fmt: skip


def salvage_log(damaged: Path, fresh: Path) -> ExchangeReply:
    """Save every readable entry of a damaged log into a new file.

    Parameters
    ----------
    damaged : pathlib.Path
        The damaged log; it is not touched [-].
    fresh : pathlib.Path
        The new file [-].

    Raises
    ------
    LogError
        Nothing can be read, or the new file is there already.
    """
    if not damaged.is_file():
        raise LogError("there is no such file", damaged, "Check its name")
    if not fresh.parent.is_dir():
        raise LogError("the folder is not there", fresh.parent, "Make it first")
    count = salvage(damaged, fresh)
    headline = f"{count} entries saved to {fresh.name}; {damaged.name} was not touched."
    return ExchangeReply(headline, fresh, damaged, count, 0, ())


def _read(file: Path) -> list[Event]:
    if file.suffix.lower() in TEXTS:
        return load(file)
    if file.stat().st_size == 0:
        raise LogError("the file is empty", file, "Copy it again")
    # A copy is opened, so that the other device's file stays as it is.
    with tempfile.TemporaryDirectory(prefix="leadsman-") as folder:
        copy = Path(folder) / "log.sqlite"
        try:
            shutil.copyfile(file, copy)
            beside = file.with_name(file.name + "-wal")
            if beside.exists():
                shutil.copyfile(beside, copy.with_name(copy.name + "-wal"))
        except OSError as error:
            raise LogError(f"cannot be read ({error.strerror})", file) from error
        try:
            with Waterlog(copy) as log:
                return log.events()
        except LogError as error:
            raise LogError(error.problem, file, error.remedy) from None


def _days(events: list[Event]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(event.trip for event in events))


def _days_text(events: list[Event]) -> str:
    days = _days(events)
    return days[0] if len(days) == 1 else f"{len(days)} days"
