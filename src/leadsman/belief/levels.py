"""The things a bite may depend on, and the words for them."""

from __future__ import annotations

import bisect
from dataclasses import dataclass
from typing import Literal, get_args

from leadsman.errors import PlanError

Cover = Literal["edge", "flat", "drop", "open_water"]
Sound = Literal["rattling", "silent"]
# Families, not colours: bass have cones near 535 and 614 nm and none for short waves, and take
# chartreuse for white and blue for black, so those pairs share a family (Mitchem et al. 2019,
# Curr. Zool. 65:43-52, doi 10.1093/cz/zoy019).
ColourFamily = Literal["natural", "light", "dark", "red"]
# How a lure is worked: reeled straight; stopped and started on contact; snapped free of grass.
Work = Literal["straight", "stop", "snap"]

COVERS: tuple[Cover, ...] = get_args(Cover)
SOUNDS: tuple[Sound, ...] = get_args(Sound)
COLOUR_FAMILIES: tuple[ColourFamily, ...] = get_args(ColourFamily)
WORKS: tuple[Work, ...] = get_args(Work)

# The families of the colours a kit file names; bright (chartreuse) and pale (white) look alike.
_FAMILY: dict[str, ColourFamily] = {
    "natural": "natural",
    "bright": "light",
    "pale": "light",
    "dark": "dark",
    "crawfish": "red",
}

FOOT_M = 0.3048  # exact, international foot


@dataclass(frozen=True, slots=True)
class DepthBands:
    """Depth cut into bands, shallow to deep.

    Parameters
    ----------
    edges_m : tuple of float
        Limits of the bands, rising, one more than there are bands [m].

    Raises
    ------
    PlanError
        The edges do not rise from 0 or more.
    """

    edges_m: tuple[float, ...]

    def __post_init__(self) -> None:
        rising = all(a < b for a, b in zip(self.edges_m, self.edges_m[1:], strict=False))
        if len(self.edges_m) < 2 or self.edges_m[0] < 0.0 or not rising:
            raise PlanError("depth bands need edges that rise from the surface down", "depth bands")

    def __len__(self) -> int:
        return len(self.edges_m) - 1

    def index_of(self, depth_m: float) -> int:
        """Number of the band a depth lies in, the nearest band outside of all [-].

        Parameters
        ----------
        depth_m : float
            Depth below the surface [m].
        """
        return min(max(bisect.bisect_right(self.edges_m, depth_m) - 1, 0), len(self) - 1)

    def limits_m(self, index: int) -> tuple[float, float]:
        """Upper and lower limit of a band [m].

        Parameters
        ----------
        index : int
            Number of the band [-].
        """
        return self.edges_m[index], self.edges_m[index + 1]

    def middle_m(self, index: int) -> float:
        """Middle of a band [m].

        Parameters
        ----------
        index : int
            Number of the band [-].
        """
        return 0.5 * (self.edges_m[index] + self.edges_m[index + 1])


# Around the usual ladder of 8, 10, 12, 15, 17, 20 and 25 ft (common practice, no source).
LADDER = DepthBands(
    tuple(FOOT_M * ft for ft in (0.0, 4.0, 7.0, 9.5, 11.5, 13.5, 16.0, 18.5, 22.0, 30.0))
)


@dataclass(frozen=True, slots=True)
class Cell:
    """One way of fishing one place: the unit a rate of bites belongs to.

    Parameters
    ----------
    place : str
        Identity of the place [-].
    depth : int
        Number of the depth band the lure runs in [-].
    cover : str
        What is there: edge, flat, drop or open_water [-].
    sound : str
        rattling or silent [-].
    colour : str
        Colour family [-].
    work : str
        How the lure is worked: straight, stop or snap [-].
    """

    place: str
    depth: int
    cover: str
    sound: str
    colour: str
    work: str = "stop"

    def level(self, factor: str) -> str:
        """The level of a factor, or of several joined by ``*``, in this cell [-].

        Parameters
        ----------
        factor : str
            Factor name such as ``depth`` or ``place*sound``; ``all`` is common
            to every cell [-].
        """
        if factor == "all":
            return ""
        return "*".join(quoted(getattr(self, name)) for name in factor.split("*"))


def quoted(level: str | int) -> str:
    """A level as it stands in the key of an effect: free of ``*`` and ``=`` [-].

    Parameters
    ----------
    level : str or int
        Level of one factor, such as the name of a place [-].
    """
    return str(level).replace("%", "%25").replace("*", "%2A").replace("=", "%3D")


def colour_family_of(lure_colour: str) -> ColourFamily:
    """The family, as fish tell colours apart, of a lure's colour in the kit [-].

    Parameters
    ----------
    lure_colour : str
        natural, bright, pale, dark or crawfish; a family is its own [-].

    Raises
    ------
    PlanError
        Another colour.
    """
    for family in COLOUR_FAMILIES:
        if lure_colour == family:
            return family
    if lure_colour not in _FAMILY:
        raise PlanError(
            f"unknown colour {lure_colour!r}", "colour", f"Use one of {', '.join(_FAMILY)}"
        )
    return _FAMILY[lure_colour]
