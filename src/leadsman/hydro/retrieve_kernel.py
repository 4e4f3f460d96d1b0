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
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

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
SAMPLE_SPACING_M = 0.49
"""Samples of a path are aimed this far apart horizontally, so that none exceeds 0.5 m [m]."""

MAX_REC = 6000
MAX_SOLVES = 12_000  # steps tried in one run, far over what any real retrieve needs [-]

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

# Places in the state of the march: what holds at the last step, ...
TIME, LENGTH, FIRST_LENGTH, SPEED, BEGIN, H1, H2, NH, MODE, VX0, VZ0, VX1, VZ1 = range(13)
# ... force of the bound then, and what belongs to the step in hand.
NORMAL0, DT, TRIES, EVENTS, CROSSING, T_NEW, L_NEW, TIP_H, NORMAL, NEXT_MODE, HINT = range(13, 24)
N_STATE = 24

FREE, ON_BOTTOM, ON_SURFACE = 0, 1, 2
MAX_EVENTS = 12  # attempts to find the beginning or end of a contact in one step
GOES_ON, HOME, AGROUND, FAILED, FULL, PASSED, STUCK = -1, 0, 1, 2, 3, 4, 5

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
def _bottom(x: float, ground: FloatArray, hint: int) -> tuple[float, float, float, int]:
    """Depth, slope and curvature of the bottom at x, and the place in the profile.

    Kinks are rounded by parabolas of half width `half`, so that a lure sliding over one has
    a slope at every place.
    """
    bx = ground[0]
    bz = ground[1]
    half = ground[2]
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
def _normal_drag(
    v: float, k: float, re_per_v: float, factor: float, table: FloatArray
) -> tuple[float, float]:
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
def _lure(
    vx: float, vz: float, ex: float, ez: float, par: FloatArray
) -> tuple[float, float, float, float, float, float, float, float]:
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
def _wetness(n: int, length: float, node: FloatArray, seg: FloatArray, par: FloatArray) -> None:
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
def _rotate(
    a: float, b: float, d: float, ex: float, ez: float, kw: float, blk: FloatArray, at: int
) -> None:
    """Block [[a, b], [0, d]] in the axes (e, p) turned into (x, z), p = (-e_z, e_x).

    Written to blk[at:at + 4]; the stiffness kw of floating at the surface acts in z only.
    """
    blk[at] = a * ex * ex - b * ex * ez + d * ez * ez
    blk[at + 1] = (a - d) * ex * ez + b * ex * ex
    blk[at + 2] = (a - d) * ex * ez - b * ez * ez
    blk[at + 3] = a * ez * ez + b * ex * ez + d * ex * ex - kw


