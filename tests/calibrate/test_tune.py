"""Learning lures: recovery, coverage, wrong packages, conflicts."""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pytest
from synthetic_lures import FT, LB_N, THICK, THIN, TWENTY, YD, Angler, Truth, draw_truth

from leadsman.calibrate.evidence import Evidence, MeasuredDepth, Ticked
from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.tune import LureCase, Observed, Reference, TunedLure, Tuning, tune
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.technique import Technique
from leadsman.tackle.lure import DepthTest, Lure, RatedDepth

UNSEEN = Reference(LineProperties(0.31e-3, 1780.0, 2.2e9), Technique.steady(48.0, 0.5, 1.3))
TOLD = DepthTest("nylon", 10 * LB_N, 0.30e-3, 60 * YD, 0.3)
CAREFUL = {"cast_log_sd": 0.02, "tip_sd_m": 0.1, "boat_sd_m_s": 0.03, "casts": 3}


def case(lure: Lure, evidence: list[Evidence]) -> LureCase:
    return LureCase(lure, tuple(Observed(f"row {i}", item) for i, item in enumerate(evidence)))


def learn(lure: Lure, evidence: list[Evidence]) -> TunedLure:
    return tune([case(lure, evidence)], lambda _: UNSEEN).lures[0]


def four_careful(angler: Angler) -> list[Evidence]:
    """Four observations on two line sizes: measured diameter and casts, depth to 4 inches."""
    return [
        angler.measure(name, line, cast, 0.1)
        for name, line in (("thin", THIN), ("thick", THICK))
        for cast in (55.0, 35.0)
    ]


def test_four_observations_leave_a_foot() -> None:
    """The part of the 90 % band of an unseen setup that comes from lure and drag, scaled to a
    20 ft lure: under 1.0 ft in the median of 12 truths, and the truth inside most of them.
    """
    rng = np.random.default_rng(21)
    widths, hits = [], 0
    for _ in range(12):
        truth = draw_truth(TWENTY, rng)
        found = learn(TWENTY, four_careful(Angler(truth, rng, **CAREFUL)))
        depth = truth.depth_m(UNSEEN.line, UNSEEN.technique)
        widths.append(found.band.width_m / depth * 20.0)
        hits += found.band.low_m <= depth <= found.band.high_m
        assert found.band.width_m < 0.25 * found.prior_band.width_m
    assert np.median(widths) < 1.0
    assert hits >= 8  # 12 at 90 %: fewer than 8 has a chance of 0.4 %


@pytest.mark.slow
@pytest.mark.parametrize("style", ["careful", "rough"])
def test_band_covers_as_often_as_it_says(style: str) -> None:
    """Simulation-based calibration: 90 % within three binomial spreads of 400 draws (4.5 %)."""
    rng = np.random.default_rng(31)
    hits = 0
    for _ in range(400):
        truth = draw_truth(TWENTY, rng)
        if style == "careful":
            seen = four_careful(Angler(truth, rng, **CAREFUL))
        else:
            angler = Angler(truth, rng)
            seen = [
                angler.tick("thin", THIN, 55.0),
                angler.measure("thin", THIN, 30.0),
                angler.tick("thick", THICK, 50.0),
                angler.pull(1.3),
            ]
        found = learn(TWENTY, seen)
        depth = truth.depth_m(UNSEEN.line, UNSEEN.technique)
        hits += found.band.low_m <= depth <= found.band.high_m
    assert 0.855 <= hits / 400 <= 0.945


@pytest.mark.parametrize("factor", [0.75, 1.25])
def test_wrong_package_is_overruled_and_reported(factor: float) -> None:
    """Rated 25 % off under a told test; three observations put it right."""
    honest = replace(TWENTY, rated=RatedDepth(20 * FT, 20 * FT, TOLD))
    truth = Truth(first_fit(honest).forces, 0.0)
    angler = Angler(truth, np.random.default_rng(4), **CAREFUL)
    lure = replace(TWENTY, rated=RatedDepth(20 * factor * FT, 20 * factor * FT, TOLD))
    found = learn(
        lure,
        [
            angler.measure("thin", THIN, 55.0),
            angler.tick("thick", THICK, 50.0),
            angler.measure("thin", THIN, 40.0),
        ],
    )
    depth = truth.depth_m(UNSEEN.line, UNSEEN.technique)
    promised = depth * factor
    assert abs(found.band.middle_m - depth) < 0.06 * depth
    assert not found.band.low_m <= promised <= found.band.high_m
    (conflict,) = found.conflicts
    assert conflict.label == "rated depth"
    assert conflict.others is not None and conflict.said_m == pytest.approx(20 * factor * FT)
    assert conflict.others.low_m < 20.0 * FT < conflict.others.high_m * 1.05


def test_right_package_is_not_reported() -> None:
    lure = replace(TWENTY, rated=RatedDepth(20 * FT, 20 * FT, TOLD))
    angler = Angler(Truth(first_fit(lure).forces, 0.0), np.random.default_rng(4), **CAREFUL)
    assert learn(lure, four_careful(angler)).conflicts == ()


