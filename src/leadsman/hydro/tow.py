"""A line of fixed length towed steadily through still water."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from leadsman.errors import SolverError, TechniqueError
from leadsman.hydro.drag import LOG2_RE_MAX, LOG2_RE_MIN, TABLE_SIZE, DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]

GRAVITY_M_S2 = 9.81
"""Acceleration of gravity, rounded; it varies by 0.3 % over the earth [m s-2]."""

STEP_TOLERANCE = 1e-8
"""Error allowed in one step, of the tension and of the line length [-]."""

DRY_NODES = 9
"""Points by which the curve shows the line in the air [-]."""


@dataclass(frozen=True, slots=True)
class Tow:
    """The steady shape of a towed line.

    Curves run from the rod tip to the end. The drag is per unstretched metre.

    Parameters
    ----------
    depth_m : float
        Depth of the end below the surface [m].
    layback_m : float
        Horizontal distance from tip to end [m].
    top_pull_n : float
        Tension at the tip [N].
    top_angle_rad : float
        Angle of the line to the horizontal at the tip, positive down [rad].
    line_m : ndarray, shape (n,)
        Unstretched line from the tip [m].
    x_m : ndarray, shape (n,)
        Horizontal distance astern of the tip [m].
    curve_depth_m : ndarray, shape (n,)
        Depth below the surface, negative in the air [m].
    tension_n : ndarray, shape (n,)
        Tension [N].
    at_surface : bool
        True if the forces on the end cannot hold it under water: it then
        runs at the surface and `depth_m` is 0 [-].
    """

    depth_m: float
    layback_m: float
    top_pull_n: float
    top_angle_rad: float
    line_m: FloatArray
    x_m: FloatArray
    curve_depth_m: FloatArray
    tension_n: FloatArray
    at_surface: bool = False


def tow(
    line: LineProperties,
    line_out_m: float,
    speed_m_s: float,
    end_drag_n: float,
    end_down_n: float,
    tip_height_m: float = 0.0,
    water: Water | None = None,
    drag: DragLaw | None = None,
) -> Tow:
    """Shape and tension of a line towed at constant speed with known forces on its end.

    Parameters
    ----------
    line : LineProperties
        The line.
    line_out_m : float
        Unstretched line between tip and end [m].
    speed_m_s : float
        Speed through the water; 0 gives the catenary [m s-1].
    end_drag_n : float
        Horizontal force on the end, astern [N].
    end_down_n : float
        Vertical force on the end, down, negative up [N].
    tip_height_m : float
        Height of the tip above the water, negative under it [m].
    water : Water or None
        The water; None is fresh water at 20 degC.
    drag : DragLaw or None
        Drag of the line; None is the published law.

    Returns
    -------
    Tow
        The steady shape.

    Raises
    ------
    TechniqueError
        A number is outside what can be towed.
    SolverError
        The integration did not converge.

    Notes
    -----
    Own derivation, see docs/physics.md. Line in the air has weight and no drag.
    A line lighter than water that would itself rise to the surface is not held
    there; its curve then shows where it would go.
    """
    _check(line_out_m, speed_m_s, end_drag_n, end_down_n, tip_height_m)
    case = _Case(
        line, line_out_m, speed_m_s, end_drag_n, tip_height_m, water or Water(), drag or DragLaw()
    )
    solved = _solve(case, end_down_n)
    if solved is not None and _end_depth(case, solved) >= -1e-9 * line_out_m:
        return _result(case, solved, at_surface=False)
    return _result(case, _hold_at_surface(case, end_down_n), at_surface=True)


def tow_lure(
    lure: LureForces,
    line: LineProperties,
    line_out_m: float,
    speed_m_s: float,
    tip_height_m: float = 0.0,
    water: Water | None = None,
    drag: DragLaw | None = None,
) -> Tow:
    """Running depth of a lure towed at constant speed.

    Parameters
    ----------
    lure : LureForces
        The lure.
    line : LineProperties
        The line.
    line_out_m : float
        Unstretched line between tip and lure [m].
    speed_m_s : float
        Speed through the water [m s-1].
    tip_height_m : float
        Height of the tip above the water, negative under it [m].
    water : Water or None
        The water; None is fresh water at 20 degC.
    drag : DragLaw or None
        Drag of the line; None is the published law.

    Returns
    -------
    Tow
        The steady shape.

    Raises
    ------
    TechniqueError
        A number is outside what can be towed.
    """
    density = (water or Water()).density_kg_m3
    pull_n = 0.5 * density * lure.pull_area_m2 * speed_m_s**2
    angle = 0.0
    if speed_m_s > 0.0:
        angle = lure.dive_angle_rad - lure.trim_speed_loss_rad_m2_s2 / speed_m_s**2
    down_n = pull_n * math.tan(max(angle, 0.0)) - lure.buoyancy_n
    return tow(line, line_out_m, speed_m_s, pull_n, down_n, tip_height_m, water, drag)


def warm_up() -> None:
    """Compile the kernel, or load it where that was done before."""
    # Line in the air and under water, so that every compiled function is used.
    tow(LineProperties(0.3e-3, 1140.0), 10.0, 1.0, 0.5, 0.5, tip_height_m=0.5)


@dataclass(frozen=True, slots=True)
class _Case:
    """One tow without the vertical force on its end."""

    line: LineProperties
    length_m: float
    speed_m_s: float
    end_drag_n: float
    height_m: float
    water: Water
    drag: DragLaw

    @property
    def dry_weight_n_m(self) -> float:
        return self.line.mass_per_length_kg_m * GRAVITY_M_S2

    @property
    def softness_per_n(self) -> float:
        return 1.0 / self.line.stiffness_n

    def parameters(self) -> FloatArray:
        """Coefficients as `tow_kernel` wants them, shape (7,)."""
        rho = self.water.density_kg_m3
        pressure = 0.5 * rho * self.line.diameter_m * self.speed_m_s**2
        net = (self.line.density_kg_m3 - rho) * self.line.section_m2 * GRAVITY_M_S2
        reynolds = rho * self.speed_m_s * self.line.diameter_m / self.water.viscosity_pa_s
        return np.array(
            [
                pressure,
                pressure * math.pi * self.drag.tangential,
                net,
                self.softness_per_n,
                reynolds,
                LOG2_RE_MIN,
                (TABLE_SIZE - 1) / (LOG2_RE_MAX - LOG2_RE_MIN),
            ]
        )


@dataclass(frozen=True, slots=True)
class _Solved:
    """Wet nodes from the end upward (s, Fx, Fz, x, z) and the length in the air."""

    nodes: FloatArray
    dry_m: float


@lru_cache(maxsize=64)
def _table(drag: DragLaw) -> FloatArray:
    return drag.normal_table()


def _solve(case: _Case, end_down_n: float) -> _Solved | None:
    """Integrate once; None where the tip is too high for the end to be in the water."""
    from leadsman.hydro import tow_kernel as kernel

    nodes = np.empty((kernel.MAX_NODES, 5))
    status, count, dry_m = kernel.integrate_up(
        case.end_drag_n,
        end_down_n,
        case.length_m,
        case.height_m,
        case.dry_weight_n_m,
        case.parameters(),
        _table(case.drag),
        STEP_TOLERANCE,
        nodes,
    )
    if status == kernel.STATUS_TOP_TOO_HIGH:
        return None
    if status != kernel.STATUS_OK:
        raise SolverError("the towed line did not converge")
    return _Solved(nodes[:count].copy(), dry_m)


def _end_depth(case: _Case, solved: _Solved) -> float:
    """Depth of the end for the tip where it is [m]."""
    above = 0.0 if solved.dry_m > 0.0 else -case.height_m
    return above - float(solved.nodes[-1, 4])


def _hold_at_surface(case: _Case, end_down_n: float) -> _Solved:
    """Find the support at the surface that keeps the end there.

    The surface holds an end that would rise out of the water, and its weight
    holds one that a high tip would lift: either way the end's vertical force
    is what puts it at depth 0.
    """
    step = 1e-3 + 0.01 * abs(end_down_n) + 0.01 * case.end_drag_n
    low = high = end_down_n
    for _ in range(60):
        high += step
        step *= 2.0
        solved = _solve(case, high)
        if solved is not None and _end_depth(case, solved) >= 0.0:
            break
        low = high
    else:
        raise SolverError("no force holds the end of the towed line at the surface")
    for _ in range(60):
        middle = 0.5 * (low + high)
        tried = _solve(case, middle)
        if tried is not None and _end_depth(case, tried) >= 0.0:
            high, solved = middle, tried
        else:
            low = middle
    return solved


def _result(case: _Case, solved: _Solved, at_surface: bool) -> Tow:
    """Assemble the curve from tip to end, the dry part by its closed form."""
    s, fx, fz, x, z = solved.nodes[::-1].T
    depth = _end_depth(case, solved)
    line_m, tension = case.length_m - s, np.hypot(fx, fz)
    behind, down = x - x[0], z - z[0]
    waterline = 0.0 if solved.dry_m > 0.0 else -case.height_m
    top_fx, top_fz, run_m = float(fx[0]), float(fz[0]), 0.0
    if solved.dry_m > 0.0:
        up = np.linspace(solved.dry_m, 0.0, DRY_NODES)[:-1]
        run, rise = _dry_curve(case, top_fx, top_fz, up)
        dry_fz = top_fz + case.dry_weight_n_m * up
        run_m = float(run[0])
        line_m = np.concatenate([solved.dry_m - up, line_m])
        tension = np.concatenate([np.hypot(top_fx, dry_fz), tension])
        behind = np.concatenate([run_m - run, run_m + behind])
        down = np.concatenate([-rise, down])
        top_fz = float(dry_fz[0])
    return Tow(
        depth_m=0.0 if at_surface else depth,
        layback_m=float(behind[-1]),
        top_pull_n=math.hypot(top_fx, top_fz),
        top_angle_rad=math.atan2(top_fz, top_fx),
        line_m=line_m,
        x_m=behind,
        curve_depth_m=waterline + down,
        tension_n=tension,
        at_surface=at_surface,
    )


def _dry_curve(
    case: _Case, fx_n: float, fz_n: float, up_m: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Horizontal and vertical distance above the waterline along the dry line [m]."""
    from leadsman.hydro import tow_kernel as kernel

    args = (case.dry_weight_n_m, case.softness_per_n)
    run = np.array([kernel.dry_run(fx_n, fz_n, float(u), *args) for u in up_m])
    rise = np.array([kernel.dry_rise(fx_n, fz_n, float(u), *args) for u in up_m])
    return run, rise