@njit(cache=True, error_model="numpy", inline="always")
def _segment(
    j: int,
    a2x: float,
    a2z: float,
    length: float,
    v_reel: float,
    c0: float,
    cu: float,
    node: FloatArray,
    seg: FloatArray,
    hseg: FloatArray,
    par: FloatArray,
    table: FloatArray,
    blk: FloatArray,
) -> None:
    """Forces of segment j on its two nodes and their derivatives, into `blk`.

    `blk` holds the forces on node 1 and node 2 (4), then dF1/dr1, dF1/dr2, dF2/dr1, dF2/dr2.
    All is written in the axes e (tangent) and p (normal) and turned at the end, with
    dl = e.d(r2 - r1), dtheta = p.d(r2 - r1) / l.
    """
    diameter = par[DIAMETER]
    rho = par[WATER_DENSITY]
    kt = 0.5 * rho * math.pi * diameter * par[CT]
    s1 = node[SF, j]
    s2 = node[SF, j + 1]
    l0 = (s2 - s1) * length
    dx = node[X, j + 1] - node[X, j]
    dz = node[Z, j + 1] - node[Z, j]
    ln = math.sqrt(dx * dx + dz * dz) + 1e-12
    il = 1.0 / ln
    ex = dx * il
    ez = dz * il
    stretch = ln / l0
    # Tension that the linearised law gives at this shape, and its stiffness.
    tension = seg[T, j]
    c = par[COMPLIANCE] + BARRIER / (tension * tension)
    th = tension + (stretch - 1.0 - tension * par[COMPLIANCE] + BARRIER / tension) / c
    ks = 1.0 / (c * l0)
    kg = tension * il
    seg[KS, j] = ks
    seg[TH, j] = th
    seg[EX, j] = ex
    seg[EZ, j] = ez
    a1x = node[AX, j]
    a1z = node[AZ, j]
    # Drag of the wet part at its centre zeta:
    # dv_t = e.da + v_n dtheta - slide dl / l0, dv_n = p.da - (a.e) dtheta.
    ze = seg[ZETA, j]
    wl = seg[WET, j] * l0
    ax = (1.0 - ze) * a1x + ze * a2x
    az = (1.0 - ze) * a1z + ze * a2z
    vn = -ax * ez + az * ex
    ae = ax * ex + az * ez
    slide = (1.0 - (1.0 - ze) * s1 - ze * s2) * v_reel
    vt = ae - slide * stretch
    fn, dfn = _normal_drag(
        vn, 0.5 * rho * diameter, rho * diameter / par[VISCOSITY], par[CN_FACTOR], table
    )
    ft = kt * abs(vt) * vt
    dft = 2.0 * kt * abs(vt)
    drag_x = -wl * (ft * ex - fn * ez)
    drag_z = -wl * (ft * ez + fn * ex)
    d1a = -wl * dft * (c0 * (1.0 - ze) + slide / l0)
    d2a = -wl * dft * (c0 * ze - slide / l0)
    d1b = wl * (dft * vn - fn) * il
    d1d = -wl * (dfn * (c0 * (1.0 - ze) + ae * il) - ft * il)
    d2d = -wl * (dfn * (c0 * ze - ae * il) + ft * il)
    # Inertia of the segment, half on each node.
    sm = (1.0 - 0.5 * (s1 + s2)) * v_reel
    ux = 0.5 * (a1x + a2x) - sm * stretch * ex
    uz = 0.5 * (a1z + a2z) - sm * stretch * ez
    seg[UX, j] = ux
    seg[UZ, j] = uz
    half_mass = 0.5 * par[LINE_DENSITY] * 0.25 * math.pi * diameter * diameter * l0
    ix = -half_mass * (cu * ux + hseg[0, j])
    iz = -half_mass * (cu * uz + hseg[1, j])
    mi = half_mass * cu
    m1a = -mi * (0.5 * c0 + sm / l0)
    m2a = -mi * (0.5 * c0 - sm / l0)
    m1d = -mi * (0.5 * c0 + sm * stretch * il)
    m2d = -mi * (0.5 * c0 - sm * stretch * il)
    up = 1.0 - ze
    kw = seg[KW, j]
    blk[0] = th * ex + up * drag_x + ix
    blk[1] = th * ez + up * drag_z + iz + seg[W1, j]
    blk[2] = -th * ex + ze * drag_x + ix
    blk[3] = -th * ez + ze * drag_z + iz + seg[W2, j]
    _rotate(up * d1a + m1a - ks, up * d1b, up * d1d + m1d - kg, ex, ez, kw, blk, 4)
    _rotate(up * d2a + m2a + ks, -up * d1b, up * d2d + m2d + kg, ex, ez, kw, blk, 8)
    _rotate(ze * d1a + m1a + ks, ze * d1b, ze * d1d + m1d + kg, ex, ez, kw, blk, 12)
    _rotate(ze * d2a + m2a - ks, -ze * d1b, ze * d2d + m2d - kg, ex, ez, kw, blk, 16)