def test_a_slip_among_good_rows_is_found_and_set_aside() -> None:
    """One of five rows names a depth 6 ft too shallow (weed on the hooks)."""
    truth = Truth(first_fit(TWENTY).forces, 0.05)
    angler = Angler(truth, np.random.default_rng(8), **CAREFUL)
    good = four_careful(angler)
    fished = good[0].fished  # type: ignore[union-attr]
    slip = MeasuredDepth(fished, good[0].depth_m - 6 * FT, 0.1)  # type: ignore[union-attr]
    found = learn(TWENTY, [*good, slip])
    clean = learn(TWENTY, good)
    assert [c.label for c in found.conflicts] == ["row 4"]
    assert found.conflicts[0].shallower and found.conflicts[0].chance > 0.9
    assert found.band.middle_m == pytest.approx(clean.band.middle_m, abs=0.1)


def test_what_was_taught_adds_up() -> None:
    truth = Truth(first_fit(TWENTY).forces, 0.05)
    seen = four_careful(Angler(truth, np.random.default_rng(8), **CAREFUL))
    found = learn(TWENTY, seen)
    total = sum(lesson.gain_m for lesson in found.taught)
    assert total == pytest.approx(found.prior_band.width_m - found.band.width_m)
    assert found.taught[0].gain_m == max(lesson.gain_m for lesson in found.taught)


def test_order_does_not_matter_to_the_result() -> None:
    truth = Truth(first_fit(TWENTY).forces, 0.05)
    seen = four_careful(Angler(truth, np.random.default_rng(8), **CAREFUL))
    forward, backward = learn(TWENTY, seen), learn(TWENTY, seen[::-1])
    assert forward.belief.weight == pytest.approx(backward.belief.weight, abs=1e-12)


def test_grid_is_exact_against_sampling() -> None:
    """The same posterior by weighting 4,000 draws of the prior with the solver itself.

    Importance sampling (textbook) of one tick, with nothing else uncertain; the means of both
    agree within three standard errors of the sampling and 0.05 ft.
    """
    from scipy import stats

    from leadsman.calibrate.likelihood import (
        MODEL_LOG_SD,
        OUTLIER_CHANCE,
        OUTLIER_DEPTH_SPAN_M,
        TICK_OVERRUN,
    )

    rng = np.random.default_rng(5)
    truths = [draw_truth(TWENTY, rng) for _ in range(1500)]
    exact = {"cast_log_sd": 0.0, "tip_sd_m": 0.0, "boat_sd_m_s": 0.0}
    way = Technique.steady(55.0, 0.5, 1.3)
    from leadsman.calibrate.evidence import Fished

    fished = Fished(THIN, "thin", 0.0, way, **exact)  # type: ignore[arg-type]
    found = learn(TWENTY, [Ticked(fished, 6.0)])
    free = np.array([truth.depth_m(THIN, way) for truth in truths])
    wanted = np.array([truth.depth_m(UNSEEN.line, UNSEEN.technique) for truth in truths])
    sd = np.hypot(0.15, MODEL_LOG_SD * free)
    mean = TICK_OVERRUN * 6.0
    tick = stats.exponnorm.pdf(free - 6.0, mean / sd, scale=sd)
    weight = (1.0 - OUTLIER_CHANCE) * tick + OUTLIER_CHANCE / OUTLIER_DEPTH_SPAN_M
    weight /= weight.sum()
    sampled = float(weight @ wanted)
    error = float(np.sqrt((weight**2) @ (wanted - sampled) ** 2))
    from leadsman.calibrate.setup_response import setup_response

    shape = setup_response(found.belief.grid, found.fit.forces, UNSEEN.line, UNSEEN.technique)
    exact_mean = float((found.belief.weight * shape.depth_m).sum())
    assert abs(exact_mean - sampled) < 3.0 * error + 0.05 * FT


def tuning_of_two(seed: int) -> tuple[Tuning, float]:
    rng = np.random.default_rng(seed)
    truth = draw_truth(TWENTY, rng)
    truth = replace(truth, log_drag=0.25)
    cases = []
    for name in ("a", "b", "c"):
        own = replace(draw_truth(TWENTY, rng), log_drag=0.25)
        angler = Angler(own, rng, **CAREFUL)
        seen: list[Evidence] = [
            angler.measure("thin", THIN, 55.0, 0.05),
            angler.measure("thick", LineProperties(0.45e-3, 1140.0, 1.6e9), 55.0, 0.05),
            angler.measure("thin", THIN, 25.0, 0.05),
            angler.pull(1.3),
            angler.pull(1.6),
        ]
        cases.append(case(replace(TWENTY, name=name), seen))
    return tune(cases, lambda _: UNSEEN), truth.log_drag


def test_drag_is_learned_by_all_lures_together() -> None:
    """A line that grips 28 % more than published: three lures move the shared belief up."""
    tuning, truth = tuning_of_two(3)
    assert tuning.drag.log_sd < tuning.prior_drag.log_sd
    assert tuning.drag.log_mean > tuning.prior_drag.log_mean
    assert abs(tuning.drag.log_mean - truth) < 2.5 * tuning.drag.log_sd


def test_an_unseen_lure_keeps_its_prior() -> None:
    found = learn(TWENTY, [])
    assert found.taught == () and found.conflicts == ()
    assert found.band == found.prior_band


def test_no_lures() -> None:
    assert tune([], lambda _: UNSEEN).lures == ()


def test_fast_enough_to_ask_again() -> None:
    truth = Truth(first_fit(TWENTY).forces, 0.05)
    seen = four_careful(Angler(truth, np.random.default_rng(8), **CAREFUL))
    start = time.perf_counter()
    learn(TWENTY, seen)
    assert time.perf_counter() - start < 3.0  # 0.2 s alone
