"""A diving lure reduced to what the water and the line feel of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leadsman.errors import QuantityError


@dataclass(frozen=True, slots=True)
class LureForces:
    """Forces of a lure at its one trim.

    With velocity v through the water the lure feels drag ``1/2 rho S_D v^2``
    against v and the dive force ``1/2 rho S_D tan(delta) v^2`` at right angles
    to it, downward, plus its net buoyancy.

    Parameters
    ----------
    dive_angle_rad : float
        delta, the angle between a straight line and the path of the lure at
        high speed [rad].
    pull_area_m2 : float
        S_D, drag area of the lure (drag coefficient times area) [m2].
    mass_kg : float
        Mass of the lure in air [kg].
    buoyancy_n : float
        Net buoyancy, displaced water minus weight, positive floats [N].
    added_mass_kg : float
        Water that moves with the lure [kg].
    trim_speed_loss_rad_m2_s2 : float
        c in delta(v) = delta - c / v^2, the couple of weight and buoyancy
        that does not grow with speed [rad m2 s-2].

    Raises
    ------
    QuantityError
        A value lies outside what is physical.
    """

    dive_angle_rad: float
    pull_area_m2: float
    mass_kg: float = 0.015
    buoyancy_n: float = 0.0
    added_mass_kg: float = 0.0
    trim_speed_loss_rad_m2_s2: float = 0.0

    def __post_init__(self) -> None:
        if not 0.0 <= self.dive_angle_rad < math.radians(85.0):
            raise QuantityError(
                f"dive angle {math.degrees(self.dive_angle_rad):.1f} deg is outside 0 to 85 deg",
                "dive angle",
            )
        if not 1e-6 <= self.pull_area_m2 <= 0.1:
            raise QuantityError(
                f"pull area {self.pull_area_m2 * 1e4:.3g} cm2 is outside 0.01 to 1000 cm2",
                "pull area",
            )
        if not 0.0 < self.mass_kg <= 2.0:
            raise QuantityError(
                f"lure mass {self.mass_kg * 1e3:.3g} g is outside 0 to 2000 g", "lure mass"
            )
        if not -5.0 <= self.buoyancy_n <= 5.0:
            raise QuantityError(
                f"net buoyancy {self.buoyancy_n:.3g} N is outside -5 to 5 N", "buoyancy"
            )
        if not 0.0 <= self.added_mass_kg <= 2.0:
            raise QuantityError("added mass is outside 0 to 2000 g", "added mass")
        if not 0.0 <= self.trim_speed_loss_rad_m2_s2 <= 1.0:
            raise QuantityError("trim speed loss is outside 0 to 1 rad m2/s2", "trim speed loss")
