"""`leadsman observe` and `leadsman tune`, and that what was learned is used everywhere."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

TICK = ("observe", "long-lip-15", "ticked", "--depth", "14 ft", "--line", "fluoro-12", "--cast",
        "50 yd")  # fmt: skip
DEPTH = ("depth", "--lure", "long-lip-15", "--line", "fluoro-12", "--cast", "50 yd", "--json")


def test_a_tick_narrows_every_depth(leadsman: Callable[..., Any], tmp_path: Path) -> None:
    leadsman("kit", "new")
    before = leadsman(*DEPTH).document
    assert "nothing observed" in before["band_basis"]
    assert leadsman(*TICK).code == 0
    after = leadsman(*DEPTH).document
    assert "you observed" in after["band_basis"]

    def width(found: dict[str, Any]) -> float:
        low, high = found["max_depth_band_m"]
        return float(high - low)

    assert width(after) < 0.8 * width(before)
    assert after["free_max_depth_m"] > 14 * 0.3048 * 0.97, "a lure that ticked 14 ft reaches it"


def test_tune_tells_what_each_observation_taught(leadsman: Callable[..., Any]) -> None:
    leadsman("kit", "new")
    leadsman(*TICK, "--date", "2026-06-01")
    leadsman(
        "observe", "long-lip-15", "did not reach", "--depth", "17 ft", "--line", "fluoro-12",
        "--cast", "50 yd", "--date", "2026-06-02",
    )  # fmt: skip
    found = leadsman("tune", "--json").document
    (lure,) = found["lures"]
    assert len(lure["taught"]) == 2
    assert lure["taught"][0]["gain_m"] > 0.3
    assert lure["next"], "something is suggested"
    leadsman(*("long-lip-17" if word == "long-lip-15" else word for word in TICK))
    for name in ("long-lip-15", "long-lip-17"):
        assert leadsman("tune", "--lure", name, "--json").document["headline"].startswith(name)
    assert lure["after"]["high_m"] - lure["after"]["low_m"] < (
        lure["before"]["high_m"] - lure["before"]["low_m"]
    )


def test_a_wrong_package_is_overruled(leadsman: Callable[..., Any]) -> None:
    # the package says 15 ft; ticks say 20 ft: three of them win, and it is called a conflict
    leadsman("kit", "new")
    for day in ("01", "02", "03"):
        leadsman(
            "observe", "long-lip-15", "ticked", "--depth", "21 ft", "--line", "fluoro-12",
            "--cast", "50 yd", "--date", f"2026-06-{day}",
        )  # fmt: skip
    found = leadsman("tune", "--json").document
    (lure,) = found["lures"]
    assert lure["after"]["middle_m"] > 20 * 0.3048
    (conflict,) = [item for item in lure["conflicts"] if item["label"] == "rated depth"]
    assert conflict["said_m"] == pytest.approx(15 * 0.3048)
    assert conflict["others"]["low_m"] > conflict["said_m"]
    said = " ".join(leadsman("tune").out.split())
    assert "rated depth of 15.0 ft does not agree with what you saw" in said


def test_a_lure_that_runs_to_a_side_is_flagged(leadsman: Callable[..., Any]) -> None:
    leadsman("kit", "new")
    leadsman(*TICK, "--off-true", "left")
    found = leadsman("tune", "--json").document
    assert found["off_true"][0]["lure"] == "long-lip-15"
    assert found["off_true"][0]["check"]


def test_observe_needs_a_kit_of_ones_own(leadsman: Callable[..., Any], tmp_path: Path) -> None:
    reply = leadsman(*TICK)
    assert reply.code == 2
    assert "leadsman kit new" in reply.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "words",
    [
        ("observe", "nothing-owned", "ticked", "--depth", "14 ft"),
        ("observe", "long-lip-15", "smelled"),
        ("observe", "long-lip-15", "ticked"),
        (*TICK[:-1], "a long way"),
        (*TICK, "--date", "yesterday"),
        (*TICK, "--off-true", "up"),
        (*TICK[:5], "--line", "rope", "--cast", "50 yd"),
    ],
)
def test_broken_observations_are_not_written(
    words: tuple[str, ...], leadsman: Callable[..., Any], tmp_path: Path
) -> None:
    leadsman("kit", "new")
    reply = leadsman(*words)
    assert reply.code == 2, reply.err
    assert reply.err.strip()
    assert {path.name for path in tmp_path.iterdir()} == {"kit.toml"}


def test_a_broken_observations_file_names_its_line(
    leadsman: Callable[..., Any], tmp_path: Path
) -> None:
    leadsman("kit", "new")
    leadsman(*TICK)
    file = tmp_path / "observations.csv"
    file.write_text(file.read_text() + "2026-06-01,long-lip-15,ticked,deep,fluoro-12,50 yd\n")
    reply = leadsman(*DEPTH)
    assert reply.code == 2
    assert "observations.csv" in reply.err
    assert "3" in reply.err
