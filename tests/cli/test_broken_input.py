"""Whatever is broken gets one clear message, exit code 2, and leaves nothing behind."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leadsman.cli import run

GOOD_KIT = """
[lures.diver]
body_length = "2 1/2 in"
lip_length = "1.2 in"
lip_width = "0.8 in"
mass = "5/8 oz"
rated_depth = "15 ft"

[lines.ten]
material = "fluorocarbon"
test = "10 lb"
"""

RAW = ["depth", "--dive-angle", "33 deg", "--pull-area", "20 cm2", "--diameter", "0.31 mm"]
NAMED = ["depth", "--lure", "mid-lip-12", "--line", "fluoro-12"]

ARGUMENTS: dict[str, list[str]] = {
    "no lure": ["depth"],
    "no line": ["depth", "--lure", "mid-lip-12"],
    "unknown lure": ["depth", "--lure", "mid-lip-21", "--line", "fluoro-12"],
    "unknown line": ["depth", "--lure", "mid-lip-12", "--line", "fluoro-13"],
    "unknown command": ["dpeth"],
    "unknown option": [*NAMED, "--wrong", "1"],
    "cast without unit": [*NAMED, "--cast", "60"],
    "cast in pounds": [*NAMED, "--cast", "60 lb"],
    "cast of a mile": [*NAMED, "--cast", "1 mi"],
    "cast not a number": [*NAMED, "--cast", "nan yd"],
    "cast mostly spread": [*NAMED, "--cast", "60 +- 40 yd"],
    "negative cast": [*NAMED, "--cast", "-60 yd"],
    "tip in the sky": [*NAMED, "--tip-height", "60 ft"],
    "tip word": [*NAMED, "--tip-height", "sideways"],
    "speed zero": [*NAMED, "--speed", "0 mph"],
    "turns word": [*NAMED, "--turns", "fast"],
    "speed and turns": [*NAMED, "--speed", "3 mph", "--turns", "2"],
    "script": [*NAMED, "--retrieve", "dance"],
    "script without reel": [*NAMED, "--retrieve", "stop 2 s"],
    "boat too fast": [*NAMED, "--boat", "30 mph"],
    "wind without side": [*NAMED, "--wind", "8 mph"],
    "hurricane": [*NAMED, "--wind", "200 mph from ahead"],
    "bottom without unit": [*NAMED, "--bottom", "10"],
    "bottom above water": [*NAMED, "--bottom", "-10 ft"],
    "bottom and soundings": [*NAMED, "--bottom", "10 ft", "--soundings", "a.csv", "--at", "1,1",
                             "--heading", "0"],
    "soundings without place": [*NAMED, "--soundings", "a.csv"],
    "place without soundings": [*NAMED, "--at", "45,-90"],
    "place not a place": [*NAMED, "--soundings", "a.csv", "--at", "here", "--heading", "0"],
    "place off earth": [*NAMED, "--soundings", "a.csv", "--at", "95,0", "--heading", "0"],
    "soundings missing": [*NAMED, "--soundings", "a.csv", "--at", "45,-90", "--heading", "0"],
    "grass without bottom": [*NAMED, "--grass-top", "6 ft"],
    "grass backwards": [*NAMED, "--bottom", "10 ft", "--grass-top", "6 ft", "--grass-from", "40 yd",
                        "--grass-to", "20 yd"],
    "grass below the bottom": [*NAMED, "--bottom", "10 ft", "--grass-top", "12 ft"],
    "friction on nothing": [*NAMED, "--friction", "0.3"],
    "grass density": [*NAMED, "--bottom", "10 ft", "--grass-top", "6 ft", "--grass-density", "7"],
    "friction": [*NAMED, "--bottom", "10 ft", "--friction", "-1"],
    "target backwards": [*NAMED, "--target", "22-18ft"],
    "load limit": [*NAMED, "--load-limit", "3"],
    "water boiling": [*NAMED, "--water-temperature", "300 degF"],
    "half a lure": ["depth", "--dive-angle", "33 deg", "--diameter", "0.31 mm"],
    "mass without numbers": [*NAMED, "--lure-mass", "15 g"],
    "density without diameter": [*NAMED, "--density", "1.1 g/cm3"],
    "lure twice": [*RAW, "--lure", "mid-lip-12"],
    "dive angle": ["depth", "--dive-angle", "120 deg", "--pull-area", "20 cm2", "--diameter",
                   "0.31 mm"],
    "pull area": ["depth", "--dive-angle", "30 deg", "--pull-area", "20 m2", "--diameter",
                  "0.31 mm"],
    "line like a rope": ["depth", "--dive-angle", "30 deg", "--pull-area", "20 cm2", "--diameter",
                         "31 mm"],
    "picture kind": [*NAMED, "--picture", "side.docx"],
    "picture folder": [*NAMED, "--picture", "nowhere/side.svg"],
    "units": [*NAMED, "--units", "imperial"],
    "kit missing": [*NAMED, "--kit", "none.toml"],
    "kit a folder": [*NAMED, "--kit", "."],
    "match nothing": ["match"],
    "match casts": ["match", "--bottom", "10 ft", "--cast", "far"],
    "match tips": ["match", "--bottom", "10 ft", "--tips", ","],
    "cn": [*NAMED, "--cn", "-1"],
    "ct": [*NAMED, "--ct", "-1"],
    "tow no line": ["tow", "--speed", "1 m/s"],
    "tow tip above line": ["tow", "--line-out", "2 m", "--speed", "1 m/s", "--end-drag", "3 N",
                           "--end-down", "1 N", "--diameter", "0.3 mm", "--tip-height", "3 m"],
}  # fmt: skip

KITS: dict[str, str] = {
    "not toml": "[lures",
    "empty": "",
    "unknown field": GOOD_KIT.replace("mass =", "wieght ="),
    "wrong unit": GOOD_KIT.replace('"5/8 oz"', '"5/8 ft"'),
    "no unit": GOOD_KIT.replace('"5/8 oz"', "18"),
    "negative": GOOD_KIT.replace('"5/8 oz"', '"-5/8 oz"'),
    "absurd": GOOD_KIT.replace('"15 ft"', '"1500 ft"'),
    "bad material": GOOD_KIT.replace("fluorocarbon", "spider silk"),
    "missing field": GOOD_KIT.replace('mass = "5/8 oz"\n', ""),
    "twice": GOOD_KIT + '\n[lures.diver]\nmass = "1 oz"\n',
    "nan": GOOD_KIT.replace('"5/8 oz"', "nan"),
    "thin for its test": GOOD_KIT + 'diameter = "0.05 mm"\n',
    "unknown table": GOOD_KIT + "\n[boats.tub]\nlength = '16 ft'\n",
    "wrong type": "lures = 3\n",
}

LOGS: dict[str, bytes] = {
    "empty": b"",
    "binary": bytes(range(256)) * 40,
    "one point": b"lat,lon,depth\n45,-90,3\n",
    "words": b"lat,lon,depth\nhere,there,deep\n",
    "no depth column": b"lat,lon,name\n45,-90,a\n45.1,-90,b\n",
    "bad checksums": b"$SDDPT,4.2,0.5,*00\n" * 20,
    "far away": b"lat,lon,depth_m\n" + b"".join(
        b"10.%04d,20.0,3.0\n" % n for n in range(50)
    ),
}  # fmt: skip


def _one_message(code: int, out: str, err: str) -> None:
    assert code == 2, err
    assert "Traceback" not in err + out
    assert err.strip(), "there must be a message"
    assert "fault" not in err.lower()


@pytest.mark.parametrize("name", ARGUMENTS)
def test_broken_arguments(name: str, leadsman: Callable[..., Any], tmp_path: Path) -> None:
    reply = leadsman(*ARGUMENTS[name])
    _one_message(*reply)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", KITS)
def test_broken_kits_name_the_file(name: str, leadsman: Callable[..., Any], tmp_path: Path) -> None:
    kit = tmp_path / "mine.toml"
    kit.write_text(KITS[name], encoding="utf-8")
    reply = leadsman("kit", "check", "mine.toml")
    if name == "empty":
        # an empty kit is a kit that holds nothing yet, or an error; never a traceback
        assert reply.code in (0, 2)
        return
    _one_message(*reply)
    assert "mine.toml" in reply.err
    assert kit.read_text(encoding="utf-8") == KITS[name], "the file is never touched"


@pytest.mark.parametrize("name", LOGS)
def test_broken_soundings(name: str, leadsman: Callable[..., Any], tmp_path: Path) -> None:
    log = tmp_path / "day.log"
    log.write_bytes(LOGS[name])
    reply = leadsman(*NAMED, "--soundings", "day.log", "--at", "45,-90", "--heading", "90")
    _one_message(*reply)
    assert log.read_bytes() == LOGS[name]


def test_there_are_more_than_forty() -> None:
    assert len(ARGUMENTS) + len(KITS) + len(LOGS) >= 70


SAFE = st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\0"), max_size=30)


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    option=st.sampled_from(
        [
            "--cast",
            "--tip-height",
            "--speed",
            "--retrieve",
            "--wind",
            "--bottom",
            "--target",
            "--boat",
        ]
    ),
    value=SAFE,
)
def test_any_text_in_any_option_is_an_answer_or_a_message(
    option: str, value: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code = run([*NAMED, f"{option}={value}", "--json"])
    captured = capsys.readouterr()
    assert code in (0, 2), captured.err
    assert "Traceback" not in captured.err
