"""Tackle, technique and bottom as the arrays that the kernel reads."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leadsman.hydro import retrieve_kernel as kernel
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve_inputs import (
    FOREVER_S,
    STIFFEST_PA,
    kinks,
    pack_scripts,
    parameters,
    script,
    tables,
)
from leadsman.hydro.technique import Step, TakeUp, Technique
from leadsman.water import Water

LURE = LureForces(0.5, 2e-3, 0.015, 0.04, 0.005, 0.01)
LINE = LineProperties(0.3e-3, 1780.0, 3e9)


def test_parameters_in_the_kernels_order() -> None:
    bottom = BottomProfile.flat(3.0, friction=0.2)
    reel = TakeUp(0.8, 0.6, 120.0)
    technique = Technique(40.0, 0.5, (Step("reel", speed_m_s=2.0),), reel, 0.3)
    par = parameters(LURE, LINE, technique, bottom, Water(), DragLaw(normal_factor=1.2))
    assert par.shape == (kernel.N_PAR,)
    assert par[kernel.MASS] == pytest.approx(0.015 + 0.005)  # with the water that moves along
    assert par[kernel.COMPLIANCE] == pytest.approx(1.0 / (3e9 * math.pi / 4 * 9e-8))
    assert par[kernel.TRIM_LOSS] == 0.01
    assert (par[kernel.CAST], par[kernel.BOAT], par[kernel.FRICTION]) == (40.0, 0.3, 0.2)
    assert (par[kernel.TAKE_UP_FULL], par[kernel.TAKE_UP_HALF]) == (0.8, 0.6)
    assert par[kernel.CN_FACTOR] == 1.2
    assert par[kernel.CN_TABLE] == 0


def test_a_constant_coefficient_uses_the_blank_table() -> None:
    law = DragLaw(normal_constant=1.1, normal_factor=1.2)
    par = parameters(LURE, LINE, Technique.steady(40.0), None, Water(), law)
    assert np.all(par[kernel.CN_FACTOR] * tables()[int(par[kernel.CN_TABLE])] == 1.1 * 1.2)
    assert np.array_equal(tables()[0], DragLaw().normal_table())


def test_a_line_that_does_not_stretch_is_very_stiff() -> None:
    line = LineProperties(0.3e-3, 1780.0, math.inf)
    par = parameters(LURE, line, Technique.steady(40.0), None, Water(), DragLaw())
    assert 2.0 * par[kernel.COMPLIANCE] < 3e-5  # strain at 2 N
    assert par[kernel.COMPLIANCE] == pytest.approx(1.0 / (STIFFEST_PA * line.section_m2))


def test_kinks_keep_the_profile_and_do_not_overlap() -> None:
    bottom = BottomProfile(np.array([0.0, 0.05, 5.0]), np.array([1.0, 2.0, 3.0]))
    x, depth, half = kinks(bottom)
    assert np.array_equal(x[1:-1], bottom.x_m)
    places = np.array([-5.0, 0.02, 4.0, 90.0])
    assert np.allclose(np.interp(places, x, depth), bottom.depth_at(places))
    assert np.all(half[:-1] + half[1:] <= np.diff(x))
    assert np.all(kinks(None)[1] > 1e6)


def test_script_rows() -> None:
    steps = (
        Step("reel", 5.0, 1.2, tip_m=-0.5),
        Step("stop", 2.0),
        Step("sweep", 1.0, 0.4, tip_m=1.0, pull_back_m=0.8),
    )
    rows = script(Technique(40.0, 0.6, steps))
    assert rows[:, kernel.S_END] == pytest.approx([5.0, 7.0, 8.0, FOREVER_S])
    assert rows[:, kernel.S_SPEED] == pytest.approx([1.2, 0.0, 0.4, 1.2])
    assert rows[:, kernel.S_H0] == pytest.approx([0.6, -0.5, -0.5, 1.0])
    assert rows[:, kernel.S_H1] == pytest.approx([-0.5, -0.5, 1.0, 1.0])
    assert rows[:, kernel.S_B0] == pytest.approx([0.0, 0.0, 0.0, 0.8])
    assert rows[:, kernel.S_B1] == pytest.approx([0.0, 0.0, 0.8, 0.8])


def test_a_step_without_an_end_moves_the_tip_over_the_whole_cast() -> None:
    rows = script(Technique(40.0, 0.6, (Step("reel", speed_m_s=2.0, tip_m=-1.0),)))
    assert rows[0, kernel.S_END] == pytest.approx(20.0)
    assert (rows[0, kernel.S_H0], rows[0, kernel.S_H1]) == (0.6, -1.0)
    reel = TakeUp(0.5, 0.5, 100.0)
    turned = Technique(40.0, 0.6, (Step("reel", speed_m_s=2.0, tip_m=-1.0),), reel)
    assert script(turned)[0, kernel.S_END] == pytest.approx(40.0)
    assert script(Technique.steady(40.0)).shape == (1, kernel.N_SCRIPT)


def test_scripts_are_packed_once_each() -> None:
    one = Technique.steady(40.0, 0.6, 1.0)
    two = Technique(30.0, 0.6, (Step("reel", 5.0, 1.2), Step("stop", 2.0)))
    scripts, rows, which = pack_scripts([one, two, one, one])
    assert rows.tolist() == [0, 1, 4]
    assert which.tolist() == [0, 1, 0, 0]
    assert np.array_equal(scripts[1:4], script(two))
