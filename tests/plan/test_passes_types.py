"""Stretches and grass as plain data."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pass_cases import straight

from leadsman.errors import PlanError
from leadsman.plan.passes_types import GrassStand


def test_length_along_a_stretch() -> None:
    stretch = straight(length_m=100.0)
    assert stretch.length_m == pytest.approx(100.0)
    assert stretch.along_m[-1] == pytest.approx(100.0)


def test_refuses_what_is_no_line_or_no_grass() -> None:
    with pytest.raises(PlanError):
        replace(straight(), x_m=np.zeros(3))
    with pytest.raises(PlanError):
        replace(straight(), depth_m=0.0)
    with pytest.raises(PlanError):
        GrassStand(4.0, density=1.5)
    with pytest.raises(PlanError):
        GrassStand(-1.0)
