"""Shared rates: exact where a closed form exists, near the true posterior elsewhere."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize, special, stats

from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import Factor, RateBelief, RatePrior

HERE = Cell("a", 3, "edge", "silent", "natural")
DEEPER = Cell("a", 4, "edge", "silent", "natural")
FAR = Cell("a", 7, "edge", "silent", "natural")
RATTLING = Cell("a", 3, "edge", "rattling", "natural")
FACTORS = (
    Factor("all", 0.5, 2.0),
    Factor("depth", 0.9, 4.0, 1.0),
    Factor("sound", 0.4, 5.0),
    Factor("place", 0.8, 3.0),
)


@given(st.lists(st.tuples(st.integers(0, 5), st.floats(1.0, 500.0)), max_size=8))
def test_one_effect_is_the_gamma_poisson_model(blocks: list[tuple[int, float]]) -> None:
    # Closed form with scipy: log moments -> Gamma, then shape + bites, effort + metres.
    belief = RateBelief.start(RatePrior(math.log(0.005), (Factor("all", 1.0),)), [HERE])
    shape = float(optimize.brentq(lambda x: special.polygamma(1, x) - 1.0, 0.5, 3.0, xtol=1e-14))
    effort = math.exp(float(special.digamma(shape)) - math.log(0.005))
    for bites, zone_m in blocks:
        belief = belief.seen(HERE, bites, zone_m)
        shape, effort = shape + bites, effort + zone_m
    assert belief.rate(HERE).mean_per_m == pytest.approx(shape / effort, rel=1e-9)


def test_two_cells_come_near_the_posterior_by_quadrature() -> None:
    # Two log rates, correlated normal prior, Poisson counts: the true posterior on a fine grid.
    prior = RatePrior(math.log(0.01), (Factor("all", 0.6), Factor("sound", 0.5)))
    belief = RateBelief.start(prior, [HERE, RATTLING]).seen(HERE, 6, 400.0).seen(RATTLING, 1, 300.0)
    x = np.linspace(-7.5, -1.5, 400)
    a, b = np.meshgrid(x, x, indexing="ij")
    cov = [[0.36 + 0.25, 0.36], [0.36, 0.36 + 0.25]]
    mean = [math.log(0.01)] * 2
    log_post = stats.multivariate_normal(mean, cov).logpdf(np.dstack([a, b]))
    log_post += 6 * a - 400.0 * np.exp(a) + 1 * b - 300.0 * np.exp(b)
    weight = np.exp(log_post - log_post.max())
    weight /= weight.sum()
    for cell, grid in ((HERE, a), (RATTLING, b)):
        got_mean, got_var = belief.log_moments(cell)
        true_mean = float((weight * grid).sum())
        true_sd = math.sqrt(float((weight * (grid - true_mean) ** 2).sum()))
        # Linear Bayes is an approximation: within a third of the posterior's own spread.
        assert abs(got_mean - true_mean) < 0.33 * true_sd
        assert math.sqrt(got_var) == pytest.approx(true_sd, rel=0.25)
    better = float(weight[a > b].sum())
    assert belief.chance_better(HERE, RATTLING) == pytest.approx(better, abs=0.06)


def test_a_bite_speaks_for_neighbours_less_than_for_itself() -> None:
    before = RateBelief.start(RatePrior(-5.0, FACTORS), [HERE, DEEPER, FAR])
    after = before.seen(HERE, 3, 100.0)
    rise = {c: after.log_moments(c)[0] - before.log_moments(c)[0] for c in (HERE, DEEPER, FAR)}
    assert rise[HERE] > rise[DEEPER] > rise[FAR] > 0.0


def test_order_of_blocks_in_one_cell_does_not_matter() -> None:
    start = RateBelief.start(RatePrior(-5.0, FACTORS), [HERE, DEEPER])
    one = start.seen(HERE, 2, 50.0).seen(HERE, 0, 80.0)
    other = start.seen(HERE, 0, 80.0).seen(HERE, 2, 50.0)
    both = start.seen(HERE, 2, 130.0)
    for cell in (HERE, DEEPER):
        assert one.log_moments(cell) == pytest.approx(other.log_moments(cell), rel=1e-9)
        assert one.log_moments(cell) == pytest.approx(both.log_moments(cell), rel=1e-9)


def test_time_brings_everything_back_to_the_prior() -> None:
    start = RateBelief.start(RatePrior(-5.0, FACTORS, {"depth=3": 0.4}), [HERE, DEEPER])
    learned = start.seen(HERE, 5, 100.0)
    later = learned.after(200.0)
    assert later.mean == pytest.approx(start.mean, abs=1e-9)
    assert later.cov == pytest.approx(start.cov, abs=1e-9)
    # A 1/e memory: after its own memory an effect keeps exp(-1) of what it learned.
    i = learned.keys["place=a"]
    assert learned.after(3.0).mean[i] == pytest.approx(learned.mean[i] / math.e, rel=1e-9)


def test_a_cell_asked_about_late_hears_what_its_neighbours_learned() -> None:
    prior = RatePrior(-5.0, FACTORS)
    early = RateBelief.start(prior, [HERE, DEEPER]).seen(HERE, 4, 100.0)
    late = RateBelief.start(prior, [HERE]).seen(HERE, 4, 100.0).with_cells([DEEPER])
    assert late.log_moments(DEEPER) == pytest.approx(early.log_moments(DEEPER), rel=1e-6)


@settings(max_examples=40)
@given(
    st.lists(
        st.tuples(
            st.sampled_from([HERE, DEEPER, FAR, RATTLING]),
            st.integers(0, 6),
            st.floats(0.5, 300.0),
            st.floats(0.0, 3.0),
        ),
        max_size=30,
    )
)
def test_the_covariance_stays_a_covariance(
    steps: list[tuple[Cell, int, float, float]],
) -> None:
    belief = RateBelief.start(RatePrior(-5.0, FACTORS), [HERE, DEEPER, FAR, RATTLING])
    for cell, bites, zone_m, hours in steps:
        belief = belief.after(hours).seen(cell, bites, zone_m)
    assert np.all(np.isfinite(belief.mean))
    assert np.linalg.eigvalsh(belief.cov).min() > -1e-9
    shape, effort = belief.rates([HERE, FAR])
    assert shape[1] / effort[1] == pytest.approx(belief.rate(FAR).mean_per_m, rel=1e-9)


def test_chance_better_is_symmetric_and_even_with_itself() -> None:
    belief = RateBelief.start(RatePrior(-5.0, FACTORS), [HERE, FAR]).seen(HERE, 3, 100.0)
    one = belief.chance_better(HERE, FAR)
    assert one + belief.chance_better(FAR, HERE) == pytest.approx(1.0, abs=1e-12)
    assert one > 0.5
    assert belief.chance_better(HERE, HERE) == 0.5
