"""Cast length by lure, wind, rod and reel."""

from __future__ import annotations

import math

import numpy as np
import pytest

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight import (
    CALM,
    MeasuredCast,
    Thrower,
    Wind,
    cast_length_m,
    fit_thrower,
    flight_drag_area_m2,
    rod_reach_m,
)
from leadsman.hydro.technique import TakeUp

YARD_M = 0.9144
SHALLOW = (0.009, flight_drag_area_m2(0.055, 0.028, 0.018, 3e-4))
MIDDLE = (0.016, flight_drag_area_m2(0.065, 0.030, 0.020, 6e-4))
DEEP = (0.035, flight_drag_area_m2(0.090, 0.034, 0.026, 16e-4))


@pytest.fixture(scope="module")
def angler() -> Thrower:
    return fit_thrower([MeasuredCast(*MIDDLE, 45.0)])


def test_a_light_shallow_lure_flies_less_far(angler: Thrower) -> None:
    # Common practice, no source.
    lengths = [cast_length_m(angler, *lure).m for lure in (SHALLOW, MIDDLE, DEEP)]
    assert lengths[0] < 0.95 * lengths[1] and lengths[1] < lengths[2]


def test_a_headwind_costs_and_a_tailwind_gains(angler: Thrower) -> None:
    # Common practice, no source. The lighter lure loses the greater part.
    loss = []
    for lure in (SHALLOW, DEEP):
        calm = cast_length_m(angler, *lure).m
        ahead = cast_length_m(angler, *lure, Wind(4.0)).m
        behind = cast_length_m(angler, *lure, Wind(-4.0)).m
        assert ahead < 0.95 * calm and behind > 1.03 * calm
        loss.append(1.0 - ahead / calm)
    assert loss[0] > loss[1]


def test_wind_across_carries_aside_and_hardly_shortens(angler: Thrower) -> None:
    calm = cast_length_m(angler, *DEEP)
    across = cast_length_m(angler, *DEEP, Wind(0.0, 4.0))
    assert across.sideways_m > 2.0
    assert across.m == pytest.approx(calm.m, rel=0.05)


def test_sixty_to_seventy_yards_need_big_lure_long_rod_and_large_spool(angler: Thrower) -> None:
    # Common practice, no source: within reach of the band of a single cast.
    large = TakeUp(0.75, 0.66, 250.0)
    best = cast_length_m(angler, *DEEP, rod_m=2.4, spool=large)
    assert best.m + best.sd_m > 60.0 * YARD_M and best.m - best.sd_m < 70.0 * YARD_M
    usual = cast_length_m(angler, *MIDDLE, rod_m=2.0, spool=TakeUp(0.6, 0.45, 90.0))
    assert usual.m + usual.sd_m < 60.0 * YARD_M
    assert cast_length_m(angler, *DEEP, rod_m=2.0, spool=large).m < best.m
    assert cast_length_m(angler, *DEEP, rod_m=2.4, spool=TakeUp(0.6, 0.45, 90.0)).m < best.m


def test_tip_to_lure_and_angler_to_lure_are_kept_apart(angler: Thrower) -> None:
    cast = cast_length_m(angler, *MIDDLE, rod_m=2.2, tip_m=0.6)
    reach = math.sqrt(2.2**2 - (angler.grip_height_m - 0.6) ** 2)
    assert rod_reach_m(2.2, angler.grip_height_m, 0.6) == pytest.approx(reach)
    assert cast.angler_to_lure_m - cast.m == pytest.approx(reach)
    assert cast.angler_to_lure_m == pytest.approx(math.hypot(cast.flight.ahead_m, 0.0))


def test_no_cast_is_longer_than_the_line_on_the_spool(angler: Thrower) -> None:
    spool = TakeUp(0.6, 0.5, 35.0)
    assert cast_length_m(angler, *DEEP, spool=spool).angler_to_lure_m == pytest.approx(35.0)


def test_the_spread_is_that_of_the_exact_posterior() -> None:
    # Gaussian spread against importance sampling of prior times likelihood.
    seen = [(SHALLOW, 34.0), (MIDDLE, 45.0), (DEEP, 57.0)]
    angler = fit_thrower([MeasuredCast(*lure, length, count=4) for lure, length in seen])
    rng = np.random.default_rng(11)
    names = ("launch_energy_j", "moving_mass_kg", "line_loss_kg_m", "drag_factor")
    centre = np.log([getattr(angler, name) for name in names])
    prior = np.log([getattr(Thrower(), name) for name in names])
    covariance = 1.3 * np.array(angler.log_covariance)
    information = np.linalg.inv(covariance)
    prior_information = np.linalg.inv(np.array(Thrower().log_covariance))
    wanted, log_weight = [], []
    sd_seen = math.hypot(angler.scatter / 2.0, 0.4 * 0.15)
    for logs in rng.multivariate_normal(centre, covariance, 3000):
        who = Thrower(*np.exp(logs))
        misfit = sum(
            (math.log(who.flight(*lure).ahead_m / length) / sd_seen) ** 2 for lure, length in seen
        )
        off, own = logs - prior, logs - centre
        log_weight.append(-0.5 * (misfit + off @ prior_information @ off - own @ information @ own))
        gust = 1.0 + 0.25 * rng.normal()
        area = DEEP[1] * 1.1 * math.exp(0.15 * rng.normal())
        path = who.flight(DEEP[0] * 0.9, area, Wind(3.0 * gust, gust), 2.4)
        length = math.hypot(path.ahead_m, path.left_m)
        wanted.append(length * (1.0 + angler.scatter * rng.normal()))
    weight = np.exp(np.array(log_weight) - max(log_weight))
    mean = np.average(wanted, weights=weight)
    sd = math.sqrt(np.average((np.array(wanted) - mean) ** 2, weights=weight))
    cast = cast_length_m(angler, DEEP[0] * 0.9, DEEP[1] * 1.1, Wind(3.0, 1.0), 2.4)
    assert cast.sd_m == pytest.approx(sd, rel=0.2)
    assert cast.angler_to_lure_m == pytest.approx(mean, rel=0.03)


def test_measuring_this_lure_narrows_its_own_cast() -> None:
    before = cast_length_m(Thrower(), *DEEP)
    after = cast_length_m(fit_thrower([MeasuredCast(*DEEP, 55.0, count=5)]), *DEEP)
    assert before.sd_m > 3.0 * after.sd_m
    assert after.sd_m < 0.12 * after.m


def test_a_lure_that_cannot_be_cast_is_refused(angler: Thrower) -> None:
    with pytest.raises(TechniqueError, match="cannot be cast"):
        cast_length_m(angler, 0.001, 0.01, Wind(25.0))
    with pytest.raises(TechniqueError, match="rod length"):
        cast_length_m(angler, *DEEP, CALM, 9.0)
    with pytest.raises(TechniqueError, match="lure mass"):
        cast_length_m(angler, 0.0, 1e-3)
