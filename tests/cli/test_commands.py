"""Each command's main way, and what its JSON promises."""

from __future__ import annotations

import itertools
import math
import os
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

SHARED = Path(os.environ.get("LEADSMAN_SHARED_DATA", Path(__file__).parents[3] / "shared" / "data"))
RAW = ("depth", "--dive-angle", "33 deg", "--pull-area", "20 cm2", "--diameter", "0.31 mm",
       "--density", "1.78 g/cm3", "--modulus", "2.2 GPa", "--cast", "55 m", "--tip-height",
       "0.6 m", "--speed", "1.3 m/s")  # fmt: skip

TOW = ("tow", "--line-out", "40 m", "--diameter", "0.35 mm", "--speed", "1.5 m/s", "--end-drag",
       "3 N", "--end-down", "2.5 N", "--water-density", "1000 kg/m3", "--cn", "1.2")  # fmt: skip


def test_tow_is_the_sine_squared_cable(leadsman: Callable[..., Any]) -> None:
    # closed form of the sine-squared cable (Glauert's and Pode's limit), own derivation:
    # T constant; cot(top) = cot(end) + k L / T; z = T/k (asinh cot top - asinh cot end)
    reply = leadsman(*TOW, "--ct", "0", "--density", "1000 kg/m3", "--json")
    assert reply.code == 0, reply.err
    found = reply.document
    pull, k = math.hypot(3.0, 2.5), 0.5 * 1000.0 * 1.2 * 0.35e-3 * 1.5**2
    cot_end = 3.0 / 2.5
    cot_top = cot_end + k * 40.0 / pull
    depth = pull / k * (math.asinh(cot_top) - math.asinh(cot_end))
    assert found["depth_m"] == pytest.approx(depth, rel=1e-4)
    assert found["top_pull_n"] == pytest.approx(pull, rel=1e-4)
    assert found["layback_m"] == pytest.approx(37.687295, rel=1e-4)
    assert found["depth_band_m"] is None, "a fixed coefficient has no spread"


def test_tow_without_fixed_drag_has_a_band(leadsman: Callable[..., Any]) -> None:
    found = leadsman(*TOW[:-2], "--json").document
    low, high = found["depth_band_m"]
    assert low < found["depth_m"] < high


def test_depth_json_has_what_it_promises(leadsman: Callable[..., Any]) -> None:
    reply = leadsman(*RAW, "--json")
    assert reply.code == 0, reply.err
    found = reply.document
    assert found["schema"] == "leadsman.depth/1"
    low, high = found["max_depth_band_m"]
    assert low < found["max_depth_m"] < high
    # a crude independent solver gave 22.2 ft for this case, good to 1 to 2 %
    assert found["max_depth_m"] == pytest.approx(22.2 * 0.3048, rel=0.02)
    path = found["path"]
    steps = [abs(a["x_m"] - b["x_m"]) for a, b in itertools.pairwise(path)]
    assert max(steps) <= 0.5 + 1e-9
    assert max(point["depth_m"] for point in path) == pytest.approx(found["max_depth_m"], abs=0.02)
    assert path[0]["x_m"] == pytest.approx(55.0, abs=1e-6)
    assert all(point["load"] == 0.0 for point in path)


def test_depth_over_a_bottom_reports_contact(leadsman: Callable[..., Any]) -> None:
    found = leadsman(*RAW, "--bottom", "10 ft", "--json").document
    assert found["zone_kind"] == "contact"
    assert found["max_depth_m"] == pytest.approx(3.048, abs=0.01)
    assert found["free_max_depth_m"] > 6.0
    low, high = found["max_depth_band_m"]
    assert low <= found["max_depth_m"] <= high <= 3.06
    assert found["max_depth_bands_m"]["low_90"] > 5.0
    assert found["plowing_m"] > found["zone_m"] > 0.0, "a 22 ft lure plows a 10 ft flat"
    assert found["contact_m"] == pytest.approx(found["zone_m"] + found["plowing_m"], abs=0.05)


