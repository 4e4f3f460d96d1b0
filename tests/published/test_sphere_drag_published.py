"""The order of magnitude of a lure's drag, against a sphere of its size."""

from __future__ import annotations

import math

import pytest

from leadsman.hydro.lure_forces import LureForces

fluids = pytest.importorskip("fluids", reason="`fluids` is a development tool")


def test_clift_correlation_at_re_200() -> None:
    """Clift, Grace & Weber 1978, as coded in `fluids`: a known value of the reference itself."""
    assert fluids.drag_sphere(200.0, Method="Clift") == pytest.approx(0.77563423, rel=1e-7)


def test_the_pull_areas_we_allow_hold_the_drag_of_a_lure_sized_sphere() -> None:
    """A 30 mm sphere at 1.3 m/s, by Clift, has a pull area of 2 to 5 cm2.

    A lure with a lip that stands across the flow has several times that; the
    draws of the retrieve tests, 3 to 40 cm2, start where the sphere is.
    """
    re = 998.2 * 1.3 * 0.030 / 1.002e-3
    area_m2 = fluids.drag_sphere(re, Method="Clift") * math.pi / 4.0 * 0.030**2
    assert 2e-4 < area_m2 < 5e-4
    assert LureForces(math.radians(20.0), area_m2).pull_area_m2 == area_m2
