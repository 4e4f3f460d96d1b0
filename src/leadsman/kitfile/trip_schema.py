"""The trip file's fields, read by pydantic."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from leadsman.dimensions import LENGTH
from leadsman.kitfile.schema import Length, Speed, reads
from leadsman.kitfile.trip_words import calendar_date, clock_s, place_deg
from leadsman.units import parse_range, parse_temperature_c, parse_time_s

Temperature = Annotated[float, reads(parse_temperature_c)]
Time = Annotated[float, reads(parse_time_s)]
DepthRange = Annotated[Any, reads(lambda raw: parse_range(raw, LENGTH))]


Clock = Annotated[float, reads(clock_s)]
Date = Annotated[dt.date, reads(calendar_date)]
PlaceDeg = Annotated[tuple[float, float], reads(place_deg)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class DayTable(_Table):
    """``[day]``."""

    date: Date = Field(description="Day of the trip, 2025-07-12")
    launch: Clock = Field(description='When you leave the launch, "6:00"')
    deadline: Clock = Field(description='When you must be back, "14:00"')
    reserve: Time = Field(900.0, description="Time kept back for what goes wrong")
    zone: str | None = Field(None, description='Time zone, "America/Chicago" or "UTC-5"')


class LakeTable(_Table):
    """``[lake]``."""

    name: str | None = Field(None, description="A lake kept by `leadsman lake add`, or demo")
    file: str | None = Field(None, description="Or one file of soundings, contours or a grid")
    crs: str | None = Field(None, description='Frame of that file, "EPSG:3070", if it tells none')
    folder: str | None = Field(None, description="Folder of the kept lakes; else lakes")
    level: Length = Field(0.0, description="Water level now above that of the map")
    grass: Literal["none", "some", "thick"] | None = Field(None, description="How much grass")
    grass_edge: Length | None = Field(None, description="Depth at which the grass stops")


class LaunchTable(_Table):
    """``[launch]``."""

    at: PlaceDeg = Field(description="Where the launch is: latitude, longitude")
    name: str = Field("launch", description="What to call it")
    back_at: PlaceDeg | None = Field(None, description="Where the day ends, if elsewhere")


class BoatTable(_Table):
    """``[boat]``."""

    speed: Speed = Field(11.176, description="Speed between stretches")
    no_wake_speed: Speed = Field(2.2352, description="Speed where no wake is allowed")
    no_wake_shore: Length = Field(0.0, description="No wake within this distance of the shore")
    least_depth: Length = Field(1.0, description="Water the boat needs")


class NoWakeTable(_Table):
    """``[[no_wake]]``."""

    at: PlaceDeg = Field(description="Middle of a no-wake zone: latitude, longitude")
    radius: Length = Field(description="How far it reaches")


class WeatherTable(_Table):
    """``[weather]``."""

    wind: str | None = Field(None, description='The wind forecast, "8 mph from SW"')
    sky: Literal["clear", "broken", "overcast"] = Field("clear", description="Clouds")


class WaterTable(_Table):
    """``[water]``."""

    clarity: Length | None = Field(None, description="Depth at which a white disk is lost")
    temperature: Temperature | None = Field(None, description="Temperature at the surface")
    profile: str | None = Field(None, description="File of temperature and oxygen over depth")
    profile_place: str | None = Field(None, description="Which lake or station in that file")
    thermocline: Length | None = Field(None, description="Depth of the thermocline")
    oxygen_floor: Length | None = Field(None, description="Depth below which oxygen is too low")


class TackleTable(_Table):
    """``[tackle]``."""

    kit: str | None = Field(None, description="Kit file; else kit.toml beside the trip, or demo")
    rods: int = Field(3, ge=0, le=8, description="Rods on deck")
    snaps: int = Field(1, ge=0, le=10, description="Lures to snap on, per rod")
    load_limit: float | None = Field(
        None, gt=0.0, le=1.0, description="Contact load that counts as light, 0.12 unless told"
    )


class FishTable(_Table):
    """``[fish]``."""

    species: Literal["largemouth", "smallmouth", "spotted"] = Field(
        "largemouth", description="Fish looked for"
    )
    seen: DepthRange | None = Field(None, description='Depths where you saw fish, "12-16 ft"')
    forage: Literal["baitfish", "crayfish", "panfish"] | None = Field(
        None, description="Food seen or known"
    )
    forage_depth: Length | None = Field(None, description="Its depth")
    pressure: Literal["light", "usual", "heavy"] = Field(
        "usual", description="How heavily the water is fished"
    )


class OverrideTable(_Table):
    """``[override]``."""

    targets: str | None = Field(
        None, description='What the day asks, your own word: "11 ft grass 30 %; 15 ft edge 70 %"'
    )
    sound: Literal["rattling", "silent"] | None = Field(None, description="Sound decided on")
    colour: Literal["natural", "light", "dark", "red"] | None = Field(
        None, description="Colour family decided on"
    )
    covers: dict[str, float] = Field(
        default_factory=dict, description="Weights of edge, flat, drop and open_water"
    )
    factors: dict[str, float] = Field(
        default_factory=dict, description="How much a factor of the outlook counts, 0 is off"
    )
    best_bites_per_hour: float | None = Field(
        None, gt=0.0, le=100.0, description="Bites an hour where it is best; 6 unless told"
    )


class AimTable(_Table):
    """``[aim]``."""

    want: Literal["bites", "weight"] = Field(
        "bites", description="bites, or the weight of the best fish"
    )
    count: int = Field(5, ge=1, le=50, description="How many fish count for weight")
    least_length: Length | None = Field(None, description="Least legal length, by local rules")
    culling: bool = Field(True, description="Whether a kept fish may be exchanged for a better one")
    usual_length: Length = Field(0.3556, description="Length of the middle fish there")
    length_spread: Length = Field(0.0635, description="Spread of lengths, one standard deviation")
    usual_length_drop: Length | None = Field(None, description="The same for fish on drops")
    landed: float = Field(0.7, gt=0.0, le=1.0, description="Share of bites that are landed")
    livewell_temperature: Temperature | None = Field(None, description="Water in the livewell")
    livewell_time: Time = Field(14400.0, description="Longest time to keep a fish in it")


class TripTable(_Table):
    """The whole file."""

    units: Literal["us", "metric"] | None = Field(None, description="us or metric; else as the kit")
    day: DayTable = Field(description="When")
    lake: LakeTable = Field(description="Where")
    launch: LaunchTable = Field(description="Where from")
    boat: BoatTable = Field(
        default_factory=lambda: BoatTable.model_validate({}), description="Boat"
    )
    no_wake: list[NoWakeTable] = Field(default_factory=list, description="No-wake zones")
    weather: WeatherTable = Field(
        default_factory=lambda: WeatherTable.model_validate({}), description="Wind and sky"
    )
    water: WaterTable = Field(
        default_factory=lambda: WaterTable.model_validate({}), description="What is known of it"
    )
    tackle: TackleTable = Field(
        default_factory=lambda: TackleTable.model_validate({}), description="Rods and snaps"
    )
    fish: FishTable = Field(
        default_factory=lambda: FishTable.model_validate({}), description="What was seen"
    )
    override: OverrideTable = Field(
        default_factory=lambda: OverrideTable.model_validate({}), description="Your own word"
    )
    aim: AimTable = Field(
        default_factory=lambda: AimTable.model_validate({}), description="Bites or weight"
    )


TRIP_TABLES: dict[str, type[BaseModel]] = {
    "day": DayTable,
    "lake": LakeTable,
    "launch": LaunchTable,
    "boat": BoatTable,
    "no_wake": NoWakeTable,
    "weather": WeatherTable,
    "water": WaterTable,
    "tackle": TackleTable,
    "fish": FishTable,
    "override": OverrideTable,
    "aim": AimTable,
}
"""Tables of the trip file by name."""
