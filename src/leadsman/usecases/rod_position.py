"""Where the tip of the rod is, from words a person would use."""

from __future__ import annotations

import math
from typing import Final

from leadsman.errors import TechniqueError
from leadsman.tackle.angler import Angler

KNEELING_DROP_M: Final = 0.6
"""How much lower the hands are when kneeling; common practice, no source, +-0.2 m [m]."""

BUTT_TO_HAND_M: Final = 0.3
"""Where the hand holds the rod; common practice, no source, +-0.1 m [m]."""

# Rod angle above the horizontal in each position [deg]; common practice, no source. The
# spread of the tip height in the bands (calibrate/input_spread.py) holds how people differ.
_ANGLE_DEG: Final[dict[str, float]] = {
    "under": -55.0,
    "low": -40.0,
    "usual": -27.0,
    "high": 50.0,
}
DEFAULT_ROD_LENGTH_M: Final = 2.3
"""A rod of 7 ft 6 in, where the kit does not say [m]."""

DEFAULT_GRIP_HEIGHT_M: Final = Angler().grip_height_m
"""Hands above the water, where the kit does not say [m]."""


def tip_height_m(
    position: str,
    rod_length_m: float = DEFAULT_ROD_LENGTH_M,
    grip_height_m: float = DEFAULT_GRIP_HEIGHT_M,
) -> float:
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
    grip_height_m : float
        Height of the hands above the water, standing [m].

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
    angle = math.radians(_ANGLE_DEG[position])
    hands = grip_height_m - (KNEELING_DROP_M if position == "under" else 0.0)
    return hands + (rod_length_m - BUTT_TO_HAND_M) * math.sin(angle)
