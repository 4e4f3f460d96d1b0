"""Depth over the grid, against the solver itself."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from synthetic_lures import THICK, THIN, TWENTY

from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.forward import free_max_depth_m
from leadsman.calibrate.prior import grid_of
from leadsman.calibrate.setup_response import setup_response
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.technique import Technique

FIT = first_fit(TWENTY)
GRID = grid_of(FIT)
WAY = Technique.steady(50.0, 0.5, 1.3)


@pytest.mark.parametrize("line", [THIN, THICK], ids=["thin", "thick"])
def test_grid_agrees_with_the_solver(line) -> None:  # type: ignore[no-untyped-def]
    """Within 3 cm or 1 %, whichever is more, at 40 places between the solved nodes."""
    response = setup_response(GRID, FIT.forces, line, WAY)
    rng = np.random.default_rng(5)
    for _ in range(40):
        c, a, s = rng.integers(0, 11), rng.integers(0, 140), rng.integers(0, 41)
        lure = replace(
            FIT.forces,
            dive_angle_rad=float(GRID.angle_rad[a]),
            pull_area_m2=math.exp(GRID.log_area[s]),
        )
        law = DragLaw(normal_factor=math.exp(GRID.log_drag[c]))
        depth = free_max_depth_m(lure, line, WAY, law)
        assert response.depth_m[c, a, s] == pytest.approx(depth, rel=0.01, abs=0.03)


def test_slopes_agree_with_the_solver() -> None:
    """Diameter, cast and tip at the middle of the grid, within 0.05 of ln depth a unit."""
    response = setup_response(GRID, FIT.forces, THIN, WAY)
    a = int(np.abs(GRID.angle_rad - FIT.forces.dive_angle_rad).argmin())
    lure = replace(FIT.forces, dive_angle_rad=float(GRID.angle_rad[a]))

    def log_depth(line=THIN, way=WAY) -> float:  # type: ignore[no-untyped-def]
        return math.log(free_max_depth_m(lure, line, way, DragLaw()))

    h = 0.03
    thick = replace(THIN, diameter_m=THIN.diameter_m * math.exp(h))
    slope = (log_depth(line=thick) - log_depth()) / h
    assert response.per_log_diameter[a, 20] == pytest.approx(slope, abs=0.05)
    slope = (log_depth(way=replace(WAY, cast_m=50.0 * math.exp(h))) - log_depth()) / h
    assert response.per_log_cast[a, 20] == pytest.approx(slope, abs=0.05)
    slope = (log_depth(way=replace(WAY, tip_m=0.6)) - log_depth()) / 0.1
    assert response.per_tip[a, 20] == pytest.approx(slope, abs=0.05)


def test_depth_at_a_time() -> None:
    response = setup_response(GRID, FIT.forces, THIN, WAY, at_s=12.0)
    a = int(np.abs(GRID.angle_rad - FIT.forces.dive_angle_rad).argmin())
    lure = replace(
        FIT.forces,
        dive_angle_rad=float(GRID.angle_rad[a]),
        pull_area_m2=math.exp(GRID.log_area[20]),
    )
    law = DragLaw(normal_factor=math.exp(GRID.log_drag[4]))
    path = retrieve(lure, THIN, WAY, drag=law)
    before, now, after = np.interp([11.5, 12.0, 12.5], path.t_s, path.depth_m)
    assert response.depth_m[4, a, 20] == pytest.approx(now, rel=0.01)
    assert response.per_time_m_s is not None
    assert response.per_time_m_s[4, a, 20] == pytest.approx(after - before, rel=0.1)


def test_input_errors_add_in_squares() -> None:
    response = setup_response(GRID, FIT.forces, THIN, WAY)
    alone = response.log_sd(0.05, 0.0, 0.0)
    both = response.log_sd(0.05, 0.0, 0.02)
    assert both == pytest.approx(np.hypot(alone, 0.02))
