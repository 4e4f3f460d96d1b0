"""From what the day is expected to be to the depths and grounds to be ready for."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from leadsman.belief.levels import Cover
from leadsman.errors import PlanError
from leadsman.plan.cover_needs import Ground
from leadsman.plan.day_belief import share_below
from leadsman.plan.day_types import Grass, Outlook

INSIDE_EDGE_M = 0.9
"""How much shallower than its edge grass stands thick [m]: 3 ft; common practice, no source."""
BEYOND_EDGE_M = (1.2, 2.4, 3.9)
"""How much deeper than the edge drops are looked for [m]: 4, 8 and 13 ft. Own choice, around the
usual ladder of depths."""
WINDOW_M = 0.9
"""A lure for one depth takes fish this much above and below it [m]. Own assumption, spread 0.5
to 1.5."""
GRASS_SHARE: dict[Grass, float] = {"none": 0.0, "some": 0.5, "thick": 0.85}
"""Share of the flats that is grown over [-]. Own assumption."""
USUAL_EDGE_M = 3.96
"""Where no grass is known, what is called shallow ends here [m]: 13 ft, own choice."""
LEAST_CHANCE = 0.04
"""Less than this and a target is left out [-]. Own choice."""
MOST_TARGETS = 5
COVER_OF: dict[Ground, Cover] = {"grass": "flat", "edge": "edge", "flat": "flat", "drop": "drop"}
"""Cover of the outlook that each ground belongs to."""


@dataclass(frozen=True, slots=True)
class DayTarget:
    """A depth in a ground that the day may ask for.

    Parameters
    ----------
    ground : {"grass", "edge", "flat", "drop"}
        Kind of ground [-].
    depth_m : float
        Depth of the bottom [m].
    chance : float
        Chance that a willing fish is met there, over all targets 1 [-].
    """

    ground: Ground
    depth_m: float
    chance: float

    def __post_init__(self) -> None:
        if not 0.3 <= self.depth_m <= 60.0:
            raise PlanError(f"a bottom at {self.depth_m:.3g} m is no place to fish", "targets")
        if not 0.0 <= self.chance <= 1.0 + 1e-9:
            raise PlanError("a chance is outside 0 to 1", "targets")


def day_targets(found: Outlook) -> tuple[DayTarget, ...]:
    """What to be ready for, likeliest first.

    Parameters
    ----------
    found : Outlook
        What to expect of the day [-].

    Raises
    ------
    PlanError
        The water is too shallow for any target.
    """
    day = found.day
    edge = day.grass_edge_m.value if day.grass_edge_m is not None else None
    grown: Grass = day.grass or ("some" if edge is not None else "none")
    floor = min([day.max_depth_m, *(out.low_m for out in found.ruled_out)])
    shallow_end = edge if edge is not None else USUAL_EDGE_M
    asked: list[tuple[Ground, float, float]] = []
    bare = 1.0 - GRASS_SHARE[grown]
    if edge is not None and grown != "none":
        asked.append(("edge", edge, found.covers["edge"]))
        inside = max(edge - INSIDE_EDGE_M, 0.6 * edge)
        asked.append(("grass", inside, found.covers["flat"] * GRASS_SHARE[grown]))
    else:
        bare += found.covers["edge"] / max(found.covers["flat"], 1e-9)
    flat_m = min(max(found.lure_m.low_50, 0.5 * shallow_end), shallow_end)
    asked.append(("flat", flat_m, found.covers["flat"] * bare))
    asked += [
        ("drop", shallow_end + more, found.covers["drop"] + found.covers["open_water"])
        for more in BEYOND_EDGE_M
    ]
    kept = [
        (ground, depth, weight * _mass(found, depth))
        for ground, depth, weight in asked
        if 0.4 <= depth <= floor - 0.3
    ]
    total = sum(weight for _, _, weight in kept)
    if not total > 0.0:
        raise PlanError(
            f"the water is at most {day.units.depth.text(floor)} deep where fish can be",
            "targets",
            "Name the targets of the day yourself",
        )
    best = sorted(kept, key=lambda item: -item[2])[:MOST_TARGETS]
    best = [item for item in best if item[2] >= LEAST_CHANCE * total] or best[:1]
    total = sum(weight for _, _, weight in best)
    return tuple(DayTarget(ground, depth, weight / total) for ground, depth, weight in best)


def _mass(found: Outlook, depth_m: float) -> float:
    """Belief within reach of a lure at a depth [-]."""
    low, high = max(depth_m - WINDOW_M, 0.0), depth_m + WINDOW_M
    grid, density = found.depth_m, found.lure_per_m
    return max(share_below(grid, density, low) - share_below(grid, density, high), 1e-6)


def relative_rates(found: Outlook, targets: tuple[DayTarget, ...]) -> tuple[float, ...]:
    """Bites for a metre of zone at each target over those at the best of them [-].

    The belief in a depth is spread over its width, and the belief in a cover is taken as its
    rate, as for the log of the day (`Outlook.rate_weights`).

    Parameters
    ----------
    found : Outlook
        What to expect of the day [-].
    targets : tuple of DayTarget
        The targets [-].
    """
    raw = np.array(
        [_mass(found, t.depth_m) * max(found.covers[COVER_OF[t.ground]], 1e-6) for t in targets]
    )
    return tuple(float(value) for value in raw / np.max(raw))
