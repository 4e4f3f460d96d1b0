"""Where to sound next, on a map with one badly known corner."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.edge import edge_lines
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.lake.survey import plan_survey

FRAME = MetricFrame(-93.0, 45.0)
LATTICE = Lattice(FRAME, -600.0, -600.0, 5.0, 241, 241)


def bowl() -> BottomModel:
    """A bowl well known but in its east, where the error is four times as large."""
    x, y = np.meshgrid(LATTICE.x_m, LATTICE.y_m)
    depth = (10.0 - 0.012 * np.hypot(x, y)).astype("float32")
    se = np.where(x > 200.0, 0.8, 0.2).astype("float32")
    return BottomModel("bowl", LATTICE, depth, se)


def test_the_badly_known_part_comes_first() -> None:
    model = bowl()
    plan = plan_survey(model, edge_lines(model, 5.0), 0.15)
    for run in plan.runs:
        x, _ = FRAME.to_metric(run.lon_deg, run.lat_deg)
        assert np.mean(x) > 150.0
        assert run.se_after_m < run.se_before_m
    assert plan.se_after_m < plan.se_before_m
    assert plan.hours <= 0.15 + 1e-9 or len(plan.runs) > 1


def test_more_time_takes_more_error_away() -> None:
    model = bowl()
    lines = edge_lines(model, 5.0)
    after = [plan_survey(model, lines, hours).se_after_m for hours in (0.1, 0.3, 1.0)]
    assert after == sorted(after, reverse=True)
    assert after[0] > after[-1]


def test_time_is_length_over_speed() -> None:
    model = bowl()
    plan = plan_survey(model, edge_lines(model, 5.0), 0.2, 2.0)
    for run in plan.runs:
        x, y = FRAME.to_metric(run.lon_deg, run.lat_deg)
        length = float(np.sum(np.hypot(np.diff(x), np.diff(y))))
        assert run.length_m == pytest.approx(length, rel=1e-4)
        assert run.hours * 3600.0 * 2.0 >= length - 1e-3


def test_start_counts() -> None:
    model = bowl()
    lines = edge_lines(model, 5.0)
    lon, lat = FRAME.to_lonlat(-420.0, 0.0)
    free = plan_survey(model, lines, 0.5)
    from_west = plan_survey(model, lines, 0.5, start_lonlat_deg=(float(lon), float(lat)))
    assert from_west.runs[0].hours > free.runs[0].hours


@pytest.mark.parametrize(("hours", "speed"), [(0.0, 2.0), (99.0, 2.0), (1.0, 0.0), (1.0, 50.0)])
def test_bounds(hours: float, speed: float) -> None:
    model = bowl()
    with pytest.raises(LakeDataError):
        plan_survey(model, edge_lines(model, 5.0), hours, speed)


def test_too_short_and_nothing() -> None:
    model = bowl()
    with pytest.raises(LakeDataError, match="too short"):
        plan_survey(model, edge_lines(model, 5.0), 0.05, 0.3)
    with pytest.raises(LakeDataError, match="no edge"):
        plan_survey(model, (), 1.0)
