"""Lures and what their packages say."""

from __future__ import annotations

import pytest

from leadsman.errors import KitError
from leadsman.tackle.lure import DepthTest, Lure, RatedDepth

GIVEN: dict[str, object] = {
    "name": "a",
    "body_length_m": 0.065,
    "lip_length_m": 0.03,
    "lip_width_m": 0.02,
    "mass_kg": 0.018,
}


def lure(**changes: object) -> Lure:
    return Lure(**{**GIVEN, **changes})  # type: ignore[arg-type]


def test_a_usual_lure() -> None:
    assert lure(rated=RatedDepth(4.0, 5.0)).balance == "floats"


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"body_length_m": 6.5}, "body_length"),
        ({"lip_length_m": -0.01}, "lip_length"),
        ({"lip_width_m": 0.0}, "lip_width"),
        ({"mass_kg": 18.0}, "mass"),
        ({"body_width_m": 0.1}, "body_width"),
        ({"lip_shape": "wavy"}, "lip_shape"),
        ({"balance": "hovers"}, "balance"),
        ({"sound": "loud"}, "sound"),
        ({"colour": "mauve"}, "colour"),
        ({"buoyancy_n": -0.02}, "buoyancy"),
        ({"balance": "sinks", "buoyancy_n": 0.02}, "buoyancy"),
        ({"open_hooks": -1}, "open_hooks"),
        ({"dive_angle_rad": 3.0}, "dive_angle"),
        ({"pull_area_m2": 20.0}, "pull_area"),
    ],
)
def test_impossible_lures(changes: dict[str, object], field: str) -> None:
    with pytest.raises(KitError) as caught:
        lure(**changes)
    assert caught.value.where.field == field


def test_impossible_ratings() -> None:
    with pytest.raises(KitError, match="backwards"):
        RatedDepth(5.0, 4.0)
    with pytest.raises(KitError, match="outside"):
        RatedDepth(4.0, 400.0)
    for changes in (
        {"line_test_n": 1e4},
        {"line_diameter_m": 0.3},
        {"cast_m": 500.0},
        {"tip_m": 50.0},
        {"line_material": "silk"},
    ):
        with pytest.raises(KitError):
            DepthTest(**changes)  # type: ignore[arg-type]
