"""What a person wants of a pass: time, boat, wind, and how long things take."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import numpy.typing as npt

from leadsman.display_units import US, DisplayUnits
from leadsman.errors import PlanError
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.fouling import FoulingCoefficients
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]
Boat = Literal["hold", "creep", "best"]

STRONG_WIND_M_S = 2.0
"""From here on the boat works into the wind, where it is held best, and casts into it are
trouble [m s-1]. Common practice, no source."""

INTO_WIND_RAD = math.radians(50.0)
"""A cast within this of where the wind comes from is one into it [rad]."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something the boat keeps away from.

    Parameters
    ----------
    x_m, y_m : float
        Where it is [m].
    radius_m : float
        How far to stay away [m].
    """

    x_m: float
    y_m: float
    radius_m: float = 15.0


@dataclass(frozen=True, slots=True)
class BoatLimits:
    """Where the boat may be held.

    Parameters
    ----------
    least_depth_m : float
        Water it needs, certain to 95 %. Assumed 1.5 m; own choice [m].
    shore_m : float
        Distance from land, unknown and too shallow water. Assumed 15 m; own choice [m].
    stand_offs_m : tuple of float
        Distances outside the edge that are tried. Own choice: from just clear of it to
        half a short cast [m].
    obstacles : tuple of Obstacle
        What else to keep away from [-].
    """

    least_depth_m: float = 1.5
    shore_m: float = 15.0
    stand_offs_m: tuple[float, ...] = (3.0, 6.0, 10.0, 15.0, 22.0)
    obstacles: tuple[Obstacle, ...] = ()

    def __post_init__(self) -> None:
        if not (self.least_depth_m >= 0.0 and self.shore_m >= 0.0):
            raise PlanError("least depth and stand-off cannot be negative", "boat")
        if not self.stand_offs_m or min(self.stand_offs_m) < 0.0:
            raise PlanError("the boat must be held somewhere outside the edge", "boat")


@dataclass(frozen=True, slots=True)
class Pace:
    """How long things take besides the retrieve. Own estimates, common practice, no source.

    Parameters
    ----------
    throw_s : float
        To throw and let the line come tight [s].
    turn_s : float
        To land the last cast, turn to the next aim [s].
    settle_s : float
        To stop the boat at a place and hold it there [s].
    travel_m_s : float
        Speed along the stretch between places [m s-1].
    headwind_s : float
        What a cast into a wind of `STRONG_WIND_M_S` or more costs in loops and trouble, so
        that it is only made where it brings more [s].
    """

    throw_s: float = 6.0
    turn_s: float = 5.0
    settle_s: float = 40.0
    travel_m_s: float = 1.0
    headwind_s: float = 12.0

    def __post_init__(self) -> None:
        times = (self.throw_s, self.turn_s, self.settle_s, self.headwind_s)
        if min(times) < 0.0 or not self.travel_m_s > 0.0:
            raise PlanError("times cannot be negative and the boat must move", "pace")


@dataclass(frozen=True, slots=True)
class WindOnCasts:
    """What the wind does to casts, by the angle between cast and wind.

    Parameters
    ----------
    from_rad : float
        Where it comes from, clockwise from true north [rad].
    speed_m_s : float
        Its speed [m s-1].
    off_wind_rad : ndarray, shape (k,)
        Angles between the cast and the direction the wind comes from, 0 into
        it to pi down it, rising [rad].
    cast_m : ndarray, shape (k,)
        Rod tip to lure at those angles [m].
    """

    from_rad: float
    speed_m_s: float
    off_wind_rad: FloatArray
    cast_m: FloatArray


@dataclass(frozen=True, slots=True)
class PassSettings:
    """What is wanted of a pass.

    Parameters
    ----------
    limit_load : float
        Largest contact load that counts [-].
    minutes : float or None
        Time there is; None goes on while it pays [min].
    boat : {"hold", "creep", "best"}
        Whether the boat is held at places, creeps along the edge while reeling, or
        whichever is better [-].
    limits : BoatLimits
        Where the boat may be [-].
    pace : Pace
        How long things take [-].
    wind : WindOnCasts or None
        The wind; None is calm [-].
    rod_reach_m : float
        How far the tip is ahead of the boat's place [m].
    level_m : float
        Water level now above the map's reference [m].
    worth_share : float
        Casts go on while they bring at least this share of the best rate so far [-]. Own
        choice: half; below it the next stretch is the better place.
    water : Water
        The water [-].
    drag : DragLaw
        Drag of the line [-].
    fouling : FoulingCoefficients
        How readily grass holds a lure [-].
    units : DisplayUnits
        Units of the sentences [-].
    thorough : bool
        Whether chosen casts are exchanged for better ones, which takes many
        times as long and gains a few percent [-].
    """

    limit_load: float = ACCEPTABLE_LOAD
    minutes: float | None = None
    boat: Boat = "best"
    limits: BoatLimits = field(default_factory=BoatLimits)
    pace: Pace = field(default_factory=Pace)
    wind: WindOnCasts | None = None
    rod_reach_m: float = 2.2
    level_m: float = 0.0
    worth_share: float = 0.5
    water: Water = field(default_factory=Water)
    drag: DragLaw = field(default_factory=DragLaw)
    fouling: FoulingCoefficients = field(default_factory=FoulingCoefficients)
    units: DisplayUnits = US
    thorough: bool = True

    def __post_init__(self) -> None:
        if not 0.0 < self.limit_load <= 1.0:
            raise PlanError("limit of acceptable load is outside 0 to 1", "limit")
        if self.minutes is not None and not self.minutes > 0.0:
            raise PlanError("there is no time for a pass", "minutes")
        if not 0.0 <= self.worth_share < 1.0:
            raise PlanError("the share of the rate that is still worth it is 0 to 1", "share")
