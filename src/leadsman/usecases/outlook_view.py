"""The outlook as a picture."""

from __future__ import annotations

from pathlib import Path

from leadsman.usecases.outlook import OutlookAnswer
from leadsman.usecases.pictures import check_picture_path


def draw_outlook(answer: OutlookAnswer, path: Path) -> None:
    """Write the picture of an outlook.

    Parameters
    ----------
    answer : OutlookAnswer
        The answer [-].
    path : pathlib.Path
        File that ends with .svg or .png [-].

    Raises
    ------
    InputError
        The file cannot be written.
    """
    from leadsman.output.outlook_picture import draw_outlook as draw
    from leadsman.output.picture import save_picture

    check_picture_path(path)
    save_picture(draw(answer.outlook, answer.headline), path)