def _check(
    line_out_m: float, speed_m_s: float, end_drag_n: float, end_down_n: float, tip_height_m: float
) -> None:
    if not 0.1 <= line_out_m <= 1e5:
        raise TechniqueError(
            f"line out of {line_out_m:.4g} m is outside 0.1 m to 100 km", "line out"
        )
    if not 0.0 <= speed_m_s <= 20.0:
        raise TechniqueError(f"speed of {speed_m_s:.4g} m/s is outside 0 to 20 m/s", "speed")
    if not 0.0 <= end_drag_n <= 1e5:
        raise TechniqueError(f"end drag of {end_drag_n:.4g} N is outside 0 to 100 kN", "end drag")
    if not -1e5 <= end_down_n <= 1e5:
        raise TechniqueError(
            f"down-force on the end of {end_down_n:.4g} N is outside -100 to 100 kN",
            "end down-force",
        )
    if not -100.0 <= tip_height_m <= 100.0:
        raise TechniqueError(
            f"rod tip of {tip_height_m:.4g} m is outside 100 m under water to 100 m up",
            "tip height",
        )
    if tip_height_m >= line_out_m:
        raise TechniqueError(
            f"a tip {tip_height_m:.4g} m up holds all of the {line_out_m:.4g} m of line in the air",
            "line out",
            "Let more line out or lower the rod tip",
        )
