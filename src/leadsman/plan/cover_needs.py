"""What the bottom's cover asks of the tackle, and what it looks like to the physics.

Common practice, no source, throughout: heavier line, a stiffer rod and a longer
grip where a lure must be torn out of grass; the lightest safe line at the
greatest depth. The numbers are our own, to be changed by the angler.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from leadsman.errors import PlanError
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.tackle.line import Line
from leadsman.tackle.rod import POWERS, Power, Rod

Ground = Literal["grass", "edge", "flat", "drop"]
GROUNDS: tuple[Ground, ...] = ("grass", "edge", "flat", "drop")

LB_N = 4.4482216152605
"""A pound-force [N], exact."""


@dataclass(frozen=True, slots=True)
class CoverNeeds:
    """The least tackle for one kind of ground.

    Parameters
    ----------
    least_test_n : float
        Least strength of the line [N].
    least_power : Power
        Least power of the rod [-].
    grass_height_m : float
        Height of the grass above the bottom; 0 for none [m].
    grass_density : float
        Share of the ground that it covers [-].
    reason : str
        Why, in a few words [-].
    """

    least_test_n: float
    least_power: Power
    grass_height_m: float
    grass_density: float
    reason: str


NEEDS: dict[Ground, CoverNeeds] = {
    "grass": CoverNeeds(14.0 * LB_N, "medium", 1.2, 0.7, "thick grass holds a lure"),
    "edge": CoverNeeds(10.0 * LB_N, "medium", 0.6, 0.2, "sparse grass holds a lure now and then"),
    "flat": CoverNeeds(8.0 * LB_N, "medium light", 0.0, 0.0, "a clean bottom lets go"),
    "drop": CoverNeeds(8.0 * LB_N, "medium light", 0.0, 0.0, "rock lets go, thin line reaches it"),
}
"""Least tackle by ground; common practice, no source; our own numbers, +-2 lb."""


def suits(ground: Ground, rod: Rod, line: Line, breaking_n: float) -> bool:
    """Whether rod and line are strong enough for a ground.

    Parameters
    ----------
    ground : {"grass", "edge", "flat", "drop"}
        The ground [-].
    rod : Rod
        The rod [-].
    line : Line
        The line; braid counts by its strength like any other [-].
    breaking_n : float
        Breaking strength of the line [N].
    """
    needs = NEEDS[ground]
    strong = breaking_n >= needs.least_test_n * (1.0 - 1e-9)
    return strong and POWERS.index(rod.power) >= POWERS.index(needs.least_power)


def ground_profile(ground: Ground, depth_m: float) -> BottomProfile:
    """A level bottom of one depth with the grass of its kind.

    Parameters
    ----------
    ground : {"grass", "edge", "flat", "drop"}
        The ground [-].
    depth_m : float
        Depth of the bottom [m].

    Raises
    ------
    PlanError
        The depth is not one to fish.
    """
    if not 0.3 <= depth_m <= 60.0:
        raise PlanError(f"a bottom at {depth_m:.3g} m is outside 0.3 to 60 m", "target")
    needs = NEEDS[ground]
    x = np.array([0.0, 200.0])
    grass = None
    if needs.grass_height_m > 0.0:
        top = max(depth_m - needs.grass_height_m, 0.1)
        grass = GrassLayer(x, np.full(2, top), np.full(2, needs.grass_density))
    return BottomProfile(x, np.full(2, depth_m), grass=grass)
