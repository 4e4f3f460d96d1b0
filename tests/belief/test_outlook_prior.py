"""The prior from an outlook."""

from __future__ import annotations

import math

import pytest

from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import RateBelief
from leadsman.belief.outlook_prior import LEAST_WEIGHT, rate_prior
from leadsman.errors import PlanError

BEST = Cell("a", 4, "edge", "silent", "natural")
WORSE = Cell("a", 3, "edge", "rattling", "natural")


def test_the_best_cell_is_expected_to_give_what_was_said() -> None:
    weights = {"depth": {"3": 1.0, "4": 4.0}, "sound": {"silent": 2.0, "rattling": 1.0}}
    belief = RateBelief.start(rate_prior(4.0, 800.0, weights), [BEST, WORSE])
    assert belief.rate(BEST).mean_per_m * 800.0 == pytest.approx(4.0, rel=1e-9)
    assert belief.rate(WORSE).mean_per_m * 800.0 == pytest.approx(4.0 / 8.0, rel=1e-9)


def test_nothing_is_ruled_out_wholly() -> None:
    prior = rate_prior(4.0, 800.0, {"depth": {"3": 0.0, "4": 1.0}})
    assert prior.means["depth=3"] == pytest.approx(math.log(LEAST_WEIGHT))


@pytest.mark.parametrize(
    ("rate", "weights", "says"),
    [
        (0.0, {}, "above 0"),
        (4.0, {"moon": {"full": 1.0}}, "unknown factor"),
        (4.0, {"depth": {"3": 0.0}}, "every weight"),
    ],
)
def test_wrong_outlooks_are_refused(
    rate: float, weights: dict[str, dict[str, float]], says: str
) -> None:
    with pytest.raises(PlanError, match=says):
        rate_prior(rate, 800.0, weights)
