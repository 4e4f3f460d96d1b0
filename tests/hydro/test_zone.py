"""Zone length against closed forms and hand-made paths."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import TechniqueError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.zone import (
    PathBatch,
    contact_zone,
    contact_zones,
    zone_in_band,
    zones_in_band,
)


def spiral(
    delta_deg: float, cast_m: float, bottom_m: float, samples: int, speed_m_s: float = 1.0
) -> Retrieve:
    """Straight weightless line, tip at the surface, flat frictionless bottom: closed form.

    Free: r = R exp(-theta cot delta). In contact: r sin theta = bottom depth and
    N / pull = sin(delta - theta) / cos(delta). Own derivation, docs/matching.md.
    """
    delta = math.radians(delta_deg)
    line = np.linspace(cast_m, 0.05 * cast_m, samples)
    theta = np.log(cast_m / line) * math.tan(delta)
    depth = line * np.sin(theta)
    touched = np.maximum.accumulate(depth >= bottom_m)
    ride = np.arcsin(np.clip(bottom_m / line, -1.0, 1.0))
    contact = touched & (ride < delta)
    load = np.where(contact, np.sin(delta - ride) / math.cos(delta), 0.0)
    theta = np.where(touched, ride, theta)
    # after contact the line leaves the bottom on a new spiral
    left = touched & ~contact
    if left.any():
        leave = bottom_m / math.sin(delta)
        theta = np.where(left, delta + np.log(leave / line) * math.tan(delta), theta)
    pull = np.full(samples, 3.0)
    return Retrieve(
        t_s=(cast_m - line) / speed_m_s,
        x_m=line * np.cos(theta),
        depth_m=line * np.sin(theta),
        line_out_m=line,
        pull_n=pull,
        tip_pull_n=pull,
        normal_force_n=load * pull,
    )


def exact_lines(delta_deg: float, cast_m: float, bottom_m: float) -> tuple[float, float]:
    """Line left where contact begins and ends (closed form, root by bisection)."""
    delta = math.radians(delta_deg)
    low, high = 0.0, delta
    for _ in range(200):
        theta = 0.5 * (low + high)
        if cast_m * math.exp(-theta / math.tan(delta)) * math.sin(theta) < bottom_m:
            low = theta
        else:
            high = theta
    return bottom_m / math.sin(low), bottom_m / math.sin(delta)


def horizontal(line_m: float, bottom_m: float) -> float:
    return math.sqrt(line_m**2 - bottom_m**2)


@pytest.mark.parametrize("samples", [60, 111, 400])
@pytest.mark.parametrize("delta_deg", [12.0, 20.0, 30.0])
def test_contact_metres_match_the_closed_form(delta_deg: float, samples: int) -> None:
    """Own derivation: contact from the spiral's crossing to line left z / sin(delta)."""
    bottom = BottomProfile.flat(3.048)
    begin, end = exact_lines(delta_deg, 55.0, 3.048)
    expected = horizontal(begin, 3.048) - horizontal(end, 3.048)
    found = contact_zone(spiral(delta_deg, 55.0, 3.048, samples), bottom)
    assert found.contact_m == pytest.approx(expected, abs=0.05 if samples > 100 else 0.15)
    assert found.first_contact_s == pytest.approx(55.0 - begin, abs=0.1)
    assert found.first_contact_m == pytest.approx(55.0 - horizontal(begin, 3.048), abs=0.1)


@pytest.mark.parametrize("limit", [0.08, 0.12, 0.15])
@pytest.mark.parametrize("delta_deg", [12.0, 20.0, 30.0])
def test_zone_is_cut_where_the_load_crosses_the_limit(delta_deg: float, limit: float) -> None:
    """sin(delta - theta) / cos(delta) = limit solved for theta gives where ticking begins."""
    delta = math.radians(delta_deg)
    begin, end = exact_lines(delta_deg, 55.0, 3.048)
    ticking = 3.048 / math.sin(delta - math.asin(limit * math.cos(delta)))
    start = min(begin, ticking) if ticking > 0.0 else begin
    expected = horizontal(start, 3.048) - horizontal(end, 3.048)
    found = contact_zone(spiral(delta_deg, 55.0, 3.048, 111), BottomProfile.flat(3.048), limit)
    assert found.zone_m == pytest.approx(expected, abs=0.06)
    assert found.zone_m + found.plowing_m == pytest.approx(found.contact_m, abs=1e-9)


def test_load_smeared_by_sampling_is_not_contact() -> None:
    """A path resampled linearly has loads in places where water is under the lure.

    Contact is from x = 30 to 20 by construction; the solver's own places are 5 m apart.
    """
    own_x = np.array([50.0, 40.0, 35.0, 30.0, 25.0, 20.0, 15.0, 10.0])
    gap = np.array([3.0, 1.0, 0.5, 0.0, 0.0, 0.0, 0.2, 0.6])
    load = np.array([0.0, 0.0, 0.0, 0.1, 0.05, 0.0, 0.0, 0.0])
    x = np.linspace(50.0, 10.0, 321)
    resampled = Retrieve(
        t_s=50.0 - x,
        x_m=x,
        depth_m=3.0 - np.interp(-x, -own_x, gap),
        line_out_m=x,
        pull_n=np.ones(321),
        tip_pull_n=np.ones(321),
        normal_force_n=np.interp(-x, -own_x, load),
    )
    found = contact_zone(resampled, BottomProfile.flat(3.0))
    assert found.contact_m == pytest.approx(10.0, abs=0.02)
    assert found.first_contact_m == pytest.approx(20.0, abs=0.02)
    assert found.mean_load == pytest.approx(0.05, abs=0.001)


