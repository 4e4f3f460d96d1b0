"""`leadsman outlook`: words in, one sentence and its reasons out."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leadsman.cli import run

SHARED = Path(os.environ.get("LEADSMAN_SHARED_DATA", Path(__file__).parents[3] / "shared" / "data"))
MENDOTA = SHARED / "mendota_profiles" / "ntl400_v4.csv"
PLACE = ("--date", "2024-07-20", "--at", "45.0,-93.2", "--zone", "America/Chicago")

GOOD = "depth_m,temp_c,do_mgl\n0,25,9\n3,24,9\n5,22,7\n6,17,4\n7,13,1\n9,11,0\n"


@pytest.fixture
def profile(tmp_path: Path) -> Path:
    """An invented profile with no oxygen below 7 m."""
    path = tmp_path / "profile.csv"
    path.write_text(GOOD, encoding="utf-8")
    return path


def test_the_answer_comes_first_then_the_reasons(leadsman: Callable[..., Any], profile) -> None:
    reply = leadsman("outlook", "--profile", str(profile), "--clarity", "5 ft", *PLACE)
    assert reply.code == 0, reply.err
    assert reply.out.startswith("Start at ")
    for words in ("oxygen", "rattling", "common practice", "own assumption", "Local law", "Light"):
        assert words in reply.out, words


def test_json_has_what_it_promises(leadsman: Callable[..., Any], profile) -> None:
    reply = leadsman("outlook", "--profile", str(profile), "--json", *PLACE)
    assert reply.code == 0, reply.err
    found = reply.document
    assert found["schema"] == "leadsman.outlook/1"
    assert found["oxygen_floor_m"]["value"] == 7.0
    assert found["ruled_out"][0]["low_m"] == 7.0
    assert sum(band["fish"] for band in found["bands"] if band["low_m"] >= 7.0) < 0.02
    assert sum(found["covers"].values()) == pytest.approx(1.0)
    assert len(found["hours"]) >= 15
    assert all(f["source"] for f in found["factors"])


def test_a_real_lake(leadsman: Callable[..., Any]) -> None:
    if not MENDOTA.exists():
        pytest.skip("real profiles are not here (set LEADSMAN_SHARED_DATA)")
    reply = leadsman("outlook", "--profile", str(MENDOTA), "--date", "2018-07-17", "--json")
    found = reply.document
    assert found["thermocline_m"]["value"] == pytest.approx(6.89, abs=0.005)
    below = [d for z, d in zip(found["depth_m"], found["fish_density"], strict=True) if z > 7.0]
    assert sum(below) * 0.1 < 0.01
    assert "oxygen" in found["headline"]


def test_nothing_known_is_still_an_answer(leadsman: Callable[..., Any]) -> None:
    reply = leadsman("outlook")
    assert reply.code == 0, reply.err
    assert reply.out.startswith("A guess from little")
    assert "Not used" in reply.out


def test_the_angler_overrules(leadsman: Callable[..., Any]) -> None:
    words = ("outlook", "--clarity", "5 ft", "--wind", "10 mph", "--json")
    plain = leadsman(*words).document
    off = leadsman(*words, "--without", "light, wind").document
    weighed = leadsman(*words, "--weigh", "wind=2").document
    told = leadsman(
        *words, "--fish-depth", "20-25 ft", "--sound", "silent", "--cover", "edge=0"
    ).document
    assert {f["key"] for f in plain["factors"]} - {f["key"] for f in off["factors"]} == {
        "light", "wind",
    }  # fmt: skip
    assert weighed["fish"]["median_m"] < plain["fish"]["median_m"]
    assert told["fish"]["median_m"] > plain["fish"]["median_m"] + 1.0
    assert told["sound"] == "silent"
    assert told["covers"]["edge"] == 0.0


@pytest.mark.parametrize("name", ["outlook.png", "outlook.svg"])
def test_a_picture(leadsman: Callable[..., Any], tmp_path: Path, profile, name: str) -> None:
    reply = leadsman("outlook", "--profile", str(profile), "--picture", str(tmp_path / name))
    assert reply.code == 0, reply.err
    assert (tmp_path / name).stat().st_size > 5000


BAD: dict[str, tuple[list[str], str]] = {
    "clarity without unit": (["--clarity", "6"], "no unit"),
    "clarity in pounds": (["--clarity", "6 lb"], "length is needed"),
    "clarity of a mile": (["--clarity", "1 mi"], "clarity"),
    "water boiling": (["--water-temperature", "212 degF"], "surface"),
    "day": (["--date", "yesterday"], "--date"),
    "day of another age": (["--date", "0002-07-20"], "--date"),
    "place": (["--at", "here"], "--at"),
    "place off earth": (["--at", "99,0"], "--at"),
    "zone": (["--date", "2024-07-20", "--at", "45,-93", "--zone", "Middle/Earth"], "zone"),
    "hours without day": (["--hours", "6-14"], "day and a place"),
    "hours backwards": (["--hours", "14-6"], "--hours"),
    "hours of another clock": (["--hours", "6-31"], "--hours"),
    "hours in words": (["--hours", "all day"], "--hours"),
    "sky": (["--sky", "blue"], "--sky"),
    "species": (["--species", "trout"], "--species"),
    "forage": (["--forage", "worms"], "--forage"),
    "forage depth": (["--forage", "baitfish at noon"], "--forage"),
    "grass": (["--grass", "green"], "--grass"),
    "edge of no grass": (["--grass", "none", "--grass-edge", "12 ft"], "no grass has no edge"),
    "pressure": (["--pressure", "1013 hPa"], "--pressure"),
    "reach": (["--reach", "0 ft"], "reach"),
    "fish depth": (["--fish-depth", "18-12 ft"], "runs backwards"),
    "fish at a point": (["--fish-depth", "12 ft"], "no band"),
    "unknown factor": (["--without", "moon"], "unknown factor 'moon'"),
    "weight": (["--weigh", "light"], "no weight"),
    "heavy weight": (["--weigh", "light=9"], "outside 0 to 4"),
    "cover": (["--cover", "stumps=2"], "unknown cover"),
    "no cover at all": (["--cover", "edge=0,flat=0,drop=0,open_water=0"], "every cover"),
    "sound": (["--sound", "loud"], "--sound"),
    "colour": (["--colour", "mauve"], "--colour"),
    "wind": (["--wind", "300 mph"], "wind"),
    "depth": (["--max-depth", "0 ft"], "greatest depth"),
    "thermocline above water": (["--thermocline", "-3 ft"], "thermocline"),
    "length of the lake": (["--lake-length", "1 ft", "--date", "2024-07-20"], "1000 km"),
    "units": (["--units", "cubits"], "units"),
    "picture": (["--picture", "outlook.docx"], "picture"),
    "no file": (["--profile", "gone.csv"], "no such file"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_words_get_one_clear_message(leadsman: Callable[..., Any], name: str) -> None:
    arguments, words = BAD[name]
    reply = leadsman("outlook", *arguments)
    assert reply.code == 2, reply.err
    assert reply.out == ""
    assert words in reply.err
    assert "Traceback" not in reply.err
    assert len(reply.err.strip().splitlines()) == 1


BAD_PROFILES: dict[str, tuple[str, str]] = {
    "empty": ("", "empty"),
    "words": ("depth_m,temp_c\nwarm,water\n", "not a number"),
    "not a number": ("depth_m,temp_c\nNaN,NaN\n", "no line holds both"),
    "negative": ("depth_m,temp_c\n2,20\n-4,19\n", "above the water"),
    "wrong unit": ("depth_m,temp_c\n0,77\n", "no open water has"),
    "huge number": ("depth_m,temp_c\n0,20\n1e12,19\n", "deeper than any lake"),
    "many days": ("date,depth_m,temp_c\n2024-07-01,0,20\n2024-07-02,0,20\n", "Name the day"),
}


@pytest.mark.parametrize("name", BAD_PROFILES)
def test_bad_profiles_get_one_clear_message(
    leadsman: Callable[..., Any], tmp_path: Path, name: str
) -> None:
    text, words = BAD_PROFILES[name]
    path = tmp_path / "bad.csv"
    path.write_text(text, encoding="utf-8")
    reply = leadsman("outlook", "--profile", str(path))
    assert reply.code == 2
    assert words in reply.err
    assert "bad.csv" in reply.err
    assert len(reply.err.strip().splitlines()) == 1


def test_a_profile_from_the_bottom_up_is_the_same_lake(
    leadsman: Callable[..., Any], tmp_path: Path, profile: Path
) -> None:
    head, *rows = GOOD.strip().splitlines()
    turned = tmp_path / "turned.csv"
    turned.write_text("\n".join([head, *reversed(rows)]), encoding="utf-8")
    down = leadsman("outlook", "--profile", str(profile), "--json").document
    up = leadsman("outlook", "--profile", str(turned), "--json").document
    assert up["fish_density"] == down["fish_density"]


def test_a_huge_table_is_refused_in_time(leadsman: Callable[..., Any], tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    path.write_text("depth_m,temp_c\n" + "1,20\n" * 500_001, encoding="utf-8")
    reply = leadsman("outlook", "--profile", str(path))
    assert reply.code == 2
    assert "more than 500,000 lines" in reply.err


WORDS = st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\0"), max_size=25)
NUMBERS = st.builds(
    "{:g} {}".format,
    st.floats(allow_nan=True, allow_infinity=True),
    st.sampled_from(["ft", "m", "degF", "mph", "mi", ""]),
)
OPTIONS = [
    "--profile", "--clarity", "--water-temperature", "--thermocline", "--oxygen-floor",
    "--max-depth", "--lake-length", "--date", "--at", "--hours", "--sky", "--wind", "--species",
    "--forage", "--grass", "--grass-edge", "--pressure", "--reach", "--fish-depth",
    "--cover", "--without",
    "--weigh", "--sound", "--colour",
]  # fmt: skip


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(option=st.sampled_from(OPTIONS), value=WORDS | NUMBERS)
def test_any_text_in_any_option_is_an_answer_or_a_message(
    option: str, value: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code = run(["outlook", f"{option}={value}", "--json"])
    captured = capsys.readouterr()
    assert code in (0, 2), captured.err
    assert "Traceback" not in captured.err
