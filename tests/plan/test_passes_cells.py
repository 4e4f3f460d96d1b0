"""Cells of a stretch and which of them a cast covers."""

from __future__ import annotations

import numpy as np
import pytest
from pass_cases import straight

from leadsman.plan.passes_cells import cast_coverage, cells_of


def cover(y_m: list[float], angle: float, se_m: float = 0.0) -> list[float]:
    """What casts of 20 m, all in the zone, cover, landing at x = 0 and some y [m]."""
    cells = cells_of(straight(length_m=100.0, se_m=se_m))
    n = len(y_m)
    coverage = cast_coverage(
        cells, np.zeros(n), np.array(y_m), np.full(n, angle), np.ones((n, 20), np.float32),
        np.arange(n), n,
    )  # fmt: skip
    return [coverage.covered([i]) for i in range(n)] + [coverage.covered(range(n))]


def test_cells_add_up_to_the_stretch() -> None:
    cells = cells_of(straight(length_m=100.0))
    assert cells.length_m * cells.x_m.size == pytest.approx(100.0)
    assert cells.along_m[0] == pytest.approx(0.5 * cells.length_m)


def test_a_flat_is_cut_into_patches() -> None:
    cells = cells_of(straight(length_m=100.0, kind="flat", half_width_m=20.0))
    assert cells.x_m.size * cells.length_m**2 == pytest.approx(100.0 * 40.0, rel=0.05)


def test_a_cast_along_the_edge_covers_its_zone() -> None:
    assert cover([0.0], 0.5 * np.pi)[0] == pytest.approx(20.0, abs=2.0)


def test_a_cast_across_covers_only_where_it_crosses() -> None:
    """Square to the edge 6 m of path are within reach, over one or two cells of 2 m."""
    assert cover([-10.0], np.pi)[0] <= 4.0


def test_out_of_reach_covers_nothing() -> None:
    assert cover([5.0], 0.5 * np.pi)[0] == pytest.approx(0.0, abs=1e-9)


def test_two_casts_side_by_side_cover_an_unsure_edge_no_more_than_one() -> None:
    one, other, both = cover([1.0, 1.0], 0.5 * np.pi, se_m=4.0)
    assert both == pytest.approx(one, rel=0.15)  # but for the blur at the end of its reach
    near, far, spread = cover([1.5, -4.0], 0.5 * np.pi, se_m=4.0)
    assert spread > max(near, far) + 2.0
    assert other == pytest.approx(one)


def test_chance_to_work_an_unsure_edge() -> None:
    """Five equal parts of a normal error: within reach of 3 m of a line 4 m unsure are the
    parts at 0 and 2.1 m; the normal law itself gives 0.55.
    """
    assert cover([0.0], 0.5 * np.pi, se_m=4.0)[0] == pytest.approx(0.6 * 20.0, abs=1.5)
