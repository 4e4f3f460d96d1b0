"""Keeping what was learned."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from synthetic_lures import THIN, TWENTY, Angler, Truth

from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.tune import LureCase, Observed, Reference, Tuning, tune
from leadsman.calibrate.tuned_store import load_tuning, save_tuning, tuning_key
from leadsman.hydro.technique import Technique
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.observation import Observation

KIT = Kit(lures=(TWENTY, replace(TWENTY, name="other")))
ROWS = (Observation(date(2026, 6, 1), TWENTY.name, "ticked", 5.0, line="thin", cast_m=50.0),)


@pytest.fixture(scope="module")
def tuning() -> Tuning:
    angler = Angler(Truth(first_fit(TWENTY).forces, 0.0), np.random.default_rng(1))
    seen = (Observed("row", angler.tick("thin", THIN, 50.0)),)
    cases = [LureCase(TWENTY, seen), LureCase(KIT.lures[1])]
    return tune(cases, lambda _: Reference(THIN, Technique.steady(50.0, 0.5, 1.3)))


def test_what_is_kept_is_what_was_learned(tmp_path: Path, tuning: Tuning) -> None:
    path, key = tmp_path / "tuned.npz", tuning_key(KIT, ROWS)
    assert save_tuning(path, tuning, key)
    stored = load_tuning(path, KIT, key)
    assert stored is not None and set(stored.beliefs) == {TWENTY.name}
    ours, theirs = tuning.lures[0].belief, stored.beliefs[TWENTY.name]
    assert theirs.weight == pytest.approx(ours.weight, abs=1e-9)
    assert theirs.grid == ours.grid
    assert theirs.centre.dive_angle_rad == pytest.approx(ours.centre.dive_angle_rad, rel=1e-6)
    assert theirs.buoyancy_sd_n == ours.buoyancy_sd_n
    assert stored.drag.log_mean == tuning.drag.log_mean
    assert list(tmp_path.iterdir()) == [path]


def test_any_change_of_kit_or_rows_makes_it_stale(tmp_path: Path, tuning: Tuning) -> None:
    path, key = tmp_path / "tuned.npz", tuning_key(KIT, ROWS)
    save_tuning(path, tuning, key)
    changed = [
        tuning_key(replace(KIT, lures=(replace(TWENTY, mass_kg=0.022),)), ROWS),
        tuning_key(KIT, (replace(ROWS[0], depth_m=5.1),)),
        tuning_key(KIT, ()),
    ]
    assert len({key, *changed}) == 4
    for other in changed:
        assert load_tuning(path, KIT, other) is None
    assert tuning_key(replace(KIT, units="metric"), ROWS) == key


def test_damage_is_no_worse_than_nothing(tmp_path: Path, tuning: Tuning) -> None:
    path, key = tmp_path / "tuned.npz", tuning_key(KIT, ROWS)
    assert load_tuning(path, KIT, key) is None
    save_tuning(path, tuning, key)
    data = path.read_bytes()
    for broken in (b"", b"not a zip", data[: len(data) // 2], data[:100] + data[200:]):
        path.write_bytes(broken)
        assert load_tuning(path, KIT, key) is None
    assert not save_tuning(tmp_path / "none" / "tuned.npz", tuning, key)
