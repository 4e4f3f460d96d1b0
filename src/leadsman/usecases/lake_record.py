"""What is kept of a lake beside its bottom: where it comes from, how good it is, its grass."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from leadsman.lake.cross_validation import CrossValidation
from leadsman.lake.grass_edge import EdgeDepth
from leadsman.lake.grass_map import GrassPatch, Origin
from leadsman.lake.soundings import ReadReport

RECORD_VERSION = 1
"""Version of the record on disk [-]."""


@dataclass(frozen=True, slots=True)
class HiddenSquares:
    """What hiding squares of soundings said about the error of the map.

    Parameters
    ----------
    square_m : float
        Width of the hidden squares [m].
    count : int
        Places predicted [-].
    rmse_m, bias_m : float
        Root mean square and mean error [m].
    coverage_90 : float
        Share of them within the stated 90 % band [-].
    """

    square_m: float
    count: int
    rmse_m: float
    bias_m: float
    coverage_90: float

    @classmethod
    def of(cls, found: CrossValidation) -> HiddenSquares | None:
        """The figures of a validation; None where there were too few soundings for one."""
        if not (math.isfinite(found.rmse_m) and math.isfinite(found.coverage_90)):
            return None
        return cls(found.square_m, found.count, found.rmse_m, found.bias_m, found.coverage_90)


@dataclass(frozen=True, slots=True)
class SourceFile:
    """One file that went into a lake.

    Parameters
    ----------
    report : ReadReport
        What was found in it and left out [-].
    level_m : float
        Water level on its day above the lake's reference level [m].
    """

    report: ReadReport
    level_m: float = 0.0


@dataclass(frozen=True, slots=True)
class KeptPatch:
    """An area of grass that somebody saw, as it is kept.

    Parameters
    ----------
    lon_deg, lat_deg : tuple of float
        Its outline; one place stands for the ground around it [deg].
    top_depth_m : float
        Depth of its top below the reference level, 0 where it reaches the surface [m].
    density : float
        Share of the ground covered; 0 is bare ground [-].
    origin : {"drawn", "imported", "marked"}
        Where it comes from [-].
    """

    lon_deg: tuple[float, ...]
    lat_deg: tuple[float, ...]
    top_depth_m: float
    density: float
    origin: Origin

    @classmethod
    def of(cls, patch: GrassPatch) -> KeptPatch:
        """A patch for keeping."""
        lon, lat = tuple(patch.lon_deg.tolist()), tuple(patch.lat_deg.tolist())
        return cls(lon, lat, patch.top_depth_m, patch.density, patch.origin)

    def patch(self) -> GrassPatch:
        """The patch."""
        return GrassPatch(
            np.array(self.lon_deg), np.array(self.lat_deg), self.top_depth_m, self.density,
            self.origin,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class LakeRecord:
    """Everything kept of a lake but its grid.

    Parameters
    ----------
    name : str
        Name as the angler gave it [-].
    bottom_file : str
        Name of the grid's file in the lake's folder [-].
    tracks_file : str or None
        Name of the file of sounded tracks; None without soundings [-].
    reference : str
        What depth 0 is, in the angler's words, such as "summer pool 845 ft" [-].
    files : tuple of SourceFile
        What went in [-].
    check : HiddenSquares or None
        How well hidden soundings were predicted; None without soundings [-].
    has_shoreline : bool
        Whether the outline of the map is a shoreline [-].
    edge : EdgeDepth or None
        Depth at which the grass stops, below the reference level, if it was kept [m].
    patches : tuple of KeptPatch
        Grass that somebody saw, later ones on top [-].
    version : int
        Of this record [-].
    """

    name: str
    bottom_file: str
    tracks_file: str | None
    reference: str
    files: tuple[SourceFile, ...]
    check: HiddenSquares | None
    has_shoreline: bool
    edge: EdgeDepth | None = None
    patches: tuple[KeptPatch, ...] = ()
    version: int = RECORD_VERSION
