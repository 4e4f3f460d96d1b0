"""A lure's two numbers before anything was observed: from its size and its package.

Pull area from size, dive angle from the rated depth by solving the retrieve of
the stated or assumed test. The spread of the test becomes the spread of the
angle; own derivation, see docs/first-fit.md.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from leadsman.calibrate.depth_test import RATING_LOG_SD, AssumedTest, fill_test
from leadsman.calibrate.forward import DepthModel, free_max_depth_m
from leadsman.calibrate.lure_geometry import (
    LOG_PULL_AREA_SD,
    UNRATED_ANGLE_SD_RAD,
    added_mass_kg,
    buoyancy_from_balance_n,
    buoyancy_sd_n,
    dive_angle_from_size_rad,
    pull_area_from_size_m2,
)
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Technique
from leadsman.tackle.lure import Lure, RatedDepth

Basis = Literal["rated depth", "size only", "given"]

GIVEN_ANGLE_SD_RAD = math.radians(1.0)
"""Spread of a dive angle that the kit gives [rad]; our estimate."""
GIVEN_LOG_AREA_SD = 0.10
"""Spread of ln of a pull area that the kit gives [-]; our estimate."""
TRIM_SPEED_LOSS_SD_RAD_M2_S2 = 0.02
"""Spread of c in delta(v) = delta - c / v^2 [rad m2 s-2]; our estimate: 0.7 deg at 1.3 m/s."""
ANGLE_MIN_RAD = math.radians(0.2)
ANGLE_MAX_RAD = math.radians(70.0)
"""Dive angles that are tried [rad]."""
DEPTH_TOLERANCE = 1e-3
"""How near the rated depth the fit comes [-]."""


@dataclass(frozen=True, slots=True)
class LureFit:
    """A lure's numbers with their uncertainty, before observations.

    ``(delta, ln S_D)`` is jointly normal with the stated spreads and
    correlation; buoyancy and trim loss are independent of them.

    Parameters
    ----------
    forces : LureForces
        Centre [-].
    dive_angle_sd_rad : float
        Standard deviation of the dive angle [rad].
    log_pull_area_sd : float
        Standard deviation of ln S_D [-].
    correlation : float
        Correlation of the two: at one rated depth a lure that pulls less
        must dive at a steeper angle [-].
    angle_per_log_drag_rad : float
        How much greater the dive angle must be for the same rated depth if
        the line's C_n is greater, per unit of ln C_n; 0 without a rating [rad].
    buoyancy_sd_n : float
        Standard deviation of the net buoyancy [N].
    trim_speed_loss_sd_rad_m2_s2 : float
        Standard deviation of the trim loss at low speed [rad m2 s-2].
    basis : {"rated depth", "size only", "given"}
        What the dive angle rests on [-].
    rated_depth_m : float or None
        Rated depth that was fitted [m].
    test : AssumedTest or None
        Test it was fitted under [-].
    reached : bool
        False if no dive angle reaches the rated depth under that test, which
        then gives the deepest that can be [-].
    """

    forces: LureForces
    dive_angle_sd_rad: float
    log_pull_area_sd: float
    correlation: float
    angle_per_log_drag_rad: float
    buoyancy_sd_n: float
    trim_speed_loss_sd_rad_m2_s2: float
    basis: Basis
    rated_depth_m: float | None = None
    test: AssumedTest | None = None
    reached: bool = True


def first_fit(lure: Lure, depth_model: DepthModel = free_max_depth_m) -> LureFit:
    """A lure's numbers from its size and package.

    Parameters
    ----------
    lure : Lure
        Lure [-].
    depth_model : callable
        Greatest depth of a retrieve; the solver unless told otherwise [-].

    Returns
    -------
    LureFit
        Centre and spread.
    """
    pull_area = lure.pull_area_m2 or pull_area_from_size_m2(lure)
    log_area_sd = LOG_PULL_AREA_SD if lure.pull_area_m2 is None else GIVEN_LOG_AREA_SD
    forces = LureForces(
        dive_angle_rad=lure.dive_angle_rad or dive_angle_from_size_rad(lure),
        pull_area_m2=pull_area,
        mass_kg=lure.mass_kg,
        buoyancy_n=buoyancy_from_balance_n(lure),
        added_mass_kg=added_mass_kg(lure),
    )
    plain = LureFit(
        forces=forces,
        dive_angle_sd_rad=UNRATED_ANGLE_SD_RAD,
        log_pull_area_sd=log_area_sd,
        correlation=0.0,
        angle_per_log_drag_rad=0.0,
        buoyancy_sd_n=buoyancy_sd_n(lure),
        trim_speed_loss_sd_rad_m2_s2=TRIM_SPEED_LOSS_SD_RAD_M2_S2,
        basis="size only",
    )
    if lure.dive_angle_rad is not None:
        return replace(plain, dive_angle_sd_rad=GIVEN_ANGLE_SD_RAD, basis="given")
    if lure.rated is None:
        return plain
    return _fit_rating(plain, lure.rated, fill_test(lure.rated.test, lure.mass_kg), depth_model)


def _fit_rating(
    plain: LureFit, rated: RatedDepth, test: AssumedTest, depth_model: DepthModel
) -> LureFit:
    """Dive angle for a rated depth, and its spread by the derivatives of the depth."""
    drag = DragLaw()
    target_m = 0.5 * (rated.shallow_m + rated.deep_m)
    angle, reached = solve_dive_angle(plain.forces, test, target_m, depth_model)
    forces = replace(plain.forces, dive_angle_rad=angle)
    line, way = test.line, test.technique

    def depth(
        d_angle: float = 0.0, d_area: float = 0.0, d_dia: float = 0.0, d_cast: float = 0.0,
        d_tip: float = 0.0, d_drag: float = 0.0,
    ) -> float:  # fmt: skip
        return depth_model(
            replace(
                forces,
                dive_angle_rad=angle + d_angle,
                pull_area_m2=forces.pull_area_m2 * math.exp(d_area),
            ),
            replace(line, diameter_m=line.diameter_m * math.exp(d_dia)),
            _moved(way, d_cast, d_tip),
            replace(drag, normal_factor=math.exp(d_drag)),
        )

    step = max(0.02 * angle, 1e-3)
    centre = depth()
    per_angle = (depth(d_angle=step) - centre) / step
    per_angle = max(per_angle, 1e-3)
    per_area = (depth(d_area=0.1) - centre) / 0.1
    parts = (
        (depth(d_dia=0.05) - centre) / 0.05 * test.diameter_log_sd,
        (depth(d_cast=0.05) - centre) / 0.05 * test.cast_log_sd,
        (depth(d_tip=0.1) - centre) / 0.1 * test.tip_sd_m,
        max(RATING_LOG_SD * target_m, 0.1),
        0.25 * (rated.deep_m - rated.shallow_m),
    )
    own_sd = math.sqrt(sum(part**2 for part in parts)) / per_angle
    own_sd = min(own_sd, math.radians(15.0))
    shared_sd = per_area / per_angle * plain.log_pull_area_sd
    total = math.hypot(own_sd, shared_sd)
    return replace(
        plain,
        forces=forces,
        dive_angle_sd_rad=total,
        correlation=-shared_sd / total,
        angle_per_log_drag_rad=-(depth(d_drag=0.1) - centre) / 0.1 / per_angle,
        basis="rated depth",
        rated_depth_m=target_m,
        test=test,
        reached=reached,
    )


def _moved(way: Technique, d_log_cast: float, d_tip_m: float) -> Technique:
    return replace(way, cast_m=way.cast_m * math.exp(d_log_cast), tip_m=way.tip_m + d_tip_m)


def solve_dive_angle(
    forces: LureForces,
    test: AssumedTest,
    depth_m: float,
    depth_model: DepthModel = free_max_depth_m,
    drag: DragLaw | None = None,
) -> tuple[float, bool]:
    """Dive angle at which a lure reaches one depth under a test.

    Parameters
    ----------
    forces : LureForces
        Lure; its dive angle is where the search starts [-].
    test : AssumedTest
        Line, cast, rod position [-].
    depth_m : float
        Depth to reach [m].
    depth_model : callable
        Greatest depth of a retrieve [-].
    drag : DragLaw or None
        Drag of the line [-].

    Returns
    -------
    angle_rad : float
        Dive angle [rad].
    reached : bool
        False if the depth lies outside what any dive angle gives; the angle
        is then the end of the range [-].

    Notes
    -----
    Depth rises with the angle, so the root is bracketed and the Illinois rule
    (a safe secant, Dowell & Jarratt 1971, BIT 11:168, from memory) takes about
    five evaluations.
    """
    law = drag or DragLaw()

    def miss(angle: float) -> float:
        lure = replace(forces, dive_angle_rad=angle)
        return depth_model(lure, test.line, test.technique, law) - depth_m

    low, high = ANGLE_MIN_RAD, ANGLE_MAX_RAD
    start = min(max(_spiral_angle(depth_m, test.technique.cast_m) * 1.15, low * 2.0), 0.9 * high)
    f_start = miss(start)
    # step outward from a good start instead of solving at both far ends
    near, f_near = start, f_start
    other = near
    f_other = f_near
    while f_other * f_near > 0.0:
        near, f_near = other, f_other
        other = min(near * 1.4, high) if f_near < 0.0 else max(near / 1.4, low)
        f_other = miss(other)
        if f_other * f_near > 0.0 and other in (low, high):
            return other, False
    return _illinois(miss, near, f_near, other, f_other, DEPTH_TOLERANCE * max(depth_m, 0.3)), True


def _illinois(
    miss: Callable[[float], float], a: float, fa: float, b: float, fb: float, tolerance: float
) -> float:
    side = 0
    middle = b
    for _ in range(40):
        if abs(fa) < tolerance:
            return a
        if abs(fb) < tolerance:
            return b
        middle = (a * fb - b * fa) / (fb - fa)
        f_middle = miss(middle)
        if abs(f_middle) < tolerance:
            return middle
        if f_middle * fb > 0.0:
            b, fb = middle, f_middle
            fa, side = (0.5 * fa, -1) if side == -1 else (fa, -1)
        else:
            a, fa = middle, f_middle
            fb, side = (0.5 * fb, 1) if side == 1 else (fb, 1)
    return middle


def _spiral_angle(depth_m: float, cast_m: float) -> float:
    """Dive angle of the closed-form spiral R exp(-d cot d) sin d, to start the search [rad]."""
    low, high = 1e-3, 1.3
    for _ in range(30):
        middle = 0.5 * (low + high)
        reach = cast_m * math.exp(-middle / math.tan(middle)) * math.sin(middle)
        low, high = (middle, high) if reach < depth_m else (low, middle)
    return 0.5 * (low + high)
