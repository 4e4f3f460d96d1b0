"""Where the grass stops, or a depth or a drop lies, and which stretches of it come first."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import numpy as np

from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError, LakeDataError
from leadsman.lake.edge import EdgeLine, edge_lines
from leadsman.lake.grass_edge import EdgeDepth, edge_from_points, edge_from_secchi
from leadsman.lake.structure import SCALE_M, Stretch, StructureWeights, rank_stretches
from leadsman.usecases.lake_marks import read_marks
from leadsman.usecases.lake_store import StoredLake, keep_edge, open_lake
from leadsman.usecases.lake_text import place_text, way_text

EdgeKind = Literal["grass", "depth", "drop"]
DROP_WEIGHTS = StructureWeights(bend=0.2, steepness=0.5, flat=0.1, deep_water=0.2)
"""For a drop steepness counts most; common practice, no source."""
DROP_REACH_M = 150.0
"""A drop whose foot is farther than this from its lip is a slope [m]; a choice of ours."""
PROBE_STEP_M = 2.0
MOST_PLACES = 15.0
APART_M = (40.0, 150.0)
"""A stretch nearer to a better one than a fifteenth of the edge, within these bounds, is not
ranked [m]: a day is spread over a lake, and one stop takes in what lies beside it. A choice of
ours."""
CLARITY_CAUTION = (
    "The grass edge is a guess from clarity alone and may be off by many feet: mark it at three "
    "or four places on the water, then give the marks with --marks FILE --keep"
)


@dataclass(frozen=True, slots=True)
class EdgeQuestion:
    """Which edge of which lake.

    Parameters
    ----------
    name : str
        The lake [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    marks : pathlib.Path or None
        Places where the grass was seen to stop [-].
    marks_unit : str or None
        Unit of depths in that file where it names none [-].
    secchi_m : float or None
        Clarity, in place of marks [m].
    depth_m : float or None
        A bare depth below the surface of the day to follow [m].
    drop_m : tuple of float or None
        Depths of the lip and the foot of a drop [m].
    keep : bool
        Keep the grass edge with the lake, for all later answers [-].
    level_m : float
        Water level of the day above the reference level [m].
    scale_m : float
        Scale at which bends are looked for [m].
    units : str
        Units to answer in [-].
    """

    name: str
    lakes: Path | None = None
    marks: Path | None = None
    marks_unit: str | None = None
    secchi_m: float | None = None
    depth_m: float | None = None
    drop_m: tuple[float, float] | None = None
    keep: bool = False
    level_m: float = 0.0
    scale_m: float = SCALE_M
    units: str = "us"


@dataclass(frozen=True, slots=True)
class RankedStretch:
    """A stretch and what else is known of it.

    Parameters
    ----------
    rank : int
        1 is best [-].
    stretch : Stretch
        The stretch [-].
    drop_width_m : float or None
        Distance from lip to foot of a drop; None where none was asked for or
        the foot is not near [m].
    reason : str
        Why it stands here, in a sentence [-].
    """

    rank: int
    stretch: Stretch
    drop_width_m: float | None
    reason: str


@dataclass(frozen=True, slots=True)
class EdgeAnswer:
    """An edge and its stretches.

    Parameters
    ----------
    question : EdgeQuestion
        What was asked [-].
    lake : StoredLake
        The lake [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    kind : {"grass", "depth", "drop"}
        What the edge is [-].
    depth_m : float
        Its depth below the surface of the day [m].
    band_m : tuple of float
        Band of that depth: where the grass stops, nine places in ten [m].
    depth_se_m : float
        Standard error of the depth itself; 0 for a bare depth [m].
    grass : EdgeDepth or None
        Where it comes from, for a grass edge [-].
    lines : tuple of EdgeLine
        The edge, longest line first [-].
    ranked : tuple of RankedStretch
        Stretches, best first [-].
    headline : str
        The answer in a sentence [-].
    notes : tuple of str
        What was read, assumed and what to mind [-].
    """

    question: EdgeQuestion
    lake: StoredLake
    units: DisplayUnits
    kind: EdgeKind
    depth_m: float
    band_m: tuple[float, float]
    depth_se_m: float
    grass: EdgeDepth | None
    lines: tuple[EdgeLine, ...]
    ranked: tuple[RankedStretch, ...]
    headline: str
    notes: tuple[str, ...]

    @property
    def length_m(self) -> float:
        """Length of all lines; of a drop, of the stretches where it is one [m]."""
        if self.kind == "drop":
            return sum(item.stretch.length_m for item in self.ranked)
        return sum(line.length_m for line in self.lines)

    @property
    def what(self) -> str:
        """What the edge is, with its depth [-]."""
        depth = self.units.depth
        if self.kind == "grass":
            return f"grass edge, {depth.text(self.depth_m)}"
        if self.kind == "drop":
            return f"lip of the drop, {depth.text(self.depth_m)}"
        return f"depth {depth.text(self.depth_m)}"


def find_edge(question: EdgeQuestion) -> EdgeAnswer:
    """Follow an edge and rank its stretches.

    Parameters
    ----------
    question : EdgeQuestion
        Which edge of which lake [-].

    Raises
    ------
    InputError
        The lake is not there, nothing says which edge is meant, or the lake
        has no such depth.
    """
    units = display_units(question.units)
    _check(question)
    lake = open_lake(question.name, question.lakes)
    kind, grass, notes = _aim(question, lake)
    if grass is not None:
        depth = grass.depth_m + question.level_m
        band = (max(grass.low_m + question.level_m, 0.0), grass.high_m + question.level_m)
        se = grass.se_m
    else:
        depth = question.drop_m[0] if question.drop_m is not None else (question.depth_m or 0.0)
        band, se = (depth, depth), 0.0
    lines = edge_lines(lake.model, depth, se, question.level_m)
    stretches = rank_stretches(
        lake.model, lines, question.scale_m, question.level_m,
        DROP_WEIGHTS if kind == "drop" else None, units.name == "metric",
    )  # fmt: skip
    ranked = _ranked(lake, lines, stretches, question, units)
    if question.keep and grass is not None:
        lake = keep_edge(lake, grass)
        notes.append(f"Kept as the grass edge of {lake.name}; casts on it now know where it stops")
    if grass is not None and grass.origin == "clarity":
        notes.append(CLARITY_CAUTION)
    answer = EdgeAnswer(
        question, lake, units, kind, depth, band, se, grass, lines, ranked, "", tuple(notes)
    )
    return replace(answer, headline=_headline(answer))


def _check(question: EdgeQuestion) -> None:
    given = [
        name
        for name, value in (
            ("--marks", question.marks),
            ("--clarity", question.secchi_m),
            ("--depth", question.depth_m),
            ("--drop", question.drop_m),
        )
        if value is not None
    ]
    if len(given) > 1:
        raise InputError(
            f"{' and '.join(given)} ask for different edges", given[1], "Give one of them"
        )
    if question.keep and not (question.marks or question.secchi_m is not None):
        raise InputError("only a grass edge can be kept", "--keep", "Give --marks or --clarity too")
    if question.drop_m is not None and not 0.0 < question.drop_m[0] < question.drop_m[1]:
        raise InputError("a drop goes from a lesser depth to a greater", "--drop")
    if not abs(question.level_m) <= 30.0:
        raise InputError(f"a level of {question.level_m:.4g} m is beyond 30 m", "--level")


def _aim(question: EdgeQuestion, lake: StoredLake) -> tuple[EdgeKind, EdgeDepth | None, list[str]]:
    """What kind of edge, and for grass at which depth below the reference level."""
    if question.drop_m is not None:
        return "drop", None, []
    if question.depth_m is not None:
        return "depth", None, []
    if question.marks is not None:
        marks = read_marks(question.marks, lake.model, question.marks_unit, question.level_m)
        edge = edge_from_points(marks.depth_m)
        return "grass", edge, [f"{text}." for text in (*marks.said, *edge.said)]
    if question.secchi_m is not None:
        edge = edge_from_secchi(question.secchi_m)
        return "grass", edge, [f"{text}." for text in edge.said]
    if lake.record.edge is not None:
        kept = lake.record.edge
        how = "marks" if kept.origin == "marked" else "clarity"
        return "grass", kept, [f"The grass edge is the one kept with the lake, from {how}."]
    raise InputError(
        f"nothing says where the grass of {lake.name} stops",
        "lake edge",
        "Give --marks FILE with places where you saw it stop, --clarity '9 ft', --depth '15 ft' "
        "or --drop '12-20 ft'",
    )


def _ranked(
    lake: StoredLake,
    lines: tuple[EdgeLine, ...],
    stretches: tuple[Stretch, ...],
    question: EdgeQuestion,
    units: DisplayUnits,
) -> tuple[RankedStretch, ...]:
    """Stretches with their reasons; for a drop only where there is one."""
    apart_m = float(np.clip(sum(line.length_m for line in lines) / MOST_PLACES, *APART_M))
    if question.drop_m is None:
        apart = _apart(lake, [(s, None, f"{s.reason}.") for s in stretches], apart_m)
        return tuple(RankedStretch(n, *item) for n, item in enumerate(apart, 1))
    lip, foot = question.drop_m
    kept: list[tuple[Stretch, float | None, str]] = []
    for stretch in stretches:
        width = _drop_width_m(lake, lines[stretch.line], stretch, foot - question.level_m)
        if width is None:
            continue
        falls = (
            f"Falls from {units.depth.number(lip)} to {units.depth.text(foot)} within "
            f"{units.distance.text(width)}. {stretch.reason}."
        )
        kept.append((stretch, width, falls))
    if not kept:
        raise LakeDataError(
            f"nowhere does the bottom fall from {units.depth.number(lip)} to "
            f"{units.depth.text(foot)} within {units.distance.text(DROP_REACH_M)}",
            lake.name,
            "Ask for a smaller drop",
        )
    apart = _apart(lake, kept, apart_m)
    return tuple(RankedStretch(n, *item) for n, item in enumerate(apart, 1))


def _apart(
    lake: StoredLake, ranked: list[tuple[Stretch, float | None, str]], apart_m: float
) -> list[tuple[Stretch, float | None, str]]:
    """Those that do not lie beside a better one."""
    frame = lake.model.lattice.frame
    kept: list[tuple[Stretch, float | None, str]] = []
    places: list[tuple[float, float]] = []
    for item in ranked:
        x, y = (float(v) for v in frame.to_metric(item[0].lon_deg, item[0].lat_deg))
        if all(np.hypot(x - a, y - b) >= apart_m for a, b in places):
            kept.append(item)
            places.append((x, y))
    return kept


def _drop_width_m(
    lake: StoredLake, line: EdgeLine, stretch: Stretch, foot_m: float
) -> float | None:
    """Median distance from lip to foot along a stretch; None where less than half has a foot."""
    part = np.arange(stretch.first, stretch.last + 1) % line.x_m.size
    away = np.arange(0.0, DROP_REACH_M + 0.1, PROBE_STEP_M)
    x = line.x_m[part, None] + away * line.to_deep_x[part, None]
    y = line.y_m[part, None] + away * line.to_deep_y[part, None]
    depth, _ = lake.model.sample(x.reshape(-1), y.reshape(-1))
    with np.errstate(invalid="ignore"):
        deep = depth.reshape(x.shape) >= foot_m
    has = np.any(deep, axis=1)
    if np.mean(has) < 0.5:
        return None
    return float(np.median(away[np.argmax(deep, axis=1)][has]))


def _headline(answer: EdgeAnswer) -> str:
    depth = answer.units.depth
    at = depth.text(answer.depth_m)
    if answer.kind == "grass" and answer.grass is not None:
        sure = "" if answer.grass.origin == "marked" else ", a guess from clarity"
        start = f"Grass stops near {at} ({depth.band(*answer.band_m)}{sure})"
    elif answer.kind == "drop" and answer.question.drop_m is not None:
        low, high = answer.question.drop_m
        start = f"Drop from {depth.number(low)} to {depth.text(high)}"
    else:
        start = f"Depth of {at}"
    start += f" along {way_text(answer.length_m, answer.units)}"
    if not answer.ranked:
        return f"{start}; no stretch of it is long enough to rank."
    best = answer.ranked[0].stretch
    where = place_text(best.lat_deg, best.lon_deg)
    kind = {"point": "the point", "inside turn": "the inside turn", "straight": "the stretch"}
    return f"{start}; start at {kind[best.kind]} at {where}."
