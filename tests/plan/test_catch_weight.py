"""Expected weight of the best few fish: closed forms, chance by trial, published weights."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.errors import PlanError
from leadsman.plan.catch_weight import FishSizes, expected_weight_kg, few, legal_chance


def sizes(**more: object) -> FishSizes:
    given = {"species": "largemouth", "mean_m": (0.36,), "sd_m": 0.06, "least_m": 0.35, **more}
    return FishSizes(**given)  # type: ignore[arg-type]


def test_few_of_a_poisson_number() -> None:
    mean = np.array([0.0, 0.3, 2.0, 9.0])
    assert few(mean, 1) == pytest.approx(-np.expm1(-mean))  # P(K > 0), closed form
    assert few(mean, 200) == pytest.approx(mean)  # all of them
    two = 2.0 - 2.0 * np.exp(-mean) - mean * np.exp(-mean)  # P(K>=1) + P(K>=2)
    assert few(mean, 2) == pytest.approx(two)


@pytest.mark.parametrize("culling", [True, False])
@pytest.mark.parametrize("bites", [2.0, 12.0])
def test_against_days_drawn_at_random(culling: bool, bites: float) -> None:
    """Independent: 20,000 days, each fish drawn and the best (or first) five weighed."""
    rng = np.random.default_rng(5)
    of = sizes(culling=culling, landed=0.8)
    total = []
    for number in rng.poisson(0.8 * bites, 20_000):
        length = rng.normal(0.36, 0.06, number)
        legal = length[length >= 0.35]
        kept = np.sort(legal)[::-1][:5] if culling else legal[:5]
        total.append(float(np.sum(of.weight_kg(kept))))
    error = float(np.std(total)) / math.sqrt(len(total))
    found = float(expected_weight_kg(of, np.array([[bites]]))[0])
    assert abs(found - float(np.mean(total))) < 4.0 * error + 0.003


def test_standard_weights_are_those_of_a_close_relative() -> None:
    """Suwannee bass: log10 W = -5.548 + 3.303 log10 L, N. Am. J. Fish. Manage. 30:983-988 (2010),
    doi 10.1577/M10-034.1 (abstract). Fish of one genus differ by less than a fifth.
    """
    for species in ("largemouth", "smallmouth", "spotted"):
        of = sizes(species=species)
        for mm in (250.0, 350.0, 450.0):
            relative = 10.0 ** (-5.548 + 3.303 * math.log10(mm)) * 1e-3
            assert float(of.weight_kg(mm * 1e-3)) == pytest.approx(relative, rel=0.2)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.0, 30.0), st.floats(0.0, 30.0), st.booleans())
def test_more_bites_never_weigh_less(first: float, more: float, culling: bool) -> None:
    of = sizes(culling=culling)
    a, b = expected_weight_kg(of, np.array([[first], [first + more]]))
    assert b >= a - 1e-6


def test_exchanging_helps_and_a_limit_of_length_counts() -> None:
    bites = np.array([[20.0]])
    assert expected_weight_kg(sizes(), bites) > expected_weight_kg(sizes(culling=False), bites)
    mean, chance = legal_chance(sizes(least_m=0.36, landed=1.0), np.array([10.0]))
    assert mean == pytest.approx(5.0)  # half of the fish are longer than the mean
    assert chance == pytest.approx(1.0 - math.exp(-5) * sum(5**k / math.factorial(k)
                                                            for k in range(5)))  # fmt: skip


def test_what_makes_no_sense_is_refused() -> None:
    for wrong in ({"sd_m": 0.0}, {"count": 0}, {"landed": 0.0}, {"mean_m": ()}):
        with pytest.raises(PlanError):
            sizes(**wrong)
