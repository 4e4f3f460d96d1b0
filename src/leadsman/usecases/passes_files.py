"""Write passes down: pictures, GPX and GeoJSON."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

from leadsman.usecases.pictures import check_picture_path

if TYPE_CHECKING:
    from leadsman.usecases.passes import PassesAnswer


def picture_paths(path: Path, count: int) -> tuple[Path, ...]:
    """Names of the pictures: the one given, with -2, -3 and so on for further stretches.

    Parameters
    ----------
    path : pathlib.Path
        Name of the first [-].
    count : int
        How many [-].
    """
    more = (path.with_name(f"{path.stem}-{n}{path.suffix}") for n in range(2, count + 1))
    return (path, *more)


def draw_passes(answer: PassesAnswer, path: Path) -> tuple[Path, ...]:
    """Write a picture of each pass.

    Parameters
    ----------
    answer : PassesAnswer
        The passes [-].
    path : pathlib.Path
        File that ends with .svg or .png; further stretches get -2, -3 and so on [-].

    Raises
    ------
    InputError
        It cannot be written there.
    """
    from leadsman.output.passes_picture import draw_pass
    from leadsman.output.picture import save_picture

    check_picture_path(path)
    question = answer.question
    paths = picture_paths(path, len(answer.plans))
    for plan, target in zip(answer.plans, paths, strict=True):
        figure = draw_pass(
            plan,
            answer.model,
            edge_se_m=question.edge_se_m,
            level_m=question.level_m,
            wind_from_rad=math.radians(question.wind_from_deg) if question.wind_m_s > 0.0 else None,
            units=answer.units,
        )
        save_picture(figure, target)
    return paths


def write_passes_gpx(answer: PassesAnswer, path: Path) -> None:
    """Write boat positions with notes, routes and edges.

    Parameters
    ----------
    answer : PassesAnswer
        The passes [-].
    path : pathlib.Path
        The file [-].

    Raises
    ------
    InputError
        It cannot be written there.
    """
    from leadsman.output.gpx import write_gpx
    from leadsman.output.passes_files import pass_tracks, pass_waypoints

    points, tracks = [], []
    for number, plan in enumerate(answer.plans, start=1):
        tag = f"{number}-"
        points += pass_waypoints(plan, answer.units, tag)
        tracks += pass_tracks(plan, answer.model, tag)
    write_gpx(path, points, tracks, f"Passes, {answer.model.name}")


def write_passes_geojson(answer: PassesAnswer, path: Path) -> None:
    """Write stretches, boat positions, casts and zones.

    Parameters
    ----------
    answer : PassesAnswer
        The passes [-].
    path : pathlib.Path
        The file [-].

    Raises
    ------
    InputError
        It cannot be written there.
    """
    from leadsman.output.geojson import write_geojson
    from leadsman.output.passes_files import pass_features

    write_geojson(path, pass_features(answer.plans, answer.model))
