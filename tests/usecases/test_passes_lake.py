"""Lakes and stretches from what a person says."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from pass_cases import model_of

from leadsman.display_units import US
from leadsman.errors import InputError, PlanError
from leadsman.lake.demo_lake import FRAME
from leadsman.lake.model_file import save_model
from leadsman.usecases.passes_lake import NamedStretch, resolve_lake, stretches_of


def bowl(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """A round lake of 240 m radius, 12 m deep; its 4 m line is a circle of 160 m."""
    return np.asarray(12.0 * (1.0 - np.hypot(x, y) / 240.0))


def find(depth_m: float = 4.0, **more: object) -> tuple[NamedStretch, ...]:
    asked: dict[str, object] = {
        "level_m": 0.0, "near_deg": None, "count": 2, "length_m": 150.0, "kind": "edge",
        "grass": None, "units": US,
    }  # fmt: skip
    return stretches_of(model_of(bowl), depth_m, 0.1, **(asked | more))[0]  # type: ignore[arg-type]


def test_stretches_lie_on_the_line_apart_from_each_other() -> None:
    one, other = find()
    for named in (one, other):
        radius = np.hypot(named.stretch.x_m, named.stretch.y_m)
        assert radius == pytest.approx(160.0, abs=3.0)
        assert named.stretch.length_m == pytest.approx(150.0, rel=0.1)
        # deep water is toward the middle
        inward = named.stretch.x_m * named.stretch.to_deep_x + named.stretch.y_m * (
            named.stretch.to_deep_y
        )
        assert np.all(inward < 0.0)
    middle = one.stretch.x_m.size // 2
    apart = np.hypot(
        one.stretch.x_m[middle] - other.stretch.x_m[middle],
        one.stretch.y_m[middle] - other.stretch.y_m[middle],
    )
    assert apart >= 90.0


def test_more_water_moves_the_line_to_where_it_was_shallower() -> None:
    named = find(5.0, level_m=1.0)[0]
    assert np.hypot(named.stretch.x_m, named.stretch.y_m) == pytest.approx(160.0, abs=3.0)


def test_near_takes_the_side_that_is_near() -> None:
    lon, lat = FRAME.to_lonlat(0.0, 200.0)
    named = find(near_deg=(float(lat), float(lon)), count=1)[0]
    middle = named.stretch.y_m.size // 2
    assert named.stretch.y_m[middle] > 60.0
    with pytest.raises(PlanError, match="lies near that place"):
        find(near_deg=(0.0, 0.0))


def test_a_lake_from_its_file_and_no_such_lake(tmp_path: Path) -> None:
    path = tmp_path / "bowl.bottom"
    save_model(model_of(bowl), path)
    assert resolve_lake(str(path)).model.name == "made up"
    with pytest.raises(InputError):
        resolve_lake("no-such-lake", tmp_path)
