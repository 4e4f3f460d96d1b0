"""Broken rings: mended where a person drew them, refused where they are a trap."""

from __future__ import annotations

import time

import numpy as np
import pytest
import shapely

from leadsman.errors import LakeDataError
from leadsman.lake.mend_ring import mended


def test_a_bow_tie_becomes_two_triangles() -> None:
    """Corners (0,0) (2,2) (2,0) (0,2): two triangles of area 1 that meet at (1,1)."""
    bow = shapely.Polygon([(0, 0), (2, 2), (2, 0), (0, 2)])
    whole = mended(bow, "x")
    assert whole.is_valid
    assert whole.area == pytest.approx(2.0)


def test_a_valid_shape_is_left_as_it_is() -> None:
    box = shapely.box(0, 0, 1, 1)
    assert mended(box, "x") is box


def test_a_long_ring_with_one_fault_is_mended() -> None:
    angle = np.linspace(0.0, 2.0 * np.pi, 60_001)
    xy = np.stack([100.0 * np.cos(angle), 100.0 * np.sin(angle)], axis=1)
    xy[[500, 501]] = xy[[501, 500]]
    xy[-1] = xy[0]
    whole = mended(shapely.Polygon(xy), "x")
    assert whole.is_valid
    assert whole.area == pytest.approx(np.pi * 1e4, rel=1e-4)


@pytest.mark.parametrize("corners", [200, 2000, 50_000])
def test_scribbles_are_refused_in_little_time(corners: int) -> None:
    rng = np.random.default_rng(0)
    start = time.process_time()
    with pytest.raises(LakeDataError, match="crosses itself"):
        mended(shapely.Polygon(rng.uniform(0.0, 1.0, (corners, 2))), "scribble")
    assert time.process_time() - start < 10.0
