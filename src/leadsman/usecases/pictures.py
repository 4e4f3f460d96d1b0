"""Answers as pictures."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from leadsman.errors import InputError

if TYPE_CHECKING:
    from leadsman.calibrate.running_band import RunningBand
    from leadsman.output.side_view_types import PathBand, RankedSide, SideView
    from leadsman.plan.match_types import Match
    from leadsman.usecases.depth import DepthAnswer
    from leadsman.usecases.depth_table import TableAnswer
    from leadsman.usecases.levers import LeversAnswer
    from leadsman.usecases.match import MatchAnswer

KINDS = (".svg", ".png")
NOTE = "Estimates, not for navigation."


def check_picture_path(path: Path) -> None:
    """Refuse a picture that could not be written, before anything is computed.

    Parameters
    ----------
    path : pathlib.Path
        Where the picture goes [-].

    Raises
    ------
    InputError
        The ending is unknown or the folder is not there.
    """
    if path.suffix.lower() not in KINDS:
        raise InputError(
            f"a picture ends with {' or '.join(KINDS)}", path, "Change the end of the file name"
        )
    if not path.parent.is_dir():
        raise InputError("the folder is not there", path.parent, "Make it first")
    if path.is_dir():
        raise InputError("is a folder", path, "Give a file name")


def draw_depth(answer: DepthAnswer, path: Path) -> None:
    """Write the side view of a depth.

    Parameters
    ----------
    answer : DepthAnswer
        The answer [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    """
    from leadsman.output.picture import save_picture
    from leadsman.output.side_view import draw_side_view

    check_picture_path(path)
    save_picture(draw_side_view(side_view(answer)), path)


def side_view(answer: DepthAnswer) -> SideView:
    """The side view of a depth, as plain arrays.

    Parameters
    ----------
    answer : DepthAnswer
        The answer [-].
    """
    from leadsman.output.side_view_of import side_view_of

    band, free = answer.band, answer.free
    deepest = band.max_depth_m
    return side_view_of(
        answer.path,
        answer.technique.tip_m,
        answer.headline,
        units=answer.units,
        bottom=answer.bottom,
        free=free if answer.bottom is not None else None,
        band=_path_band(band),
        max_depth_band_m=(
            min(deepest.low_90, free.max_depth_m),
            max(deepest.high_90, free.max_depth_m),
        ),
        load_limit=answer.question.load_limit,
        zone_m=answer.zone_m if answer.zone_kind != "near greatest depth" else None,
        target_m=answer.question.target_m,
        note=NOTE,
    )


def _path_band(band: RunningBand) -> PathBand:
    from leadsman.output.side_view_types import PathBand

    low, q25, _, q75, high = np.sort(band.depth_m, axis=0)
    return PathBand(band.x_m, low, q25, q75, high)


def draw_match(answer: MatchAnswer, path: Path, places: int = 3) -> None:
    """Write the best setups of a ranking, each from the side.

    Parameters
    ----------
    answer : MatchAnswer
        The ranking [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    places : int
        How many setups to draw [-].

    Raises
    ------
    InputError
        Nothing was ranked, so there is nothing to draw.
    """
    from leadsman.output.picture import save_picture
    from leadsman.output.side_view import draw_match_view

    check_picture_path(path)
    if not answer.result.ranked:
        raise InputError(
            f"there is nothing to draw: {answer.result.headline.rstrip('.')}",
            "--picture",
            "Allow longer casts or other rod positions, or leave --picture away",
        )
    ranked = [_ranked_side(answer, item) for item in answer.result.ranked[:places]]
    figure = draw_match_view(answer.result.headline, ranked, note=NOTE)
    save_picture(figure, path)


def _ranked_side(answer: MatchAnswer, item: Match) -> RankedSide:
    from leadsman.output.side_view_of import side_view_of
    from leadsman.output.side_view_types import RankedSide

    units, knots = answer.units, item.schedule.knots
    setup = f"{item.lure} on {item.line}, {units.distance.text(item.cast_m)}: {item.how}"
    side = side_view_of(
        answer.path_of(item),
        item.tip_m,
        "",
        units=units,
        bottom=answer.ground.bottom,
        band=_path_band(answer.band_of(item)),
        load_limit=answer.result.request.limit_load,
        zone_m=item.nominal_zone_m,
        target_m=answer.question.target_m,
        tip_end_height_m=knots[-1].tip_m if knots else None,
        grass_counts=True,
    )
    return RankedSide(setup, item.nominal_zone_m, item.reason, side)


def draw_levers(answer: LeversAnswer, path: Path) -> None:
    """Write the levers as signed bars.

    Parameters
    ----------
    answer : LeversAnswer
        The answer [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    """
    from leadsman.output.levers_picture import draw_levers as draw
    from leadsman.output.levers_view_of import levers_view_of
    from leadsman.output.picture import save_picture

    check_picture_path(path)
    view = levers_view_of(answer.table, answer.headline, units=answer.units, note=NOTE)
    save_picture(draw(view), path)


def write_table(answer: TableAnswer, path: Path) -> Path:
    """Write a depth table as CSV.

    Parameters
    ----------
    answer : TableAnswer
        The table [-].
    path : pathlib.Path
        File to write [-].
    """
    from leadsman.output.depth_table import write_depth_table_csv

    return write_depth_table_csv(answer.table, path, answer.units)


def draw_table(answer: TableAnswer, path: Path) -> list[Path]:
    """Write a depth table as pictures, numbered where it takes several.

    Parameters
    ----------
    answer : TableAnswer
        The table [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    """
    from leadsman.output.depth_table_picture import draw_depth_table
    from leadsman.output.picture import save_picture

    check_picture_path(path)
    figures = draw_depth_table(answer.table, answer.headline, answer.units, note=NOTE)
    files = [
        path if len(figures) == 1 else path.with_stem(f"{path.stem}-{number}")
        for number in range(1, len(figures) + 1)
    ]
    for figure, file in zip(figures, files, strict=True):
        save_picture(figure, file)
    return files
