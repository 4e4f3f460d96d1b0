from __future__ import annotations

import math

import numpy as np
import pytest
from believable_days import a_day, hours, known

from leadsman.plan.day_light import light_factor, light_weight, mean_surface_light, surface_light

Z = np.linspace(0.0, 15.0, 151)


def mean_depth(weight: np.ndarray) -> float:
    return float(np.sum(Z * weight) / np.sum(weight))


def test_light_follows_the_sine_of_the_sun() -> None:
    # geometry: a beam on level water spreads by 1 / sin of its height
    low, high = (surface_light(math.radians(d), "clear") for d in (30.0, 90.0))
    assert low / high == pytest.approx(0.5, abs=0.01)
    assert surface_light(math.radians(-18.0), "clear") < 1e-5
    assert surface_light(math.radians(-5.0), "clear") < surface_light(0.0, "clear")


def test_clouds_dim() -> None:
    clear, broken, overcast = (
        surface_light(math.radians(50.0), sky) for sky in ("clear", "broken", "overcast")
    )
    assert clear > broken > overcast > 0.1


def test_high_sun_and_clear_water_send_fish_deeper() -> None:
    # common practice, no source: the direction only
    def depth(secchi_m: float, elevation_deg: float) -> float:
        day = a_day(secchi_m=known(secchi_m))
        return mean_depth(light_weight(day, Z, math.radians(elevation_deg)))

    assert depth(5.0, 65.0) > depth(1.0, 65.0)
    assert depth(5.0, 65.0) > depth(5.0, 2.0)


def test_without_clarity_light_says_nothing() -> None:
    assert light_factor(a_day(), Z) is None
    assert np.all(light_weight(a_day(), Z, 1.0) == 1.0)


def test_the_range_of_water_types_is_told() -> None:
    found = light_factor(a_day(secchi_m=known(3.0), hours=hours(10.0, 50.0)), Z)
    assert found is not None
    # exp(-2.8), exp(-1.1), exp(-1.7) at one Secchi depth: 6, 33 and 18 %
    assert "6 % to 33 %" in found.known
    assert "18 % by the classic rule" in found.known
    assert "Walker 1980" in found.source


def test_light_is_a_guess_without_day_and_place() -> None:
    there, gone = (light_factor(a_day(secchi_m=known(3.0), hours=h), Z) for h in (hours(50.0), ()))
    assert there is not None and gone is not None
    assert not there.is_guess
    assert gone.is_guess


def test_dawn_is_darker_than_a_day() -> None:
    assert mean_surface_light(a_day(hours=hours(1.0))) < mean_surface_light(a_day(hours=hours(60)))
