"""An independent, slow solver of the retrieve, to hold the production kernel against.

Same physics, other numerics. The line is a chain of material points: each keeps
its mass, is joined to the next by an elastic segment of constant unstretched
length, and moves by Newton's law in fixed axes. The reel shortens only the
segment at the tip; a point that comes within half a segment of the tip is
dropped. Time goes by leapfrog steps that resolve the sound in the line (tens of
microseconds), with the drag implicit in the velocity and its coefficient a few
steps old. Contact is a stiff spring. Nothing of the production code is used but
the table of C_n.

Choices where the model leaves one: line inertia without added mass; slack line
carries no force; the drag of half a segment at the tip goes into the tip; a small
internal damping of the line, which vanishes where the strain is steady.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
from numba import njit

from leadsman.hydro.drag import LOG2_RE_MAX, LOG2_RE_MIN, DragLaw

FloatArray = npt.NDArray[np.float64]

GRAVITY_M_S2 = 9.81
CONTACT_STIFFNESS_N_M = 5000.0
INTERNAL_DAMPING = 0.1  # of EA l / c
COURANT = 0.5
DRAG_EVERY = 4
SAMPLE_S = 0.05


@dataclass(frozen=True, slots=True)
class Leg:
    """One part of a retrieve with constant rates.

    Parameters
    ----------
    seconds : float
        How long [s].
    reel_m_s : float
        Unstretched line taken in per second [m/s].
    tip_rise_m_s : float
        Rate of the tip's height [m/s].
    tip_back_m_s : float
        Rate at which the tip draws away from the lure [m/s].
    """

    seconds: float
    reel_m_s: float
    tip_rise_m_s: float = 0.0
    tip_back_m_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Case:
    """One retrieve, all in SI units, angle in radians."""

    pull_area_m2: float
    dive_angle_rad: float
    buoyancy_n: float
    mass_kg: float
    diameter_m: float
    density_kg_m3: float
    modulus_pa: float
    cast_m: float
    tip_m: float
    legs: tuple[Leg, ...]
    boat_m_s: float = 0.0
    bottom_m: float = math.inf  # under the tip's first place
    bottom_slope: float = 0.0  # deeper per metre toward the lure
    friction: float = 0.0
    water_density_kg_m3: float = 998.2336
    water_viscosity_pa_s: float = 1.002e-3
    drag: DragLaw = field(default_factory=DragLaw)


@dataclass(frozen=True, slots=True)
class Path:
    """What came out: samples every `SAMPLE_S`, and over all steps the greatest depth
    and the distance travelled in contact.
    """

    t_s: FloatArray
    x_m: FloatArray
    depth_m: FloatArray
    line_out_m: FloatArray
    pull_n: FloatArray
    normal_n: FloatArray
    max_depth_m: float
    contact_m: float


def solve(case: Case, segments: int) -> Path:
    """Run one retrieve with a number of segments.

    Parameters
    ----------
    case : Case
        The retrieve.
    segments : int
        Segments of the line at the start [-].

    Returns
    -------
    Path
        The path of the lure until the line left is under half a metre or
        1.05 times the height of the tip.
    """
    legs = np.array([[g.seconds, g.reel_m_s, g.tip_rise_m_s, g.tip_back_m_s] for g in case.legs])
    first = float(legs[0, 1])
    section = math.pi / 4.0 * case.diameter_m**2
    stiffness = case.modulus_pa * section
    tension = 0.5 * case.water_density_kg_m3 * case.pull_area_m2 * first**2
    chord = math.hypot(case.cast_m, case.tip_m)
    total = chord / (1.0 + tension / stiffness)
    length = total / segments
    sound = math.sqrt(case.modulus_pa / case.density_kg_m3)
    quickest = 3.0 * max(float(legs[:, 1].max()), 1.0)
    dt = min(
        COURANT * length / sound,
        0.5
        * case.mass_kg
        * math.cos(case.dive_angle_rad)
        / (case.water_density_kg_m3 * case.pull_area_m2 * quickest),
        0.3 * math.sqrt(case.mass_kg / CONTACT_STIFFNESS_N_M),
    )
    duration = 3.0 * total / float(legs[legs[:, 1] > 0.0, 1].min()) + float(
        legs[np.isfinite(legs[:, 0]), 0].sum()
    )
    samples = np.zeros((int(duration / SAMPLE_S) + 2, 6))
    count, deepest, contact = _run(
        np.array(
            [
                case.pull_area_m2,
                case.dive_angle_rad,
                case.buoyancy_n,
                case.mass_kg,
                case.diameter_m,
                case.density_kg_m3 * section,
                stiffness,
                case.cast_m,
                case.tip_m,
                case.boat_m_s,
                case.bottom_m,
                case.water_density_kg_m3,
                case.water_viscosity_pa_s,
                case.drag.tangential,
                INTERNAL_DAMPING * stiffness / sound,
                case.bottom_slope,
                case.friction,
            ]
        ),
        legs,
        case.drag.normal_table(),
        np.array([LOG2_RE_MIN, LOG2_RE_MAX]),
        segments,
        total,
        dt,
        samples,
    )
    got = samples[:count]
    return Path(got[:, 0], got[:, 1], got[:, 2], got[:, 3], got[:, 4], got[:, 5], deepest, contact)


@njit(cache=True)
def _normal_coefficient(re, table, span):  # type: ignore[no-untyped-def]
    if re <= 2.0 ** span[0]:
        return table[0]
    place = (math.log2(re) - span[0]) / (span[1] - span[0]) * (table.size - 1)
    if place >= table.size - 1:
        return table[-1]
    low = int(place)
    return table[low] + (place - low) * (table[low + 1] - table[low])


@njit(cache=True)
def _wet_part(z_from, z_to):  # type: ignore[no-untyped-def]
    """Part of a straight piece that is under water."""
    if z_from > 0.0 and z_to > 0.0:
        return 1.0
    if z_from <= 0.0 and z_to <= 0.0:
        return 0.0
    if z_from > 0.0:
        return z_from / (z_from - z_to)
    return z_to / (z_to - z_from)


@njit(cache=True)
def _lure_force(vx, vz, ex, ez, par):  # type: ignore[no-untyped-def]
    """Water's force on the lure and its buoyancy."""
    speed = math.sqrt(vx * vx + vz * vz)
    if speed < 1e-9:
        return 0.0, -par[2]
    pressure = 0.5 * par[11] * par[0]
    facing = -(vx * ex + vz * ez) / speed / (0.6 * math.cos(par[1]))
    gate = min(max(facing, 0.0), 1.0)
    gate = gate * gate * (3.0 - 2.0 * gate)
    lift = pressure * math.tan(par[1]) * speed * gate
    return -pressure * speed * vx + lift * vz, -pressure * speed * vz - lift * vx - par[2]


