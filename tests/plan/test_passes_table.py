"""The table against closed forms and the full solver."""

from __future__ import annotations

import math

import numpy as np
import pytest
from pass_cases import model_of, setup

from leadsman.errors import PlanError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.technique import Technique
from leadsman.hydro.zone import contact_zone
from leadsman.plan.candidates import LineOption, LureOption
from leadsman.plan.passes_evaluate import PackedGrid, evaluate_casts
from leadsman.plan.passes_table import PassSetup, contact_table

SPIRAL = PassSetup(
    LureOption("ideal", LureForces(math.radians(20.0), 0.05, mass_kg=1e-3), depth_rel_se=0.0),
    LineOption("thread", LineProperties(2e-5, 1000.0), 50.0),
    Technique.steady(30.0, 0.0, 1.3),
)
"""As near to a weightless line without drag as the solver goes."""


def flat_scores(which: PassSetup, depth_m: float, limit: float = 0.12) -> tuple[float, float]:
    """Zone and contact of one cast over a level bottom [m]."""
    grid = PackedGrid.of(model_of(lambda x, y: depth_m + 0.0 * x, 100.0, 0.0))
    scores = evaluate_casts(
        grid, contact_table(which), np.zeros(1), np.zeros(1), np.array([0.7]), limit_load=limit
    )
    return float(scores.nominal_zone_m[0]), float(scores.contact_m[0])


def test_closed_form_of_contact() -> None:
    """Straight weightless line over a flat frictionless bottom, own derivation in
    docs/physics.md: load = sin(delta - theta) / cos(delta), down along the equiangular spiral
    r = R exp(-theta cot delta), off where the line left is z / sin(delta).
    """
    delta, z, far = math.radians(20.0), 2.2, 30.0
    leave = z / math.sin(delta)
    x_leave = math.sqrt(leave**2 - z**2)
    theta = np.linspace(1e-4, delta, 20_001)
    r = far * np.exp(-theta / math.tan(delta))
    x_touch = float(np.interp(z, r * np.sin(theta), r * np.cos(theta)))
    theta_limit = delta - math.asin(0.12 * math.cos(delta))
    x_limit = min(z / math.tan(theta_limit), x_touch)
    zone, contact = flat_scores(SPIRAL, z)
    assert contact == pytest.approx(x_touch - x_leave, rel=0.02)
    assert zone == pytest.approx(x_limit - x_leave, rel=0.02)


@pytest.mark.parametrize("depth_m", [2.0, 3.0, 3.6])
def test_flat_bottom_as_the_full_solver(depth_m: float) -> None:
    which = setup()
    bottom = BottomProfile.flat(depth_m)
    path = retrieve(which.lure.forces, which.line.properties, which.technique, bottom)
    full = contact_zone(path, bottom)
    zone, contact = flat_scores(which, depth_m)
    assert contact == pytest.approx(full.contact_m, rel=0.02)
    assert zone == pytest.approx(full.zone_m, rel=0.04)


def test_free_path_is_the_solvers_own() -> None:
    which = setup()
    table = contact_table(which)
    free = retrieve(which.lure.forces, which.line.properties, which.technique)
    assert table.free_max_m == pytest.approx(free.max_depth_m, rel=0.01)
    assert table.duration_s == pytest.approx(float(free.t_s[-1]), rel=0.05)


def test_with_cast_changes_the_cast_and_the_boat_only() -> None:
    other = setup().with_cast(30.0, 0.3)
    assert (other.technique.cast_m, other.technique.boat_m_s) == (30.0, 0.3)
    assert other.technique.steps == setup().technique.steps


def test_refuses_a_cast_too_short_to_plan_with() -> None:
    with pytest.raises(PlanError):
        contact_table(setup(cast_m=4.0))
