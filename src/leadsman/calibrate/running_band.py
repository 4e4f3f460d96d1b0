"""The band around a running depth: how deep, how surely, and what the doubt comes from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.input_draws import GROUPS, INPUT_NAMES, draw_inputs
from leadsman.calibrate.input_spread import InputSpread, LureBelief
from leadsman.errors import SolverError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.path_batch import PathBatch
from leadsman.hydro.retrieve import retrieve_batch
from leadsman.hydro.technique import Technique
from leadsman.hydro.zone import ACCEPTABLE_LOAD, contact_zones, zones_in_band
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]

DRAWS = 256
"""Draws of a band unless told [-]: the ends of the 90 % band then hold still within some 2 %
of its width from seed to seed, see docs/bands.md."""

STATIONS = 25
"""Places along the cast where the depth has a band, unless told [-]."""

BOTTOM_SHIFTS = tuple(NormalDist().inv_cdf((k + 0.5) / 10.0) for k in range(10))
"""Shifts of an uncertain bottom, in its standard errors: the middles of ten equally likely
parts of the normal law, each for a tenth of the draws [-]."""

_LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)


@dataclass(frozen=True, slots=True)
class Band:
    """Middle, 50 % band and 90 % band of one figure.

    Parameters
    ----------
    median : float
        Half of the draws are below [unit of the figure].
    low_50, high_50 : float
        A quarter of the draws is below, a quarter above [unit of the figure].
    low_90, high_90 : float
        A twentieth of the draws is below, a twentieth above [unit of the figure].
    """

    median: float
    low_50: float
    high_50: float
    low_90: float
    high_90: float

    @classmethod
    def of(cls, draws: FloatArray) -> Band:
        """Band of equally likely draws.

        Parameters
        ----------
        draws : ndarray, shape (n,)
            Draws [unit of the figure].
        """
        low_90, low_50, median, high_50, high_90 = (float(q) for q in np.quantile(draws, _LEVELS))
        return cls(median, low_50, high_50, low_90, high_90)


@dataclass(frozen=True, slots=True)
class Share:
    """What one input adds to the doubt about the greatest depth.

    Parameters
    ----------
    name : str
        The input, as a person would say it [-].
    fraction : float
        Its part of the variance, 0 to 1; the parts add up to 1 [-].
    depth_sd_m : float
        Standard deviation of the depth if only this input were unknown [m].
    """

    name: str
    fraction: float
    depth_sd_m: float


@dataclass(frozen=True, slots=True)
class RunningBand:
    """How surely a setup runs as deep as it is said to.

    Parameters
    ----------
    max_depth_m : Band
        Greatest depth, free-running [m].
    x_m : ndarray, shape (m,)
        Places along the cast, from the rod tip at the start [m].
    depth_m : ndarray, shape (5, m)
        Depth there, over the bottom if there is one, at 5, 25, 50, 75 and 95 % of the
        draws; a draw counts as at the surface where its lure has not been yet [m].
    zone_m : Band or None
        Length of the zone; None if nothing to be in was given [m].
    first_contact_m : Band or None
        Metres the lure goes until it first touches, over the draws that do;
        None if fewer than half touch [m].
    touch_chance : float
        Part of the draws that touch the bottom [-].
    shares : tuple of Share
        What the doubt about the greatest depth comes from, largest first [-].
    draws : int
        Draws it is made of [-].
    """

    max_depth_m: Band
    x_m: FloatArray
    depth_m: FloatArray
    zone_m: Band | None
    first_contact_m: Band | None
    touch_chance: float
    shares: tuple[Share, ...]
    draws: int


def depth_shares(scores: FloatArray, depth_m: FloatArray) -> tuple[Share, ...]:
    """Divide the variance of a depth among its inputs.

    A sum of quadratics, one in each input, is fitted to the draws. With
    Hermite polynomials He1 = z and He2 = (z^2 - 1) / sqrt 2, orthonormal under the normal
    law, the variance of each input is the sum of its two squared coefficients. What is
    left is shared by several inputs and stands as "together" (first-order indices
    of Sobol 1993, Math. Model. Comput. Exp. 1:407, from memory).

    Parameters
    ----------
    scores : ndarray, shape (n, k)
        Normal scores in the order of `INPUT_NAMES` [-].
    depth_m : ndarray, shape (n,)
        Greatest depth of each draw [m].
    """
    basis = quadratics(scores)
    fit = np.asarray(np.linalg.lstsq(basis, depth_m, rcond=None)[0], dtype=np.float64)
    return shares_of_fit(fit, float(np.mean((depth_m - basis @ fit) ** 2)))


def quadratics(scores: FloatArray) -> FloatArray:
    """Basis of a sum of quadratics, one in each score, orthonormal under the normal law.

    Parameters
    ----------
    scores : ndarray, shape (n, k)
        Normal scores [-].

    Returns
    -------
    ndarray, shape (n, 2 k + 1)
        1, all He1, all He2 [-].
    """
    ones = np.ones((scores.shape[0], 1))
    return np.hstack((ones, scores, (scores**2 - 1.0) / np.sqrt(2.0)))


def shares_of_fit(fit: FloatArray, left_m2: float) -> tuple[Share, ...]:
    """Shares from the coefficients of `quadratics`.

    Parameters
    ----------
    fit : ndarray, shape (2 k + 1,)
        Coefficients, scores in the order of `INPUT_NAMES` [m].
    left_m2 : float
        Variance that the fit leaves [m2].
    """
    k = len(INPUT_NAMES)
    part = dict(zip(INPUT_NAMES, (fit[1 : k + 1] ** 2 + fit[k + 1 :] ** 2).tolist(), strict=True))
    variance = {name: sum(part[item] for item in items) for name, items in GROUPS.items()}
    variance["together"] = left_m2
    total = max(sum(variance.values()), 1e-300)
    shares = (Share(name, v / total, float(np.sqrt(v))) for name, v in variance.items())
    return tuple(sorted(shares, key=lambda share: -share.fraction))


def running_band(
    lure: LureBelief,
    line: LineProperties,
    technique: Technique,
    bottom: BottomProfile | None = None,
    water: Water | None = None,
    spread: InputSpread | None = None,
    drag: DragLaw | None = None,
    n: int = DRAWS,
    seed: int = 1,
    stations_m: FloatArray | None = None,
    target_m: tuple[float, float] | None = None,
    limit: float = ACCEPTABLE_LOAD,
) -> RunningBand:
    """Bands of depth and zone length of one setup, by the solver on every draw.

    Parameters
    ----------
    lure : LureBelief
        What is believed of the lure [-].
    line : LineProperties
        The line [-].
    technique : Technique
        How it is fished [-].
    bottom : BottomProfile or None
        The bottom, None for none; a standard error of its depth is drawn as
        one shift of the whole profile [-].
    water : Water or None
        The water [-].
    spread : InputSpread or None
        Spread of everything but the lure [-].
    drag : DragLaw or None
        Drag of the line at its middle [-].
    n : int
        Draws, even [-].
    seed : int
        Seed of the draws [-].
    stations_m : ndarray, shape (m,), or None
        Places along the cast to give a band of the depth at [m].
    target_m : tuple of float or None
        Depth band to be in; None asks for contact with the bottom [m].
    limit : float
        Largest acceptable contact load [-].

    Raises
    ------
    QuantityError
        The number of draws is odd or too small.
    """
    water = water or Water()
    drag = drag or DragLaw()
    draws = draw_inputs(lure, line, technique, drag, spread or InputSpread(), n, seed)
    inputs = [draws.retrieve_input(i, lure.centre, line, technique, drag) for i in range(n)]
    free = _solve(inputs, None, water)
    stations = (
        np.linspace(0.0, technique.cast_m, STATIONS) if stations_m is None else stations_m
    ).astype(np.float64)
    over = [(free, bottom)] if bottom is None else _solve_over(inputs, bottom, water)
    depth = np.vstack([depth_at_stations(paths, stations) for paths, _ in over])
    zone, reached = _zone_draws(over, target_m, limit)
    touched = np.isfinite(reached)
    chance = float(np.mean(touched)) if touched.size else 0.0
    return RunningBand(
        max_depth_m=Band.of(free.max_depth_m),
        x_m=stations,
        depth_m=np.quantile(depth, _LEVELS, axis=0),
        zone_m=None if zone is None else Band.of(zone),
        first_contact_m=Band.of(reached[touched]) if chance >= 0.5 else None,
        touch_chance=chance,
        shares=depth_shares(draws.scores, free.max_depth_m),
        draws=n,
    )


def _zone_draws(
    over: Sequence[tuple[PathBatch, BottomProfile | None]],
    target_m: tuple[float, float] | None,
    limit: float,
) -> tuple[FloatArray | None, FloatArray]:
    """Zone length of each draw, None if there is nothing to be in; metres to first contact."""
    measured = [contact_zones(paths, floor, (limit,)) for paths, floor in over if floor is not None]
    reached = np.concatenate([each.first_contact_m for each in measured] or [np.empty(0)])
    if target_m is not None:
        in_band = [zones_in_band(paths, *target_m, (limit,))[0][:, 0] for paths, _ in over]
        return np.concatenate(in_band), reached
    if measured:
        return np.concatenate([each.zone_m[:, 0] for each in measured]), reached
    return None, reached


def depth_at_stations(paths: PathBatch, stations_m: FloatArray) -> FloatArray:
    """Depth of each path at places along the cast.

    Parameters
    ----------
    paths : PathBatch
        Paths [-].
    stations_m : ndarray, shape (m,)
        Distances from the rod tip at the start [m].

    Returns
    -------
    ndarray, shape (b, m)
        Depth as the lure first comes by; 0 beyond where it started, and its last
        depth nearer than where it ended [m].
    """
    out = np.empty((len(paths), stations_m.size))
    for row in range(len(paths)):
        x = np.minimum.accumulate(paths.x_m[row])[::-1]
        out[row] = np.interp(stations_m, x, paths.depth_m[row][::-1], right=0.0)
    return out


Inputs = Sequence[tuple[LureForces, LineProperties, Technique, DragLaw]]


def _solve(inputs: Inputs, bottom: BottomProfile | None, water: Water) -> PathBatch:
    lures, lines, techniques, drags = zip(*inputs, strict=True)
    batch = retrieve_batch(lures, lines, techniques, bottom, water, drags)
    if not np.all(batch.solved):
        lost = int(np.sum(~batch.solved))
        raise SolverError(f"{lost} of {len(batch)} retrieves of a band could not be solved")
    return replace(batch.paths, depth_m=batch.depth_to_deepest_m)


def _solve_over(
    inputs: Inputs, bottom: BottomProfile, water: Water
) -> list[tuple[PathBatch, BottomProfile | None]]:
    """Paths over the bottom, over several shifts of it where its depth has an error."""
    if bottom.depth_se_m is None or not np.any(bottom.depth_se_m > 0.0):
        return [(_solve(inputs, bottom, water), bottom)]
    runs: list[tuple[PathBatch, BottomProfile | None]] = []
    for k, score in enumerate(BOTTOM_SHIFTS):
        depth = np.maximum(bottom.depth_m + score * bottom.depth_se_m, 0.0)
        floor = replace(bottom, depth_m=depth)
        runs.append((_solve(inputs[k :: len(BOTTOM_SHIFTS)], floor, water), floor))
    return runs