@njit(cache=True, error_model="numpy")
def _sweep(
    n: int,
    length: float,
    v_reel: float,
    c0: float,
    cu: float,
    h_lure_x: float,
    h_lure_z: float,
    mode: int,
    slope: float,
    node: FloatArray,
    seg: FloatArray,
    hseg: FloatArray,
    par: FloatArray,
    table: FloatArray,
    blk: FloatArray,
) -> tuple[float, float, float, float, float, float, float, float]:
    """Assemble the force balances and eliminate them from tip to lure.

    Velocities are c0 r + h, accelerations cu U + h. With A = -dF2/dr1, B = -dF/dr of the
    node itself and C = -dF1/dr2, node j gives dr_j = f - G dr_(j+1), G = B^-1 C, f = B^-1 F.
    Returns the reduced 2 x 2 block D and force g of the lure, D dr = g, and the derivative
    of the lure's own force by its vertical velocity.
    """
    bxx = bxz = bzx = bzz = fx = fz = 0.0  # what segment j - 1 left on node j
    gxx = gxz = gzx = gzz = px = pz = 0.0
    qx = qz = 0.0
    node[AX, 0] = c0 * node[X, 0] + node[HX, 0]
    node[AZ, 0] = c0 * node[Z, 0] + node[HZ, 0]
    for j in range(n):
        a2x = c0 * node[X, j + 1] + node[HX, j + 1]
        a2z = c0 * node[Z, j + 1] + node[HZ, j + 1]
        if j == n - 1 and mode != FREE:
            a2z = slope * a2x  # a lure that slides moves along the ground
        node[AX, j + 1] = a2x
        node[AZ, j + 1] = a2z
        _segment(j, a2x, a2z, length, v_reel, c0, cu, node, seg, hseg, par, table, blk)
        if j > 0:
            fx += blk[0]
            fz += blk[1]
            bxx -= blk[4]
            bxz -= blk[5]
            bzx -= blk[6]
            bzz -= blk[7]
            det = 1.0 / (bxx * bzz - bxz * bzx)
            gxx = -det * (bzz * blk[8] - bxz * blk[10])
            gxz = -det * (bzz * blk[9] - bxz * blk[11])
            gzx = -det * (bxx * blk[10] - bzx * blk[8])
            gzz = -det * (bxx * blk[11] - bzx * blk[9])
            px = det * (bzz * fx - bxz * fz)
            pz = det * (bxx * fz - bzx * fx)
            node[G0, j] = gxx
            node[G1, j] = gxz
            node[G2, j] = gzx
            node[G3, j] = gzz
            node[F0, j] = px
            node[F1, j] = pz
        if j == n - 1:
            ex = seg[EX, j]
            ez = seg[EZ, j]
            il = 1.0 / math.hypot(node[X, n] - node[X, j], node[Z, n] - node[Z, j])
            wx, wz, vxx, vxz, vzx, vzz, wtx, wtz = _lure(a2x, a2z, ex, ez, par)
            inertia = par[MASS] * cu
            qx = vxz
            qz = vzz - inertia
            blk[2] += wx - par[MASS] * (cu * a2x + h_lure_x)
            blk[3] += wz - par[MASS] * (cu * a2z + h_lure_z)
            blk[12] += wtx * ez * il
            blk[13] -= wtx * ex * il
            blk[14] += wtz * ez * il
            blk[15] -= wtz * ex * il
            blk[16] += c0 * (vxx - inertia) - wtx * ez * il
            blk[17] += c0 * vxz + wtx * ex * il
            blk[18] += c0 * vzx - wtz * ez * il
            blk[19] += c0 * (vzz - inertia) + wtz * ex * il
        # eliminate node j from the balance of node j + 1; node 0, the tip, does not move
        bxx = blk[12] * gxx + blk[13] * gzx - blk[16]
        bxz = blk[12] * gxz + blk[13] * gzz - blk[17]
        bzx = blk[14] * gxx + blk[15] * gzx - blk[18]
        bzz = blk[14] * gxz + blk[15] * gzz - blk[19]
        fx = blk[2] + blk[12] * px + blk[13] * pz
        fz = blk[3] + blk[14] * px + blk[15] * pz
    return bxx, bxz, bzx, bzz, fx, fz, qx, qz


@njit(cache=True, error_model="numpy")
def _on_ground(
    d: tuple[float, float, float, float, float, float, float, float],
    slope: float,
    bend: float,
    vx: float,
    c0: float,
    friction: float,
) -> tuple[float, float]:
    """Newton step along the ground and the force of the ground, from the lure's block.

    The ground pushes with N c, c = n - k t, n = (m, -1), t = (1, m) at slope m and
    k = mu sign(V.t), smoothed. At right angles to c the balance must hold without it:
    w.(D (1, m) dx - g) = 0 with w = (1 + k m, m - k). On a bend of the ground m, and with
    it w and the velocity m V_x, change with x.
    """
    bxx, bxz, bzx, bzz, fx, fz, qx, qz = d
    steep = math.sqrt(1.0 + slope * slope)
    rub = drub = 0.0
    if friction > 0.0:
        vt = vx * steep
        root = 1.0 / math.sqrt(vt * vt + STICK_M_S * STICK_M_S)
        rub = friction * vt * root
        drub = friction * STICK_M_S**2 * root**3 * c0 * steep
    turn = bend * vx
    dxx = bxx + slope * bxz - qx * turn
    dzx = bzx + slope * bzz - qz * turn
    wx = 1.0 + rub * slope
    wz = slope - rub
    stiff = wx * dxx + wz * dzx - bend * (rub * fx + fz) - drub * (slope * fx - fz)
    dx = (wx * fx + wz * fz) / stiff
    return dx, (slope * (dxx * dx - fx) - (dzx * dx - fz)) / steep


@njit(cache=True, error_model="numpy")
def _back(n: int, dx: float, dz: float, node: FloatArray) -> float:
    """Back substitution: the Newton steps of all nodes into F0, F1; returns the largest."""
    node[F0, n] = dx
    node[F1, n] = dz
    worst = abs(dx) + abs(dz)
    for j in range(n - 1, 0, -1):
        ux = node[F0, j] - node[G0, j] * dx - node[G1, j] * dz
        dz = node[F1, j] - node[G2, j] * dx - node[G3, j] * dz
        dx = ux
        node[F0, j] = dx
        node[F1, j] = dz
        worst = max(worst, abs(dx) + abs(dz))
    node[F0, 0] = 0.0
    node[F1, 0] = 0.0
    return worst


