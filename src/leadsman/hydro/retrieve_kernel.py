"""Compiled solver of one retrieve: lure, elastic line and bottom, implicit in time.

One file and over 400 lines, because compiled functions may not call across files
and are cached file by file; each function below is one piece of the model.

Frame: x from the rod tip toward the lure, z down from the surface. The unstretched line
left, L(t), carries nodes at fixed fractions s of it, s = 0 at the tip and 1 at the lure.
With a the velocity of a node and e the tangent (tip to lure), the line itself moves at

    V = a - (1 - s) v_r lambda e,     lambda = stretched over unstretched length,

because line leaves the span at the tip at reel speed v_r. Node velocities come from
variable-step BDF2 (backward Euler after a jump), so every step is one set of force
balances in the node positions, solved by Newton's method with the exact Jacobian; it is
block tridiagonal and is eliminated from tip to lure. The last 2 x 2 block is the lure,
where contact is decided (active set).

Tension T of a segment is an unknown of its own. Its law is
``l / l0 - 1 = T / EA - BARRIER / T``: elastic when taut, and T falls smoothly toward 0
(never below) when slack. T changes with the strain that Newton's step predicts to first
order, so stiff and inextensible lines need no smaller steps.

Line mass is carried with the nodes: the change of V is taken at fixed s, which leaves out
the transport (1 - s) v_r dV/ds, of the order of m v^2 / L against a weight of m g. The
line's added mass is left out too.
"""

from __future__ import annotations

import math

import numpy as np
from numba import njit

# Places in the parameter vector of one retrieve (SI units).
DELTA = 0  # dive angle [rad]
PULL_AREA = 1  # S_D [m2]
MASS = 2  # lure with its added mass [kg]
BUOYANCY = 3  # net, upward [N]
TRIM_LOSS = 4  # c in delta - c / v^2 [rad m2 s-2]
DIAMETER = 5  # [m]
LINE_DENSITY = 6  # [kg m-3]
COMPLIANCE = 7  # 1 / EA [N-1]
CN_FACTOR = 8  # on the table of C_n [-]
CT = 9  # C_t [-]
CAST = 10  # [m]
BOAT = 11  # velocity of the tip toward the lure [m s-1]
WATER_DENSITY = 12  # [kg m-3]
VISCOSITY = 13  # [Pa s]
FRICTION = 14  # [-]
TAKE_UP_FULL = 15  # per turn with a full spool, 0 if speeds are in m/s [m]
TAKE_UP_HALF = 16  # per turn at half capacity [m]
CAPACITY = 17  # [m]
MESH = 18  # multiplies the number of nodes [-]
STEP_SCALE = 19  # multiplies the step limits [-]
CN_TABLE = 20  # which table of C_n [-]
N_PAR = 21

# Columns of the script: end time, speed, tip height from and to, pull-back from and to.
S_END, S_SPEED, S_H0, S_H1, S_B0, S_B1 = 0, 1, 2, 3, 4, 5
N_SCRIPT = 6

# Columns of the record of accepted steps.
R_T, R_X, R_Z, R_VX, R_VZ, R_L, R_PULL, R_TIP, R_N, R_MODE, R_JUMP = (
    0,
    1,
    2,
    3,
    4,
    5,
    6,
    7,
    8,
    9,
    10,
)
N_REC = 11
MAX_REC = 6000

# Rows of the work array of nodes: position now and at the three last steps, velocity,
# history part of the velocity, prediction.
X, Z, X0, Z0, X1, Z1, X2, Z2, AX, AZ, HX, HZ, PX, PZ, SF = (
    0,
    1,
    2,
    3,
    4,
    5,
    6,
    7,
    8,
    9,
    10,
    11,
    12,
    13,
    14,
)
# Rows of elimination: G = B^-1 C (4), f = B^-1 F (2).
G0, G1, G2, G3, F0, F1 = 15, 16, 17, 18, 19, 20
AX0, AZ0 = 21, 22  # node velocity at the end of the last step
N_NODE = 23
# Rows of the work array of segments: tension now, last, before; velocity U now and its two
# last values; wet fraction and its centre; weights on both ends; stiffness; predicted T;
# tangent; stiffness of floating.
T, T0, T1, UX, UZ, UX0, UZ0, UX1, UZ1, WET, ZETA, W1, W2, KS, TH, EX, EZ, KW = range(18)
N_SEG = 18

FREE, ON_BOTTOM, ON_SURFACE = 0, 1, 2
HOME, AGROUND, FAILED, FULL, PASSED, STUCK = 0, 1, 2, 3, 4, 5

MAX_NODES = 80
MAX_STRESS_PA = 3.0e9  # no fishing line holds more; a lure that needs it is stuck [Pa]
G = 9.81  # [m s-2]
BARRIER = 1.0e-7  # tension times strain of the slack law [N]
GAP_TOL = 5.0e-4  # a contact is found to this distance [m]
MIN_RESTART_S = 2.0e-3  # first step after contact begins or ends [s]
RELEASE = 3.0e-4  # load at which contact is taken to end [-]
STICK_M_S = 0.02  # friction is full above this sliding speed [m s-1]
LN2 = 0.6931471805599453
LOG2_RE_MIN, LOG2_RE_MAX = -7.0, 13.0


@njit(cache=True, error_model="numpy")
def _bottom(x, bx, bz, half, hint):
    """Depth, slope and curvature of the bottom at x, and the place in the profile.

    Kinks are rounded by parabolas of half width `half`, so that a lure sliding over one has
    a slope at every place.
    """
    last = bx.size - 2
    j = hint
    while j > 0 and x < bx[j]:
        j -= 1
    while j < last and x >= bx[j + 1]:
        j += 1
    m = (bz[j + 1] - bz[j]) / (bx[j + 1] - bx[j])
    z = bz[j] + m * (x - bx[j])
    if j > 0 and x - bx[j] < half[j]:
        before = (bz[j] - bz[j - 1]) / (bx[j] - bx[j - 1])
        u = half[j] - (x - bx[j])
        bend = (m - before) / (4.0 * half[j])
        return z + bend * u * u, m - 2.0 * bend * u, 2.0 * bend, j
    if j < last and bx[j + 1] - x < half[j + 1]:
        after = (bz[j + 2] - bz[j + 1]) / (bx[j + 2] - bx[j + 1])
        u = half[j + 1] - (bx[j + 1] - x)
        bend = (after - m) / (4.0 * half[j + 1])
        return z + bend * u * u, m + 2.0 * bend * u, 2.0 * bend, j
    return z, m, 0.0, j


