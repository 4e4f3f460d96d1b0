"""Rod, reel and line as they are put together, and a lure tied on."""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.tackle.line import Line, line_properties
from leadsman.tackle.lure import Lure
from leadsman.tackle.reel import Reel
from leadsman.tackle.rod import Rod


@dataclass(frozen=True, slots=True)
class Combo:
    """A rod with a reel on it and a line on the reel.

    Parameters
    ----------
    name : str
        Name in the kit [-].
    rod : Rod
        Rod [-].
    reel : Reel
        Reel [-].
    line : Line
        Line that is spooled [-].
    """

    name: str
    rod: Rod
    reel: Reel
    line: Line


@dataclass(frozen=True, slots=True)
class Setup:
    """What is thrown: rod, reel, line and lure.

    Parameters
    ----------
    rod : Rod
        Rod [-].
    reel : Reel
        Reel [-].
    line : Line
        Line that is spooled [-].
    lure : Lure
        Lure that is tied on [-].
    """

    rod: Rod
    reel: Reel
    line: Line
    lure: Lure

    def cautions(self, cast_m: float | None = None) -> tuple[str, ...]:
        """What does not go together, one plain sentence each.

        Parameters
        ----------
        cast_m : float or None
            Length of the cast, to hold against the spool [m].
        """
        found: list[str] = []
        if not self.rod.throws(self.lure.mass_kg):
            found.append(f"{self.lure.name} is outside the lure masses of rod {self.rod.name}")
        holds_m = self.reel.capacity_for_m(line_properties(self.line).diameter_m)
        if cast_m is not None and cast_m > 0.8 * holds_m:
            found.append(f"the cast takes nearly all {self.line.name} off reel {self.reel.name}")
        return tuple(found)