@njit(cache=True, error_model="numpy")
def _move(n: int, scale: float, node: FloatArray, seg: FloatArray) -> float:
    """Take the Newton step in positions and tensions; returns the largest change of tension.

    A tension changes with the strain that the step predicts to first order, and never falls
    below a tenth of itself at once.
    """
    worst = 0.0
    for j in range(n):
        de = seg[EX, j] * (node[F0, j + 1] - node[F0, j]) + seg[EZ, j] * (
            node[F1, j + 1] - node[F1, j]
        )
        old = seg[T, j]
        new = max(old + scale * (seg[TH, j] + seg[KS, j] * de - old), 0.1 * old)
        worst = max(worst, abs(new - old) / (new + 2e-3))
        seg[T, j] = new
    for j in range(1, n + 1):
        node[X, j] += scale * node[F0, j]
        node[Z, j] += scale * node[F1, j]
    return worst


@njit(cache=True, error_model="numpy")
def _newton(
    n: int,
    length: float,
    v_reel: float,
    c0: float,
    cu: float,
    h_lure_x: float,
    h_lure_z: float,
    mode: int,
    hint: int,
    node: FloatArray,
    seg: FloatArray,
    hseg: FloatArray,
    par: FloatArray,
    table: FloatArray,
    ground: FloatArray,
    close: float,
) -> tuple[bool, float]:
    """Solve one time step; returns success and the force that holds the lure at its bound.

    It stops at steps under `close`, whose own error is the square of it over a length of
    metres: far below.
    """
    normal = slope = bend = 0.0
    friction = par[FRICTION] if mode == ON_BOTTOM else 0.0
    blk = np.empty(20)
    for iteration in range(16):
        if mode == ON_BOTTOM:
            node[Z, n], slope, bend, hint = _bottom(node[X, n], ground, hint)
        elif mode == ON_SURFACE:
            node[Z, n] = 0.0
        if iteration < 6:
            _wetness(n, length, node, seg, par)
        d = _sweep(
            n,
            length,
            v_reel,
            c0,
            cu,
            h_lure_x,
            h_lure_z,
            mode,
            slope,
            node,
            seg,
            hseg,
            par,
            table,
            blk,
        )
        if mode == FREE:
            det = d[0] * d[3] - d[1] * d[2]
            dx = (d[3] * d[4] - d[1] * d[5]) / det
            dz = (d[0] * d[5] - d[2] * d[4]) / det
        else:
            dx, normal = _on_ground(d, slope, bend, node[AX, n], c0, friction)
            dz = slope * dx
            if mode == ON_SURFACE:
                normal = -normal
        worst = _back(n, dx, dz, node)
        if not worst < 1e3:  # also catches not a number
            return False, 0.0
        limit = 0.2 * length + 0.05
        change = _move(n, 1.0 if worst < limit else limit / worst, node, seg)
        if worst < close and change < 100.0 * close / length:
            if mode == ON_BOTTOM:
                node[Z, n], slope, bend, hint = _bottom(node[X, n], ground, hint)
            elif mode == ON_SURFACE:
                node[Z, n] = 0.0
            return True, normal
    return False, 0.0


@njit(cache=True, error_model="numpy")
def _line_touches(n: int, node: FloatArray, ground: FloatArray) -> bool:
    """Whether the line between tip and lure is more than 2 cm below the bottom anywhere.

    Between two straight pieces the deepest overlap lies at a node or at a kink.
    """
    bx = ground[0]
    bz = ground[1]
    hint = 0
    for j in range(1, n):
        zb, _, _, hint = _bottom(node[X, j], ground, hint)
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
def _reel_speed(speed: float, length: float, par: FloatArray) -> float:
    """Line taken in per second; turns per second times take-up where a reel is given."""
    if par[TAKE_UP_FULL] <= 0.0:
        return speed
    full = par[TAKE_UP_FULL]
    loss = (full * full - par[TAKE_UP_HALF] ** 2) * 2.0 * length / par[CAPACITY]
    return speed * math.sqrt(max(full * full - loss, 0.04 * full * full))


@njit(cache=True, error_model="numpy")
def _mesh(node: FloatArray, par: FloatArray) -> int:
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
def _start(
    n: int, node: FloatArray, seg: FloatArray, par: FloatArray, script: FloatArray
) -> tuple[float, float]:
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
def _predict(
    n: int, nh: int, dt: float, h1: float, h2: float, node: FloatArray, seg: FloatArray
) -> tuple[float, float, float]:
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
def _accept(n: int, node: FloatArray, seg: FloatArray) -> None:
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
def _step_error(n: int, nh: int, mode: int, node: FloatArray) -> float:
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
def _land(n: int, st: FloatArray, slope: float, node: FloatArray) -> None:
    """An impact leaves the lure only the velocity along the ground."""
    vt = (st[VX0] + slope * st[VZ0]) / (1.0 + slope * slope)
    st[VX0] = node[AX0, n] = vt
    st[VZ0] = node[AZ0, n] = slope * vt


