"""The greatest depth of a retrieve as a function, the one forward model of all fits."""

from __future__ import annotations

from collections.abc import Callable

from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import Technique

DepthModel = Callable[[LureForces, LineProperties, Technique, DragLaw], float]
"""Greatest free-running depth [m] of a lure on a line, fished in one way."""


def free_max_depth_m(
    lure: LureForces, line: LineProperties, technique: Technique, drag: DragLaw
) -> float:
    """Greatest free-running depth, solved.

    Parameters
    ----------
    lure : LureForces
        Lure [-].
    line : LineProperties
        Line [-].
    technique : Technique
        How the cast is fished [-].
    drag : DragLaw
        Drag of the line [-].

    Returns
    -------
    float
        Depth [m].
    """
    from leadsman.hydro.retrieve import retrieve

    return retrieve(lure, line, technique, drag=drag).max_depth_m
