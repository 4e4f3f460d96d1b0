"""The angler's own measured casts, and the thrower they make.

The fit is described in docs/cast-flight.md.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight_path import CALM, Wind
from leadsman.hydro.cast_flight_thrower import (
    CAST_SCATTER,
    CAST_SCATTER_WEIGHT,
    FITTED,
    GRIP_HEIGHT_M,
    LAUNCH_ANGLE_RAD,
    LURE_DRAG_LOG_SD,
    MOVING_MASS_ROD_M,
    Thrower,
    check_castable,
    shifted,
)

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class MeasuredCast:
    """One cast whose length was measured, or the mean of several.

    Parameters
    ----------
    lure_mass_kg : float
        Mass of the lure [kg].
    drag_area_m2 : float
        Drag area of the lure in the air [m2].
    length_m : float
        Horizontal distance from the angler to where the lure landed [m].
    wind : Wind
        Wind during the cast [-].
    rod_m : float
        Length of the rod [m].
    count : int
        Casts the length is the mean of [-].
    """

    lure_mass_kg: float
    drag_area_m2: float
    length_m: float
    wind: Wind = CALM
    rod_m: float = MOVING_MASS_ROD_M
    count: int = 1

    def __post_init__(self) -> None:
        check_castable(self.lure_mass_kg, self.drag_area_m2, self.rod_m)
        if not 3.0 <= self.length_m <= 250.0:
            raise TechniqueError(
                f"measured cast of {self.length_m:.4g} m is outside 3 to 250 m", "cast"
            )
        if self.count < 1:
            raise TechniqueError("a mean needs at least one cast", "cast")


def fit_thrower(
    casts: Sequence[MeasuredCast],
    angle_rad: float = LAUNCH_ANGLE_RAD,
    grip_height_m: float = GRIP_HEIGHT_M,
) -> Thrower:
    """Angler that throws as measured; what casts do not tell stays at its prior.

    The greatest posterior density over the four logarithms, by
    Gauss-Newton, with its Gaussian spread. The scatter is learned too.

    Parameters
    ----------
    casts : sequence of MeasuredCast
        Measured casts; none gives the prior [-].
    angle_rad : float
        Launch angle [rad].
    grip_height_m : float
        Height of the rod's grip above the water [m].

    Raises
    ------
    TechniqueError
        No launch in reason gives the measured lengths.
    """
    thrower = Thrower(angle_rad=angle_rad, grip_height_m=grip_height_m, casts=len(casts))
    if not casts:
        return thrower
    prior = np.array([getattr(thrower, name) for name in FITTED])
    information = np.linalg.inv(np.array(thrower.log_covariance))
    count = np.array([cast.count for cast in casts], dtype=np.float64)
    logs = np.zeros(len(FITTED))
    variance = CAST_SCATTER**2
    for _ in range(40):
        residual, slope = _residuals(thrower, casts)
        weight = count / (variance + count * (0.4 * LURE_DRAG_LOG_SD) ** 2)
        normal = information + slope.T @ (weight[:, None] * slope)
        step = np.linalg.solve(normal, slope.T @ (weight * residual) - information @ logs)
        step *= min(1.0, 0.7 / float(np.max(np.abs(step)) + 1e-300))
        logs = logs + step
        values = (prior * np.exp(logs)).tolist()
        thrower = replace(thrower, **dict(zip(FITTED, values, strict=True)))
        residual, _ = _residuals(thrower, casts, slopes=False)
        squares = float(np.sum(count * residual**2))
        variance = (CAST_SCATTER_WEIGHT * CAST_SCATTER**2 + squares) / (
            CAST_SCATTER_WEIGHT + len(casts)
        )
        if float(np.max(np.abs(step))) < 1e-9:
            break
    worst = int(np.argmax(np.abs(residual)))
    if abs(float(residual[worst])) > 0.5:
        raise TechniqueError(
            f"a measured cast of {casts[worst].length_m:.3g} m with a lure of "
            f"{casts[worst].lure_mass_kg * 1e3:.3g} g does not fit with the others",
            "measured cast",
            "Check its length, the lure's mass and the wind",
        )
    covariance = np.linalg.inv(normal)
    return replace(
        thrower,
        log_covariance=tuple(tuple(float(v) for v in row) for row in covariance),
        scatter=math.sqrt(variance),
    )


def _residuals(
    thrower: Thrower, casts: Sequence[MeasuredCast], slopes: bool = True
) -> tuple[FloatArray, FloatArray]:
    """ln(measured / computed) of each cast, and d ln(computed) / d logs, shape (n, 4)."""

    def log_reach(who: Thrower, cast: MeasuredCast) -> float:
        path = who.flight(cast.lure_mass_kg, cast.drag_area_m2, cast.wind, cast.rod_m)
        return math.log(max(math.hypot(path.ahead_m, path.left_m), 0.1))

    step = 1e-3
    residual = np.array([math.log(cast.length_m) - log_reach(thrower, cast) for cast in casts])
    slope = np.zeros((len(casts), len(FITTED)))
    if slopes:
        for i in range(len(FITTED)):
            up, down = shifted(thrower, i, step), shifted(thrower, i, -step)
            slope[:, i] = [(log_reach(up, c) - log_reach(down, c)) / (2.0 * step) for c in casts]
    return residual, slope
