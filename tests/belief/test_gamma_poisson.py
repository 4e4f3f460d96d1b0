"""Gamma beliefs against scipy and the textbook conjugate rule."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special, stats

from leadsman.belief.gamma_poisson import GammaRate, digamma, inverse_trigamma, trigamma


@given(st.floats(1e-3, 1e5))
def test_digamma_and_trigamma_agree_with_scipy(x: float) -> None:
    assert digamma(x) == pytest.approx(float(special.digamma(x)), rel=1e-12, abs=1e-12)
    assert trigamma(x) == pytest.approx(float(special.polygamma(1, x)), rel=1e-11)


def test_digamma_at_one_is_minus_the_euler_constant() -> None:
    # psi(1) = -gamma and psi'(1) = pi^2 / 6: Abramowitz & Stegun 1964, 6.3.2 and 6.4.2.
    assert digamma(1.0) == pytest.approx(-0.57721566490153286, abs=1e-13)
    assert trigamma(1.0) == pytest.approx(np.pi**2 / 6.0, rel=1e-13)


@given(st.floats(1e-9, 1e9))
def test_inverse_trigamma_undoes_scipys_trigamma(y: float) -> None:
    x = inverse_trigamma(y)
    assert float(special.polygamma(1, x)) == pytest.approx(y, rel=1e-5 if y < 1e-5 else 1e-6)


@given(st.floats(0.05, 50.0), st.floats(1.0, 1e4), st.integers(0, 30), st.floats(0.1, 1e4))
def test_posterior_equals_bayes_rule_on_a_grid(a: float, b: float, y: int, e: float) -> None:
    # Bayes' rule by brute force: prior density times Poisson likelihood, normalised.
    after = GammaRate(a, b).seen(y, e)
    assert after.mean_per_m == pytest.approx(
        stats.gamma(a + y, scale=1.0 / (b + e)).mean(), rel=1e-12
    )
    grid = np.linspace(1e-6, 1.0 - 1e-6, 2001)
    lam = stats.gamma.ppf(grid, a + y, scale=1.0 / (b + e))
    log_post = stats.gamma.logpdf(lam, a, scale=1.0 / b) + stats.poisson.logpmf(y, lam * e)
    off = log_post - stats.gamma.logpdf(lam, after.shape, scale=1.0 / after.effort_m)
    assert np.ptp(off) < 1e-6 * max(1.0, float(np.max(np.abs(log_post))))


@given(st.floats(0.05, 50.0), st.floats(1.0, 1e4), st.floats(0.1, 1e4))
def test_counts_follow_the_negative_binomial_law(a: float, b: float, e: float) -> None:
    got = GammaRate(a, b).count_chances(e, 12)
    assert got == pytest.approx(stats.nbinom.pmf(range(13), a, b / (b + e)).tolist(), rel=1e-8)


def test_interval_holds_the_stated_share() -> None:
    low, high = GammaRate(3.0, 200.0).interval_per_m(0.8)
    law = stats.gamma(3.0, scale=1.0 / 200.0)
    assert law.cdf(high) - law.cdf(low) == pytest.approx(0.8, abs=1e-9)
    assert law.cdf(low) == pytest.approx(0.1, abs=1e-9)


@given(st.floats(-8.0, 2.0), st.floats(0.01, 8.0))
def test_log_moments_come_back(mean: float, variance: float) -> None:
    gamma = GammaRate.from_log_moments(mean, variance)
    assert gamma.log_mean == pytest.approx(mean, abs=1e-9)
    assert gamma.log_variance == pytest.approx(variance, rel=1e-9)
    sample = stats.loggamma(gamma.shape)
    assert sample.var() == pytest.approx(variance, rel=1e-6)


def test_moments_come_back() -> None:
    gamma = GammaRate.from_moments(0.004, 1e-6)
    assert gamma.mean_per_m == pytest.approx(0.004)
    assert gamma.variance_per_m2 == pytest.approx(1e-6)
