"""Thinning keeps what can be seen."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.output.thin_lines import thinned, thinned_ring


def off_line(points: np.ndarray, line: np.ndarray) -> float:
    """Greatest distance of points from a line, segment by segment."""
    starts, ends = line[:-1], line[1:]
    along = ends - starts
    length2 = np.maximum(np.sum(along**2, axis=1), 1e-12)
    rel = points[:, None, :] - starts[None, :, :]
    share = np.clip(np.sum(rel * along, axis=2) / length2, 0.0, 1.0)
    feet = starts[None, :, :] + share[:, :, None] * along
    return float(np.max(np.min(np.linalg.norm(points[:, None, :] - feet, axis=2), axis=1)))


@settings(max_examples=50, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-100, 100), st.floats(-100, 100)), min_size=3, max_size=40),
    st.floats(0.1, 10.0),
)
def test_nothing_left_out_lies_further_than_the_tolerance(
    corners: list[tuple[float, float]], tolerance: float
) -> None:
    points = np.array(corners)
    kept = thinned(points, tolerance)
    assert np.array_equal(kept[0], points[0])
    assert np.array_equal(kept[-1], points[-1])
    assert off_line(points, kept) <= tolerance * (1.0 + 1e-9)


def test_a_straight_line_keeps_its_ends_only() -> None:
    x = np.linspace(0.0, 10.0, 50)
    assert len(thinned(np.column_stack((x, 2.0 * x)), 0.01)) == 2


def test_a_ring_stays_a_ring() -> None:
    turn = np.linspace(0.0, 2.0 * np.pi, 400, endpoint=False)
    circle = np.column_stack((np.cos(turn), np.sin(turn)))
    few = thinned_ring(circle, 0.01)
    assert 8 <= len(few) < 60
    area = 0.5 * float(
        np.sum(few[:, 0] * np.roll(few[:, 1], -1) - np.roll(few[:, 0], -1) * few[:, 1])
    )
    assert area == pytest.approx(np.pi, rel=0.02)
    assert len(thinned_ring(circle, 5.0)) >= 3


def test_no_tolerance_keeps_all() -> None:
    points = np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0]])
    assert np.array_equal(thinned(points, 0.0), points)
