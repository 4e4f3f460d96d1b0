"""A lure as the air feels it."""

from __future__ import annotations

from leadsman.hydro.cast_flight_path import flight_drag_area_m2
from leadsman.tackle.lure import Lure

USUAL_WIDTH_RATIO = 0.31
"""Width of a body over its length where it is not given [-]; our estimate, 0.25 to 0.38."""


def lure_flight_drag_area_m2(lure: Lure) -> float:
    """Drag area of a lure in the air, in no settled attitude.

    Parameters
    ----------
    lure : Lure
        Lure [-].

    Returns
    -------
    float
        Drag coefficient times area, see `flight_drag_area_m2` [m2].
    """
    width = lure.body_width_m or USUAL_WIDTH_RATIO * lure.body_length_m
    lip = lure.lip_length_m * lure.lip_width_m
    return flight_drag_area_m2(lure.body_length_m, width, width, lip)
