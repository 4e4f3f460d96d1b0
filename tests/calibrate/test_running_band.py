"""Bands: do they hold what they say, and do their shares add up."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.calibrate.input_draws import INPUT_NAMES
from leadsman.calibrate.input_spread import InputSpread, LureSpread
from leadsman.calibrate.running_band import Band, depth_shares, running_band
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import RetrieveBatch, retrieve, retrieve_batch
from leadsman.hydro.technique import Technique

DEEP = LureSpread(
    LureForces(math.radians(33.0), 20e-4, 0.02, 0.05), math.radians(2.0), 0.25, -0.4, 0.1, 0.02
)
SHALLOW = LureSpread(LureForces(math.radians(12.0), 8e-4, 0.012, 0.03), math.radians(1.5), 0.3)
LINE = LineProperties(0.31e-3, 1780.0, 2e9)
TECHNIQUE = Technique.steady(55.0)


def _truths(
    rng: np.random.Generator,
    lure: LureSpread,
    line: LineProperties,
    technique: Technique,
    spread: InputSpread,
    n: int,
    bottom: BottomProfile | None = None,
) -> RetrieveBatch:
    """Anglers drawn at random from the stated laws, written without the sampler under test."""
    lures, lines, techniques, drags = [], [], [], []
    for _ in range(n):
        a, b = rng.normal(size=2)
        factor = math.exp(spread.normal_log_sd * rng.normal())
        factor *= 1.0 + rng.exponential(spread.vibration_rise_mean)
        angle = lure.centre.dive_angle_rad + lure.dive_angle_sd_rad * a
        angle += lure.angle_per_log_drag_rad * math.log(factor)
        rho = lure.correlation
        area = lure.log_pull_area_sd * (rho * a + math.sqrt(1.0 - rho**2) * b)
        trim = rng.exponential(lure.trim_loss_mean_rad_m2_s2)
        lures.append(
            replace(
                lure.centre,
                dive_angle_rad=angle + trim * math.cos(angle) ** 2 / 1.3**2,
                pull_area_m2=lure.centre.pull_area_m2 * math.exp(area),
                trim_speed_loss_rad_m2_s2=trim,
                buoyancy_n=lure.centre.buoyancy_n + lure.buoyancy_sd_n * rng.normal(),
            )
        )
        diameter = line.diameter_m * math.exp(spread.diameter_log_sd * rng.normal())
        lines.append(replace(line, diameter_m=diameter))
        techniques.append(
            Technique.steady(
                technique.cast_m * (1.0 + spread.cast_log_sd * rng.normal()),
                technique.tip_m + spread.tip_sd_m * rng.normal(),
                technique.steps[0].speed_m_s * math.exp(spread.speed_log_sd * rng.normal()),
                technique.boat_m_s + spread.boat_sd_m_s * rng.normal(),
            )
        )
        tangential = DragLaw().tangential * math.exp(spread.tangential_log_sd * rng.normal())
        drags.append(DragLaw(normal_factor=factor, tangential=tangential))
    return retrieve_batch(lures, lines, techniques, bottom, None, drags)


def test_the_bands_hold_the_truth_as_often_as_they_say() -> None:
    # 2,000 synthetic truths over four setups: a 90 % band holds 87 to 93 %, a 50 % band 45 to 55.
    rng = np.random.default_rng(17)
    setups = [
        (DEEP, LINE, TECHNIQUE, InputSpread()),
        (DEEP, replace(LINE, diameter_m=0.4e-3), Technique.steady(30.0), InputSpread.of_measured()),
        (SHALLOW, LINE, Technique.steady(40.0, 0.3, 1.0), InputSpread()),
        (SHALLOW, LINE, Technique.steady(45.0, 2.0, 0.7), InputSpread.of_measured()),
    ]
    held_90 = held_50 = 0
    for setup in setups:
        band = running_band(*setup[:3], spread=setup[3]).max_depth_m
        depth = _truths(rng, *setup, n=500).max_depth_m
        held_90 += int(np.sum((depth >= band.low_90) & (depth <= band.high_90)))
        held_50 += int(np.sum((depth >= band.low_50) & (depth <= band.high_50)))
    assert 0.87 * 2000 <= held_90 <= 0.93 * 2000
    assert 0.45 * 2000 <= held_50 <= 0.55 * 2000


def test_path_and_zone_bands_hold_too() -> None:
    rng = np.random.default_rng(23)
    bottom = BottomProfile.flat(4.0)
    stations = np.array([10.0, 25.0, 40.0, 48.0])
    band = running_band(DEEP, LINE, TECHNIQUE, bottom, stations_m=stations, n=512)
    truths = _truths(rng, DEEP, LINE, TECHNIQUE, InputSpread(), 600, bottom)
    contact = truths.contact_m
    assert band.zone_m is not None and band.first_contact_m is not None
    assert 0.9 < band.touch_chance <= 1.0
    gone = truths.x_m[:, 0] - truths.first_contact_x_m
    gone = gone[np.isfinite(gone)]
    first = band.first_contact_m
    assert 0.86 < np.mean((gone >= first.low_90) & (gone <= first.high_90)) < 0.94
    # The zone of ticking is a part of the contact.
    assert band.zone_m.median < np.median(contact)
    for k, x in enumerate(stations):
        depth = [
            np.interp(x, row_x[::-1], row_z[::-1], right=0.0)
            for row_x, row_z in zip(truths.x_m, truths.depth_m, strict=True)
        ]
        low, high = band.depth_m[0, k], band.depth_m[4, k]
        assert 0.86 < np.mean((depth >= low - 1e-6) & (depth <= high + 1e-6)) <= 1.0
    assert np.all(np.diff(band.depth_m, axis=0) >= 0.0)


def test_shares_of_a_known_polynomial() -> None:
    # 3 z0 + 2 (z2^2 - 1)/sqrt 2 + 1 z1 z3 has variances 9, 4 and 1 by orthogonality (closed form).
    rng = np.random.default_rng(4)
    z = rng.normal(size=(4000, len(INPUT_NAMES)))
    depth = 5.0 + 3.0 * z[:, 0] + 2.0 * (z[:, 2] ** 2 - 1.0) / math.sqrt(2.0) + z[:, 1] * z[:, 3]
    shares = {share.name: share for share in depth_shares(z, depth)}
    assert shares["lure"].fraction == pytest.approx(9.0 / 14.0, abs=0.03)
    assert shares["line diameter"].fraction == pytest.approx(4.0 / 14.0, abs=0.03)
    assert shares["together"].fraction == pytest.approx(1.0 / 14.0, abs=0.02)
    assert shares["lure"].depth_sd_m == pytest.approx(3.0, rel=0.03)
    assert sum(share.fraction for share in shares.values()) == pytest.approx(1.0)


def test_shares_agree_with_moving_one_input_at_a_time() -> None:
    spread = InputSpread()
    lure = LureSpread(DEEP.centre, math.radians(1.0), 0.0, trim_loss_mean_rad_m2_s2=0.0)
    band = running_band(lure, LINE, TECHNIQUE, spread=spread, n=512)
    sd = {share.name: share.depth_sd_m for share in band.shares}

    def depth(line: LineProperties, technique: Technique) -> float:
        return retrieve(DEEP.centre, line, technique).max_depth_m

    step = spread.diameter_log_sd
    thick = replace(LINE, diameter_m=LINE.diameter_m * math.exp(step))
    thin = replace(LINE, diameter_m=LINE.diameter_m * math.exp(-step))
    one = 0.5 * (depth(thin, TECHNIQUE) - depth(thick, TECHNIQUE))
    assert sd["line diameter"] == pytest.approx(one, rel=0.1)
    long, short = Technique.steady(55.0 * 1.1), Technique.steady(55.0 * 0.9)
    one = 0.5 * (depth(LINE, long) - depth(LINE, short))
    assert sd["cast length"] == pytest.approx(one, rel=0.1)


def test_knowing_more_narrows_the_band() -> None:
    known = LureSpread(DEEP.centre, math.radians(0.7), 0.05)
    cases = [(DEEP, InputSpread()), (known, InputSpread()), (known, InputSpread.of_measured())]
    bands = [
        running_band(lure, LINE, TECHNIQUE, spread=spread).max_depth_m for lure, spread in cases
    ]
    widths = [band.high_90 - band.low_90 for band in bands]
    assert widths[0] > 1.2 * widths[1] and widths[1] > 1.2 * widths[2]


def test_an_uncertain_bottom_widens_the_zone() -> None:
    sharp = BottomProfile.flat(5.0)
    vague = replace(sharp, depth_se_m=np.array([0.5, 0.5]))
    lure = LureSpread(DEEP.centre, math.radians(0.3), 0.03)
    spread = InputSpread.of_measured(0.02)
    width = []
    for bottom in (sharp, vague):
        zone = running_band(lure, LINE, TECHNIQUE, bottom, spread=spread, n=160).zone_m
        assert zone is not None
        width.append(zone.high_90 - zone.low_90)
    assert width[1] > 1.3 * width[0]


def test_a_depth_target_counts_metres_in_the_band() -> None:
    band = running_band(DEEP, LINE, TECHNIQUE, target_m=(4.0, 30.0), n=64)
    assert band.zone_m is not None and band.zone_m.median > 10.0
    nothing = running_band(DEEP, LINE, TECHNIQUE, target_m=(20.0, 30.0), n=64)
    assert nothing.zone_m == Band(0.0, 0.0, 0.0, 0.0, 0.0)


def test_quantiles_of_a_band_are_those_of_the_draws() -> None:
    band = Band.of(np.linspace(0.0, 100.0, 101))
    assert (band.low_90, band.low_50, band.median, band.high_50, band.high_90) == pytest.approx(
        (5.0, 25.0, 50.0, 75.0, 95.0)
    )
