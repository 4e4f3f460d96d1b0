"""Which observation would teach most."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.evidence import MEASURED_SD_M, PULL_LOG_SD, Fished
from leadsman.calibrate.likelihood import LOG_DEPTH_PER_BOAT_SPEED, MODEL_LOG_SD, TICK_OVERRUN
from leadsman.calibrate.posterior import GridBelief
from leadsman.calibrate.tune import Reference
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.lure_forces import LureForces

FloatArray = npt.NDArray[np.float64]

DRAWS = 48
"""Lures drawn from the belief [-]."""
BAND_90 = 3.2897
"""Full width of the 90 % band of a normal law, in standard deviations [-]."""
LOG_DEPTH_PER_LOG_CAST = 0.8
LOG_DEPTH_PER_TIP_M = 0.1
LOG_DEPTH_PER_LOG_DIAMETER = 0.34
"""Usual slopes of ln depth by ln cast [-], tip height [m-1] and ln diameter [-]; own trial,
good enough to plan an observation with."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """An observation that could be made.

    Parameters
    ----------
    kind : {"ticked", "measured", "pull"}
        What to look for [-].
    label : str
        How a person would say it [-].
    fished : Fished or None
        Line, cast and rod; None for a pull [-].
    """

    kind: Literal["ticked", "measured", "pull"]
    label: str
    fished: Fished | None


@dataclass(frozen=True, slots=True)
class Suggestion:
    """What a candidate would teach.

    Parameters
    ----------
    candidate : Candidate
        The observation [-].
    gain_m : float
        How much narrower the 90 % depth bands of the wanted setups would
        become, on average [m].
    expected_m : float or None
        Depth it is expected at; None for a pull [m].
    """

    candidate: Candidate
    gain_m: float
    expected_m: float | None


def next_observations(
    belief: GridBelief,
    candidates: Sequence[Candidate],
    wanted: Sequence[Reference],
    seed: int = 1,
) -> tuple[Suggestion, ...]:
    """Rank observations by what they would teach, most first.

    Bands after an observation are taken from the covariance of the depths over
    draws of the belief, as if all were jointly normal: var(after) = var -
    cov^2 / (var of the observed depth + its noise^2). Own derivation.

    Parameters
    ----------
    belief : GridBelief
        What is believed of the lure [-].
    candidates : sequence of Candidate
        Observations that could be made [-].
    wanted : sequence of Reference
        Setups whose depth should become known [-].
    seed : int
        Seed of the draws [-].
    """
    if not candidates or not wanted:
        return ()
    lures, laws, angles, log_areas = _draws(belief, seed)
    targets = np.stack([_depths(lures, laws, item) for item in wanted])
    targets = targets - targets.mean(axis=1, keepdims=True)
    before = targets.std(axis=1)
    found = []
    for candidate in candidates:
        if candidate.fished is None:
            seen = log_areas - np.log(np.cos(angles))
            noise, expected = PULL_LOG_SD, None
        else:
            fished = candidate.fished
            seen = _depths(lures, laws, Reference(fished.line, fished.technique))
            expected = float(seen.mean())
            noise = _noise_m(candidate, expected)
        seen = seen - seen.mean()
        variance = float(seen @ seen) / DRAWS
        shared = targets @ seen / DRAWS
        left = np.sqrt(np.maximum(before**2 - shared**2 / (variance + noise**2), 0.0))
        gain = BAND_90 * float(np.mean(before - left))
        found.append(Suggestion(candidate, gain, expected))
    return tuple(sorted(found, key=lambda item: -item.gain_m))


def _draws(
    belief: GridBelief, seed: int
) -> tuple[list[LureForces], list[DragLaw], FloatArray, FloatArray]:
    """Systematic draws of the whole joint belief."""
    rng = np.random.default_rng(seed)
    flat = belief.weight.ravel()
    chosen = np.searchsorted(
        np.cumsum(flat) / flat.sum(), (np.arange(DRAWS) + rng.uniform()) / DRAWS
    )
    c, a, s = np.unravel_index(np.minimum(chosen, flat.size - 1), belief.weight.shape)
    grid = belief.grid
    angles, log_areas = grid.angle_rad[a], grid.log_area[s]
    lures: list[LureForces] = [
        replace(belief.centre, dive_angle_rad=float(x), pull_area_m2=math.exp(y))
        for x, y in zip(angles, log_areas, strict=True)
    ]
    laws = [DragLaw(normal_factor=math.exp(x)) for x in grid.log_drag[c]]
    return lures, laws, angles, log_areas


def _depths(lures: list[LureForces], laws: list[DragLaw], on: Reference) -> FloatArray:
    from leadsman.hydro.retrieve import retrieve_batch

    batch = retrieve_batch(lures, on.line, on.technique, drags=laws, samples=2)
    depth = batch.max_depth_m
    return np.where(batch.solved, depth, np.nanmean(depth[batch.solved]))


def _noise_m(candidate: Candidate, depth_m: float) -> float:
    assert candidate.fished is not None
    fished = candidate.fished
    by_cast = math.hypot(
        LOG_DEPTH_PER_LOG_CAST * fished.cast_log_sd,
        LOG_DEPTH_PER_TIP_M * fished.tip_sd_m,
        LOG_DEPTH_PER_BOAT_SPEED * fished.boat_sd_m_s,
    ) / math.sqrt(fished.casts)
    overrun = TICK_OVERRUN if candidate.kind == "ticked" else 0.0
    share = math.hypot(
        by_cast, MODEL_LOG_SD, overrun, LOG_DEPTH_PER_LOG_DIAMETER * fished.diameter_log_sd
    )
    return math.hypot(share * depth_m, MEASURED_SD_M)
