"""A day on the water as its trip file tells it, as frozen types."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Literal

from leadsman.errors import Where
from leadsman.kitfile.locate import line_of
from leadsman.kitfile.messages import dotted

DEMO = "demo"
"""Name of the invented lake and kit that come with the program."""


@dataclass(frozen=True, slots=True)
class TripSource:
    """Where a trip was read from, for messages.

    Parameters
    ----------
    name : str
        Name of the file [-].
    text : str
        Its text [-].
    path : pathlib.Path or None
        The file; None for text [-].
    """

    name: str
    text: str
    path: Path | None = None

    def where(self, *keys: str | int) -> Where:
        """Place of a field in the file.

        Parameters
        ----------
        *keys : str or int
            Keys from the top [-].
        """
        return Where(self.name, line_of(self.text, keys), dotted(keys))

    def file(self, name: str) -> Path:
        """A file named in the trip, seen from the trip's own folder.

        Parameters
        ----------
        name : str
            As written [-].
        """
        return Path(name) if self.path is None else self.path.parent / name


@dataclass(frozen=True, slots=True)
class TripHours:
    """When.

    Parameters
    ----------
    date : datetime.date
        Day [-].
    launch_s, deadline_s : float
        Leaving, and being back at the latest, in seconds of the day [s].
    reserve_s : float
        Time kept back [s].
    zone : str or None
        Time zone [-].
    """

    date: date
    launch_s: float
    deadline_s: float
    reserve_s: float = 900.0
    zone: str | None = None


@dataclass(frozen=True, slots=True)
class TripLake:
    """Where.

    Parameters
    ----------
    name, file, crs, folder : str or None
        A kept lake or a file with its frame, and the folder of kept lakes [-].
    level_m : float
        Water level now above that of the map [m].
    grass : {"none", "some", "thick"} or None
        How much grass there is [-].
    grass_edge_m : float or None
        Depth at which it stops, below the surface of the day [m].
    """

    name: str | None
    file: str | None = None
    crs: str | None = None
    folder: str | None = None
    level_m: float = 0.0
    grass: Literal["none", "some", "thick"] | None = None
    grass_edge_m: float | None = None


@dataclass(frozen=True, slots=True)
class TripLaunch:
    """Where the day begins and ends.

    Parameters
    ----------
    at_deg, back_at_deg : tuple of float
        Latitude and longitude [deg].
    name : str
        What to call it [-].
    """

    at_deg: tuple[float, float]
    back_at_deg: tuple[float, float]
    name: str = "launch"


@dataclass(frozen=True, slots=True)
class NoWake:
    """A no-wake zone.

    Parameters
    ----------
    at_deg : tuple of float
        Latitude and longitude of its middle [deg].
    radius_m : float
        How far it reaches [m].
    """

    at_deg: tuple[float, float]
    radius_m: float


@dataclass(frozen=True, slots=True)
class TripBoat:
    """The boat.

    Parameters
    ----------
    speed_m_s, no_wake_m_s : float
        Speed in open water, and where no wake is allowed [m s-1].
    no_wake_shore_m : float
        No wake within this distance of the shore [m].
    least_depth_m : float
        Water it needs [m].
    no_wake : tuple of NoWake
        No-wake zones [-].
    """

    speed_m_s: float = 11.176
    no_wake_m_s: float = 2.2352
    no_wake_shore_m: float = 0.0
    least_depth_m: float = 1.0
    no_wake: tuple[NoWake, ...] = ()


@dataclass(frozen=True, slots=True)
class TripWater:
    """What is known of air and water.

    Parameters
    ----------
    wind : str or None
        The forecast as written [-].
    sky : {"clear", "broken", "overcast"}
        Clouds [-].
    clarity_m, thermocline_m, oxygen_floor_m : float or None
        Depths [m].
    temperature_c : float or None
        At the surface [degC].
    profile, profile_place : str or None
        File of temperature and oxygen, and which lake in it [-].
    """

    wind: str | None = None
    sky: Literal["clear", "broken", "overcast"] = "clear"
    clarity_m: float | None = None
    thermocline_m: float | None = None
    oxygen_floor_m: float | None = None
    temperature_c: float | None = None
    profile: str | None = None
    profile_place: str | None = None


@dataclass(frozen=True, slots=True)
class TripTackle:
    """What may be on deck.

    Parameters
    ----------
    kit : str or None
        Kit file [-].
    rods, snaps : int
        Rods on deck, lures to snap on for each [-].
    load_limit : float or None
        Contact load that counts as light [-].
    """

    kit: str | None = None
    rods: int = 3
    snaps: int = 1
    load_limit: float | None = None


@dataclass(frozen=True, slots=True)
class TripFish:
    """What is known of the fish, and what the angler has decided.

    Parameters
    ----------
    species : {"largemouth", "smallmouth", "spotted"}
        Fish looked for [-].
    seen_m : tuple of float or None
        Depths where fish were seen [m].
    forage : {"baitfish", "crayfish", "panfish"} or None
        Food [-].
    forage_m : float or None
        Its depth [m].
    pressure : {"light", "usual", "heavy"}
        How heavily the water is fished [-].
    targets : str or None
        What the day asks, in the angler's words [-].
    sound : {"rattling", "silent"} or None
        Decided sound [-].
    colour : {"natural", "light", "dark", "red"} or None
        Decided colour family [-].
    covers, factors : dict of str to float
        Weights of covers and of the outlook's factors [-].
    best_bites_per_h : float or None
        Bites an hour where it is best [h-1].
    """

    species: Literal["largemouth", "smallmouth", "spotted"] = "largemouth"
    seen_m: tuple[float, float] | None = None
    forage: Literal["baitfish", "crayfish", "panfish"] | None = None
    forage_m: float | None = None
    pressure: Literal["light", "usual", "heavy"] = "usual"
    targets: str | None = None
    sound: Literal["rattling", "silent"] | None = None
    colour: Literal["natural", "light", "dark", "red"] | None = None
    covers: dict[str, float] = field(default_factory=dict)
    factors: dict[str, float] = field(default_factory=dict)
    best_bites_per_h: float | None = None


@dataclass(frozen=True, slots=True)
class TripAim:
    """What the day is for.

    Parameters
    ----------
    want : {"bites", "weight"}
        Bites, or the weight of the best fish [-].
    count : int
        How many fish count [-].
    least_length_m : float or None
        Least legal length [m].
    culling : bool
        Whether a kept fish may be exchanged for a better one [-].
    usual_length_m, length_spread_m : float
        Mean and standard deviation of the lengths [m].
    usual_length_drop_m : float or None
        Mean length on drops, if another [m].
    landed : float
        Share of bites that are landed [-].
    livewell_c : float or None
        Temperature in the livewell [degC].
    livewell_s : float
        Longest time to keep a fish there [s].
    """

    want: Literal["bites", "weight"] = "bites"
    count: int = 5
    least_length_m: float | None = None
    culling: bool = True
    usual_length_m: float = 0.3556
    length_spread_m: float = 0.0635
    usual_length_drop_m: float | None = None
    landed: float = 0.7
    livewell_c: float | None = None
    livewell_s: float = 14400.0


@dataclass(frozen=True, slots=True)
class Trip:
    """One day.

    Parameters
    ----------
    hours, lake, launch, boat, water, tackle, fish, aim : see their classes
        What the file says, a group each [-].
    units : {"us", "metric"} or None
        Units to answer in; None is as the kit [-].
    source : TripSource
        Where it was read from [-].
    """

    hours: TripHours
    lake: TripLake
    launch: TripLaunch
    boat: TripBoat
    water: TripWater
    tackle: TripTackle
    fish: TripFish
    aim: TripAim
    units: Literal["us", "metric"] | None
    source: TripSource
