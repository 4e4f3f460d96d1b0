"""What the size of a lure says about its two numbers, before anything is measured.

Own estimate throughout; see docs/first-fit.md. A lure runs nose down with its
lip across the flow: the lip is a plate, the body a blunt stream-lined shape,
the hooks are wire. Drag coefficients are textbook orders of magnitude
(Hoerner, Fluid-Dynamic Drag, from memory); the wobble that raises them is an
assumption. The spread is set so that what is left out lies inside it.
"""

from __future__ import annotations

import math

from leadsman.dimensions import STANDARD_GRAVITY_M_S2
from leadsman.tackle.lure import Lure
from leadsman.tackle.lure_flight import USUAL_WIDTH_RATIO

BODY_PITCH_RAD = math.radians(30.0)
"""Nose-down pitch of the body to its path [rad]; our estimate, 15 to 45 deg."""
PLATE_COEFFICIENT = 1.15
"""Drag of a small plate across the flow [-]; Hoerner, from memory, 1.05 to 1.2."""
BODY_COEFFICIENT = 0.6
"""Drag of a pitched body on its projected area [-]; our estimate, 0.4 to 0.9."""
HOOK_DRAG_AREA_M2 = 0.7e-4
"""Drag area of one treble [m2]: about 60 mm of 1 mm wire at a coefficient of 1.1; our estimate."""
WOBBLE_FACTOR = 1.3
"""What wobbling raises the drag by [-]; our estimate, 1.0 to 1.8, no source."""
LOG_PULL_AREA_SD = 0.40
"""Spread of ln S_D from size alone [-]; our estimate: a factor of 1.5 either way."""
LIP_FILL = {"rounded": 0.82, "square": 0.95, None: 0.88}
"""Area of a lip over length times width [-]; ellipse pi/4 to rectangle 1."""

ANGLE_AT_NO_LIP_RAD = math.radians(-2.0)
ANGLE_PER_LIP_RATIO_RAD = math.radians(55.0)
"""Dive angle against lip length over body length, a straight line [rad].

Own estimate: set so that lures of usual proportions (0.2 for square-lipped
shallow ones, 0.6 for the biggest divers) reach the depths that the trade tells
of them; common practice, no source.
"""
ANGLE_LEAST_RAD = math.radians(2.0)
ANGLE_MOST_RAD = math.radians(42.0)
"""Ends of that line [rad]; our estimate."""
UNRATED_ANGLE_SD_RAD = math.radians(6.0)
"""Spread of the dive angle from size alone [rad]; our estimate, no source."""

FLOAT_BUOYANCY_SHARE = 0.18
"""Net buoyancy of a floating lure over its weight [-]; our estimate, 0.08 to 0.3."""
SINK_BUOYANCY_SHARE = -0.12
"""Net buoyancy of a sinking lure over its weight [-]; our estimate, -0.25 to -0.03."""
BUOYANCY_SHARE_SD = {"floats": 0.07, "suspends": 0.02, "sinks": 0.07}
"""Spread of net buoyancy over weight [-]; our estimate."""
ADDED_MASS_SHARE = 0.5
"""Added mass over displaced mass [-]: 0.5 is a sphere's (potential flow); depth hardly feels it."""


def pull_area_from_size_m2(lure: Lure) -> float:
    """Pull area S_D that the size of a lure suggests.

    ``1.3 (1.15 A_lip + 0.6 A_body + n 0.7 cm2)``, with the body's projection
    ``pi/4 w^2 cos(pitch) + pi/4 L w sin(pitch)``; own estimate.

    Parameters
    ----------
    lure : Lure
        Lure [-].

    Returns
    -------
    float
        S_D [m2].
    """
    width = lure.body_width_m or USUAL_WIDTH_RATIO * lure.body_length_m
    lip = LIP_FILL[lure.lip_shape] * lure.lip_length_m * lure.lip_width_m
    front = math.pi / 4.0 * width**2 * math.cos(BODY_PITCH_RAD)
    top = math.pi / 4.0 * lure.body_length_m * width * math.sin(BODY_PITCH_RAD)
    drag = (
        PLATE_COEFFICIENT * lip
        + BODY_COEFFICIENT * (front + top)
        + lure.open_hooks * HOOK_DRAG_AREA_M2
    )
    return WOBBLE_FACTOR * drag


def dive_angle_from_size_rad(lure: Lure) -> float:
    """Dive angle that the lip suggests for a lure with no rated depth; own estimate.

    Parameters
    ----------
    lure : Lure
        Lure [-].

    Returns
    -------
    float
        delta, within `ANGLE_LEAST_RAD` to `ANGLE_MOST_RAD` [rad].
    """
    ratio = lure.lip_length_m / lure.body_length_m
    angle = ANGLE_AT_NO_LIP_RAD + ANGLE_PER_LIP_RATIO_RAD * ratio
    return min(max(angle, ANGLE_LEAST_RAD), ANGLE_MOST_RAD)


def buoyancy_from_balance_n(lure: Lure) -> float:
    """Net buoyancy, given or from what the lure does when it is stopped; own estimate.

    Parameters
    ----------
    lure : Lure
        Lure [-].

    Returns
    -------
    float
        Displaced water minus weight [N].
    """
    if lure.buoyancy_n is not None:
        return lure.buoyancy_n
    share = {"floats": FLOAT_BUOYANCY_SHARE, "suspends": 0.0, "sinks": SINK_BUOYANCY_SHARE}
    return share[lure.balance] * lure.mass_kg * STANDARD_GRAVITY_M_S2


def buoyancy_sd_n(lure: Lure) -> float:
    """Spread of the net buoyancy [N]."""
    weight = lure.mass_kg * STANDARD_GRAVITY_M_S2
    share = 0.01 if lure.buoyancy_n is not None else BUOYANCY_SHARE_SD[lure.balance]
    return share * weight


def added_mass_kg(lure: Lure) -> float:
    """Water that moves with the lure [kg]."""
    displaced = lure.mass_kg + buoyancy_from_balance_n(lure) / STANDARD_GRAVITY_M_S2
    return ADDED_MASS_SHARE * displaced
