from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from time import perf_counter

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leadsman.errors import LakeDataError
from leadsman.lake.read_profile import choose_profile, read_profiles


@pytest.fixture
def table(tmp_path: Path) -> Callable[[str], Path]:
    def write(text: str) -> Path:
        path = tmp_path / "profile.csv"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_feet_and_fahrenheit_become_si_and_are_said(table) -> None:
    found = read_profiles(table("depth_ft,temp_f,do_mgl\n0,77,8\n10,68,5\n20,50,1\n"))
    (p,) = found.profiles
    assert p.depth_m.tolist() == pytest.approx([0.0, 3.048, 6.096])
    assert p.temperature_c.tolist() == pytest.approx([25.0, 20.0, 10.0])
    assert "Depth is in ft" in found.said
    assert "Temperature is in degF" in found.said


def test_units_that_are_not_named_are_told_from_the_numbers_and_said(table) -> None:
    found = read_profiles(table("depth,temp,oxygen\n0,77,90\n10,68,70\n"))
    (p,) = found.profiles
    assert p.temperature_c[0] == pytest.approx(25.0)
    assert any("by its numbers it is degF" in line for line in found.said)
    assert any("by its numbers it is %" in line for line in found.said)
    # 90 % of 8.26 mg/L, oxygen saturation at 25 degC in standard tables (from memory)
    assert p.oxygen_mg_l is not None
    assert p.oxygen_mg_l[0] == pytest.approx(0.9 * 8.26, abs=0.01)


def test_a_profile_read_from_the_bottom_up_is_turned(table) -> None:
    up = read_profiles(table("depth_m,temp_c\n6,10\n3,15\n0,20\n")).profiles[0]
    assert up.depth_m.tolist() == [0.0, 3.0, 6.0]
    assert up.temperature_c.tolist() == [20.0, 15.0, 10.0]


def test_negative_numbers_downward_are_taken_as_depths_and_said(table) -> None:
    found = read_profiles(table("depth_m,temp_c\n0,20\n-3,15\n-6,10\n"))
    assert found.profiles[0].depth_m.tolist() == [0.0, 3.0, 6.0]
    assert any("negative numbers" in line for line in found.said)


def test_down_and_up_casts_are_averaged(table) -> None:
    p = read_profiles(table("depth_m,temp_c,do_mgl\n0,20,8\n1,18,\n1,16,6\n0,22,10\n")).profiles[0]
    assert p.temperature_c.tolist() == [21.0, 17.0]
    assert p.oxygen_mg_l is not None
    assert p.oxygen_mg_l.tolist() == [9.0, 6.0]


def test_missing_readings_are_counted(table) -> None:
    found = read_profiles(table("depth_m,temp_c\n0,20\n1,NA\n,19\n2,-9999\n3,15\n"))
    assert found.profiles[0].depth_m.tolist() == [0.0, 3.0]
    assert any("3 lines" in line for line in found.said)


def test_decimal_commas_between_semicolons(table) -> None:
    p = read_profiles(table("depth_m;temp_c\n0;20,5\n1,5;18,25\n")).profiles[0]
    assert p.depth_m.tolist() == [0.0, 1.5]
    assert p.temperature_c.tolist() == [20.5, 18.25]


def test_days_part_the_table_and_the_nearest_is_chosen(table) -> None:
    text = "date,depth_m,temp_c\n7/4/2024,0,24\n7/4/2024,5,20\n7/25/2024,0,26\n7/25/2024,5,21\n"
    found = read_profiles(table(text))
    assert [p.day for p in found.profiles] == [date(2024, 7, 4), date(2024, 7, 25)]
    assert choose_profile(found, date(2024, 7, 10)).day == date(2024, 7, 4)
    with pytest.raises(LakeDataError, match="2 profiles from 2024-07-04 to 2024-07-25"):
        choose_profile(found, None)
    with pytest.raises(LakeDataError, match="more than 45 days off"):
        choose_profile(found, date(2025, 7, 10))


