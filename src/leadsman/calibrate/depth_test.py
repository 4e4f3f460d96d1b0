"""Under what test a rated depth was found: what is told, and what is assumed with its spread."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leadsman.dimensions import POUND_FORCE_N
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.technique import Technique
from leadsman.tackle.line import Line, line_properties, line_spread
from leadsman.tackle.lure import DepthTest

ASSUMED_TEST_N = 11.0 * POUND_FORCE_N
"""Pound test of a rating that tells none, 10 to 12 lb; common practice, no source [N]."""
ASSUMED_CAST_M = 55.0
"""Cast of a rating that tells none, for a heavy diver: 60 yd; our assumption [m]."""
FULL_CAST_MASS_KG = 0.020
"""Lightest lure that flies the assumed cast; lighter ones fly less far; our assumption [kg]."""
CAST_MASS_POWER = 1.0 / 3.0
"""Length of the cast goes with this power of mass below that; our assumption [-]."""
ASSUMED_TIP_M = 0.5
"""Height of the rod tip of a rating that tells none: held low; our assumption [m]."""
ASSUMED_SPEED_M_S = 1.3
"""Line taken in per second; hardly matters to depth; common practice, no source [m s-1]."""

LINE_LOG_SD = 0.12
"""Spread of ln diameter where neither line nor test is told [-]; our assumption."""
CAST_LOG_SD = 0.18
"""Spread of ln cast where it is not told [-]; our assumption."""
TOLD_CAST_LOG_SD = 0.05
"""Spread of ln cast where it is told [-]; our assumption."""
TIP_SD_M = 0.4
"""Spread of the tip height where it is not told [m]; our assumption."""
RATING_LOG_SD = 0.10
"""Spread of ln depth of the promise itself, beyond the test [-]; our assumption, no source."""


@dataclass(frozen=True, slots=True)
class AssumedTest:
    """A test with every gap filled, and how uncertain each part is.

    Parameters
    ----------
    line : LineProperties
        Line [-].
    technique : Technique
        Cast, rod position and speed [-].
    diameter_log_sd : float
        Spread of ln diameter [-].
    cast_log_sd : float
        Spread of ln cast [-].
    tip_sd_m : float
        Spread of the tip height [m].
    told : tuple of str
        What the package told: ``"line"``, ``"cast"``, ``"tip"`` [-].
    """

    line: LineProperties
    technique: Technique
    diameter_log_sd: float
    cast_log_sd: float
    tip_sd_m: float
    told: tuple[str, ...]


def assumed_cast_m(mass_kg: float) -> float:
    """Cast that a rating is assumed to be for.

    Parameters
    ----------
    mass_kg : float
        Mass of the lure [kg].

    Returns
    -------
    float
        Length [m].
    """
    shorter = math.pow(mass_kg / FULL_CAST_MASS_KG, CAST_MASS_POWER)
    return ASSUMED_CAST_M * min(1.0, shorter)


def fill_test(test: DepthTest, mass_kg: float) -> AssumedTest:
    """Fill the gaps of a stated test.

    Parameters
    ----------
    test : DepthTest
        What the package tells [-].
    mass_kg : float
        Mass of the lure [kg].
    """
    told: list[str] = []
    line_told = test.line_test_n is not None or test.line_diameter_m is not None
    # between the materials nylon is the commonest to rate on and fluorocarbon the other one
    line = Line(
        name="of the test",
        material=test.line_material or "nylon",
        test_n=test.line_test_n if line_told else ASSUMED_TEST_N,
        diameter_m=test.line_diameter_m,
    )
    log_sd = line_spread(line).diameter_log_sd
    if not line_told:
        log_sd = LINE_LOG_SD
    else:
        told.append("line")
        if test.line_material is None and test.line_diameter_m is None:
            log_sd = math.hypot(log_sd, 0.05)  # nylon or fluorocarbon: half their difference
    if test.cast_m is not None:
        told.append("cast")
    if test.tip_m is not None:
        told.append("tip")
    technique = Technique.steady(
        test.cast_m or assumed_cast_m(mass_kg),
        ASSUMED_TIP_M if test.tip_m is None else test.tip_m,
        ASSUMED_SPEED_M_S,
    )
    return AssumedTest(
        line=line_properties(line),
        technique=technique,
        diameter_log_sd=log_sd,
        cast_log_sd=CAST_LOG_SD if test.cast_m is None else TOLD_CAST_LOG_SD,
        tip_sd_m=TIP_SD_M if test.tip_m is None else 0.15,
        told=tuple(told),
    )
