"""Fact 9 of the trade (common practice, no source): heavier line and stiffer rods in grass."""

from __future__ import annotations

import pytest

from leadsman.errors import PlanError
from leadsman.plan.cover_needs import LB_N, NEEDS, ground_profile, suits
from leadsman.tackle.line import Line
from leadsman.tackle.rod import POWERS, Rod


def test_thick_grass_does_not_get_the_thinnest_line() -> None:
    strength = [NEEDS[ground].least_test_n for ground in ("grass", "edge", "drop")]
    assert strength == sorted(strength, reverse=True)
    rod = Rod("long", 2.4, 0.01, 0.04, "medium")
    thin, thick = Line("thin", "nylon", 8 * LB_N), Line("thick", "nylon", 17 * LB_N)
    assert not suits("grass", rod, thin, 8 * LB_N)
    assert suits("grass", rod, thick, 17 * LB_N)
    assert suits("drop", rod, thin, 8 * LB_N)


def test_a_soft_rod_is_kept_out_of_grass() -> None:
    line = Line("thick", "nylon", 17 * LB_N)
    soft = Rod("soft", 2.4, 0.01, 0.04, POWERS[0])
    assert not suits("grass", soft, line, 17 * LB_N)


def test_grass_stands_on_the_bottom_and_under_the_surface() -> None:
    deep, shallow = ground_profile("grass", 3.0), ground_profile("grass", 0.8)
    assert deep.grass is not None and shallow.grass is not None
    assert float(deep.grass.top_depth_m[0]) == pytest.approx(1.8)
    assert 0.0 < float(shallow.grass.top_depth_m[0]) < 0.8
    assert ground_profile("drop", 6.0).grass is None
    with pytest.raises(PlanError):
        ground_profile("flat", 100.0)
