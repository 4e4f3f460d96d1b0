"""Draws of every input of a retrieve, evenly spread over what is not known."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.input_spread import (
    TRIM_REFERENCE_SPEED_M_S,
    InputSpread,
    LureBelief,
)
from leadsman.errors import QuantityError
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Technique

FloatArray = npt.NDArray[np.float64]

INPUT_NAMES = (
    "dive angle",
    "pull area",
    "line diameter",
    "water's grip on the line",
    "line vibration",
    "drag along the line",
    "cast length",
    "rod tip height",
    "boat drift",
    "reel speed",
    "trim at low speed",
    "buoyancy",
)
"""What is drawn, in the order of the columns of the scores."""

GROUPS = {
    "lure": ("dive angle", "pull area", "trim at low speed", "buoyancy"),
    "line diameter": ("line diameter",),
    "drag of the line": (
        "water's grip on the line",
        "line vibration",
        "drag along the line",
    ),
    "cast length": ("cast length",),
    "rod tip height": ("rod tip height",),
    "boat drift": ("boat drift",),
    "reel speed": ("reel speed",),
}
"""The same, put together as a person would say them."""


@dataclass(frozen=True, slots=True)
class InputDraws:
    """Draws of every input of one retrieve, one row for each draw.

    Parameters
    ----------
    scores : ndarray, shape (n, k)
        Standard normal scores in the order of `INPUT_NAMES` [-].
    dive_angle_rad, pull_area_m2, trim_loss_rad_m2_s2, buoyancy_n : ndarray, shape (n,)
        The lure [rad], [m2], [rad m2 s-2], [N].
    diameter_m : ndarray, shape (n,)
        Line diameter [m].
    normal_factor, tangential : ndarray, shape (n,)
        Factor on C_n, and C_t [-].
    cast_m, tip_shift_m, boat_m_s, speed_factor : ndarray, shape (n,)
        Cast length [m], height added to the tip throughout [m], velocity of
        the boat [m s-1], factor on the reel speed [-].
    """

    scores: FloatArray
    dive_angle_rad: FloatArray
    pull_area_m2: FloatArray
    trim_loss_rad_m2_s2: FloatArray
    buoyancy_n: FloatArray
    diameter_m: FloatArray
    normal_factor: FloatArray
    tangential: FloatArray
    cast_m: FloatArray
    tip_shift_m: FloatArray
    boat_m_s: FloatArray
    speed_factor: FloatArray

    def __len__(self) -> int:
        return int(self.scores.shape[0])

    def retrieve_input(
        self,
        row: int,
        lure: LureForces,
        line: LineProperties,
        technique: Technique,
        drag: DragLaw,
    ) -> tuple[LureForces, LineProperties, Technique, DragLaw]:
        """One draw as the solver takes it.

        Parameters
        ----------
        row : int
            Which draw [-].
        lure, line, technique, drag : LureForces, LineProperties, Technique, DragLaw
            What the draws are around, for all that is not drawn [-].
        """
        shift, factor = float(self.tip_shift_m[row]), float(self.speed_factor[row])
        steps = tuple(
            replace(
                step,
                speed_m_s=min(step.speed_m_s * factor, 10.0),
                tip_m=None if step.tip_m is None else float(np.clip(step.tip_m + shift, -5, 10)),
            )
            for step in technique.steps
        )
        return (
            replace(
                lure,
                dive_angle_rad=float(self.dive_angle_rad[row]),
                pull_area_m2=float(self.pull_area_m2[row]),
                trim_speed_loss_rad_m2_s2=float(self.trim_loss_rad_m2_s2[row]),
                buoyancy_n=float(self.buoyancy_n[row]),
            ),
            replace(line, diameter_m=float(self.diameter_m[row])),
            replace(
                technique,
                cast_m=float(self.cast_m[row]),
                tip_m=float(np.clip(technique.tip_m + shift, -5.0, 10.0)),
                boat_m_s=float(self.boat_m_s[row]),
                steps=steps,
            ),
            replace(
                drag,
                normal_factor=float(self.normal_factor[row]),
                tangential=float(self.tangential[row]),
            ),
        )


def draw_inputs(
    lure: LureBelief,
    line: LineProperties,
    technique: Technique,
    drag: DragLaw,
    spread: InputSpread,
    n: int = 256,
    seed: int = 1,
) -> InputDraws:
    """Draw every input, evenly spread (Latin hypercube, mirrored, columns uncorrelated).

    Parameters
    ----------
    lure : LureBelief
        What is believed of the lure [-].
    line : LineProperties
        The line at its middle [-].
    technique : Technique
        How it is fished, at its middle [-].
    drag : DragLaw
        The drag law at its middle [-].
    spread : InputSpread
        Spread of all the rest [-].
    n : int
        Draws, even, at least 32 [-].
    seed : int
        Seed; the same seed moves smoothly with the inputs [-].

    Raises
    ------
    QuantityError
        `n` is odd or too small.
    """
    if n < 32 or n % 2:
        raise QuantityError(f"{n} draws are too few or odd", "draws", "Take an even number from 32")
    z = normal_scores(n, len(INPUT_NAMES), seed)
    column = {name: z[:, i] for i, name in enumerate(INPUT_NAMES)}
    exponential = _exponentials(n, len(INPUT_NAMES), seed)
    vibration = exponential[:, INPUT_NAMES.index("line vibration")]
    low_speed = exponential[:, INPUT_NAMES.index("trim at low speed")]
    log_drag = (
        math.log(spread.normal_centre)
        + spread.normal_log_sd * column["water's grip on the line"]
        + np.log1p(spread.vibration_rise_mean * vibration)
    )
    angle, area = lure.draw(z[:, :2], log_drag)
    trim = lure.trim_loss_mean_rad_m2_s2 * low_speed
    turn = trim * (np.cos(angle) / TRIM_REFERENCE_SPEED_M_S) ** 2
    return InputDraws(
        scores=z,
        dive_angle_rad=np.clip(angle + turn, 0.0, np.radians(84.0)),
        pull_area_m2=area,
        trim_loss_rad_m2_s2=np.clip(lure.centre.trim_speed_loss_rad_m2_s2 + trim, 0.0, 1.0),
        buoyancy_n=np.clip(
            lure.centre.buoyancy_n + lure.buoyancy_sd_n * column["buoyancy"], -5.0, 5.0
        ),
        diameter_m=np.clip(
            line.diameter_m * np.exp(spread.diameter_log_sd * column["line diameter"]), 2e-5, 5e-3
        ),
        normal_factor=drag.normal_factor * np.exp(log_drag),
        tangential=np.minimum(
            drag.tangential * np.exp(spread.tangential_log_sd * column["drag along the line"]), 1.0
        ),
        cast_m=np.clip(
            technique.cast_m * (1.0 + spread.cast_log_sd * column["cast length"]), 1.0, 200.0
        ),
        tip_shift_m=spread.tip_sd_m * column["rod tip height"],
        boat_m_s=np.clip(technique.boat_m_s + spread.boat_sd_m_s * column["boat drift"], -3.0, 3.0),
        speed_factor=np.exp(spread.speed_log_sd * column["reel speed"]),
    )


@functools.lru_cache(maxsize=8)
def normal_scores(n: int, k: int, seed: int) -> FloatArray:
    """Mirrored Latin hypercube of normal scores with uncorrelated columns.

    Parameters
    ----------
    n : int
        Draws, even [-].
    k : int
        Inputs [-].
    seed : int
        Seed [-].

    Returns
    -------
    ndarray, shape (n, k)
        Scores; read only, as they are kept for the next call [-].

    Notes
    -----
    Every column holds the same n quantiles of the normal law, one from each of n
    equally likely strata (McKay, Beckman & Conover 1979, Technometrics 21:239). Each row
    has its mirror image, so that odd effects cancel exactly, and the columns are
    made uncorrelated by the inverse Cholesky factor (after Iman & Conover 1982), both from
    memory.
    """
    half = n // 2
    normal = NormalDist()
    upper = np.array([normal.inv_cdf(0.5 + (i + 0.5) / n) for i in range(half)])
    rng = np.random.default_rng(seed)
    signs = rng.choice((-1.0, 1.0), size=(half, k))
    z = signs * upper[rng.permuted(np.tile(np.arange(half)[:, None], (1, k)), axis=0)]
    z = np.concatenate((z, -z))
    z = z @ np.linalg.inv(np.linalg.cholesky(z.T @ z / n)).T
    z.setflags(write=False)
    return z


@functools.lru_cache(maxsize=8)
def _exponentials(n: int, k: int, seed: int) -> FloatArray:
    """Exponential draws of mean 1 that rise with the scores, shape (n, k)."""
    # 1 - Phi(z) through erfc, without scipy, which would cost its import.
    tail = [0.5 * math.erfc(z / math.sqrt(2.0)) for z in normal_scores(n, k, seed).ravel().tolist()]
    draws: FloatArray = -np.log(np.maximum(np.array(tail), 1e-300)).reshape(n, k)
    draws.setflags(write=False)
    return draws
