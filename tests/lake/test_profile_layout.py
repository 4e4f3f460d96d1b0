from __future__ import annotations

import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.profile_layout import find_profile_layout


def test_names_and_units_in_brackets() -> None:
    found = find_profile_layout(
        ["Date;Depth (ft);Temp (°F);DO (mg/L)", "2024-07-01;0;75;8"], "a.csv"
    )
    assert (found.delimiter, found.day, found.depth, found.temperature, found.oxygen) == (
        ";", 0, 1, 2, 3,
    )  # fmt: skip
    assert (found.depth_unit, found.temperature_unit, found.oxygen_unit) == ("ft", "degF", "mg/L")


@pytest.mark.parametrize(
    ("header", "units"),
    [
        ("depth_m,temp_c,do_mgl", ("m", "degC", "mg/L")),
        ("depth_ft,temperature_f,do_mg/L", ("ft", "degF", "mg/L")),
        ("depth,wtemp,do_sat", (None, None, "%")),
        ("z,temp,DO (%)", (None, None, "%")),
        ("Depth [m],Water temperature [°C],Dissolved oxygen [mg/l]", ("m", "degC", "mg/L")),
    ],
)
def test_units_are_told_from_names(header: str, units: tuple[str | None, ...]) -> None:
    found = find_profile_layout([header, "0,20,8", "1,20,8"], "a.csv")
    assert (found.depth_unit, found.temperature_unit, found.oxygen_unit) == units


def test_milligrams_come_before_percent() -> None:
    found = find_profile_layout(["depth,wtemp,do_sat,do_raw", "0,20,90,8"], "a.csv")
    assert found.oxygen == 3


def test_a_row_of_units_is_no_reading() -> None:
    found = find_profile_layout(["depth,temp,do", "ft,degF,mg/L", "0,75,8"], "a.csv")
    assert found.skip == 2
    assert (found.depth_unit, found.temperature_unit, found.oxygen_unit) == ("ft", "degF", "mg/L")


def test_bare_numbers_are_depth_temperature_oxygen() -> None:
    found = find_profile_layout(["0 20.1 8", "1 20.0 8"], "a.txt")
    assert (found.header, found.depth, found.temperature, found.oxygen) == (None, 0, 1, 2)
    assert found.skip == 0


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (["depth,colour", "0,green"], "no column for temperature"),
        (["a,b", "0,1"], "no column for depth or temperature"),
        (["hello"], "no table"),
        (["1,2,3,4", "1,2,3,4"], "4 columns and no names"),
    ],
)
def test_a_table_that_cannot_be_told_is_refused(lines: list[str], words: str) -> None:
    with pytest.raises(LakeDataError, match=words):
        find_profile_layout(lines, "a.csv")
