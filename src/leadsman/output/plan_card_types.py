"""What the card for the boat says."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, time

from leadsman.display_units import US, DisplayUnits

USUAL_CAUTIONS = (
    "Not for navigation: level, stumps and shallows differ from any map.",
    "Life jacket on, engine cut-off clipped. Off the water at the first thunder.",
    "Cold water kills before you tire: stay near shore when wind rises.",
    "Local law first: licence, seasons, limits, number of rods.",
    "Fish from deep water and warm livewells suffer: fish shallower or let them go at once.",
    "Clean, drain and dry the boat. Leave protected vegetation alone.",
)
"""Usual cautions; common practice, no source [-]."""


@dataclass(frozen=True, slots=True)
class RodEntry:
    """One rod: what is tied on it and what it covers.

    Parameters
    ----------
    number : int
        Number of the rod, from 1 [-].
    lure, line : str
        What is tied on what [-].
    covers : str
        What it is for, such as ``"outside edge, sparse grass"`` [-].
    low_m, high_m : float
        Shallow and deep end of the bottom depths it covers [m].
    how : str
        How it is fished, such as ``"12 turns low, then tip up to 6 ft"`` [-].
    snaps : tuple of str
        Lures to snap on instead, each with what it is for [-].
    """

    number: int
    lure: str
    line: str
    covers: str
    low_m: float
    high_m: float
    how: str = ""
    snaps: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.number < 1:
            raise ValueError("rod: numbers start at 1")
        if not 0.0 <= self.low_m <= self.high_m < math.inf:
            raise ValueError("rod: depths must go from shallow to deep")


@dataclass(frozen=True, slots=True)
class PassEntry:
    """One pass along a stretch.

    Parameters
    ----------
    start, end : datetime.time
        When it starts and ends, on the clock of the place [-].
    place : str
        Where, as the map names it [-].
    rod : int
        Number of the rod [-].
    boat : str
        Where to hold the boat [-].
    heading_rad : float or None
        Heading of the casts, clockwise from true north; None to fan [rad].
    zone_m : float or None
        Zone length of a cast [m].
    note : str
        Anything else in a few words [-].
    """

    start: time
    end: time
    place: str
    rod: int
    boat: str = ""
    heading_rad: float | None = None
    zone_m: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if self.heading_rad is not None and not math.isfinite(self.heading_rad):
            raise ValueError("pass: the heading is not a number")
        if self.zone_m is not None and not self.zone_m >= 0.0:
            raise ValueError("pass: the zone length is negative or not a number")


@dataclass(frozen=True, slots=True)
class PlanCard:
    """The card for the boat.

    Parameters
    ----------
    headline : str
        The sentence a person could act on [-].
    lake : str
        Name of the lake [-].
    day : datetime.date
        Day of the trip [-].
    rods : tuple of RodEntry
        Rods in order [-].
    passes : tuple of PassEntry
        Passes in order [-].
    stop : datetime.time or None
        When to stop at the latest to be back in time [-].
    stop_note : str
        Why, such as ``"20 min run, weigh-in 15:00"`` [-].
    cautions : tuple of str
        Cautions; the usual ones unless told [-].
    units : DisplayUnits
        Units the reader thinks in; US gives a letter page, metric A4 [-].
    """

    headline: str
    lake: str
    day: date
    rods: tuple[RodEntry, ...]
    passes: tuple[PassEntry, ...] = ()
    stop: time | None = None
    stop_note: str = ""
    cautions: tuple[str, ...] = USUAL_CAUTIONS
    units: DisplayUnits = US

    def __post_init__(self) -> None:
        if not 1 <= len(self.rods) <= 8:
            raise ValueError("card: 1 to 8 rods have room")
        if not self.cautions:
            raise ValueError("card: cautions may not be left out")
        known = {rod.number for rod in self.rods}
        if len(known) != len(self.rods):
            raise ValueError("card: two rods have the same number")
        if any(entry.rod not in known for entry in self.passes):
            raise ValueError("card: a pass uses a rod that is not on the card")
