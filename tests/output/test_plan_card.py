"""The card: two sides at most, all words on the paper and apart, nothing lost in silence."""

from __future__ import annotations

import math
import re
import shutil
import subprocess
import sys
from dataclasses import replace
from datetime import date, time
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest

from leadsman.display_units import METRIC
from leadsman.errors import InputError
from leadsman.output.plan_card import (
    MARGIN_MM,
    SMALL_PT,
    PassEntry,
    PlanCard,
    RodEntry,
    compass_words,
    plan_card_pdf,
    save_plan_card,
)

needs_poppler = pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="pdftotext (poppler-utils) is not installed"
)
FOOT_M = 0.3048


def rod(number: int, low_ft: float = 12.6, high_ft: float = 15.0) -> RodEntry:
    return RodEntry(
        number,
        f"Long thin lip {number}",
        "10 lb fluorocarbon, 0.31 mm",
        "outside edge where grass is sparsest",
        low_ft * FOOT_M,
        high_ft * FOOT_M,
        "12 turns low, then tip up to 6 ft",
        ("deep fat body for 17 ft",),
    )


def one_pass(number: int) -> PassEntry:
    return PassEntry(
        time(6 + number % 12, 10),
        time(6 + number % 12, 55),
        f"Stretch {number}: inside turn",
        1,
        "hold 25 ft outside the edge",
        math.radians(315.0),
        24.6888,
        "wind on your back",
    )


def card(rods: int = 4, passes: int = 7) -> PlanCard:
    return PlanCard(
        "Start on the inside turn: it ticks the 13 ft edge for 27 yd of each cast",
        "Long Alder Lake",
        date(2027, 7, 17),
        tuple(rod(i + 1) for i in range(rods)),
        tuple(one_pass(i + 1) for i in range(passes)),
        time(14, 20),
        "25 min run back, weigh-in 15:00",
    )


def pages(data: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", data))


def text_of(data: bytes, tmp_path: Path) -> str:
    path = tmp_path / "card.pdf"
    path.write_bytes(data)
    run = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    )
    return run.stdout


def words_of(data: bytes, tmp_path: Path) -> list[list[tuple[str, list[float]]]]:
    """Words of each page with their boxes [pt], page size first."""
    path, out = tmp_path / "card.pdf", tmp_path / "card.html"
    path.write_bytes(data)
    subprocess.run(["pdftotext", "-bbox", str(path), str(out)], check=True)
    found = []
    space = "{http://www.w3.org/1999/xhtml}"
    for page in ElementTree.parse(out).iter(f"{space}page"):
        size = [0.0, 0.0, float(page.get("width", "0")), float(page.get("height", "0"))]
        words = [("", size)]
        for word in page.iter(f"{space}word"):
            box = [float(word.get(k, "nan")) for k in ("xMin", "yMin", "xMax", "yMax")]
            words.append((word.text or "", box))
        found.append(words)
    return found


@pytest.mark.parametrize("rods", [1, 2, 4, 8])
@pytest.mark.parametrize("passes", [0, 1, 3, 7, 40])
def test_never_more_than_two_sides(rods: int, passes: int) -> None:
    for units in ("us", "metric"):
        given = card(rods, passes)
        if units == "metric":
            given = replace(given, units=METRIC)
        assert 1 <= pages(plan_card_pdf(given)) <= 2


@needs_poppler
@pytest.mark.parametrize(("rods", "passes"), [(2, 1), (4, 7), (8, 3), (8, 30), (3, 30)])
def test_words_are_on_the_paper_big_enough_and_apart(
    rods: int, passes: int, tmp_path: Path
) -> None:
    for page in words_of(plan_card_pdf(card(rods, passes)), tmp_path):
        width, height = page[0][1][2:]
        margin = MARGIN_MM / 25.4 * 72.0 - 1.0
        for word, (left, top, right, bottom) in page[1:]:
            assert left >= margin, word
            assert top >= margin - 4.0, word  # boxes hold unused room above letters
            assert right <= width - margin + 2.0, word
            assert bottom <= height - margin + 4.0, word
            assert bottom - top >= SMALL_PT, word
        for (one, a), (other, b) in combinations(page[1:], 2):
            across = min(a[2], b[2]) - max(a[0], b[0])
            up = min(a[3], b[3]) - max(a[1], b[1])
            tallest = 0.35 * min(a[3] - a[1], b[3] - b[1])
            assert not (across > 1.0 and up > tallest), (one, other)


