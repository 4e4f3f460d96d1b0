"""Advice in plain words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from leadsman.belief.levels import Cell
from leadsman.waterlog.advice import Advice, Option, Ranked, changes_between
from leadsman.waterlog.phrases import advice_words, change_words, option_words

HERE = Cell("north", 4, "edge", "rattling", "natural")


def say(band: int) -> str:
    return f"{2 * band + 4} to {2 * band + 6} ft"


def ranked(cell: Cell, chance: float = 0.7) -> Ranked:
    option = Option("x", cell, 900.0, 2.0)
    return Ranked(option, changes_between(HERE, cell), 1.5, 3.2, chance, 1)


def advice(verdict: str, best: Ranked, **more: object) -> Advice:
    base = Advice("stay", ranked(HERE), ranked(HERE), "on", (), False, 15.0, ())
    return replace(base, verdict=verdict, best=best, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("cell", "words"),
    [
        (replace(HERE, sound="silent"), "Go to a silent lure"),
        (replace(HERE, depth=5), "Fish 14 to 16 ft"),
        (replace(HERE, place="bar", cover="drop"), "Move to bar, fish the drop"),
        (
            replace(HERE, work="snap", colour="dark"),
            "Change to a dark colour, work it snapped free",
        ),
        (HERE, "Stay with it"),
    ],
)
def test_a_change_is_an_order_of_a_few_words(cell: Cell, words: str) -> None:
    assert change_words(ranked(cell), say) == words


def test_a_change_says_what_it_promises_and_what_would_change_its_mind() -> None:
    causes = (("sound", 0.62), ("steady", 0.2))
    best = ranked(replace(HERE, sound="silent"), 0.999)
    words = advice_words(advice("change", best, status="stopped", causes=causes), say)
    assert words[0] == "Go to a silent lure."
    assert "95 % sure" in words[1] and "2 min for the change" in words[1]
    assert "has stopped" in words[2]
    assert words[3] == "Most likely they tired of this sound (60 % sure)."
    assert words[4] == "Come back if the next 15 min do not bring a bite."


def test_quiet_is_said_and_guesses_are_not() -> None:
    words = advice_words(advice("stay", ranked(HERE), held_back=True, causes=(("gone", 0.2),)), say)
    assert any("asked for quiet" in w for w in words)
    assert not any("Most likely" in w for w in words)


def test_an_option_for_a_list() -> None:
    assert option_words(ranked(HERE).option, say) == (
        "north: 12 to 14 ft, rattling, natural, with stops"
    )
