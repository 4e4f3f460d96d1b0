"""Accounts of the day: weights, merging, and what a change does."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from leadsman.belief.gamma_poisson import GammaRate
from leadsman.belief.levels import Cell
from leadsman.belief.outlook_prior import rate_prior
from leadsman.waterlog.reading import (
    Block,
    Hypothesis,
    begin,
    merged,
    mixed_rates,
    observe,
    silence_chance,
)

PRIOR = rate_prior(4.0, 1000.0, {"depth": {"3": 0.5, "4": 1.0}})
HERE = Cell("north *1=", 4, "edge", "rattling", "natural")  # names may hold any letters
SILENT = replace(HERE, sound="silent")
SHALLOW = replace(HERE, depth=3)
CELLS = (HERE, SILENT, SHALLOW)


@settings(max_examples=30)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(CELLS), st.floats(0.01, 0.5), st.integers(0, 4), st.floats(1.0, 400.0)
        ),
        max_size=20,
    )
)
def test_weights_are_chances_and_beliefs_stay_sound(
    blocks: list[tuple[Cell, float, int, float]],
) -> None:
    reading = begin(PRIOR, CELLS)
    t_h = 0.0
    for cell, hours, bites, zone_m in blocks:
        t_h += hours
        reading = observe(reading, Block(t_h, cell, zone_m, bites))
        assert sum(h.weight for h in reading.hypotheses) == pytest.approx(1.0)
        assert len({h.cause for h in reading.hypotheses}) == len(reading.hypotheses)
    for rate in mixed_rates(reading.hypotheses, CELLS):
        assert np.isfinite(rate.mean_per_m) and rate.mean_per_m > 0.0


def test_a_merge_keeps_mean_and_covariance_of_the_mixture() -> None:
    # Against moments of a large sample from the mixture itself.
    one = begin(PRIOR, CELLS, doubt=0.0).hypotheses[0].belief
    two = one.seen(HERE, 5, 200.0)
    mix = (Hypothesis("steady", 0.3, one), Hypothesis("sound", 0.7, two))
    got = merged(mix)
    rng = np.random.default_rng(1)
    draws = np.vstack(
        [
            rng.multivariate_normal(one.mean, one.cov, 60_000),
            rng.multivariate_normal(two.mean, two.cov, 140_000),
        ]
    )
    assert got.mean == pytest.approx(draws.mean(axis=0), abs=0.02)
    assert got.cov == pytest.approx(np.cov(draws.T), abs=0.03)


def test_mixed_rates_have_the_moments_of_the_mixture() -> None:
    one = begin(PRIOR, CELLS, doubt=0.0).hypotheses[0].belief
    two = one.seen(HERE, 5, 200.0)
    mix = (Hypothesis("steady", 0.3, one), Hypothesis("sound", 0.7, two))
    (got,) = mixed_rates(mix, [HERE])
    laws = [stats.gamma(b.rate(HERE).shape, scale=1 / b.rate(HERE).effort_m) for b in (one, two)]
    mean = 0.3 * laws[0].mean() + 0.7 * laws[1].mean()
    square = sum(w * (law.var() + law.mean() ** 2) for w, law in zip((0.3, 0.7), laws, strict=True))
    assert got.mean_per_m == pytest.approx(mean, rel=1e-9)
    assert got.variance_per_m2 == pytest.approx(square - mean**2, rel=1e-9)


def test_silence_after_many_bites_points_to_a_change() -> None:
    reading = begin(PRIOR, CELLS)
    for n in range(17):
        reading = observe(reading, Block(0.1 * (n + 1), HERE, 100.0, 1))
    before = {h.cause: h.weight for h in reading.hypotheses}
    for n in range(9):
        reading = observe(reading, Block(1.7 + 0.1 * (n + 1), HERE, 100.0, 0))
    after = {h.cause: h.weight for h in reading.hypotheses}
    assert after["steady"] < 0.5 * before["steady"]
    assert max((c for c in after if c != "steady"), key=lambda c: after[c]) == "sound"
    assert [s.bites for s in reading.stops] == [17]


def test_a_clock_that_went_back_counts_as_no_time() -> None:
    reading = observe(begin(PRIOR, CELLS), Block(1.0, HERE, 100.0, 1))
    again = observe(reading, Block(0.4, HERE, 100.0, 0))
    assert again.t_h == 1.0


def test_chance_of_silence_is_poisson_gamma() -> None:
    wanted = stats.nbinom.pmf(0, 2.5, 600.0 / (600.0 + 250.0))
    assert silence_chance(GammaRate(2.5, 600.0), 250.0) == pytest.approx(wanted, rel=1e-12)
