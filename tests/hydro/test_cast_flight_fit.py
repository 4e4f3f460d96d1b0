"""Throwers from measured casts."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight_fit import MeasuredCast, fit_thrower
from leadsman.hydro.cast_flight_path import Wind
from leadsman.hydro.cast_flight_thrower import CAST_SCATTER, Thrower

LURES = [(0.009, 4e-4), (0.016, 5e-4), (0.022, 6e-4), (0.040, 9e-4)]


def _length(who: Thrower, lure: tuple[float, float], wind: Wind) -> float:
    path = who.flight(*lure, wind)
    return math.hypot(path.ahead_m, path.left_m)


def test_no_casts_give_the_prior() -> None:
    assert fit_thrower([]) == Thrower()


def test_one_cast_is_reproduced() -> None:
    who = fit_thrower([MeasuredCast(0.016, 5e-4, 42.0)])
    assert _length(who, (0.016, 5e-4), Wind()) == pytest.approx(42.0, rel=0.02)


def test_other_lures_of_a_synthetic_angler_are_predicted() -> None:
    truth = Thrower(80.0, 0.055, 2e-4, 1.3)
    rng = np.random.default_rng(3)
    casts = []
    for lure in (LURES[0], LURES[2], LURES[3]):
        for wind in (Wind(), Wind(4.0), Wind(-4.0)):
            noise = math.exp(0.03 * rng.normal() / 2.0)
            casts.append(MeasuredCast(*lure, _length(truth, lure, wind) * noise, wind, count=4))
    who = fit_thrower(casts)
    for wind in (Wind(2.0), Wind(-2.0, 2.0)):
        want = _length(truth, LURES[1], wind)
        assert _length(who, LURES[1], wind) == pytest.approx(want, rel=0.03)
    before = np.diag(np.array(Thrower().log_covariance))
    assert np.all(np.diag(np.array(who.log_covariance)) < before)


def test_coverage_of_predicted_casts() -> None:
    # Anglers drawn from the prior: the one-sigma band of another lure holds 68 % of them.
    rng = np.random.default_rng(8)
    prior = Thrower()
    names = ("launch_energy_j", "moving_mass_kg", "line_loss_kg_m", "drag_factor")
    centre = np.log([getattr(prior, name) for name in names])
    spread = np.sqrt(np.diag(np.array(prior.log_covariance))) * [0.4, 1.0, 1.0, 1.0]
    held = 0
    for _ in range(200):
        truth = Thrower(*np.exp(centre + spread * rng.normal(size=4)))
        casts = [
            MeasuredCast(*lure, _length(truth, lure, Wind()) * math.exp(0.06 * rng.normal()))
            for lure in (LURES[1], LURES[2])
        ]
        who = fit_thrower(casts)
        want = math.log(_length(truth, LURES[3], Wind()))
        slope = np.zeros(4)
        for i, name in enumerate(names):
            for sign in (1.0, -1.0):
                moved = replace(who, **{name: getattr(who, name) * math.exp(sign * 0.05)})
                slope[i] += sign * math.log(_length(moved, LURES[3], Wind())) / 0.1
        sd = math.sqrt(slope @ np.array(who.log_covariance) @ slope)
        held += abs(math.log(_length(who, LURES[3], Wind())) - want) < sd
    assert 0.60 < held / 200 < 0.85


def test_scatter_is_learned() -> None:
    same = fit_thrower([MeasuredCast(0.016, 5e-4, 42.0) for _ in range(12)])
    wild = fit_thrower([MeasuredCast(0.016, 5e-4, length) for length in (32.0, 52.0) * 6])
    assert same.scatter < CAST_SCATTER < wild.scatter


def test_casts_that_contradict_each_other_are_refused() -> None:
    casts = [MeasuredCast(0.016, 5e-4, 45.0), MeasuredCast(0.016, 5e-4, 6.0)]
    with pytest.raises(TechniqueError, match="does not fit"):
        fit_thrower(casts)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"lure_mass_kg": 0.0}, "lure mass"),
        ({"drag_area_m2": 1.0}, "drag area"),
        ({"length_m": 1000.0}, "measured cast"),
        ({"rod_m": 0.1}, "rod length"),
        ({"count": 0}, "at least one"),
    ],
)
def test_impossible_casts_are_refused(change: dict[str, float], message: str) -> None:
    good = {"lure_mass_kg": 0.016, "drag_area_m2": 5e-4, "length_m": 45.0}
    with pytest.raises(TechniqueError, match=message):
        MeasuredCast(**{**good, **change})  # type: ignore[arg-type]