def test_depth_in_grass_says_what_the_grass_does(leadsman: Callable[..., Any]) -> None:
    named = ("depth", "--lure", "mid-lip-12", "--line", "fluoro-12", "--bottom", "10 ft", "--json")
    bare = leadsman(*named).document["cautions"]
    grass = leadsman(*named, "--grass-top", "8 ft").document["cautions"]
    assert not any("grass" in text for text in bare)
    assert any("chance that grass ends the cast" in text for text in grass)


def test_depth_in_a_band_counts_its_metres(leadsman: Callable[..., Any]) -> None:
    found = leadsman(*RAW, "--target", "18-22ft", "--json").document
    assert found["zone_kind"] == "band"
    inside = [p for p in found["path"] if 18 * 0.3048 <= p["depth_m"] <= 22 * 0.3048]
    xs = [p["x_m"] for p in inside]
    assert 0.0 < found["zone_m"] <= max(xs) - min(xs) + 1.0


def test_a_headwind_shortens_the_cast(leadsman: Callable[..., Any]) -> None:
    # fact 7 of the trade: a headwind costs distance (common practice, no source)
    named = ("depth", "--lure", "long-thin-lip-20", "--line", "fluoro-10", "--json")
    calm = leadsman(*named).document
    ahead = leadsman(*named, "--wind", "15 mph from ahead").document
    behind = leadsman(*named, "--wind", "15 mph from behind").document
    assert ahead["cast_m"] < calm["cast_m"] < behind["cast_m"]
    assert ahead["max_depth_m"] < calm["max_depth_m"]


def test_a_measured_cast_narrows_the_band(leadsman: Callable[..., Any]) -> None:
    """6 % is taken of a cast that is only named; a yard in sixty is told."""
    named = ("depth", "--lure", "mid-lip-12", "--line", "fluoro-12", "--json", "--cast")
    guessed = leadsman(*named, "60 yd").document
    measured = leadsman(*named, "60 +- 1 yd").document
    assert measured["max_depth_m"] == guessed["max_depth_m"]
    share = "cast length"
    assert measured["band_shares"].get(share, 0.0) < 0.4 * guessed["band_shares"][share]


def test_match_in_metric_says_no_foot_and_no_yard(leadsman: Callable[..., Any]) -> None:
    words = leadsman(
        "match", "--bottom", "3 m", "--units", "metric", "--lure", "mid-lip-12", "--top", "2",
        "--wind", "8 mph from ahead",
    ).out.split()  # fmt: skip
    assert "m" in words
    assert not {"ft", "yd", "mph", "foot"} & {word.strip(".,;:()") for word in words}
    assert "m/s." in words


def test_picture_of_a_match_shows_where_each_setup_may_run(
    leadsman: Callable[..., Any], tmp_path: Path
) -> None:
    leadsman(
        "match", "--bottom", "10 ft", "--lure", "mid-lip-12", "--line", "fluoro-12",
        "--picture", "match.svg",
    )  # fmt: skip
    drawn = (tmp_path / "match.svg").read_text(encoding="utf-8")
    assert 'id="band-90' in drawn and 'id="band-50' in drawn


def test_match_ranks_with_reasons(leadsman: Callable[..., Any]) -> None:
    reply = leadsman("match", "--bottom", "10 ft", "--json")
    assert reply.code == 0, reply.err
    found = reply.document
    zones = [item["zone_m"] for item in found["ranked"]]
    assert zones == sorted(zones, reverse=True)
    assert all(item["reason"].endswith(".") for item in found["ranked"])
    assert {item["lure"] for item in found["excluded"]} >= {"waking-round", "square-lip-4"}
    assert {0.08, 0.12, 0.15} <= {item["load_limit"] for item in found["limits"]}