@njit(cache=True)
def _water_on_line(  # type: ignore[no-untyped-def]
    n, px, pz, vx, vz, tip_x, tip_z, l_tip, seg, par, table, span, hold
):
    """Set hold[:, i] = (c_nn, c_nt, n_x, n_z, net weight) of the points 0 .. n-1."""
    drag_n = 0.5 * par[11] * par[4]
    drag_t = drag_n * math.pi * par[13]
    displaced = par[11] * math.pi / 4.0 * par[4] ** 2
    for i in range(n):
        bx, bz = (tip_x, tip_z) if i == 0 else (px[i - 1], pz[i - 1])
        before = l_tip if i == 0 else seg
        wet = 0.5 * before * _wet_part(pz[i], 0.5 * (pz[i] + bz))
        all_of_it = 0.5 * before
        ax, az = px[i], pz[i]
        if i < n - 1:
            ax, az = px[i + 1], pz[i + 1]
            wet += 0.5 * seg * _wet_part(pz[i], 0.5 * (pz[i] + az))
            all_of_it += 0.5 * seg
        tx, tz = ax - bx, az - bz
        norm = math.sqrt(tx * tx + tz * tz)
        tx /= norm
        tz /= norm
        along = vx[i] * tx + vz[i] * tz
        across = -vx[i] * tz + vz[i] * tx
        c_n = _normal_coefficient(par[11] * abs(across) * par[4] / par[12], table, span)
        hold[0, i] = drag_n * c_n * abs(across) * wet
        hold[1, i] = drag_t * abs(along) * wet
        hold[2, i] = -tz
        hold[3, i] = tx
        hold[4, i] = GRAVITY_M_S2 * (par[5] * all_of_it - displaced * wet)


