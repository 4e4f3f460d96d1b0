"""A reel: what one turn of the handle takes in, and what its spool holds."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leadsman.dimensions import LENGTH
from leadsman.errors import KitError, Where
from leadsman.hydro.technique import TakeUp
from leadsman.tackle.checks import check_between, check_name

ARBOR_RATIO = 0.6
"""Radius of the bare spool over that of the full one [-]; our estimate, 0.5 to 0.75."""


@dataclass(frozen=True, slots=True)
class Reel:
    """A reel.

    Parameters
    ----------
    name : str
        Name in the kit [-].
    take_up_full_m : float
        Line taken in per turn of the handle with a full spool [m].
    capacity_m : float
        Length of line that fills the spool [m].
    capacity_diameter_m : float
        Diameter of the line that this length is given for [m].
    take_up_half_m : float or None
        Line taken in per turn with half of the capacity off the spool; None
        estimates it from a bare spool of `ARBOR_RATIO` of the full radius [m].

    Raises
    ------
    KitError
        No such reel can exist.
    """

    name: str
    take_up_full_m: float
    capacity_m: float
    capacity_diameter_m: float
    take_up_half_m: float | None = None

    def __post_init__(self) -> None:
        check_name(self.name, "reel")
        check_between(self.take_up_full_m, 0.2, 2.0, "take_up_full", LENGTH, "in")
        check_between(self.capacity_m, 20.0, 2000.0, "capacity", LENGTH, "yd")
        check_between(self.capacity_diameter_m, 1e-4, 1.5e-3, "capacity_diameter", LENGTH, "mm")
        if self.take_up_half_m is not None:
            check_between(self.take_up_half_m, 0.1, 2.0, "take_up_half", LENGTH, "in")
            if self.take_up_half_m > self.take_up_full_m:
                raise KitError(
                    "take-up at half spool is greater than at full spool",
                    Where(field="take_up_half"),
                    "A spool takes in less per turn as it empties",
                )

    @property
    def half_m(self) -> float:
        """Take-up per turn with half of the capacity off the spool, given or estimated [m]."""
        if self.take_up_half_m is not None:
            return self.take_up_half_m
        return self.take_up_full_m * math.sqrt(0.5 * (1.0 + ARBOR_RATIO**2))

    def capacity_for_m(self, diameter_m: float) -> float:
        """Length of a line that fills the spool, by equal volume wound.

        Parameters
        ----------
        diameter_m : float
            Diameter of the line [m].
        """
        return self.capacity_m * (self.capacity_diameter_m / diameter_m) ** 2

    def take_up(self, diameter_m: float) -> TakeUp:
        """Take-up against line out, for a full spool of one line.

        Parameters
        ----------
        diameter_m : float
            Diameter of the line that is spooled [m].
        """
        capacity_m = min(max(self.capacity_for_m(diameter_m), 10.0), 5000.0)
        return TakeUp(self.take_up_full_m, self.half_m, capacity_m)
