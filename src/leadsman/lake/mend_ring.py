"""Mending rings that cross themselves, unless they do so without end.

Mending takes time and memory by the number of crossings, which can be the
square of the number of corners. A drawn contour crosses itself a few times; a
ring that does so thousands of times is damage or malice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from leadsman.errors import LakeDataError

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

FREE_MEETINGS = 1500
"""Meetings of boxes around pieces of a ring that are always allowed [-]."""
MEETINGS_EACH = 12.0
"""... and this many for each piece: neighbours meet, and so do the banks of a creek [-]."""
SAMPLE = 200
"""Pieces looked at in a long ring [-]."""


def mended(shape: BaseGeometry, source: str) -> BaseGeometry:
    """A valid shape from one that crosses itself.

    Parameters
    ----------
    shape : shapely geometry
        Polygon or multipolygon, valid or not [-].
    source : str
        File name for messages [-].

    Returns
    -------
    shapely geometry
        The shape itself where it is valid.

    Raises
    ------
    LakeDataError
        It crosses itself too often to be a contour.
    """
    import shapely

    if shape.is_valid:
        return shape
    pieces, meetings = _meetings(shape)
    if meetings > FREE_MEETINGS + MEETINGS_EACH * pieces:
        raise LakeDataError(
            f"a ring of {pieces:,} corners crosses itself thousands of times", source,
            "Draw it again or leave it out",
        )  # fmt: skip
    return shapely.make_valid(shape)


def _meetings(shape: BaseGeometry) -> tuple[int, float]:
    """Pieces of a shape's rings, and how many pairs of them may meet, by their boxes."""
    import shapely

    xy, ring = shapely.get_coordinates(
        shapely.get_rings(shapely.get_parts(shape)), return_index=True
    )
    same = ring[1:] == ring[:-1]
    pieces = shapely.linestrings(np.stack([xy[:-1], xy[1:]], axis=1)[same])
    if pieces.size < 2:
        return int(pieces.size), 0.0
    looked = pieces
    if pieces.size > SAMPLE:
        looked = pieces[np.linspace(0, pieces.size - 1, SAMPLE).astype(np.int64)]
    found = shapely.STRtree(pieces).query(looked)
    each = found.shape[1] / looked.size - 1.0
    return int(pieces.size), 0.5 * each * pieces.size