def test_ambiguous_dates_are_said(table) -> None:
    found = read_profiles(table("date,depth_m,temp_c\n4/7/2024,0,24\n4/7/2024,5,20\n"))
    assert found.profiles[0].day == date(2024, 4, 7)
    assert any("month first" in line for line in found.said)


def test_several_places_want_a_name(table) -> None:
    text = "lake,depth_m,temp_c\nnorth,0,24\nnorth,5,20\nsouth,0,26\n"
    with pytest.raises(LakeDataError, match="2 places: north, south"):
        read_profiles(table(text))
    assert read_profiles(table(text), "South").profiles[0].surface_c == 26.0
    with pytest.raises(LakeDataError, match="no readings of 'east'"):
        read_profiles(table(text), "east")


BAD = {
    "blank": ("\n\n", "no readings"),
    "words": ("it was warm\nand windy\n", "table|column"),
    "a word for a number": ("depth_m,temp_c\n0,warm\n", "line 2, 'temp_c': 'warm' is not a number"),
    "all NaN": ("depth_m,temp_c\n0,NaN\n1,NaN\n", "no line holds both"),
    "negative and positive depths": ("depth_m,temp_c\n-2,20\n3,15\n", "line 2.*above the water"),
    "fahrenheit called celsius": ("depth_m,temp_c\n0,77\n5,60\n", "no open water has"),
    "millimetres called metres": ("depth_m,temp_c\n0,20\n5000,10\n", "deeper than any lake"),
    "huge": ("depth_m,temp_c\n0,20\n1e300,10\n", "deeper than any lake"),
    "percent called milligrams": ("depth_m,temp_c,do_mgl\n0,20,95\n", "more than any lake holds"),
    "oxygen far below zero": ("depth_m,temp_c,do_mgl\n0,20,-4\n", "no lake has"),
    "no date": ("date,depth_m,temp_c\nsoon,0,20\n", "line 2: 'soon' is not a date"),
    "33 July": ("date,depth_m,temp_c\n2024-07-33,0,20\n", "is not a date"),
}


@pytest.mark.parametrize("name", BAD)
def test_each_bad_profile_gets_one_clear_message(table, name: str) -> None:
    text, words = BAD[name]
    with pytest.raises(LakeDataError, match=words) as caught:
        read_profiles(table(text))
    assert caught.value.message.startswith("profile.csv")
    assert "\n" not in caught.value.message


def test_an_empty_missing_or_binary_file(tmp_path: Path) -> None:
    (tmp_path / "empty.csv").touch()
    (tmp_path / "picture.csv").write_bytes(bytes(range(32)) * 50)
    for name, words in (
        ("empty.csv", "empty"), ("gone.csv", "no such file"), ("picture.csv", "not a text file"),
    ):  # fmt: skip
        with pytest.raises(LakeDataError, match=words):
            read_profiles(tmp_path / name)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(alphabet="0123456789.,;- \n\tdepthmcN/aé", max_size=200))
def test_no_text_makes_it_fall(tmp_path: Path, text: str) -> None:
    path = tmp_path / "fuzz.csv"
    path.write_text("depth,temp,do\n" + text, encoding="utf-8")
    try:
        found = read_profiles(path)
    except LakeDataError:
        return
    for p in found.profiles:
        assert np.all(np.diff(p.depth_m) > 0.0)
        assert np.all((p.temperature_c >= 0.0) & (p.temperature_c <= 40.0))


def test_the_user_s_unit_of_depth_stands(table) -> None:
    p = read_profiles(table("depth,temp\n0,20\n10,15\n"), depth_unit="ft").profiles[0]
    assert p.depth_m.tolist() == pytest.approx([0.0, 3.048])


def test_many_days_are_read_in_time(table) -> None:
    first = date(1990, 1, 1).toordinal()
    rows = [f"{date.fromordinal(first + i // 5)},{i % 5},{20 - i % 5}" for i in range(50_000)]
    start = perf_counter()
    found = read_profiles(table("date,depth_m,temp_c\n" + "\n".join(rows)))
    assert len(found.profiles) == 10_000
    assert perf_counter() - start < 10.0
