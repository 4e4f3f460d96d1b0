"""The person: how high they hold the rod and how far they cast."""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.dimensions import LENGTH, MASS, SPEED
from leadsman.tackle.checks import check_between


@dataclass(frozen=True, slots=True)
class MeasuredCast:
    """One cast that was measured in calm air.

    Parameters
    ----------
    mass_kg : float
        Mass of the lure [kg].
    length_m : float
        Distance from the angler to the splash [m].
    rod_length_m : float or None
        Length of the rod [m].
    """

    mass_kg: float
    length_m: float
    rod_length_m: float | None = None

    def __post_init__(self) -> None:
        check_between(self.mass_kg, 5e-4, 0.5, "mass", MASS, "oz")
        check_between(self.length_m, 3.0, 150.0, "length", LENGTH, "yd")
        if self.rod_length_m is not None:
            check_between(self.rod_length_m, 0.9, 4.6, "rod_length", LENGTH, "ft")


@dataclass(frozen=True, slots=True)
class Angler:
    """The person who casts.

    Parameters
    ----------
    rod_hand_m : float
        Height of the hand on the rod above the water [m].
    reel_speed_m_s : float
        Usual line taken in per second [m s-1].
    usual_cast_m : float
        Length of a usual cast with a deep diver [m].
    casts : tuple of MeasuredCast
        Casts that were measured [-].
    """

    rod_hand_m: float = 1.4
    reel_speed_m_s: float = 1.3
    usual_cast_m: float = 50.0
    casts: tuple[MeasuredCast, ...] = ()

    def __post_init__(self) -> None:
        check_between(self.rod_hand_m, 0.2, 5.0, "rod_hand_height", LENGTH, "ft")
        check_between(self.reel_speed_m_s, 0.1, 5.0, "reel_speed", SPEED, "ft/s")
        check_between(self.usual_cast_m, 5.0, 150.0, "usual_cast", LENGTH, "yd")
