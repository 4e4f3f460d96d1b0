"""A trip as the trip file tells it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from datetime import date
from importlib import resources
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ValidationError

from leadsman.errors import KitError, Where
from leadsman.kitfile.locate import line_of
from leadsman.kitfile.messages import Loc, dotted, toml_error, validation_error
from leadsman.kitfile.read import read_text
from leadsman.kitfile.schema import range_or_none
from leadsman.kitfile.trip_schema import TRIP_TABLES, AimTable, FishTable, TripTable

PAGE = "docs/trip-file.md"
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


def read_trip(path: Path | str) -> Trip:
    """Read a trip file.

    Parameters
    ----------
    path : pathlib.Path or str
        The file [-].

    Raises
    ------
    KitError
        It cannot be read or says something impossible; the message names
        file, line and field.
    """
    path = Path(path)
    text = read_text(path, "trip", "write a new one with: leadsman plan --new trip.toml")
    return parse_trip(text, path)


def demo_trip_text() -> str:
    """Text of the demo trip, with notes for a hand editor [-]."""
    return resources.files("leadsman.kitfile").joinpath("demo_trip.toml").read_text("utf-8")


def parse_trip(text: str, path: Path | None = None) -> Trip:
    """Trip from the text of a trip file.

    Parameters
    ----------
    text : str
        TOML text [-].
    path : pathlib.Path or None
        File that it came from [-].

    Raises
    ------
    KitError
        As `read_trip`.
    """
    source = TripSource(str(path) if path else "trip", text, path)
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise toml_error(error, text, source.name, "trip") from None
    except RecursionError:
        raise KitError("tables are nested too deep for a trip", source.name) from None
    try:
        table = TripTable.model_validate(raw)
    except ValidationError as error:
        raise validation_error(error, text, source.name, _model_at, PAGE) from None
    _check(table, source)
    return _trip(table, source)


def _model_at(loc: Loc) -> type[BaseModel]:
    return TRIP_TABLES.get(str(loc[0]), TripTable) if loc else TripTable


def _check(table: TripTable, source: TripSource) -> None:
    """What each field alone cannot know."""
    day, lake, boat = table.day, table.lake, table.boat
    if not day.launch < day.deadline - day.reserve:
        raise KitError(
            "the deadline less its reserve does not lie after the launch",
            source.where("day", "deadline"),
            "Times are of one day on a 24 hour clock; launch earlier or keep a smaller reserve",
        )
    if (lake.name is None) == (lake.file is None):
        raise KitError(
            "the lake is given twice" if lake.name else "no lake is given",
            source.where("lake"),
            'Give name = "demo", the name of a kept lake, or file = "soundings.csv"',
        )
    ranges = (
        (boat.speed, 0.3, 45.0, "boat", "speed", "0.7 to 100 mph"),
        (boat.no_wake_speed, 0.3, 10.0, "boat", "no_wake_speed", "0.7 to 22 mph"),
        (boat.no_wake_shore, 0.0, 2000.0, "boat", "no_wake_shore", "0 to 2000 m"),
        (boat.least_depth, 0.05, 5.0, "boat", "least_depth", "2 in to 16 ft"),
        (day.reserve, 0.0, 43200.0, "day", "reserve", "0 to 12 h"),
        (lake.level, -30.0, 30.0, "lake", "level", "-100 to 100 ft"),
        (table.aim.usual_length, 0.1, 1.0, "aim", "usual_length", "4 to 39 in"),
        (table.aim.length_spread, 0.005, 0.3, "aim", "length_spread", "0.2 to 12 in"),
    )
    for value, low, high, group, name, told in ranges:
        if not low <= value <= high:
            raise KitError(
                f"'{name}' is outside {told}", source.where(group, name), "Check number and unit"
            )
    for number, zone in enumerate(table.no_wake):
        if not 0.0 < zone.radius <= 20_000.0:
            raise KitError(
                "the radius of a no-wake zone is outside 0 to 20 km",
                source.where("no_wake", number, "radius"),
                "Check number and unit",
            )


def _trip(table: TripTable, source: TripSource) -> Trip:
    day, lake, boat, launch = table.day, table.lake, table.boat, table.launch
    weather, water, tackle = table.weather, table.water, table.tackle
    return Trip(
        TripHours(day.date, day.launch, day.deadline, day.reserve, day.zone),
        TripLake(
            lake.name, lake.file, lake.crs, lake.folder, lake.level, lake.grass, lake.grass_edge
        ),
        TripLaunch(launch.at, launch.back_at or launch.at, launch.name),
        TripBoat(
            boat.speed, min(boat.no_wake_speed, boat.speed), boat.no_wake_shore, boat.least_depth,
            tuple(NoWake(zone.at, zone.radius) for zone in table.no_wake),
        ),
        TripWater(
            weather.wind, weather.sky, water.clarity, water.thermocline, water.oxygen_floor,
            water.temperature, water.profile, water.profile_place,
        ),
        TripTackle(tackle.kit, tackle.rods, tackle.snaps, tackle.load_limit),
        _fish(table.fish, table),
        _aim(table.aim),
        table.units,
        source,
    )  # fmt: skip


def _fish(fish: FishTable, table: TripTable) -> TripFish:
    seen, own = range_or_none(fish.seen), table.override
    return TripFish(
        fish.species, (seen.low, seen.high) if seen else None, fish.forage, fish.forage_depth,
        fish.pressure, own.targets, own.sound, own.colour, dict(own.covers), dict(own.factors),
        own.best_bites_per_hour,
    )  # fmt: skip


def _aim(aim: AimTable) -> TripAim:
    return TripAim(
        aim.want, aim.count, aim.least_length, aim.culling, aim.usual_length, aim.length_spread,
        aim.usual_length_drop, aim.landed, aim.livewell_temperature, aim.livewell_time,
    )  # fmt: skip