@njit(cache=True, error_model="numpy")
def _normal_drag(v, k, re_per_v, factor, table):
    """Force k C_n |v| v and its derivative, C_n from the table linear in log2 Re."""
    speed = abs(v)
    re = speed * re_per_v
    slope = 0.0
    if re <= 0.0078125:  # 2^LOG2_RE_MIN
        cn = table[0]
    else:
        place = (math.log(re) / LN2 - LOG2_RE_MIN) * (
            (table.size - 1) / (LOG2_RE_MAX - LOG2_RE_MIN)
        )
        if place >= table.size - 1:
            cn = table[table.size - 1]
        else:
            i = int(place)
            slope = table[i + 1] - table[i]
            cn = table[i] + slope * (place - i)
            slope *= (table.size - 1) / ((LOG2_RE_MAX - LOG2_RE_MIN) * LN2)
    k *= factor
    return k * cn * speed * v, k * speed * (2.0 * cn + slope)


@njit(cache=True, error_model="numpy")
def _lure(vx, vz, ex, ez, par):
    """Water force on the lure, its derivatives by velocity and by the line's angle.

    F = -1/2 rho S_D |V| V + 1/2 rho S_D tan(delta_v) |V| (V_z, -V_x) g, buoyancy up.
    """
    q = 0.5 * par[WATER_DENSITY] * par[PULL_AREA]
    v = math.sqrt(vx * vx + vz * vz) + 1e-9
    delta = par[DELTA]
    tan_d = math.tan(delta)
    dtan = 0.0  # d tan(delta_v) / dv
    if par[TRIM_LOSS] > 0.0:
        trimmed = delta - par[TRIM_LOSS] / (v * v)
        if trimmed <= 0.0:
            tan_d = 0.0
        else:
            tan_d = math.tan(trimmed)
            dtan = (1.0 + tan_d * tan_d) * 2.0 * par[TRIM_LOSS] / (v * v * v)
    # The lip works when water meets it from the front: psi between V and -e.
    cos_psi = -(vx * ex + vz * ez) / v
    full = 0.6 * math.cos(delta)
    u = cos_psi / full
    gate = 1.0
    dgate = 0.0
    if u <= 0.0:
        gate = 0.0
    elif u < 1.0:
        gate = u * u * (3.0 - 2.0 * u)
        dgate = 6.0 * u * (1.0 - u) / full
    dcx = -ex / v - cos_psi * vx / (v * v)
    dcz = -ez / v - cos_psi * vz / (v * v)
    dct = -(-vx * ez + vz * ex) / v  # d cos_psi / d theta
    ux = vx / v
    uz = vz / v
    d = q * tan_d * gate
    # lift = d * v * (vz, -vx)
    lx = v * vz
    lz = -v * vx
    fx = -q * v * vx + d * lx
    fz = -q * v * vz + d * lz - par[BUOYANCY]
    ddx = q * (tan_d * dgate * dcx + gate * dtan * ux)
    ddz = q * (tan_d * dgate * dcz + gate * dtan * uz)
    ddt = q * tan_d * dgate * dct
    kxx = -q * (v + vx * ux) + d * ux * vz + ddx * lx
    kxz = -q * vx * uz + d * (v + vz * uz) + ddz * lx
    kzx = -q * vz * ux - d * (v + vx * ux) + ddx * lz
    kzz = -q * (v + vz * uz) - d * uz * vx + ddz * lz
    return fx, fz, kxx, kxz, kzx, kzz, ddt * lx, ddt * lz


@njit(cache=True, error_model="numpy")
def _wetness(n, length, node, seg, par):
    """Wet part of every segment and the weights it puts on its two nodes."""
    area = 0.25 * math.pi * par[DIAMETER] ** 2
    air = par[LINE_DENSITY] * area * G
    wet_weight = (par[LINE_DENSITY] - par[WATER_DENSITY]) * area * G
    for j in range(n):
        z1 = node[Z, j]
        z2 = node[Z, j + 1]
        l0 = (node[SF, j + 1] - node[SF, j]) * length
        wet = 1.0
        seg[KW, j] = 0.0
        if z1 < 0.01 or z2 < 0.01:
            # Near level segments pass the surface over 2 cm, not at once.
            span = max(abs(z2 - z1), 0.02)
            wet = min(max((0.5 * (z1 + z2) + 0.5 * span) / span, 0.0), 1.0)
            if 0.0 < wet < 1.0:
                # buoyancy grows as the segment sinks into the surface
                seg[KW, j] = 0.25 * (air - wet_weight) * l0 / span
        if z2 >= z1:
            zeta = 1.0 - 0.5 * wet
            dry = 0.5 * (1.0 - wet)
        else:
            zeta = 0.5 * wet
            dry = 1.0 - 0.5 * (1.0 - wet)
        w_wet = wet_weight * wet * l0
        w_dry = air * (1.0 - wet) * l0
        seg[WET, j] = wet
        seg[ZETA, j] = zeta
        seg[W1, j] = (1.0 - zeta) * w_wet + (1.0 - dry) * w_dry
        seg[W2, j] = zeta * w_wet + dry * w_dry


@njit(cache=True, error_model="numpy")
def _rotate(a, b, d, ex, ez):
    """Block [[a, b], [0, d]] in the axes (e, p) turned into (x, z); p = (-e_z, e_x)."""
    xx = a * ex * ex - b * ex * ez + d * ez * ez
    xz = (a - d) * ex * ez + b * ex * ex
    zx = (a - d) * ex * ez - b * ez * ez
    zz = a * ez * ez + b * ex * ez + d * ex * ex
    return xx, xz, zx, zz


