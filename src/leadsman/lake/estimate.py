"""A number about the lake with its band and where it comes from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from leadsman.errors import LakeDataError

Origin = Literal["measured", "given", "guess"]


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its 90 % band.

    Parameters
    ----------
    value : float
        The value in the unit of its owner [as named there].
    low, high : float
        Central 90 % band; equal to the value where it is taken as exact [same].
    origin : {"measured", "given", "guess"}
        From a file, from the angler, or worked out from something else [-].
    source : str
        Published source, or what kind of guess it is [-].

    Raises
    ------
    LakeDataError
        The value lies outside its band or is no number.
    """

    value: float
    low: float
    high: float
    origin: Origin
    source: str

    def __post_init__(self) -> None:
        if not (math.isfinite(self.low + self.high) and self.low <= self.value <= self.high):
            raise LakeDataError("a value must lie within its band", self.source)

    @property
    def is_guess(self) -> bool:
        """Whether it is worked out from something else rather than seen."""
        return self.origin == "guess"
