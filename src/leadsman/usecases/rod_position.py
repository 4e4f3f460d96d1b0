"""Where the tip of the rod is, from words a person would use."""

from __future__ import annotations

import math
from typing import Final, Literal

from leadsman.errors import TechniqueError

RodPosition = Literal["under", "low", "usual", "high"]

# Stance on the deck of a small boat: deck 0.4 m above the water, hands 0.9 m above the
# deck standing and 0.3 m kneeling; the grip is held 0.3 m up the rod from its butt. Common
# practice, no source; people differ by about 0.2 m, which the band of the tip height holds.
STANDING_HANDS_M: Final = 1.3
KNEELING_HANDS_M: Final = 0.7
BUTT_TO_HAND_M: Final = 0.3

# Rod angle above the horizontal in each position [deg]; common practice, no source.
_ANGLE_DEG: Final[dict[RodPosition, float]] = {
    "under": -50.0,
    "low": -30.0,
    "usual": -17.0,
    "high": 55.0,
}
DEFAULT_ROD_LENGTH_M: Final = 2.3
"""A rod of 7 ft 6 in, where the kit does not say [m]."""


def tip_height_m(position: str, rod_length_m: float = DEFAULT_ROD_LENGTH_M) -> float:
    """Height of the rod tip above the water in a named position [m].

    *under* is kneeling with the rod pointed down into the water, *low* and
    *usual* are standing with the rod pointed down at the lure, *high* is
    standing with the rod raised.

    Parameters
    ----------
    position : str
        One of ``under``, ``low``, ``usual``, ``high`` [-].
    rod_length_m : float
        Length of the rod [m].

    Raises
    ------
    TechniqueError
        The position has another name.

    Notes
    -----
    Own derivation: hands plus length beyond the hand times the sine of the angle.
    """
    if position not in _ANGLE_DEG:
        raise TechniqueError(
            f"unknown rod position {position!r}",
            "tip height",
            f"Use one of {', '.join(_ANGLE_DEG)}, or a height such as '2 ft' or '-3 ft'",
        )
    angle = math.radians(_ANGLE_DEG[position])  # type: ignore[index]  # checked above
    hands = KNEELING_HANDS_M if position == "under" else STANDING_HANDS_M
    return hands + (rod_length_m - BUTT_TO_HAND_M) * math.sin(angle)
