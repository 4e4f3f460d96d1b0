"""How deep does a line of fixed length tow its end?"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from leadsman.display_units import DisplayUnits, display_units
from leadsman.hydro.drag import NORMAL_FIT_LOG_SD, VIBRATION_RISE_HIGH
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.tow import Tow, tow
from leadsman.usecases.questions import WaterQuestion
from leadsman.usecases.resolve_bottom import resolve_water


@dataclass(frozen=True, slots=True)
class TowQuestion:
    """A steady tow.

    Parameters
    ----------
    line : LineProperties
        The line [-].
    line_out_m : float
        Unstretched line between tip and end [m].
    speed_m_s : float
        Speed through the water [m s-1].
    end_drag_n : float
        Horizontal force on the end, astern [N].
    end_down_n : float
        Vertical force on the end, down [N].
    tip_height_m : float
        Height of the tip above the water [m].
    water : WaterQuestion
        The water [-].
    units : str
        Units of the sentence [-].
    """

    line: LineProperties
    line_out_m: float
    speed_m_s: float
    end_drag_n: float
    end_down_n: float
    tip_height_m: float = 0.0
    water: WaterQuestion = field(default_factory=WaterQuestion)
    units: str = "us"


@dataclass(frozen=True, slots=True)
class TowAnswer:
    """Shape of the line and its depth.

    Parameters
    ----------
    tow : Tow
        Shape and tension [-].
    depth_band_m : tuple of float or None
        Central 90 % band of the depth from the drag of the line alone; None
        where the coefficient was fixed [m].
    headline : str
        The answer in a sentence [-].
    """

    tow: Tow
    depth_band_m: tuple[float, float] | None
    headline: str


def find_tow(question: TowQuestion) -> TowAnswer:
    """Steady shape of a towed line.

    Parameters
    ----------
    question : TowQuestion
        The tow [-].

    Raises
    ------
    TechniqueError
        A number is outside what can be towed.
    """
    water, drag = resolve_water(question.water)

    def solve(factor: float) -> Tow:
        law = replace(drag, normal_factor=factor)
        return tow(
            question.line, question.line_out_m, question.speed_m_s, question.end_drag_n,
            question.end_down_n, question.tip_height_m, water, law,
        )  # fmt: skip

    units = display_units(question.units)
    shape = solve(1.0)
    band = None
    if drag.normal_constant is None:
        thin = 1.0 - 1.645 * NORMAL_FIT_LOG_SD
        thick = 1.0 + 1.645 * NORMAL_FIT_LOG_SD + VIBRATION_RISE_HIGH
        depths = (solve(thick).depth_m, solve(thin).depth_m)
        band = (min(*depths, shape.depth_m), max(*depths, shape.depth_m))
    return TowAnswer(shape, band, _headline(shape, band, units))


def _headline(shape: Tow, band: tuple[float, float] | None, units: DisplayUnits) -> str:
    if shape.at_surface:
        return "The end runs at the surface: the forces on it cannot hold it under water."
    told = f"The end tows at {units.depth.text(shape.depth_m)}"
    if band is not None:
        told += f" ({units.depth.band(*band)})"
    return (
        f"{told}, {units.distance.text(shape.layback_m)} behind the tip, "
        f"with a pull of {units.pull.text(shape.top_pull_n)} on the rod."
    )
