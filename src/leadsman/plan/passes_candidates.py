"""Where the boat may be held along a stretch, and which ways it may cast from there."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.lake.bottom_model import Z_90, BottomModel
from leadsman.plan.passes_settings import BoatLimits, PassSettings
from leadsman.plan.passes_types import EdgeStretch

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]

PLACE_STEP_M = 8.0
"""Spacing of the boat positions tried along a stretch [m]. Own choice: a third of a zone."""

ALONG_FAN_RAD = tuple(math.radians(a) for a in range(-24, 25, 3))
"""Headings tried about each direction along an edge [rad]; 3 deg is as well as a person aims."""

ROUND_FAN_RAD = tuple(math.radians(a) for a in range(0, 360, 15))
"""Headings tried over a drop or a flat [rad]."""


@dataclass(frozen=True, slots=True)
class BoatPlaces:
    """Places where the boat may be held.

    Parameters
    ----------
    x_m, y_m : ndarray, shape (p,)
        Where [m].
    along_m : ndarray, shape (p,)
        Where along the stretch [m].
    off_m : ndarray, shape (p,)
        How far outside it [m].
    bearing_rad : ndarray, shape (p,)
        Direction of the stretch there, clockwise from the frame's north [rad].
    depth_m : ndarray, shape (p,)
        Water under the boat [m].
    """

    x_m: FloatArray
    y_m: FloatArray
    along_m: FloatArray
    off_m: FloatArray
    bearing_rad: FloatArray
    depth_m: FloatArray

    def __len__(self) -> int:
        return int(self.x_m.size)


@dataclass(frozen=True, slots=True)
class Casts:
    """Casts that may be made.

    Parameters
    ----------
    place : ndarray of int, shape (b,)
        Boat place of each [-].
    angle_rad : ndarray, shape (b,)
        Direction it flies, clockwise from the frame's north [rad].
    """

    place: IntArray
    angle_rad: FloatArray

    def __len__(self) -> int:
        return int(self.place.size)


def boat_places(
    model: BottomModel, stretch: EdgeStretch, settings: PassSettings, reach_m: float
) -> BoatPlaces:
    """Safe places outside a stretch, from a cast before its beginning to a cast after its end.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    stretch : EdgeStretch
        The stretch [-].
    settings : PassSettings
        Depth and distances the boat keeps [-].
    reach_m : float
        How far beyond the ends of the stretch the boat may be, a cast [m].

    Raises
    ------
    PlanError
        There is no safe water along it; the message names the nearest there is.
    """
    limits = settings.limits
    x, y, dx, dy, along = _spaced(stretch, reach_m)
    bearing = np.arctan2(np.gradient(x), np.gradient(y))
    # over a flat or a drop the boat may also lie on it, and on its shallow side
    signs = (1.0,) if stretch.kind == "edge" else (1.0, -1.0)
    offs = [s * o for o in limits.stand_offs_m for s in signs]
    found = [_safe(model, settings, x + o * dx, y + o * dy) for o in offs]
    good = [np.flatnonzero(ok) for ok, _ in found]
    if not any(g.size for g in good):
        raise _no_water(model, stretch, settings, limits)
    return BoatPlaces(
        np.concatenate([(x + o * dx)[g] for o, g in zip(offs, good, strict=True)]),
        np.concatenate([(y + o * dy)[g] for o, g in zip(offs, good, strict=True)]),
        np.concatenate([along[g] for g in good]),
        np.concatenate([np.full(g.size, o) for o, g in zip(offs, good, strict=True)]),
        np.concatenate([bearing[g] for g in good]),
        np.concatenate([depth[g] for (_, depth), g in zip(found, good, strict=True)]),
    )


def fan(places: BoatPlaces, stretch: EdgeStretch) -> Casts:
    """Casts from every place: along an edge both ways, over a drop or flat all round.

    Parameters
    ----------
    places : BoatPlaces
        The places [-].
    stretch : EdgeStretch
        The stretch [-].
    """
    if stretch.kind == "edge":
        turns = np.array([*ALONG_FAN_RAD, *(math.pi + a for a in ALONG_FAN_RAD)])
    else:
        turns = np.array(ROUND_FAN_RAD)
    place = np.repeat(np.arange(len(places)), turns.size)
    angle = places.bearing_rad[place] + np.tile(turns, len(places))
    return Casts(place, np.mod(angle, 2.0 * math.pi))


def _spaced(
    stretch: EdgeStretch, reach_m: float
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """The stretch in even steps, with its ends drawn out straight by a cast."""
    at = stretch.along_m
    n = max(round(stretch.length_m / PLACE_STEP_M), 1)
    inner = np.linspace(0.0, stretch.length_m, n + 1)
    step = stretch.length_m / n
    more: FloatArray = np.asarray(step * np.arange(1, int(reach_m / step) + 1), dtype=np.float64)
    x, y, dx, dy = (
        np.interp(inner, at, v)
        for v in (stretch.x_m, stretch.y_m, stretch.to_deep_x, stretch.to_deep_y)
    )
    size = np.maximum(np.hypot(dx, dy), 1e-9)
    dx, dy = dx / size, dy / size
    half = min(max(1, round(15.0 / step)), n)

    def drawn(end: int, other: int, distance: FloatArray) -> tuple[FloatArray, FloatArray]:
        ux, uy = x[end] - x[other], y[end] - y[other]
        length = max(math.hypot(ux, uy), 1e-9)
        return x[end] + distance * ux / length, y[end] + distance * uy / length

    x0, y0 = drawn(0, half, more[::-1])
    x1, y1 = drawn(-1, -1 - half, more)
    return (
        np.concatenate([x0, x, x1]),
        np.concatenate([y0, y, y1]),
        np.concatenate([np.full(more.size, dx[0]), dx, np.full(more.size, dx[-1])]),
        np.concatenate([np.full(more.size, dy[0]), dy, np.full(more.size, dy[-1])]),
        np.concatenate([-more[::-1], inner, stretch.length_m + more]),
    )


def _safe(
    model: BottomModel, settings: PassSettings, x: FloatArray, y: FloatArray
) -> tuple[BoolArray, FloatArray]:
    """Whether the boat may be at places, and the depth there."""
    limits = settings.limits
    depth, se = model.sample(x, y, settings.level_m)
    ok = np.isfinite(depth) & (np.nan_to_num(depth - Z_90 * se) >= limits.least_depth_m)
    ring = np.linspace(0.0, 2.0 * math.pi, 12, endpoint=False)
    for share in (0.5, 1.0):
        r = share * limits.shore_m
        for a in ring:
            around, around_se = model.sample(
                x + r * math.sin(a), y + r * math.cos(a), settings.level_m
            )
            floor = np.nan_to_num(around - around_se, nan=-1.0)
            # half the boat's own water is enough where it only has to be able to drift
            ok &= floor >= 0.5 * limits.least_depth_m
    for thing in limits.obstacles:
        ok &= np.hypot(x - thing.x_m, y - thing.y_m) >= thing.radius_m
    return ok, depth


def _no_water(
    model: BottomModel, stretch: EdgeStretch, settings: PassSettings, limits: BoatLimits
) -> PlanError:
    units = settings.units
    for off in np.arange(2.0, 202.0, 4.0):
        ok, _ = _safe(
            model,
            settings,
            stretch.x_m + off * stretch.to_deep_x,
            stretch.y_m + off * stretch.to_deep_y,
        )
        if np.any(ok):
            nearest = f"The nearest such water lies {units.distance.text(float(off))} outside it"
            break
    else:
        depth, _ = model.sample(stretch.x_m, stretch.y_m, settings.level_m)
        most = float(np.nanmax(depth)) if np.any(np.isfinite(depth)) else 0.0
        nearest = (
            f"Along it the water is at most {units.depth.text(most)} deep: allow less water under "
            "the boat, or less distance from shore"
        )
    return PlanError(
        f"no place outside it has {units.depth.text(limits.least_depth_m)} of water under the boat "
        f"and {units.distance.text(limits.shore_m)} to shore and shallows",
        stretch.name,
        nearest,
    )
