"""How good the map of a lake is, and what it was made from."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from leadsman.dimensions import FOOT_M
from leadsman.display_units import DisplayUnits
from leadsman.lake.bottom_model import Z_90
from leadsman.lake.cross_validation import PUBLISHED_RMSE_M
from leadsman.usecases.lake_record import LakeRecord
from leadsman.usecases.lake_store import StoredLake, open_lake
from leadsman.usecases.lake_text import area_text

STEPS_M = (1.0 * FOOT_M, 2.0 * FOOT_M, 4.0 * FOOT_M)
"""Half-widths of the 90 % band by which the map is told to be good or bad [m]: 1, 2 and 4 ft."""
NEAR_M = (9.144, 27.432, 91.44)
"""Distances to the nearest sounding that are told [m]: 10, 30 and 100 yd."""
CAUTION = (
    "Not for navigation: level, stumps and shallows differ from any map. Add or take away the "
    "day's level with --level"
)


@dataclass(frozen=True, slots=True)
class BandShare:
    """Share of the mapped area that is known at least this well.

    Parameters
    ----------
    half_width_m : float
        Half-width of the 90 % band of depth [m].
    share : float
        Share of the mapped area [-].
    """

    half_width_m: float
    share: float


@dataclass(frozen=True, slots=True)
class LakeReport:
    """Quality of a lake's map.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    headline : str
        The answer in a sentence [-].
    area_m2 : float
        Area whose depth is known [m2].
    max_depth_m, mean_depth_m : float
        Greatest and mean depth below the reference level [m].
    band_m : float
        Half-width of the 90 % band of depth, median over the area [m].
    shares : tuple of BandShare
        How much of the area is known how well [-].
    centre_deg : tuple of float
        Latitude and longitude of the middle [deg].
    points_in, points_kept : int
        Over all files [-].
    coverage_sentence : str
        How near the soundings lie; empty without soundings [-].
    check_sentence : str
        What hiding soundings said, beside the published scale [-].
    notes : tuple of str
        How the map was made, and the usual caution [-].
    """

    lake: StoredLake
    units: DisplayUnits
    headline: str
    area_m2: float
    max_depth_m: float
    mean_depth_m: float
    band_m: float
    shares: tuple[BandShare, ...]
    centre_deg: tuple[float, float]
    points_in: int
    points_kept: int
    coverage_sentence: str
    check_sentence: str
    notes: tuple[str, ...]

    @property
    def record(self) -> LakeRecord:
        """What the lake was made from."""
        return self.lake.record


def show_lake(name: str, units: DisplayUnits, lakes: Path | None = None) -> LakeReport:
    """Report on a lake that is kept.

    Parameters
    ----------
    name : str
        Its name, or the beginning of it [-].
    units : DisplayUnits
        Units to answer in [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    """
    return lake_report(open_lake(name, lakes), units)


def lake_report(lake: StoredLake, units: DisplayUnits) -> LakeReport:
    """Report on a lake.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].
    units : DisplayUnits
        Units to answer in [-].
    """
    model, record = lake.model, lake.record
    known = np.isfinite(model.depth_m)
    depth = model.depth_m[known].astype(np.float64)
    half = Z_90 * model.se_m[known].astype(np.float64)
    area = float(depth.size) * model.lattice.cell_area_m2
    band = float(np.median(half))
    rows, cols = np.nonzero(known)
    lon, lat = model.lattice.frame.to_lonlat(
        model.lattice.x_m[int(np.median(cols))], model.lattice.y_m[int(np.median(rows))]
    )
    depth_unit = units.depth
    headline = (
        f"{record.name}: {area_text(area, units)} mapped, down to "
        f"{depth_unit.text(float(np.max(depth)))}; over half of it the depth is sure to "
        f"{depth_unit.text(band)} either way"
    )
    return LakeReport(
        lake=lake,
        units=units,
        headline=headline + ".",
        area_m2=area,
        max_depth_m=float(np.max(depth)),
        mean_depth_m=float(np.mean(depth)),
        band_m=band,
        shares=tuple(BandShare(step, float(np.mean(half <= step))) for step in STEPS_M),
        centre_deg=(float(lat), float(lon)),
        points_in=sum(file.report.points_in for file in record.files),
        points_kept=sum(file.report.points_kept for file in record.files),
        coverage_sentence=_coverage_sentence(lake, units),
        check_sentence=_check_sentence(record, units),
        # The model tells of the hidden squares in metres; `check_sentence` does so for the reader.
        notes=(*(text for text in model.said if "places hidden in" not in text), CAUTION),
    )


def _coverage_sentence(lake: StoredLake, units: DisplayUnits) -> str:
    from leadsman.lake.coverage import coverage_of
    from leadsman.lake.soundings import Soundings

    tracks = lake.tracks()
    if not tracks:
        return ""
    lon = np.concatenate([track.lon_deg for track in tracks])
    lat = np.concatenate([track.lat_deg for track in tracks])
    coverage = coverage_of(lake.model, [Soundings(lon, lat, np.zeros(lon.size))])
    told = [
        f"{100.0 * coverage.share_within(far):.0f} % within {units.distance.text(far)}"
        for far in NEAR_M
    ]
    return f"Of the map {', '.join(told)} of a sounding"


def _check_sentence(record: LakeRecord, units: DisplayUnits) -> str:
    low, high = PUBLISHED_RMSE_M
    if record.check is None:
        return (
            "There are too few soundings to test the map by hiding some; its error rests on the "
            "survey standard and on the gaps between contours or cells"
        )
    check = record.check
    return (
        f"{check.count:,} places, hidden in squares {units.distance.text(check.square_m)} wide, "
        f"were foretold to {units.depth.text(check.rmse_m)} (root mean square); published lake "
        f"maps come to {units.depth.band(low, high)} (Siljeg et al. 2015, Curtarelli et al. "
        f"2015). Of them {100.0 * check.coverage_90:.0f} in 100 lay in the 9-in-10 band"
    )