@njit(cache=True, error_model="numpy")
def _kink_ahead(x: float, ground: FloatArray) -> float:
    """Distance to the next real kink of the bottom on the way to the tip [m]."""
    bx = ground[0]
    bz = ground[1]
    half = ground[2]
    k = bx.size - 1
    while k > 0 and bx[k] - half[k] >= x - 1e-6:
        k -= 1
    while k > 1:
        after = (bz[k + 1] - bz[k]) / (bx[k + 1] - bx[k]) if k + 1 < bx.size else 0.0
        before = (bz[k] - bz[k - 1]) / (bx[k] - bx[k - 1])
        if abs(after - before) > 0.02:
            if x - bx[k] > half[k] + 1e-6:
                return float(x - bx[k] - half[k])
            return float(x - bx[k] + half[k])
        k -= 1
    return 1e9


@njit(cache=True, error_model="numpy")
def _cut_through(x0: float, z0: float, x1: float, z1: float, ground: FloatArray) -> float:
    """Part of a free step after which its chord first meets a kink standing higher; 2 if none."""
    bx = ground[0]
    bz = ground[1]
    k = bx.size - 1
    while k > 0 and bx[k] >= x0:
        k -= 1
    while k > 0 and bx[k] > x1:
        part = (x0 - bx[k]) / (x0 - x1)
        if z0 + part * (z1 - z0) > bz[k] + GAP_TOL:
            return float(part)
        k -= 1
    return 2.0


@njit(cache=True, error_model="numpy")
def _tolerance(st: FloatArray, par: FloatArray) -> float:
    """Error allowed in the positions of one step [m]."""
    return float((2e-4 * st[LENGTH] + 1e-4) * par[STEP_SCALE] ** 3)


@njit(cache=True, error_model="numpy")
def _change_speed(n: int, change: float, node: FloatArray, seg: FloatArray) -> None:
    """The reel changes its speed at once: nodes change theirs by -s dv e."""
    for j in range(n + 1):
        k = min(j, n - 1)
        node[AX0, j] -= node[SF, j] * change * seg[EX, k]
        node[AZ0, j] -= node[SF, j] * change * seg[EZ, k]


@njit(cache=True, error_model="numpy")
def _step_size(
    n: int, st: FloatArray, par: FloatArray, row: FloatArray, node: FloatArray, ground: FloatArray
) -> float:
    """Length of the next step [s]: what the error allows, capped, ending on the script's steps.

    Caps: a fortieth of the first line and 0.12 of the line left (0.08 in contact, whose load
    changes fast near the end); kinks of the ground; the end.
    """
    speed = st[SPEED]
    length = st[LENGTH]
    cap = par[STEP_SCALE]
    if speed > 0.0:
        share = 0.08 if st[MODE] == ON_BOTTOM else 0.12
        shorter = min(st[FIRST_LENGTH] / 40.0, share * length)
        cap = min(4.0 * cap, shorter * par[STEP_SCALE] / speed)
        to_go = length - max(1.05 * abs(row[S_H0]), 0.5)
        if to_go > 0.0:
            cap = min(cap, to_go / speed + 1e-6)
    if st[MODE] == ON_BOTTOM and node[AX0, n] < -1e-3:
        ahead = _kink_ahead(node[X0, n], ground)
        cap = min(cap, max(ahead / -node[AX0, n], 0.02 * cap))
    dt = min(st[DT], cap)
    left = row[S_END] - st[TIME]
    if left < dt * 1.0001:
        return float(left)
    return float(0.5 * left if left < 2.0 * dt else dt)


