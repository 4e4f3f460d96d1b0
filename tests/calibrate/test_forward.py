"""The forward model against the closed form."""

from __future__ import annotations

import math

import pytest

from leadsman.calibrate.forward import free_max_depth_m
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Technique


@pytest.mark.parametrize(("degrees", "feet"), [(10.0, 11.65), (20.0, 23.65), (30.0, 36.43)])
def test_spiral(degrees: float, feet: float) -> None:
    """R exp(-d cot d) sin d at R 55 m (own derivation, see docs): no drag, no weight."""
    depth = free_max_depth_m(
        LureForces(math.radians(degrees), 20e-4),
        LineProperties(1e-4, 998.2336),
        Technique.steady(55.0, 0.0),
        DragLaw(normal_constant=0.0, tangential=0.0),
    )
    assert depth / 0.3048 == pytest.approx(feet, rel=2e-3)
