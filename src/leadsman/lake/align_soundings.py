"""Logs of several days on one level: found where their tracks cross."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from leadsman.dimensions import FOOT_M
from leadsman.lake.frame import MetricFrame
from leadsman.lake.soundings import FloatArray, Soundings

CROSSING_M = 6.0
"""Soundings of two days this near are one place [m]: twice the error of a common receiver."""
MIN_CROSSINGS = 12
"""Fewer tell nothing about a level [-]; a choice of ours."""
LEVEL_LIMIT_M = 3.0
"""Differences above this are no water level [m]; a choice of ours."""
LEVEL_DOUBT_M = 0.15
"""Differences below this are left alone [m]; half a foot, a choice of ours."""
RATIO_TOLERANCE = 0.06
"""How near a ratio of depths has to be to 3.281 to be feet taken for metres [-]."""


@dataclass(frozen=True, slots=True)
class Alignment:
    """Soundings brought to one level.

    Parameters
    ----------
    soundings : tuple of Soundings
        In the order given [-].
    offsets_m : tuple of float
        What was taken off the depths of each [m].
    said : tuple of str
        What was found, each a sentence [-].
    warnings : tuple of str
        What the user should check [-].
    """

    soundings: tuple[Soundings, ...]
    offsets_m: tuple[float, ...]
    said: tuple[str, ...]
    warnings: tuple[str, ...]


def align_soundings(soundings: Sequence[Soundings]) -> Alignment:
    """Bring several sets of soundings to the level of the largest.

    Each set is compared with those already aligned where their soundings are
    within `CROSSING_M`; the median difference is taken off. Depths that are
    3.28 times as large, or as small, are flagged as a mix of feet and metres
    and left alone.

    Parameters
    ----------
    soundings : sequence of Soundings
        Cleaned sets of one lake [-].

    Returns
    -------
    Alignment
        The aligned sets.

    Raises
    ------
    LakeDataError
        There are no soundings.
    """
    frame = MetricFrame.around(
        np.concatenate([s.lon_deg for s in soundings]) if soundings else np.zeros(0),
        np.concatenate([s.lat_deg for s in soundings]) if soundings else np.zeros(0),
    )
    order = sorted(range(len(soundings)), key=lambda i: -len(soundings[i]))
    out = list(soundings)
    offsets = [0.0] * len(soundings)
    said: list[str] = []
    warnings: list[str] = []
    done = [order[0]]
    for index in order[1:]:
        base = [out[i] for i in done]
        done.append(index)
        here, there = _crossings(base, soundings[index], frame)
        if here.size < MIN_CROSSINGS:
            continue
        name = soundings[index].source
        difference = float(np.median(there - here))
        ratio = float(np.median(there / np.maximum(here, 0.1)))
        unit = next(
            (u for u, r in (("feet", 1.0 / FOOT_M), ("metres", FOOT_M))
             if abs(ratio / r - 1.0) < RATIO_TOLERANCE), None,
        )  # fmt: skip
        if unit is not None and abs(difference) > 1.0:
            warnings.append(
                f"at {here.size:,} crossings the depths of {name} are {ratio:.2f} times those of "
                f"the rest: it seems to be in {unit}"
            )
        elif abs(difference) > LEVEL_LIMIT_M:
            warnings.append(
                f"at {here.size:,} crossings {name} differs by {difference:+.1f} m, too much for a "
                "water level; check its unit and sign"
            )
        elif abs(difference) >= LEVEL_DOUBT_M:
            offsets[index] = difference
            lowered = np.maximum(soundings[index].depth_m - difference, 0.0)
            out[index] = replace(soundings[index], depth_m=lowered)
            said.append(
                f"At {here.size:,} crossings {name} is {difference:+.2f} m off the rest (another "
                "water level or transducer depth); taken off"
            )
    return Alignment(tuple(out), tuple(offsets), tuple(said), tuple(warnings))


def _crossings(
    base: Sequence[Soundings], other: Soundings, frame: MetricFrame
) -> tuple[FloatArray, FloatArray]:
    """Depths of the aligned sets and of another at the places they share."""
    from scipy.spatial import cKDTree

    parts = [frame.to_metric(s.lon_deg, s.lat_deg) for s in base]
    places = np.concatenate([np.stack(part, axis=1) for part in parts])
    depth = np.concatenate([s.depth_m for s in base])
    finite = np.all(np.isfinite(places), axis=1)
    mine = np.stack(frame.to_metric(other.lon_deg, other.lat_deg), axis=1)
    usable = np.all(np.isfinite(mine), axis=1)
    found, index = cKDTree(places[finite]).query(
        mine[usable], distance_upper_bound=CROSSING_M, workers=2
    )
    near = np.isfinite(found)
    here = depth[finite][np.asarray(index)[near]]
    there = other.depth_m[usable][near]
    wet = (here > 0.0) & (there > 0.0)
    return here[wet], there[wet]
