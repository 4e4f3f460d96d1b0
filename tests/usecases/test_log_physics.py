"""The zone of a cast: against sums over the path made here, and what is kept."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm

from leadsman.hydro.retrieve_result import Retrieve
from leadsman.kitfile.template import demo_kit, write_new_kit
from leadsman.usecases import log_physics
from leadsman.usecases.depth import find_depth
from leadsman.usecases.log_physics import ERROR_STEPS, KitPhysics
from leadsman.usecases.questions import DepthQuestion, SetupQuestion
from leadsman.waterlog.events import Place, SetupStart
from leadsman.waterlog.store import Waterlog

FT = 0.3048
KIT = demo_kit()
LONG = SetupStart("long-lip-15 on fluoro-12")
FLAT = Place("flat", "flat", 12 * FT)


@pytest.fixture
def log(tmp_path: Path) -> Waterlog:
    return Waterlog(tmp_path / "log.sqlite")


def path_of(lure: str = "long-lip-15", line: str = "fluoro-12") -> Retrieve:
    return find_depth(DepthQuestion(SetupQuestion(lure=lure, line=line)), draws=32).free


def test_steps_are_the_middles_of_the_tenths() -> None:
    tenths = norm.ppf(np.arange(0.05, 1.0, 0.1))
    assert np.allclose(ERROR_STEPS, tenths, atol=6e-4)


def test_zone_is_the_metres_near_the_bottom_over_the_error_of_the_depth(log: Waterlog) -> None:
    physics = KitPhysics(log, KIT)
    found = physics.worked(LONG, FLAT)
    runs = physics.runs(LONG)
    free = path_of()
    # Many draws in place of ten steps, and every sample counted for the step before it.
    rng = np.random.default_rng(3)
    factors = 1.0 + runs.depth_sd_m / runs.depth_m * rng.standard_normal(4000)
    steps = np.abs(np.diff(free.x_m))
    near = free.depth_m[1:, None] * factors[None, :] >= 12 * FT - 0.3
    expected = float(np.mean(np.sum(steps[:, None] * near, axis=0)))
    assert found.kind == "near the bottom"
    assert found.fishing.zone_m == pytest.approx(expected, rel=0.06)
    assert found.fishing.depth_m == pytest.approx(12 * FT)


def test_pace_is_time_of_the_cast_and_of_casting(log: Waterlog) -> None:
    found = KitPhysics(log, KIT)(LONG, FLAT)
    reeled_s = float(path_of().t_s[-1])
    assert found.casts_per_h == pytest.approx(3600.0 / (reeled_s + 15.0), rel=0.02)


def test_deeper_than_the_lure_reaches_it_runs_free(log: Waterlog) -> None:
    found = KitPhysics(log, KIT).worked(LONG, Place("deep", "drop", 40 * FT))
    assert found.kind == "free"
    free = path_of()
    deepest = float(free.depth_m.max())
    near = free.depth_m[1:] >= deepest - 0.3
    held = float(np.sum(np.abs(np.diff(free.x_m)) * near))
    assert found.fishing.zone_m == pytest.approx(held, rel=0.05)
    assert found.fishing.depth_m == pytest.approx(deepest, rel=1e-3)


def test_far_too_deep_a_lure_plows(log: Waterlog) -> None:
    big = SetupStart("big-lip-25 on fluoro-10")
    assert KitPhysics(log, KIT).worked(big, Place("shoal", "flat", 6 * FT)).kind == "plowing"


def test_a_longer_cast_and_a_lower_tip_fish_more(log: Waterlog) -> None:
    physics = KitPhysics(log, KIT)

    def zone_m(cast_m: float, tip_m: float) -> float:
        setup = SetupStart(LONG.setup, cast_m=cast_m, tip_m=tip_m)
        return physics(setup, FLAT).zone_m

    assert zone_m(30.0, 0.5) < zone_m(45.0, 0.5) < zone_m(60.0, 0.5)
    assert zone_m(45.0, 2.5) < zone_m(45.0, -1.0)


def test_zones_are_kept_and_found_again(log: Waterlog, monkeypatch: pytest.MonkeyPatch) -> None:
    first = KitPhysics(log, KIT)
    zone, runs = first.worked(LONG, FLAT), first.runs(LONG)
    first.keep()

    def refuse(*_: object) -> None:
        raise AssertionError("worked out again")

    monkeypatch.setattr(KitPhysics, "_work_out", refuse)
    monkeypatch.setattr(KitPhysics, "_run", refuse)
    again = KitPhysics(log, KIT)
    assert again.worked(LONG, FLAT) == zone
    assert again.runs(LONG) == runs
    monkeypatch.setattr(log_physics, "VERSION", "another")
    with pytest.raises(AssertionError, match="again"):
        KitPhysics(log, KIT).worked(LONG, FLAT)


def test_another_kit_file_is_another_version(tmp_path: Path) -> None:
    from leadsman.kitfile.read import read_kit

    path = tmp_path / "kit.toml"
    write_new_kit(path)
    before = log_physics.kit_version(read_kit(path))
    (tmp_path / "observations.csv").write_text("date,lure,kind\n")
    seen = log_physics.kit_version(read_kit(path))
    path.write_text(path.read_text(encoding="utf-8") + "\n# a note\n", encoding="utf-8")
    assert len({before, seen, log_physics.kit_version(read_kit(path))}) == 3


def test_a_setup_that_is_not_in_the_kit_is_named(log: Waterlog) -> None:
    physics = KitPhysics(log, KIT)
    assert physics.worked(SetupStart("gone on rope"), FLAT).kind == "unknown setup"
    assert physics.unknown == ("gone on rope",)
    assert physics.runs(SetupStart("gone on rope")).cast_m is None
