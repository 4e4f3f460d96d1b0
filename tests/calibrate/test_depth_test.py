"""Tests of a rated depth, told and assumed."""

from __future__ import annotations

import pytest

from leadsman.calibrate.depth_test import ASSUMED_CAST_M, assumed_cast_m, fill_test
from leadsman.tackle.lure import DepthTest

LB_N = 4.4482216152605


def test_nothing_told() -> None:
    test = fill_test(DepthTest(), 0.020)
    assert test.told == ()
    assert test.technique.cast_m == ASSUMED_CAST_M
    assert 0.28e-3 < test.line.diameter_m < 0.36e-3  # 10 to 12 lb, common practice


def test_all_told_is_surer_in_every_part() -> None:
    loose = fill_test(DepthTest(), 0.020)
    tight = fill_test(DepthTest("fluorocarbon", 12 * LB_N, 3.1e-4, 50.0, -0.5), 0.020)
    assert tight.told == ("line", "cast", "tip")
    assert tight.line.diameter_m == 3.1e-4
    assert tight.line.density_kg_m3 > 1700.0
    assert (tight.technique.cast_m, tight.technique.tip_m) == (50.0, -0.5)
    assert tight.diameter_log_sd < loose.diameter_log_sd
    assert tight.cast_log_sd < loose.cast_log_sd
    assert tight.tip_sd_m < loose.tip_sd_m


def test_pound_test_without_material_is_less_sure_than_with_it() -> None:
    with_it = fill_test(DepthTest("nylon", 12 * LB_N), 0.020)
    without = fill_test(DepthTest(None, 12 * LB_N), 0.020)
    assert without.diameter_log_sd > with_it.diameter_log_sd


def test_light_lures_are_cast_less_far() -> None:
    assert assumed_cast_m(0.040) == assumed_cast_m(0.020) == ASSUMED_CAST_M
    assert assumed_cast_m(0.0025) == pytest.approx(0.5 * ASSUMED_CAST_M)  # cube root of an eighth
