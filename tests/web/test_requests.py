"""What a page asks becomes the use case's question, to the digit."""

from __future__ import annotations

import math

import pytest
from pydantic import ValidationError

from leadsman.errors import InputError
from leadsman.usecases.resolve_bottom import resolve_bottom
from leadsman.web.requests import DepthAsked, ObservationAsked


def test_the_bottom_arrives_as_it_was_sent() -> None:
    asked = DepthAsked.model_validate(
        {
            "lure": "a",
            "line": "b",
            "bottom": [{"x_m": 0, "depth_m": 2.44}, {"x_m": 41.1, "depth_m": 3.66}],
            "grass": {"top_depth_m": 2.0, "from_m": 5.0, "to_m": 20.0},
        }
    )
    bottom = resolve_bottom(asked.question(None).bottom, 45.0).bottom
    assert bottom is not None and bottom.grass is not None
    assert float(bottom.depth_at(0.0)) == pytest.approx(2.44, abs=1e-5)
    assert float(bottom.depth_at(41.1)) == pytest.approx(3.66, abs=1e-5)
    assert float(bottom.depth_at(20.55)) == pytest.approx(3.05, abs=1e-5)


def test_one_point_is_a_level_bottom_and_none_is_deep_water() -> None:
    level = DepthAsked.model_validate(
        {"lure": "a", "line": "b", "bottom": [{"x_m": 7, "depth_m": 3}]}
    )
    bottom = resolve_bottom(level.question(None).bottom, 45.0).bottom
    assert bottom is not None and {*bottom.depth_m.tolist()} == {3.0}
    deep = DepthAsked(lure="a", line="b")
    assert resolve_bottom(deep.question(None).bottom, 45.0).bottom is None


def test_depths_without_distances_reach_to_where_the_lure_lands() -> None:
    points: list[dict[str, float]] = [{"depth_m": 2.0}, {"depth_m": 4.0}]
    asked = DepthAsked.model_validate({"lure": "a", "line": "b", "bottom": points})
    bottom = resolve_bottom(asked.question(None).bottom, 50.0).bottom
    assert bottom is not None
    assert float(bottom.depth_at(0.0)) == pytest.approx(2.0)
    assert float(bottom.depth_at(25.0)) == pytest.approx(3.0)
    assert float(bottom.depth_at(50.0)) == pytest.approx(4.0)
    points[0]["x_m"] = 0.0
    mixed = DepthAsked.model_validate({"lure": "a", "line": "b", "bottom": points})
    with pytest.raises(InputError, match="distance"):
        mixed.question(None)


def test_the_wind_comes_from_where_it_is_said() -> None:
    from leadsman.web.requests import WindAsked

    wind = WindAsked(speed_m_s=5.0, from_deg=90.0).wind()
    assert wind is not None
    assert WindAsked(speed_m_s=0.0, from_deg=0.0).wind() is None
    ahead = WindAsked(speed_m_s=5.0, from_deg=0.0).wind()
    behind = WindAsked(speed_m_s=5.0, from_deg=180.0).wind()
    from leadsman.hydro.cast_flight import Wind

    assert ahead == Wind.coming_from(5.0, 0.0) and behind == Wind.coming_from(5.0, math.pi)


@pytest.mark.parametrize(
    "change",
    [
        {"cast_m": 4.9},
        {"cast_m": math.inf},
        {"tip": "sideways"},
        {"tip": 99.0},
        {"draws": 100_000},
        {"bottom": [{"x_m": 0.0, "depth_m": 1.0}] * 61},
        {"lure": ""},
        {"lure": "x" * 81},
        {"path": "/"},
        {"load_limit": 0.0},
    ],
    ids=str,
)
def test_what_is_out_of_bounds_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        DepthAsked.model_validate({"lure": "a", "line": "b", **change})


def test_an_observation_leaves_out_what_is_empty() -> None:
    asked = ObservationAsked(lure="a", kind="ticked", depth="14 ft")
    assert asked.cells() == {"lure": "a", "kind": "ticked", "depth": "14 ft"}
