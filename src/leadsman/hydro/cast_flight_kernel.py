"""Compiled flight of a point mass with quadratic drag in a log wind profile."""

from __future__ import annotations

import math

from numba import njit

STEP_S = 0.02  # [s] RK4 step; a tenth of it moves a 60 m cast by under 1 mm
STEP_OF_DRAG = 0.1  # [-] and at most this part of the time in which drag stops the lure
LONGEST_FLIGHT_S = 60.0  # [s] far beyond any cast, ends a runaway


@njit(cache=True)
def _acceleration(
    x: float,
    z: float,
    u: float,
    v: float,
    w: float,
    air_per_m: float,
    line_per_m: float,
    spool_fall_per_m: float,
    wind_x: float,
    wind_y: float,
    roughness: float,
    g: float,
) -> tuple[float, float, float]:
    """Acceleration at height z; the winds are per unit of ln((z + z0) / z0)."""
    log_height = math.log((max(z, 0.0) + roughness) / roughness)
    ru = u - wind_x * log_height
    rv = v - wind_y * log_height
    air = air_per_m * math.sqrt(ru * ru + rv * rv + w * w)
    spool = max(1.0 - spool_fall_per_m * x, 0.04)
    line = line_per_m / spool * math.sqrt(u * u + v * v + w * w)
    return -air * ru - line * u, -air * rv - line * v, -air * w - line * w - g


@njit(cache=True)
def fly_kernel(
    speed: float,
    angle: float,
    height: float,
    air_per_m: float,
    line_per_m: float,
    spool_fall_per_m: float,
    wind_x: float,
    wind_y: float,
    roughness: float,
    reference_height: float,
    g: float,
) -> tuple[float, float, float, float, float, float]:
    """Fly until the water; (ahead, sideways, time, apex, time of apex, speed at the end)."""
    scale = 1.0 / math.log((reference_height + roughness) / roughness)
    wx = wind_x * scale
    wy = wind_y * scale
    x, y, z = 0.0, 0.0, height
    u, v, w = speed * math.cos(angle), 0.0, speed * math.sin(angle)
    t, apex, apex_t = 0.0, height, 0.0
    gale = 1.5 * math.hypot(wind_x, wind_y)
    while t < LONGEST_FLIGHT_S:
        ground = math.sqrt(u * u + v * v + w * w)
        rate = (
            air_per_m * (ground + gale)
            + line_per_m / max(1.0 - spool_fall_per_m * x, 0.04) * ground
        )
        dt = min(STEP_S, STEP_OF_DRAG / max(rate, 1e-9))
        a1, b1, c1 = _acceleration(
            x, z, u, v, w, air_per_m, line_per_m, spool_fall_per_m, wx, wy, roughness, g
        )
        h = 0.5 * dt
        u2, v2, w2 = u + h * a1, v + h * b1, w + h * c1
        a2, b2, c2 = _acceleration(
            x + h * u, z + h * w, u2, v2, w2,
            air_per_m, line_per_m, spool_fall_per_m, wx, wy, roughness, g,
        )  # fmt: skip
        u3, v3, w3 = u + h * a2, v + h * b2, w + h * c2
        a3, b3, c3 = _acceleration(
            x + h * u2, z + h * w2, u3, v3, w3,
            air_per_m, line_per_m, spool_fall_per_m, wx, wy, roughness, g,
        )  # fmt: skip
        u4, v4, w4 = u + dt * a3, v + dt * b3, w + dt * c3
        a4, b4, c4 = _acceleration(
            x + dt * u3, z + dt * w3, u4, v4, w4,
            air_per_m, line_per_m, spool_fall_per_m, wx, wy, roughness, g,
        )  # fmt: skip
        nx = x + dt / 6.0 * (u + 2.0 * u2 + 2.0 * u3 + u4)
        ny = y + dt / 6.0 * (v + 2.0 * v2 + 2.0 * v3 + v4)
        nz = z + dt / 6.0 * (w + 2.0 * w2 + 2.0 * w3 + w4)
        nu = u + dt / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4)
        nv = v + dt / 6.0 * (b1 + 2.0 * b2 + 2.0 * b3 + b4)
        nw = w + dt / 6.0 * (c1 + 2.0 * c2 + 2.0 * c3 + c4)
        if w > 0.0 and nw <= 0.0:
            # Within a step the acceleration is level enough for a parabola.
            part = w / (w - nw)
            apex_t = t + part * dt
            apex = z + 0.5 * w * part * dt
        if nz < 0.0 and nw < 0.0:
            # Cubic Hermite of the height, bisected to the water.
            lo, hi = 0.0, 1.0
            for _ in range(40):
                s = 0.5 * (lo + hi)
                q = (
                    (2.0 * s**3 - 3.0 * s**2 + 1.0) * z
                    + (s**3 - 2.0 * s**2 + s) * dt * w
                    + (3.0 * s**2 - 2.0 * s**3) * nz
                    + (s**3 - s**2) * dt * nw
                )
                if q > 0.0:
                    lo = s
                else:
                    hi = s
            s = 0.5 * (lo + hi)
            h00 = 2.0 * s**3 - 3.0 * s**2 + 1.0
            h10 = s**3 - 2.0 * s**2 + s
            h11 = s**3 - s**2
            ex = h00 * x + h10 * dt * u + (1.0 - h00) * nx + h11 * dt * nu
            ey = h00 * y + h10 * dt * v + (1.0 - h00) * ny + h11 * dt * nv
            eu, ev, ew = u + s * (nu - u), v + s * (nv - v), w + s * (nw - w)
            return ex, ey, t + s * dt, apex, apex_t, math.sqrt(eu * eu + ev * ev + ew * ew)
        x, y, z, u, v, w = nx, ny, nz, nu, nv, nw
        t += dt
    return x, y, t, apex, apex_t, math.sqrt(u * u + v * v + w * w)
