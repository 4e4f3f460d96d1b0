"""Dimensionless groups and the range of the surrogate."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leadsman.hydro import retrieve_inputs as inputs
from leadsman.hydro import retrieve_kernel as solver
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.surrogate_groups import RANGE, STATIONS, groups_of, station_parts
from leadsman.hydro.technique import Technique
from leadsman.water import Water

FloatArray = np.ndarray


def _row(**change: float) -> np.ndarray:
    given = {"angle": 30.0, "area": 20e-4, "diameter": 0.3e-3, "cast": 50.0} | change
    return inputs.parameters(
        LureForces(math.radians(given["angle"]), given["area"], 0.02, 0.02),
        LineProperties(given["diameter"], 1300.0, 3e9),
        Technique.steady(given["cast"]),
        None,
        Water(),
        DragLaw(),
    )


def _groups(row: np.ndarray, tip: float = 0.6, speed: float = 1.3):  # type: ignore[no-untyped-def]
    return groups_of(row[None, :], np.array([tip]), np.array([speed]))


def test_scaling_every_length_leaves_the_groups() -> None:
    # Buckingham pi: lengths by s, areas by s^2, viscosity by s (Reynolds), masses by s^3 and
    # free fall left as it is, with neither weight nor buoyancy: nothing changes.
    small, large, s = _row(), _row(), 1.25
    for row in (small, large):
        row[solver.BUOYANCY] = row[solver.TRIM_LOSS] = 0.0
        row[solver.LINE_DENSITY] = row[solver.WATER_DENSITY]
        row[solver.COMPLIANCE] = 1e-7
    large[[solver.CAST, solver.DIAMETER, solver.VISCOSITY]] *= s
    large[solver.PULL_AREA] *= s**2
    large[solver.MASS] *= s**3
    a, b = _groups(small, 0.6), _groups(large, 0.6 * s)
    weight = [6, 7]  # weight of line: the only groups that know of free fall
    rest = [i for i in range(a.features.shape[1]) if i not in weight and i != 10]
    assert np.allclose(a.features[0, rest], b.features[0, rest], atol=2e-4)
    assert np.allclose(a.angle_rad, b.angle_rad, atol=1e-5)
    assert b.line_m[0] == pytest.approx(s * a.line_m[0])


def test_first_guess_without_drag_is_the_spiral() -> None:
    # No line drag, weight, buoyancy: r = R exp(-theta cot d), z_max = R exp(-d cot d) sin d
    # (equiangular spiral, own derivation, in docs/physics).
    for angle in (10.0, 20.0, 30.0):
        row = _row(angle=angle)
        row[solver.CN_FACTOR] = 1e-6
        row[solver.BUOYANCY] = 0.0
        row[solver.LINE_DENSITY] = row[solver.WATER_DENSITY]
        row[solver.COMPLIANCE] = 1e-9
        d = math.radians(angle)
        want = math.exp(-d / math.tan(d)) * math.sin(d)
        assert _groups(row, 0.0).depth[0] == pytest.approx(want, rel=0.01)


def test_stations_fall_from_the_whole_line() -> None:
    parts = station_parts()
    assert parts.shape == (STATIONS,) and parts[0] == 1.0 and np.all(np.diff(parts) < 0.0)


def test_a_usual_setup_is_inside_and_each_limit_holds() -> None:
    assert _groups(_row()).inside[0]
    for change in (
        {"angle": 60.0},
        {"area": 90e-4},
        {"diameter": 0.6e-3},
        {"cast": 90.0},
        {"cast": 5.0},
    ):
        assert not _groups(_row(**change)).inside[0]
    assert not _groups(_row(), tip=5.0).inside[0]
    assert not _groups(_row(), speed=0.3).inside[0]
    constant = _row()
    constant[solver.CN_TABLE] = 1.0
    assert not _groups(constant).inside[0]
    assert all(low < high for low, high in RANGE.values())
