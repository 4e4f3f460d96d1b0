"""The quick band against the one that solves every draw."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from leadsman.calibrate.input_spread import InputSpread, LureSpread
from leadsman.calibrate.quick_band import quick_band
from leadsman.calibrate.running_band import running_band
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Step, Technique

DEEP = LureSpread(
    LureForces(math.radians(33.0), 20e-4, 0.02, 0.05), math.radians(2.0), 0.25, -0.4, 0.1, 0.02
)
MIDDLE = LureSpread(LureForces(math.radians(24.0), 12e-4, 0.014, 0.03), math.radians(2.0), 0.2)
LINE = LineProperties(0.31e-3, 1780.0, 2e9)


@pytest.mark.parametrize(
    ("lure", "line", "technique", "spread"),
    [
        (DEEP, LINE, Technique.steady(55.0), InputSpread()),
        (DEEP, replace(LINE, diameter_m=0.25e-3), Technique.steady(30.0, 0.0), InputSpread()),
        (MIDDLE, LINE, Technique.steady(45.0, 1.0, 1.0), InputSpread.of_measured()),
    ],
)
def test_agrees_with_solving_every_draw(
    lure: LureSpread, line: LineProperties, technique: Technique, spread: InputSpread
) -> None:
    quick = quick_band(lure, line, technique, spread=spread)
    full = running_band(lure, line, technique, spread=spread, n=1024)
    assert quick.surrogate_part > 0.9
    a, b = quick.max_depth_m, full.max_depth_m
    width = b.high_90 - b.low_90
    assert a.median == pytest.approx(b.median, abs=0.03 * width + 0.005 * b.median)
    for name in ("low_90", "high_90", "low_50", "high_50"):
        assert getattr(a, name) == pytest.approx(getattr(b, name), abs=0.06 * width)
    shares = {share.name: share.fraction for share in full.shares}
    for share in quick.shares:
        assert share.fraction == pytest.approx(shares[share.name], abs=0.05)
    assert sum(share.fraction for share in quick.shares) == pytest.approx(1.0)


def test_the_solver_steps_in_where_the_surrogate_ends() -> None:
    script = Technique(40.0, 0.6, (Step("reel", 8.0, 1.2, 1.2), Step("reel", speed_m_s=1.2)))
    quick = quick_band(DEEP, LINE, script)
    full = running_band(DEEP, LINE, script, n=256)
    assert quick.surrogate_part == 0.0
    width = full.max_depth_m.high_90 - full.max_depth_m.low_90
    assert quick.max_depth_m.median == pytest.approx(full.max_depth_m.median, abs=0.05 * width)
    fixed = quick_band(DEEP, LINE, Technique.steady(40.0), drag=DragLaw(normal_constant=1.3))
    assert fixed.surrogate_part == 0.0
