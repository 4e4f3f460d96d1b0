"""How long a cast comes out, by lure, wind, rod and angler.

The equations and what is assumed are in docs/cast-flight.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight_fit import MeasuredCast, fit_thrower
from leadsman.hydro.cast_flight_path import CALM, Flight, Wind, flight_drag_area_m2, fly
from leadsman.hydro.cast_flight_thrower import (
    FITTED,
    GRIP_HEIGHT_M,
    LURE_DRAG_LOG_SD,
    MOVING_MASS_ROD_M,
    WIND_SPREAD,
    Thrower,
    check_castable,
    shifted,
)
from leadsman.hydro.technique import TakeUp

__all__ = [
    "CALM",
    "CastLength",
    "Flight",
    "MeasuredCast",
    "Thrower",
    "Wind",
    "cast_length_m",
    "fit_thrower",
    "flight_drag_area_m2",
    "fly",
    "rod_reach_m",
]


@dataclass(frozen=True, slots=True)
class CastLength:
    """How long a cast comes out.

    Parameters
    ----------
    m : float
        Tip to lure when the retrieve starts, the rod pointed at the lure:
        what a `Technique` calls ``cast_m`` [m].
    sd_m : float
        Standard deviation of one such cast [m].
    angler_to_lure_m : float
        Horizontal distance from the angler to the lure [m].
    sideways_m : float
        How far the wind carried it to the left of the aim [m].
    launch_speed_m_s : float
        Speed at release [m s-1].
    flight : Flight
        The flight itself [-].
    """

    m: float
    sd_m: float
    angler_to_lure_m: float
    sideways_m: float
    launch_speed_m_s: float
    flight: Flight


def cast_length_m(
    thrower: Thrower,
    mass_kg: float,
    drag_area_m2: float,
    wind: Wind = CALM,
    rod_m: float = MOVING_MASS_ROD_M,
    spool: TakeUp | None = None,
    tip_m: float = 0.6,
) -> CastLength:
    """Length of a cast, with the spread of a single one.

    Parameters
    ----------
    thrower : Thrower
        The angler [-].
    mass_kg : float
        Mass of the lure [kg].
    drag_area_m2 : float
        Drag area of the lure in the air, see `flight_drag_area_m2` [m2].
    wind : Wind
        Wind [-].
    rod_m : float
        Length of the rod [m].
    spool : TakeUp or None
        The reel's spool [-].
    tip_m : float
        Height of the rod tip when the retrieve starts [m].

    Raises
    ------
    TechniqueError
        The lure or rod is not one that can be cast, or the wind blows it back.
    """
    check_castable(mass_kg, drag_area_m2, rod_m)

    def reach(who: Thrower, area: float = drag_area_m2, gust: float = 1.0) -> float:
        blow = replace(wind, ahead_m_s=wind.ahead_m_s * gust, right_m_s=wind.right_m_s * gust)
        path = who.flight(mass_kg, area, blow, rod_m, spool)
        return math.hypot(path.ahead_m, path.left_m)

    flight = thrower.flight(mass_kg, drag_area_m2, wind, rod_m, spool)
    length = math.hypot(flight.ahead_m, flight.left_m)
    if spool is not None:
        length = min(length, spool.capacity_m)
    rod_reach = rod_reach_m(rod_m, thrower.grip_height_m, tip_m)
    if flight.ahead_m < rod_reach + 1.0:
        raise TechniqueError(
            "this lure cannot be cast past the rod tip in this wind",
            "cast",
            "Turn to cast across or down the wind, or take a heavier lure",
        )
    step = 0.05

    def slope(up: float, down: float) -> float:
        return (up - down) / (2.0 * step)

    slopes = np.array(
        [
            slope(reach(shifted(thrower, i, step)), reach(shifted(thrower, i, -step)))
            for i in range(len(FITTED))
        ]
    )
    grow = math.exp(step)
    area_slope = slope(reach(thrower, drag_area_m2 * grow), reach(thrower, drag_area_m2 / grow))
    gust_slope = slope(reach(thrower, gust=1.0 + step), reach(thrower, gust=1.0 - step))
    sd = math.sqrt(
        float(slopes @ np.array(thrower.log_covariance) @ slopes)
        + (area_slope * LURE_DRAG_LOG_SD) ** 2
        + (gust_slope * WIND_SPREAD) ** 2
        + (thrower.scatter * length) ** 2
    )
    return CastLength(
        length - rod_reach,
        sd,
        length,
        flight.left_m,
        thrower.launch_speed_m_s(mass_kg, rod_m),
        flight,
    )


def rod_reach_m(rod_m: float, grip_height_m: float = GRIP_HEIGHT_M, tip_m: float = 0.6) -> float:
    """How far the tip is ahead of the angler with the rod pointed at the lure.

    Parameters
    ----------
    rod_m : float
        Length of the rod [m].
    grip_height_m : float
        Height of the grip above the water [m].
    tip_m : float
        Height of the tip above the water [m].
    """
    rise = tip_m - grip_height_m
    return math.sqrt(max(rod_m**2 - rise**2, 0.0))
