"""The log as one SQLite file: append-only, idempotent, safe against crashes.

WAL with synchronous=FULL: an append that returned is on the disk. After each
append the WAL is folded into the main file, so that the one file a person sees
holds everything that was acknowledged and can be copied as it is.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from leadsman.errors import LogError
from leadsman.waterlog.event_json import body_from_json, body_to_json
from leadsman.waterlog.events import Event
from leadsman.waterlog.schema import APPLICATION_ID, MIGRATIONS

_COLUMNS = "id, trip, device, seq, time_utc_s, mono_s, session, kind, body"
_WAIT_S = 15.0  # how long a writer waits for another device's write


@dataclass(frozen=True, slots=True)
class Appended:
    """What became of a batch.

    Parameters
    ----------
    new : tuple of str
        Ids written now [-].
    known : tuple of str
        Ids that were there already, with the same content [-].
    """

    new: tuple[str, ...]
    known: tuple[str, ...]


class Waterlog:
    """An open log.

    Parameters
    ----------
    path : pathlib.Path
        The file; made if it is missing [-].

    Raises
    ------
    LogError
        The file is not a log, is damaged, or was written by a newer version.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        if not path.parent.is_dir():
            raise LogError("the folder does not exist", path, "Make it or choose another")
        try:
            self._db = sqlite3.connect(
                path, timeout=_WAIT_S, isolation_level=None, check_same_thread=False
            )
            # Another program's file must be refused before anything is set in it.
            _check_ours(self._db, path)
            _configure(self._db)
            _migrate(self._db, path)
        except sqlite3.DatabaseError as error:
            with contextlib.suppress(AttributeError):
                self._db.close()
            raise _translated(error, path) from error
        except LogError:
            self._db.close()
            raise

    def __enter__(self) -> Waterlog:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file."""
        self._db.close()

    def append(self, events: Iterable[Event]) -> Appended:
        """Write events, all or none; those already there are left alone.

        Parameters
        ----------
        events : iterable of Event
            Events of any devices, in any order, sent any number of times [-].

        Returns
        -------
        Appended
            When this returns, the events are on the disk.

        Raises
        ------
        LogError
            The disk is full or cannot be written, or an id is there with
            another content; nothing of the batch was written.
        """
        new: list[str] = []
        known: list[str] = []
        try:
            with _transaction(self._db):
                for event in events:
                    (new if self._insert(event) else known).append(event.id)
        except sqlite3.Error as error:
            raise _translated(error, self.path) from error
        self._fold()
        return Appended(tuple(new), tuple(known))

    def events(self, trip: str | None = None) -> list[Event]:
        """All events as they were written, undone ones too, in the order they came in.

        Parameters
        ----------
        trip : str or None
            Only of this day [-].
        """
        sql = f"SELECT {_COLUMNS} FROM event"
        rows = (
            self._db.execute(f"{sql} ORDER BY row")
            if trip is None
            else self._db.execute(f"{sql} WHERE trip = ? ORDER BY row", (trip,))
        )
        return [_event(row) for row in rows]

    def trips(self) -> list[tuple[str, float, int]]:
        """Days in the log: name, time of the first event [s], last row [-]; oldest first."""
        rows = self._db.execute(
            "SELECT trip, MIN(time_utc_s), MAX(row) FROM event GROUP BY trip ORDER BY 2, 1"
        )
        return [(str(t), float(s), int(r)) for t, s, r in rows]

    def count(self) -> int:
        """Number of events [-]."""
        return int(self._db.execute("SELECT COUNT(*) FROM event").fetchone()[0])

    def copy_to(self, path: Path) -> None:
        """Write a consistent copy while the log is in use.

        Parameters
        ----------
        path : pathlib.Path
            The copy; must not exist yet [-].

        Raises
        ------
        LogError
            The copy exists or cannot be written.
        """
        if path.exists():
            raise LogError("the copy exists already", path, "Choose another name")
        part = path.with_name(path.name + ".part")
        part.unlink(missing_ok=True)
        try:
            self._db.execute("VACUUM INTO ?", (str(part),))
            part.replace(path)
        except (sqlite3.Error, OSError) as error:
            part.unlink(missing_ok=True)
            raise _translated(error, path) from error

    def summary(self, trip: str, physics: str) -> tuple[int, str] | None:
        """A day's kept summary: the last row it counts, and its text.

        Parameters
        ----------
        trip : str
            The day [-].
        physics : str
            Version of the physics that gave its effort [-].
        """
        row = self._db.execute(
            "SELECT last_row, summary FROM day_summary WHERE trip = ? AND physics = ?",
            (trip, physics),
        ).fetchone()
        return None if row is None else (int(row[0]), str(row[1]))

    def summaries(self, physics: str) -> dict[str, tuple[int, str]]:
        """All kept summaries by day.

        Parameters
        ----------
        physics : str
            Version of the physics [-].
        """
        rows = self._db.execute(
            "SELECT trip, last_row, summary FROM day_summary WHERE physics = ?", (physics,)
        )
        return {str(t): (int(r), str(s)) for t, r, s in rows}

    def keep_summaries(self, physics: str, rows: dict[str, tuple[int, str]]) -> None:
        """Keep summaries for next time; failing to is no harm.

        Parameters
        ----------
        physics : str
            Version of the physics [-].
        rows : dict
            By day, the last row counted and the text [-].
        """
        with contextlib.suppress(sqlite3.Error), _transaction(self._db):
            self._db.executemany(
                "INSERT OR REPLACE INTO day_summary VALUES (?, ?, ?, ?)",
                [(trip, physics, row, text) for trip, (row, text) in rows.items()],
            )
        self._fold()

    def _insert(self, event: Event) -> bool:
        body = json.dumps(body_to_json(event.body), sort_keys=True, ensure_ascii=False)
        values = (
            event.id,
            event.trip,
            event.device,
            event.seq,
            event.time_utc_s,
            event.mono_s,
            event.session,
            event.body.kind,
            body,
        )
        there = self._db.execute(
            f"SELECT {_COLUMNS} FROM event WHERE id = ?", (event.id,)
        ).fetchone()
        if there is not None:
            if tuple(there) != values:
                raise LogError(
                    "an event with this id is in the log with another content",
                    f"event {event.id}",
                    "Give a new id, or send an amend",
                )
            return False
        self._db.execute(
            f"INSERT INTO event ({_COLUMNS}, received_utc_s) VALUES (?,?,?,?,?,?,?,?,?,?)",
            (*values, time.time()),
        )
        return True

    def _fold(self) -> None:
        # A reader elsewhere may hold the WAL; the next append folds it then. Nothing is lost.
        with contextlib.suppress(sqlite3.Error):
            self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()


def salvage(damaged: Path, fresh: Path) -> int:
    """Save every readable event of a damaged file into a new one.

    Parameters
    ----------
    damaged : pathlib.Path
        The damaged file; it is not touched [-].
    fresh : pathlib.Path
        The new file; must not exist [-].

    Returns
    -------
    int
        Events saved [-].

    Raises
    ------
    LogError
        The new file exists, or nothing can be read.
    """
    if fresh.exists():
        raise LogError("the file exists already", fresh, "Choose another name")
    source = sqlite3.connect(f"{damaged.resolve().as_uri()}?mode=ro&immutable=1", uri=True)
    try:
        events = list(_readable(source))
    except sqlite3.DatabaseError as error:
        raise _translated(error, damaged) from error
    finally:
        source.close()
    with Waterlog(fresh) as log:
        log.append(events)
    return len(events)


def _readable(db: sqlite3.Connection) -> Iterator[Event]:
    """Events by row number without the index, over gaps that cannot be read."""
    row, misses = 0, 0
    sql = f"SELECT row, {_COLUMNS} FROM event NOT INDEXED WHERE row > ? ORDER BY row LIMIT 1"
    while misses < 10_000:
        try:
            found = db.execute(sql, (row,)).fetchone()
            if found is None:
                return
            row, misses = int(found[0]), 0
            yield _event(found[1:])
        except (sqlite3.DatabaseError, LogError, ValueError):
            row, misses = row + 1, misses + 1


@contextlib.contextmanager
def _transaction(db: sqlite3.Connection) -> Iterator[None]:
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
        db.execute("COMMIT")
    except BaseException:
        with contextlib.suppress(sqlite3.Error):
            if db.in_transaction:
                db.execute("ROLLBACK")
        raise


def _configure(db: sqlite3.Connection) -> None:
    db.execute("PRAGMA journal_mode = WAL").fetchone()
    db.execute("PRAGMA synchronous = FULL")
    db.execute("PRAGMA foreign_keys = ON")
    db.execute("PRAGMA trusted_schema = OFF")


def _check_ours(db: sqlite3.Connection, path: Path) -> None:
    ours = int(db.execute("PRAGMA application_id").fetchone()[0])
    tables = int(db.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()[0])
    if tables and ours != APPLICATION_ID:
        raise LogError("this SQLite file is not a log of ours", path, "Choose another file")
    if tables and db.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise LogError("the file is damaged", path, "Save its events with the log's salvage")


def _migrate(db: sqlite3.Connection, path: Path) -> None:
    done = int(db.execute("PRAGMA user_version").fetchone()[0])
    if done > len(MIGRATIONS):
        raise LogError("the log was written by a newer version", path, "Update the program")
    if done == len(MIGRATIONS):
        return
    with _transaction(db):
        # Another process may have migrated while this one waited.
        done = int(db.execute("PRAGMA user_version").fetchone()[0])
        for number in range(done, len(MIGRATIONS)):
            for statement in MIGRATIONS[number]:
                db.execute(statement)
            db.execute(f"PRAGMA user_version = {number + 1}")
        db.execute(f"PRAGMA application_id = {APPLICATION_ID}")


def _event(row: tuple[object, ...]) -> Event:
    id_, trip, device, seq, time_utc_s, mono_s, session, kind, body = row
    return Event(
        id=str(id_),
        trip=str(trip),
        device=str(device),
        seq=int(str(seq)),
        time_utc_s=float(str(time_utc_s)),
        body=body_from_json(str(kind), json.loads(str(body)), f"event {id_}"),
        mono_s=None if mono_s is None else float(str(mono_s)),
        session=None if session is None else str(session),
    )


def _translated(error: Exception, path: Path) -> LogError:
    text = str(error)
    if "full" in text or "disk I/O" in text or "No space" in text:
        return LogError(
            "the disk is full or cannot be written; the entry was not saved",
            path,
            "Make room and send it again",
        )
    if "locked" in text or "busy" in text:
        return LogError("the log is busy", path, "Try again")
    if "unable to open" in text:
        return LogError("the file cannot be opened", path, "Check its folder and rights")
    if "readonly" in text or "read-only" in text:
        return LogError("the file cannot be written", path, "Check its rights")
    if "not a database" in text or "malformed" in text:
        return LogError("the file is damaged", path, "Save its events with the log's salvage")
    return LogError(f"the log failed: {text}", path)
