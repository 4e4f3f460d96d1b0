"""Boat places and fans of casts."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from pass_cases import model_of, slope, straight

from leadsman.errors import PlanError
from leadsman.plan.passes_candidates import boat_places, fan
from leadsman.plan.passes_settings import BoatLimits, Obstacle, PassSettings

SETTINGS = PassSettings()


def test_places_lie_outside_at_the_stand_offs() -> None:
    places = boat_places(model_of(slope), straight(), SETTINGS, 40.0)
    assert set(np.round(-places.y_m, 6)) == set(SETTINGS.limits.stand_offs_m)
    assert places.along_m.min() < 0.0  # a cast before the stretch begins
    assert places.along_m.max() > straight().length_m


def test_an_obstacle_and_shallows_are_kept_clear_of() -> None:
    rock = Obstacle(10.0, -8.0, 20.0)
    limits = replace(SETTINGS.limits, obstacles=(rock,))
    places = boat_places(model_of(slope), straight(), replace(SETTINGS, limits=limits), 40.0)
    assert np.hypot(places.x_m - 10.0, places.y_m + 8.0).min() >= 20.0

    def bar(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.where((np.abs(x) < 15.0) & (y < -3.0), 0.5, slope(x, y))

    clear = boat_places(model_of(bar), straight(), SETTINGS, 40.0)
    assert np.abs(clear.x_m).min() >= 15.0


def test_least_depth_counts_the_error_of_the_map() -> None:
    limits = BoatLimits(least_depth_m=3.5, shore_m=0.0)
    sure = boat_places(model_of(slope, se_m=0.05), straight(), replace(SETTINGS, limits=limits), 20)
    with pytest.raises(PlanError):
        boat_places(model_of(slope, se_m=3.0), straight(), replace(SETTINGS, limits=limits), 20.0)
    assert sure.depth_m.min() >= 3.5


def test_an_edge_is_cast_along_both_ways_and_a_flat_all_round() -> None:
    places = boat_places(model_of(slope), straight(), SETTINGS, 40.0)
    along = fan(places, straight())
    off = np.abs(np.cos(along.angle_rad - math.pi / 2.0))
    assert off.min() > math.cos(math.radians(25.0))
    assert (np.sin(along.angle_rad) > 0.0).any()
    assert (np.sin(along.angle_rad) < 0.0).any()
    round_about = fan(places, straight(kind="flat"))
    assert np.unique(np.round(np.degrees(round_about.angle_rad))).size >= 20
