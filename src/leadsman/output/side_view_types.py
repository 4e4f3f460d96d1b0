"""What a side view shows, as plain arrays."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from leadsman.display_units import US, DisplayUnits
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.zone import ACCEPTABLE_LOAD

FloatArray = npt.NDArray[np.float64]


SAMPLE_M = 0.5
"""Ends of a stretch are known to a sample of the path [m]."""


@dataclass(frozen=True, slots=True)
class PathBand:
    """Where the lure may run, as central bands over distance.

    Parameters
    ----------
    x_m : ndarray, shape (n,)
        Distances from the rod tip at the start, rising [m].
    shallow_90_m, shallow_50_m, deep_50_m, deep_90_m : ndarray, shape (n,)
        Ends of the 90 % and the 50 % band, from shallow to deep [m].

    Raises
    ------
    ValueError
        Shapes differ, or the ends are out of order.
    """

    x_m: FloatArray
    shallow_90_m: FloatArray
    shallow_50_m: FloatArray
    deep_50_m: FloatArray
    deep_90_m: FloatArray

    def __post_init__(self) -> None:
        ends = (self.shallow_90_m, self.shallow_50_m, self.deep_50_m, self.deep_90_m)
        _check_curve("band", self.x_m, *ends)
        if np.any(np.diff(self.x_m) <= 0.0):
            raise ValueError("band: distances must rise")
        if any(np.any(b < a) for a, b in pairwise(ends)):
            raise ValueError("band: ends must go from shallow to deep")

    @classmethod
    def of_draws(cls, x_m: FloatArray, depth_m: FloatArray) -> PathBand:
        """Bands of many possible paths at common distances.

        Parameters
        ----------
        x_m : ndarray, shape (n,)
            Distances, rising [m].
        depth_m : ndarray, shape (draws, n)
            Depth of each possible path; NaN where a path does not go [m].

        Raises
        ------
        ValueError
            The shapes do not fit, or no path goes somewhere.
        """
        if depth_m.ndim != 2 or depth_m.shape[1] != x_m.size:
            raise ValueError("band: needs a depth for each draw and distance")
        if np.any(np.all(np.isnan(depth_m), axis=0)):
            raise ValueError("band: no path goes to one of the distances")
        ends = np.nanquantile(depth_m, (0.05, 0.25, 0.75, 0.95), axis=0)
        return cls(x_m, ends[0], ends[1], ends[2], ends[3])


@dataclass(frozen=True, slots=True)
class FreePath:
    """Where the lure would run if nothing stopped it.

    Parameters
    ----------
    x_m, depth_m : ndarray, shape (n,)
        The path [m].
    """

    x_m: FloatArray
    depth_m: FloatArray

    def __post_init__(self) -> None:
        _check_curve("free path", self.x_m, self.depth_m)


@dataclass(frozen=True, slots=True)
class DepthCall:
    """The depth to plan on, written large, pointing at a place on the path.

    Parameters
    ----------
    x_m, depth_m : float
        The place [m].
    low_m, high_m : float
        Shallow and deep end of its band [m].
    what : str
        What that depth is, such as ``"free-running"`` [-].
    chance : float
        Chance that the band holds the depth [-].
    """

    x_m: float
    depth_m: float
    low_m: float
    high_m: float
    what: str = "deepest"
    chance: float = 0.9

    def __post_init__(self) -> None:
        if not self.low_m <= self.depth_m <= self.high_m:
            raise ValueError("depth call: the band does not hold the depth")
        if not 0.0 < self.chance < 1.0:
            raise ValueError("depth call: chance is not between 0 and 1")


@dataclass(frozen=True, slots=True)
class ZoneExtent:
    """One stretch of the retrieve in the wanted zone.

    Parameters
    ----------
    near_x_m, far_x_m : float
        Its ends, from the rod tip at the start [m].
    zone_m : float or None
        Zone length in it, if it is not all of it [m].
    """

    near_x_m: float
    far_x_m: float
    zone_m: float | None = None

    def __post_init__(self) -> None:
        if not self.near_x_m <= self.far_x_m:
            raise ValueError("zone extent: near end lies beyond far end")
        most = self.far_x_m - self.near_x_m + SAMPLE_M
        if self.zone_m is not None and not 0.0 <= self.zone_m <= most:
            raise ValueError("zone extent: more zone than stretch")

    @property
    def length_m(self) -> float:
        """Zone length in the stretch [m]."""
        return self.far_x_m - self.near_x_m if self.zone_m is None else self.zone_m


@dataclass(frozen=True, slots=True)
class PathMark:
    """Something that happens at a place on the path, such as first contact.

    Parameters
    ----------
    x_m, depth_m : float
        The place [m].
    label : str
        A few words [-].
    """

    x_m: float
    depth_m: float
    label: str


@dataclass(frozen=True, slots=True)
class SideView:
    """One retrieve seen from the side.

    Parameters
    ----------
    headline : str
        The sentence a person could act on [-].
    x_m, depth_m, load : ndarray, shape (n,)
        Path of the lure from the end of the cast to the rod tip: distance from
        the rod tip at the start [m], depth [m], contact load [-].
    tip_height_m : float
        Height of the rod tip when the retrieve starts, negative under water [m].
    units : DisplayUnits
        Units the reader thinks in [-].
    load_limit : float
        Greatest contact load that counts as light [-].
    bottom : BottomProfile or None
        Bottom and grass under the cast [-].
    band : PathBand or None
        Where the lure may run [-].
    free : FreePath or None
        Where it would run if nothing stopped it [-].
    call : DepthCall or None
        The depth to plan on [-].
    zones : tuple of ZoneExtent
        Stretches in the wanted zone [-].
    marks : tuple of PathMark
        Events on the path [-].
    tip_end_height_m : float or None
        Height of the rod tip at the end of the retrieve if it is another [m].
    target_m : tuple of float or None
        Shallow and deep end of a wanted depth band [m].
    subtitle, note : str
        Second line, and small words at the foot [-].

    Raises
    ------
    ValueError
        The arrays do not make a path.
    """

    headline: str
    x_m: FloatArray
    depth_m: FloatArray
    load: FloatArray
    tip_height_m: float
    units: DisplayUnits = US
    load_limit: float = ACCEPTABLE_LOAD
    bottom: BottomProfile | None = None
    band: PathBand | None = None
    free: FreePath | None = None
    call: DepthCall | None = None
    zones: tuple[ZoneExtent, ...] = ()
    marks: tuple[PathMark, ...] = ()
    tip_end_height_m: float | None = None
    target_m: tuple[float, float] | None = None
    subtitle: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        _check_curve("path", self.x_m, self.depth_m, self.load)
        if np.any(self.load < 0.0):
            raise ValueError("path: a contact load is negative")
        if not self.load_limit > 0.0:
            raise ValueError("path: the load limit is not positive")
        if not all(np.isfinite(tip) for tip in self.tips_m):
            raise ValueError("path: the height of the rod tip is not a number")
        if self.target_m is not None and not self.target_m[0] < self.target_m[1]:
            raise ValueError("target band: ends must go from shallow to deep")
        if float(np.ptp(self.x_m)) <= 0.0:
            raise ValueError("path: it has no length")

    @property
    def tips_m(self) -> tuple[float, ...]:
        """Heights of the rod tip, at the start and, if another, at the end [m]."""
        if self.tip_end_height_m is None or self.tip_end_height_m == self.tip_height_m:
            return (self.tip_height_m,)
        return (self.tip_height_m, self.tip_end_height_m)


@dataclass(frozen=True, slots=True)
class RankedSide:
    """One of several set-ups over the same bottom, best first.

    Parameters
    ----------
    setup : str
        Lure, line, cast and rod tip in a few words [-].
    zone_m : float
        Zone length of the retrieve [m].
    reason : str
        Why it ranks here, one plain sentence [-].
    side : SideView
        Its retrieve; headline, subtitle and note are not used [-].
    """

    setup: str
    zone_m: float
    reason: str
    side: SideView


def _check_curve(name: str, x_m: FloatArray, *columns: FloatArray) -> None:
    if x_m.ndim != 1 or x_m.size < 2:
        raise ValueError(f"{name}: needs at least two points")
    for column in (x_m, *columns):
        if column.shape != x_m.shape:
            raise ValueError(f"{name}: arrays differ in length")
        if not np.all(np.isfinite(column)):
            raise ValueError(f"{name}: a value is not a number")
