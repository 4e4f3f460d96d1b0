"""Free retrieves in microseconds: a fitted surrogate of the solver, and the solver outside.

What the groups are, where it holds and how far it is off stands in docs/surrogate.md and is
measured by bench/surrogate.py. Steady retrieves in deep water only: one reel speed, one tip
height; a bottom, a script or constant drag coefficients are the solver's.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

import numpy as np
import numpy.typing as npt

from leadsman.errors import SolverError
from leadsman.hydro import retrieve_inputs as inputs
from leadsman.hydro import retrieve_kernel as solver
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.path_batch import PathBatch
from leadsman.hydro.retrieve import retrieve_batch
from leadsman.hydro.surrogate_groups import STATIONS, Groups, groups_of, station_parts
from leadsman.hydro.technique import TakeUp, Technique
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

SPOOL_AT = 0.65
"""Part of the cast still out at which a reel's speed is taken, its spool filling [-]."""

_DATA = "surrogate_data.npz"


@dataclass(frozen=True, slots=True)
class FreePaths:
    """Free paths by the surrogate, one row for each retrieve, from the cast to the tip.

    Parameters
    ----------
    t_s, x_m, depth_m, line_out_m, pull_n : ndarray, shape (n, STATIONS)
        Time [s], distance from the tip's place at the start [m], depth [m], unstretched line
        left [m] and pull at the lure [N]. Where the lure has passed under the tip or has come
        home the last sample stands.
    max_depth_m : ndarray, shape (n,)
        Greatest depth, from a fit of its own; the depths are scaled to it [m].
    inside : ndarray of bool, shape (n,)
        Whether the surrogate holds; where not, the row means nothing [-].
    """

    t_s: FloatArray
    x_m: FloatArray
    depth_m: FloatArray
    line_out_m: FloatArray
    pull_n: FloatArray
    max_depth_m: FloatArray
    inside: BoolArray


@dataclass(frozen=True, slots=True)
class _Fit:
    middle: FloatArray
    spread: FloatArray
    depth_layers: tuple[tuple[FloatArray, FloatArray], ...]
    path_layers: tuple[tuple[FloatArray, FloatArray], ...]
    angle_mean: FloatArray
    angle_axes: FloatArray
    chord_mean: FloatArray
    chord_axes: FloatArray


@lru_cache(maxsize=1)
def _fit() -> _Fit:
    with (
        resources.files("leadsman.hydro").joinpath(_DATA).open("rb") as file,
        np.load(file) as data,
    ):

        def layers(name: str) -> tuple[tuple[FloatArray, FloatArray], ...]:
            count = sum(key.startswith(f"{name}_w") for key in data.files)
            return tuple((data[f"{name}_w{k}"], data[f"{name}_b{k}"]) for k in range(count))

        return _Fit(
            data["middle"],
            data["spread"],
            layers("depth"),
            layers("path"),
            data["angle_mean"],
            data["angle_axes"],
            data["chord_mean"],
            data["chord_axes"],
        )


def _run(layers: tuple[tuple[FloatArray, FloatArray], ...], x: FloatArray) -> FloatArray:
    for weight, bias in layers[:-1]:
        x = np.tanh(x @ weight + bias)
    weight, bias = layers[-1]
    return x @ weight + bias


def _max_depth(groups: Groups) -> FloatArray:
    fit = _fit()
    x = (groups.features - fit.middle) / fit.spread
    correction = _run(fit.depth_layers, x)[:, 0]
    return np.asarray(np.exp(correction) * groups.depth * groups.line_m, dtype=np.float64)


def free_max_depths(
    pars: FloatArray, tip_m: FloatArray, speed_m_s: FloatArray
) -> tuple[FloatArray, BoolArray]:
    """Greatest depths of steady free retrieves.

    Parameters
    ----------
    pars : ndarray, shape (n, N_PAR)
        Parameter vectors as of `leadsman.hydro.retrieve_inputs.parameters` [SI].
    tip_m : ndarray, shape (n,)
        Height of the rod tip [m].
    speed_m_s : ndarray, shape (n,)
        Reel speed [m s-1].

    Returns
    -------
    max_depth_m : ndarray, shape (n,)
        Greatest depth; means nothing where not inside [m].
    inside : ndarray of bool, shape (n,)
        Whether the surrogate holds [-].
    """
    with np.errstate(all="ignore"):
        groups = groups_of(pars, tip_m, speed_m_s)
        return _max_depth(groups), groups.inside


def free_paths(pars: FloatArray, tip_m: FloatArray, speed_m_s: FloatArray) -> FreePaths:
    """Paths of steady free retrieves.

    Parameters
    ----------
    pars : ndarray, shape (n, N_PAR)
        Parameter vectors as of `leadsman.hydro.retrieve_inputs.parameters` [SI].
    tip_m : ndarray, shape (n,)
        Height of the rod tip [m].
    speed_m_s : ndarray, shape (n,)
        Reel speed [m s-1].
    """
    fit = _fit()
    with np.errstate(all="ignore"):
        groups = groups_of(pars, tip_m, speed_m_s)
        parts = station_parts()
        score = _run(fit.path_layers, (groups.features - fit.middle) / fit.spread)
        n_angle = fit.angle_axes.shape[0]
        angle = (fit.angle_mean + score[:, :n_angle] @ fit.angle_axes) / parts
        angle += groups.angle_rad
        chord = 1.0 + (fit.chord_mean + score[:, n_angle:] @ fit.chord_axes) / parts
        line = parts * groups.line_m[:, None]
        depth = chord * line * np.sin(angle) - tip_m[:, None]
        x = chord * line * np.cos(angle)
        start = 1.0 / (1.0 + groups.stretch)
        time = np.maximum(start[:, None] - parts, 0.0) * (groups.line_m / speed_m_s)[:, None]
        home = np.maximum(1.05 * np.abs(tip_m), 0.5)[:, None]
        _hold_end((angle > 0.5 * math.pi) | (line < home), depth, x, time, line)
        x += pars[:, solver.BOAT][:, None] * time
        depth[:, 0] = 0.0
        np.maximum(depth, 0.0, out=depth)
        deepest = _max_depth(groups)
        depth *= (deepest / np.maximum(depth.max(axis=1), 1e-9))[:, None]
        pull = _pull(pars, time, x, depth)
    return FreePaths(time, x, depth, line, pull, deepest, groups.inside)


