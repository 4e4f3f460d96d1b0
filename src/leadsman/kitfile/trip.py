"""A trip as the trip file tells it."""

from __future__ import annotations

import tomllib
from importlib import resources
from pathlib import Path

from pydantic import BaseModel, ValidationError

from leadsman.errors import KitError
from leadsman.kitfile.messages import Loc, toml_error, validation_error
from leadsman.kitfile.read import read_text
from leadsman.kitfile.schema import range_or_none
from leadsman.kitfile.trip_schema import TRIP_TABLES, AimTable, FishTable, TripTable
from leadsman.kitfile.trip_types import (
    NoWake,
    Trip,
    TripAim,
    TripBoat,
    TripFish,
    TripHours,
    TripLake,
    TripLaunch,
    TripSource,
    TripTackle,
    TripWater,
)

PAGE = "docs/trip-file.md"


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
