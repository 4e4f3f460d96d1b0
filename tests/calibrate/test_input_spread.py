"""Spreads of lure and inputs."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leadsman.calibrate.first_fit import LureFit
from leadsman.calibrate.input_spread import (
    CAST_MEASURED_LOG_SD,
    DIAMETER_MEASURED_LOG_SD,
    InputSpread,
    LureSpread,
)
from leadsman.errors import QuantityError
from leadsman.hydro.lure_forces import LureForces

LURE = LureForces(math.radians(30.0), 20e-4)


def test_lure_draws_have_the_stated_moments() -> None:
    rng = np.random.default_rng(2)
    spread = LureSpread(LURE, math.radians(2.0), 0.25, -0.6)
    angle, area = spread.draw(rng.normal(size=(40_000, 2)), np.zeros(40_000))
    assert np.mean(angle) == pytest.approx(LURE.dive_angle_rad, abs=math.radians(0.05))
    assert np.std(angle) == pytest.approx(math.radians(2.0), rel=0.02)
    assert np.std(np.log(area)) == pytest.approx(0.25, rel=0.02)
    assert np.median(area) == pytest.approx(20e-4, rel=0.01)
    assert np.corrcoef(angle, np.log(area))[0, 1] == pytest.approx(-0.6, abs=0.02)


def test_a_lure_fitted_on_line_that_drags_more_dives_steeper() -> None:
    spread = LureSpread(LURE, 0.0, 0.0, angle_per_log_drag_rad=0.2)
    angle, _ = spread.draw(np.zeros((2, 2)), np.array([0.0, 0.1]))
    assert angle[1] - angle[0] == pytest.approx(0.02)


def test_a_first_fit_becomes_a_spread() -> None:
    fit = LureFit(LURE, 0.03, 0.2, -0.5, 0.1, 0.02, 0.015, "rated depth")
    assert LureSpread.of(fit) == LureSpread(LURE, 0.03, 0.2, -0.5, 0.1, 0.02, 0.015)


def test_measuring_narrows() -> None:
    told, measured = InputSpread(), InputSpread.of_measured()
    assert measured.diameter_log_sd == DIAMETER_MEASURED_LOG_SD < told.diameter_log_sd
    assert measured.cast_log_sd == CAST_MEASURED_LOG_SD < told.cast_log_sd
    none = InputSpread.none()
    assert none.normal_centre == 1.0
    assert not any(getattr(none, n) for n in none.__slots__ if n != "normal_centre")


@pytest.mark.parametrize("name", ["diameter_log_sd", "cast_log_sd", "boat_sd_m_s"])
@pytest.mark.parametrize("value", [-0.1, math.nan, math.inf])
def test_impossible_spreads_are_refused(name: str, value: float) -> None:
    with pytest.raises(QuantityError, match=name):
        InputSpread(**{name: value})


def test_impossible_lure_spreads_are_refused() -> None:
    with pytest.raises(QuantityError, match="negative"):
        LureSpread(LURE, -0.1, 0.1)
    with pytest.raises(QuantityError, match="correlation"):
        LureSpread(LURE, 0.1, 0.1, 1.0)
    with pytest.raises(QuantityError, match="centre"):
        InputSpread(normal_centre=0.0)
