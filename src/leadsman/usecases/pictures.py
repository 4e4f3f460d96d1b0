"""Answers as pictures."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from leadsman.errors import InputError

if TYPE_CHECKING:
    from leadsman.hydro.retrieve_result import Retrieve
    from leadsman.output.side_view_types import PathMark, SideView, ZoneExtent
    from leadsman.usecases.depth import DepthAnswer

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
