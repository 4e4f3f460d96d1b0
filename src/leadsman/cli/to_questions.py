"""From option text to the questions of the use cases: units become SI here."""

from __future__ import annotations

import math
import re

from leadsman.cli.option_groups import (
    AimOptions,
    BottomOptions,
    CastOptions,
    KitOption,
    TackleOptions,
    WaterOptions,
)
from leadsman.dimensions import LENGTH
from leadsman.errors import InputError, QuantityError
from leadsman.hydro.cast_flight import Wind
from leadsman.lake.load_soundings import SoundingOptions
from leadsman.lake.read_csv import CsvOptions
from leadsman.units import (
    parse_angle_rad,
    parse_area_m2,
    parse_density_kg_m3,
    parse_force_n,
    parse_length_m,
    parse_mass_kg,
    parse_pressure_pa,
    parse_range,
    parse_speed_m_s,
    parse_spread,
    parse_temperature_c,
)
from leadsman.usecases.questions import (
    BottomQuestion,
    DepthQuestion,
    GrassQuestion,
    LakeCastQuestion,
    RawLine,
    RawLure,
    SetupQuestion,
    TechniqueQuestion,
    TrackQuestion,
    WaterQuestion,
)
from leadsman.usecases.wind_text import parse_wind


def modulus_pa(text: str) -> float:
    """Tensile modulus; ``inf`` is a line that does not stretch [Pa].

    Parameters
    ----------
    text : str
        Text of the option [-].
    """
    return math.inf if text.strip().lower() == "inf" else parse_pressure_pa(text, "--modulus")


def setup_question(
    kit: KitOption, tackle: TackleOptions, units: str | None = None
) -> SetupQuestion:
    """The tackle that is meant."""
    raw_lure = None
    if tackle.dive_angle is not None or tackle.pull_area is not None:
        if tackle.dive_angle is None or tackle.pull_area is None:
            raise InputError(
                "a lure by numbers needs both", "--dive-angle", "Give --dive-angle and --pull-area"
            )
        raw_lure = RawLure(
            parse_angle_rad(tackle.dive_angle, "--dive-angle"),
            parse_area_m2(tackle.pull_area, "--pull-area"),
            parse_mass_kg(tackle.lure_mass, "--lure-mass") if tackle.lure_mass else 0.015,
            parse_force_n(tackle.buoyancy, "--buoyancy") if tackle.buoyancy else 0.0,
        )
    elif tackle.lure_mass is not None or tackle.buoyancy is not None:
        raise InputError(
            "mass and buoyancy go with a lure by numbers",
            "--lure-mass",
            "Add --dive-angle and --pull-area, or change the lure in the kit file",
        )
    raw_line = None
    if tackle.diameter is not None:
        raw_line = RawLine(
            parse_length_m(tackle.diameter, "--diameter"),
            parse_density_kg_m3(tackle.density, "--density") if tackle.density else 1780.0,
            modulus_pa(tackle.modulus) if tackle.modulus else 2.2e9,
        )
    elif tackle.density is not None or tackle.modulus is not None:
        raise InputError(
            "density and modulus go with a line by numbers", "--density", "Add --diameter"
        )
    return SetupQuestion(
        kit.kit, tackle.lure, tackle.line, tackle.rod, tackle.reel, raw_lure, raw_line, units
    )


def technique_question(cast: CastOptions) -> TechniqueQuestion:
    """How the cast is fished."""
    turns = None
    if cast.turns is not None:
        try:
            turns = float(re.sub(r"(?i)\s*(turns?)?\s*(/|per|a)?\s*s(ec(ond)?)?$", "", cast.turns))
        except ValueError:
            turns = math.nan
        if not 0.05 <= turns <= 20.0:
            raise QuantityError(
                f"{cast.turns[:40]!r} is not a number of turns per second from 0.05 to 20",
                "--turns",
                "Give for example --turns 2",
            )
    cast_m, cast_sd_m = parse_spread(cast.cast, LENGTH, "--cast") if cast.cast else (None, None)
    return TechniqueQuestion(
        cast_m=cast_m,
        cast_sd_m=cast_sd_m,
        tip=tip_position(cast.tip_height, "--tip-height"),
        speed_m_s=parse_speed_m_s(cast.speed, "--speed") if cast.speed else None,
        turns_per_s=turns,
        script=cast.retrieve,
        boat_m_s=parse_speed_m_s(cast.boat, "--boat") if cast.boat else 0.0,
    )


def wind_of(cast: CastOptions, bottom: BottomOptions) -> Wind | None:
    """The wind, None where it is not told."""
    return parse_wind(cast.wind, bottom.heading) if cast.wind else None


def bottom_question(bottom: BottomOptions) -> BottomQuestion:
    """What lies under the cast."""
    grass = None
    if bottom.grass_top is not None:
        grass = GrassQuestion(
            parse_length_m(bottom.grass_top, "--grass-top"),
            bottom.grass_density,
            parse_length_m(bottom.grass_from, "--grass-from") if bottom.grass_from else 0.0,
            parse_length_m(bottom.grass_to, "--grass-to") if bottom.grass_to else 200.0,
        )
    elif bottom.grass_from is not None or bottom.grass_to is not None:
        raise InputError("grass needs the depth of its top", "--grass-top", "Add --grass-top")
    return BottomQuestion(bottom.bottom, _track(bottom), grass, bottom.friction, _lake_cast(bottom))