@njit(cache=True, error_model="numpy")
def _sweep(n, length, v_reel, c0, h_lure_x, h_lure_z, cu, mode, slope, node, seg, hseg, par, table):
    """Assemble the force balances and eliminate them from tip to lure.

    Returns the reduced 2 x 2 block D and force g of the lure, D dr = g, and the derivative
    of the lure's own force by its vertical velocity.
    Velocities are c0 r + h; accelerations c0 U + h.
    """
    diameter = par[DIAMETER]
    rho = par[WATER_DENSITY]
    kn = 0.5 * rho * diameter
    kt = 0.5 * rho * math.pi * diameter * par[CT]
    re_per_v = rho * diameter / par[VISCOSITY]
    m_line = par[LINE_DENSITY] * 0.25 * math.pi * diameter * diameter
    bxx = bxz = bzx = bzz = fx = fz = 0.0  # what segment j - 1 left on node j
    qx = qz = 0.0
    gxx = gxz = gzx = gzz = 0.0
    px = pz = 0.0
    for j in range(n):
        s1 = node[SF, j]
        s2 = node[SF, j + 1]
        l0 = (s2 - s1) * length
        dx = node[X, j + 1] - node[X, j]
        dz = node[Z, j + 1] - node[Z, j]
        ln = math.sqrt(dx * dx + dz * dz) + 1e-12
        ex = dx / ln
        ez = dz / ln
        stretch = ln / l0
        # tension predicted by the linearised law
        tension = seg[T, j]
        c = par[COMPLIANCE] + BARRIER / (tension * tension)
        th = tension + (stretch - 1.0 - tension * par[COMPLIANCE] + BARRIER / tension) / c
        ks = 1.0 / (c * l0)
        seg[KS, j] = ks
        seg[TH, j] = th
        seg[EX, j] = ex
        seg[EZ, j] = ez
        # velocities of the two nodes
        a1x = c0 * node[X, j] + node[HX, j]
        a1z = c0 * node[Z, j] + node[HZ, j]
        a2x = c0 * node[X, j + 1] + node[HX, j + 1]
        a2z = c0 * node[Z, j + 1] + node[HZ, j + 1]
        if j == n - 1 and mode != FREE:
            a2z = slope * a2x  # a lure that slides moves along the ground
        node[AX, j] = a1x
        node[AZ, j] = a1z
        # drag of the wet part, at its centre zeta
        ze = seg[ZETA, j]
        wl = seg[WET, j] * l0
        ax = (1.0 - ze) * a1x + ze * a2x
        az = (1.0 - ze) * a1z + ze * a2z
        vn = -ax * ez + az * ex
        ae = ax * ex + az * ez
        slide = (1.0 - (1.0 - ze) * s1 - ze * s2) * v_reel
        vt = ae - slide * stretch
        fn, dfn = _normal_drag(vn, kn, re_per_v, par[CN_FACTOR], table)
        ft = kt * abs(vt) * vt
        dft = 2.0 * kt * abs(vt)
        drag_e = -wl * ft
        drag_p = -wl * fn
        # dv_t = e.da + v_n dtheta - slide dl / l0, dv_n = p.da - (a.e) dtheta
        il = 1.0 / ln
        d1a = -wl * dft * (c0 * (1.0 - ze) + slide / l0)
        d2a = -wl * dft * (c0 * ze - slide / l0)
        d1b = wl * (dft * vn - fn) * il
        d2b = -d1b
        d1d = -wl * (dfn * (c0 * (1.0 - ze) + ae * il) - ft * il)
        d2d = -wl * (dfn * (c0 * ze - ae * il) + ft * il)
        # inertia of the segment
        sm = (1.0 - 0.5 * (s1 + s2)) * v_reel
        ux = 0.5 * (a1x + a2x) - sm * stretch * ex
        uz = 0.5 * (a1z + a2z) - sm * stretch * ez
        seg[UX, j] = ux
        seg[UZ, j] = uz
        ml = m_line * l0
        ix = -0.5 * ml * (cu * ux + hseg[0, j])
        iz = -0.5 * ml * (cu * uz + hseg[1, j])
        mi = 0.5 * ml * cu
        m1a = -mi * (0.5 * c0 + sm / l0)
        m2a = -mi * (0.5 * c0 - sm / l0)
        m1d = -mi * (0.5 * c0 + sm * stretch * il)
        m2d = -mi * (0.5 * c0 - sm * stretch * il)
        kg = tension * il
        # forces on both ends
        drag_x = drag_e * ex - drag_p * ez
        drag_z = drag_e * ez + drag_p * ex
        fx += th * ex + (1.0 - ze) * drag_x + ix
        fz += th * ez + (1.0 - ze) * drag_z + iz + seg[W1, j]
        if j > 0:
            xx, xz, zx, zz = _rotate(
                (1.0 - ze) * d1a + m1a - ks, (1.0 - ze) * d1b, (1.0 - ze) * d1d + m1d - kg, ex, ez
            )
            bxx -= xx
            bxz -= xz
            bzx -= zx
            bzz -= zz - seg[KW, j]
            cxx, cxz, czx, czz = _rotate(
                (1.0 - ze) * d2a + m2a + ks, (1.0 - ze) * d2b, (1.0 - ze) * d2d + m2d + kg, ex, ez
            )
            czz -= seg[KW, j]
            det = 1.0 / (bxx * bzz - bxz * bzx)
            gxx = -det * (bzz * cxx - bxz * czx)
            gxz = -det * (bzz * cxz - bxz * czz)
            gzx = -det * (bxx * czx - bzx * cxx)
            gzz = -det * (bxx * czz - bzx * cxz)
            px = det * (bzz * fx - bxz * fz)
            pz = det * (bxx * fz - bzx * fx)
            node[G0, j] = gxx
            node[G1, j] = gxz
            node[G2, j] = gzx
            node[G3, j] = gzz
            node[F0, j] = px
            node[F1, j] = pz
        kxx, kxz, kzx, kzz = _rotate(ze * d2a + m2a - ks, ze * d2b, ze * d2d + m2d - kg, ex, ez)
        axx, axz, azx, azz = _rotate(ze * d1a + m1a + ks, ze * d1b, ze * d1d + m1d + kg, ex, ez)
        kzz -= seg[KW, j]
        azz -= seg[KW, j]
        fx = -th * ex + ze * drag_x + ix
        fz = -th * ez + ze * drag_z + iz + seg[W2, j]
        if j == n - 1:
            wx, wz, vxx, vxz, vzx, vzz, wtx, wtz = _lure(a2x, a2z, ex, ez, par)
            mass = par[MASS]
            qx = vxz
            qz = vzz - mass * cu
            fx += wx - mass * (cu * a2x + h_lure_x)
            fz += wz - mass * (cu * a2z + h_lure_z)
            kxx += c0 * vxx - mass * cu * c0 - wtx * ez * il
            kxz += c0 * vxz + wtx * ex * il
            kzx += c0 * vzx - wtz * ez * il
            kzz += c0 * vzz - mass * cu * c0 + wtz * ex * il
            axx += wtx * ez * il
            axz -= wtx * ex * il
            azx += wtz * ez * il
            azz -= wtz * ex * il
            node[AX, n] = a2x
            node[AZ, n] = a2z
        # eliminate node j from the balance of node j + 1 (A = -dF2/dr1)
        bxx = -kxx
        bxz = -kxz
        bzx = -kzx
        bzz = -kzz
        if j > 0:
            bxx += axx * gxx + axz * gzx
            bxz += axx * gxz + axz * gzz
            bzx += azx * gxx + azz * gzx
            bzz += azx * gxz + azz * gzz
            fx += axx * px + axz * pz
            fz += azx * px + azz * pz
    return bxx, bxz, bzx, bzz, fx, fz, qx, qz


