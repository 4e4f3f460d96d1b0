"""What a map of a lake or of one stretch shows, as plain arrays in a metric frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from leadsman.display_units import US, DisplayUnits

FloatArray = npt.NDArray[np.float64]

NOT_FOR_NAVIGATION = "Not for navigation."
"""Stands on every map [-]."""
MAP_CAUTION = "Level, stumps and shallows may differ from the map."
"""Usual caution beside it [-]."""


@dataclass(frozen=True, slots=True)
class DepthGrid:
    """Depth on a grid.

    Parameters
    ----------
    x_m : ndarray, shape (n,)
        Eastings of the columns, rising [m].
    y_m : ndarray, shape (m,)
        Northings of the rows, rising [m].
    depth_m : ndarray, shape (m, n)
        Depth, positive down; NaN on land and where it is not known [m].

    Raises
    ------
    ValueError
        The arrays do not make a grid, or none of it is water.
    """

    x_m: FloatArray
    y_m: FloatArray
    depth_m: FloatArray

    def __post_init__(self) -> None:
        for name, axis in (("x", self.x_m), ("y", self.y_m)):
            if axis.ndim != 1 or axis.size < 2 or not np.all(np.isfinite(axis)):
                raise ValueError(f"grid: {name} needs at least two numbers")
            if np.any(np.diff(axis) <= 0.0):
                raise ValueError(f"grid: {name} must rise")
        if self.depth_m.shape != (self.y_m.size, self.x_m.size):
            raise ValueError("grid: depth does not fit x and y")
        if np.any(np.isinf(self.depth_m)) or not np.any(np.isfinite(self.depth_m)):
            raise ValueError("grid: no depth is known, or one is endless")


@dataclass(frozen=True, slots=True)
class Polyline:
    """A line on the map.

    Parameters
    ----------
    x_m, y_m : ndarray, shape (n,)
        Eastings and northings of its points [m].
    """

    x_m: FloatArray
    y_m: FloatArray

    def __post_init__(self) -> None:
        if self.x_m.ndim != 1 or self.x_m.shape != self.y_m.shape or self.x_m.size < 2:
            raise ValueError("polyline: needs at least two points")
        if not (np.all(np.isfinite(self.x_m)) and np.all(np.isfinite(self.y_m))):
            raise ValueError("polyline: a value is not a number")

    @property
    def length_m(self) -> float:
        """Length along the line [m]."""
        return float(np.sum(np.hypot(np.diff(self.x_m), np.diff(self.y_m))))


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed outline, the last point joined to the first.

    Parameters
    ----------
    x_m, y_m : ndarray, shape (n,)
        Eastings and northings of its points [m].
    """

    x_m: FloatArray
    y_m: FloatArray

    def __post_init__(self) -> None:
        if self.x_m.ndim != 1 or self.x_m.shape != self.y_m.shape or self.x_m.size < 3:
            raise ValueError("ring: needs at least three points")
        if not (np.all(np.isfinite(self.x_m)) and np.all(np.isfinite(self.y_m))):
            raise ValueError("ring: a value is not a number")


@dataclass(frozen=True, slots=True)
class EdgeLine:
    """A grass edge or another target depth, with its band.

    Parameters
    ----------
    lines : tuple of Polyline
        The edge itself [-].
    band : tuple of Ring
        Outlines of where the edge lies nine times in ten, filled even-odd so
        that an inner ring cuts a hole [-].
    what : str
        What the edge is, such as ``"grass edge, 13 ft"`` [-].
    grass : bool
        True for a grass edge, False for a bare depth or drop [-].
    """

    lines: tuple[Polyline, ...]
    band: tuple[Ring, ...] = ()
    what: str = "grass edge"
    grass: bool = True


@dataclass(frozen=True, slots=True)
class Stretch:
    """A ranked stretch of the edge.

    Parameters
    ----------
    rank : int
        1 is best [-].
    line : Polyline
        The stretch [-].
    label : str
        A few words, such as ``"inside turn"`` [-].
    """

    rank: int
    line: Polyline
    label: str = ""


