"""Invented lakes and setups for passes, and a plain numpy march to hold the kernel against."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Technique
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.demo_lake import FRAME
from leadsman.lake.lattice import Lattice
from leadsman.plan.candidates import LineOption, LureOption
from leadsman.plan.passes_evaluate import PackedGrid
from leadsman.plan.passes_table import ContactTable, PassSetup
from leadsman.plan.passes_types import EdgeStretch, GrassStand, Kind

FloatArray = npt.NDArray[np.float64]


def setup(
    angle_deg: float = 22.0,
    cast_m: float = 45.0,
    tip_m: float = 0.5,
    diameter_m: float = 0.31e-3,
    rel_se: float = 0.035,
    boat_m_s: float = 0.0,
) -> PassSetup:
    """A usual deep diver on fluorocarbon; all numbers invented within the usual range."""
    lure = LureForces(math.radians(angle_deg), 18e-4, mass_kg=0.018, buoyancy_n=0.03)
    return PassSetup(
        LureOption("long lip", lure, depth_rel_se=rel_se),
        LineOption("line", LineProperties(diameter_m, 1780.0, 2e9), 55.0),
        Technique.steady(cast_m, tip_m, 1.3, boat_m_s),
    )


def model_of(depth: object, half_m: float = 260.0, se_m: float = 0.1) -> BottomModel:
    """A lake from a formula of x and y [m], on 5 m cells; depth under 0.2 m is land."""
    n = int(2.0 * half_m / 5.0) + 1
    lattice = Lattice(FRAME, -half_m, -half_m, 5.0, n, n)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    found = np.asarray(depth(x, y), dtype=np.float64)  # type: ignore[operator]
    found = np.where(found > 0.2, found, np.nan)
    error = np.where(np.isfinite(found), se_m, np.nan)
    return BottomModel("made up", lattice, found.astype(np.float32), error.astype(np.float32))


def slope(x: FloatArray, y: FloatArray) -> FloatArray:
    """A straight edge along the x axis at 3.7 m: a flat to the north, a drop to the south."""
    return np.asarray(3.6 - 0.012 * y + 1.8 / (1.0 + np.exp((y + 16.0) / 6.0)), dtype=np.float64)


def straight(
    length_m: float = 160.0,
    kind: Kind = "edge",
    grass: GrassStand | None = None,
    se_m: float = 0.8,
    half_width_m: float = 3.0,
) -> EdgeStretch:
    """The edge of `slope`, deep water to the south."""
    x = np.arange(-0.5 * length_m, 0.5 * length_m + 2.5, 5.0)
    ones = np.ones(x.size)
    return EdgeStretch(
        "straight edge", x, 0.0 * x, 0.0 * ones, -ones, se_m * ones, 3.7, kind, half_width_m, grass
    )


def plain_zone(
    grid: PackedGrid,
    table: ContactTable,
    tip_x: FloatArray,
    tip_y: FloatArray,
    angle: FloatArray,
    limit: float,
) -> FloatArray:
    """Zone length as thought of many casts [m]: the kernel's march written in plain numpy.

    Vectorised over the casts, a loop over the intervals; NaN off the known water.
    """
    n = table.intervals
    depth = _depths(grid, table, tip_x, tip_y, angle)
    off = np.any(~(depth >= 0.0), axis=1)
    contact, free = table.coefficients[0, 0, :, 0], table.coefficients[0, 0, :, 1]
    path = table.free_m[0, 0]
    z = np.minimum(path[0, 0], depth[:, 0])
    memory = np.full(z.shape, path[0, 1])
    last_slope = memory.copy()
    touching = np.zeros(z.shape, dtype=bool)
    touched = np.zeros(z.shape, dtype=bool)
    zone, before = np.zeros(z.shape), np.zeros(z.shape)
    for k in range(n):
        kept, floor = table.keep[k], depth[:, k + 1]
        z_mid = np.maximum(z - 0.5 * last_slope, 0.0)
        s = kept * memory + (1.0 - kept) * last_slope
        c = free[k]
        steer = 1.0 + (1.0 - kept) * (c[4] + 2.0 * s * c[5] + z_mid * (c[6] + z_mid * c[7]))
        own = last_slope - (last_slope + _poly(c, z_mid, s)) / steer
        here = np.where(touched, own, path[k, 1])
        z_free = np.where(touched, z - (own + own**3 / 3.0), path[k + 1, 0])
        lands = touching | (z_free >= floor)
        rise = depth[:, k] - floor
        b = rise - rise**3 / 3.0
        way = z - floor
        m = kept * memory + (1.0 - kept) * (way - way**3 / 3.0)
        middle = 0.5 * (depth[:, k] + floor)
        load = _load(_poly(contact[k], middle, m) + b, table.cos_delta[0, 0])
        later = _load(_poly(contact[min(k + 1, n - 1)], middle, m) + b, table.cos_delta[0, 0])
        gap = np.maximum(depth[:, k] - z, 0.0)
        with np.errstate(invalid="ignore", divide="ignore"):
            begin = np.where(touching, 0.0, gap / np.maximum(gap + z_free - floor, 1e-9))
        begin = np.where(lands, begin, 0.0)
        first, last = load + (begin - 0.5) * (later - load), load + 0.5 * (later - load)
        bent = 0.5 * (_between(load - 0.5 * before, load, limit) + _between(load, last, limit))
        landing = (1.0 - begin) * _between(first, last, limit)
        zone += np.where(touching, bent, np.where(lands, landing, 0.0))
        before = later - load
        stays = lands & (last > 0.0)
        z_next = np.where(stays, floor, np.where(lands, np.minimum(z_free, floor), z_free))
        free_memory = np.where(touched | lands, kept * memory + (1.0 - kept) * here, path[k + 1, 1])
        memory = np.where(stays, m, free_memory)
        last_slope = np.where(stays, b, np.where(touched | lands, here, path[k + 1, 1]))
        touched |= lands
        touching = stays
        z = np.maximum(z_next, 0.0)
    return np.asarray(np.where(off, np.nan, zone), dtype=np.float64)


def _depths(
    grid: PackedGrid, table: ContactTable, x: FloatArray, y: FloatArray, angle: FloatArray
) -> FloatArray:
    out = table.cast_m - np.arange(table.intervals + 1)
    col = (x[:, None] + out * np.sin(angle)[:, None] - grid.x0_m) / grid.cell_m
    row = (y[:, None] + out * np.cos(angle)[:, None] - grid.y0_m) / grid.cell_m
    ny, nx, _ = grid.cells.shape
    inside = (col >= 0) & (row >= 0) & (col < nx - 1.001) & (row < ny - 1.001)
    c, r = np.where(inside, col, 0.0).astype(int), np.where(inside, row, 0.0).astype(int)
    tx, ty = col - c, row - r
    d = grid.cells[..., 0].astype(np.float64)
    low = d[r, c] + tx * (d[r, c + 1] - d[r, c])
    high = d[r + 1, c] + tx * (d[r + 1, c + 1] - d[r + 1, c])
    return np.asarray(np.where(inside, low + ty * (high - low) + grid.level_m, np.nan))


def _poly(c: FloatArray, z: FloatArray, s: FloatArray) -> FloatArray:
    level = c[0] + z * (c[1] + z * (c[2] + z * c[3]))
    return np.asarray(level + s * (c[4] + s * c[5] + z * (c[6] + z * c[7])))


def _load(angle: FloatArray, cos_delta: float) -> FloatArray:
    return np.asarray((angle - angle**3 / 6.0) / cos_delta)


def _between(p: FloatArray, q: FloatArray, high: float) -> FloatArray:
    least, most = np.minimum(p, q), np.maximum(p, q)
    part = (np.minimum(most, high) - np.maximum(least, 0.0)) / np.maximum(most - least, 1e-12)
    part = np.where((most <= 0.0) | (least >= high), 0.0, part)
    return np.asarray(np.where((least >= 0.0) & (most <= high), 1.0, part))