def _lake_cast(bottom: BottomOptions) -> LakeCastQuestion | None:
    if bottom.lake is None:
        if bottom.lakes is not None:
            raise InputError("which lake is not told", "--lakes", "Add --lake NAME")
        return None
    if bottom.at is None or bottom.heading is None:
        raise InputError(
            "a cast on a lake needs its place and its heading",
            "--lake",
            "Add --at latitude,longitude and --heading degrees",
        )
    lat_deg, lon_deg = position_deg(bottom.at, "--at")
    level_m = parse_length_m(bottom.level, "--level") if bottom.level else 0.0
    return LakeCastQuestion(bottom.lake, lat_deg, lon_deg, bottom.heading, bottom.lakes, level_m)


def _track(bottom: BottomOptions) -> TrackQuestion | None:
    if bottom.soundings is None:
        given = [
            name
            for name, value in (("--at", bottom.at), ("--heading", bottom.heading))
            if value is not None
        ]
        if bottom.at is not None and bottom.lake is None:
            raise InputError(
                f"{given[0]} needs soundings or a lake",
                given[0],
                "Add --soundings FILE or --lake NAME",
            )
        return None
    if bottom.at is None or bottom.heading is None:
        raise InputError(
            "a cast over soundings needs its place and its heading",
            "--soundings",
            "Add --at latitude,longitude and --heading degrees",
        )
    lat_deg, lon_deg = position_deg(bottom.at, "--at")
    return TrackQuestion(
        bottom.soundings,
        lat_deg,
        lon_deg,
        bottom.heading,
        SoundingOptions(
            CsvOptions(
                lon_column=bottom.lon_column,
                lat_column=bottom.lat_column,
                depth_column=bottom.depth_column,
                depth_unit=bottom.depth_unit,
            )
        ),
        parse_length_m(bottom.level, "--level") if bottom.level else 0.0,
    )


def depth_question(
    kit: KitOption,
    tackle: TackleOptions,
    cast: CastOptions,
    bottom: BottomOptions,
    aim: AimOptions,
    water: WaterOptions,
    units: str | None,
) -> DepthQuestion:
    """All that is asked about one setup."""
    return DepthQuestion(
        setup_question(kit, tackle, units),
        technique_question(cast),
        bottom_question(bottom),
        water_question(water),
        aim.load_limit,
        target_m(aim),
    )


def position_deg(text: str, where: str) -> tuple[float, float]:
    """Latitude and longitude from text such as ``45.1,-93.2`` [deg].

    Parameters
    ----------
    text : str
        Text of the option [-].
    where : str
        Name of the option [-].
    """
    parts = [part for part in re.split(r"[,;\s]+", text.strip()) if part]
    try:
        lat_deg, lon_deg = (float(part) for part in parts)
    except ValueError:
        raise InputError(
            f"{text[:60]!r} is not a place", where, "Write latitude,longitude such as 45.1,-93.2"
        ) from None
    if not (abs(lat_deg) <= 90.0 and abs(lon_deg) <= 180.0):
        raise InputError(
            f"{text[:60]!r} is not a place on Earth", where, "Latitude comes first, in degrees"
        )
    return lat_deg, lon_deg


def water_question(water: WaterOptions) -> WaterQuestion:
    """The water and the drag of the line in it."""
    return WaterQuestion(
        parse_temperature_c(water.water_temperature, "--water-temperature"),
        (
            parse_density_kg_m3(water.water_density, "--water-density")
            if water.water_density
            else None
        ),
        water.cn,
        water.ct,
    )


def target_m(aim: AimOptions) -> tuple[float, float] | None:
    """Wanted depth band [m], None where contact is wanted."""
    if aim.target is None:
        return None
    band = parse_range(aim.target, LENGTH, "--target")
    if not 0.0 <= band.low < band.high:
        raise QuantityError(
            f"{aim.target[:40]!r} is not a band of depth", "--target", "Write it like 18-22ft"
        )
    return band.low, band.high


def tip_position(text: str, where: str) -> str | float:
    """A rod position: a word as it is, or a height [m].

    Parameters
    ----------
    text : str
        Text of the option [-].
    where : str
        Name of the option [-].
    """
    word = re.fullmatch(r"\s*([A-Za-z]+)\s*", text)
    return word.group(1).lower() if word else parse_length_m(text, where)


def tip_positions(text: str) -> tuple[str | float, ...]:
    """Rod positions separated by commas.

    Parameters
    ----------
    text : str
        Text of the option [-].
    """
    parts = [part for part in text.split(",") if part.strip()]
    if not parts:
        raise InputError("no rod position is allowed", "--tips", "Write for example low,usual,high")
    return tuple(tip_position(part, "--tips") for part in parts)


def casts_m(text: str | None) -> tuple[float, ...]:
    """Casts separated by commas; a unit after the last holds for bare ones [m].

    Parameters
    ----------
    text : str or None
        Text of the option; None allows the angler's own [-].
    """
    if text is None:
        return ()
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not parts:
        raise InputError("no cast is allowed", "--cast", "Write for example '30 yd, 60 yd'")
    unit = re.search(r"([A-Za-z]+)\s*$", parts[-1])
    return tuple(
        parse_length_m(part, "--cast", default_unit=unit.group(1) if unit else None)
        for part in parts
    )
