"""A whole invented day by commands, broken input, two writers at once, files back and forth."""

from __future__ import annotations

import csv
import json
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from log_clock import Water

LOG = Path("waterlog.sqlite")


@pytest.fixture
def water(leadsman: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> Iterator[Water]:
    with monkeypatch.context() as patch:
        yield Water(leadsman, patch)
    time.tzset()


def entries(path: Path = LOG) -> list[tuple[str, str, str]]:
    """Id, kind and body of everything in the file, read without the program."""
    with sqlite3.connect(path) as db:
        return db.execute("SELECT id, kind, body FROM event ORDER BY row").fetchall()


def a_day(water: Water) -> None:
    water.go("6:00", "log", "day", "Invented Lake", "--hours", "8 h", "--clarity", "6 ft",
             "--limit", "5")  # fmt: skip
    water.log("6:05", "start long-lip-15-rattling fluoro-12")
    water.go("6:06", "log", "place", "long bar", "--depth", "14 ft", "--ground", "edge")
    water.log("6:20", "bite")
    water.log("6:30", "bite 2")
    water.log("6:31", "fish 16 in --kept")
    water.log("6:50", "fish 2 lb 4 oz --own-bite")
    water.log("7:00", "saw forage bait on the surface")
    water.log("7:10", "water 72 degF --livewell")
    water.log("7:20", "line checked")
    water.log("7:30", "start long-lip-15")
    water.log("7:45", "bite --ago 5min")
    water.log("8:00", "touch 14 ft")
    water.log("8:05", "stretch old road taken")
    water.log("8:10", "cast 30")
    water.log("8:30", "note wind from the south")
    water.log("9:00", "stop")


def test_a_whole_day(water: Water) -> None:
    a_day(water)
    found = water.go("9:05", "log", "show", "--json").document
    # Bites 6:20 and 6:28, of which the second is the fish of 6:31; the fish of 6:50; 7:40.
    assert (found["bites"], found["fish"]) == (4, 2)
    clocks = [row["clock"] for row in found["entries"] if row["kind"] == "bite"]
    assert clocks == ["06:20", "06:28", "07:40"]
    assert found["setup"] is None
    assert found["place"] == "long bar"
    assert found["room"] == 4
    assert found["kept"][0]["hours"] == pytest.approx(154 / 60)
    text = water.go("9:06", "log", "show").out
    assert "fish 1, 16.00 in, kept" in text
    assert "2 lb 4 oz" in text
    bodies = [json.loads(body) for _, kind, body in entries() if kind == "fish"]
    assert bodies[0]["length_m"] == pytest.approx(16 * 0.0254)
    assert bodies[1]["weight_kg"] == pytest.approx(2.25 * 0.45359237)
    starts = [json.loads(body) for _, kind, body in entries() if kind == "setup_start"]
    # A body holds what is not usual; silent is usual.
    assert [s.get("sound", "silent") for s in starts] == ["rattling", "silent"]
    # The second start names no line: it is the one in hand.
    assert starts[1]["setup"] == "long-lip-15 on fluoro-12"
    ended = water.log("13:00", "stop --day")
    assert "4 bites" in ended.out
    assert "dry" in ended.out


def test_two_words_and_a_number_are_a_bite(water: Water) -> None:
    water.log("6:00", "bite 3")
    assert json.loads(entries()[0][2]) == {"ago_s": 180.0}
    assert "no setup" in water.log("6:01", "bite").out


def test_undo_and_redo_mark_and_never_delete(water: Water) -> None:
    a_day(water)
    before = entries()
    water.log("9:10", "bite")
    assert water.go("9:11", "log", "show", "--json").document["bites"] == 5
    assert "Taken back: bite" in water.log("9:12", "undo").out
    assert water.go("9:13", "log", "show", "--json").document["bites"] == 4
    water.log("9:14", "redo")
    assert water.go("9:15", "log", "show", "--json").document["bites"] == 5
    water.log("9:16", "undo")
    shown = water.go("9:17", "log", "show", "--all").out
    assert "taken back: bite" in shown
    assert entries()[: len(before)] == before


def test_undo_takes_the_numbered_entry(water: Water) -> None:
    a_day(water)
    rows = water.go("9:10", "log", "show", "--json").document["entries"]
    number = next(row["number"] for row in rows if row["kind"] == "note")
    assert "wind from the south" in water.log("9:11", f"undo {number}").out
    left = water.go("9:12", "log", "show", "--json").document["entries"]
    assert "note" not in {row["kind"] for row in left}


def test_a_better_fish_takes_the_place_of_a_kept_one(water: Water) -> None:
    water.go("6:00", "log", "day", "Invented Lake", "--limit", "1")
    water.log("6:10", "fish 14 in --kept")
    reply = water.log("6:40", "fish 17 in --kept --instead-of 1")
    assert "1 kept of 1" in reply.out
    kept = water.go("6:41", "log", "show", "--json").document["kept"]
    assert len(kept) == 1
    assert kept[0]["hours"] == pytest.approx(1 / 60)
    # Taken back as one: the first is kept again.
    water.log("6:42", "undo")
    kept = water.go("6:43", "log", "show", "--json").document["kept"]
    assert kept[0]["hours"] == pytest.approx(33 / 60)
    over = water.log("6:50", "fish 17 in --kept")
    assert "limit" in over.out
    assert "local rules" in over.out.casefold()
    water.log("6:55", "fate 1 released")
    assert len(water.go("6:56", "log", "show", "--json").document["kept"]) == 1


def test_a_fish_from_deep_water_and_a_warm_livewell_bring_cautions(water: Water) -> None:
    water.go("6:00", "log", "fish", "17 in", "--kept", "--depth", "24 ft")
    reply = water.go("6:05", "log", "water", "86 degF", "--livewell", "--oxygen", "4 mg/L")
    for words in ("oxygen", "degC", "6 m"):
        assert words in reply.out
    # Elliott et al. 2021 and Brungs & Jones 1977, see waterlog/fish_care.py: 24 ft > 6 m,
    # 86 degF = 30 degC > 29 degC, 4 < 5.5 mg/L.


def test_a_place_named_before_keeps_its_depth(water: Water) -> None:
    a_day(water)
    water.go("9:10", "log", "place", "45.1234,-93.5678", "--depth", "9 ft", "--ground", "drop")
    reply = water.go("9:20", "log", "place", "Long Bar")
    assert "long bar (edge, 14.0 ft)" in reply.out
    body = json.loads(entries()[-1][2])
    assert body["bottom_m"] == pytest.approx(14 * 0.3048)
    assert "not known" in water.go("9:30", "log", "place", "somewhere else").out


def test_the_day_goes_on_over_midnight_and_a_new_one_begins_in_the_morning(water: Water) -> None:
    water.log("22:00", "start mid-lip-12 fluoro-12")
    assert water.go("0:30", "log", "bite", "--json", day=1).document["day"] == "2026-06-21"
    assert water.go("7:00", "log", "bite", "--json", day=1).document["day"] == "2026-06-22"


def test_an_ended_day_takes_notes_but_a_new_setup_opens_another(water: Water) -> None:
    water.log("6:00", "start mid-lip-12 fluoro-12")
    water.log("9:00", "stop --day")
    assert water.go("9:30", "log", "note", "x", "--json").document["day"] == "2026-06-21"
    found = water.go("18:00", "log", "start", "mid-lip-12", "fluoro-12", "--json").document
    assert found["day"] == "2026-06-21-2"
    assert water.go("18:10", "log", "bite", "--json").document["day"] == "2026-06-21-2"


def test_a_clock_set_back_loses_nothing(water: Water) -> None:
    water.log("8:00", "start mid-lip-12 fluoro-12")
    water.log("9:00", "bite")
    water.log("8:10", "bite")  # the clock was an hour fast
    found = water.go("8:20", "log", "show", "--json").document
    assert found["bites"] == 2
    assert found["day"] == "2026-06-21"
    assert any("clock" in note for note in found["notes"])


def test_the_day_can_be_told_in_more_words_later(water: Water) -> None:
    water.log("6:00", "start mid-lip-12 fluoro-12")
    water.go("7:00", "log", "day", "Invented Lake", "--hours", "5 h")
    reply = water.go("8:00", "log", "day", "--limit", "3")
    assert "Invented Lake, 6 h" in reply.out  # 5 h from 7:00 on, and one had gone
    assert "limit 3" in reply.out


def test_back_to_paper(water: Water) -> None:
    """A day written down afterwards is another day, at its own times."""
    water.log("20:00", "bite")
    water.go("20:05", "log", "start", "mid-lip-12", "fluoro-12", "--at", "2026-06-20 7:00")
    water.go("20:06", "log", "bite", "--at", "2026-06-20 7:30")
    found = water.go("20:07", "log", "show", "--day", "2026-06-20", "--json").document
    assert [row["clock"] for row in found["entries"]] == ["07:00", "07:30"]
    assert water.go("20:08", "log", "bite", "--json").document["day"] == "2026-06-21"


BROKEN: dict[str, list[str]] = {
    "bite in pounds": ["bite", "2 lb"],
    "bite in the future": ["bite", "--at", "23:59"],
    "bite at no moment": ["bite", "--at", "noon"],
    "bite at the 31st of June": ["bite", "--at", "2026-06-31 7:00"],
    "bite a day ago": ["bite", "25 h"],
    "bite before it happened": ["bite", "--ago", "-2 min"],
    "bite nan": ["bite", "nan min"],
    "fish in stones": ["fish", "16 stones"],
    "fish of nothing": ["fish", "0 in"],
    "fish of 20 ft": ["fish", "20 ft"],
    "fish twice as long": ["fish", "16 in", "17 in"],
    "two fates": ["fish", "16 in", "--kept", "--released"],
    "instead of a fish that is not there": ["fish", "16 in", "--kept", "--instead-of", "9"],
    "instead of, but not kept": ["fish", "16 in", "--instead-of", "1"],
    "fate of no fish": ["fate", "0", "released"],
    "no fate": ["fate", "1", "fried"],
    "unknown lure": ["start", "long-lip-16", "fluoro-12"],
    "unknown line": ["start", "long-lip-15", "fluoro-13"],
    "cast without unit": ["start", "long-lip-15", "fluoro-12", "--cast", "60"],
    "cast of a mile": ["start", "long-lip-15", "fluoro-12", "--cast", "1 mi"],
    "rod sideways": ["start", "long-lip-15", "fluoro-12", "--tip-height", "sideways"],
    "unknown work": ["start", "long-lip-15", "fluoro-12", "--work", "dance"],
    "place without a name": ["place", " "],
    "place off Earth": ["place", "95.1,10.2"],
    "place on the moon": ["place", "bar", "--depth", "3000 ft"],
    "unknown ground": ["place", "bar", "--depth", "14 ft", "--ground", "lava"],
    "depth without unit": ["place", "bar", "--depth", "14"],
    "minus casts": ["cast", "-3"],
    "casts in words": ["cast", "many"],
    "touch without depth": ["touch", "the bottom"],
    "stretch neither taken nor free": ["stretch", "long bar", "gone"],
    "line cooked": ["line", "cooked"],
    "water of nothing": ["water"],
    "water that boils": ["water", "300 degF"],
    "oxygen without unit": ["water", "--oxygen", "6"],
    "note of nothing": ["note", " "],
    "note of a book": ["note", "x" * 5000],
    "day of 90 h": ["day", "Lake", "--hours", "90 h"],
    "limit below 0": ["day", "Lake", "--limit", "-1"],
    "undo of no entry": ["undo", "999"],
    "redo of nothing": ["redo"],
    "advice that was not given": ["followed"],
    "unknown day": ["show", "--day", "1999-01-01"],
    "export as a document": ["export", "day.docx"],
    "export into no folder": ["export", "nowhere/day.csv"],
    "export over itself": ["export", "waterlog.sqlite", "--over"],
    "import of nothing": ["import", "not-there.csv"],
    "import of a picture": ["import", "picture.png"],
    "import of no log": ["import", "broken.json"],
    "import of half a table": ["import", "broken.csv"],
    "import of no database": ["import", "broken.sqlite"],
    "no such units": ["note", "x", "--units", "cubits"],
    "log in no folder": ["bite", "--log", "nowhere/log.sqlite"],
    "kit that is not there": ["start", "long-lip-15", "fluoro-12", "--kit", "none.toml"],
}  # fmt: skip


def test_there_are_thirty_kinds_and_more() -> None:
    assert len(BROKEN) >= 30


@pytest.mark.parametrize("words", BROKEN.values(), ids=BROKEN.keys())
def test_broken_input_leaves_the_log_as_it_was(
    water: Water, leadsman: Callable[..., Any], words: list[str]
) -> None:
    water.log("6:00", "start mid-lip-12 fluoro-12")
    water.log("6:10", "fish 14 in --kept")
    Path("broken.json").write_text('{"format": "leadsman-log", "version": 1, "events": [{}]}')
    Path("broken.csv").write_text("id,trip\nx,y\n")
    Path("broken.sqlite").write_bytes(b"this is no database, whatever its name says" * 40)
    before = entries()
    water.now += 600.0
    reply = leadsman("log", *words)
    assert reply.code == 2, (reply.out, reply.err)
    assert reply.out == ""
    assert "Traceback" not in reply.err
    assert "fault" not in reply.err.casefold().replace("default", "")
    assert reply.err.strip()
    assert entries() == before


def test_a_foreign_database_is_refused_and_left_as_it_was(
    water: Water, leadsman: Callable[..., Any]
) -> None:
    with sqlite3.connect("foreign.sqlite") as db:
        db.execute("CREATE TABLE t (x)")
    db.close()
    before = Path("foreign.sqlite").read_bytes()
    reply = leadsman("log", "bite", "--log", "foreign.sqlite")
    assert reply.code == 2
    assert "not a log" in reply.err
    assert Path("foreign.sqlite").read_bytes() == before


def test_an_answer_that_fails_does_not_lose_the_entry(
    water: Water, monkeypatch: pytest.MonkeyPatch
) -> None:
    from leadsman.usecases import log_entries

    def broken(*_: object) -> None:
        raise RuntimeError("no answer today")

    monkeypatch.setattr(log_entries, "standing", broken)
    reply = water.log("6:00", "bite")
    assert reply.out.startswith("Written.")
    assert [kind for _, kind, _ in entries()] == ["bite"]


@pytest.mark.parametrize("ending", ["csv", "json", "sqlite"])
def test_out_and_in_again_three_times(
    water: Water, tmp_path: Path, leadsman: Callable[..., Any], ending: str
) -> None:
    a_day(water)
    file = tmp_path / f"day.{ending}"
    count = len(entries())
    reply = water.go("9:10", "log", "export", str(file), "--json").document
    assert reply["new"] == count
    refused = leadsman("log", "export", str(file))
    assert refused.code == 2
    assert "--over" in refused.err
    other = ("--log", "other.sqlite")
    first = water.go("9:20", "log", "import", str(file), *other, "--json").document
    assert (first["new"], first["known"]) == (count, 0)
    for _ in range(2):
        again = water.go("9:30", "log", "import", str(file), *other, "--json").document
        assert (again["new"], again["known"]) == (0, count)
    assert sorted(entries(Path("other.sqlite"))) == sorted(entries())
    shown = [
        water.go("9:40", "log", "show", "--json", *more).document["entries"] for more in ((), other)
    ]
    assert shown[0] == shown[1]


def test_a_spreadsheet_can_read_the_csv(water: Water, tmp_path: Path) -> None:
    a_day(water)
    water.go("9:10", "log", "export", str(tmp_path / "day.csv"))
    with (tmp_path / "day.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert [r["kind"] for r in rows].count("bite") == 3
    assert next(r for r in rows if r["kind"] == "place")["place"] == "long bar"


def test_an_import_that_contradicts_changes_nothing(
    water: Water, tmp_path: Path, leadsman: Callable[..., Any]
) -> None:
    a_day(water)
    water.go("9:10", "log", "export", str(tmp_path / "day.json"))
    data = json.loads((tmp_path / "day.json").read_text())
    data["events"][-1]["time_utc_s"] += 5.0
    data["events"].insert(0, {**data["events"][0], "id": "a-new-event"})
    (tmp_path / "day.json").write_text(json.dumps(data))
    before = entries()
    reply = leadsman("log", "import", str(tmp_path / "day.json"))
    assert reply.code == 2
    assert entries() == before


def test_two_processes_write_at_once(tmp_path: Path) -> None:
    each = 12
    script = (
        "from leadsman.cli import run\n"
        "import sys\n"
        f"sys.exit(max(run(['log', 'bite', '--log', 'both.sqlite']) for _ in range({each})))\n"
    )
    running = [
        subprocess.Popen([sys.executable, "-c", script], cwd=tmp_path, stdout=subprocess.PIPE)
        for _ in range(2)
    ]
    heads = [p.communicate(timeout=120)[0].decode().count("Bite ") for p in running]
    assert [p.returncode for p in running] == [0, 0]
    assert heads == [each, each]
    rows = entries(tmp_path / "both.sqlite")
    assert len(rows) == 2 * each
    assert len({id_ for id_, _, _ in rows}) == 2 * each


def test_a_damaged_log_is_saved_into_a_new_one(water: Water, tmp_path: Path) -> None:
    a_day(water)
    count = len(entries())
    reply = water.go("9:10", "log", "salvage", "waterlog.sqlite", "fresh.sqlite", "--json")
    assert reply.document["new"] == count
    assert entries(Path("fresh.sqlite")) == entries()


def test_reading_makes_no_file(water: Water, leadsman: Callable[..., Any]) -> None:
    for words in (("log", "show"), ("log", "undo"), ("advise",), ("review",)):
        reply = leadsman(*words)
        assert reply.code == 2
        assert "no log here yet" in reply.err
    assert not LOG.exists()


def test_the_log_lies_beside_the_kit(water: Water, tmp_path: Path) -> None:
    (tmp_path / "tackle").mkdir()
    kit = str(tmp_path / "tackle" / "kit.toml")
    water.go("6:00", "kit", "new", kit)
    water.go("6:01", "log", "bite", "--kit", kit)
    assert (tmp_path / "tackle" / LOG).exists()
