"""From a computed retrieve to its side view."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from leadsman.display_units import US, DisplayUnits
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.output.side_view_types import (
    SAMPLE_M,
    DepthCall,
    FreePath,
    PathBand,
    PathMark,
    SideView,
    ZoneExtent,
)

FloatArray = npt.NDArray[np.float64]

CLOSE_M = 1.0
"""Stretches in the zone nearer to one another than this are marked as one [m]; own choice,
so that a lure hopping over small bumps gives one mark and not ten."""


def side_view_of(
    retrieve: Retrieve,
    tip_height_m: float,
    headline: str,
    *,
    units: DisplayUnits = US,
    bottom: BottomProfile | None = None,
    free: Retrieve | None = None,
    band: PathBand | None = None,
    max_depth_band_m: tuple[float, float] | None = None,
    load_limit: float = ACCEPTABLE_LOAD,
    zone_m: float | None = None,
    target_m: tuple[float, float] | None = None,
    tip_end_height_m: float | None = None,
    grass_counts: bool = False,
    marks: tuple[PathMark, ...] = (),
    subtitle: str = "",
    note: str = "",
) -> SideView:
    """Side view of a retrieve, with its zone extents, first contact and depth to plan on.

    Parameters
    ----------
    retrieve : Retrieve
        The retrieve, over that bottom if there is one [-].
    tip_height_m : float
        Height of the rod tip at the start, negative under water [m].
    headline : str
        The sentence a person could act on [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    bottom : BottomProfile or None
        Bottom and grass under the cast [-].
    free : Retrieve or None
        The same retrieve with no bottom; drawn where the lure touches [-].
    band : PathBand or None
        Where the lure may run [-].
    max_depth_band_m : tuple of float or None
        Shallow and deep end of the 90 % band of the greatest free-running
        depth; without it the depth is not written on the picture [m].
    load_limit : float
        Greatest contact load that counts as light [-].
    zone_m : float or None
        Zone length of the retrieve where it is known, so that picture and
        words agree to the digit [m].
    target_m : tuple of float or None
        Wanted depth band; the zone is then the time in it [m].
    tip_end_height_m : float or None
        Height of the rod tip at the end of the retrieve if it is another [m].
    grass_counts : bool
        Whether metres in the grass, not plowing the bottom, are zone too [-].
    marks : tuple of PathMark
        Events on the path beside the first contact, such as where the tip goes up [-].
    subtitle, note : str
        Second line, and small words at the foot [-].
    """
    touching = retrieve.first_contact_index
    running = free or retrieve
    call = None
    if max_depth_band_m is not None:
        deepest = int(np.argmax(running.depth_m))
        call = DepthCall(
            float(running.x_m[deepest]),
            float(running.depth_m[deepest]),
            *max_depth_band_m,
            what="deepest" if touching is None else "free-running",
        )
    if target_m is None:
        touches = retrieve.load > 0.0
        if grass_counts and bottom is not None:
            touches |= _in_grass(retrieve, bottom)
        wanted = touches & (retrieve.load <= load_limit)
    else:
        wanted = (retrieve.depth_m >= target_m[0]) & (retrieve.depth_m <= target_m[1])
    remarks = [note]
    if retrieve.line_touches:
        remarks.append("The line itself touches the bottom, which is not worked out.")
    if retrieve.grounded:
        remarks.append("The retrieve ends aground.")
    return SideView(
        headline=headline,
        x_m=retrieve.x_m,
        depth_m=np.maximum(retrieve.depth_m, 0.0),
        load=retrieve.load,
        tip_height_m=tip_height_m,
        units=units,
        load_limit=load_limit,
        bottom=bottom,
        band=band,
        free=None if free is None or touching is None else FreePath(free.x_m, free.depth_m),
        call=call,
        zones=zone_extents(retrieve.x_m, wanted, zone_m),
        marks=(
            *(() if touching is None else (_first_contact(retrieve, touching, units),)),
            *marks,
        ),
        tip_end_height_m=tip_end_height_m,
        target_m=target_m,
        subtitle=subtitle,
        note=" ".join(part for part in remarks if part),
    )


def _in_grass(retrieve: Retrieve, bottom: BottomProfile) -> npt.NDArray[np.bool_]:
    """Which samples of a path lie below the top of grass, shape (n,) [-]."""
    grass = bottom.grass
    if grass is None:
        return np.zeros(retrieve.x_m.shape, dtype=np.bool_)
    top = np.interp(retrieve.x_m, grass.x_m, grass.top_depth_m)
    density = np.interp(retrieve.x_m, grass.x_m, grass.density)
    stands = (density > 0.0) & (top < bottom.depth_at(retrieve.x_m))
    return np.asarray(stands & (retrieve.depth_m >= top), dtype=np.bool_)


def _first_contact(retrieve: Retrieve, at: int, units: DisplayUnits) -> PathMark:
    x_m = float(retrieve.x_m[at])
    out = units.distance.text(x_m)
    words = f"first contact, {out} out, {retrieve.t_s[at]:.0f} s"
    return PathMark(x_m, float(retrieve.depth_m[at]), words)


def zone_extents(
    x_m: FloatArray, wanted: npt.NDArray[np.bool_], zone_m: float | None = None
) -> tuple[ZoneExtent, ...]:
    """Stretches of a path in the wanted state, close ones joined.

    Parameters
    ----------
    x_m : ndarray, shape (n,)
        Positions along the path [m].
    wanted : ndarray of bool, shape (n,)
        Whether each sample is in the wanted state [-].
    zone_m : float or None
        Zone length of the whole path as `leadsman.hydro.zone` measures it, finer
        than the samples; the stretches are then made to add up to it [m].
    """
    extents: list[tuple[float, float, float]] = []
    for first, last in _runs(wanted):
        # A stretch begins and ends half way to the sample outside it.
        start = x_m[first] if first == 0 else 0.5 * (x_m[first - 1] + x_m[first])
        end = x_m[last] if last + 1 == x_m.size else 0.5 * (x_m[last] + x_m[last + 1])
        near, far = sorted((float(start), float(end)))
        if extents and near <= extents[-1][1] + CLOSE_M and far >= extents[-1][0] - CLOSE_M:
            old = extents[-1]
            extents[-1] = (min(old[0], near), max(old[1], far), old[2] + far - near)
        else:
            extents.append((near, far, far - near))
    total = sum(zone for _, _, zone in extents)
    share = 1.0 if zone_m is None or total <= 0.0 else zone_m / total
    return tuple(
        ZoneExtent(near, far, min(share * zone, far - near + SAMPLE_M))
        for near, far, zone in extents
        if far > near
    )


def _runs(wanted: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and last sample of each run in the wanted state."""
    padded = np.concatenate(([False], wanted, [False]))
    changes = np.flatnonzero(padded[1:] != padded[:-1])
    return [(int(a), int(b) - 1) for a, b in zip(changes[::2], changes[1::2], strict=True)]
