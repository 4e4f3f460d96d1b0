"""An angler as a launcher of lures.

The energy argument and what is assumed are in docs/cast-flight.md.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight_path import CALM, Flight, Wind, fly
from leadsman.hydro.technique import TakeUp

AIR_DENSITY_KG_M3 = 1.2041  # [kg m-3] dry air, 20 degC, 101325 Pa (ideal gas law); +-4 %

LAUNCH_ANGLE_RAD = math.radians(35.0)  # [rad] assumption: an overhead cast for distance; +-5 deg
RELEASE_ABOVE_GRIP = 0.7  # [-] assumption: tip at release, part of the rod's length above the grip
GRIP_HEIGHT_M = 1.5  # [m] assumption: standing on a deck 0.4 m up, hands at 1.1 m

# Priors of the thrower; each is an assumption with a wide spread, moved by measured casts.
LAUNCH_ENERGY_J = 65.0  # [J] lure, rod and arm together: some 45 m with a 20 g lure
LAUNCH_ENERGY_LOG_SD = 1.0  # [-]
MOVING_MASS_KG = 0.040  # [kg] rod and arm as felt at the tip of a 2.1 m rod
MOVING_MASS_LOG_SD = 0.6  # [-]
MOVING_MASS_ROD_M = 2.1  # [m] rod length the moving mass is stated for
LINE_LOSS_KG_M = 3e-4  # [kg m-1] 1e-4 is the mass of 0.3 mm line alone; the rest air and spool
LINE_LOSS_LOG_SD = 0.7  # [-]
CAST_SCATTER = 0.06  # [-] assumption: one cast differs from the next by 6 % of its length
CAST_SCATTER_WEIGHT = 4.0  # [-] casts that assumption is worth against measured ones
DRAG_FACTOR_LOG_SD = 0.4  # [-] flight drag of all lures against what their size says
LURE_DRAG_LOG_SD = 0.15  # [-] assumption: one lure's flight attitude against another's
WIND_SPREAD = 0.25  # [-] assumption: gusts and shelter around the wind that was told

# what measured casts move, by name
FITTED = ("launch_energy_j", "moving_mass_kg", "line_loss_kg_m", "drag_factor")


@dataclass(frozen=True, slots=True)
class Thrower:
    """An angler as a launcher of lures, with what is not known of them.

    Parameters
    ----------
    launch_energy_j : float
        Kinetic energy of lure, rod and arm at release, the same for every
        lure [J].
    moving_mass_kg : float
        Rod and arm as felt at the tip of a rod of `MOVING_MASS_ROD_M` [kg].
    line_loss_kg_m : float
        Retarding force of line and spool over the square of speed [kg m-1].
    drag_factor : float
        Factor on the flight drag area of every lure [-].
    log_covariance : tuple of tuple of float, shape (4, 4)
        Covariance of the logarithms of the four above [-].
    scatter : float
        Relative standard deviation of one cast around its mean [-].
    angle_rad : float
        Launch angle [rad].
    grip_height_m : float
        Height of the rod's grip above the water [m].
    casts : int
        Measured casts this is fitted to [-].
    """

    launch_energy_j: float = LAUNCH_ENERGY_J
    moving_mass_kg: float = MOVING_MASS_KG
    line_loss_kg_m: float = LINE_LOSS_KG_M
    drag_factor: float = 1.0
    log_covariance: tuple[tuple[float, ...], ...] = (
        (LAUNCH_ENERGY_LOG_SD**2, 0.0, 0.0, 0.0),
        (0.0, MOVING_MASS_LOG_SD**2, 0.0, 0.0),
        (0.0, 0.0, LINE_LOSS_LOG_SD**2, 0.0),
        (0.0, 0.0, 0.0, DRAG_FACTOR_LOG_SD**2),
    )
    scatter: float = CAST_SCATTER
    angle_rad: float = LAUNCH_ANGLE_RAD
    grip_height_m: float = GRIP_HEIGHT_M
    casts: int = 0

    def launch_speed_m_s(self, mass_kg: float, rod_m: float = MOVING_MASS_ROD_M) -> float:
        """Speed of a lure at release.

        Parameters
        ----------
        mass_kg : float
            Mass of the lure [kg].
        rod_m : float
            Length of the rod [m].
        """
        moving = self.moving_mass_kg * (MOVING_MASS_ROD_M / rod_m) ** 2
        return math.sqrt(2.0 * self.launch_energy_j / (mass_kg + moving))

    def flight(
        self,
        mass_kg: float,
        drag_area_m2: float,
        wind: Wind = CALM,
        rod_m: float = MOVING_MASS_ROD_M,
        spool: TakeUp | None = None,
    ) -> Flight:
        """The mean flight of a lure thrown by this angler.

        Parameters
        ----------
        mass_kg : float
            Mass of the lure [kg].
        drag_area_m2 : float
            Drag area of the lure in the air [m2].
        wind : Wind
            Wind [-].
        rod_m : float
            Length of the rod [m].
        spool : TakeUp or None
            The reel's spool; None for one that does not fall in use [-].
        """
        fall = 0.0
        if spool is not None:
            fall = (1.0 - (spool.half_m / spool.full_m) ** 2) * 2.0 / spool.capacity_m
        return fly(
            self.launch_speed_m_s(mass_kg, rod_m),
            self.angle_rad,
            self.grip_height_m + RELEASE_ABOVE_GRIP * rod_m,
            0.5 * AIR_DENSITY_KG_M3 * self.drag_factor * drag_area_m2 / mass_kg,
            self.line_loss_kg_m / mass_kg,
            wind,
            fall,
        )


def check_castable(mass_kg: float, drag_area_m2: float, rod_m: float) -> None:
    """Refuse what no one casts.

    Parameters
    ----------
    mass_kg : float
        Mass of the lure [kg].
    drag_area_m2 : float
        Drag area of the lure in the air [m2].
    rod_m : float
        Length of the rod [m].

    Raises
    ------
    TechniqueError
        A value lies outside what is physical.
    """
    if not 0.5 <= rod_m <= 5.0:
        raise TechniqueError("rod length is outside 0.5 to 5 m", "rod")
    if not 5e-4 <= mass_kg <= 1.0:
        raise TechniqueError(
            f"lure mass {mass_kg * 1e3:.3g} g is outside 0.5 to 1000 g", "lure mass"
        )
    if not 1e-6 <= drag_area_m2 <= 0.05:
        raise TechniqueError(
            f"drag area in the air {drag_area_m2 * 1e4:.3g} cm2 is outside 0.01 to 500 cm2",
            "drag area",
        )


def shifted(thrower: Thrower, which: int, log_step: float) -> Thrower:
    """The thrower with one of `FITTED` changed.

    Parameters
    ----------
    thrower : Thrower
        The angler [-].
    which : int
        Index into `FITTED` [-].
    log_step : float
        Change of the logarithm [-].
    """
    name = FITTED[which]
    return replace(thrower, **{name: getattr(thrower, name) * math.exp(log_step)})
