"""What was seen of a lure, each kind as an angler can give it."""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.errors import LogError
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.technique import Technique

BOTTOM_SD_M = 0.15
"""Spread of a bottom depth as read on a sounder or map, half a foot [m]; our estimate."""
MEASURED_SD_M = 0.15
"""Spread of a measured running depth where none is told [m]; our estimate."""
CAST_SD_LOG = 0.06
"""Spread of ln cast where the usual cast was measured [-]; our estimate."""
TIP_SD_M = 0.15
"""Spread of the height of the rod tip [m]; our estimate."""
BOAT_SD_M_S = 0.05
"""Spread of the drift of a boat that is held on a spot [m s-1]; our estimate."""
PULL_LOG_SD = 0.12
"""Spread of ln pull: a scale to 5 %, a speed to 5 %, which counts twice [-]; our estimate."""
TIME_SD_S = 1.0
"""Spread of a time taken with a watch [s]; our estimate."""


@dataclass(frozen=True, slots=True)
class Fished:
    """How a lure was fished when something was seen.

    Parameters
    ----------
    line : LineProperties
        Line [-].
    line_name : str
        Which line it was: an error of its diameter is shared by all that was
        seen on it [-].
    diameter_log_sd : float
        Spread of ln diameter [-].
    technique : Technique
        Cast, rod and retrieve [-].
    cast_log_sd : float
        Spread of ln cast [-].
    tip_sd_m : float
        Spread of the tip height [m].
    boat_sd_m_s : float
        Spread of the boat's drift along the cast [m s-1].
    casts : int
        Casts on which it was seen: what differs from cast to cast averages out [-].
    """

    line: LineProperties
    line_name: str
    diameter_log_sd: float
    technique: Technique
    cast_log_sd: float = CAST_SD_LOG
    tip_sd_m: float = TIP_SD_M
    boat_sd_m_s: float = BOAT_SD_M_S
    casts: int = 1

    def __post_init__(self) -> None:
        spreads = (self.diameter_log_sd, self.cast_log_sd, self.tip_sd_m, self.boat_sd_m_s)
        if not all(0.0 <= spread < 2.0 for spread in spreads):
            raise LogError("a spread is negative or beyond reason", "spread")
        if not 1 <= self.casts <= 1000:
            raise LogError("it is seen on 1 to 1000 casts", "casts")


@dataclass(frozen=True, slots=True)
class Ticked:
    """It just touched the bottom at a depth.

    Parameters
    ----------
    fished : Fished
        How [-].
    depth_m : float
        Depth of the bottom [m].
    depth_sd_m : float
        Spread of that depth [m].
    """

    fished: Fished
    depth_m: float
    depth_sd_m: float = BOTTOM_SD_M

    def __post_init__(self) -> None:
        _check_depth(self.depth_m, self.depth_sd_m)


@dataclass(frozen=True, slots=True)
class DidNotReach:
    """It touched nothing over a bottom of a depth.

    Parameters
    ----------
    fished : Fished
        How [-].
    depth_m : float
        Depth of the bottom [m].
    depth_sd_m : float
        Spread of that depth [m].
    """

    fished: Fished
    depth_m: float
    depth_sd_m: float = BOTTOM_SD_M

    def __post_init__(self) -> None:
        _check_depth(self.depth_m, self.depth_sd_m)


@dataclass(frozen=True, slots=True)
class MeasuredDepth:
    """Its greatest depth was measured.

    Parameters
    ----------
    fished : Fished
        How [-].
    depth_m : float
        Greatest depth [m].
    depth_sd_m : float
        Spread of that depth [m].
    """

    fished: Fished
    depth_m: float
    depth_sd_m: float = MEASURED_SD_M

    def __post_init__(self) -> None:
        _check_depth(self.depth_m, self.depth_sd_m)


@dataclass(frozen=True, slots=True)
class TimeToBottom:
    """It first touched the bottom some time after the retrieve started.

    Parameters
    ----------
    fished : Fished
        How [-].
    depth_m : float
        Depth of the bottom where it touched [m].
    time_s : float
        Time since the retrieve started [s].
    depth_sd_m : float
        Spread of the depth [m].
    time_sd_s : float
        Spread of the time [s].
    """

    fished: Fished
    depth_m: float
    time_s: float
    depth_sd_m: float = BOTTOM_SD_M
    time_sd_s: float = TIME_SD_S

    def __post_init__(self) -> None:
        _check_depth(self.depth_m, self.depth_sd_m)
        if not (0.5 <= self.time_s <= 600.0 and 0.0 < self.time_sd_s < 60.0):
            raise LogError("a time to the bottom is 0.5 to 600 s", "time")


@dataclass(frozen=True, slots=True)
class PullOnScale:
    """Its pull was read on a scale, held on short line at a known speed.

    Parameters
    ----------
    pull_n : float
        Pull [N].
    speed_m_s : float
        Speed through the water [m s-1].
    log_sd : float
        Spread of ln pull, of the speed's too [-].
    """

    pull_n: float
    speed_m_s: float
    log_sd: float = PULL_LOG_SD

    def __post_init__(self) -> None:
        if not 0.01 <= self.pull_n <= 100.0:
            raise LogError("a pull is 0.01 to 100 N", "pull", "Check the number and its unit")
        if not 0.2 <= self.speed_m_s <= 5.0:
            raise LogError("a speed is 0.2 to 5 m/s", "speed", "Check the number and its unit")
        if not 0.0 < self.log_sd < 2.0:
            raise LogError("the spread of a pull is above 0 and under 200 %", "pull")


Evidence = Ticked | DidNotReach | MeasuredDepth | TimeToBottom | PullOnScale
"""One thing that was seen of a lure."""


def _check_depth(depth_m: float, sd_m: float) -> None:
    if not 0.02 <= depth_m <= 30.0:
        raise LogError("a depth is 0.02 to 30 m", "depth", "Check the number and its unit")
    if not 0.0 < sd_m <= 5.0:
        raise LogError("the spread of a depth is above 0 and at most 5 m", "spread")