@njit(cache=True, error_model="numpy")
def _newton(
    n,
    length,
    v_reel,
    c0,
    cu,
    h_lure_x,
    h_lure_z,
    mode,
    hint,
    node,
    seg,
    hseg,
    par,
    table,
    bx,
    bz,
    half,
):
    """Solve one time step; returns success, normal force and iterations."""
    normal = slope = bend = 0.0
    for iteration in range(16):
        if mode == ON_BOTTOM:
            node[Z, n], slope, bend, hint = _bottom(node[X, n], bx, bz, half, hint)
        elif mode == ON_SURFACE:
            node[Z, n] = 0.0
        if iteration < 6:
            _wetness(n, length, node, seg, par)
        bxx, bxz, bzx, bzz, fx, fz, qx, qz = _sweep(
            n, length, v_reel, c0, h_lure_x, h_lure_z, cu, mode, slope, node, seg, hseg, par, table
        )
        if mode == FREE:
            det = bxx * bzz - bxz * bzx
            dx = (bzz * fx - bxz * fz) / det
            dz = (bxx * fz - bzx * fx) / det
        else:
            # The ground pushes with N c, c = n - k t, n = (m, -1), t = (1, m) at slope m and
            # k = mu sign(V.t), smoothed. At right angles to c the balance must hold without
            # it: w.(D (1, m) dx - g) = 0 with w = (1 + k m, m - k). On a bend of the ground
            # m, and with it w and the velocity m V_x, change with x.
            rub = drub = 0.0
            if mode == ON_BOTTOM and par[FRICTION] > 0.0:
                vt = node[AX, n] * math.sqrt(1.0 + slope * slope)
                root = 1.0 / math.sqrt(vt * vt + STICK_M_S * STICK_M_S)
                rub = par[FRICTION] * vt * root
                drub = par[FRICTION] * STICK_M_S**2 * root**3 * c0 * math.sqrt(1.0 + slope * slope)
            turn = bend * node[AX, n]
            dxx = bxx + slope * bxz - qx * turn
            dzx = bzx + slope * bzz - qz * turn
            wx = 1.0 + rub * slope
            wz = slope - rub
            stiff = wx * dxx + wz * dzx - bend * (rub * fx + fz) - drub * (slope * fx - fz)
            dx = (wx * fx + wz * fz) / stiff
            dz = slope * dx
            normal = (slope * (dxx * dx - fx) - (dzx * dx - fz)) / math.sqrt(1.0 + slope * slope)
            if mode == ON_SURFACE:
                normal = -normal
        if not (abs(dx) < 1e3 and abs(dz) < 1e3):
            return False, 0.0, iteration
        limit = 0.2 * length + 0.05
        worst = math.sqrt(dx * dx + dz * dz)
        # back substitution keeps the steps in F0, F1
        node[F0, n] = dx
        node[F1, n] = dz
        for j in range(n - 1, 0, -1):
            ux = node[F0, j] - node[G0, j] * dx - node[G1, j] * dz
            uz = node[F1, j] - node[G2, j] * dx - node[G3, j] * dz
            dx = ux
            dz = uz
            node[F0, j] = dx
            node[F1, j] = dz
            worst = max(worst, abs(dx) + abs(dz))
        if not worst < 1e3:
            return False, 0.0, iteration
        scale = 1.0 if worst < limit else limit / worst
        node[F0, 0] = 0.0
        node[F1, 0] = 0.0
        t_worst = 0.0
        for j in range(n):
            de = seg[EX, j] * (node[F0, j + 1] - node[F0, j]) + seg[EZ, j] * (
                node[F1, j + 1] - node[F1, j]
            )
            old = seg[T, j]
            new = old + scale * (seg[TH, j] + seg[KS, j] * de - old)
            if new < 0.1 * old:
                new = 0.1 * old
            t_worst = max(t_worst, abs(new - old) / (new + 2e-3))
            seg[T, j] = new
        for j in range(1, n + 1):
            node[X, j] += scale * node[F0, j]
            node[Z, j] += scale * node[F1, j]
        if worst < 1e-5 * length + 2e-6 and t_worst < 2e-3:
            if mode == ON_BOTTOM:
                node[Z, n], slope, bend, hint = _bottom(node[X, n], bx, bz, half, hint)
            elif mode == ON_SURFACE:
                node[Z, n] = 0.0
            return True, normal, iteration + 1
    return False, 0.0, 16


@njit(cache=True, error_model="numpy")
def _line_touches(n, node, bx, bz, half):
    """Whether the line between tip and lure is more than 2 cm below the bottom anywhere.

    Between two straight pieces the deepest overlap lies at a node or at a kink.
    """
    hint = 0
    for j in range(1, n):
        zb, _, _, hint = _bottom(node[X, j], bx, bz, half, hint)
        if node[Z, j] > zb + 0.02:
            return True
    for j in range(n):
        xa = min(node[X, j], node[X, j + 1])
        xb = max(node[X, j], node[X, j + 1])
        if max(node[Z, j], node[Z, j + 1]) <= 0.0:
            continue
        k = hint
        while k > 0 and bx[k] > xa:
            k -= 1
        while k < bx.size and bx[k] < xb:
            if bx[k] > xa and xb - xa > 1e-9:
                part = (bx[k] - node[X, j]) / (node[X, j + 1] - node[X, j])
                if node[Z, j] + part * (node[Z, j + 1] - node[Z, j]) > bz[k] + 0.02:
                    return True
            k += 1
        hint = min(k, bx.size - 2)
    return False


@njit(cache=True, error_model="numpy")
def _reel_speed(speed, length, par):
    """Line taken in per second; turns per second times take-up where a reel is given."""
    if par[TAKE_UP_FULL] <= 0.0:
        return speed
    full = par[TAKE_UP_FULL]
    loss = (full * full - par[TAKE_UP_HALF] ** 2) * 2.0 * length / par[CAPACITY]
    return speed * math.sqrt(max(full * full - loss, 0.04 * full * full))


