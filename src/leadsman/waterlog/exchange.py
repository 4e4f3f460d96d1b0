"""The log as JSON and as CSV, out and in again without loss."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable
from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from leadsman.atomic_write import write_bytes_atomic
from leadsman.errors import LogError, Where
from leadsman.waterlog.event_json import body_from_json, body_to_json
from leadsman.waterlog.events import BODIES, Event

FORMAT = "leadsman-log"
VERSION = 1
_MOST_BYTES = 200_000_000
_ENVELOPE = ("id", "trip", "device", "seq", "time_utc_s", "mono_s", "session", "kind")
# A spreadsheet takes text that starts with one of these for a formula.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")


def event_to_json(event: Event) -> dict[str, Any]:
    """One event as a JSON object.

    Parameters
    ----------
    event : Event
        Event [-].
    """
    out: dict[str, Any] = {
        "id": event.id,
        "trip": event.trip,
        "device": event.device,
        "seq": event.seq,
        "time_utc_s": event.time_utc_s,
        "kind": event.body.kind,
        "body": body_to_json(event.body),
    }
    if event.mono_s is not None:
        out["mono_s"] = event.mono_s
    if event.session is not None:
        out["session"] = event.session
    return out


def event_from_json(item: object, where: Where | str = "event") -> Event:
    """One event from a JSON object, checked.

    Parameters
    ----------
    item : object
        Decoded JSON [-].
    where : Where or str
        Where it came from, for messages [-].

    Raises
    ------
    LogError
        It is no event.
    """
    if not isinstance(item, dict):
        raise LogError("an event is an object", where)
    for name, kinds in (
        ("id", str),
        ("trip", str),
        ("device", str),
        ("kind", str),
        ("seq", int),
        ("time_utc_s", int | float),
    ):
        if not isinstance(item.get(name), kinds) or isinstance(item.get(name), bool):
            raise LogError(f"field {name} is missing or of the wrong type", where)
    mono, session = item.get("mono_s"), item.get("session")
    if mono is not None and (isinstance(mono, bool) or not isinstance(mono, int | float)):
        raise LogError("mono_s is not a number", where)
    if session is not None and not isinstance(session, str):
        raise LogError("session is not text", where)
    return Event(
        id=item["id"],
        trip=item["trip"],
        device=item["device"],
        seq=item["seq"],
        time_utc_s=float(item["time_utc_s"]),
        body=body_from_json(item["kind"], item.get("body", {}), str(where)),
        mono_s=None if mono is None else float(mono),
        session=session,
    )


def to_json(events: Iterable[Event]) -> str:
    """A log as JSON text.

    Parameters
    ----------
    events : iterable of Event
        Events [-].
    """
    rows = [event_to_json(event) for event in events]
    return json.dumps({"format": FORMAT, "version": VERSION, "events": rows}, ensure_ascii=False)


def from_json(text: str, source: str = "log") -> list[Event]:
    """A log from JSON text.

    Parameters
    ----------
    text : str
        JSON [-].
    source : str
        File name, for messages [-].

    Raises
    ------
    LogError
        It is no log, or an event is wrong.
    """
    try:
        data = json.loads(text)
    except (json.JSONDecodeError, RecursionError) as error:
        raise LogError(f"this is no JSON ({error})", source) from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise LogError("this is no log", source, f'Its "format" must be "{FORMAT}"')
    if data.get("version") != VERSION:
        raise LogError("the log was written by another version", source, "Update the program")
    rows = data.get("events")
    if not isinstance(rows, list):
        raise LogError('"events" is missing', source)
    return [event_from_json(r, Where(source, None, f"events.{i}")) for i, r in enumerate(rows)]


def to_csv(events: Iterable[Event]) -> str:
    """A log as CSV text that a spreadsheet opens.

    Parameters
    ----------
    events : iterable of Event
        Events [-].
    """
    out = io.StringIO()
    names = _body_columns()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*_ENVELOPE, "time_utc", *names])
    for event in events:
        item = event_to_json(event)
        stamp = datetime.fromtimestamp(event.time_utc_s, UTC).isoformat(timespec="milliseconds")
        head = [_cell(item.get(name)) for name in _ENVELOPE]
        writer.writerow([*head, stamp, *(_cell(item["body"].get(name)) for name in names)])
    return out.getvalue()


def from_csv(text: str, source: str = "log") -> list[Event]:
    """A log from CSV text.

    Parameters
    ----------
    text : str
        CSV with a header line [-].
    source : str
        File name, for messages [-].

    Raises
    ------
    LogError
        A column is missing or a value is wrong.
    """
    reader = csv.DictReader(io.StringIO(text))
    missing = [
        c
        for c in ("id", "trip", "device", "seq", "time_utc_s", "kind")
        if c not in (reader.fieldnames or ())
    ]
    if missing:
        raise LogError(f"column {missing[0]} is missing", source)
    events: list[Event] = []
    try:
        for row in reader:
            events.append(_from_row(row, Where(source, reader.line_num)))
    except csv.Error as error:
        raise LogError(f"this is no CSV ({error})", Where(source, reader.line_num)) from None
    return events


def save(events: Iterable[Event], path: Path) -> None:
    """Write a log as JSON or CSV, by the name's ending; all or nothing.

    Parameters
    ----------
    events : iterable of Event
        Events [-].
    path : pathlib.Path
        File ending in .json or .csv [-].

    Raises
    ------
    LogError
        Another ending, or the file cannot be written.
    """
    text = to_csv(events) if _is_csv(path) else to_json(events)
    try:
        write_bytes_atomic(path, text.encode("utf-8"))
    except OSError as error:
        raise LogError(f"cannot be written ({error.strerror})", path) from error


def load(path: Path) -> list[Event]:
    """Read a log from JSON or CSV, by the name's ending.

    Parameters
    ----------
    path : pathlib.Path
        File ending in .json or .csv [-].

    Raises
    ------
    LogError
        The file cannot be read or is no log.
    """
    as_csv = _is_csv(path)
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise LogError("the file is too large for a log", path)
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise LogError(f"cannot be read ({error.strerror})", path) from error
    except UnicodeDecodeError:
        raise LogError("the file is not UTF-8 text", path, "Save it as UTF-8") from None
    return from_csv(text, path.name) if as_csv else from_json(text, path.name)


def _is_csv(path: Path) -> bool:
    if path.suffix.lower() not in (".csv", ".json"):
        raise LogError("a log is saved as .csv or .json", path, "Give one of these endings")
    return path.suffix.lower() == ".csv"


def _body_columns() -> list[str]:
    names: dict[str, None] = {}
    for cls in BODIES.values():
        names.update((f.name, None) for f in fields(cls))
    return list(names)


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        # An apostrophe in front keeps a spreadsheet from running text as a formula, and an empty
        # text apart from no value.
        return "'" + value if value == "" or value.startswith(_FORMULA) else value
    return json.dumps(value, ensure_ascii=False)


def _text(cell: str) -> str:
    return cell[1:] if cell.startswith("'") else cell


def _from_row(row: dict[str, Any], where: Where) -> Event:
    if None in row or any(v is None for v in row.values()):
        raise LogError("the line has too many or too few columns", where)
    kind = _text(row["kind"])
    if kind not in BODIES:
        raise LogError(f"unknown kind of event {kind!r}", where)
    hints = get_type_hints(BODIES[kind])
    body: dict[str, Any] = {}
    for field in fields(BODIES[kind]):
        cell = row.get(field.name) or ""
        if cell != "":
            body[field.name] = _text(cell) if _is_text(hints[field.name]) else _json(cell, where)
    item: dict[str, Any] = {name: _text(row[name]) for name in ("id", "trip", "device")}
    item |= {"kind": kind, "body": body}
    item |= {"seq": _json(row["seq"], where), "time_utc_s": _json(row["time_utc_s"], where)}
    if row.get("mono_s"):
        item["mono_s"] = _json(row["mono_s"], where)
    if row.get("session"):
        item["session"] = _text(row["session"])
    return event_from_json(item, where)


def _is_text(hint: Any) -> bool:
    choices = get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)
    plain = [c for c in choices if c is not type(None)]
    return all(c is str or get_origin(c) not in (None, dict) for c in plain)


def _json(cell: str, where: Where) -> Any:
    try:
        return json.loads(cell.lower() if cell in ("TRUE", "FALSE") else cell)
    except json.JSONDecodeError:
        raise LogError(f"{cell[:40]!r} is not a number", where) from None
