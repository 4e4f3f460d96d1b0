"""The bottom under a cast on a lake that is kept, with its band and where its grass stops."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.dimensions import FOOT_M
from leadsman.errors import LakeDataError
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.lake.cast_on_model import profile_from_model
from leadsman.lake.cast_profile import CastProfile
from leadsman.lake.frame import MetricFrame
from leadsman.lake.grass_map import GrassMap
from leadsman.usecases.lake_store import StoredLake
from leadsman.usecases.lake_text import place_text

FloatArray = npt.NDArray[np.float64]

RAMP_M = 0.1
"""Width over which grass ends [m]."""


@dataclass(frozen=True, slots=True)
class LakeCast:
    """Bottom under a cast.

    Parameters
    ----------
    bottom : BottomProfile
        Depth below the surface of the day, with its standard error, and the grass on it as
        far as it was seen or the kept edge lets expect [-].
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
    start, _ = lake.model.sample_lonlat(np.array([lon_deg]), np.array([lat_deg]))
    if not np.isfinite(start[0]) and abs(lat_deg) <= 85.0 and abs(lon_deg) <= 180.0:
        _refuse_off_map(lake, lat_deg, lon_deg)
    grown = grass_of(lake)
    found = profile_from_model(lake.model, lat_deg, lon_deg, heading_deg, length_m, level_m, grown)
    along, depth, se = found.bottom.x_m, found.bottom.depth_m, found.bottom.depth_se_m
    said = [
        f"Bottom of {lake.name} under the cast, {_both(float(depth.min()))} to "
        f"{_both(float(depth.max()))}"
    ]
    if se is not None:
        said.append(
            f"Standard error of the map there {_both(float(se.min()))} to {_both(float(se.max()))}"
        )
    edge = lake.record.edge
    begins, ends, edge_m = np.zeros(0), np.zeros(0), None
    if edge is not None:
        edge_m = edge.depth_m + level_m
        begins, ends = _runs(along, depth <= edge_m)
        said.append(_grass_said(begins, ends, edge_m, length_m))
    if grown is not None:
        said += _seen_said(grown, lake, found)
    return LakeCast(found.bottom, begins, ends, edge_m, tuple(said))


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


def _refuse_off_map(lake: StoredLake, lat_deg: float, lon_deg: float) -> None:
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


def grass_of(lake: StoredLake) -> GrassMap | None:
    """Grass of a lake that was seen, over what the kept edge lets expect.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].

    Returns
    -------
    GrassMap or None
        None where nothing is known.
    """
    from leadsman.lake.grass_map import prior_grass

    record, lattice = lake.record, lake.model.lattice
    if record.edge is not None:
        grown = prior_grass(lake.model, record.edge)
    elif record.patches:
        grown = GrassMap(
            lattice, np.full(lattice.shape, np.nan, np.float32),
            np.zeros(lattice.shape, np.float32), np.zeros(lattice.shape, bool),
        )  # fmt: skip
    else:
        return None
    return grown.with_patches([kept.patch() for kept in record.patches])


def _seen_said(grown: GrassMap, lake: StoredLake, found: CastProfile) -> list[str]:
    """Whether grass under the cast was seen, or is an assumption."""
    layer = found.bottom.grass
    if layer is None:
        return []
    frame, lattice = MetricFrame(found.lon_deg, found.lat_deg), grown.lattice
    angle = math.radians(found.heading_deg)
    lon, lat = frame.to_lonlat(layer.x_m * math.sin(angle), layer.x_m * math.cos(angle))
    x, y = lattice.frame.to_metric(lon, lat)
    col = np.clip(np.rint((x - lattice.x0_m) / lattice.cell_m), 0, lattice.nx - 1).astype(int)
    row = np.clip(np.rint((y - lattice.y0_m) / lattice.cell_m), 0, lattice.ny - 1).astype(int)
    grassy = layer.density > 0.0
    seen = float(np.mean(grown.seen[row, col][grassy]))
    top = f"its top at {_both(float(np.min(layer.top_depth_m[grassy])))} and deeper"
    if seen >= 0.995:
        return [f"Grass under the cast was seen by you, {top}"]
    return [
        f"Grass under the cast, {top}: {100.0 * seen:.0f} % of it seen, the rest assumed from the "
        "edge alone. Tell what stands there with --grass-top, or with leadsman lake grass"
    ]


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
