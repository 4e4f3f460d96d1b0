"""Depths at places, and what was found out while reading them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

DEEPEST_LAKE_M = 1642.0
"""Depth of the deepest lake on Earth (Baikal), from memory [m]. No sounding of a lake is deeper."""

MAX_LINES_SHOWN = 5
"""Line numbers kept for one reason of dropping [-]."""


@dataclass(frozen=True, slots=True)
class Soundings:
    """Depths measured at places, in the order in which they were recorded.

    Parameters
    ----------
    lon_deg : ndarray, shape (n,)
        Longitude on WGS84, east positive, -180 to 180 [deg].
    lat_deg : ndarray, shape (n,)
        Latitude on WGS84, north positive [deg].
    depth_m : ndarray, shape (n,)
        Depth below the water surface of that day, positive down [m].
    time_s : ndarray, shape (n,), or None
        Seconds since 1970 UTC, or since the first midnight of the record
        where `time_has_date` is false; None without times [s].
    source : str
        File name or description, for messages [-].
    time_has_date : bool
        Whether `time_s` counts from 1970 [-].

    Raises
    ------
    LakeDataError
        The arrays do not fit together or hold values that are not numbers.
    """

    lon_deg: FloatArray
    lat_deg: FloatArray
    depth_m: FloatArray
    time_s: FloatArray | None = None
    source: str = "soundings"
    time_has_date: bool = True

    def __post_init__(self) -> None:
        shape = self.lon_deg.shape
        arrays = [self.lon_deg, self.lat_deg, self.depth_m]
        if self.time_s is not None:
            arrays.append(self.time_s)
        if len(shape) != 1 or any(array.shape != shape for array in arrays):
            raise LakeDataError("needs one depth for each position", self.source)
        if not all(bool(np.all(np.isfinite(array))) for array in arrays[:3]):
            raise LakeDataError("has a value that is not a number", self.source)
        if np.any(np.abs(self.lat_deg) > 90.0) or np.any(np.abs(self.lon_deg) > 180.0):
            raise LakeDataError("has a position that is not on Earth", self.source)

    def __len__(self) -> int:
        return int(self.depth_m.size)

    def where(self, keep: BoolArray) -> Soundings:
        """Only some of the soundings.

        Parameters
        ----------
        keep : ndarray of bool, shape (n,)
            Which to keep [-].
        """
        return replace(
            self,
            lon_deg=self.lon_deg[keep],
            lat_deg=self.lat_deg[keep],
            depth_m=self.depth_m[keep],
            time_s=None if self.time_s is None else self.time_s[keep],
        )


@dataclass(frozen=True, slots=True)
class Dropped:
    """Data left out for one reason.

    Parameters
    ----------
    reason : str
        Why, in words a user understands [-].
    count : int
        How many [-].
    lines : tuple of int
        The first few lines of the file, counted from 1 [-].
    """

    reason: str
    count: int
    lines: tuple[int, ...] = ()

    def __str__(self) -> str:
        shown = ", ".join(str(line) for line in self.lines[:MAX_LINES_SHOWN])
        if not shown:
            return f"{self.count:,} x {self.reason}"
        more = " ..." if self.count > len(self.lines[:MAX_LINES_SHOWN]) else ""
        return f"{self.count:,} x {self.reason} (line {shown}{more})"


@dataclass(frozen=True, slots=True)
class ReadReport:
    """What a reader or a cleaning step found, to be said back.

    Parameters
    ----------
    source : str
        File name [-].
    file_format : {"csv", "nmea", "gpx", "contours", "grid", "list"}
        How it was read [-].
    points_in : int
        Soundings, or lines that should hold one, met in the file [-].
    points_kept : int
        Soundings that are left [-].
    said : tuple of str
        What was detected or assumed, each a sentence: columns, units, sign,
        datum, times [-].
    dropped : tuple of Dropped
        What was left out and why [-].
    warnings : tuple of str
        What the user should check [-].
    """

    source: str
    file_format: Literal["csv", "nmea", "gpx", "contours", "grid", "list"]
    points_in: int
    points_kept: int
    said: tuple[str, ...] = ()
    dropped: tuple[Dropped, ...] = ()
    warnings: tuple[str, ...] = ()

    @property
    def dropped_count(self) -> int:
        """How many pieces of data were left out."""
        return sum(item.count for item in self.dropped)

    def summary(self) -> str:
        """The report as a few lines of text."""
        lines = [f"{self.source}: {self.points_in:,} read, {self.points_kept:,} kept."]
        lines += [f"  {text}." for text in self.said]
        lines += [f"  Dropped {item}." for item in self.dropped]
        lines += [f"  Check: {text}." for text in self.warnings]
        return "\n".join(lines)


@dataclass(slots=True)
class DropTally:
    """Counts what is dropped while a file is read.

    Parameters
    ----------
    counts : dict of str to int
        How many for each reason [-].
    lines : dict of str to list of int
        The first lines for each reason [-].
    """

    counts: dict[str, int]
    lines: dict[str, list[int]]

    @classmethod
    def empty(cls) -> DropTally:
        """Nothing dropped yet."""
        return cls({}, {})

    def add(self, reason: str, line: int | None = None, count: int = 1) -> None:
        """Count something dropped.

        Parameters
        ----------
        reason : str
            Why [-].
        line : int or None
            Line of the file, from 1 [-].
        count : int
            How many [-].
        """
        if count <= 0:
            return
        self.counts[reason] = self.counts.get(reason, 0) + count
        seen = self.lines.setdefault(reason, [])
        if line is not None and len(seen) < MAX_LINES_SHOWN:
            seen.append(line)

    def add_mask(self, reason: str, bad: BoolArray, line_numbers: npt.NDArray[np.int64]) -> None:
        """Count everything a mask marks.

        Parameters
        ----------
        reason : str
            Why [-].
        bad : ndarray of bool, shape (n,)
            What is dropped [-].
        line_numbers : ndarray of int, shape (n,)
            Line of each [-].
        """
        hits = np.flatnonzero(bad)
        self.add(reason, None, int(hits.size))
        for index in hits[:MAX_LINES_SHOWN]:
            if len(self.lines[reason]) < MAX_LINES_SHOWN:
                self.lines[reason].append(int(line_numbers[index]))

    def dropped(self) -> tuple[Dropped, ...]:
        """Everything counted, most frequent first."""
        ranked = sorted(self.counts.items(), key=lambda item: -item[1])
        return tuple(Dropped(why, n, tuple(self.lines.get(why, ()))) for why, n in ranked)
