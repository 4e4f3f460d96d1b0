"""How figures of a lake are written for people."""

from __future__ import annotations

from leadsman.dimensions import FOOT_M
from leadsman.display_units import DisplayUnits

ACRE_M2 = 43_560.0 * FOOT_M**2
"""Acre, 43,560 square feet [m2], exact for the international foot (NIST SP 811, from memory)."""
MILE_M = 5_280.0 * FOOT_M
"""International mile [m], exact."""


def is_us(units: DisplayUnits) -> bool:
    """Whether areas are in acres and long ways in miles.

    Parameters
    ----------
    units : DisplayUnits
        Units the reader thinks in [-].
    """
    return units.name == "us"


def area_text(area_m2: float, units: DisplayUnits) -> str:
    """Area of a lake, ``"340 acres"`` [-].

    Parameters
    ----------
    area_m2 : float
        Area [m2].
    units : DisplayUnits
        Units the reader thinks in [-].
    """
    value, word = (area_m2 / ACRE_M2, "acres") if is_us(units) else (area_m2 / 1e4, "ha")
    return f"{value:,.0f} {word}" if value >= 20.0 else f"{value:.1f} {word}"


def way_text(length_m: float, units: DisplayUnits) -> str:
    """Length of an edge or a track, ``"4.1 mi"`` or ``"320 yd"`` [-].

    Parameters
    ----------
    length_m : float
        Length [m].
    units : DisplayUnits
        Units the reader thinks in [-].
    """
    if length_m < 1000.0:
        return units.distance.text(length_m)
    return f"{length_m / MILE_M:.1f} mi" if is_us(units) else f"{length_m / 1000.0:.1f} km"


def place_text(lat_deg: float, lon_deg: float) -> str:
    """A place, latitude first, to about a metre [-].

    Parameters
    ----------
    lat_deg, lon_deg : float
        The place [deg].
    """
    return f"{lat_deg:.5f}, {lon_deg:.5f}"