def _hold_end(over: BoolArray, *curves: FloatArray) -> None:
    """Repeat the last sample before the end of each retrieve."""
    over = np.maximum.accumulate(over, axis=1)
    index = np.maximum.accumulate(np.where(over, 0, np.arange(STATIONS)), axis=1)
    for curve in curves:
        curve[:] = np.take_along_axis(curve, index, axis=1)


def _pull(pars: FloatArray, time: FloatArray, x: FloatArray, depth: FloatArray) -> FloatArray:
    """Pull that balances water and buoyancy at the lure's velocity, inertia left out."""
    step = np.maximum(np.diff(time, axis=1), 1e-9)
    vx, vz = np.diff(x, axis=1) / step, np.diff(depth, axis=1) / step
    speed = np.hypot(vx, vz)
    moving = speed > 1e-6
    speed = np.where(moving, speed, 1.0)
    drag = 0.5 * (pars[:, solver.WATER_DENSITY] * pars[:, solver.PULL_AREA])[:, None] * speed**2
    delta = pars[:, solver.DELTA][:, None] - pars[:, solver.TRIM_LOSS][:, None] / speed**2
    buoyancy = pars[:, solver.BUOYANCY][:, None]
    along = drag + buoyancy * vz / speed
    across = drag * np.tan(np.maximum(delta, 0.0)) + buoyancy * vx / speed
    pull = np.hypot(along, across)
    # the start and a held end have no velocity of their own
    index = np.maximum.accumulate(np.where(moving, np.arange(STATIONS - 1), 0), axis=1)
    pull = np.take_along_axis(pull, index, axis=1)
    middle = 0.5 * (pull[:, 1:] + pull[:, :-1])
    return np.concatenate((pull[:, :1], middle, pull[:, -1:]), axis=1)


def is_steady(technique: Technique) -> bool:
    """Whether a technique is one reel speed with the tip at one height.

    Parameters
    ----------
    technique : Technique
        How the cast is fished [-].
    """
    return bool(inputs.script(technique).shape[0] == 1)


def steady_speed_m_s(technique: Technique) -> float:
    """Reel speed of a steady retrieve; with a reel, that at `SPOOL_AT` of the cast [m s-1].

    Parameters
    ----------
    technique : Technique
        How the cast is fished [-].
    """
    speed = next(step.speed_m_s for step in technique.steps if step.kind == "reel")
    reel: TakeUp | None = technique.take_up
    return speed if reel is None else speed * reel.per_turn_m(SPOOL_AT * technique.cast_m)


def quick_retrieve_batch(
    lures: Sequence[LureForces],
    lines: Sequence[LineProperties],
    techniques: Sequence[Technique],
    water: Water | None = None,
    drags: Sequence[DragLaw] | None = None,
) -> PathBatch:
    """Free retrieves by the surrogate where it holds, by the solver elsewhere.

    Parameters
    ----------
    lures, lines, techniques : sequence of n
        One of each for each retrieve [-].
    water : Water or None
        The water; None for fresh water at 20 degC [-].
    drags : sequence of n DragLaw, or None
        Drag of the line; None for the published fit [-].

    Returns
    -------
    PathBatch
        n paths of `STATIONS` samples; ``max_depth_m`` is the depth of the deepest.

    Raises
    ------
    SolverError
        A retrieve outside of the surrogate's range could not be solved.
    """
    water = water or Water()
    laws = [DragLaw()] * len(lures) if drags is None else drags
    rows = zip(lures, lines, techniques, laws, strict=True)
    pars = np.array([inputs.parameters(*row[:3], None, water, row[3]) for row in rows])
    tip = np.array([technique.tip_m for technique in techniques])
    speed = np.array([steady_speed_m_s(technique) for technique in techniques])
    paths = free_paths(pars, tip, speed)
    inside = paths.inside & np.array([is_steady(technique) for technique in techniques])
    out = [paths.t_s, paths.x_m, paths.depth_m, paths.line_out_m, paths.pull_n]
    outside = np.flatnonzero(~inside).tolist()
    if outside:
        solved = retrieve_batch(
            [lures[i] for i in outside],
            [lines[i] for i in outside],
            [techniques[i] for i in outside],
            None,
            water,
            [laws[i] for i in outside],
            samples=STATIONS,
        )
        if not np.all(solved.solved):
            raise SolverError(f"{np.sum(~solved.solved)} retrieves could not be solved")
        depth = solved.depth_to_deepest_m
        own = (solved.t_s, solved.x_m, depth, solved.line_out_m, solved.pull_n)
        for curve, values in zip(out, own, strict=True):
            curve[outside] = values
    never = np.zeros(len(lures), dtype=np.bool_)
    return PathBatch(
        t_s=out[0],
        x_m=out[1],
        depth_m=out[2],
        line_out_m=out[3],
        pull_n=out[4],
        load=np.zeros_like(out[0]),
        line_touches=never,
        solved=~never,
    )
