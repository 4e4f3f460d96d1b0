"""`leadsman advise` on invented days: what it names first, what it leaves alone, its quiet."""

from __future__ import annotations

import json
import sqlite3
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from log_clock import Water


@pytest.fixture
def water(leadsman: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> Iterator[Water]:
    with monkeypatch.context() as patch:
        yield Water(leadsman, patch)
    time.tzset()


def kinds() -> list[str]:
    with sqlite3.connect("waterlog.sqlite") as db:
        return [kind for (kind,) in db.execute("SELECT kind FROM event ORDER BY row")]


def begin(water: Water, lure: str = "long-lip-15-rattling") -> None:
    water.go("6:00", "log", "day", "Invented Lake", "--hours", "8 h")
    water.log("6:00", f"start {lure} fluoro-12")
    water.go("6:00", "log", "place", "long bar", "--depth", "14 ft")


def bites(water: Water, first_min: int, every_min: int, count: int) -> int:
    """Bites at a steady pace; gives the minute of the last."""
    minute = first_min
    for _ in range(count):
        water.log(f"{6 + minute // 60}:{minute % 60:02d}", "bite")
        minute += every_min
    return minute - every_min


def ask(water: Water, minute: int, *words: str) -> dict[str, Any]:
    moment = f"{6 + minute // 60}:{minute % 60:02d}"
    document: dict[str, Any] = water.go(moment, "advise", "--json", *words).document
    return document


def test_a_spot_that_died_with_the_other_sound_untried(water: Water) -> None:
    """Common practice, no source: after 15 to 20 fish a spot tires of a sound, not of all."""
    begin(water)
    last = bites(water, 4, 4, 18)
    found = ask(water, last + 4 * 8)
    assert found["verdict"] == "change"
    assert found["best"]["changes"][0] == "sound"
    assert "place" not in found["best"]["changes"]
    assert found["best"]["place"] == "long bar"
    assert found["status"] == "stopped"
    assert "silent" in found["headline"]
    why = " ".join(found["why"])
    for words in ("has stopped", "How: ", "Come back if", "bites an hour there against"):
        assert words in why, words


def test_what_is_on_is_left_alone(water: Water) -> None:
    begin(water)
    last = bites(water, 4, 4, 12)
    found = ask(water, last + 2)
    assert found["verdict"] == "stay"
    assert found["status"] == "on"
    assert found["bites"] == 12
    assert found["here"]["bites_per_h"] > 5.0  # 15 an hour were seen
    assert "log" not in found["headline"]


def test_a_start_without_fish_is_told_from_a_stop(water: Water) -> None:
    begin(water)
    found = ask(water, 90)
    assert found["status"] == "not started"
    assert "stopped" not in " ".join(found["why"])


def test_it_keeps_the_quiet_that_was_asked_for(water: Water) -> None:
    begin(water)
    last = bites(water, 4, 4, 18)
    first = ask(water, last + 32)
    assert first["noted"]
    assert kinds().count("advice") == 1
    again = ask(water, last + 36, "--quiet", "1 h")
    assert again["verdict"] == "stay"
    assert again["held_back"]
    assert kinds().count("advice") == 1
    loud = ask(water, last + 38, "--quiet", "0 min", "--most-per-hour", "60", "--no-note")
    assert loud["verdict"] == "change"
    assert not loud["noted"]
    assert kinds().count("advice") == 1
    never = ask(water, last + 40, "--quiet", "0 min", "--most-per-hour", "0", "--no-note")
    assert never["verdict"] == "stay"


def test_following_is_told_and_counted(water: Water) -> None:
    begin(water)
    last = bites(water, 4, 4, 18)
    ask(water, last + 32)
    water.log("8:10", "followed")
    found = water.go("8:11", "review", "--json").document
    assert (found["advice_given"], found["advice_followed"]) == (1, 1)


def test_with_no_time_left_nothing_is_changed(water: Water) -> None:
    begin(water)
    last = bites(water, 4, 4, 18)
    assert ask(water, last + 32, "--hours-left", "0 h")["verdict"] == "stay"
    assert ask(water, last + 32, "--no-note")["hours_left"] == pytest.approx(8 - (last + 32) / 60)


def test_an_outlook_is_where_it_starts(water: Water, tmp_path: Path) -> None:
    outlook = tmp_path / "outlook.json"
    weights = {"sound": {"rattling": 0.1, "silent": 0.9}}
    outlook.write_text(
        json.dumps({"schema": "leadsman.outlook/1", "headline": "Clear.", "rate_weights": weights})
    )
    begin(water)
    flat = ask(water, 10, "--no-note")
    given = ask(water, 10, "--no-note", "--outlook", str(outlook))
    assert "flat wide guess" in flat["notes"][0]
    assert given["notes"][0] == "Starts from: Clear."
    assert given["here"]["bites_per_h"] < flat["here"]["bites_per_h"]


def test_an_outlook_of_our_own_is_read(water: Water, tmp_path: Path) -> None:
    made = water.go("5:00", "outlook", "--clarity", "6 ft", "--date", "2026-06-21", "--at",
                    "45.0,-93.2", "--zone", "UTC-5", "--json")  # fmt: skip
    (tmp_path / "outlook.json").write_text(made.out)
    begin(water)
    found = ask(water, 10, "--outlook", "outlook.json")
    assert found["notes"][0].startswith("Starts from: ")


def test_earlier_days_count(water: Water) -> None:
    begin(water)
    bites(water, 4, 4, 12)
    water.log("8:00", "stop --day")
    water.now += 24 * 3600.0
    water.go("6:00", "log", "day", "Invented Lake", day=1)
    water.go("6:00", "log", "start", "long-lip-15-rattling", "fluoro-12", day=1)
    water.go("6:00", "log", "place", "another bar", "--depth", "14 ft", day=1)
    with_past = water.go("6:05", "advise", "--json", "--no-note", day=1).document
    assert any("1 earlier day" in note for note in with_past["notes"])
    fresh = ("--log", "fresh.sqlite")
    water.go("6:00", "log", "start", "long-lip-15-rattling", "fluoro-12", *fresh, day=1)
    water.go("6:00", "log", "place", "another bar", "--depth", "14 ft", *fresh, day=1)
    without = water.go("6:05", "advise", "--json", "--no-note", *fresh, day=1).document
    assert with_past["here"]["bites_per_h"] > without["here"]["bites_per_h"]


def test_a_setup_that_left_the_kit_is_named(water: Water, tmp_path: Path) -> None:
    begin(water)
    kit = tmp_path / "small.toml"
    water.go("6:10", "kit", "new", str(kit))
    text = kit.read_text(encoding="utf-8").replace("[lures.long-lip-15-rattling]", "[lures.gone]")
    kit.write_text(text, encoding="utf-8")
    found = water.go(
        "6:20", "advise", "--json", "--no-note", "--kit", str(kit), "--log", "waterlog.sqlite"
    ).document
    assert any("is not in the kit" in note for note in found["notes"])


def test_words_for_people(water: Water) -> None:
    begin(water)
    last = bites(water, 4, 4, 18)
    moment = f"{6 + (last + 32) // 60}:{(last + 32) % 60:02d}"
    text = water.go(moment, "advise").out
    assert text.startswith("Go to a silent lure")
    assert " ft" in text
    assert "Local rules" in text
    assert " m " not in text.split("Best by")[0]
    metric = water.go(moment, "advise", "--units", "metric", "--no-note").out
    assert " m" in metric
    assert " ft" not in metric


BROKEN: dict[str, list[str]] = {
    "outlook not there": ["--outlook", "none.json"],
    "outlook no JSON": ["--outlook", "broken.txt"],
    "outlook of another kind": ["--outlook", "other.json"],
    "outlook with a wrong level": ["--outlook", "level.json"],
    "hours without unit": ["--hours-left", "3"],
    "hours backwards": ["--hours-left", "-3 h"],
    "rigged but not owned": ["--rigged", "spoon"],
    "rigged on no line": ["--rigged", "long-lip-15 on rope"],
    "place on the moon": ["--place", "bar=9000 ft"],
    "place without unit": ["--place", "bar=9"],
    "place without name": ["--place", "=9 ft"],
    "quiet in pounds": ["--quiet", "3 lb"],
    "minus suggestions": ["--most-per-hour", "-1"],
    "kit not there": ["--kit", "none.toml"],
    "log not there": ["--log", "none.sqlite"],
}


@pytest.mark.parametrize("words", BROKEN.values(), ids=BROKEN.keys())
def test_broken_input(water: Water, leadsman: Callable[..., Any], words: list[str]) -> None:
    begin(water)
    Path("broken.txt").write_text("{")
    Path("other.json").write_text('{"schema": "leadsman.depth/1"}')
    level = {"schema": "leadsman.outlook/1", "rate_weights": {"depth": {"99": 1.0}}}
    Path("level.json").write_text(json.dumps(level))
    before = kinds()
    reply = leadsman("advise", *words)
    assert reply.code == 2, (reply.out, reply.err)
    assert reply.out == ""
    assert reply.err.strip()
    assert kinds() == before


def test_nothing_to_advise_on(water: Water, leadsman: Callable[..., Any]) -> None:
    water.log("6:00", "note up early")
    assert "no setup" in leadsman("advise").err
    water.log("6:01", "start mid-lip-12 fluoro-12")
    assert "no place" in leadsman("advise").err
    water.go("6:02", "log", "place", "bar")
    assert "not known" in water.go("6:03", "advise").out
    water.log("6:04", "stop --day")
    assert "ended" in leadsman("advise").err