@njit(cache=True, error_model="numpy")
def _mesh(node, par):
    """Number of segments and the fractions, closer toward the lure where the line bends most.

    The line bends over a length of S_D / (C_n d): the more often that goes into the cast,
    the more nodes and the more of them near the lure.
    """
    group = 1.2 * par[CN_FACTOR] * par[DIAMETER] * par[CAST] / par[PULL_AREA]
    n = int((7.5 + 0.9 * math.sqrt(group)) * par[MESH])
    n = min(max(n, 6), MAX_NODES - 1)
    power = 1.0 + 0.25 * math.log(1.0 + group)
    for j in range(n + 1):
        node[SF, j] = 1.0 - (1.0 - j / n) ** power
    node[SF, n] = 1.0
    return n


@njit(cache=True, error_model="numpy")
def _start(n, node, seg, par, script):
    """Straight line from tip to lure, pre-tensioned, moving at reel speed along itself."""
    h = script[0, S_H0]
    chord = math.sqrt(par[CAST] ** 2 + h * h)
    ex = par[CAST] / chord
    ez = h / chord
    v = script[0, S_SPEED]
    if par[TAKE_UP_FULL] > 0.0:
        v = _reel_speed(v, chord, par)
    pull = max(0.5 * par[WATER_DENSITY] * par[PULL_AREA] * v * v, 0.02)
    length = chord / (1.0 + pull * par[COMPLIANCE])
    for j in range(n + 1):
        s = node[SF, j]
        node[X, j] = node[X0, j] = s * par[CAST]
        node[Z, j] = node[Z0, j] = -h + s * h
        node[AX0, j] = -s * v * ex + (1.0 - s) * par[BOAT]
        node[AZ0, j] = -s * v * ez
    node[Z, n] = node[Z0, n] = 0.0
    for j in range(n):
        seg[T, j] = seg[T0, j] = seg[T1, j] = pull
        seg[UX, j] = seg[UX0, j] = -v * ex
        seg[UZ, j] = seg[UZ0, j] = -v * ez
    return length, v


@njit(cache=True, error_model="numpy")
def _predict(n, nh, dt, h1, h2, node, seg):
    """Extrapolate positions and tensions to the end of a step of dt, and set BDF history.

    Returns c0 and the weights of the last two values in the derivative.
    """
    if nh == 0:
        c0 = 1.0 / dt
        c1 = -1.0 / dt
        c2 = 0.0
    else:
        w = dt / h1
        c0 = (1.0 + 2.0 * w) / ((1.0 + w) * dt)
        c1 = -(1.0 + w) / dt
        c2 = w * w / ((1.0 + w) * dt)
    p0 = p1 = p2 = 0.0
    if nh == 1:
        p0 = 1.0 + dt / h1
        p1 = -dt / h1
    elif nh >= 2:
        p0 = (dt + h1) * (dt + h1 + h2) / (h1 * (h1 + h2))
        p1 = -dt * (dt + h1 + h2) / (h1 * h2)
        p2 = dt * (dt + h1) / ((h1 + h2) * h2)
    for j in range(n + 1):
        x0 = node[X0, j]
        z0 = node[Z0, j]
        x1 = node[X1, j]
        z1 = node[Z1, j]
        node[HX, j] = c1 * x0 + c2 * x1
        node[HZ, j] = c1 * z0 + c2 * z1
        if nh == 0:
            x = x0 + dt * node[AX0, j]
            z = z0 + dt * node[AZ0, j]
        else:
            x = p0 * x0 + p1 * x1 + p2 * node[X2, j]
            z = p0 * z0 + p1 * z1 + p2 * node[Z2, j]
        node[X, j] = node[PX, j] = x
        node[Z, j] = node[PZ, j] = z
    for j in range(n):
        tension = seg[T0, j]
        if nh > 0:
            tension += (seg[T0, j] - seg[T1, j]) * dt / h1
        seg[T, j] = min(max(tension, 0.5 * seg[T0, j]), 2.0 * seg[T0, j])
    return c0, c1, c2


@njit(cache=True, error_model="numpy")
def _accept(n, node, seg):
    """Move the step that was just solved into the history."""
    for j in range(n + 1):
        node[X2, j] = node[X1, j]
        node[Z2, j] = node[Z1, j]
        node[X1, j] = node[X0, j]
        node[Z1, j] = node[Z0, j]
        node[X0, j] = node[X, j]
        node[Z0, j] = node[Z, j]
        node[AX0, j] = node[AX, j]
        node[AZ0, j] = node[AZ, j]
    for j in range(n):
        seg[T1, j] = seg[T0, j]
        seg[T0, j] = seg[T, j]
        seg[UX1, j] = seg[UX0, j]
        seg[UZ1, j] = seg[UZ0, j]
        seg[UX0, j] = seg[UX, j]
        seg[UZ0, j] = seg[UZ, j]


@njit(cache=True, error_model="numpy")
def _step_error(n, nh, mode, node):
    """Local error of the step from how far the solution lies from its prediction [m].

    Backward Euler: half of the difference. BDF2 against quadratic extrapolation: 2/11 of
    it at even steps. On the ground only the sliding counts, not the shape of the ground.
    """
    worst = 0.0
    for j in range(1, n + 1):
        dx = abs(node[X, j] - node[PX, j])
        dz = abs(node[Z, j] - node[PZ, j])
        if j == n and mode != FREE:
            dz = 0.0
        worst = max(worst, dx + dz)
    if nh == 0:
        return 0.5 * worst
    return 0.3 * worst if nh == 1 else 0.18 * worst


@njit(cache=True, error_model="numpy")
def _land(n, vx, vz, slope, node):
    """Velocity of the lure after an impact: only what runs along the ground is left."""
    vt = (vx + slope * vz) / (1.0 + slope * slope)
    node[AX0, n] = vt
    node[AZ0, n] = slope * vt
    return vt, slope * vt


@njit(cache=True, error_model="numpy")
def _kink_ahead(x, bx, bz, half):
    """Distance to the next real kink of the bottom on the way to the tip [m]."""
    k = bx.size - 1
    while k > 0 and bx[k] - half[k] >= x - 1e-6:
        k -= 1
    while k > 1:
        after = (bz[k + 1] - bz[k]) / (bx[k + 1] - bx[k]) if k + 1 < bx.size else 0.0
        before = (bz[k] - bz[k - 1]) / (bx[k] - bx[k - 1])
        if abs(after - before) > 0.02:
            if x - bx[k] > half[k] + 1e-6:
                return x - bx[k] - half[k]
            return x - bx[k] + half[k]
        k -= 1
    return 1e9


@njit(cache=True, error_model="numpy")
def _cut_through(x0, z0, x1, z1, bx, bz):
    """Part of a free step after which its chord first meets a kink standing higher; 2 if none."""
    k = bx.size - 1
    while k > 0 and bx[k] >= x0:
        k -= 1
    while k > 0 and bx[k] > x1:
        part = (x0 - bx[k]) / (x0 - x1)
        if z0 + part * (z1 - z0) > bz[k] + GAP_TOL:
            return part
        k -= 1
    return 2.0


