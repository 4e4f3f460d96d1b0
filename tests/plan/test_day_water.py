from __future__ import annotations

import numpy as np
import pytest
from believable_days import a_day, guessed, known, stratified

from leadsman.plan.day_water import (
    RANGES,
    below_chance,
    cold_factor,
    oxygen_factor,
    oxygen_weight,
    temperature_factor,
    thermocline_factor,
)

Z = np.linspace(0.0, 15.0, 151)


def at(values: np.ndarray, depth_m: float) -> float:
    return float(np.interp(depth_m, Z, values))


def test_oxygen_weight_falls_to_next_to_nothing() -> None:
    full, some, none = oxygen_weight(np.array([9.0, 3.0, 0.0]))
    assert full == 1.0
    assert some == pytest.approx(0.1)
    assert none < 0.01


def test_a_profile_without_oxygen_below_shuts_that_water() -> None:
    found = oxygen_factor(a_day(profile=stratified(7.0)), Z)
    assert found is not None and not found.is_guess
    assert at(found.depth, 5.0) == 1.0
    assert at(found.depth, 8.0) < 0.01
    assert "too little oxygen" in found.effect
    assert "23.0 ft" in found.known


def test_the_angler_overrules_the_profile() -> None:
    told = a_day(profile=stratified(7.0), oxygen_floor_m=known(10.0))
    found = oxygen_factor(told, Z)
    assert found is not None and found.basis == "your word"
    assert at(found.depth, 9.0) == 1.0
    assert at(found.depth, 11.0) == pytest.approx(0.01)


def test_without_readings_clear_lakes_keep_more_oxygen() -> None:
    def deep_weight(secchi_m: float) -> float:
        day = a_day(thermocline_m=guessed(7.0, 5.0, 10.0), secchi_m=known(secchi_m))
        found = oxygen_factor(day, Z)
        assert found is not None and found.is_guess
        return at(found.depth, 14.0)

    assert deep_weight(1.0) < 0.3 < deep_weight(7.0)
    assert oxygen_factor(a_day(), Z) is None


def test_a_limit_known_with_a_band_is_a_smooth_step() -> None:
    chance = below_chance(Z, guessed(7.0, 5.0, 9.8))
    assert at(chance, 7.0) == pytest.approx(0.5, abs=0.01)
    # the band is the central nine tenths
    assert at(chance, 5.0) == pytest.approx(0.05, abs=0.01)
    assert at(chance, 9.8) == pytest.approx(0.95, abs=0.01)
    assert set(below_chance(Z, known(7.0))) == {0.0, 1.0}


def test_fish_hold_above_the_thermocline_more_than_below() -> None:
    found = thermocline_factor(a_day(thermocline_m=known(7.0)), Z)
    assert found is not None
    assert at(found.depth, 6.5) > at(found.depth, 2.0)
    assert at(found.depth, 10.0) < 0.6 * at(found.depth, 6.5)
    assert thermocline_factor(a_day(thermocline_m=known(20.0)), Z) is None
    assert thermocline_factor(a_day(), Z) is None


def test_each_species_likes_its_own_range() -> None:
    # FWS/OBS-82/10.36 for smallmouth (21 to 27 degC); growth of largemouth 25 to 32 degC, Brungs &
    # Jones 1977: in layered water the smallmouth may lie deeper.
    assert RANGES["smallmouth"].likes_c == (21.0, 27.0)
    assert RANGES["largemouth"].likes_c == (25.0, 32.0)
    deep = {}
    for species in ("largemouth", "smallmouth"):
        found = temperature_factor(a_day(profile=stratified(), species=species), Z)
        assert found is not None
        deep[species] = at(found.depth, 7.0)
    assert deep["smallmouth"] > deep["largemouth"]
    assert temperature_factor(a_day(), Z) is None


def test_cold_water_is_fished_deeper() -> None:
    found = cold_factor(a_day(surface_c=known(6.0)), Z)
    assert found is not None
    assert at(found.depth, 8.0) > at(found.depth, 1.0)
    assert found.cover["drop"] > 1.0 > found.cover["flat"]
    assert cold_factor(a_day(surface_c=known(20.0)), Z) is None
