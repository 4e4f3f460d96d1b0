"""Grass edges against the published regressions and against made-up places."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.grass_edge import (
    CAFFREY,
    CAFFREY_UPPER,
    CANFIELD,
    CHAMBERS,
    edge_from_points,
    edge_from_secchi,
)


@pytest.mark.parametrize(
    ("regression", "depths_m"),
    [
        (CAFFREY, (2.042, 3.226, 5.098)),  # Caffrey, Hoyer & Canfield 2007
        (CAFFREY_UPPER, (3.890, 5.618, 8.111)),  # the same, upper line
        (CANFIELD, (1.820, 2.777, 4.239)),  # Canfield et al. 1985, from memory
        (CHAMBERS, (1.960, 3.241, 4.843)),  # Chambers & Kalff 1985, from memory
    ],
)
def test_published_regressions_at_1_2_and_4_m(regression, depths_m) -> None:
    for secchi, depth in zip((1.0, 2.0, 4.0), depths_m, strict=True):
        assert regression.depth_m(secchi) == pytest.approx(depth, abs=1e-3)


@pytest.mark.parametrize(("secchi", "low_ft", "high_ft"), [(3.0, 11.7, 13.8), (4.0, 13.9, 16.7)])
def test_clear_northern_lakes(secchi: float, low_ft: float, high_ft: float) -> None:
    """The three regressions span 11.7 to 13.8 ft at 3 m clarity and 13.9 to 16.7 ft at 4 m.

    Common practice, no source: grass stops at 12 to 14 ft in such lakes.
    """
    depths = [r.depth_m(secchi) / 0.3048 for r in (CAFFREY, CANFIELD, CHAMBERS)]
    assert min(depths) == pytest.approx(low_ft, abs=0.06)
    assert max(depths) == pytest.approx(high_ft, abs=0.06)
    edge = edge_from_secchi(secchi)
    assert low_ft - 0.1 <= edge.depth_m / 0.3048 <= high_ft + 0.1


def test_clarity_gives_a_band_and_never_a_line() -> None:
    edge = edge_from_secchi(2.0)
    assert edge.low_m == pytest.approx(2.777, abs=1e-3)
    assert edge.high_m == pytest.approx(5.618, abs=1e-3)
    assert edge.low_m < edge.depth_m < edge.high_m
    assert edge.se_m > 0.3
    assert edge.origin == "clarity"


def test_clearer_is_deeper() -> None:
    depths = [edge_from_secchi(s).depth_m for s in (0.3, 1.0, 3.0, 8.0)]
    assert depths == sorted(depths)


@pytest.mark.parametrize("secchi", [0.0, -1.0, 50.0, float("nan")])
def test_impossible_clarity(secchi: float) -> None:
    with pytest.raises(LakeDataError):
        edge_from_secchi(secchi)


def test_many_marked_places_give_back_their_law() -> None:
    rng = np.random.default_rng(3)
    depth = 4.0 + rng.normal(0.0, 0.4, 800) + rng.normal(0.0, 0.2, 800)
    edge = edge_from_points(depth, 0.2)
    assert edge.depth_m == pytest.approx(4.0, abs=0.06)
    assert edge.se_m == pytest.approx(0.4, rel=0.12)
    inside = np.mean(4.0 + rng.normal(0.0, 0.4, 20_000) > edge.low_m)
    assert inside == pytest.approx(0.95, abs=0.02)


def test_few_places_are_less_sure() -> None:
    one, five = edge_from_points(np.array([4.0])), edge_from_points(np.full(5, 4.0))
    assert one.se_m > five.se_m > 0.15


@pytest.mark.parametrize("depth", [[], [float("nan")], [0.0], [99.0]])
def test_no_depths(depth: list[float]) -> None:
    with pytest.raises(LakeDataError):
        edge_from_points(np.array(depth))
