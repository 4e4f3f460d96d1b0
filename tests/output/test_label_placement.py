"""Labels lie beside what they name, on nothing else."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leadsman.output.label_placement import Box, LabelPlacer, around, boxes_along, leader_boxes

BOUNDS = Box(0.0, 0.0, 400.0, 300.0)
places = st.lists(st.tuples(st.floats(0.0, 400.0), st.floats(0.0, 300.0)), min_size=1, max_size=12)


@settings(max_examples=80, deadline=None)
@given(places, st.floats(10.0, 120.0), st.floats(8.0, 30.0))
def test_labels_never_overlap_nor_leave_the_picture(
    points: list[tuple[float, float]], width: float, height: float
) -> None:
    placer = LabelPlacer(BOUNDS)
    placed = []
    for x, y in points:
        box = placer.place(around(x, y, width, height, 60.0), leader_to=(x, y))
        if box is not None:
            placed.append((box, (x, y)))
    assert all(BOUNDS.holds(box) for box, _ in placed)
    for (a, to_a), (b, to_b) in combinations(placed, 2):
        assert a.overlap_px2(b) == 0.0
        assert all(bit.overlap_px2(b) == 0.0 for bit in leader_boxes(a, *to_a))
        assert all(bit.overlap_px2(a) == 0.0 for bit in leader_boxes(b, *to_b))


def test_a_free_place_is_taken_before_a_covered_one() -> None:
    placer = LabelPlacer(BOUNDS, [Box(0.0, 0.0, 400.0, 150.0)])
    covered, free = Box(10.0, 10.0, 60.0, 30.0), Box(10.0, 200.0, 60.0, 220.0)
    assert placer.place([covered, free]) == free


def test_least_covered_place_is_taken_where_none_is_free() -> None:
    placer = LabelPlacer(BOUNDS, [Box(0.0, 0.0, 400.0, 300.0), Box(0.0, 0.0, 400.0, 150.0)])
    worse, better = Box(10.0, 10.0, 60.0, 30.0), Box(10.0, 200.0, 60.0, 220.0)
    assert placer.place([worse, better]) == better


def test_a_label_is_left_out_rather_than_laid_over_things() -> None:
    placer = LabelPlacer(BOUNDS, [BOUNDS])
    assert placer.place([Box(10.0, 10.0, 60.0, 30.0)], most_cover=0.5) is None
    taken = LabelPlacer(BOUNDS)
    taken.reserve(BOUNDS)
    assert taken.place([Box(10.0, 10.0, 60.0, 30.0)]) is None
    assert taken.place([Box(-10.0, 10.0, 60.0, 30.0)]) is None


def test_overlap_is_the_area_of_the_common_part() -> None:
    assert Box(0.0, 0.0, 10.0, 10.0).overlap_px2(Box(5.0, 8.0, 20.0, 20.0)) == 10.0
    assert Box(0.0, 0.0, 10.0, 10.0).overlap_px2(Box(10.0, 0.0, 20.0, 10.0)) == 0.0


def test_nearest_point_of_a_box() -> None:
    box = Box(0.0, 0.0, 10.0, 10.0)
    assert box.nearest(5.0, 20.0) == (5.0, 10.0)
    assert box.nearest(-3.0, -4.0) == (0.0, 0.0)


def test_boxes_along_a_stroke_need_as_many_xs_as_ys() -> None:
    with pytest.raises(ValueError):
        boxes_along([0.0, 1.0], [0.0], 2.0)