@needs_poppler
def test_the_card_says_what_was_planned(tmp_path: Path) -> None:
    text = text_of(plan_card_pdf(card()), tmp_path)
    flat = " ".join(text.split())
    for said in (
        "Saturday 2027-07-17",  # by the calendar
        "it ticks the 13 ft edge for 27 yd of each cast",
        "STOP 14:20",
        "12.6–15 ft deep",
        "12 turns low, then tip up to 6 ft",
        "Snap on: deep fat body for 17 ft",
        "07:10",
        "to 07:55",
        "cast NW 315°",
        "27 yd in the zone",
        "Not for navigation",
        "Life jacket",
    ):
        assert said in flat or said in text, said
    assert text.count("STOP 14:20") == 2  # on each side


@needs_poppler
@pytest.mark.parametrize("passes", [1, 7, 12, 20, 40])
def test_passes_are_on_the_card_or_counted(passes: int, tmp_path: Path) -> None:
    text = text_of(plan_card_pdf(card(3, passes)), tmp_path)
    shown = len(re.findall(r"Stretch \d+: inside turn", text))
    rest = re.search(r"(\d+) more pass", text)
    assert shown + (int(rest.group(1)) if rest else 0) == passes
    assert "Not for navigation" in text


@needs_poppler
def test_metric_card_is_in_metres(tmp_path: Path) -> None:
    given = replace(card(), units=METRIC, headline="h")
    text = text_of(plan_card_pdf(given), tmp_path)
    assert "3.8–4.6 m deep" in " ".join(text.split())  # 12.6 ft is 3.84 m, 15 ft is 4.57 m
    assert "25 m in the zone" in " ".join(text.split())
    page = words_of(plan_card_pdf(given), tmp_path)[0]
    # A4 is 210 by 297 mm (ISO 216).
    assert page[0][1][2:] == pytest.approx([210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0], abs=0.1)


def test_same_card_same_bytes_in_another_process(tmp_path: Path) -> None:
    script = (
        "import hashlib, sys\n"
        f"sys.path.insert(0, {str(Path(__file__).parent)!r})\n"
        "from test_plan_card import card\n"
        "from leadsman.output.plan_card import plan_card_pdf\n"
        "print(hashlib.sha256(plan_card_pdf(card())).hexdigest())\n"
    )
    seen = {
        subprocess.run(
            [sys.executable, "-c", script], capture_output=True, text=True, check=True
        ).stdout
        for _ in range(2)
    }
    assert len(seen) == 1


def test_headings_as_people_say_them() -> None:
    said = {0.0: "N 0°", 45.0: "NE 45°", 202.4: "S 202°", 359.9: "N 0°", -90.0: "W 270°"}
    for degrees, words in said.items():
        assert compass_words(math.radians(degrees)) == words


def test_a_missing_folder_is_said_and_nothing_is_left(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        save_plan_card(card(), tmp_path / "no" / "card.pdf")
    assert list(tmp_path.iterdir()) == []


def test_cards_must_make_sense() -> None:
    good = card()
    with pytest.raises(ValueError, match="not on the card"):
        replace(good, passes=(replace(one_pass(1), rod=9),))
    with pytest.raises(ValueError, match="same number"):
        replace(good, rods=(rod(1), rod(1)))
    with pytest.raises(ValueError, match="may not be left out"):
        replace(good, cautions=())
    with pytest.raises(ValueError, match="1 to 8"):
        replace(good, rods=())
    with pytest.raises(ValueError, match="shallow to deep"):
        rod(1, 5.0, 4.0)
    with pytest.raises(ValueError, match="start at 1"):
        rod(0)
    with pytest.raises(ValueError, match="heading"):
        replace(one_pass(1), heading_rad=math.nan)
    with pytest.raises(ValueError, match="zone length"):
        replace(one_pass(1), zone_m=-1.0)
