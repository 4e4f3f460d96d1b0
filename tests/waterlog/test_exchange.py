"""Out and in again without loss; wrong files get a plain answer."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import LogError
from leadsman.waterlog import exchange
from leadsman.waterlog.events import (
    AdviceGiven,
    Amend,
    Bite,
    Body,
    Casts,
    Contact,
    Event,
    Fish,
    FishFate,
    LineCare,
    Note,
    Place,
    SetupStart,
    SetupStop,
    Sighting,
    StretchStatus,
    TripStart,
    TripStop,
    Undo,
    WaterReading,
)

BODIES: list[Body] = [
    TripStart("Long Pond, north", 8.5, -5.0, 3.2, 5),
    TripStop(),
    SetupStart("deep", "rattling", "dark", "snap", 55.0, -0.5),
    SetupStop(),
    Place("p 1", "drop", 4.5, 45.123456789, -90.5),
    Casts(12),
    Bite(120.0),
    Fish(0.43, 1.2, "kept", "phone-000001", 7.0),
    FishFate("phone-000001", "culled"),
    StretchStatus("s1", True),
    LineCare("deep", "retied"),
    Contact(4.3, False),
    Sighting("birds", "over the point; =SUM(A1)"),
    WaterReading(22.5, 1.0, 2.5, 8.1, 0.2, True),
    Note("=1+1"),
    Note("line one\nline \"two\", 'three'"),
    Note(""),
    Note("'quoted"),
    AdviceGiven("opt", 1.5, 0.7, True),
    Undo("phone-000003"),
    Amend("phone-000004", {"sound": "silent", "cast_m": 50.0}, 1.7e9),
]
EVENTS = [
    Event(f"phone-{n:06d}", "trip", "phone", n, 1.7e9 + n / 7.0, body, 3.25 * n, "run")
    for n, body in enumerate(BODIES)
]


def test_every_kind_of_event_survives_json_and_csv(tmp_path: Path) -> None:
    for name in ("log.json", "log.csv"):
        exchange.save(EVENTS, tmp_path / name)
        assert exchange.load(tmp_path / name) == EVENTS
    assert sorted(p.name for p in tmp_path.iterdir()) == ["log.csv", "log.json"]


def test_no_csv_cell_can_run_as_a_formula() -> None:
    rows = list(csv.reader(io.StringIO(exchange.to_csv(EVENTS))))
    kind = rows[0].index("kind")
    for row in rows[1:]:
        texts = [c for c in row if c and not _is_number(c)]
        assert row[kind] and not any(c.startswith(("=", "+", "-", "@")) for c in texts)


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


@settings(max_examples=60)
@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\r\0"), max_size=60))
def test_any_note_survives(text: str) -> None:
    event = Event("phone-000001", "trip", "phone", 1, 1.7e9, Note(text))
    assert exchange.from_csv(exchange.to_csv([event])) == [event]
    assert exchange.from_json(exchange.to_json([event])) == [event]


def good() -> dict[str, object]:
    return {
        "id": "phone-000001",
        "trip": "t",
        "device": "phone",
        "seq": 1,
        "time_utc_s": 1.7e9,
        "kind": "bite",
        "body": {},
    }


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"kind": "teleport"}, "unknown kind"),
        ({"id": "x"}, "8 to 64"),
        ({"id": None}, "field id"),
        ({"seq": True}, "field seq"),
        ({"seq": -1}, "seq is below 0"),
        ({"time_utc_s": "noon"}, "time_utc_s"),
        ({"time_utc_s": 1e300}, "Unix time"),
        ({"kind": "casts", "body": {"count": 2.5}}, "whole number"),
        ({"kind": "casts", "body": {"count": 1e400}}, "whole number|outside|limits"),
        ({"kind": "casts", "body": {}}, "needs count"),
        ({"kind": "bite", "body": {"colour": "red"}}, "no field"),
        ({"kind": "fish", "body": {"length_m": -1}}, "outside 0 to 5"),
        ({"kind": "fish", "body": {"fate": "eaten"}}, "eaten"),
        ({"kind": "note", "body": {"text": "x" * 5000}}, "longer than"),
        ({"body": []}, "object"),
    ],
)
def test_wrong_events_are_refused_by_name(change: dict[str, object], says: str) -> None:
    text = json.dumps({"format": "leadsman-log", "version": 1, "events": [{**good(), **change}]})
    with pytest.raises(LogError, match=says):
        exchange.from_json(text, "mine.json")


@pytest.mark.parametrize(
    "text", ["", "[]", "{}", '{"format": "leadsman-log"}', "[" * 100_000, "nonsense"]
)
def test_wrong_files_are_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "log.json"
    path.write_text(text)
    with pytest.raises(LogError, match=r"log\.json"):
        exchange.load(path)


def test_a_csv_says_which_line_is_wrong(tmp_path: Path) -> None:
    lines = exchange.to_csv(EVENTS[:3]).splitlines()
    lines[2] = lines[2].replace("trip_stop", "trip_halt")
    path = tmp_path / "log.csv"
    path.write_text("\n".join(lines))
    with pytest.raises(LogError, match="line 3"):
        exchange.load(path)
    path.write_text("a,b\n1,2\n")
    with pytest.raises(LogError, match="column id is missing"):
        exchange.load(path)
    path.write_bytes(b"\xff\xfe\xfa")
    with pytest.raises(LogError, match="UTF-8"):
        exchange.load(path)
    with pytest.raises(LogError, match=r"\.csv or \.json"):
        exchange.load(tmp_path / "log.txt")
    with pytest.raises(LogError, match="cannot be read"):
        exchange.load(tmp_path / "none.csv")