@njit(cache=True, nogil=True, error_model="numpy")
def _march(par, script, table, bx, bz, half, rec):
    """One retrieve, step by step into `rec`; returns steps, status, line touched.

    `bx`, `bz`, `half` are the kinks of the bottom with one far point at each end, and how
    far each kink is rounded. The retrieve ends when the line left is under
    max(1.05 |tip height|, 0.5 m), the lure is under the tip, or lies at the surface under a
    line steeper than 45 degrees, runs aground, or is stuck.
    """
    node = np.zeros((N_NODE, MAX_NODES))
    seg = np.zeros((N_SEG, MAX_NODES))
    hseg = np.zeros((2, MAX_NODES))
    n = _mesh(node, par)
    length, v_ref = _start(n, node, seg, par, script)
    first_length = length
    n_script = script.shape[0]
    break_n = MAX_STRESS_PA * 0.25 * math.pi * par[DIAMETER] ** 2
    bottom_top = 1e9
    for k in range(bz.size):
        bottom_top = min(bottom_top, bz[k])
    scale = par[STEP_SCALE]
    tol_rel = 2e-4 * scale**3

    step = 0
    t = 0.0
    t_begin = 0.0
    dt = first_length / 50.0 / max(v_ref, 0.3) / 50.0
    h1 = h2 = 1.0
    nh = 0
    mode = FREE
    hint = 0
    vx0 = vx1 = -v_ref * (node[X, n] - node[X, 0]) / length
    vz0 = vz1 = node[AZ0, n]
    normal0 = 0.0
    old_speed = v_ref
    touches = False
    count = 0
    rec[0, R_T] = 0.0
    rec[0, R_X] = node[X0, n]
    rec[0, R_Z] = 0.0
    rec[0, R_VX] = vx0
    rec[0, R_VZ] = vz0
    rec[0, R_L] = length
    rec[0, R_PULL] = seg[T, n - 1]
    rec[0, R_TIP] = seg[T, 0]
    rec[0, R_N] = 0.0
    rec[0, R_MODE] = FREE
    rec[0, R_JUMP] = 1.0
    count = 1
    tries = 0
    events = 0
    crossing = False
    while True:
        speed = _reel_speed(script[step, S_SPEED], length, par)
        if nh == 0 and speed != old_speed:
            # the reel changes speed at once: nodes change theirs by -s dv e
            for j in range(n + 1):
                k = min(j, n - 1)
                node[AX0, j] -= node[SF, j] * (speed - old_speed) * seg[EX, k]
                node[AZ0, j] -= node[SF, j] * (speed - old_speed) * seg[EZ, k]
        old_speed = speed
        # limits on the step
        cap = 1.0 * scale
        if speed > 0.0:
            cap = min(cap * 4.0, min(first_length / 40.0, 0.12 * length) * scale / speed)
        if mode == ON_BOTTOM and node[AX0, n] < -1e-3:
            ahead = _kink_ahead(node[X0, n], bx, bz, half)
            cap = min(cap, max(ahead / -node[AX0, n], 0.02 * cap))
        h_now = script[step, S_H0]
        end_length = max(1.05 * abs(h_now), 0.5)
        if speed > 0.0 and length - end_length > 0.0:
            cap = min(cap, (length - end_length) / speed + 1e-6)
        left = script[step, S_END] - t
        step_dt = min(dt, cap)
        if left < step_dt * 1.0001:
            step_dt = left
        elif left < 2.0 * step_dt:
            step_dt = 0.5 * left
        t_new = t + step_dt
        # the tip, and the line left
        part = 1.0
        if script[step, S_END] < 1e17:
            part = min((t_new - t_begin) / (script[step, S_END] - t_begin), 1.0)
        tip_h = script[step, S_H0] + part * (script[step, S_H1] - script[step, S_H0])
        back = script[step, S_B0] + part * (script[step, S_B1] - script[step, S_B0])
        mid_speed = _reel_speed(script[step, S_SPEED], length - 0.5 * speed * step_dt, par)
        length_new = length - mid_speed * step_dt
        end_speed = _reel_speed(script[step, S_SPEED], length_new, par)
        c0, c1, c2 = _predict(n, nh, step_dt, h1, h2, node, seg)
        node[X, 0] = par[BOAT] * t_new - back
        node[Z, 0] = -tip_h
        # A shock that no small step resolves is crossed by one longer step without inertia.
        cu, u1, u2 = (0.0, 0.0, 0.0) if crossing else (c0, c1, c2)
        for j in range(n):
            hseg[0, j] = u1 * seg[UX0, j] + u2 * seg[UX1, j]
            hseg[1, j] = u1 * seg[UZ0, j] + u2 * seg[UZ1, j]
        ok, normal, _ = _newton(
            n,
            length_new,
            end_speed,
            c0,
            cu,
            u1 * vx0 + u2 * vx1,
            u1 * vz0 + u2 * vz1,
            mode,
            hint,
            node,
            seg,
            hseg,
            par,
            table,
            bx,
            bz,
            half,
        )
        tries += 1
        if count >= rec.shape[0] - 1:
            return count, FULL, touches
        if tries > 60:
            return count, STUCK if mode == ON_BOTTOM else FAILED, touches
        if tries % 15 == 0:
            crossing = True
            nh = 0
            dt = 0.02 * (tries // 15)
            continue
        if not ok:
            dt = 0.35 * step_dt
            continue
        err = _step_error(n, nh, mode, node)
        tol = tol_rel * length + 1e-4
        order = 2.0 if nh < 2 else 3.0
        grow = 0.85 * (tol / (err + 1e-12)) ** (1.0 / order)
        if err > 2.5 * tol and step_dt > 1e-4 and not crossing:
            dt = step_dt * max(grow, 0.25)
            continue
        # contact: find its beginning or its end inside the step
        xn = node[X, n]
        zn = node[Z, n]
        next_mode = mode
        pull = seg[T, n - 1]
        if mode == FREE:
            zb, slope, _, hint = _bottom(xn, bx, bz, half, hint)
            zb0, s0, _, _ = _bottom(node[X0, n], bx, bz, half, hint)
            gap = zb - zn
            gap0 = zb0 - node[Z0, n]
            if events < 12:
                if gap < -GAP_TOL or zn < -GAP_TOL:
                    hit = ON_BOTTOM if gap < -GAP_TOL else ON_SURFACE
                    if hit == ON_SURFACE:
                        gap = zn
                        gap0 = node[Z0, n]
                    events += 1
                    if gap0 <= 2.0 * GAP_TOL or step_dt <= MIN_RESTART_S:
                        mode = hit
                        nh = 0
                        dt = step_dt
                        slope = s0 if hit == ON_BOTTOM else 0.0
                        vx0, vz0 = _land(n, vx0, vz0, slope, node)
                    else:
                        dt = max(step_dt * max(gap0 / (gap0 - gap), 0.05), 0.5 * MIN_RESTART_S)
                    continue
                if zn > bottom_top and xn < node[X0, n]:
                    part = _cut_through(node[X0, n], node[Z0, n], xn, zn, bx, bz)
                    if part < 1.0:
                        events += 1
                        dt = max(step_dt * max(part, 0.02), 0.5 * MIN_RESTART_S)
                        continue
            # A landing that was looked for, or (events used up) one that has to be taken;
            # a lure that skims along the ground by itself is left alone.
            if gap <= GAP_TOL and events > 0 and gap < gap0:
                next_mode = ON_BOTTOM
            elif zn <= GAP_TOL and events > 0 and zn < node[Z0, n]:
                next_mode = ON_SURFACE
        elif normal < -1e-4 * pull - 1e-7 and events < 12:
            events += 1
            if normal0 > RELEASE * pull and nh > 0 and step_dt > MIN_RESTART_S:
                dt = max(
                    step_dt * min(max(normal0 / (normal0 - normal), 0.05), 0.98),
                    0.5 * MIN_RESTART_S,
                )
                if normal > -RELEASE * pull:
                    normal = 0.0
                    next_mode = FREE
                else:
                    continue
            else:
                mode = FREE
                nh = 0
                dt = step_dt
                continue
        normal = max(normal, 0.0)
        # accept
        jump = 1.0 if nh == 0 else 0.0
        _accept(n, node, seg)
        h2 = h1
        h1 = step_dt
        vx1 = vx0
        vz1 = vz0
        vx0 = node[AX, n]
        vz0 = node[AZ, n]
        t = t_new
        length = length_new
        normal0 = normal if mode != FREE else 0.0
        nh = min(nh + 1, 2)
        dt = step_dt * min(max(grow, 0.3), 2.0)
        tries = 0
        events = 0
        crossing = False
        rec[count, R_T] = t
        rec[count, R_X] = xn
        rec[count, R_Z] = min(max(zn, 0.0), zb if mode == FREE and bz.size > 0 else 1e9)
        rec[count, R_VX] = vx0
        rec[count, R_VZ] = vz0
        rec[count, R_L] = length
        rec[count, R_PULL] = pull
        rec[count, R_TIP] = seg[T, 0]
        rec[count, R_N] = normal if mode == ON_BOTTOM else 0.0
        rec[count, R_MODE] = mode
        rec[count, R_JUMP] = jump
        count += 1
        if not touches and bottom_top < 1e8:
            deepest = 0.0
            for j in range(1, n):
                deepest = max(deepest, node[Z, j])
            if deepest > bottom_top or zn > bottom_top:
                touches = _line_touches(n, node, bx, bz, half)
        if mode == ON_BOTTOM or next_mode == ON_BOTTOM:
            zb, slope, _, hint = _bottom(xn, bx, bz, half, hint)
            if zb <= 0.005:
                return count, AGROUND, touches
        if xn - node[X, 0] < 0.05:
            return count, PASSED, touches
        if zn < 0.02 and xn - node[X, 0] < tip_h and count > 4:
            return count, HOME, touches
        slow = vx0 * vx0 + vz0 * vz0 < 0.04 * speed * speed
        if mode == ON_BOTTOM and pull > break_n and slow:
            return count, STUCK, touches
        if length <= max(1.05 * abs(tip_h), 0.5) + 1e-5:
            return count, HOME, touches
        if next_mode != mode:
            if next_mode != FREE:
                slope = 0.0
                if next_mode == ON_BOTTOM:
                    zb, slope, _, hint = _bottom(xn, bx, bz, half, hint)
                vx0, vz0 = _land(n, vx0, vz0, slope, node)
            mode = next_mode
            nh = 0
            dt = max(0.25 * dt, MIN_RESTART_S)
        if t >= script[step, S_END] - 1e-9:
            if step + 1 >= n_script:
                return count, FULL, touches
            t_begin = script[step, S_END]
            step += 1
            nh = 0
            dt = min(0.02, dt)


@njit(cache=True, nogil=True, error_model="numpy")
def solve(par, script, tables, bx, bz, half, rec):
    """One retrieve into `rec`; should a run fail it is repeated with finer steps and nodes."""
    p = par.copy()
    table = tables[int(par[CN_TABLE])]
    count, status, touches = _march(p, script, table, bx, bz, half, rec)
    attempt = 0
    while status in (FAILED, FULL) and attempt < 3:
        attempt += 1
        p[STEP_SCALE] *= 0.6 if status == FAILED else 1.5
        p[MESH] *= 1.3 if status == FAILED else 1.0
        count, status, touches = _march(p, script, table, bx, bz, half, rec)
    return count, status, touches


@njit(cache=True, error_model="numpy")
def _smooth_step(rec, count, i):
    """Whether step i goes on smoothly from the one before, in the same contact."""
    return 1 < i < count and rec[i, R_JUMP] == 0.0 and rec[i, R_MODE] == rec[i - 1, R_MODE]


@njit(cache=True, error_model="numpy")
def _between(rec, count, i, u, column):
    """A force inside step i: parabolas through three steps, mixed; linear beside a jump."""
    y0 = rec[i - 1, column]
    y1 = rec[i, column]
    y = y0 + u * (y1 - y0)
    h = rec[i, R_T] - rec[i - 1, R_T]
    rise = (y1 - y0) / h
    bend = 0.0
    if _smooth_step(rec, count, i) and rec[i - 1, R_JUMP] == 0.0:
        before = rec[i - 1, R_T] - rec[i - 2, R_T]
        slope = (y0 - rec[i - 2, column]) / before
        bend += (1.0 - u) * (rise - slope) / (h + before)
    if _smooth_step(rec, count, i + 1):
        after = rec[i + 1, R_T] - rec[i, R_T]
        slope = (rec[i + 1, column] - y1) / after
        bend += u * (slope - rise) / (h + after)
    curved = y - u * (1.0 - u) * h * h * bend
    return curved if curved > 0.0 else max(y, 0.0)


@njit(cache=True, nogil=True, error_model="numpy")
def sample(rec, count, dx_max, bx, bz, half, out):
    """Samples at most dx_max apart horizontally into `out`; returns how many.

    Cubic in time between steps from the velocities at both ends, quadratic after a jump;
    on the ground the depth is the ground's. The columns of `out` are t, x, z, line out,
    pull, pull at the tip, normal force. Where contact begins the forces are those of
    the first moment on the ground.
    """
    n = 0
    hint = 0
    for i in range(count):
        t1 = rec[i, R_T]
        first = 1
        pieces = 1
        if i > 0:
            move = abs(rec[i, R_X] - rec[i - 1, R_X])
            sink = abs(rec[i, R_Z] - rec[i - 1, R_Z])
            pieces = math.ceil(max(move, sink) * 1.0001 / dx_max + 1e-9)
            pieces = max(pieces, 1)
        for k in range(first, pieces + 1):
            if n >= out.shape[0]:
                return n
            if k == pieces:
                t, x, z = t1, rec[i, R_X], rec[i, R_Z]
                length, pull, tip, normal = rec[i, R_L], rec[i, R_PULL], rec[i, R_TIP], rec[i, R_N]
                if (
                    i + 1 < count
                    and rec[i + 1, R_MODE] == ON_BOTTOM
                    and rec[i, R_MODE] != ON_BOTTOM
                ):
                    pull, tip, normal = rec[i + 1, R_PULL], rec[i + 1, R_TIP], rec[i + 1, R_N]
            else:
                u = k / pieces
                h = t1 - rec[i - 1, R_T]
                t = rec[i - 1, R_T] + u * h
                x0, x1, v0, v1 = rec[i - 1, R_X], rec[i, R_X], rec[i - 1, R_VX], rec[i, R_VX]
                z0, z1, w0, w1 = rec[i - 1, R_Z], rec[i, R_Z], rec[i - 1, R_VZ], rec[i, R_VZ]
                if rec[i, R_JUMP] > 0.0:
                    v0 = 2.0 * (x1 - x0) / h - v1
                    w0 = 2.0 * (z1 - z0) / h - w1
                a = u * u * (3.0 - 2.0 * u)
                b = u * (1.0 - u) * (1.0 - u) * h
                c = u * u * (u - 1.0) * h
                x = x0 + a * (x1 - x0) + b * v0 + c * v1
                z = z0 + a * (z1 - z0) + b * w0 + c * w1
                length = rec[i - 1, R_L] + u * (rec[i, R_L] - rec[i - 1, R_L])
                pull = _between(rec, count, i, u, R_PULL)
                tip = _between(rec, count, i, u, R_TIP)
                zb, _, _, hint = _bottom(x, bx, bz, half, hint)
                normal = 0.0
                if rec[i, R_MODE] == ON_BOTTOM:
                    z = zb
                    normal = rec[i, R_N]
                    if rec[i - 1, R_MODE] == ON_BOTTOM:
                        normal = _between(rec, count, i, u, R_N)
                z = max(min(z, zb), 0.0)
            out[n, 0] = t
            out[n, 1] = x
            out[n, 2] = z
            out[n, 3] = length
            out[n, 4] = pull
            out[n, 5] = tip
            out[n, 6] = normal
            n += 1
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def _stations(dense, n, stations, path):
    """Samples evenly spaced along the path, a stop counted at 0.2 m/s, into `path`."""
    total = 0.0
    for i in range(1, n):
        total += (
            abs(dense[i, 1] - dense[i - 1, 1])
            + abs(dense[i, 2] - dense[i - 1, 2])
            + 0.2 * (dense[i, 0] - dense[i - 1, 0])
        )
    m = path.shape[0]
    i = 1
    done = 0.0
    part = 0.0
    for k in range(m):
        want = total * k / (m - 1)
        while True:
            part = (
                abs(dense[i, 1] - dense[i - 1, 1])
                + abs(dense[i, 2] - dense[i - 1, 2])
                + 0.2 * (dense[i, 0] - dense[i - 1, 0])
            )
            if done + part >= want or i >= n - 1:
                break
            done += part
            i += 1
        u = min(max((want - done) / max(part, 1e-12), 0.0), 1.0)
        for c in range(7):
            path[k, c] = dense[i - 1, c] + u * (dense[i, c] - dense[i - 1, c])


@njit(cache=True, nogil=True, error_model="numpy")
def _at_x(dense, n, stations, path):
    """Samples where the lure first reaches given distances (falling) into `path`."""
    i = 1
    for k in range(stations.size):
        x = stations[k]
        while i < n - 1 and dense[i, 1] > x:
            i += 1
        span = dense[i - 1, 1] - dense[i, 1]
        u = (dense[i - 1, 1] - x) / span if span > 1e-12 else 1.0
        u = min(max(u, 0.0), 1.0)
        for c in range(7):
            path[k, c] = dense[i - 1, c] + u * (dense[i, c] - dense[i - 1, c])


@njit(cache=True, nogil=True, error_model="numpy")
def solve_many(
    first, last, pars, scripts, rows, which, tables, bx, bz, half, stations, paths, summary
):
    """Retrieves `first` to `last` of a batch.

    Script k is scripts[rows[k]:rows[k + 1]]; retrieve i uses script which[i]. `paths` has one
    row of samples per retrieve, `summary` holds greatest depth, metres in contact, x and time
    of first contact (nan without), line touched, status.
    """
    rec = np.empty((MAX_REC, N_REC))
    dense = np.empty((2 * MAX_REC, 7))
    for i in range(first, last):
        k = which[i]
        script = scripts[rows[k] : rows[k + 1]]
        count, status, touches = solve(pars[i], script, tables, bx, bz, half, rec)
        n = sample(rec, count, 0.5, bx, bz, half, dense)
        deepest = 0.0
        contact = 0.0
        first_x = math.nan
        first_t = math.nan
        for j in range(n):
            deepest = max(deepest, dense[j, 2])
            if dense[j, 6] > 0.0 and math.isnan(first_x):
                first_x = dense[j, 1]
                first_t = dense[j, 0]
        for j in range(1, count):
            if rec[j, R_MODE] == ON_BOTTOM:
                contact += abs(rec[j, R_X] - rec[j - 1, R_X])
        if stations.size > 0:
            _at_x(dense, n, stations, paths[i])
        else:
            _stations(dense, n, stations, paths[i])
        summary[i, 0] = deepest
        summary[i, 1] = contact
        summary[i, 2] = first_x
        summary[i, 3] = first_t
        summary[i, 4] = 1.0 if touches else 0.0
        summary[i, 5] = status