@njit(cache=True, error_model="numpy")
def _try_step(
    n: int,
    dt: float,
    st: FloatArray,
    par: FloatArray,
    row: FloatArray,
    node: FloatArray,
    seg: FloatArray,
    hseg: FloatArray,
    table: FloatArray,
    ground: FloatArray,
) -> bool:
    """Move the tip, take line in and solve for the nodes at the end of a step of dt."""
    st[T_NEW] = st[TIME] + dt
    part = 1.0
    if row[S_END] < 1e17:
        part = min((st[T_NEW] - st[BEGIN]) / (row[S_END] - st[BEGIN]), 1.0)
    st[TIP_H] = row[S_H0] + part * (row[S_H1] - row[S_H0])
    back = row[S_B0] + part * (row[S_B1] - row[S_B0])
    middle = _reel_speed(row[S_SPEED], st[LENGTH] - 0.5 * st[SPEED] * dt, par)
    st[L_NEW] = st[LENGTH] - middle * dt
    end_speed = _reel_speed(row[S_SPEED], st[L_NEW], par)
    c0, c1, c2 = _predict(n, int(st[NH]), dt, st[H1], st[H2], node, seg)
    node[X, 0] = par[BOAT] * st[T_NEW] - back
    node[Z, 0] = -st[TIP_H]
    # A shock that no small step resolves is crossed by one longer step without inertia.
    cu, u1, u2 = c0, c1, c2
    if st[CROSSING] > 0.0:
        cu = u1 = u2 = 0.0
    for j in range(n):
        hseg[0, j] = u1 * seg[UX0, j] + u2 * seg[UX1, j]
        hseg[1, j] = u1 * seg[UZ0, j] + u2 * seg[UZ1, j]
    ok, st[NORMAL] = _newton(
        n,
        st[L_NEW],
        end_speed,
        c0,
        cu,
        u1 * st[VX0] + u2 * st[VX1],
        u1 * st[VZ0] + u2 * st[VZ1],
        int(st[MODE]),
        int(st[HINT]),
        node,
        seg,
        hseg,
        par,
        table,
        ground,
        0.15 * _tolerance(st, par),
    )
    return ok


@njit(cache=True, error_model="numpy")
def _contact_begins(
    n: int, dt: float, st: FloatArray, node: FloatArray, ground: FloatArray, highest: float
) -> bool:
    """Whether a free step may stand; else it is shortened to where the lure meets a bound."""
    x = node[X, n]
    z = node[Z, n]
    zb, _, _, hint = _bottom(x, ground, int(st[HINT]))
    zb0, slope, _, _ = _bottom(node[X0, n], ground, hint)
    st[HINT] = hint
    gap = zb - z
    gap0 = zb0 - node[Z0, n]
    shortest = 0.5 * MIN_RESTART_S
    if st[EVENTS] < MAX_EVENTS:
        if gap < -GAP_TOL or z < -GAP_TOL:
            hit = ON_BOTTOM
            if gap >= -GAP_TOL:
                hit = ON_SURFACE
                gap = z
                gap0 = node[Z0, n]
                slope = 0.0
            st[EVENTS] += 1.0
            if gap0 <= 2.0 * GAP_TOL or dt <= MIN_RESTART_S:
                st[MODE] = st[NEXT_MODE] = hit
                st[NH] = 0.0
                st[DT] = dt
                _land(n, st, slope, node)
            else:
                st[DT] = max(dt * max(gap0 / (gap0 - gap), 0.05), shortest)
            return False
        if z > highest and x < node[X0, n]:
            part = _cut_through(node[X0, n], node[Z0, n], x, z, ground)
            if part < 1.0:
                st[EVENTS] += 1.0
                st[DT] = max(dt * max(part, 0.02), shortest)
                return False
    # A landing that was looked for, or (events used up) one that has to be taken; a lure
    # that skims along the ground by itself is left alone.
    if st[EVENTS] > 0.0:
        if gap <= GAP_TOL and gap < gap0:
            st[NEXT_MODE] = ON_BOTTOM
        elif z <= GAP_TOL and z < node[Z0, n]:
            st[NEXT_MODE] = ON_SURFACE
    return True


@njit(cache=True, error_model="numpy")
def _contact_lasts(dt: float, pull: float, st: FloatArray) -> bool:
    """Whether a step in contact may stand; else it is shortened to where the force ends."""
    normal = st[NORMAL]
    if normal >= -1e-4 * pull - 1e-7 or st[EVENTS] >= MAX_EVENTS:
        return True
    st[EVENTS] += 1.0
    if st[NORMAL0] > RELEASE * pull and st[NH] > 0.0 and dt > MIN_RESTART_S:
        if normal > -RELEASE * pull:
            st[NEXT_MODE] = FREE
            return True
        part = min(max(st[NORMAL0] / (st[NORMAL0] - normal), 0.05), 0.98)
        st[DT] = max(dt * part, 0.5 * MIN_RESTART_S)
        return False
    st[MODE] = st[NEXT_MODE] = FREE
    st[NH] = 0.0
    st[DT] = dt
    return False


@njit(cache=True, error_model="numpy")
def _record(
    count: int,
    n: int,
    jump: float,
    st: FloatArray,
    node: FloatArray,
    seg: FloatArray,
    ground: FloatArray,
    rec: FloatArray,
) -> None:
    """Write the state at the end of a step."""
    z = max(node[Z0, n], 0.0)
    if st[MODE] == FREE:
        z = min(z, _bottom(node[X0, n], ground, int(st[HINT]))[0])
    rec[count, R_T] = st[TIME]
    rec[count, R_X] = node[X0, n]
    rec[count, R_Z] = z
    rec[count, R_VX] = st[VX0]
    rec[count, R_VZ] = st[VZ0]
    rec[count, R_L] = st[LENGTH]
    rec[count, R_PULL] = seg[T0, n - 1]
    rec[count, R_TIP] = seg[T0, 0]
    rec[count, R_N] = st[NORMAL0] if st[MODE] == ON_BOTTOM else 0.0
    rec[count, R_MODE] = st[MODE]
    rec[count, R_JUMP] = jump


