"""What the retrieve kernel takes: tackle, technique and bottom as plain arrays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import TABLE_SIZE, DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Step, Technique
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

KINK_ROUNDING_M = 0.05
"""Half of the length over which a kink of the bottom is rounded under the lure [m].

Own choice, about the length of a lip; less where kinks lie closer.
"""

STIFFEST_PA = 1e12
"""A line that does not stretch is solved with this modulus [Pa].

At 2 N that is a strain of 3e-5 in a line of 0.3 mm and of 3e-4 in one of 0.1 mm.
"""

FOREVER_S = 1e18
"""End of a step that has none [s]."""

NO_BOTTOM_M = 1e9
"""Depth of the bottom where there is none to touch [m]."""

BLANK_TABLE = 1
"""Row of `tables` for constant coefficients [-]."""


@lru_cache(maxsize=1)
def tables() -> FloatArray:
    """C_n of the published fit, and 1 for constant coefficients; factors are applied inside.

    Returns
    -------
    ndarray, shape (2, TABLE_SIZE)
        C_n on the grid of `leadsman.hydro.drag` [-].
    """
    return np.vstack([DragLaw().normal_table(), np.ones(TABLE_SIZE)])


def parameters(
    lure: LureForces,
    line: LineProperties,
    technique: Technique,
    bottom: BottomProfile | None,
    water: Water,
    drag: DragLaw,
) -> FloatArray:
    """The parameter vector of one retrieve, in the kernel's order.

    Parameters
    ----------
    lure : LureForces
        The lure [-].
    line : LineProperties
        The line [-].
    technique : Technique
        Cast, boat and reel are taken from it [-].
    bottom : BottomProfile or None
        Friction is taken from it [-].
    water : Water
        The water [-].
    drag : DragLaw
        Drag of the line [-].

    Returns
    -------
    ndarray, shape (N_PAR,)
        As the kernel lists them, SI units.
    """
    constant = drag.normal_constant
    reel = technique.take_up
    return np.array(
        [
            lure.dive_angle_rad,
            lure.pull_area_m2,
            lure.mass_kg + lure.added_mass_kg,
            lure.buoyancy_n,
            lure.trim_speed_loss_rad_m2_s2,
            line.diameter_m,
            line.density_kg_m3,
            1.0 / (min(line.modulus_pa, STIFFEST_PA) * line.section_m2),
            drag.normal_factor * (1.0 if constant is None else constant),
            drag.tangential,
            technique.cast_m,
            technique.boat_m_s,
            water.density_kg_m3,
            water.viscosity_pa_s,
            bottom.friction if bottom is not None else 0.0,
            reel.full_m if reel else 0.0,
            reel.half_m if reel else 0.0,
            reel.capacity_m if reel else 1.0,
            1.0,
            1.0,
            0 if constant is None else BLANK_TABLE,
        ]
    )


def kinks(bottom: BottomProfile | None) -> FloatArray:
    """Kinks of the bottom with a far point at each end.

    Parameters
    ----------
    bottom : BottomProfile or None
        The bottom; None for deep water [-].

    Returns
    -------
    ndarray, shape (3, n + 2)
        Distance, depth, and half of the length over which each is rounded [m].
    """
    if bottom is None:
        return np.array([[-1e5, 1e5], [NO_BOTTOM_M, NO_BOTTOM_M], [0.0, 0.0]])
    x = np.concatenate([[bottom.x_m[0] - 1e5], bottom.x_m, [bottom.x_m[-1] + 1e5]])
    depth = np.concatenate([bottom.depth_m[:1], bottom.depth_m, bottom.depth_m[-1:]])
    half = np.zeros(x.size)
    gaps = np.diff(x)
    half[1:-1] = np.minimum(KINK_ROUNDING_M, 0.4 * np.minimum(gaps[:-1], gaps[1:]))
    return np.stack([x, depth, half])


@lru_cache(maxsize=4096)
def script(technique: Technique) -> FloatArray:
    """The steps of a technique, and a last row that reels until the lure is home.

    Parameters
    ----------
    technique : Technique
        How the cast is fished [-].

    Returns
    -------
    ndarray, shape (n, 6)
        End time [s], speed [m s-1 or turn s-1], tip height from and to [m], pull-back from
        and to [m]. A step without an end moves the tip over the time that the whole cast
        takes at its speed.
    """
    rows: list[tuple[float, float, float, float, float, float]] = []
    time = 0.0
    height = technique.tip_m
    back = 0.0
    last_speed = 0.0
    for step in technique.steps:
        end_height = height if step.tip_m is None else step.tip_m
        end_back = back + step.pull_back_m
        if step.kind == "reel":
            last_speed = step.speed_m_s
        seconds = step.seconds
        if math.isinf(seconds) and (end_height, end_back) == (height, back):
            break
        if math.isinf(seconds):
            # the tip goes evenly over the time that the whole cast takes
            seconds = _whole_cast_s(technique, step)
        time += seconds
        speed = 0.0 if step.kind == "stop" else step.speed_m_s
        rows.append((time, speed, height, end_height, back, end_back))
        height, back = end_height, end_back
        if math.isinf(step.seconds):
            break
    rows.append((FOREVER_S, last_speed, height, height, back, back))
    return np.array(rows)


def _whole_cast_s(technique: Technique, step: Step) -> float:
    per_turn = technique.take_up.per_turn_m(technique.cast_m) if technique.take_up else 1.0
    return technique.cast_m / (step.speed_m_s * per_turn)


def pack_scripts(techniques: Sequence[Technique]) -> tuple[FloatArray, IntArray, IntArray]:
    """All scripts under each other.

    Parameters
    ----------
    techniques : sequence of Technique
        One for each retrieve; the same object is packed once [-].

    Returns
    -------
    scripts : ndarray, shape (n, 6)
        Rows as of `script`.
    rows : ndarray of int, shape (k + 1,)
        Script k is scripts[rows[k]:rows[k + 1]] [-].
    which : ndarray of int, shape (b,)
        The script of each retrieve [-].
    """
    place: dict[int, int] = {}
    scripts: list[FloatArray] = []
    which = np.empty(len(techniques), dtype=np.int64)
    for i, technique in enumerate(techniques):
        known = place.get(id(technique))
        if known is None:
            known = place[id(technique)] = len(scripts)
            scripts.append(script(technique))
        which[i] = known
    rows = np.zeros(len(scripts) + 1, dtype=np.int64)
    rows[1:] = np.cumsum([script.shape[0] for script in scripts])
    return np.vstack(scripts), rows, which
