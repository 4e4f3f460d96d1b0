"""The bottom and the grass under a cast, from a lake's bottom model."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.cast_profile import CastProfile, cast_line
from leadsman.lake.grass_map import GrassMap


def profile_from_model(
    model: BottomModel,
    lat_deg: float,
    lon_deg: float,
    heading_deg: float,
    length_m: float,
    level_m: float = 0.0,
    grass: GrassMap | None = None,
) -> CastProfile:
    """Bottom under a cast on a mapped lake, with the map's own error.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    lat_deg, lon_deg : float
        Where the rod tip is [deg].
    heading_deg : float
        True heading of the cast, clockwise from north [deg].
    length_m : float
        Length of the cast [m].
    level_m : float
        Water level now above the model's reference [m].
    grass : GrassMap or None
        Grass on it [-].

    Returns
    -------
    CastProfile
        The profile; its `support_m` is 0, the model's error says how well it is known.

    Raises
    ------
    LakeDataError
        The cast leaves the mapped water; the message says where.
    """
    x_m, east_m, north_m, frame = cast_line(lat_deg, lon_deg, heading_deg, length_m)
    lon, lat = frame.to_lonlat(east_m, north_m)
    depth, se = model.sample_lonlat(lon, lat, level_m)
    with np.errstate(invalid="ignore"):
        off = np.flatnonzero(~(depth > 0.0))
    if off.size:
        first = float(x_m[off[0]])
        where = (
            "starts off the mapped water" if first == 0.0 else f"leaves the water {first:.0f} m out"
        )
        raise LakeDataError(f"the cast {where}", model.name, "Cast the other way or shorter")
    bottom = BottomProfile(x_m, depth, se)
    if grass is not None:
        bottom = replace(bottom, grass=grass.along(x_m, lon, lat, level_m))
    said = (
        f"Bottom from the map of {model.name}; standard error {float(np.min(se)):.2f} to "
        f"{float(np.max(se)):.2f} m",
    )
    return CastProfile(bottom, lat_deg, lon_deg, heading_deg % 360.0, np.zeros(x_m.shape), said)
