"""Numbers and angles in the cells of a table, as people write them."""

from __future__ import annotations

import re

import numpy as np

from leadsman.lake.soundings import FloatArray


def floats(cells: list[str]) -> FloatArray:
    """Cells as numbers.

    Parameters
    ----------
    cells : list of str
        Text of each cell [-].

    Returns
    -------
    ndarray, shape (n,)
        Numbers, NaN where a cell holds none [-].
    """
    try:
        return np.array(cells, dtype=np.float64) if cells else np.zeros(0)
    except (ValueError, OverflowError):
        return np.array([_float(cell) for cell in cells], dtype=np.float64)


def _float(cell: str) -> float:
    try:
        return float(cell)
    except ValueError:
        return float("nan")


_ANGLE = re.compile(
    r"^\s*([NSEWnsew])?\s*([+-]?\d+(?:\.\d+)?)(?:\s*[°d:\s]\s*(\d+(?:\.\d+)?))?"
    r"(?:\s*['′m:\s]\s*(\d+(?:\.\d+)?))?\s*[\"″s°'′]*\s*([NSEWnsew])?\s*$",
    re.ASCII,
)


def parse_angle_deg(cell: str) -> float:
    """Latitude or longitude in degrees, in degrees and minutes, or with seconds.

    Parameters
    ----------
    cell : str
        Text such as ``45.123``, ``45°07.4'N`` or ``W 93 16 12`` [-].

    Returns
    -------
    float
        Angle, NaN where the text is none [deg].
    """
    match = _ANGLE.match(cell)
    if match is None:
        return float("nan")
    before, degrees, minutes, seconds, after = match.groups()
    value = abs(float(degrees)) + float(minutes or 0.0) / 60.0 + float(seconds or 0.0) / 3600.0
    if float(minutes or 0.0) >= 60.0 or float(seconds or 0.0) >= 60.0:
        return float("nan")
    negative = degrees.startswith("-") or (before or after or "").upper() in ("S", "W")
    return -value if negative else value


def angles(cells: list[str]) -> FloatArray:
    """Cells as latitudes or longitudes, in any of the forms of `parse_angle_deg`.

    Parameters
    ----------
    cells : list of str
        Text of each cell [-].

    Returns
    -------
    ndarray, shape (n,)
        Angles, NaN where a cell holds none [deg].
    """
    values = floats(cells)
    for index in np.flatnonzero(np.isnan(values)):
        if any(char.isdigit() for char in cells[index]):
            values[index] = parse_angle_deg(cells[index])
    return values
