"""Answers as pictures."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from leadsman.errors import InputError

if TYPE_CHECKING:
    from leadsman.hydro.retrieve_result import Retrieve
    from leadsman.output.side_view_types import PathMark, RankedSide, SideView, ZoneExtent
    from leadsman.plan.match_types import Match
    from leadsman.usecases.depth import DepthAnswer
    from leadsman.usecases.depth_table import TableAnswer
    from leadsman.usecases.levers import LeversAnswer
    from leadsman.usecases.match import MatchAnswer

KINDS = (".svg", ".png")


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
    from leadsman.output.side_view_types import DepthCall, FreePath, PathBand, SideView

    path, free, band = answer.path, answer.free, answer.band
    deepest = int(np.argmax(free.depth_m))
    x, depth = path.x_m, path.depth_m
    low, q25, _, q75, high = np.sort(band.depth_m, axis=0)
    return SideView(
        headline=answer.headline,
        x_m=x,
        depth_m=depth,
        load=path.load,
        tip_height_m=answer.technique.tip_m,
        units=answer.units,
        load_limit=answer.question.load_limit,
        bottom=answer.bottom,
        band=PathBand(band.x_m, low, q25, q75, high),
        free=FreePath(free.x_m, free.depth_m) if answer.bottom is not None else None,
        call=DepthCall(
            float(free.x_m[deepest]),
            free.max_depth_m,
            min(band.max_depth_m.low_90, free.max_depth_m),
            max(band.max_depth_m.high_90, free.max_depth_m),
            "free-running" if answer.bottom is not None else "deepest",
        ),
        zones=zone_extents(answer),
        marks=_marks(path),
        target_m=answer.question.target_m,
        note="Estimates, not for navigation.",
    )


def _marks(path: Retrieve) -> tuple[PathMark, ...]:
    from leadsman.output.side_view_types import PathMark

    first = path.first_contact_index
    if first is None:
        return ()
    return (PathMark(float(path.x_m[first]), float(path.depth_m[first]), "first contact"),)


def zone_extents(answer: DepthAnswer) -> tuple[ZoneExtent, ...]:
    """Stretches of the retrieve in the zone.

    Parameters
    ----------
    answer : DepthAnswer
        The answer [-].
    """
    from leadsman.output.side_view_types import ZoneExtent

    path = answer.path
    if answer.question.target_m is not None:
        top, bottom = answer.question.target_m
        inside = (path.depth_m >= top) & (path.depth_m <= bottom)
    elif answer.contact is not None:
        inside = (path.load > 0.0) & (path.load <= answer.question.load_limit)
    else:
        return ()
    edges = np.flatnonzero(np.diff(np.concatenate(([False], inside, [False])).astype(np.int8)))
    return tuple(
        ZoneExtent(float(path.x_m[stop - 1]), float(path.x_m[start]))
        for start, stop in zip(edges[::2], edges[1::2], strict=True)
        if stop - start > 1
    )


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
    figure = draw_match_view(answer.result.headline, ranked, note="Estimates, not for navigation.")
    save_picture(figure, path)


def _ranked_side(answer: MatchAnswer, item: Match) -> RankedSide:
    from leadsman.output.side_view_types import RankedSide, SideView

    units, request = answer.units, answer.result.request
    path = answer.path_of(item)
    setup = f"{item.lure} on {item.line}, {units.distance.text(item.cast_m)}: {item.how}"
    return RankedSide(
        setup,
        item.zone_m,
        item.reason,
        SideView(
            headline="",
            x_m=path.x_m,
            depth_m=path.depth_m,
            load=path.load,
            tip_height_m=item.tip_m,
            units=units,
            load_limit=request.limit_load,
            bottom=answer.ground.bottom,
            target_m=answer.question.target_m,
        ),
    )


def draw_levers(answer: LeversAnswer, path: Path) -> None:
    """Write the levers as signed bars.

    Parameters
    ----------
    answer : LeversAnswer
        The answer [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].
    """
    from leadsman.output.levers_picture import Change, Lever, LeversView
    from leadsman.output.levers_picture import draw_levers as draw
    from leadsman.output.picture import save_picture

    check_picture_path(path)
    shown: list[Lever] = []
    for lever in answer.table.levers:
        if not lever.matters:
            continue
        zone = lever.zone_change_m
        shown.append(
            Lever(
                _lever_words(lever.control, lever.step),
                Change(lever.depth_change_m),
                Change(zone) if zone is not None else None,
            )
        )
        shown += [
            Lever(
                f"of which {part.name}",
                Change(part.depth_change_m),
                Change(part.zone_change_m) if part.zone_change_m is not None else None,
                part=True,
            )
            for part in lever.parts
        ]
    view = LeversView(answer.headline, tuple(shown), answer.units, note="One step of each control.")
    save_picture(draw(view), path)


def _lever_words(control: str, step: str) -> str:
    """Which control and which step, as a label that stands alone."""
    return step if control == "material" else f"{control}: {step}"


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
    figures = draw_depth_table(
        answer.table, answer.headline, answer.units, note="Estimates, not for navigation."
    )
    files = [
        path if len(figures) == 1 else path.with_stem(f"{path.stem}-{number}")
        for number in range(1, len(figures) + 1)
    ]
    for figure, file in zip(figures, files, strict=True):
        save_picture(figure, file)
    return files
