"""The person: how high they hold the rod, how fast they reel and how far they cast."""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.dimensions import LENGTH, MASS, SPEED
from leadsman.errors import KitError, Where
from leadsman.tackle.checks import check_between


@dataclass(frozen=True, slots=True)
class CastRecord:
    """One cast whose length was measured in calm air, or the mean of several.

    Parameters
    ----------
    lure_mass_kg : float
        Mass of the lure [kg].
    length_m : float
        Distance from the angler to the splash [m].
    rod_m : float or None
        Length of the rod; None if it was not noted [m].
    count : int
        Casts that the length is the mean of [-].
    """

    lure_mass_kg: float
    length_m: float
    rod_m: float | None = None
    count: int = 1

    def __post_init__(self) -> None:
        check_between(self.lure_mass_kg, 5e-4, 0.5, "mass", MASS, "oz")
        check_between(self.length_m, 3.0, 150.0, "length", LENGTH, "yd")
        if self.rod_m is not None:
            check_between(self.rod_m, 0.9, 4.6, "rod", LENGTH, "ft")
        if not 1 <= self.count <= 1000:
            raise KitError("a mean is of 1 to 1000 casts", Where(field="count"))


@dataclass(frozen=True, slots=True)
class Angler:
    """The person who casts.

    Parameters
    ----------
    grip_height_m : float
        Height of the hand on the rod above the water; the default stands on
        a low deck, our assumption [m].
    reel_speed_m_s : float
        Usual line taken in per second; the default is a steady retrieve of
        medium pace, common practice, no source [m s-1].
    usual_cast_m : float
        Length of a usual cast with a deep diver [m].
    casts : tuple of CastRecord
        Casts that were measured [-].
    """

    grip_height_m: float = 1.5
    reel_speed_m_s: float = 1.3
    usual_cast_m: float = 50.0
    casts: tuple[CastRecord, ...] = ()

    def __post_init__(self) -> None:
        check_between(self.grip_height_m, 0.2, 5.0, "grip_height", LENGTH, "ft")
        check_between(self.reel_speed_m_s, 0.1, 5.0, "reel_speed", SPEED, "ft/s")
        check_between(self.usual_cast_m, 5.0, 150.0, "usual_cast", LENGTH, "yd")