def test_mean_load_matches_quadrature_of_the_closed_form() -> None:
    delta = math.radians(20.0)
    begin, end = exact_lines(20.0, 55.0, 3.048)
    x = np.linspace(horizontal(end, 3.048), horizontal(begin, 3.048), 20001)
    loads = np.sin(delta - np.arctan2(3.048, x)) / math.cos(delta)
    found = contact_zone(spiral(20.0, 55.0, 3.048, 111), BottomProfile.flat(3.048))
    assert found.mean_load == pytest.approx(float(loads.mean()), rel=0.01)


def test_near_bottom_metres_are_cut_at_the_crossing() -> None:
    """A path straight down a slope and up again: within 0.3 m of 3 m over a known length."""
    x = np.array([40.0, 20.0, 0.0])
    depth = np.array([0.0, 2.9, 0.0])
    path = Retrieve(40.0 - x, x, depth, x, np.ones(3), np.ones(3), np.zeros(3))
    found = contact_zone(path, BottomProfile.flat(3.0))
    assert found.near_m == pytest.approx(2.0 * 20.0 * (2.9 - 2.7) / 2.9, rel=1e-12)
    assert found.contact_m == 0.0
    assert found.first_contact_m is None


def test_band_metres_and_seconds_are_cut_at_the_crossings() -> None:
    x = np.array([40.0, 20.0, 0.0])
    depth = np.array([0.0, 8.0, 0.0])
    path = Retrieve((40.0 - x) * 2.0, x, depth, x, np.ones(3), np.ones(3), np.zeros(3))
    found = zone_in_band(path, 5.0, 6.0)
    assert found.zone_m == pytest.approx(2.0 * 20.0 / 8.0, rel=1e-12)
    assert found.zone_s == pytest.approx(2.0 * 40.0 / 8.0, rel=1e-12)
    assert found.first_m == pytest.approx(12.5, rel=1e-12)
    deeper = zone_in_band(path, 6.0, 9.0)
    assert deeper.zone_m == pytest.approx(2.0 * 20.0 * 2.0 / 8.0, rel=1e-12)
    never = zone_in_band(path, 9.0, 10.0)
    assert never.zone_m == 0.0
    assert never.first_m is None


def test_plowing_in_the_band_is_not_zone() -> None:
    x = np.array([30.0, 20.0, 10.0])
    depth = np.array([3.0, 3.0, 3.0])
    path = Retrieve(30.0 - x, x, depth, x, np.ones(3), np.ones(3), np.array([0.5, 0.5, 0.05]))
    assert zone_in_band(path, 2.0, 4.0).zone_m == 0.0
    assert zone_in_band(path, 2.0, 4.0, limit=0.6).zone_m == pytest.approx(20.0)


def test_batch_equals_one_by_one_and_padding_adds_nothing() -> None:
    bottom = BottomProfile(np.array([0.0, 60.0]), np.array([2.5, 3.5]))
    paths = [spiral(d, c, 3.0, n) for d, c, n in ((10, 30, 60), (18, 55, 130), (28, 64, 90))]
    batch = PathBatch.of(paths)
    many = contact_zones(batch, bottom, (0.08, 0.12))
    band_m, band_s = zones_in_band(batch, 1.0, 2.0)
    for row, path in enumerate(paths):
        for column, limit in enumerate((0.08, 0.12)):
            one = contact_zone(path, bottom, limit)
            assert many.zone_m[row, column] == pytest.approx(one.zone_m, abs=1e-12)
        assert many.near_m[row] == pytest.approx(one.near_m, abs=1e-12)
        assert many.travelled_m[row] == pytest.approx(one.travelled_m, abs=1e-12)
        assert band_m[row, 0] == pytest.approx(zone_in_band(path, 1.0, 2.0).zone_m, abs=1e-12)
        assert band_s[row] == pytest.approx(zone_in_band(path, 1.0, 2.0).zone_s, abs=1e-12)


def test_weights_scale_the_zone() -> None:
    batch = PathBatch.of([spiral(15.0, 55.0, 3.0, 111)])
    half = np.full((1, batch.x_m.shape[1] - 1), 0.5)
    bottom = BottomProfile.flat(3.0)
    whole = contact_zones(batch, bottom).zone_m[0, 0]
    assert whole > 1.0
    assert contact_zones(batch, bottom, weight=half).zone_m[0, 0] == pytest.approx(whole / 2.0)


@settings(max_examples=40, deadline=None)
@given(
    delta_deg=st.floats(8.0, 35.0),
    cast_m=st.floats(20.0, 64.0),
    bottom_m=st.floats(1.0, 5.0),
    limit=st.floats(0.02, 0.5),
)
def test_parts_of_a_path_are_ordered(
    delta_deg: float, cast_m: float, bottom_m: float, limit: float
) -> None:
    path = spiral(delta_deg, cast_m, bottom_m, 90)
    found = contact_zone(path, BottomProfile.flat(bottom_m), limit)
    assert 0.0 <= found.zone_m <= found.contact_m + 1e-9
    assert found.contact_m <= found.travelled_m + 1e-9
    assert 0.0 <= found.mean_load <= found.max_load + 1e-9
    more = contact_zone(path, BottomProfile.flat(bottom_m), limit * 1.5)
    assert more.zone_m >= found.zone_m - 1e-9


def test_impossible_requests_are_refused() -> None:
    path = spiral(15.0, 55.0, 3.0, 50)
    with pytest.raises(TechniqueError, match="limit"):
        contact_zone(path, BottomProfile.flat(3.0), 0.0)
    with pytest.raises(TechniqueError, match="near gap"):
        contact_zone(path, BottomProfile.flat(3.0), near_m=-1.0)
    with pytest.raises(TechniqueError, match="band"):
        zone_in_band(path, 3.0, 2.0)
    with pytest.raises(TechniqueError, match="no retrieve"):
        PathBatch.of([])
