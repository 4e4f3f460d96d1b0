"""What is refused before anything is computed."""

from __future__ import annotations

import pytest

from leadsman.errors import PlanError
from leadsman.plan.passes_settings import BoatLimits, Pace, PassSettings


def test_refuses_what_makes_no_sense() -> None:
    with pytest.raises(PlanError):
        BoatLimits(least_depth_m=-1.0)
    with pytest.raises(PlanError):
        BoatLimits(stand_offs_m=())
    with pytest.raises(PlanError):
        Pace(travel_m_s=0.0)
    with pytest.raises(PlanError):
        PassSettings(minutes=0.0)
    with pytest.raises(PlanError):
        PassSettings(limit_load=0.0)
    with pytest.raises(PlanError):
        PassSettings(worth_share=1.0)
