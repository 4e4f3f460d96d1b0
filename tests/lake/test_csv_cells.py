from __future__ import annotations

import numpy as np
import pytest

from leadsman.lake.csv_cells import angles, floats, parse_angle_deg


@pytest.mark.parametrize(
    ("text", "angle_deg"),
    [
        ("45.5", 45.5),
        ("45°30'N", 45.5),
        ("45 30 00 S", -45.5),
        ("W 93 15", -93.25),
        ("-93.25", -93.25),
        ("93°15'36\"W", -93.26),
    ],
)
def test_angles_as_people_write_them(text: str, angle_deg: float) -> None:
    assert parse_angle_deg(text) == pytest.approx(angle_deg)


@pytest.mark.parametrize("text", ["", "north", "45 75 N", "45°30'20\"10"])
def test_no_angle(text: str) -> None:
    assert np.isnan(parse_angle_deg(text))


def test_a_cell_without_a_number_is_not_a_number() -> None:
    values = floats(["1.5", "deep", ""])
    assert values[0] == 1.5
    assert np.isnan(values[1:]).all()
    assert floats([]).size == 0


def test_columns_of_angles_may_mix_forms() -> None:
    values = angles(["45.5", "45°30'N", "north"])
    assert values[:2] == pytest.approx([45.5, 45.5])
    assert np.isnan(values[2])
