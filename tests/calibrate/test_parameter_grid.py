"""The grid and how values are carried to it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leadsman.calibrate.parameter_grid import (
    AREA_NODES,
    DRAG_NODES,
    ParameterGrid,
    lagrange,
)

GRID = ParameterGrid.around(math.radians(28.0), 19e-4)


@pytest.mark.parametrize("points", [2, 3, 4])
def test_interpolation_is_exact_for_polynomials(points: int) -> None:
    """Lagrange interpolation through n points is exact to degree n - 1 (textbook)."""
    coarse, fine = np.linspace(0.0, 1.0, 7), np.linspace(0.0, 1.0, 50)
    matrix = lagrange(7, 50, points)
    for degree in range(points):
        assert matrix @ coarse**degree == pytest.approx(fine**degree, abs=1e-12)


def test_refine_carries_a_smooth_function() -> None:
    def f(c, a, s):  # type: ignore[no-untyped-def]
        return np.sqrt(a) * (1.0 - 0.3 * c) * (1.0 + 0.1 * s + 0.01 * s**2)

    def table(c, a, s):  # type: ignore[no-untyped-def]
        return f(c[:, None, None], a[None, :, None], s[None, None, :])

    solved = table(GRID.solved_log_drag, GRID.solved_angle_rad, GRID.solved_log_area)
    wanted = table(GRID.log_drag, GRID.angle_rad, GRID.log_area)
    assert GRID.refine(solved) == pytest.approx(wanted, rel=1e-9)


def test_axes() -> None:
    assert GRID.log_drag.shape == (DRAG_NODES,) and GRID.log_area.shape == (AREA_NODES,)
    assert GRID.angle_rad[0] < math.radians(28.0) / 3 and GRID.angle_rad[-1] > math.radians(55.0)
    # the weight of a cell is its width, up to one factor
    ratio = np.gradient(GRID.angle_rad) / GRID.angle_weight
    assert ratio[1:-1] == pytest.approx(ratio[1], rel=1e-9)


def test_shallow_lures_get_a_fine_grid() -> None:
    shallow = ParameterGrid.around(math.radians(3.0), 8e-4)
    assert np.diff(shallow.angle_rad).max() < math.radians(0.3)
    assert shallow.angle_rad[0] < math.radians(1.0)
