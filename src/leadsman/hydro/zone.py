"""Zone length: how many metres of a retrieve lie in the wanted state.

Metres are horizontal, along the bottom. *Contact* is any load above 0; the
*zone* is contact up to the acceptable load, or depth inside a wanted band.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import TechniqueError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.path_batch import PathBatch
from leadsman.hydro.retrieve_result import Retrieve

__all__ = [
    "ACCEPTABLE_LOAD",
    "LOAD_LIMITS_SHOWN",
    "NEAR_BOTTOM_M",
    "BandZone",
    "ContactZone",
    "ContactZones",
    "PathBatch",
    "contact_zone",
    "contact_zones",
    "zone_in_band",
    "zones_in_band",
]

FloatArray = npt.NDArray[np.float64]

ACCEPTABLE_LOAD = 0.12
"""Largest contact load that still counts as ticking, N over the pull at the lure [-].

Own judgement, no source. Statics of a straight line: load = sin(delta - theta) / cos(delta),
so 0.12 is a path that would go on down at about 7 degrees under the bottom. A lure that
free-runs a tenth deeper than the bottom stays under it for nearly all of its contact; one
that free-runs twice as deep is above it for nearly all. Spread 0.08 to 0.15: show how an
answer moves over that range.
"""

LOAD_LIMITS_SHOWN = (0.08, 0.12, 0.15)
"""The limits over which an answer is shown to hold or not [-]."""

NEAR_BOTTOM_M = 0.3
"""Gap to the bottom that still counts as near it [m]. Common practice, no source: about a foot."""


@dataclass(frozen=True, slots=True)
class ContactZone:
    """Contact of one retrieve with the bottom.

    Parameters
    ----------
    zone_m : float
        Metres with 0 < load <= the limit [m].
    near_m : float
        Metres within the near gap of the bottom, contact included [m].
    contact_m : float
        Metres in contact at any load [m].
    plowing_m : float
        Metres in contact over the limit [m].
    travelled_m : float
        Metres of the whole path [m].
    mean_load : float
        Mean load over the metres in contact; 0 without contact [-].
    max_load : float
        Largest load [-].
    first_contact_m : float or None
        Horizontal metres the lure has gone until it first touches [m].
    first_contact_s : float or None
        Time until it first touches [s].
    """

    zone_m: float
    near_m: float
    contact_m: float
    plowing_m: float
    travelled_m: float
    mean_load: float
    max_load: float
    first_contact_m: float | None
    first_contact_s: float | None


@dataclass(frozen=True, slots=True)
class ContactZones:
    """Contact of a batch of retrieves, for one or several limits.

    Parameters
    ----------
    zone_m : ndarray, shape (b, k)
        Metres with 0 < load <= each limit, weighted if weights were given [m].
    near_m, contact_m, travelled_m : ndarray, shape (b,)
        Metres near the bottom, in contact, and of the whole path [m].
    mean_load, max_load : ndarray, shape (b,)
        Mean load over the contact and largest load [-].
    first_contact_m, first_contact_s : ndarray, shape (b,)
        Metres gone [m] and time [s] until first contact; nan without contact.
    """

    zone_m: FloatArray
    near_m: FloatArray
    contact_m: FloatArray
    travelled_m: FloatArray
    mean_load: FloatArray
    max_load: FloatArray
    first_contact_m: FloatArray
    first_contact_s: FloatArray


@dataclass(frozen=True, slots=True)
class BandZone:
    """Part of one retrieve inside a depth band.

    Parameters
    ----------
    zone_m : float
        Horizontal metres inside the band [m].
    zone_s : float
        Time inside the band [s].
    first_m : float or None
        Horizontal metres gone when the lure first enters the band; None if it
        never does [m].
    """

    zone_m: float
    zone_s: float
    first_m: float | None


def contact_zones(
    paths: PathBatch,
    bottom: BottomProfile,
    limits: Sequence[float] = (ACCEPTABLE_LOAD,),
    near_m: float = NEAR_BOTTOM_M,
    weight: FloatArray | None = None,
) -> ContactZones:
    """Measure the contact of a batch of paths over one bottom.

    Parameters
    ----------
    paths : PathBatch
        Paths of the retrieves [-].
    bottom : BottomProfile
        The bottom they ran over [-].
    limits : sequence of float
        Limits of acceptable load, above 0 [-].
    near_m : float
        Gap that counts as near the bottom [m].
    weight : ndarray, shape (b, n - 1), or None
        What a metre of each segment counts in the zone, such as the chance of
        still being clean of grass; None counts all as 1 [-].

    Returns
    -------
    ContactZones
        One row for each path [-].

    Raises
    ------
    TechniqueError
        A limit or the near gap is not above 0.
    """
    from leadsman.hydro.zone_kernel import contact_totals

    top = _checked_limits(limits)
    if not near_m > 0.0:
        raise TechniqueError(f"near gap {near_m:.4g} m is not above 0", "near gap")
    rows, samples = paths.x_m.shape
    gap = bottom.depth_at(paths.x_m) - paths.depth_m
    weights = np.ones((rows, samples - 1)) if weight is None else weight
    zone = np.empty((rows, top.size))
    out = np.empty((rows, 6))
    contact_totals(paths.t_s, paths.x_m, gap, paths.load, weights, top, float(near_m), zone, out)
    contact = out[:, 1]
    zone[~paths.solved] = 0.0
    return ContactZones(
        zone_m=zone,
        near_m=out[:, 0],
        contact_m=contact,
        travelled_m=np.abs(np.diff(paths.x_m, axis=1)).sum(axis=1),
        mean_load=np.where(contact > 0.0, out[:, 2] / np.maximum(contact, 1e-12), 0.0),
        max_load=out[:, 5],
        first_contact_m=out[:, 4],
        first_contact_s=out[:, 3],
    )


def contact_zone(
    retrieve: Retrieve,
    bottom: BottomProfile,
    limit: float = ACCEPTABLE_LOAD,
    near_m: float = NEAR_BOTTOM_M,
) -> ContactZone:
    """Measure the contact of one retrieve.

    Parameters
    ----------
    retrieve : Retrieve
        The retrieve, run over that bottom [-].
    bottom : BottomProfile
        The bottom [-].
    limit : float
        Limit of acceptable load [-].
    near_m : float
        Gap that counts as near the bottom [m].

    Returns
    -------
    ContactZone
        Metres, loads and first contact [-].

    Raises
    ------
    TechniqueError
        The limit or the near gap is not above 0.
    """
    all_of = contact_zones(PathBatch.of([retrieve]), bottom, (limit,), near_m)
    touched = bool(np.isfinite(all_of.first_contact_m[0]))
    zone = float(all_of.zone_m[0, 0])
    contact = float(all_of.contact_m[0])
    return ContactZone(
        zone_m=zone,
        near_m=float(all_of.near_m[0]),
        contact_m=contact,
        plowing_m=max(contact - zone, 0.0),
        travelled_m=float(all_of.travelled_m[0]),
        mean_load=float(all_of.mean_load[0]),
        max_load=float(all_of.max_load[0]),
        first_contact_m=float(all_of.first_contact_m[0]) if touched else None,
        first_contact_s=float(all_of.first_contact_s[0]) if touched else None,
    )


def zones_in_band(
    paths: PathBatch,
    top_depth_m: float,
    bottom_depth_m: float,
    limits: Sequence[float] = (ACCEPTABLE_LOAD,),
    weight: FloatArray | None = None,
) -> tuple[FloatArray, FloatArray]:
    """Metres and seconds of a batch of paths inside a depth band.

    Parameters
    ----------
    paths : PathBatch
        Paths of the retrieves [-].
    top_depth_m, bottom_depth_m : float
        Shallow and deep edge of the band [m].
    limits : sequence of float
        Limits of acceptable load: a lure that plows is not counted [-].
    weight : ndarray, shape (b, n - 1), or None
        What a metre of each segment counts; None counts all as 1 [-].

    Returns
    -------
    zone_m : ndarray, shape (b, k)
        Metres in the band for each limit [m].
    zone_s : ndarray, shape (b,)
        Seconds in the band [s].

    Raises
    ------
    TechniqueError
        The band is empty or a limit is not above 0.
    """
    from leadsman.hydro.zone_kernel import band_totals

    if not 0.0 <= top_depth_m < bottom_depth_m:
        raise TechniqueError(
            f"depth band {top_depth_m:.4g} to {bottom_depth_m:.4g} m is empty or out of the water",
            "target",
            "Give the shallow edge first, such as 18-22 ft",
        )
    top = _checked_limits(limits)
    rows, samples = paths.x_m.shape
    weights = np.ones((rows, samples - 1)) if weight is None else weight
    zone = np.empty((rows, top.size))
    seconds = np.empty(rows)
    band_totals(
        paths.t_s,
        paths.x_m,
        paths.depth_m,
        paths.load,
        weights,
        float(top_depth_m),
        float(bottom_depth_m),
        top,
        zone,
        seconds,
    )
    zone[~paths.solved] = 0.0
    return zone, seconds


def zone_in_band(
    retrieve: Retrieve,
    top_depth_m: float,
    bottom_depth_m: float,
    limit: float = ACCEPTABLE_LOAD,
) -> BandZone:
    """Part of one retrieve inside a depth band, for fish off the bottom.

    Parameters
    ----------
    retrieve : Retrieve
        The retrieve [-].
    top_depth_m, bottom_depth_m : float
        Shallow and deep edge of the band [m].
    limit : float
        Limit of acceptable load: a lure that plows is not counted [-].

    Returns
    -------
    BandZone
        Metres and seconds in the band, and when it is entered [-].

    Raises
    ------
    TechniqueError
        The band is empty.
    """
    paths = PathBatch.of([retrieve])
    zone, seconds = zones_in_band(paths, top_depth_m, bottom_depth_m, (limit,))
    return BandZone(
        float(zone[0, 0]), float(seconds[0]), _first_entry(retrieve, top_depth_m, bottom_depth_m)
    )


def _first_entry(retrieve: Retrieve, top_depth_m: float, bottom_depth_m: float) -> float | None:
    depth = retrieve.depth_m
    gone = np.concatenate(([0.0], np.cumsum(np.abs(np.diff(retrieve.x_m)))))
    if top_depth_m <= depth[0] <= bottom_depth_m:
        return 0.0
    for i in range(depth.size - 1):
        low, high = sorted((float(depth[i]), float(depth[i + 1])))
        if high < top_depth_m or low > bottom_depth_m:
            continue
        edge = top_depth_m if depth[i] < top_depth_m else bottom_depth_m
        share = (edge - depth[i]) / (depth[i + 1] - depth[i])
        return float(gone[i] + share * (gone[i + 1] - gone[i]))
    return None


def _checked_limits(limits: Sequence[float]) -> FloatArray:
    top = np.asarray(limits, dtype=np.float64)
    if top.ndim != 1 or top.size == 0 or not np.all(top > 0.0):
        raise TechniqueError(
            "the limit of acceptable load must be above 0", "limit", "Give a share such as 0.12"
        )
    return top
