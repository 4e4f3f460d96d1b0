"""Lures that run off."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from synthetic_lures import FT, THICK, THIN, TWENTY, Angler, Truth

from leadsman.calibrate.evidence import Evidence, MeasuredDepth
from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.off_true import off_true
from leadsman.calibrate.tune import LureCase, Observed, Reference, Tuning, tune
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.technique import Technique
from leadsman.kitfile.observation import Observation

UNSEEN = Reference(LineProperties(0.31e-3, 1780.0, 2.2e9), Technique.steady(48.0, 0.5, 1.3))
CAREFUL = {"cast_log_sd": 0.02, "tip_sd_m": 0.1, "boat_sd_m_s": 0.03, "casts": 3}
DAY = date(2026, 6, 1)


def measured(name: str, shift_m: float = 0.0) -> list[Evidence]:
    angler = Angler(Truth(first_fit(TWENTY).forces, 0.0), np.random.default_rng(2), **CAREFUL)
    rows = [
        angler.measure(line_name, line, cast, 0.1)
        for line_name, line in (("thin", THIN), ("thick", THICK))
        for cast in (55.0, 35.0)
    ]
    return [replace(r, depth_m=r.depth_m + shift_m) for r in rows]  # type: ignore[type-var]


def learn(**lures: list[Evidence]) -> Tuning:
    cases = [
        LureCase(
            replace(TWENTY, name=name, model="twenty"),
            tuple(Observed(f"{name} {i}", e, DAY + timedelta(i)) for i, e in enumerate(seen)),
        )
        for name, seen in lures.items()
    ]
    return tune(cases, lambda _: UNSEEN)


def rows(*sides: str | None) -> list[Observation]:
    return [
        Observation(
            DAY + timedelta(i), "a", "retuned" if side == "retuned" else "ticked",
            off_true=side if side in ("left", "right") else None,  # type: ignore[arg-type]
        )
        for i, side in enumerate(sides)
    ]  # fmt: skip


def test_a_lure_that_runs_to_one_side_is_flagged_until_it_is_retuned() -> None:
    tuned = learn(a=[]).lures
    (found,) = off_true(tuned, rows(None, "left"))
    assert (found.reason, found.detail) == ("runs to one side", "left")
    assert any("line tie" in check for check in found.check)
    assert off_true(tuned, rows("left", "retuned")) == ()


def test_suddenly_shallower() -> None:
    seen = measured("a")
    last = seen[0]
    assert isinstance(last, MeasuredDepth)
    shallow = replace(last, depth_m=last.depth_m - 5.0 * FT)
    (found,) = off_true(learn(a=[*seen, shallow]).lures, [])
    assert found.reason == "suddenly shallower" and found.detail == "a 4"
    assert off_true(learn(a=seen).lures, []) == ()
    # a slip at the beginning is a conflict, not a change
    assert off_true(learn(a=[shallow, *seen]).lures, []) == ()


def test_a_copy_that_runs_shallower_than_the_other() -> None:
    found = off_true(learn(a=measured("a"), b=measured("b", -4.0 * FT)).lures, [])
    assert [(f.lure, f.reason, f.detail) for f in found] == [
        ("b", "shallower than its copies", "a")
    ]
