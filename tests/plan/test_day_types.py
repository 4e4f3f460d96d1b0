from __future__ import annotations

import numpy as np
import pytest
from believable_days import a_day, known

from leadsman.belief.levels import COVERS
from leadsman.belief.outlook_prior import rate_prior
from leadsman.errors import PlanError
from leadsman.plan.day import outlook


def test_the_grid_ends_at_the_bottom() -> None:
    grid = a_day(max_depth_m=4.2).grid_m()
    assert (grid[0], grid[-1]) == (0.0, 4.2)
    assert np.allclose(np.diff(grid), 0.1)
    assert a_day(max_depth_m=300.0).grid_m()[-1] == 30.0


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"max_depth_m": 0.0}, "1 to 1700 m"),
        ({"max_depth_m": float("nan")}, "1 to 1700 m"),
        ({"strengths": {"light": -1.0}}, "outside 0 to 4"),
        ({"cover_weights": dict.fromkeys(COVERS, 0.0)}, "every cover"),
        ({"cover_weights": {"edge": -1.0, "flat": 1.0}}, "outside 0 to 100"),
    ],
)
def test_an_impossible_day(changes, words) -> None:
    with pytest.raises(PlanError, match=words):
        a_day(**changes)


def test_the_log_of_the_day_takes_the_weights() -> None:
    weights = outlook(a_day(secchi_m=known(1.0), grass="thick")).rate_weights()
    prior = rate_prior(2.0, 300.0, weights)
    assert prior.means["sound=rattling"] == 0.0, "the best level is the reference"
    assert prior.means["sound=silent"] < 0.0
    assert set(weights) == {"depth", "cover", "sound", "colour"}


def test_a_band_counts_by_its_chance_over_its_thickness() -> None:
    found = outlook(a_day(fish_m=(3.0, 4.0)))
    depth = found.rate_weights()["depth"]
    best = max(depth, key=lambda key: depth[key])
    band = found.bands[int(best)]
    assert band.low_m < 4.0 and band.high_m > 3.0
