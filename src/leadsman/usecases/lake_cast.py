"""The bottom under a cast on a lake that is kept, with its band and where its grass stops."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.dimensions import FOOT_M
from leadsman.errors import LakeDataError
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.lake.frame import MetricFrame
from leadsman.usecases.lake_store import StoredLake
from leadsman.usecases.lake_text import place_text

FloatArray = npt.NDArray[np.float64]

STEP_M = 1.0
"""Spacing of the profile [m]."""
MAX_CAST_M = 200.0
"""Longest cast, as in `Technique` [m]."""
RAMP_M = 0.1
"""Width over which grass ends [m]."""


@dataclass(frozen=True, slots=True)
class LakeCast:
    """Bottom under a cast.

    Parameters
    ----------
    bottom : BottomProfile
        Depth below the surface of the day, with its standard error [-].
    grass_from_m, grass_to_m : ndarray, shape (n,)
        Where grass begins and ends along the cast; empty where none is known [m].
    edge_m : float or None
        Depth at which the grass stops, below the surface of the day [m].
    said : tuple of str
        How it was found, each a sentence [-].
    """

    bottom: BottomProfile
    grass_from_m: FloatArray
    grass_to_m: FloatArray
    edge_m: float | None
    said: tuple[str, ...]


def cast_on_lake(
    lake: StoredLake,
    lat_deg: float,
    lon_deg: float,
    heading_deg: float,
    length_m: float,
    level_m: float = 0.0,
) -> LakeCast:
    """Bottom under a cast, from the lake's map.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].
    lat_deg, lon_deg : float
        Where the rod tip is [deg].
    heading_deg : float
        True heading of the cast, clockwise from north [deg].
    length_m : float
        Length of the cast [m].
    level_m : float
        Water level of the day above the lake's reference level [m].

    Raises
    ------
    LakeDataError
        The cast leaves the map or the water; the message says where.
    """
    if not all(map(math.isfinite, (lat_deg, lon_deg, heading_deg, length_m, level_m))):
        raise LakeDataError("position, heading, length and level must be numbers", "cast")
    if not (1.0 <= length_m <= MAX_CAST_M and -360.0 <= heading_deg <= 360.0):
        raise LakeDataError(
            f"a cast of {length_m:.4g} m toward {heading_deg:.4g} deg is out of range", "cast"
        )
    frame = MetricFrame(lon_deg, lat_deg)
    along = np.linspace(0.0, length_m, max(math.ceil(length_m / STEP_M), 1) + 1)
    angle = math.radians(heading_deg)
    lon, lat = frame.to_lonlat(along * math.sin(angle), along * math.cos(angle))
    depth, se = lake.model.sample_lonlat(lon, lat, level_m)
    off = np.flatnonzero(~np.isfinite(depth))
    if off.size:
        _refuse_off_map(lake, float(along[off[0]]), lat_deg, lon_deg)
    dry = np.flatnonzero(depth <= 0.0)
    if dry.size:
        raise LakeDataError(
            f"the cast leaves the water {along[dry[0]]:.0f} m out, where the bottom comes up",
            lake.name,
            "Cast the other way or shorter",
        )
    said = [
        f"Bottom of {lake.name} under the cast, {_both(float(depth.min()))} to "
        f"{_both(float(depth.max()))}; standard error {_both(float(se.min()))} to "
        f"{_both(float(se.max()))}"
    ]
    edge = lake.record.edge
    begins, ends, edge_m = np.zeros(0), np.zeros(0), None
    if edge is not None:
        edge_m = edge.depth_m + level_m
        begins, ends = _runs(along, depth <= edge_m)
        said.append(_grass_said(begins, ends, edge_m, length_m))
    return LakeCast(BottomProfile(along, depth, se), begins, ends, edge_m, tuple(said))


def grass_on_cast(cast: LakeCast, top_depth_m: float, density: float) -> GrassLayer | None:
    """Grass with a given top wherever the lake's grass edge lets it grow.

    Parameters
    ----------
    cast : LakeCast
        The cast [-].
    top_depth_m : float
        Depth of its top below the surface [m].
    density : float
        Share of the ground it covers [-].

    Returns
    -------
    GrassLayer or None
        None where no grass edge is known or none of the cast is shallow enough.
    """
    if cast.grass_from_m.size == 0:
        return None
    knots = [cast.bottom.x_m]
    for begin, end in zip(cast.grass_from_m, cast.grass_to_m, strict=True):
        knots.append(np.array([begin - RAMP_M, begin, end, end + RAMP_M]))
    x = np.unique(np.clip(np.concatenate(knots), 0.0, float(cast.bottom.x_m[-1])))
    inside = np.zeros(x.shape, dtype=bool)
    for begin, end in zip(cast.grass_from_m, cast.grass_to_m, strict=True):
        inside |= (x >= begin - 1e-9) & (x <= end + 1e-9)
    floor = cast.bottom.depth_at(x)
    top = np.where(inside, np.minimum(top_depth_m, floor), floor)
    return GrassLayer(x, top, np.where(inside, density, 0.0))


def _both(depth_m: float) -> str:
    """A depth for readers of either units."""
    return f"{depth_m / FOOT_M:.1f} ft ({depth_m:.2f} m)"


def _refuse_off_map(lake: StoredLake, first_m: float, lat_deg: float, lon_deg: float) -> None:
    if first_m > 0.0:
        raise LakeDataError(
            f"the cast leaves the mapped water {first_m:.0f} m out, so the bottom is not known",
            lake.name,
            "Cast over water that is mapped, or shorter",
        )
    model = lake.model
    rows, cols = np.nonzero(np.isfinite(model.depth_m))
    middle = model.lattice.frame.to_lonlat(
        model.lattice.x_m[int(np.median(cols))], model.lattice.y_m[int(np.median(rows))]
    )
    raise LakeDataError(
        f"{place_text(lat_deg, lon_deg)} is not on the mapped water",
        lake.name,
        f"It lies around {place_text(float(middle[1]), float(middle[0]))}; latitude comes first",
    )


def _runs(along: FloatArray, inside: npt.NDArray[np.bool_]) -> tuple[FloatArray, FloatArray]:
    """Beginnings and ends of the stretches of a cast where something holds."""
    steps = np.diff(np.concatenate([[0], inside.astype(np.int8), [0]]))
    return along[np.flatnonzero(steps == 1)], along[np.flatnonzero(steps == -1) - 1]


def _grass_said(begins: FloatArray, ends: FloatArray, edge_m: float, length_m: float) -> str:
    start = f"The grass edge kept with the lake lies at {_both(edge_m)}"
    if begins.size == 0:
        return f"{start}; all of the cast is deeper"
    if begins.size == 1 and begins[0] == 0.0 and ends[0] >= length_m:
        return f"{start}; all of the cast is shallower, so grass may stand under it"
    where = ", ".join(f"{b:.0f} to {e:.0f} m" for b, e in zip(begins, ends, strict=True))
    return f"{start}; grass may stand {where} out"
