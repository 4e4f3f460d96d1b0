"""Beliefs of a whole kit, learned or not."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.input_spread import InputSpread
from leadsman.calibrate.learned import (
    OBSERVATIONS_NAME,
    STORE_NAME,
    learned,
    tune_kit,
    usual_setup,
)
from leadsman.errors import LogError
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.observations import append_observation
from leadsman.kitfile.read import read_kit
from leadsman.kitfile.template import demo_kit, write_new_kit

LURE = "long-thin-lip-20"
CELLS = {
    "date": "2026-06-01", "lure": LURE, "kind": "ticked", "depth": "16 ft",
    "line": "fluoro-12", "cast": "60 +- 2 yd", "casts": "4",
}  # fmt: skip


@pytest.fixture
def kit(tmp_path: Path) -> Kit:
    write_new_kit(tmp_path / "kit.toml")
    return read_kit(tmp_path / "kit.toml")


def test_nothing_seen_is_the_first_fit(kit: Kit) -> None:
    found = learned(kit)
    lure = kit.lure(LURE)
    assert found.belief(lure).centre == first_fit(lure).forces
    assert found.spread(InputSpread()) == InputSpread()
    assert kit.path is not None and [p.name for p in kit.path.parent.iterdir()] == ["kit.toml"]
    assert learned(demo_kit()).observed == {}


def test_a_tick_shallower_than_the_package_turns_the_belief_down(kit: Kit) -> None:
    assert kit.path is not None
    append_observation(kit.path.parent / OBSERVATIONS_NAME, CELLS)
    lure, other = kit.lure(LURE), kit.lure("big-lip-25")
    found = learned(kit)
    assert found.belief(lure).centre.dive_angle_rad < first_fit(lure).forces.dive_angle_rad
    assert found.belief(other).centre == first_fit(other).forces
    assert found.drag is not None
    spread = found.spread(InputSpread())
    assert spread.vibration_rise_mean == 0.0 and 0.9 < spread.normal_centre < 1.3


def test_the_second_time_is_quick_and_the_same(kit: Kit) -> None:
    assert kit.path is not None
    append_observation(kit.path.parent / OBSERVATIONS_NAME, CELLS)
    first = learned(kit)
    assert (kit.path.parent / STORE_NAME).exists()
    start = time.perf_counter()
    second = learned(kit)
    assert time.perf_counter() - start < 0.5  # 0.02 s alone
    lure = kit.lure(LURE)
    assert second.belief(lure).centre.dive_angle_rad == pytest.approx(
        first.belief(lure).centre.dive_angle_rad, rel=1e-6
    )


def test_a_new_row_is_learned_at_once(kit: Kit) -> None:
    assert kit.path is not None
    path = kit.path.parent / OBSERVATIONS_NAME
    append_observation(path, CELLS)
    before = learned(kit).belief(kit.lure(LURE)).centre.dive_angle_rad
    append_observation(path, {**CELLS, "depth": "15 ft", "date": "2026-06-02"})
    assert learned(kit).belief(kit.lure(LURE)).centre.dive_angle_rad < before


def test_rows_that_teach_nothing(kit: Kit) -> None:
    assert kit.path is not None
    path = kit.path.parent / OBSERVATIONS_NAME
    append_observation(path, {"date": "2026-06-01", "lure": LURE, "kind": "retuned"})
    assert learned(kit).observed == {}
    assert tune_kit(kit, path).lures == ()


def test_unknown_names_are_refused(kit: Kit) -> None:
    assert kit.path is not None
    append_observation(kit.path.parent / OBSERVATIONS_NAME, {**CELLS, "lure": "nobody"})
    with pytest.raises(LogError, match="no lure 'nobody'"):
        learned(kit)


def test_usual_setup_is_one_the_angler_has(kit: Kit) -> None:
    deep = usual_setup(kit, kit.lure("big-lip-25"))
    assert deep.line.diameter_m == pytest.approx(0.28e-3)  # the line of the deep combo
    assert deep.technique.cast_m == pytest.approx(54.864)  # the angler's usual cast
    assert usual_setup(kit, kit.lure("short-lip-8")).technique.cast_m < 50.0
    assert usual_setup(Kit(), kit.lure(LURE)).line.diameter_m > 0.0
