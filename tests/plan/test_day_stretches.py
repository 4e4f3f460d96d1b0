"""Stretches of a day on a lake whose bottom is a formula."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import PlanError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.demo_lake import FRAME, GRASS_EDGE_M, true_depth_m
from leadsman.lake.lattice import Lattice
from leadsman.plan.day_stretches import PASS_M, day_stretches, side_of, told_apart
from leadsman.plan.day_targets import DayTarget


def lake() -> BottomModel:
    lattice = Lattice(FRAME, -1150.0, -550.0, 5.0, 461, 221)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    depth = true_depth_m(x, y)
    depth = np.where(depth > 0.0, depth, np.nan).astype(np.float32)
    return BottomModel("Invented", lattice, depth, np.full(depth.shape, 0.2, np.float32))


MODEL = lake()
TARGETS = (
    DayTarget("edge", GRASS_EDGE_M, 0.6),
    DayTarget("drop", 6.0, 0.3),
    DayTarget("grass", 3.0, 0.1),
)


def test_stretches_lie_at_their_depth_and_apart() -> None:
    found, notes = day_stretches(MODEL, TARGETS, 0.0, GRASS_EDGE_M, most=12)
    assert {item.target for item in found} == {0, 1, 2}
    for item in found:
        depth, _ = MODEL.sample(item.line.x_m, item.line.y_m)
        assert np.nanmedian(np.abs(depth - TARGETS[item.target].depth_m)) < 0.25
        assert item.line.length_m <= PASS_M + 10.0
        assert item.reason
    edges = [item for item in found if item.target == 0]
    for i, a in enumerate(edges):
        for b in edges[i + 1 :]:
            gap = np.hypot(a.line.x_m[:, None] - b.line.x_m, a.line.y_m[:, None] - b.line.y_m).min()
            assert gap > 20.0
    assert not notes
    kinds = {TARGETS[i.target].ground: i.line.kind for i in found}
    assert kinds == {"edge": "edge", "drop": "drop", "grass": "flat"}
    assert all((i.line.grass is not None) == (i.target != 1) for i in found)


def test_names_occur_once_and_say_the_side() -> None:
    found, _ = day_stretches(MODEL, TARGETS, 0.0, GRASS_EDGE_M)
    names = [item.name for item in told_apart(found)]
    assert len(set(names)) == len(names)
    assert side_of(MODEL, 1000.0, 0.0) == "east"
    assert side_of(MODEL, 0.0, -450.0) == "south"
    assert side_of(MODEL, 0.0, 0.0) == "middle"


def test_high_water_moves_them_shoreward() -> None:
    low, _ = day_stretches(MODEL, TARGETS[:1], 0.0, None)
    high, _ = day_stretches(MODEL, TARGETS[:1], 1.0, None)
    dry = MODEL.sample(high[0].line.x_m, high[0].line.y_m)[0]
    assert np.nanmedian(dry) == pytest.approx(GRASS_EDGE_M - 1.0, abs=0.2)
    assert low[0].line.depth_m == high[0].line.depth_m


def test_a_depth_that_is_not_there() -> None:
    found, notes = day_stretches(MODEL, (*TARGETS, DayTarget("drop", 30.0, 0.0)), 0.0, None)
    assert found and any("30.0 m" in note and "down to" in note for note in notes)
    with pytest.raises(PlanError, match="no line to fish"):
        day_stretches(MODEL, (DayTarget("drop", 30.0, 1.0),), 0.0, None)


def test_an_edge_shorter_than_a_cast_is_said() -> None:
    lattice = Lattice(FRAME, -100.0, -100.0, 2.0, 101, 101)
    r = np.hypot(lattice.x_m[None, :], lattice.y_m[:, None])
    hump = (6.0 - 3.0 * np.exp(-((r / 7.0) ** 2))).astype(np.float32)
    small = BottomModel("Hump", lattice, hump, np.full(hump.shape, 0.1, np.float32))
    found, notes = day_stretches(small, (DayTarget("edge", 4.5, 1.0),), 0.0, None)
    assert len(found) == 1 and found[0].line.length_m < 60.0
    assert "shorter than a long cast" in notes[0]
