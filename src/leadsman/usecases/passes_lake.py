"""The lake and the stretches of it that a pass is planned for."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from leadsman.display_units import DisplayUnits
from leadsman.errors import PlanError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.demo_lake import LOG_NAME, data_folder
from leadsman.lake.demo_lake import NAME as DEMO_NAME
from leadsman.lake.edge import EdgeLine, edge_lines
from leadsman.lake.load_soundings import load_soundings
from leadsman.lake.model_file import SUFFIX, load_model
from leadsman.lake.sounding_surface import model_from_soundings
from leadsman.lake.structure import Stretch, rank_stretches
from leadsman.plan.passes_types import REACH_M, EdgeStretch, GrassStand, Kind

NEAR_M = 1500.0
"""A stretch farther from the named place is not near it [m]; own choice, a short run."""

APART_M = 120.0
"""Middles of two chosen stretches are at least this far apart [m]; own choice."""

FAN_HALF_WIDTH_M = 20.0
"""Ground to either side that belongs to a drop or flat [m]; own choice."""


@dataclass(frozen=True, slots=True)
class LakeOfPasses:
    """The bottom and how it was found.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    notes : tuple of str
        What was read [-].
    """

    model: BottomModel
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NamedStretch:
    """A stretch to plan for, and why it was chosen.

    Parameters
    ----------
    stretch : EdgeStretch
        The stretch [-].
    why : str
        Its shape and what is around it, one sentence; empty if not ranked [-].
    """

    stretch: EdgeStretch
    why: str


def resolve_lake(lake: str | None, lakes: Path | None = None) -> LakeOfPasses:
    """Open a lake.

    Parameters
    ----------
    lake : str or None
        A bottom model or soundings as a file, or the name of a kept lake; None
        takes the demo lake [-].
    lakes : pathlib.Path or None
        Folder of the kept lakes [-].

    Raises
    ------
    InputError
        There is no such lake, or it cannot be read.
    """
    if lake is None:
        found = _from_soundings(data_folder() / LOG_NAME, DEMO_NAME)
        return LakeOfPasses(
            found.model, (f"{DEMO_NAME} is the demo lake, which is invented.", *found.notes)
        )
    path = Path(lake)
    if path.is_file():
        if path.suffix == SUFFIX:
            return LakeOfPasses(load_model(path), ())
        return _from_soundings(path, path.stem)
    from leadsman.usecases.lake_store import open_lake

    return LakeOfPasses(open_lake(lake, lakes).model, ())


def _from_soundings(path: Path, name: str) -> LakeOfPasses:
    soundings, report = load_soundings(path)
    model, _ = model_from_soundings([soundings], name)
    notes = (*report.summary().splitlines(), *(f"{text}." for text in model.said))
    return LakeOfPasses(model, notes)


def stretches_of(
    model: BottomModel,
    depth_m: float,
    depth_se_m: float,
    *,
    level_m: float,
    near_deg: tuple[float, float] | None,
    count: int,
    length_m: float,
    kind: Kind,
    grass: GrassStand | None,
    units: DisplayUnits,
) -> tuple[tuple[NamedStretch, ...], tuple[EdgeLine, ...]]:
    """Stretches of the line of one depth, the best or the nearest first, and the lines.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    depth_m, depth_se_m : float
        Depth of the edge below the surface of the day and its standard error [m].
    level_m : float
        Water level now above the reference [m].
    near_deg : tuple of float or None
        Latitude and longitude to stay near; None ranks the whole lake [deg].
    count : int
        How many [-].
    length_m : float
        Length of each, as far as the line goes on [m].
    kind : {"edge", "drop", "flat"}
        How they are fished [-].
    grass : GrassStand or None
        Grass on the shallow side [-].
    units : DisplayUnits
        For the reasons [-].

    Raises
    ------
    InputError
        The lake has no such depth, or no stretch is near the place.
    """
    lines = edge_lines(model, depth_m, depth_se_m, level_m, min_length_m=20.0)
    ranked = list(
        rank_stretches(model, lines, level_m=level_m, metric_units=units.distance.unit == "m")
    )
    whole = [_whole(i, line) for i, line in enumerate(lines) if line.length_m < 60.0]
    places = [(s.line, s.first, s.last, _why(s)) for s in ranked] or whole
    if near_deg is not None:
        x, y = map(float, model.lattice.frame.to_metric(near_deg[1], near_deg[0]))
        places = _nearest_first(places, lines, x, y, depth_m, units)
    chosen: list[NamedStretch] = []
    middles: list[tuple[float, float]] = []
    for number, first, last, why in places:
        line = lines[number]
        at = _at(line, *_grown(line, first, last, length_m))
        x, y = float(line.x_m[at[at.size // 2]]), float(line.y_m[at[at.size // 2]])
        if any(np.hypot(x - a, y - b) < max(APART_M, 0.6 * length_m) for a, b in middles):
            continue
        middles.append((x, y))
        name = f"Stretch {len(chosen) + 1}"
        chosen.append(NamedStretch(_stretch(name, line, at, kind, grass), why))
        if len(chosen) == count:
            break
    return tuple(chosen), lines


_Piece = tuple[int, int, int, str]
"""Number of a line, first and last place on it, and why."""


def _nearest_first(
    places: list[_Piece],
    lines: tuple[EdgeLine, ...],
    near_x: float,
    near_y: float,
    depth_m: float,
    units: DisplayUnits,
) -> list[_Piece]:
    """Pieces by their distance from a place; refuses a place far from all."""
    far = []
    for number, first, last, _ in places:
        at = _at(lines[number], first, last)
        x, y = lines[number].x_m[at], lines[number].y_m[at]
        far.append(float(np.min(np.hypot(x - near_x, y - near_y))))
    order = np.argsort(far, kind="stable")
    if not far or far[int(order[0])] > NEAR_M:
        raise PlanError(
            f"no line of {units.depth.text(depth_m)} lies near that place; the nearest is "
            f"{units.distance.text(min(far, default=np.inf))} away",
            "--near",
            "Give latitude and longitude of a place on this lake",
        )
    return [places[int(k)] for k in order]


def _why(stretch: Stretch) -> str:
    return stretch.reason if stretch.reason.endswith(".") else f"{stretch.reason}."


def _whole(number: int, line: EdgeLine) -> _Piece:
    return number, 0, line.x_m.size - 1, ""


def _grown(line: EdgeLine, first: int, last: int, length_m: float) -> tuple[int, int]:
    """Drawn out to either side to a length; past the end of a closed line it goes on."""
    step = max(line.length_m / max(line.x_m.size - 1, 1), 1e-6)
    most = line.x_m.size - 1
    wanted = min(max(round(length_m / step), last - first), most)
    more = wanted - (last - first)
    first, last = first - more // 2, last + (more - more // 2)
    if line.closed:
        return first, last
    shift = max(-first, 0) - max(last - most, 0)
    return max(first + shift, 0), min(last + shift, most)


def _at(line: EdgeLine, first: int, last: int) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """Indices of a piece; a closed line repeats its first place at its end."""
    at = np.arange(first, last + 1, dtype=np.int64)
    return np.mod(at, line.x_m.size - 1) if line.closed else at


def _stretch(
    name: str,
    line: EdgeLine,
    at: np.ndarray[tuple[int], np.dtype[np.int64]],
    kind: Kind,
    grass: GrassStand | None,
) -> EdgeStretch:
    return EdgeStretch(
        name=name,
        x_m=line.x_m[at],
        y_m=line.y_m[at],
        to_deep_x=line.to_deep_x[at],
        to_deep_y=line.to_deep_y[at],
        position_se_m=line.position_se_m[at],
        depth_m=line.depth_m,
        kind=kind,
        half_width_m=REACH_M if kind == "edge" else FAN_HALF_WIDTH_M,
        grass=grass,
    )