def test_levers_split_a_material(leadsman: Callable[..., Any]) -> None:
    found = leadsman(
        "levers", "--lure", "mid-lip-12", "--line", "fluoro-12", "--bottom", "9 ft", "--json"
    ).document
    nylon = next(i for i in found["levers"] if i["step"].startswith("nylon"))
    parts = {part["name"]: part["depth_change_m"] for part in nylon["parts"]}
    assert set(parts) == {"diameter", "density", "stretch"}
    assert sum(parts.values()) == pytest.approx(nylon["depth_change_m"], abs=1e-6)
    # fact 3 of the trade: fluorocarbon runs deeper than nylon of the same test
    # (common practice, no source)
    assert nylon["depth_change_m"] < 0.0


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_pictures_are_written(kind: str, leadsman: Callable[..., Any], tmp_path: Path) -> None:
    reply = leadsman(*RAW, "--bottom", "10 ft", "--picture", f"side.{kind}")
    assert reply.code == 0, reply.err
    head = (tmp_path / f"side.{kind}").read_bytes()[:300]
    assert b"PNG" in head[:8] if kind == "png" else b"<svg" in head or b"<?xml" in head


def test_warmup_answers_in_json(leadsman: Callable[..., Any]) -> None:
    found = leadsman("warmup", "--json").document
    assert found["schema"] == "leadsman.warmup/1"
    assert {"retrieve", "tow"} <= {kernel["name"] for kernel in found["kernels"]}
    assert all(kernel["time_s"] >= 0.0 for kernel in found["kernels"])


def test_kit_check_and_new(leadsman: Callable[..., Any], tmp_path: Path) -> None:
    assert leadsman("kit", "new").code == 0
    written = (tmp_path / "kit.toml").read_text(encoding="utf-8")
    again = leadsman("kit", "new")
    assert again.code == 2
    assert (tmp_path / "kit.toml").read_text(encoding="utf-8") == written
    reply = leadsman("kit", "check", "--json")
    assert reply.code == 0
    assert reply.document["schema"] == "leadsman.kit/1"
    assert len(reply.document["lures"]) == 12


def test_help_has_examples_everywhere(leadsman: Callable[..., Any]) -> None:
    for name in ("depth", "match", "levers", "tow"):
        reply = leadsman(name, "--help")
        assert reply.code == 0
        assert "Example" in reply.out


def test_version(leadsman: Callable[..., Any]) -> None:
    assert leadsman("--version").out.startswith("leadsman ")


TRACK = SHARED / "iisd_ela_227" / "227_LA.csv"


@pytest.mark.skipif(not TRACK.exists(), reason="the real track is not on this machine")
class TestRealTrack:
    """A real transect of an echo sounder with stray fixes (IISD-ELA, CC BY 4.0)."""

    def test_match_over_it_reports_the_strays(self, leadsman: Callable[..., Any]) -> None:
        reply = leadsman(
            "match", "--soundings", str(TRACK), "--at", "49.6885,-93.6890", "--heading", "0",
            "--cast", "25 m", "--json",
        )  # fmt: skip
        assert reply.code == 0, reply.err
        notes = " ".join(reply.document["notes"])
        assert "6 x stray" in notes

    def test_a_cast_off_the_water_is_refused(self, leadsman: Callable[..., Any]) -> None:
        reply = leadsman(
            "match", "--soundings", str(TRACK), "--at", "49.6885,-93.6890", "--heading", "90",
            "--cast", "190 m",
        )  # fmt: skip
        assert reply.code == 2
        assert "the cast leaves the soundings" in reply.err or "leaves the water" in reply.err


def test_demo(leadsman: Callable[..., Any], tmp_path: Path) -> None:
    reply = leadsman("demo", "--out", "shown", "--json")
    assert reply.code == 0, reply.err
    names = {path.name for path in (tmp_path / "shown").iterdir()}
    assert {"report.txt", "flat.png", "flat.svg", "edge.png", "depth.png", "levers.png"} <= names
    assert set(reply.document["files"]) == names
    assert "not for navigation" in reply.document["report"]
    # what it says to ask oneself gives what it says
    (again,) = re.findall(r"leadsman (match .*)", reply.document["report"])[:1]
    words = [f"shown/{word}" if word in names else word for word in shlex.split(again)]
    best = leadsman(*words, "--json").document["headline"]
    assert best in reply.document["report"]
