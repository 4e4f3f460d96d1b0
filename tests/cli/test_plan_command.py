"""`leadsman plan` and `leadsman replan` from the command line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from day_of_plan import KIT

SHORT = (
    ('deadline = "14:00"', 'deadline = "8:00"'),
    ('wind = "6 mph from SW"', ""),
    ('kit = "demo"', 'kit = "kit.toml"'),
)


def test_from_a_new_trip_to_a_folder_and_a_new_plan(
    leadsman: Callable[..., Any], tmp_path: Path
) -> None:
    made = leadsman("plan", "--new", "trip.toml")
    assert made.code == 0 and (tmp_path / "trip.toml").is_file()
    assert leadsman("plan", "--new", "trip.toml").code == 2  # never over a file
    text = (tmp_path / "trip.toml").read_text("utf-8")
    for was, now in SHORT:
        assert was in text
        text = text.replace(was, now)
    (tmp_path / "trip.toml").write_text(text, encoding="utf-8")
    (tmp_path / "kit.toml").write_text(KIT, encoding="utf-8")

    found = leadsman("plan", "trip.toml", "--out", "day", "--phone", "--json")
    assert found.code == 0, found.err
    plan = found.document
    assert plan["schema"] == "leadsman.plan/1"
    assert plan["stops"] and plan["home_s"] <= plan["deadline_s"] - plan["reserve_s"]
    assert plan["rig_worth_m"] <= plan["rig_bound_m"] + 1e-6
    assert (tmp_path / "day" / "card.pdf").is_file()
    assert sorted(p.name for p in tmp_path.iterdir()) == ["day", "kit.toml", "trip.toml"]

    rest = leadsman("replan", "day", "--now", "6:40 am", "--done", "1", "--taken", "2", "--json")
    assert rest.code == 0, rest.err
    gone = {plan["stops"][0]["name"], plan["stops"][1]["name"]}
    assert not gone & {stop["name"] for stop in rest.document["stops"]}
    words = leadsman("replan", "day", "--now", "6:40", "--from", "45.0, -90.0")
    assert words.code == 0 and "Next: " in words.out and "Not for navigation" in words.out


def test_mistakes_are_one_message(leadsman: Callable[..., Any], tmp_path: Path) -> None:
    (tmp_path / "bad.toml").write_text('[day]\ndate = 2025-07-12\nlunch = "6:00"\n')
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("mine")
    for words, says in (
        (("plan", "none.toml"), "plan --new"),
        (("plan", "bad.toml"), "day.lunch"),
        (("plan", "--out", "full"), "no plan"),
        (("plan", "--out", "a/b"), "not there"),
        (("replan", "full", "--now", "9:00"), "leadsman plan"),
        (("replan", "full", "--now", "9"), "2:00 pm"),
        (("replan", "full", "--now", "9:00", "--from", "here"), "latitude"),
    ):
        reply = leadsman(*words)
        assert reply.code == 2 and says in reply.err, (words, reply.err)
        assert "Traceback" not in reply.err
    assert (tmp_path / "full" / "mine.txt").read_text() == "mine"
