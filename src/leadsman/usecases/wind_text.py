"""The wind as a person says it: "8 mph from ahead", "12 mph from NW"."""

from __future__ import annotations

import math
import re

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight import Wind
from leadsman.units import parse_speed_m_s

# Clockwise from dead ahead, where the wind comes from [deg].
_SIDES = {
    "ahead": 0.0,
    "front": 0.0,
    "ahead right": 45.0,
    "right": 90.0,
    "behind right": 135.0,
    "behind": 180.0,
    "back": 180.0,
    "behind left": 225.0,
    "left": 270.0,
    "ahead left": 315.0,
}
_POINTS = (
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
    "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW",
)  # fmt: skip

_REMEDY = "Write it like '8 mph from ahead', 'from the left' or, with a heading, 'from NW'"


def parse_wind(text: str, heading_deg: float | None = None) -> Wind:
    """Read the wind.

    Parameters
    ----------
    text : str
        Speed and where it comes from [-].
    heading_deg : float or None
        True heading of the cast, for winds told by compass [deg].

    Raises
    ------
    TechniqueError
        It cannot be read, or a compass wind comes without a heading.
    """
    match = re.fullmatch(r"(.+?)\s+from\s+(?:the\s+)?(.+)", text.strip(), re.IGNORECASE)
    if match is None:
        raise TechniqueError(f"cannot read the wind {text[:60]!r}", "--wind", _REMEDY)
    speed_m_s = parse_speed_m_s(match.group(1), "--wind")
    words = re.sub(r"[\s-]+", " ", match.group(2).strip().lower())
    if words in _SIDES:
        return Wind.coming_from(speed_m_s, math.radians(_SIDES[words]))
    bearing = _bearing_deg(words)
    if bearing is None:
        raise TechniqueError(f"unknown wind direction {words!r}", "--wind", _REMEDY)
    if heading_deg is None:
        raise TechniqueError(
            "a wind by compass needs the heading of the cast",
            "--wind",
            "Add --heading, or say 'from ahead', 'from behind', 'from the left'",
        )
    return Wind.coming_from(speed_m_s, math.radians(bearing - heading_deg))


def _bearing_deg(words: str) -> float | None:
    if words.upper() in _POINTS:
        return _POINTS.index(words.upper()) * 22.5
    number = re.fullmatch(r"(\d{1,3}(?:\.\d+)?)(?: ?(?:deg|degrees|°))?", words)
    if number and float(number.group(1)) <= 360.0:
        return float(number.group(1))
    return None
