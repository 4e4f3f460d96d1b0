"""Invented truths and what an angler would note of them, for tests of calibration.

Truths are drawn from the stated prior and observed through the solver with the
stated errors, so that a right calibration must cover them as often as it says
(simulation-based calibration: Talts et al. 2018, arXiv:1804.06788, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from leadsman.calibrate.evidence import (
    DidNotReach,
    Evidence,
    Fished,
    MeasuredDepth,
    PullOnScale,
    Ticked,
    TimeToBottom,
)
from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.likelihood import LOG_DEPTH_PER_BOAT_SPEED, MODEL_LOG_SD, TICK_OVERRUN
from leadsman.calibrate.prior import drag_prior, grid_of, lure_prior
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.technique import Technique
from leadsman.tackle.lure import DepthTest, Lure, RatedDepth

FT, YD, LB_N = 0.3048, 0.9144, 4.4482216152605

TWENTY = Lure(
    "twenty footer", 0.070, 0.039, 0.0216, 0.021, body_width_m=0.0216,
    rated=RatedDepth(20 * FT, 20 * FT, DepthTest("nylon", 10 * LB_N, None, 60 * YD, 0.3)),
)  # fmt: skip
THIN = LineProperties(0.28e-3, 1780.0, 2.2e9)
THICK = LineProperties(0.35e-3, 1140.0, 1.6e9)


@dataclass(frozen=True)
class Truth:
    """A lure as it is, and the drag of the line as it is."""

    forces: LureForces
    log_drag: float

    def depth_m(
        self, line: LineProperties, technique: Technique, at_s: float | None = None
    ) -> float:
        path = retrieve(
            self.forces, line, technique, drag=DragLaw(normal_factor=math.exp(self.log_drag))
        )
        if at_s is None:
            return path.max_depth_m
        return float(np.interp(at_s, path.t_s, path.depth_m))


@lru_cache(maxsize=8)
def _prior_of(lure: Lure):  # type: ignore[no-untyped-def]
    fit = first_fit(lure)
    grid = grid_of(fit)
    weight = lure_prior(lure, fit, grid).weight * drag_prior(grid.log_drag)[:, None, None]
    return fit, grid, weight.shape, np.cumsum(weight)


def draw_truth(lure: Lure, rng: np.random.Generator) -> Truth:
    """A lure from its prior, spread evenly within its cell of the grid."""
    fit, grid, shape, total = _prior_of(lure)
    at = int(np.searchsorted(total, rng.uniform() * total[-1]))
    c, a, s = np.unravel_index(at, shape)
    jitter = rng.uniform(-0.5, 0.5, 3)
    angle = float(np.interp(a + jitter[0], np.arange(grid.angle_rad.size), grid.angle_rad))
    log_area = float(grid.log_area[s] + jitter[1] * (grid.log_area[1] - grid.log_area[0]))
    log_drag = float(grid.log_drag[c] + jitter[2] * (grid.log_drag[1] - grid.log_drag[0]))
    forces = replace(fit.forces, dive_angle_rad=angle, pull_area_m2=math.exp(log_area))
    return Truth(forces, log_drag)


class Angler:
    """Notes what they see, with errors as stated; each line's diameter is off by one amount."""

    def __init__(self, truth: Truth, rng: np.random.Generator, **spreads: float) -> None:
        self.truth = truth
        self.rng = rng
        self.spreads = spreads
        self._off: dict[str, float] = {}

    def _fish(
        self, name: str, line: LineProperties, cast_m: float
    ) -> tuple[Fished, float, Technique, LineProperties]:
        technique = Technique.steady(cast_m, 0.5, 1.3)
        fished = Fished(line, name, 0.02, technique, **self.spreads)  # type: ignore[arg-type]
        rng, scale = self.rng, 1.0 / math.sqrt(fished.casts)
        off = self._off.setdefault(name, float(rng.normal()) * fished.diameter_log_sd)
        true_line = replace(line, diameter_m=line.diameter_m * math.exp(off))
        true_way = replace(
            technique,
            cast_m=cast_m * math.exp(rng.normal() * fished.cast_log_sd * scale),
            tip_m=technique.tip_m + rng.normal() * fished.tip_sd_m * scale,
        )
        boat = LOG_DEPTH_PER_BOAT_SPEED * fished.boat_sd_m_s * scale
        error = math.exp(rng.normal() * math.hypot(boat, MODEL_LOG_SD))
        return fished, error, true_way, true_line

    def measure(
        self, name: str, line: LineProperties, cast_m: float, sd_m: float = 0.15
    ) -> Evidence:
        fished, error, way, true_line = self._fish(name, line, cast_m)
        depth = self.truth.depth_m(true_line, way) * error
        return MeasuredDepth(fished, depth + self.rng.normal() * sd_m, sd_m)

    def tick(self, name: str, line: LineProperties, cast_m: float, sd_m: float = 0.15) -> Evidence:
        """Depth at which it ticked: the free depth less an overrun, and less what is misread."""
        fished, error, way, true_line = self._fish(name, line, cast_m)
        free = self.truth.depth_m(true_line, way) * error
        depth = free / (1.0 + TICK_OVERRUN * self.rng.exponential())
        return Ticked(fished, depth + self.rng.normal() * sd_m, sd_m)

    def miss(self, name: str, line: LineProperties, cast_m: float, depth_m: float) -> bool:
        """Whether it touches nothing over a bottom that is read as one depth."""
        _, error, way, true_line = self._fish(name, line, cast_m)
        return self.truth.depth_m(true_line, way) * error < depth_m + self.rng.normal() * 0.15

    def not_reached(
        self, name: str, line: LineProperties, cast_m: float, depth_m: float
    ) -> Evidence:
        fished, *_ = self._fish(name, line, cast_m)
        return DidNotReach(fished, depth_m)

    def time(
        self, name: str, line: LineProperties, cast_m: float, depth_m: float
    ) -> Evidence | None:
        """Time until a bottom of one depth; None if it is not reached."""
        fished, error, way, true_line = self._fish(name, line, cast_m)
        path = retrieve(
            self.truth.forces, true_line, way,
            drag=DragLaw(normal_factor=math.exp(self.truth.log_drag)),
        )  # fmt: skip
        bottom = depth_m + self.rng.normal() * 0.15
        below = np.flatnonzero(path.depth_m * error >= bottom)
        if below.size == 0 or below[0] == 0:
            return None
        i = int(below[0])
        reach = np.interp(bottom, path.depth_m[i - 1 : i + 1] * error, path.t_s[i - 1 : i + 1])
        t = float(reach) + float(self.rng.normal())
        return TimeToBottom(fished, depth_m, t) if t > 0.5 else None

    def pull(self, speed_m_s: float) -> Evidence:
        forces = self.truth.forces
        pull = 0.5 * 998.0 * forces.pull_area_m2 * speed_m_s**2 / math.cos(forces.dive_angle_rad)
        return PullOnScale(pull * math.exp(0.12 * self.rng.normal()), speed_m_s)
