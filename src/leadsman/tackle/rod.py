"""A rod: its length, and the lures it is made to throw."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leadsman.dimensions import LENGTH, MASS
from leadsman.errors import KitError, Where
from leadsman.tackle.checks import check_between, check_name

Power = Literal["light", "medium light", "medium", "medium heavy", "heavy"]
POWERS: tuple[Power, ...] = ("light", "medium light", "medium", "medium heavy", "heavy")

BENT_PULL_N: dict[Power, float] = {
    "light": 20.0,
    "medium light": 28.0,
    "medium": 36.0,
    "medium heavy": 45.0,
    "heavy": 55.0,
}
"""Pull at which a rod of each power is fully bent [N]; our estimate, +-30 %, no source."""


@dataclass(frozen=True, slots=True)
class Rod:
    """A rod.

    Parameters
    ----------
    name : str
        Name in the kit [-].
    length_m : float
        Length [m].
    lure_min_kg, lure_max_kg : float
        Lightest and heaviest lure it is made for [kg].
    power : {"light", "medium light", "medium", "medium heavy", "heavy"}
        How much it takes to bend it [-].

    Raises
    ------
    KitError
        No such rod can exist.
    """

    name: str
    length_m: float
    lure_min_kg: float
    lure_max_kg: float
    power: Power = "medium"

    def __post_init__(self) -> None:
        check_name(self.name, "rod")
        check_between(self.length_m, 0.9, 4.6, "length", LENGTH, "ft")
        check_between(self.lure_min_kg, 1e-4, 0.5, "lure_mass", MASS, "oz")
        check_between(self.lure_max_kg, 1e-4, 0.5, "lure_mass", MASS, "oz")
        if self.lure_min_kg > self.lure_max_kg:
            raise KitError("the range of lure masses runs backwards", Where(field="lure_mass"))
        if self.power not in POWERS:
            raise KitError(
                f"unknown power '{self.power}'",
                Where(field="power"),
                f"Use one of {', '.join(POWERS)}",
            )

    def throws(self, mass_kg: float) -> bool:
        """Whether a lure lies in the range that the rod is made for.

        Parameters
        ----------
        mass_kg : float
            Mass of the lure [kg].
        """
        return self.lure_min_kg * (1.0 - 1e-9) <= mass_kg <= self.lure_max_kg * (1.0 + 1e-9)
