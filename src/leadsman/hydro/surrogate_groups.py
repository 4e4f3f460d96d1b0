"""Dimensionless groups of a free retrieve, and the range the surrogate is fitted for.

With lengths in the line out at the start L, speeds in the reel speed v and forces in
``q = 1/2 rho S_D v^2`` the path of a free retrieve depends on the groups below and on nothing
else that matters (Buckingham's theorem; see docs/surrogate.md).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.hydro import retrieve_kernel as solver
from leadsman.hydro.drag import normal_drag_cheng
from leadsman.hydro.surrogate_kernel import N_BASE, chord_angles

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

STATIONS = 40
LEAST_LINE = 0.03
"""Last station: part of the line out at the start that is then left [-]."""


def station_parts() -> FloatArray:
    """Parts of the line left at which the path is given, falling from 1, shape (STATIONS,)."""
    parts = 1.0 - (1.0 - LEAST_LINE) * np.linspace(0.0, 1.0, STATIONS) ** 1.4
    return np.asarray(parts, dtype=np.float64)


RANGE: dict[str, tuple[float, float]] = {
    "dive angle [rad]": (math.radians(5.0), math.radians(49.0)),
    "pull area [m2]": (2.2e-4, 48e-4),
    "line diameter [m]": (0.125e-3, 0.48e-3),
    "line density [kg m-3]": (945.0, 1850.0),
    "cast [m]": (8.5, 74.0),
    "tip height [m]": (-2.2, 3.7),
    "tip height over line out [-]": (-0.097, 0.126),
    "reel speed [m s-1]": (0.52, 2.45),
    "factor on C_n [-]": (0.62, 1.95),
    "C_t [-]": (0.0015, 0.028),
    "K, drag of the line over the lure's [-]": (0.0, 32.0),
    "viscosity over density [m2 s-1]": (0.78e-6, 1.85e-6),
    "buoyancy over q [-]": (-0.1, 0.2),
    "trim loss c / v^2 [rad]": (0.0, 0.08),
    "weight of the line in air over q [-]": (0.0, 0.2),
    "drag along the line over the lure's [-]": (0.0, 1.0),
    "boat speed over reel speed [-]": (-0.2, 0.2),
    "stretch under q [-]": (0.0, 0.055),
    "mass over that of a water column S_D L [-]": (0.0, 0.02),
    "dive angle left by buoyancy and trim [-]": (0.6, 1.6),
    "depth over line out, first guess [-]": (0.03, 1.0),
    "depth, first guess [m]": (0.7, 60.0),
}
"""Where the surrogate holds: everything in its range at once; elsewhere the solver is used."""


@dataclass(frozen=True, slots=True)
class Groups:
    """Groups of many free retrieves with one reel speed and one tip height each.

    Parameters
    ----------
    features : ndarray, shape (n, 14)
        What the fitted correction sees [-].
    angle_rad : ndarray, shape (n, STATIONS)
        First guess of the chord's angle below the horizontal [rad].
    depth : ndarray, shape (n,)
        First guess of the greatest depth over the line out [-].
    inside : ndarray of bool, shape (n,)
        Whether everything is in `RANGE` [-].
    line_m : ndarray, shape (n,)
        Distance from tip to lure at the start, L [m].
    stretch : ndarray, shape (n,)
        Stretch under the pull q [-].
    """

    features: FloatArray
    angle_rad: FloatArray
    depth: FloatArray
    inside: BoolArray
    line_m: FloatArray
    stretch: FloatArray


def first_guess_depth(angle_rad: FloatArray, tip: FloatArray) -> FloatArray:
    """Greatest depth over line out of chords that shorten by the stations.

    Parameters
    ----------
    angle_rad : ndarray, shape (n, STATIONS)
        Angle of the chord below the horizontal [rad].
    tip : ndarray, shape (n,)
        Height of the tip over the line out [-].
    """
    depth = station_parts() * np.sin(angle_rad) - tip[:, None]
    passed = np.maximum.accumulate(angle_rad, axis=1) > 0.5 * math.pi
    return np.asarray(np.where(passed, -1.0, depth).max(axis=1), dtype=np.float64)


def groups_of(
    pars: FloatArray,
    tip_m: FloatArray,
    speed_m_s: FloatArray,
    margin: float = 0.0,
) -> Groups:
    """Groups from the solver's own parameter vectors.

    Parameters
    ----------
    pars : ndarray, shape (n, N_PAR)
        Parameter vectors of `leadsman.hydro.retrieve_inputs.parameters` [SI].
    tip_m : ndarray, shape (n,)
        Height of the rod tip [m].
    speed_m_s : ndarray, shape (n,)
        Reel speed [m s-1].
    margin : float
        Part of its width by which each range is widened on both sides; the fit is
        made with a margin, so that its range ends inside of what it has seen [-].
    """
    delta, area = pars[:, solver.DELTA], pars[:, solver.PULL_AREA]
    diameter, density = pars[:, solver.DIAMETER], pars[:, solver.LINE_DENSITY]
    water, cast = pars[:, solver.WATER_DENSITY], pars[:, solver.CAST]
    factor, tangential = pars[:, solver.CN_FACTOR], pars[:, solver.CT]
    viscosity = pars[:, solver.VISCOSITY] / water
    line = np.hypot(cast, tip_m)
    q = 0.5 * water * area * speed_m_s**2
    section = 0.25 * math.pi * diameter**2
    # Reynolds number half way to the lure, where the line moves across at half of its speed
    re = speed_m_s * diameter / viscosity * 0.5 * np.tan(np.maximum(delta, 0.03))
    k = factor * normal_drag_cheng(re) * diameter * line / area
    trim = pars[:, solver.TRIM_LOSS] / speed_m_s**2
    tip = tip_m / line
    buoyancy = pars[:, solver.BUOYANCY] / q
    in_air = density * solver.G * section * line / q
    weight = (density - water) * solver.G * section * line / q
    along = tangential * math.pi * diameter * line / area
    boat = pars[:, solver.BOAT] / speed_m_s
    stretch = q * pars[:, solver.COMPLIANCE]
    mass = pars[:, solver.MASS] / (water * area * line)
    base = np.empty((delta.size, N_BASE))
    for column, values in enumerate((delta, trim, k, tip, buoyancy, weight, boat, stretch)):
        base[:, column] = values
    angle = np.empty((delta.size, STATIONS))
    dive = chord_angles(base, station_parts(), angle)
    depth = first_guess_depth(angle, tip)
    checked = (
        delta, area, diameter, density, cast, tip_m, tip, speed_m_s, factor, tangential, k,
        viscosity, buoyancy, trim, in_air, along, boat, stretch, mass, dive / delta, depth,
        depth * line,
    )  # fmt: skip
    inside = pars[:, solver.CN_TABLE] == 0.0
    for values, (low, high) in zip(checked, RANGE.values(), strict=True):
        wider = margin * (high - low)
        inside &= (values >= low - wider) & (values <= high + wider)
    features = np.column_stack(
        (
            dive,
            np.sqrt(trim + 1e-3),
            np.log(k),
            np.log(re),
            tip,
            buoyancy,
            weight,
            np.sqrt(in_air),
            np.sqrt(along),
            boat,
            np.sqrt(stretch + 1e-4),
            np.sqrt(mass),
            np.log(np.maximum(depth, 1e-3)),
            delta,
        )
    )
    return Groups(features, angle, depth, inside, line, stretch)
