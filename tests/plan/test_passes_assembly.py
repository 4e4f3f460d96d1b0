"""Casts put in order, and the time they take."""

from __future__ import annotations

import numpy as np
import pytest
from pass_cases import model_of, setup, slope, straight

from leadsman.plan.passes import PassPlanner
from leadsman.plan.passes_assembly import _zone_part
from leadsman.plan.passes_settings import Pace, PassSettings


def test_zone_is_the_longest_run_that_is_mostly_in_it() -> None:
    assert _zone_part(np.array([0.0, 0.9, 0.0, 0.8, 1.0, 0.7, 0.1])) == (3, 6)
    assert _zone_part(np.array([0.1, 0.2, 0.2, 0.0])) == (1, 3)  # never likely: where likeliest
    assert _zone_part(np.zeros(4)) == (0, 0)


def test_the_time_is_that_of_its_parts() -> None:
    """Casts, a stop at each place, and the way between the places."""
    pace = Pace(throw_s=7.0, turn_s=3.0, settle_s=50.0, travel_m_s=0.5)
    settings = PassSettings(boat="hold", minutes=14.0, pace=pace)
    planner = PassPlanner(model_of(slope), setup(), settings)
    plan = planner.plan(straight())
    casts = [cast for stop in plan.stops for cast in stop.casts]
    retrieve_s = planner.table(setup().technique.cast_m).duration_s
    assert casts[0].seconds == pytest.approx(retrieve_s + 10.0)
    x = np.array([stop.x_m for stop in plan.stops])
    y = np.array([stop.y_m for stop in plan.stops])
    way = float(np.sum(np.hypot(np.diff(x), np.diff(y))))
    expected = sum(c.seconds for c in casts) + 50.0 * len(plan.stops) + way / 0.5
    assert plan.minutes * 60.0 == pytest.approx(expected)
    assert plan.minutes <= 14.0


def test_places_are_numbered_along_the_stretch() -> None:
    planner = PassPlanner(model_of(slope), setup(), PassSettings(boat="hold", minutes=14.0))
    stops = planner.plan(straight()).stops
    assert [stop.number for stop in stops] == list(range(1, len(stops) + 1))
    assert np.all(np.diff([stop.along_m for stop in stops]) >= 0.0)
