"""Flight of one lure: wind profile, quadratic drag, drag area in the air.

The equations and what is assumed are in docs/cast-flight.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight_kernel import fly_kernel

GRAVITY_M_S2 = 9.80665  # [m s-2] standard acceleration of free fall, ISO 80000-3

# [m] Davenport class 1, open water with 5 km of fetch, as tabulated in the user guide of the
# wind-stats library; a sheltered bay is rougher (0.005 and more), which weakens the wind low down
WATER_ROUGHNESS_M = 2e-4
FORECAST_HEIGHT_M = 10.0  # [m] height of a forecast's wind (WMO Guide No. 8, from memory)

# [-] drag coefficient in flight on the mean projected area; assumption between a lure that flies
# tail first (0.2) and one that tumbles (0.7), so a spread of a factor 1.5 either way
FLIGHT_DRAG_COEFFICIENT = 0.35


@dataclass(frozen=True, slots=True)
class Wind:
    """Wind over the water as the caster meets it.

    Parameters
    ----------
    ahead_m_s : float
        Component that comes from ahead, into the caster's face; negative
        from behind [m s-1].
    right_m_s : float
        Component that comes from the caster's right [m s-1].
    height_m : float
        Height above the water at which the wind is told [m].
    roughness_m : float
        Roughness length of the surface, z0 [m].
    """

    ahead_m_s: float = 0.0
    right_m_s: float = 0.0
    height_m: float = FORECAST_HEIGHT_M
    roughness_m: float = WATER_ROUGHNESS_M

    def __post_init__(self) -> None:
        if not math.hypot(self.ahead_m_s, self.right_m_s) <= 40.0:
            raise TechniqueError("wind is above 40 m/s", "wind", "Stay ashore")
        if not 0.5 <= self.height_m <= 100.0:
            raise TechniqueError("height of the wind is outside 0.5 to 100 m", "wind")
        if not 1e-6 <= self.roughness_m <= 0.1:
            raise TechniqueError("roughness length is outside 1e-6 to 0.1 m", "wind")

    @classmethod
    def coming_from(
        cls, speed_m_s: float, clockwise_rad: float, height_m: float = FORECAST_HEIGHT_M
    ) -> Wind:
        """Wind of one speed from one side.

        Parameters
        ----------
        speed_m_s : float
            Wind speed [m s-1].
        clockwise_rad : float
            Where it comes from, clockwise from dead ahead: 0 from ahead,
            pi / 2 from the right, pi from behind [rad].
        height_m : float
            Height at which it is told [m].
        """
        return cls(
            speed_m_s * math.cos(clockwise_rad), speed_m_s * math.sin(clockwise_rad), height_m
        )


CALM = Wind()


@dataclass(frozen=True, slots=True)
class Flight:
    """One flight of a lure from release to the water.

    Parameters
    ----------
    ahead_m : float
        Horizontal distance flown in the direction aimed at [m].
    left_m : float
        Horizontal distance carried to the left of it [m].
    time_s : float
        Duration [s].
    apex_m : float
        Greatest height above the water [m].
    apex_time_s : float
        When that is reached [s].
    end_speed_m_s : float
        Speed at the water [m s-1].
    """

    ahead_m: float
    left_m: float
    time_s: float
    apex_m: float
    apex_time_s: float
    end_speed_m_s: float


def fly(
    speed_m_s: float,
    angle_rad: float,
    height_m: float,
    air_drag_per_m: float,
    line_drag_per_m: float = 0.0,
    wind: Wind = CALM,
    spool_fall_per_m: float = 0.0,
    gravity_m_s2: float = GRAVITY_M_S2,
) -> Flight:
    """Flight of a point mass with drag proportional to the square of speed.

    Parameters
    ----------
    speed_m_s : float
        Launch speed [m s-1].
    angle_rad : float
        Launch angle above the horizontal [rad].
    height_m : float
        Height of release above the water [m].
    air_drag_per_m : float
        1/2 rho_air S / m: deceleration by air over the square of the speed
        through the air [m-1].
    line_drag_per_m : float
        Deceleration by line and spool over the square of the speed over
        ground [m-1].
    wind : Wind
        Wind profile [-].
    spool_fall_per_m : float
        Relative fall of the squared spool radius per metre of line gone [m-1].
    gravity_m_s2 : float
        Acceleration of free fall [m s-2].
    """
    return Flight(
        *fly_kernel(
            speed_m_s,
            angle_rad,
            height_m,
            air_drag_per_m,
            line_drag_per_m,
            spool_fall_per_m,
            -wind.ahead_m_s,
            wind.right_m_s,
            wind.roughness_m,
            wind.height_m,
            gravity_m_s2,
        )
    )


def flight_drag_area_m2(
    length_m: float,
    height_m: float,
    width_m: float,
    lip_area_m2: float = 0.0,
    coefficient: float = FLIGHT_DRAG_COEFFICIENT,
) -> float:
    """Drag area in the air of an ellipsoid with a lip, in no settled attitude.

    The mean projected area of a convex body over all attitudes is a quarter of
    its surface (Cauchy's theorem); the ellipsoid's surface is by Knud
    Thomsen's formula (error at most 1.1 %).

    Parameters
    ----------
    length_m : float
        Length of the body [m].
    height_m : float
        Height of the body [m].
    width_m : float
        Width of the body [m].
    lip_area_m2 : float
        Area of one side of the lip [m2].
    coefficient : float
        Drag coefficient on the mean projected area [-].
    """
    p = 1.6075
    a, b, c = length_m / 2.0, height_m / 2.0, width_m / 2.0
    mean_power = ((a * b) ** p + (a * c) ** p + (b * c) ** p) / 3.0
    surface = 4.0 * math.pi * mean_power ** (1.0 / p)
    return float(coefficient * (surface + 2.0 * lip_area_m2) / 4.0)
