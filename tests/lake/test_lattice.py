"""Lattices and their bounds."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice

FRAME = MetricFrame(-93.0, 45.0)


def test_around_holds_everything_with_its_margin() -> None:
    lattice = Lattice.around(FRAME, np.array([-7.0, 33.0]), np.array([2.0, 91.0]), 5.0, 10.0)
    assert lattice.x_m[0] <= -17.0
    assert lattice.x_m[-1] >= 43.0
    assert lattice.y_m[0] <= -8.0
    assert lattice.y_m[-1] >= 101.0
    assert lattice.shape == (lattice.y_m.size, lattice.x_m.size)
    assert lattice.cell_area_m2 == 25.0


@pytest.mark.parametrize(
    ("x", "cell"),
    [
        ([0.0, 1e9], 5.0),
        ([0.0, float("nan")], 5.0),
        ([], 5.0),
        ([0.0, 250_000.0], 5.0),
        ([0.0, 100.0], 0.01),
        ([0.0, 100.0], 1e6),
        ([0.0, 700_000.0], 400.0),
    ],
)
def test_bounds(x: list[float], cell: float) -> None:
    with pytest.raises(LakeDataError):
        Lattice.around(FRAME, np.array(x), np.array(x), cell, 1.0)
