"""Draws of all inputs against the laws they are drawn from."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from leadsman.calibrate.input_draws import GROUPS, INPUT_NAMES, InputDraws, draw_inputs
from leadsman.calibrate.input_spread import InputSpread, LureSpread
from leadsman.errors import QuantityError
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Step, Technique

LURE = LureSpread(LureForces(math.radians(30.0), 20e-4), math.radians(2.0), 0.2, 0.0, 0.0, 0.02)
LINE = LineProperties(0.3e-3, 1140.0, 2e9)
TECHNIQUE = Technique.steady(50.0)


def _draw(
    spread: InputSpread | None = None, n: int = 512, seed: int = 1, lure: LureSpread = LURE
) -> InputDraws:
    return draw_inputs(lure, LINE, TECHNIQUE, DragLaw(), spread or InputSpread(), n, seed)


def test_scores_are_normal_and_uncorrelated() -> None:
    z = _draw().scores
    assert z.shape == (512, len(INPUT_NAMES))
    assert np.abs(z.mean(axis=0)).max() < 1e-12
    assert np.abs(np.cov(z.T, bias=True) - np.eye(len(INPUT_NAMES))).max() < 1e-9
    for column in z.T:
        # A random sample of 512 has its median at 0.036.
        assert stats.kstest(column, "norm").statistic < 0.03


def test_every_input_follows_its_law() -> None:
    spread = InputSpread()
    draws = _draw(n=2048)
    for values, law in [
        (np.log(draws.diameter_m / 0.3e-3), stats.norm(0.0, spread.diameter_log_sd)),
        (draws.cast_m, stats.norm(50.0, 50.0 * spread.cast_log_sd)),
        (draws.tip_shift_m, stats.norm(0.0, spread.tip_sd_m)),
        (draws.boat_m_s, stats.norm(0.0, spread.boat_sd_m_s)),
        (np.log(draws.speed_factor), stats.norm(0.0, spread.speed_log_sd)),
        (np.log(draws.tangential / DragLaw().tangential), stats.norm(0.0, 0.4)),
        (draws.buoyancy_n, stats.norm(0.0, 0.02)),
        (draws.trim_loss_rad_m2_s2, stats.expon(scale=LURE.trim_loss_mean_rad_m2_s2)),
    ]:
        assert stats.kstest(values, law.cdf).statistic < 0.02


def test_vibration_only_raises_the_drag_and_is_skewed() -> None:
    factor = _draw(InputSpread(normal_log_sd=0.0), n=2048).normal_factor
    assert factor.min() >= 1.0
    law = stats.expon(scale=InputSpread().vibration_rise_mean)
    assert stats.kstest(factor - 1.0, law.cdf).statistic < 0.02


def test_trim_turns_about_the_reference_speed() -> None:
    lure = LureSpread(LURE.centre, 0.0, 0.0, trim_loss_mean_rad_m2_s2=0.02)
    draws = _draw(lure=lure)
    speed_through_water = 1.3 / math.cos(LURE.centre.dive_angle_rad)
    trimmed = draws.dive_angle_rad - draws.trim_loss_rad_m2_s2 / speed_through_water**2
    assert np.allclose(trimmed, LURE.centre.dive_angle_rad, atol=1e-9)
    assert np.ptp(draws.dive_angle_rad) > 0.01


def test_no_spread_gives_the_middle() -> None:
    lure = LureSpread(LURE.centre, 0.0, 0.0, trim_loss_mean_rad_m2_s2=0.0)
    draws = _draw(InputSpread.none(), lure=lure)
    inputs = draws.retrieve_input(3, lure.centre, LINE, TECHNIQUE, DragLaw())
    assert inputs[1] == LINE and inputs[2] == TECHNIQUE
    assert inputs[0].dive_angle_rad == pytest.approx(lure.centre.dive_angle_rad)
    assert inputs[3].normal_factor == pytest.approx(1.0)


def test_the_whole_script_moves_with_its_draw() -> None:
    technique = Technique(
        40.0, 0.6, (Step("reel", 5.0, 1.2, 0.2), Step("stop", 2.0), Step("reel", speed_m_s=1.0))
    )
    draws = draw_inputs(LURE, LINE, technique, DragLaw(), InputSpread(), 64, 1)
    moved = draws.retrieve_input(5, LURE.centre, LINE, technique, DragLaw())[2]
    shift, factor = draws.tip_shift_m[5], draws.speed_factor[5]
    assert moved.tip_m == pytest.approx(0.6 + shift)
    assert moved.steps[0].tip_m == pytest.approx(0.2 + shift)
    assert moved.steps[0].speed_m_s == pytest.approx(1.2 * factor)
    assert moved.steps[1].tip_m is None and moved.steps[1].speed_m_s == 0.0


def test_same_seed_same_draws_and_every_input_has_a_group() -> None:
    assert np.array_equal(_draw(seed=4).cast_m, _draw(seed=4).cast_m)
    assert not np.array_equal(_draw(seed=4).cast_m, _draw(seed=5).cast_m)
    grouped = [name for names in GROUPS.values() for name in names]
    assert sorted(grouped) == sorted(INPUT_NAMES)


@pytest.mark.parametrize("n", [0, 30, 65])
def test_too_few_or_odd_draws_are_refused(n: int) -> None:
    with pytest.raises(QuantityError, match="draws"):
        _draw(n=n)
