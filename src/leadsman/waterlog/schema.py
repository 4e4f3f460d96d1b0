"""The log's tables, as numbered migrations that are only ever added to."""

from __future__ import annotations

APPLICATION_ID = 0x4C444D4E  # "LDMN": tells our files from other SQLite files

# Each migration is a list of statements, run in one transaction; PRAGMA user_version counts them.
MIGRATIONS: tuple[tuple[str, ...], ...] = (
    (
        """
        CREATE TABLE event (
            row INTEGER PRIMARY KEY,
            id TEXT NOT NULL,
            trip TEXT NOT NULL,
            device TEXT NOT NULL,
            seq INTEGER NOT NULL CHECK (seq >= 0),
            time_utc_s REAL NOT NULL,
            mono_s REAL,
            session TEXT,
            kind TEXT NOT NULL,
            body TEXT NOT NULL,
            received_utc_s REAL NOT NULL
        ) STRICT
        """,
        "CREATE UNIQUE INDEX event_id ON event (id)",
        "CREATE INDEX event_trip ON event (trip, row, time_utc_s)",
        """
        CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
        BEGIN SELECT RAISE(ABORT, 'events are never changed'); END
        """,
        """
        CREATE TRIGGER event_is_never_deleted BEFORE DELETE ON event
        BEGIN SELECT RAISE(ABORT, 'events are never deleted'); END
        """,
    ),
    (
        # What a day came to: worked out from its events, so it may be dropped at any time.
        """
        CREATE TABLE day_summary (
            trip TEXT NOT NULL,
            physics TEXT NOT NULL,
            last_row INTEGER NOT NULL,
            summary TEXT NOT NULL,
            PRIMARY KEY (trip, physics)
        ) STRICT, WITHOUT ROWID
        """,
    ),
)