@dataclass(frozen=True, slots=True)
class CastLine:
    """One cast from the boat.

    Parameters
    ----------
    boat_x_m, boat_y_m : float
        Where the boat is [m].
    end_x_m, end_y_m : float
        Where the lure lands [m].
    zone : Polyline or None
        Part of the retrieve in the wanted zone [-].
    number : int or None
        Order of the boat's position; None is not written [-].
    """

    boat_x_m: float
    boat_y_m: float
    end_x_m: float
    end_y_m: float
    zone: Polyline | None = None
    number: int | None = None

    def __post_init__(self) -> None:
        places = (self.boat_x_m, self.boat_y_m, self.end_x_m, self.end_y_m)
        if not all(np.isfinite(places)):
            raise ValueError("cast: a place is not a number")


@dataclass(frozen=True, slots=True)
class Place:
    """A named place: a launch, a waypoint.

    Parameters
    ----------
    x_m, y_m : float
        Easting and northing [m].
    label : str
        Its name [-].
    """

    x_m: float
    y_m: float
    label: str


@dataclass(frozen=True, slots=True)
class Window:
    """The part of a map to show.

    Parameters
    ----------
    left_m, bottom_m, right_m, top_m : float
        Its edges [m].
    """

    left_m: float
    bottom_m: float
    right_m: float
    top_m: float

    def __post_init__(self) -> None:
        if not (self.left_m < self.right_m and self.bottom_m < self.top_m):
            raise ValueError("window: it has no area")

    @classmethod
    def around(cls, lines: tuple[Polyline, ...], margin_m: float) -> Window:
        """Window that holds some lines with a margin.

        Parameters
        ----------
        lines : tuple of Polyline
            The lines [-].
        margin_m : float
            Margin all round [m].
        """
        xs = np.concatenate([line.x_m for line in lines])
        ys = np.concatenate([line.y_m for line in lines])
        return cls(
            float(np.min(xs)) - margin_m,
            float(np.min(ys)) - margin_m,
            float(np.max(xs)) + margin_m,
            float(np.max(ys)) + margin_m,
        )


@dataclass(frozen=True, slots=True)
class MapView:
    """A map.

    Parameters
    ----------
    headline : str
        The sentence a person could act on [-].
    grid : DepthGrid
        The bottom [-].
    edges : tuple of EdgeLine
        Grass edges and target depths [-].
    stretches : tuple of Stretch
        Ranked stretches [-].
    casts : tuple of CastLine
        Casts [-].
    shoreline : tuple of Polyline
        The shore; without it the outline of the grid's water is drawn [-].
    route : Polyline or None
        Way of the boat [-].
    soundings : Polyline, tuple of Polyline or None
        Tracks of the soundings that the bottom rests on [-].
    places : tuple of Place
        Launch and other places [-].
    window : Window or None
        Part to show; None shows the whole grid [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    north_rad : float
        Direction of true north on the map, clockwise from up [rad].
    wind_from_rad : float or None
        Where the wind comes from, clockwise from true north [rad].
    scale : {"auto", "distance"}
        ``"auto"`` lets a wide map use miles or kilometres [-].
    subtitle, note : str
        Second line, and small words at the foot [-].
    stretch_words : str
        What the numbers of the stretches mean [-].
    reasons : tuple of str
        What stands behind the numbers on the map, a line each, below it [-].
    """

    headline: str
    grid: DepthGrid
    edges: tuple[EdgeLine, ...] = ()
    stretches: tuple[Stretch, ...] = ()
    casts: tuple[CastLine, ...] = ()
    shoreline: tuple[Polyline, ...] = ()
    route: Polyline | None = None
    soundings: Polyline | tuple[Polyline, ...] | None = None
    places: tuple[Place, ...] = ()
    window: Window | None = None
    units: DisplayUnits = US
    north_rad: float = 0.0
    wind_from_rad: float | None = None
    scale: Literal["auto", "distance"] = "auto"
    subtitle: str = ""
    note: str = ""
    stretch_words: str = "stretch, 1 is best"
    reasons: tuple[str, ...] = ()

    @property
    def sounded(self) -> tuple[Polyline, ...]:
        """Tracks of the soundings, however they were given."""
        if self.soundings is None:
            return ()
        return self.soundings if isinstance(self.soundings, tuple) else (self.soundings,)