@njit(cache=True)
def _run(par, legs, table, span, segments, total, dt, samples):  # type: ignore[no-untyped-def]
    n = segments  # points 0 (next to the tip) .. n-1 (the lure)
    seg = total / segments
    l_tip = seg
    mass_m, stiff, damp = par[5], par[6], par[14] * seg
    reel = legs[0, 1]
    tip_x, tip_z = 0.0, -par[8]
    chord = math.sqrt(par[7] ** 2 + par[8] ** 2)
    ux, uz = par[7] / chord, par[8] / chord
    px, pz = np.empty(n), np.empty(n)
    vx, vz = np.empty(n), np.empty(n)
    for i in range(n):
        part = (i + 1.0) / n
        px[i], pz[i] = tip_x + part * par[7], tip_z + part * par[8]
        vx[i], vz[i] = -reel * ux, -reel * uz
    fx, fz = np.zeros(n), np.zeros(n)
    hold = np.zeros((5, n))
    leg, leg_end = 0, legs[0, 0]
    t, next_sample, count, step = 0.0, 0.0, 0, 0
    deepest, contact = 0.0, 0.0
    pull = 0.0
    normal = 0.0
    contact_damp = 1.4 * math.sqrt(CONTACT_STIFFNESS_N_M * par[3])
    while True:
        while t >= leg_end and leg < legs.shape[0] - 1:
            leg += 1
            leg_end += legs[leg, 0]
        reel, rise, back = legs[leg, 1], legs[leg, 2], legs[leg, 3]
        tip_vx, tip_vz = par[9] - back, -rise
        # Drop the point next to the tip.
        if l_tip < 0.5 * seg and n > 1:
            for i in range(n - 1):
                px[i], pz[i], vx[i], vz[i] = px[i + 1], pz[i + 1], vx[i + 1], vz[i + 1]
            n -= 1
            l_tip += seg
            step = 0
        line_out = l_tip + (n - 1) * seg
        if step % DRAG_EVERY == 0:
            _water_on_line(n, px, pz, vx, vz, tip_x, tip_z, l_tip, seg, par, table, span, hold)
        # Elastic forces.
        for i in range(n):
            fx[i] = 0.0
            fz[i] = 0.0
        ex, ez = ux, uz
        for i in range(n):
            if i == 0:
                dx, dz = px[0] - tip_x, pz[0] - tip_z
                rel_x, rel_z = vx[0] - tip_vx, vz[0] - tip_vz
                free = l_tip
            else:
                dx, dz = px[i] - px[i - 1], pz[i] - pz[i - 1]
                rel_x, rel_z = vx[i] - vx[i - 1], vz[i] - vz[i - 1]
                free = seg
            r = math.sqrt(dx * dx + dz * dz)
            ex, ez = dx / r, dz / r
            strain = r / free - 1.0
            rate = (rel_x * ex + rel_z * ez) / free
            if i == 0:
                rate += reel * r / (free * free)
            pull = 0.0
            if strain > 0.0:
                pull = max(stiff * strain + damp * rate, 0.0)
            fx[i] -= pull * ex
            fz[i] -= pull * ez
            if i > 0:
                fx[i - 1] += pull * ex
                fz[i - 1] += pull * ez
        # The lure.
        lure_x, lure_z = _lure_force(vx[n - 1], vz[n - 1], ex, ez, par)
        fx[n - 1] += lure_x
        fz[n - 1] += lure_z
        normal = 0.0
        # The bottom: a stiff spring along its normal, which points up and out of it.
        tilt = math.sqrt(1.0 + par[15] * par[15])
        deep = (pz[n - 1] - par[10] - par[15] * px[n - 1]) / tilt
        if deep > 0.0:
            closing = (vz[n - 1] - par[15] * vx[n - 1]) / tilt
            sliding = (vx[n - 1] + par[15] * vz[n - 1]) / tilt
            normal = max(CONTACT_STIFFNESS_N_M * deep + contact_damp * closing, 0.0)
            rub = -par[16] * normal * sliding / max(abs(sliding), 1e-3)
            fx[n - 1] += (normal * par[15] + rub) / tilt
            fz[n - 1] += (-normal + rub * par[15]) / tilt
        if t >= next_sample:
            next_sample += SAMPLE_S
            samples[count, 0] = t
            samples[count, 1] = px[n - 1]
            samples[count, 2] = pz[n - 1]
            samples[count, 3] = line_out
            samples[count, 4] = pull
            samples[count, 5] = normal
            count += 1
        if line_out <= max(0.5, 1.05 * abs(tip_z)) or count >= samples.shape[0]:
            break
        # Velocities, drag implicit: (m + dt (c_n n n' + c_t t t')) v = m v + dt f.
        for i in range(n):
            mass = mass_m * 0.5 * ((l_tip if i == 0 else seg) + (seg if i < n - 1 else 0.0))
            if i == n - 1:
                mass += par[3]
            gx = vx[i] + dt * fx[i] / mass
            gz = vz[i] + dt * (fz[i] + hold[4, i]) / mass
            nx, nz = hold[2, i], hold[3, i]
            across = (gx * nx + gz * nz) / (1.0 + dt * hold[0, i] / mass)
            along = (gx * nz - gz * nx) / (1.0 + dt * hold[1, i] / mass)
            vx[i] = across * nx + along * nz
            vz[i] = across * nz - along * nx
            px[i] += dt * vx[i]
            pz[i] += dt * vz[i]
        if pz[n - 1] < 0.0:
            pz[n - 1] = 0.0
            vz[n - 1] = max(vz[n - 1], 0.0)
        deepest = max(deepest, pz[n - 1])
        if normal > 0.0:
            contact += dt * abs(vx[n - 1])
        l_tip -= reel * dt
        tip_x += tip_vx * dt
        tip_z += tip_vz * dt
        t += dt
        step += 1
    return count, deepest, contact
