"""What the size of a lure says."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from leadsman.calibrate.lure_geometry import (
    added_mass_kg,
    buoyancy_from_balance_n,
    buoyancy_sd_n,
    dive_angle_from_size_rad,
    pull_area_from_size_m2,
)
from leadsman.kitfile.template import demo_kit
from leadsman.tackle.lure import Lure

LURE = Lure("a", 0.070, 0.039, 0.0216, 0.021, body_width_m=0.0216)


def test_pull_area_scales_as_an_area() -> None:
    """Dimensional analysis: without hooks, every length times s gives area times s squared."""
    bare = replace(LURE, open_hooks=0)
    twice = replace(
        bare,
        body_length_m=0.140,
        lip_length_m=0.078,
        lip_width_m=0.0432,
        body_width_m=0.0432,
    )
    assert pull_area_from_size_m2(twice) == pytest.approx(4.0 * pull_area_from_size_m2(bare))


def test_pull_area_is_at_least_that_of_the_lip_as_a_plate() -> None:
    """A plate across the flow has a drag coefficient of 1.05 to 1.2 (Hoerner, from memory)."""
    plate = 1.05 * math.pi / 4.0 * LURE.lip_length_m * LURE.lip_width_m
    whole = 2.5 * (LURE.lip_length_m * LURE.lip_width_m + LURE.body_length_m * 0.0216)
    assert plate < pull_area_from_size_m2(LURE) < whole


def test_divers_pull_as_anglers_know() -> None:
    """A deep diver at a steady pace pulls some tenths of a pound to a pound and a half
    (common practice, no source): 1/2 rho S_D v^2 at 1.3 m/s.
    """
    for lure in demo_kit().lures:
        pull_lb = 0.5 * 998.0 * pull_area_from_size_m2(lure) * 1.3**2 / 4.448
        assert 0.1 < pull_lb < 1.5


def test_longer_lip_dives_steeper_within_its_ends() -> None:
    ratios = (0.05, 0.2, 0.4, 0.6, 0.9)
    angles = [dive_angle_from_size_rad(replace(LURE, lip_length_m=0.07 * r)) for r in ratios]
    assert angles == sorted(angles)
    assert math.radians(1.9) < angles[0] and angles[-1] < math.radians(45.0)


def test_buoyancy_follows_the_balance() -> None:
    weight = LURE.mass_kg * 9.80665
    assert 0.0 < buoyancy_from_balance_n(LURE) < 0.4 * weight
    assert buoyancy_from_balance_n(replace(LURE, balance="suspends")) == 0.0
    assert buoyancy_from_balance_n(replace(LURE, balance="sinks")) < 0.0
    known = replace(LURE, buoyancy_n=0.03)
    assert buoyancy_from_balance_n(known) == 0.03
    assert buoyancy_sd_n(known) < buoyancy_sd_n(LURE)


def test_added_mass_of_a_neutral_lure_is_half_its_mass() -> None:
    """Half the displaced mass, a sphere in potential flow."""
    assert added_mass_kg(replace(LURE, balance="suspends")) == pytest.approx(0.5 * LURE.mass_kg)
