"""Candidates refuse what cannot be fished."""

from __future__ import annotations

import math

import pytest

from leadsman.errors import PlanError
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import TakeUp
from leadsman.plan.candidates import Candidate, LineOption, LureOption

LURE = LureOption("lure", LureForces(0.3, 15e-4), open_hooks=4)
LINE = LineOption("line", LineProperties(0.3e-3, 1140.0, 2.5e9), 50.0)


def test_what_clears_grass_comes_from_line_and_hooks() -> None:
    tackle = Candidate(LURE, LINE, (50.0,), (0.3,), rod_power_n=30.0).clearing
    assert tackle.open_hooks == 4
    assert tackle.breaking_n == 50.0
    assert tackle.rod_power_n == 30.0
    # E A of a round line (definition)
    assert tackle.stiffness_n == pytest.approx(2.5e9 * math.pi / 4.0 * 0.3e-3**2)


def test_range_of_the_tip_and_the_unit_of_the_retrieve() -> None:
    candidate = Candidate(LURE, LINE, (50.0,), (1.0, -0.5, 2.0))
    assert (candidate.lowest_tip_m, candidate.highest_tip_m) == (-0.5, 2.0)
    assert not candidate.in_turns
    turning = Candidate(LURE, LINE, (50.0,), (1.0,), 2.0, TakeUp(0.7, 0.6, 120.0))
    assert turning.in_turns
    assert candidate.name == "lure on line"


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(PlanError, match="relative error"):
        LureOption("x", LureForces(0.3, 15e-4), depth_rel_se=0.9)
    with pytest.raises(PlanError, match="hooks"):
        LureOption("x", LureForces(0.3, 15e-4), open_hooks=-1)
    with pytest.raises(PlanError, match="strength"):
        LineOption("x", LINE.properties, 0.0)
    with pytest.raises(PlanError, match="reel rate"):
        Candidate(LURE, LINE, (50.0,), (0.3,), reel_rate=0.0)