@njit(cache=True, error_model="numpy")
def _end(
    count: int,
    n: int,
    st: FloatArray,
    par: FloatArray,
    node: FloatArray,
    seg: FloatArray,
    ground: FloatArray,
) -> int:
    """How the retrieve ends here, or GOES_ON."""
    away = node[X0, n] - node[X0, 0]
    if st[MODE] == ON_BOTTOM or st[NEXT_MODE] == ON_BOTTOM:
        if _bottom(node[X0, n], ground, int(st[HINT]))[0] <= 0.005:
            return AGROUND
        slow = st[VX0] ** 2 + st[VZ0] ** 2 < 0.04 * st[SPEED] ** 2
        if slow and seg[T0, n - 1] > MAX_STRESS_PA * 0.25 * math.pi * par[DIAMETER] ** 2:
            return STUCK
    if away < 0.05:
        return PASSED
    if node[Z0, n] < 0.02 and away < st[TIP_H] and count > 4:
        return HOME
    return HOME if st[LENGTH] <= max(1.05 * abs(st[TIP_H]), 0.5) + 1e-5 else GOES_ON


@njit(cache=True, error_model="numpy")
def _advance(
    n: int, dt: float, grow: float, st: FloatArray, node: FloatArray, seg: FloatArray
) -> None:
    """Make the solved step the last one of the history."""
    _accept(n, node, seg)
    st[H2] = st[H1]
    st[H1] = dt
    st[VX1] = st[VX0]
    st[VZ1] = st[VZ0]
    st[VX0] = node[AX, n]
    st[VZ0] = node[AZ, n]
    st[TIME] = st[T_NEW]
    st[LENGTH] = st[L_NEW]
    st[NORMAL0] = max(st[NORMAL], 0.0) if st[MODE] != FREE else 0.0
    if st[NEXT_MODE] == FREE and st[MODE] != FREE:
        st[NORMAL0] = 0.0
    st[NH] = min(st[NH] + 1.0, 2.0)
    st[DT] = dt * min(max(grow, 0.3), 2.0)
    st[TRIES] = st[EVENTS] = st[CROSSING] = 0.0


@njit(cache=True, error_model="numpy")
def _switch(n: int, st: FloatArray, node: FloatArray, ground: FloatArray) -> None:
    """Contact has begun or ended at the end of this step: start the history anew."""
    if st[NEXT_MODE] == ON_BOTTOM:
        _, slope, _, _ = _bottom(node[X0, n], ground, int(st[HINT]))
        _land(n, st, slope, node)
    elif st[NEXT_MODE] == ON_SURFACE:
        _land(n, st, 0.0, node)
    st[MODE] = st[NEXT_MODE]
    st[NH] = 0.0
    st[DT] = max(0.25 * st[DT], MIN_RESTART_S)


@njit(cache=True, error_model="numpy")
def _refused(n: int, ok: bool, dt: float, tol: float, st: FloatArray, node: FloatArray) -> float:
    """Growth of the step that the error allows, or -1 if the step has to be done again."""
    st[TRIES] += 1.0
    if st[TRIES] % 15.0 == 0.0:
        st[CROSSING] = 1.0
        st[NH] = 0.0
        st[DT] = 0.02 * (st[TRIES] / 15.0)
        return -1.0
    if not ok:
        st[DT] = 0.35 * dt
        return -1.0
    error = _step_error(n, int(st[NH]), int(st[MODE]), node)
    grow = 0.85 * (tol / (error + 1e-12)) ** (0.5 if st[NH] < 2.0 else 1.0 / 3.0)
    if error > 2.5 * tol and dt > 1e-4 and st[CROSSING] == 0.0:
        st[DT] = dt * max(grow, 0.25)
        return -1.0
    return float(grow)


