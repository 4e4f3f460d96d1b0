"""Maps of a lake: bottom, edge with its band, ranked stretches with reasons, tracks sounded."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from leadsman.display_units import DisplayUnits
from leadsman.errors import InputError
from leadsman.lake.bottom_model import Z_90
from leadsman.usecases.lake_edge import EdgeAnswer, RankedStretch
from leadsman.usecases.lake_report import LakeReport
from leadsman.usecases.lake_store import StoredLake
from leadsman.usecases.lake_text import area_text, place_text
from leadsman.usecases.pictures import check_picture_path

if TYPE_CHECKING:
    from leadsman.output.map_view_types import DepthGrid, MapView, Polyline, Window
    from leadsman.usecases.lake_survey import SurveyAnswer

MAP_PLACES = 8
"""Stretches numbered on a map [-]: more than a day is fished, few enough to read."""
PHONE_PLACES = 5
"""Stretches numbered on a phone [-]."""
ZOOM_M = 130.0
"""Room around a stretch that is shown by itself [m]."""


def draw_edge_map(
    answer: EdgeAnswer,
    path: Path,
    *,
    phone: bool = False,
    zoom: int | None = None,
    tracks: bool = False,
) -> None:
    """Write the map of an edge.

    Parameters
    ----------
    answer : EdgeAnswer
        The edge [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    phone : bool
        Draw for the width of a phone [-].
    zoom : int or None
        Rank of a stretch to show by itself [-].
    tracks : bool
        Show where the sounder was run [-].

    Raises
    ------
    InputError
        The file cannot be written, or there is no such stretch.
    """
    check_picture_path(path)
    view = _edge_view(answer, zoom, tracks, PHONE_PLACES if phone else MAP_PLACES)
    _save(view, path, phone)


def draw_lake_map(
    report: LakeReport,
    path: Path,
    *,
    phone: bool = False,
    tracks: bool = True,
    level_m: float = 0.0,
) -> None:
    """Write the map of a lake's bottom and of where it was sounded.

    Parameters
    ----------
    report : LakeReport
        The lake [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    phone : bool
        Draw for the width of a phone [-].
    tracks : bool
        Show where the sounder was run [-].
    level_m : float
        Water level of the day above the reference level [m].

    Raises
    ------
    InputError
        The file cannot be written, or the lake is dry at that level.
    """
    from leadsman.output.map_view_types import MapView

    check_picture_path(path)
    lake, units = report.lake, report.units
    shares = " and ".join(
        f"to {units.depth.text(s.half_width_m)} over {100.0 * s.share:.0f} %"
        for s in report.shares
        if s.share >= 0.005
    )
    view = MapView(
        headline=report.headline,
        grid=_grid(lake, level_m),
        soundings=_tracks(lake) if tracks else (),
        units=units,
        subtitle=(
            f"Depth is sure {shares} of it (9 times in 10)"
            if shares
            else "Depth is nowhere sure to 4 ft: sound it before you trust it"
        ),
        note=_made_of(lake, level_m, units),
    )
    _save(view, path, phone)


def draw_survey_map(answer: SurveyAnswer, path: Path, *, phone: bool = False) -> None:
    """Write the map of where to run the sounder, over what is sounded already.

    Parameters
    ----------
    answer : SurveyAnswer
        The runs [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    phone : bool
        Draw for the width of a phone [-].

    Raises
    ------
    InputError
        The file cannot be written.
    """
    from leadsman.output.map_view_types import Place, Polyline

    check_picture_path(path)
    runs = answer.plan.runs
    frame = answer.edge.lake.model.lattice.frame
    ways = [frame.to_metric(run.lon_deg, run.lat_deg) for run in runs]
    route = Polyline(np.concatenate([x for x, _ in ways]), np.concatenate([y for _, y in ways]))
    listed = PHONE_PLACES if phone else MAP_PLACES
    more = len(runs) - listed
    view = replace(
        _edge_view(answer.edge, None, True, 0),
        headline=answer.headline,
        route=route,
        places=tuple(
            Place(float(x[0]), float(y[0]), str(number)) for number, (x, y) in enumerate(ways, 1)
        ),
        reasons=(
            *(f"{n}  {text}." for n, text in enumerate(answer.reasons[:listed], 1)),
            *((f"{more} more tracks: see the list",) if more > 0 else ()),
        ),
    )
    _save(view, path, phone)


def _made_of(lake: StoredLake, level_m: float, units: DisplayUnits) -> str:
    files = [file.report.source for file in lake.record.files]
    text = f"From {', '.join(files[:3])}{' and others' if len(files) > 3 else ''}."
    reference = lake.record.reference
    if reference:
        text += f" Depth 0 is {reference}."
    if level_m:
        way = "above" if level_m > 0.0 else "below"
        text += f" Drawn with the water {units.depth.text(abs(level_m))} {way} it."
    return text


def _grid(lake: StoredLake, level_m: float) -> DepthGrid:
    from leadsman.output.map_view_of import depth_grid_of

    try:
        return depth_grid_of(lake.model, level_m)
    except ValueError as error:
        raise InputError(
            f"at that level no part of {lake.name} is under water", "--level", "Check its sign"
        ) from error


def _edge_view(answer: EdgeAnswer, zoom: int | None, tracks: bool, places: int) -> MapView:
    from leadsman.output.map_view_of import depth_edge_of
    from leadsman.output.map_view_types import MapView, Stretch

    question, lake, units = answer.question, answer.lake, answer.units
    if zoom is not None and not 1 <= zoom <= len(answer.ranked):
        raise InputError(
            f"there is no stretch {zoom}", "--zoom", f"Choose from 1 to {len(answer.ranked)}"
        )
    shown = answer.ranked[:places]
    window: Window | None = None
    if zoom is not None:
        chosen = answer.ranked[zoom - 1]
        shown = tuple(item for item in answer.ranked if _near(item, chosen))[:places]
        window = _window(answer, chosen)
    edge = depth_edge_of(
        lake.model, answer.depth_m, answer.what, depth_se_m=answer.depth_se_m,
        grass=answer.kind == "grass", level_m=question.level_m,
    )  # fmt: skip
    phone_words = {"point": "point", "inside turn": "inside turn", "straight": ""}
    headline = answer.headline
    if zoom is not None:
        best = answer.ranked[zoom - 1]
        where = place_text(best.stretch.lat_deg, best.stretch.lon_deg)
        headline = f"Stretch {zoom} at {where}. {best.reason}"
    return MapView(
        headline=headline,
        grid=_grid(lake, question.level_m),
        edges=(edge,),
        stretches=tuple(
            Stretch(item.rank, _stretch_line(answer, item), phone_words[item.stretch.kind])
            for item in shown
        ),
        soundings=_tracks(lake) if tracks else (),
        window=window,
        units=units,
        scale="distance" if zoom is not None else "auto",
        subtitle=_subtitle(answer),
        note=_made_of(lake, question.level_m, units),
        # The reason of a stretch shown by itself is the headline already.
        reasons=tuple(f"{item.rank}  {item.reason}" for item in shown if item.rank != zoom),
    )


def _subtitle(answer: EdgeAnswer) -> str:
    lake, units = answer.lake, answer.units
    area = area_text(lake.model.area_deeper_m2(0.0, answer.question.level_m), units)
    place = Z_90 * float(np.median(np.concatenate([line.position_se_m for line in answer.lines])))
    return (
        f"{lake.name}, {area}; 9 times in 10 the edge lies within {units.distance.text(place)} of "
        "the line"
    )


def _near(item: RankedStretch, chosen: RankedStretch) -> bool:
    from leadsman.lake.frame import MetricFrame

    frame = MetricFrame(chosen.stretch.lon_deg, chosen.stretch.lat_deg)
    x, y = frame.to_metric(item.stretch.lon_deg, item.stretch.lat_deg)
    reach = ZOOM_M + 0.5 * chosen.stretch.length_m
    return bool(np.hypot(float(x), float(y)) <= reach)


def _stretch_line(answer: EdgeAnswer, item: RankedStretch) -> Polyline:
    from leadsman.output.map_view_types import Polyline

    line = answer.lines[item.stretch.line]
    part = np.arange(item.stretch.first, item.stretch.last + 1) % line.x_m.size
    return Polyline(line.x_m[part], line.y_m[part])


def _window(answer: EdgeAnswer, chosen: RankedStretch) -> Window:
    from leadsman.output.map_view_types import Window

    return Window.around((_stretch_line(answer, chosen),), ZOOM_M)


def _tracks(lake: StoredLake) -> tuple[Polyline, ...]:
    from leadsman.output.map_view_types import Polyline

    frame = lake.model.lattice.frame
    return tuple(
        Polyline(*frame.to_metric(track.lon_deg, track.lat_deg)) for track in lake.tracks()
    )


def _save(view: MapView, path: Path, phone: bool) -> None:
    from leadsman.output.map_picture import draw_map
    from leadsman.output.picture import save_picture
    from leadsman.output.style import LAPTOP, PHONE

    save_picture(draw_map(view, PHONE if phone else LAPTOP), path)
