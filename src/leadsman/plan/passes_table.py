"""The contact of one setup, computed once with the full solver and then looked up.

A lure on a line is nearly a first-order system along its way home. Let a be how much
steeper it would go down, if it could, than a level path. Running free it goes down at the
angle a; over a bottom that rises toward the boat at the angle b it presses on it with

    load = sin(a + b) / cos(delta)          (own derivation, see docs/passes.md)

and leaves it where that falls to 0. What is left is a itself: a function of the place, of
the depth, and of the slope of the path over the last few metres, as the line needs a while
to take a new shape. The full solver is run over a few hundred made-up bottoms, and at each
metre of the cast a is fitted as a polynomial of the other two.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError, SolverError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.technique import Technique
from leadsman.plan.candidates import LineOption, LureOption
from leadsman.plan.passes_fit import STEP_M, TERMS, ContactFit, along, lagged
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]

TRAINING_BOTTOMS = 240
"""Made-up bottoms the solver is run over [-]. Own choice: more changes the zone by under 0.5 %."""

LEVELS = 12
"""Sizes of error of the depth for which a table is kept [-]."""

LEAST_REL_SE, MOST_REL_SE = 0.01, 0.16
"""Range of those sizes, relative to the depth [-]."""

ROOT_3 = math.sqrt(3.0)
_SEED = 20_117


@dataclass(frozen=True, slots=True)
class PassSetup:
    """A setup and how it is fished: what a pass is cast with.

    Parameters
    ----------
    lure : LureOption
        The lure [-].
    line : LineOption
        The line [-].
    technique : Technique
        The retrieve, with the boat's own movement in it [-].
    rod : str
        Name of the rod, may be empty [-].
    rod_power_n : float
        Pull at which the rod is fully bent [N].
    how : str
        What to do with the rod, in words [-].
    """

    lure: LureOption
    line: LineOption
    technique: Technique
    rod: str = ""
    rod_power_n: float = 45.0
    how: str = ""

    def with_cast(self, cast_m: float, boat_m_s: float | None = None) -> PassSetup:
        """The same with another cast, and perhaps another movement of the boat.

        Parameters
        ----------
        cast_m : float
            Rod tip to lure [m].
        boat_m_s : float or None
            Velocity of the boat toward the lure; None keeps it [m s-1].
        """
        boat = self.technique.boat_m_s if boat_m_s is None else boat_m_s
        return replace(self, technique=replace(self.technique, cast_m=cast_m, boat_m_s=boat))


@dataclass(frozen=True, slots=True)
class ContactTable:
    """What a setup does over any gentle bottom, looked up in place of solved.

    Parameters
    ----------
    setup : PassSetup
        What it was made for [-].
    cast_m : float
        Rod tip to lure at the start; interval k runs from ``cast_m - k STEP_M`` one step
        toward the boat [m].
    coefficients : ndarray, shape (LEVELS, 3, n, 2, TERMS)
        Of the excess angle a, for each size of the error of the depth and each of the three
        nodes: as thought, shallower, deeper; on the bottom and running free [rad].
    keep : ndarray, shape (n,)
        Share of the lagged slope that is kept over each interval [-].
    cos_delta : ndarray, shape (LEVELS, 3)
        Cosine of the dive angle [-].
    rel_se : ndarray, shape (LEVELS,)
        The sizes of the error, relative to the depth [-].
    pull_n, line_out_m, time_s : ndarray, shape (n,)
        Usual pull [N], line left [m] and time since the start [s] in the middle of each interval.
    free_m : ndarray, shape (LEVELS, 3, n + 1, 2)
        Depth of the free path at the ends of the intervals [m], and its lagged slope [rad].
    tip_m : float
        Mean height of the tip, for whether the line touches [m].
    fit_rms_rad : float
        Root mean square error of a on the runs held back [rad].
    solves : int
        Runs of the full solver it took [-].
    """

    setup: PassSetup
    cast_m: float
    coefficients: FloatArray
    keep: FloatArray
    cos_delta: FloatArray
    rel_se: FloatArray
    pull_n: FloatArray
    line_out_m: FloatArray
    time_s: FloatArray
    free_m: FloatArray
    tip_m: float
    fit_rms_rad: float
    solves: int

    @property
    def intervals(self) -> int:
        """Number of intervals along the cast [-]."""
        return int(self.keep.size)

    @property
    def free_max_m(self) -> float:
        """Greatest free-running depth [m]."""
        return float(np.max(self.free_m[0, 0, :, 0]))

    @property
    def duration_s(self) -> float:
        """Time of a retrieve [s]."""
        return float(self.time_s[-1])


def contact_table(
    setup: PassSetup,
    water: Water | None = None,
    drag: DragLaw | None = None,
    bottoms: int = TRAINING_BOTTOMS,
) -> ContactTable:
    """Run the full solver over made-up bottoms and keep what it teaches.

    Parameters
    ----------
    setup : PassSetup
        The setup [-].
    water : Water or None
        The water [-].
    drag : DragLaw or None
        Drag of the line [-].
    bottoms : int
        Bottoms run over, for each of three dive angles [-].

    Raises
    ------
    PlanError
        The setup cannot be run over any bottom, such as a cast of a few metres.
    """
    water, drag = water or Water(), drag or DragLaw()
    lure = setup.lure.forces
    spread = ROOT_3 * MOST_REL_SE / _elasticity(setup, water, drag)
    free = _solve(setup, lure, None, water, drag)
    if free is None or free.max_depth_m < 0.2:
        raise PlanError(f"{setup.lure.name} does not dive on this cast", "cast")
    ground = _made_up_bottoms(free, setup.technique.cast_m, bottoms)
    fits = _fits(setup, free, ground, spread, water, drag)
    first = fits[0]
    n = min(fit.coefficients.shape[0] for fit in fits)
    rel_se = np.linspace(LEAST_REL_SE, MOST_REL_SE, LEVELS)
    middle, low, high = (fit.coefficients[:n] for fit in fits)
    coefficients = np.empty((LEVELS, 3, n, 2, TERMS))
    cosines = np.empty((LEVELS, 3))
    free_m = np.empty((LEVELS, 3, n + 1, 2))
    for i, rel in enumerate(rel_se):
        for k, node in enumerate((0.0, -1.0, 1.0)):
            u = node * rel / MOST_REL_SE
            bend = 0.5 * u * u * (high + low - 2.0 * middle)
            coefficients[i, k] = middle + 0.5 * u * (high - low) + bend
            cosines[i, k] = math.cos(lure.dive_angle_rad * (1.0 + u * spread))
            path = _solve(setup, _steeper(lure, 1.0 + u * spread), None, water, drag) if u else free
            free_m[i, k] = _free_nodes(path or free, setup.technique.cast_m, first.keep[:n])
    return ContactTable(
        setup=setup,
        cast_m=setup.technique.cast_m,
        coefficients=coefficients,
        keep=first.keep[:n],
        cos_delta=cosines,
        rel_se=rel_se,
        pull_n=first.pull_n[:n],
        line_out_m=first.line_out_m[:n],
        time_s=first.time_s[:n],
        free_m=free_m,
        tip_m=_mean_tip_m(setup.technique),
        fit_rms_rad=first.rms,
        solves=3 * bottoms + 2 * LEVELS + 5,
    )


def _fits(
    setup: PassSetup,
    free: Retrieve,
    ground: list[BottomProfile],
    spread: float,
    water: Water,
    drag: DragLaw,
) -> list[ContactFit]:
    """Fits for the lure as thought, flatter and steeper, with the lag of the first."""
    lure = setup.lure.forces
    made: list[ContactFit] = []
    for shift in (0.0, -spread, spread):
        angle = _steeper(lure, 1.0 + shift)
        # each dive angle meets bottoms around its own depth
        scale = _depth_ratio(setup, angle, free, water, drag) if shift else 1.0
        runs = _runs(setup, angle, [_scaled(b, scale) for b in ground], water, drag)
        lag = made[0].lag if made else None
        cos_delta = math.cos(angle.dive_angle_rad)
        made.append(ContactFit.of(runs, setup.technique.cast_m, cos_delta, lag))
    return made


def _free_nodes(free: Retrieve, cast_m: float, keep: FloatArray) -> FloatArray:
    """Depth [m] and lagged slope [rad] of a free path at the ends of the intervals."""
    nodes: FloatArray = np.asarray(cast_m - STEP_M * np.arange(keep.size + 1), dtype=np.float64)
    depth = along(free, nodes, free.depth_m)
    slope = np.arctan((depth[:-1] - depth[1:]) / STEP_M)
    memory = lagged(slope[None, :], keep)[0]
    return np.stack([depth, np.concatenate([slope[:1], memory])], axis=1)


def _mean_tip_m(technique: Technique) -> float:
    heights = [technique.tip_m, *(s.tip_m for s in technique.steps if s.tip_m is not None)]
    return float(np.mean(heights))


def _steeper(lure: LureForces, factor: float) -> LureForces:
    angle = min(max(lure.dive_angle_rad * factor, math.radians(0.5)), math.radians(84.0))
    return replace(lure, dive_angle_rad=angle)


def _solve(
    setup: PassSetup, lure: LureForces, bottom: BottomProfile | None, water: Water, drag: DragLaw
) -> Retrieve | None:
    from leadsman.hydro.retrieve import retrieve

    try:
        return retrieve(lure, setup.line.properties, setup.technique, bottom, water, drag)
    except SolverError:
        return None


def _elasticity(setup: PassSetup, water: Water, drag: DragLaw) -> float:
    """Ratio d log(depth) / d log(dive angle) of the free path, as in `match` [-]."""
    plain = _solve(setup, setup.lure.forces, None, water, drag)
    raised = _solve(setup, _steeper(setup.lure.forces, 1.1), None, water, drag)
    if plain is None or raised is None:
        return 1.0
    ratio = math.log(max(raised.max_depth_m, 1e-3) / max(plain.max_depth_m, 1e-3)) / math.log(1.1)
    return min(max(ratio, 0.3), 2.0)


def _depth_ratio(
    setup: PassSetup, lure: LureForces, free: Retrieve, water: Water, drag: DragLaw
) -> float:
    other = _solve(setup, lure, None, water, drag)
    return 1.0 if other is None else max(other.max_depth_m / free.max_depth_m, 0.2)


def _made_up_bottoms(free: Retrieve, cast_m: float, count: int) -> list[BottomProfile]:
    """Slanted and waved bottoms around the depths the lure can reach, the same each time."""
    rng = np.random.default_rng(_SEED)
    low = float(np.min(free.x_m))
    x = np.arange(math.floor(low) - 2.0, cast_m + 8.0, 1.0)
    deepest = free.max_depth_m
    made = []
    for _ in range(count):
        base = rng.uniform(0.12, 1.12) * deepest
        z = base + rng.normal(0.0, 0.06) * (x - cast_m * rng.uniform(0.1, 0.8))
        for _ in range(3):
            wave = 10.0 ** rng.uniform(math.log10(12.0), math.log10(90.0))
            rise = rng.normal(0.0, 0.04) * wave / (2.0 * math.pi)
            z = z + rise * np.sin(2.0 * math.pi * x / wave + rng.uniform(0.0, 2.0 * math.pi))
        made.append(BottomProfile(x, np.maximum(z, 0.3)))
    return made


def _scaled(bottom: BottomProfile, factor: float) -> BottomProfile:
    return bottom if factor == 1.0 else replace(bottom, depth_m=bottom.depth_m * factor)


def _runs(
    setup: PassSetup, lure: LureForces, bottoms: list[BottomProfile], water: Water, drag: DragLaw
) -> list[Retrieve]:
    with ThreadPoolExecutor(2) as pool:
        found = list(pool.map(lambda b: _solve(setup, lure, b, water, drag), bottoms))
    return [run for run in found if run is not None and not run.line_touches]
