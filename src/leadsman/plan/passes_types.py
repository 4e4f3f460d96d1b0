"""What a pass along an edge is planned from, and what comes out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.plan.passes_table import PassSetup

FloatArray = npt.NDArray[np.float64]
Kind = Literal["edge", "drop", "flat"]

REACH_M = 3.0
"""How far from the edge a lure in the zone still works it [m]. Common practice, no source: about
ten feet."""


@dataclass(frozen=True, slots=True)
class GrassStand:
    """Grass that stands on the bottom down to a depth.

    Parameters
    ----------
    edge_depth_m : float
        Depth of the bottom at which it ends, below the surface of the day [m].
    edge_spread_m : float
        Depth over which it thins out from full to none, centred on the edge [m].
    height_m : float
        Height above the bottom [m].
    density : float
        Fraction of the ground covered inside the edge [-].

    Raises
    ------
    PlanError
        A value makes no sense.
    """

    edge_depth_m: float
    edge_spread_m: float = 0.3
    height_m: float = 0.6
    density: float = 0.4

    def __post_init__(self) -> None:
        if not (self.edge_depth_m > 0.0 and self.edge_spread_m >= 0.0 and self.height_m > 0.0):
            raise PlanError("depth and height of the grass must be above 0", "grass")
        if not 0.0 <= self.density <= 1.0:
            raise PlanError("density is a fraction from 0 to 1", "grass")


@dataclass(frozen=True, slots=True)
class EdgeStretch:
    """A stretch to fish along, as points in a metric frame.

    Parameters
    ----------
    name : str
        What to call it [-].
    x_m, y_m : ndarray, shape (n,)
        Places along it, in order [m].
    to_deep_x, to_deep_y : ndarray, shape (n,)
        Unit vector across it toward deeper water [-].
    position_se_m : ndarray, shape (n,)
        Standard error of its place, across it [m].
    depth_m : float
        Depth of the bottom along it, below the surface of the day [m].
    kind : {"edge", "drop", "flat"}
        An edge is fished along itself, a drop and a flat by fans of casts [-].
    half_width_m : float
        How far to either side the ground belongs to it [m].
    grass : GrassStand or None
        Grass on its shallow side [-].

    Raises
    ------
    PlanError
        It is no line.
    """

    name: str
    x_m: FloatArray
    y_m: FloatArray
    to_deep_x: FloatArray
    to_deep_y: FloatArray
    position_se_m: FloatArray
    depth_m: float
    kind: Kind = "edge"
    half_width_m: float = REACH_M
    grass: GrassStand | None = None

    def __post_init__(self) -> None:
        arrays = (self.x_m, self.y_m, self.to_deep_x, self.to_deep_y, self.position_se_m)
        if self.x_m.ndim != 1 or self.x_m.size < 2 or len({a.shape for a in arrays}) != 1:
            raise PlanError("a stretch needs two points or more", self.name)
        if not all(np.all(np.isfinite(a)) for a in arrays) or not self.length_m > 1.0:
            raise PlanError("its points make no line", self.name)
        if not (self.depth_m > 0.0 and self.half_width_m > 0.0):
            raise PlanError("its depth and width must be above 0", self.name)

    @property
    def along_m(self) -> FloatArray:
        """Distance along the line of each point, shape (n,) [m]."""
        steps = np.hypot(np.diff(self.x_m), np.diff(self.y_m))
        return np.concatenate([[0.0], np.cumsum(steps)])

    @property
    def length_m(self) -> float:
        """Length of the line [m]."""
        return float(np.sum(np.hypot(np.diff(self.x_m), np.diff(self.y_m))))


@dataclass(frozen=True, slots=True)
class PlannedCast:
    """One cast of a pass.

    Parameters
    ----------
    heading_deg : float
        True heading, clockwise from north [deg].
    cast_m : float
        Rod tip to lure at the start [m].
    end_x_m, end_y_m : float
        Where the lure lands [m].
    zone_x_m, zone_y_m : tuple of float
        Where the zone begins and ends along the retrieve; empty without one [m].
    zone_m : float
        Expected zone length, over the errors of depth and over fouling [m].
    zone_band_m : tuple of (float, float)
        Least and most as the lure runs shallower or deeper than thought [m].
    new_edge_m : float
        Expected metres of the stretch that it covers and that none before it did [m].
    covers_m : tuple of (float, float)
        From where to where along the stretch it works, from its beginning [m].
    mean_load : float
        Mean load over the contact [-].
    foul_chance : float
        Chance of at least one foul [-].
    lost_chance : float
        Chance that a foul ends the cast [-].
    seconds : float
        Time it takes, throw and turn included [s].
    """

    heading_deg: float
    cast_m: float
    end_x_m: float
    end_y_m: float
    zone_x_m: tuple[float, ...]
    zone_y_m: tuple[float, ...]
    zone_m: float
    zone_band_m: tuple[float, float]
    new_edge_m: float
    covers_m: tuple[float, float]
    mean_load: float
    foul_chance: float
    lost_chance: float
    seconds: float


@dataclass(frozen=True, slots=True)
class BoatStop:
    """A place to hold the boat, or where it passes when a cast is made.

    Parameters
    ----------
    number : int
        Its turn, from 1 [-].
    x_m, y_m : float
        Where, in the frame [m].
    lon_deg, lat_deg : float
        The same on WGS84 [deg].
    depth_m : float
        Water under the boat [m].
    along_m : float
        Where along the stretch it lies [m].
    casts : tuple of PlannedCast
        Casts in order [-].
    """

    number: int
    x_m: float
    y_m: float
    lon_deg: float
    lat_deg: float
    depth_m: float
    along_m: float
    casts: tuple[PlannedCast, ...]

    @property
    def zone_m(self) -> float:
        """Expected zone length of its casts [m]."""
        return sum(cast.zone_m for cast in self.casts)


@dataclass(frozen=True, slots=True)
class PassPlan:
    """How to fish one stretch.

    Parameters
    ----------
    stretch : EdgeStretch
        The stretch [-].
    setup : PassSetup
        What is cast [-].
    boat : {"hold", "creep"}
        Whether the boat is held at its places or creeps past them [-].
    boat_m_s : float
        Speed at which it creeps, 0 where it is held [m s-1].
    stops : tuple of BoatStop
        Places in order [-].
    minutes : float
        Time for all of it [min].
    zone_m : float
        Expected zone length of all casts [m].
    covered_m : float
        Expected metres of the stretch covered, nothing counted twice [m].
    covered_share : float
        The same over its length [-].
    zone_per_hour_m : float
        Expected metres of new edge in the zone per hour [m h-1].
    bound_m : float
        No choice among the casts considered covers more in that time [m].
    casts_considered : int
        Candidates evaluated [-].
    headline : str
        The answer in one sentence [-].
    reasons : tuple of str
        Why so, in plain words [-].
    cautions : tuple of str
        What to mind [-].
    """

    stretch: EdgeStretch
    setup: PassSetup
    boat: Literal["hold", "creep"]
    boat_m_s: float
    stops: tuple[BoatStop, ...]
    minutes: float
    zone_m: float
    covered_m: float
    covered_share: float
    zone_per_hour_m: float
    bound_m: float
    casts_considered: int
    headline: str
    reasons: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def casts(self) -> int:
        """How many casts it is [-]."""
        return sum(len(stop.casts) for stop in self.stops)