@njit(cache=True, error_model="numpy")
def _march(
    par: FloatArray, script: FloatArray, table: FloatArray, ground: FloatArray, rec: FloatArray
) -> tuple[int, int, bool]:
    """One retrieve, step by step into `rec`; returns steps, status, line touched.

    `ground` holds the kinks of the bottom with one far point at each end: x, depth, and how
    far each kink is rounded. The retrieve ends when the line left is under
    max(1.05 |tip height|, 0.5 m), the lure is under the tip, or lies at the surface under a
    line steeper than 45 degrees, runs aground, or is stuck.
    """
    node = np.zeros((N_NODE, MAX_NODES))
    seg = np.zeros((N_SEG, MAX_NODES))
    hseg = np.zeros((2, MAX_NODES))
    st = np.zeros(N_STATE)
    n = _mesh(node, par)
    st[LENGTH], st[SPEED] = _start(n, node, seg, par, script)
    st[FIRST_LENGTH] = st[LENGTH]
    st[VX0] = st[VX1] = node[AX0, n]
    st[VZ0] = st[VZ1] = node[AZ0, n]
    st[H1] = st[H2] = 1.0
    st[DT] = st[LENGTH] / 2500.0 / max(st[SPEED], 0.3)
    highest = np.min(ground[1])
    touches = False
    place = 0
    solves = 0
    _record(0, n, 1.0, st, node, seg, ground, rec)
    count = 1
    while count < rec.shape[0]:
        row = script[place]
        speed = _reel_speed(row[S_SPEED], st[LENGTH], par)
        if st[NH] == 0.0 and speed != st[SPEED]:
            _change_speed(n, speed - st[SPEED], node, seg)
        st[SPEED] = speed
        dt = _step_size(n, st, par, row, node, ground)
        ok = _try_step(n, dt, st, par, row, node, seg, hseg, table, ground)
        solves += 1
        if st[TRIES] > 60.0 or solves > MAX_SOLVES:
            return count, STUCK if st[MODE] == ON_BOTTOM else FAILED, touches
        grow = _refused(n, ok, dt, _tolerance(st, par), st, node)
        if grow < 0.0:
            continue
        st[NEXT_MODE] = st[MODE]
        if st[MODE] == FREE:
            if not _contact_begins(n, dt, st, node, ground, highest):
                continue
        elif not _contact_lasts(dt, seg[T, n - 1], st):
            continue
        jump = 1.0 if st[NH] == 0.0 else 0.0
        _advance(n, dt, grow, st, node, seg)
        _record(count, n, jump, st, node, seg, ground, rec)
        count += 1
        if not touches and np.max(node[Z0, : n + 1]) > highest:
            touches = _line_touches(n, node, ground)
        status = _end(count, n, st, par, node, seg, ground)
        if status != GOES_ON:
            return count, status, touches
        if st[NEXT_MODE] != st[MODE]:
            _switch(n, st, node, ground)
        if st[TIME] >= row[S_END] - 1e-9:
            st[BEGIN] = row[S_END]
            place += 1
            st[NH] = 0.0
            st[DT] = min(0.02, st[DT])
    return count, FULL, touches


@njit(cache=True, nogil=True, error_model="numpy")
def solve(
    par: FloatArray,
    script: FloatArray,
    tables: FloatArray,
    ground: FloatArray,
    rec: FloatArray,
) -> tuple[int, int, bool]:
    """One retrieve into `rec`; should a run fail it is repeated, finer and then coarser."""
    p = par.copy()
    table = tables[int(par[CN_TABLE])]
    count, status, touches = _march(p, script, table, ground, rec)
    for attempt in range(3):
        if status not in (FAILED, FULL):
            break
        finer = status == FAILED and attempt < 2
        p[STEP_SCALE] *= 0.6 if finer else 1.7
        p[MESH] *= 1.3 if finer else 0.8
        count, status, touches = _march(p, script, table, ground, rec)
    return count, status, touches


@njit(cache=True, error_model="numpy")
def _smooth_step(rec: FloatArray, count: int, i: int) -> bool:
    """Whether step i goes on smoothly from the one before, in the same contact."""
    return 1 < i < count and rec[i, R_JUMP] == 0.0 and rec[i, R_MODE] == rec[i - 1, R_MODE]


@njit(cache=True, error_model="numpy")
def _between(rec: FloatArray, count: int, i: int, u: float, column: int) -> float:
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
    return float(curved if curved > 0.0 else max(y, 0.0))


@njit(cache=True, nogil=True, error_model="numpy")
def sample(
    rec: FloatArray,
    count: int,
    dx_max: float,
    ground: FloatArray,
    out: FloatArray,
) -> int:
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
                zb, _, _, hint = _bottom(x, ground, hint)
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
def _stations(dense: FloatArray, n: int, stations: FloatArray, path: FloatArray) -> None:
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
def _at_x(dense: FloatArray, n: int, stations: FloatArray, path: FloatArray) -> None:
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
    first: int,
    last: int,
    pars: FloatArray,
    scripts: FloatArray,
    rows: IntArray,
    which: IntArray,
    tables: FloatArray,
    ground: FloatArray,
    stations: FloatArray,
    paths: FloatArray,
    summary: FloatArray,
) -> None:
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
        count, status, touches = solve(pars[i], script, tables, ground, rec)
        n = sample(rec, count, SAMPLE_SPACING_M, ground, dense)
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
