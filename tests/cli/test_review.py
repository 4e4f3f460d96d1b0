"""`leadsman review`: sums that can be counted by hand, pictures, and what it teaches of lures."""

from __future__ import annotations

import csv
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from log_clock import Water

FT = 0.3048


@pytest.fixture
def water(leadsman: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> Iterator[Water]:
    with monkeypatch.context() as patch:
        yield Water(leadsman, patch)
    time.tzset()


def a_day(water: Water, *more: str, day: int = 0) -> None:
    def log(moment: str, *words: str) -> None:
        water.go(moment, "log", *words, *more, day=day)

    log("6:00", "day", "Invented Lake", "--hours", "8 h", "--clarity", "6 ft")
    log("6:00", "place", "long bar", "--depth", "14 ft", "--ground", "edge")
    log("6:00", "start", "long-lip-15-rattling", "fluoro-12")
    for minute in (10, 20, 30):
        log(f"6:{minute}", "bite")
    log("6:31", "fish", "16 in", "--kept")
    log("6:40", "touch", "14 ft")
    log("7:00", "start", "long-lip-15")
    log("7:30", "cast", "20")
    log("8:00", "cast", "10")
    log("8:00", "place", "old road", "--depth", "9 ft", "--ground", "flat")
    log("8:30", "touch", "9 ft")
    log("8:40", "touch", "30 ft", "--missed")
    log("9:00", "stop", "--day")


def rows(found: dict[str, Any], factor: str) -> dict[str, dict[str, Any]]:
    return {row["level"]: row for row in found["rates"] if row["factor"] == factor}


def test_sums_by_hand(water: Water) -> None:
    a_day(water)
    found = water.go("9:05", "review", "--json").document
    assert (found["bites"], found["fish"], found["kept"]) == (3, 1, 1)
    assert found["hours"] == pytest.approx(3.0)
    sound = rows(found, "sound")
    assert (sound["rattling"]["bites"], sound["silent"]["bites"]) == (3, 0)
    assert sound["rattling"]["hours"] == pytest.approx(1.0)
    assert sound["silent"]["hours"] == pytest.approx(2.0)
    place = rows(found, "place")
    assert place["long bar"]["hours"] == pytest.approx(2.0)
    for factor in ("depth", "cover", "sound", "colour", "work", "place"):
        level = rows(found, factor).values()
        assert sum(row["bites"] for row in level) == 3, factor
        assert sum(row["zone_m"] for row in level) == pytest.approx(found["zone_m"]), factor
    # Gamma(0.5, 91.44 m) seen with y bites over z metres has the mean (0.5 + y) / (91.44 + z),
    # the conjugate rule of any textbook; in 100 yd there are 91.44 m.
    row = sound["rattling"]
    mean = (0.5 + row["bites"]) / (91.44 + row["zone_m"]) * 91.44
    assert row["per_100_yd"] == pytest.approx(mean)
    assert row["low_per_100_yd"] < mean < row["high_per_100_yd"]
    assert [b["hour"] for b in found["bites_at"]] == pytest.approx([1 / 6, 2 / 6, 3 / 6])
    # The fish of 6:31 is the bite of 6:30.
    assert [b["landed"] for b in found["bites_at"]] == [False, False, True]


def test_counted_casts_are_what_counts(water: Water) -> None:
    """Twice the casts in the same time are twice the zone."""

    def zone_m(casts: str, log: str) -> float:
        for words in (("place", "bar", "--depth", "14 ft"), ("start", "long-lip-15", "fluoro-12")):
            water.go("6:00", "log", *words, "--log", log)
        water.go("7:00", "log", "cast", casts, "--log", log)
        water.go("7:00", "log", "stop", "--day", "--log", log)
        return float(water.go("7:01", "review", "--json", "--log", log).document["zone_m"])

    assert zone_m("40", "b.sqlite") == pytest.approx(2.0 * zone_m("20", "a.sqlite"))


def test_running_depths_against_predicted(water: Water) -> None:
    a_day(water)
    found = water.go("9:05", "review", "--json").document
    contacts = found["contacts"]
    assert [c["touched"] for c in contacts] == [True, True, False]
    assert contacts[0]["depth_m"] == pytest.approx(14 * FT)
    for c in contacts:
        off = (c["depth_m"] - c["predicted_m"]) / c["predicted_sd_m"]
        assert c["surprise"] == pytest.approx(off)
    assert contacts[2]["surprise"] > contacts[1]["surprise"]
    depth = water.go("9:06", "depth", "--lure", "long-lip-15", "--line", "fluoro-12", "--json")
    band = depth.document["max_depth_bands_m"]
    assert contacts[1]["predicted_m"] == pytest.approx(band["median"], abs=0.3)


def test_observations_are_written_only_when_asked_and_once(water: Water, tmp_path: Path) -> None:
    kit = str(tmp_path / "kit.toml")
    water.go("5:00", "kit", "new", kit)
    observations = tmp_path / "observations.csv"
    a_day(water)
    water.go("9:05", "review")
    assert not observations.exists()
    told = water.go("9:06", "review", "--note-observations", "--json").document
    assert [o["written"] for o in told["observations"]] == [True, True, True]
    with observations.open(newline="") as file:
        seen = list(csv.DictReader(file))
    assert [row["kind"] for row in seen] == ["ticked", "ticked", "did not reach"]
    assert [row["lure"] for row in seen] == ["long-lip-15-rattling", "long-lip-15", "long-lip-15"]
    assert {row["date"] for row in seen} == {"2026-06-21"}
    before = observations.read_bytes()
    water.go("9:07", "review", "--note-observations")
    assert observations.read_bytes() == before


def test_the_demo_kit_has_nowhere_to_note(water: Water, leadsman: Callable[..., Any]) -> None:
    a_day(water)
    reply = leadsman("review", "--note-observations")
    assert reply.code == 2
    assert "kit new" in reply.err


def test_pictures_for_laptop_and_phone(water: Water) -> None:
    from matplotlib.image import imread

    a_day(water)
    widths = []
    for name, more in (("day.png", ()), ("phone.png", ("--phone",))):
        water.go("9:05", "review", "--picture", name, *more)
        for file in (Path(name), Path(name.replace(".", "-rates."))):
            picture = imread(file)
            assert picture[..., :3].std() > 0.01  # not blank
        widths.append(imread(name).shape[1])
    assert widths[0] > 1.5 * widths[1]


def test_the_season_is_told(water: Water) -> None:
    a_day(water)
    water.now += 1.0
    a_day(water, day=1)
    found = water.go("9:05", "review", "--json", day=1).document
    assert found["season_days"] == 1
    one = water.go("9:06", "review", "--day", "2026-06-21", "--json", day=1).document
    assert one["season_days"] == 0  # what came later does not count
    season = {(r["factor"], r["level"]): r for r in found["season"]}
    # A day old counts exp(-1/14), by waterlog/season.py's stated rule.
    assert season["sound", "rattling"]["bites"] == pytest.approx(3 * 2.718281828 ** (-1 / 14))


def test_a_day_without_fishing(water: Water) -> None:
    water.log("6:00", "note wind too strong")
    found = water.go("7:00", "review", "--json").document
    assert found["rates"] == []
    assert "Nothing was fished" in found["headline"] or "nothing was fished" in found["headline"]
    assert water.go("7:01", "review", "--picture", "day.svg").code == 0
    assert Path("day-rates.svg").exists()


def test_bites_outside_of_any_setup_are_told(water: Water) -> None:
    water.log("6:00", "bite")
    found = water.go("7:00", "review", "--json").document
    assert found["bites"] == 1
    assert any("outside" in note for note in found["notes"])


@pytest.mark.parametrize(
    "words",
    [
        ["--day", "1999-01-01"],
        ["--picture", "day.docx"],
        ["--picture", "nowhere/day.png"],
        ["--units", "cubits"],
        ["--log", "none.sqlite"],
        ["--kit", "none.toml"],
    ],
    ids=lambda words: " ".join(words),
)
def test_broken_input(water: Water, leadsman: Callable[..., Any], words: list[str]) -> None:
    a_day(water)
    reply = leadsman("review", *words)
    assert reply.code == 2
    assert reply.out == ""
    assert reply.err.strip()
