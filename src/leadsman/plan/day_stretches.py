"""Stretches of a lake worth fishing on one day: the ranked structure, cut to the length of a pass.

A point as ranked may be shorter than a cast. What is fished is the point with the edge on
either side of it, a few casts long.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from leadsman.errors import LakeDataError, PlanError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.edge import MIN_LENGTH_M, EdgeLine, edge_lines
from leadsman.lake.structure import Stretch, rank_stretches
from leadsman.plan.cover_needs import NEEDS, Ground
from leadsman.plan.day_targets import DayTarget
from leadsman.plan.passes_types import EdgeStretch, GrassStand, Kind

PASS_M = 150.0
"""Length of a stretch that is fished as one [m]: three casts end to end. Own choice."""
SHORTEST_M = 15.0
"""Lines shorter than this are no place to fish along [m]. Own choice."""
MOST_STRETCHES = 16
"""Stretches weighed for one day [-]: what the exact search of the route is quick for."""
FOUND_SE_M = 3.0
"""Error of an edge's place once the boat has found it with its sounder [m]. Own assumption,
spread 2 to 5: a pass is laid along the edge as found, not as drawn."""
FLAT_HALF_M, DROP_HALF_M, EDGE_HALF_M = 12.0, 6.0, 3.0
"""How far to either side the ground belongs to a flat, a drop, an edge [m]. Own choice."""
DROP_SLOPE, FLAT_WIDTH_M = 0.05, 20.0
"""From this slope on it is a drop [m m-1], from this width on a flat [m]. Own choice."""
APART_M = 40.0
"""Stretches of one target keep this far apart [m]. Own choice."""
SIDES = ("east", "northeast", "north", "northwest", "west", "southwest", "south", "southeast")


@dataclass(frozen=True, slots=True)
class DayStretch:
    """A stretch that may be fished.

    Parameters
    ----------
    name : str
        What to call it [-].
    target : int
        Number of its target [-].
    line : EdgeStretch
        Where it is, in the lake's frame [m].
    score : float
        How good its structure is, 0 to 1; common practice, no source [-].
    reason : str
        Why, in one sentence [-].
    radius_m : float
        Radius of its bend; infinite if straight [m].
    map_se_m : float
        Standard error of its place on the map [m].
    """

    name: str
    target: int
    line: EdgeStretch
    score: float
    reason: str
    radius_m: float
    map_se_m: float

    @property
    def middle_m(self) -> tuple[float, float]:
        """Its middle [m]."""
        k = self.line.x_m.size // 2
        return float(self.line.x_m[k]), float(self.line.y_m[k])

    @property
    def beside_m(self) -> tuple[float, float]:
        """Where the boat comes to it: its middle, a little outside [m]."""
        k = self.line.x_m.size // 2
        x, y = self.middle_m
        return x + 10.0 * float(self.line.to_deep_x[k]), y + 10.0 * float(self.line.to_deep_y[k])


def day_stretches(
    model: BottomModel,
    targets: Sequence[DayTarget],
    level_m: float,
    grass_edge_m: float | None,
    edge_se_m: float = 0.0,
    depth_text: str = "{:.1f} m",
    metric: bool = True,
    most: int = MOST_STRETCHES,
) -> tuple[tuple[DayStretch, ...], tuple[str, ...]]:
    """The best stretches for each target, in proportion to its chance.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    targets : sequence of DayTarget
        What to be ready for [-].
    level_m : float
        Water level now above the map's reference [m].
    grass_edge_m : float or None
        Depth at which the grass stops; None for no grass [m].
    edge_se_m : float
        Standard error of that depth [m].
    depth_text : str
        How to write a depth given in the reader's unit [-].
    metric : bool
        Write reasons in metres [-].
    most : int
        Stretches in all [-].

    Returns
    -------
    tuple of tuple of DayStretch and tuple of str
        The stretches, and what to know of them.

    Raises
    ------
    PlanError
        The map has no line of any of the depths.
    """
    found: list[DayStretch] = []
    notes: list[str] = []
    for number, target in enumerate(targets):
        se = edge_se_m if target.ground == "edge" else 0.0
        lines, note = _lines(model, target, se, level_m, depth_text, metric)
        notes += note
        if not lines:
            continue
        share = max(round(most * target.chance), 2)
        ranked = _fitting(
            rank_stretches(model, lines, level_m=level_m, metric_units=metric), target
        )
        found += _cut(model, lines, ranked, number, target, grass_edge_m, share)
    if not found:
        raise PlanError(
            "the map has no line to fish at any of the depths of the day",
            model.name,
            "; ".join(notes) or "Name other targets, or map more of the lake",
        )
    return tuple(found), tuple(notes)


def _lines(
    model: BottomModel,
    target: DayTarget,
    se_m: float,
    level_m: float,
    depth_text: str,
    metric: bool,
) -> tuple[tuple[EdgeLine, ...], list[str]]:
    shown = depth_text.format(target.depth_m if metric else target.depth_m / 0.3048)
    try:
        return edge_lines(model, target.depth_m, se_m, level_m), []
    except LakeDataError:
        pass
    try:
        short = edge_lines(model, target.depth_m, se_m, level_m, SHORTEST_M)
    except LakeDataError:
        deepest = float(np.nanmax(model.depth_m)) + level_m
        told = depth_text.format(deepest if metric else deepest / 0.3048)
        return (), [f"No line of {shown} on this map, which goes down to {told}"]
    longest = short[0].length_m
    told = f"{longest:.0f} m" if metric else f"{longest / 0.9144:.0f} yd"
    least = f"{MIN_LENGTH_M:.0f} m" if metric else f"{MIN_LENGTH_M / 0.9144:.0f} yd"
    return short, [
        f"The longest line of {shown} is {told}, shorter than a long cast ({least}): cast across "
        "its ends as well, part of each cast lies beyond it"
    ]


def _fitting(ranked: tuple[Stretch, ...], target: DayTarget) -> list[Stretch]:
    """Drops that drop and flats that are flat come first, then the rest, each by its rank."""
    if target.ground == "drop":
        return sorted(ranked, key=lambda s: s.slope < DROP_SLOPE)
    if target.ground in ("flat", "grass"):
        return sorted(ranked, key=lambda s: s.flat_width_m < FLAT_WIDTH_M)
    return list(ranked)


def _cut(
    model: BottomModel,
    lines: tuple[EdgeLine, ...],
    ranked: Sequence[Stretch],
    number: int,
    target: DayTarget,
    grass_edge_m: float | None,
    most: int,
) -> list[DayStretch]:
    found: list[DayStretch] = []
    for stretch in ranked:
        line = lines[stretch.line]
        middle = 0.5 * float(line.along_m[stretch.first] + line.along_m[stretch.last])
        low = min(max(middle - 0.5 * PASS_M, 0.0), max(line.length_m - PASS_M, 0.0))
        high = min(low + PASS_M, line.length_m)
        part = np.flatnonzero((line.along_m >= low - 1e-9) & (line.along_m <= high + 1e-9))
        if part.size < 3 or any(_near(line, part, other.line) for other in found):
            continue
        found.append(_stretch(model, line, stretch, part, number, target, grass_edge_m))
        if len(found) >= most:
            break
    return found


def _near(
    line: EdgeLine, part: np.ndarray[tuple[int], np.dtype[np.int64]], other: EdgeStretch
) -> bool:
    """Whether a piece comes closer to a stretch than stretches should."""
    apart = np.hypot(line.x_m[part, None] - other.x_m, line.y_m[part, None] - other.y_m)
    return bool(np.min(apart) < APART_M)


def _stretch(
    model: BottomModel,
    line: EdgeLine,
    stretch: Stretch,
    part: np.ndarray[tuple[int], np.dtype[np.int64]],
    number: int,
    target: DayTarget,
    grass_edge_m: float | None,
) -> DayStretch:
    kind, half = _kind(target.ground)
    needs = NEEDS[target.ground]
    grass = None
    if grass_edge_m is not None and needs.grass_height_m > 0.0:
        grass = GrassStand(grass_edge_m, height_m=needs.grass_height_m, density=needs.grass_density)
    k = int(part[part.size // 2])
    side = side_of(model, float(line.x_m[k]), float(line.y_m[k]))
    name = f"{side} {target.ground}, {stretch.kind}".capitalize()
    return DayStretch(
        name,
        number,
        EdgeStretch(
            name, line.x_m[part], line.y_m[part], line.to_deep_x[part], line.to_deep_y[part],
            np.minimum(line.position_se_m[part], FOUND_SE_M), target.depth_m, kind, half, grass,
        ),
        stretch.score,
        stretch.reason,
        stretch.radius_m,
        stretch.position_se_m,
    )  # fmt: skip


def _kind(ground: Ground) -> tuple[Kind, float]:
    if ground == "edge":
        return "edge", EDGE_HALF_M
    return ("drop", DROP_HALF_M) if ground == "drop" else ("flat", FLAT_HALF_M)


def side_of(model: BottomModel, x_m: float, y_m: float) -> str:
    """Side of the lake a place lies on, in a word.

    Parameters
    ----------
    model : BottomModel
        The lake [-].
    x_m, y_m : float
        Place in its frame [m].
    """
    lattice = model.lattice
    dx = (x_m - lattice.x0_m) / (lattice.cell_m * lattice.nx) - 0.5
    dy = (y_m - lattice.y0_m) / (lattice.cell_m * lattice.ny) - 0.5
    if math.hypot(dx, dy) < 0.12:
        return "middle"
    return SIDES[round(math.atan2(dy, dx) / (0.25 * math.pi)) % 8]


def told_apart(stretches: Sequence[DayStretch]) -> tuple[DayStretch, ...]:
    """The same with names that occur once: a letter where there are several.

    Parameters
    ----------
    stretches : sequence of DayStretch
        Stretches [-].
    """
    counts: dict[str, int] = {}
    for item in stretches:
        counts[item.name] = counts.get(item.name, 0) + 1
    seen: dict[str, int] = {}
    out: list[DayStretch] = []
    for item in stretches:
        name = item.name
        if counts[name] > 1:
            seen[name] = seen.get(name, 0) + 1
            name = f"{name} {chr(64 + seen[name])}"
        out.append(replace(item, name=name, line=replace(item.line, name=name)))
    return tuple(out)
