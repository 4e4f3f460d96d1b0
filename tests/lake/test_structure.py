"""Points, turns and what lies beside them, on shapes whose answer is known."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.demo_lake import FRAME, GRASS_EDGE_M, true_depth_m
from leadsman.lake.edge import edge_lines
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.lake.structure import StructureWeights, rank_stretches, traits

LATTICE = Lattice(MetricFrame(-93.0, 45.0), -500.0, -500.0, 5.0, 201, 201)


def on(depth: np.ndarray) -> BottomModel:
    return BottomModel(
        "made up", LATTICE, depth.astype("float32"), np.full(depth.shape, 0.3, "float32")
    )


def places() -> tuple[np.ndarray, np.ndarray]:
    return np.meshgrid(LATTICE.x_m, LATTICE.y_m)


def test_a_bulge_is_a_point_and_a_bight_an_inside_turn() -> None:
    """Deep water north; the edge y = 60 exp(-((x-200)/50)^2) - 60 exp(-((x+200)/50)^2)."""
    x, y = places()
    edge = 60.0 * np.exp(-(((x - 200.0) / 50.0) ** 2)) - 60.0 * np.exp(-(((x + 200.0) / 50.0) ** 2))
    model = on(6.0 + 0.08 * (y - edge))
    lines = edge_lines(model, 6.0)
    stretches = rank_stretches(model, lines)
    points = [s for s in stretches if s.kind == "point"]
    turns = [s for s in stretches if s.kind == "inside turn"]
    east_of = {}
    for name, found in (("point", points), ("turn", turns)):
        best = min(found, key=lambda s: s.radius_m)
        east_of[name] = float(LATTICE.frame.to_metric(best.lon_deg, best.lat_deg)[0])
    assert east_of["point"] == pytest.approx(200.0, abs=25.0)
    assert east_of["turn"] == pytest.approx(-200.0, abs=25.0)
    # A Gaussian bump has curvature 2 A / w^2 = 0.048 at its top, radius 21 m; smoothing widens it.
    assert 21.0 * 0.9 < min(s.radius_m for s in points) < 45.0


def test_steepness_flat_and_deep_water_are_measured() -> None:
    """A flat 100 m wide at 4 m, then 1 in 5: the 5 m line is 5 m out, 8 m 15 m beyond it."""
    _, y = places()
    depth = np.where(
        y < -100.0, 1.0, np.where(y < 0.0, 4.0 + 0.001 * y, np.minimum(4.0 + 0.2 * y, 9.0))
    )
    model = on(depth)
    line = edge_lines(model, 5.0)[0]
    have = traits(model, line)
    middle = slice(20, -20)
    assert np.median(have.slope[middle]) == pytest.approx(0.2, rel=0.15)
    assert np.median(have.flat_width_m[middle]) == pytest.approx(105.0, abs=8.0)
    assert np.median(have.deep_distance_m[middle]) == pytest.approx(15.0, abs=5.0)
    best = rank_stretches(model, (line,), metric_units=True)[0]
    assert best.kind == "straight"
    assert "steep outside" in best.reason
    assert "m of flat behind" in best.reason


def test_no_deep_water_is_said() -> None:
    x, _ = places()
    model = on(4.0 + 0.004 * x)
    best = rank_stretches(model, edge_lines(model, 4.5))[0]
    assert np.isinf(best.deep_distance_m)
    assert "no deep water near" in best.reason


def test_weights_decide_and_scores_are_shares() -> None:
    x, y = places()
    edge = 60.0 * np.exp(-(((x - 200.0) / 50.0) ** 2))
    model = on(6.0 + 0.08 * (y - edge))
    lines = edge_lines(model, 6.0)
    bends = rank_stretches(model, lines, weights=StructureWeights(1.0, 0.0, 0.0, 0.0))
    assert bends[0].kind != "straight"
    assert all(0.0 <= s.score <= 1.0 for s in bends)
    assert [s.score for s in bends] == sorted((s.score for s in bends), reverse=True)


def test_the_invented_lakes_point_and_turn_are_found() -> None:
    """The generator puts a point at 1.25 rad and an inside turn at 4.05 rad."""
    lattice = Lattice(FRAME, -1200.0, -600.0, 5.0, 481, 241)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    depth = true_depth_m(x, y)
    depth = np.where(depth > 0.0, depth, np.nan).astype("float32")
    model = BottomModel("invented", lattice, depth, np.full(depth.shape, 0.3, "float32"))
    stretches = rank_stretches(model, edge_lines(model, GRASS_EDGE_M), scale_m=100.0)
    for kind, angle in (("point", 1.25), ("inside turn", 4.05)):
        sharp = sorted((s for s in stretches if s.kind == kind), key=lambda s: s.radius_m)[:4]
        at = [FRAME.to_metric(s.lon_deg, s.lat_deg) for s in sharp]
        apart = [abs(np.angle(np.exp(1j * (np.arctan2(b, a) - angle)))) for a, b in at]
        assert min(apart) < 0.25, f"{kind}: {apart}"


def test_scale_has_bounds() -> None:
    x, _ = places()
    model = on(5.0 + 0.01 * x)
    with pytest.raises(LakeDataError):
        traits(model, edge_lines(model, 5.0)[0], scale_m=0.0)
