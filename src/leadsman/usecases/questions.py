"""What a person may ask about one cast: tackle, technique, bottom and water."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from leadsman.errors import InputError
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.lake.load_soundings import SoundingOptions


@dataclass(frozen=True, slots=True)
class RawLure:
    """A lure by its numbers, in place of one from the kit.

    Parameters
    ----------
    dive_angle_rad : float
        Dive angle [rad].
    pull_area_m2 : float
        Pull area [m2].
    mass_kg : float
        Mass [kg].
    buoyancy_n : float
        Net buoyancy, positive floats [N].
    """

    dive_angle_rad: float
    pull_area_m2: float
    mass_kg: float = 0.015
    buoyancy_n: float = 0.0


@dataclass(frozen=True, slots=True)
class RawLine:
    """A line by its numbers, in place of one from the kit.

    Parameters
    ----------
    diameter_m : float
        Diameter [m].
    density_kg_m3 : float
        Density [kg m-3].
    modulus_pa : float
        Tensile modulus [Pa].
    """

    diameter_m: float
    density_kg_m3: float = 1780.0
    modulus_pa: float = 2.2e9


@dataclass(frozen=True, slots=True)
class SetupQuestion:
    """Which tackle is meant.

    Parameters
    ----------
    kit : pathlib.Path or None
        Kit file; None takes ``kit.toml`` here, else the demo kit [-].
    lure, line, rod, reel : str or None
        Names in the kit [-].
    raw_lure : RawLure or None
        Numbers in place of a lure [-].
    raw_line : RawLine or None
        Numbers in place of a line [-].
    units : str or None
        Units to answer in, ``us`` or ``metric``; None is as the kit says [-].
    """

    kit: Path | None = None
    lure: str | None = None
    line: str | None = None
    rod: str | None = None
    reel: str | None = None
    raw_lure: RawLure | None = None
    raw_line: RawLine | None = None
    units: str | None = None

    def __post_init__(self) -> None:
        if self.lure is not None and self.raw_lure is not None:
            raise InputError("a lure is given by name and by numbers", "--lure", "Give one of them")
        if self.line is not None and self.raw_line is not None:
            raise InputError("a line is given by name and by numbers", "--line", "Give one of them")


@dataclass(frozen=True, slots=True)
class TechniqueQuestion:
    """How the cast is fished.

    Parameters
    ----------
    cast_m : float or None
        Horizontal distance tip to lure at the start; None is the angler's usual cast [m].
    tip : str or float
        Rod position in a word, or height of the tip [m].
    speed_m_s : float or None
        Line taken in per second; None is the angler's usual pace [m s-1].
    turns_per_s : float or None
        Handle turns per second, in place of a speed [turn s-1].
    script : str or None
        Retrieve script; None reels steadily [-].
    boat_m_s : float
        Drift of the boat toward the lure [m s-1].
    cast_sd_m : float or None
        Spread of a cast that was measured; None takes the usual one [m].

    Raises
    ------
    InputError
        The spread of the cast is over half of it.
    """

    cast_m: float | None = None
    tip: str | float = "usual"
    speed_m_s: float | None = None
    turns_per_s: float | None = None
    script: str | None = None
    boat_m_s: float = 0.0
    cast_sd_m: float | None = None

    def __post_init__(self) -> None:
        if self.cast_sd_m is not None and self.cast_sd_m > 0.5 * (self.cast_m or 0.0):
            raise InputError(
                "the spread of the cast is over half of it", "--cast", "Write it like '60 +- 1 yd'"
            )


@dataclass(frozen=True, slots=True)
class TrackQuestion:
    """A cast over sounded water.

    Parameters
    ----------
    soundings : pathlib.Path
        Table or NMEA 0183 log [-].
    lat_deg, lon_deg : float
        Where the rod tip is [deg].
    heading_deg : float
        True heading of the cast [deg].
    options : SoundingOptions
        What is known of the file [-].
    level_m : float
        Water level now above that of the soundings [m].
    """

    soundings: Path
    lat_deg: float
    lon_deg: float
    heading_deg: float
    options: SoundingOptions = field(default_factory=SoundingOptions)
    level_m: float = 0.0


@dataclass(frozen=True, slots=True)
class LakeCastQuestion:
    """A cast on a lake that is kept.

    Parameters
    ----------
    name : str
        Name of the lake, or its beginning [-].
    lat_deg, lon_deg : float
        Where the rod tip is [deg].
    heading_deg : float
        True heading of the cast [deg].
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    level_m : float
        Water level now above the lake's reference level [m].
    """

    name: str
    lat_deg: float
    lon_deg: float
    heading_deg: float
    lakes: Path | None = None
    level_m: float = 0.0


@dataclass(frozen=True, slots=True)
class GrassQuestion:
    """Grass of one kind along the cast.

    Parameters
    ----------
    top_depth_m : float
        Depth of its top below the surface [m].
    density : float
        Fraction of the ground covered [-].
    from_m, to_m : float
        Where it begins and ends, from the rod tip [m].
    """

    top_depth_m: float
    density: float = 0.5
    from_m: float = 0.0
    to_m: float = 200.0


@dataclass(frozen=True, slots=True)
class BottomQuestion:
    """What lies under the cast.

    Parameters
    ----------
    depths : str or None
        Depths as a person types them: "10 ft", "8,9,10,12 ft", "0 yd: 8 ft, 30 yd: 10 ft" [-].
    track : TrackQuestion or None
        A cast over soundings, in place of typed depths [-].
    grass : GrassQuestion or None
        Grass on it [-].
    friction : float
        Coefficient of friction between lure and bottom [-].
    lake : LakeCastQuestion or None
        A cast on a lake that is kept, in place of both [-].
    """

    depths: str | None = None
    track: TrackQuestion | None = None
    grass: GrassQuestion | None = None
    friction: float = 0.0
    lake: LakeCastQuestion | None = None

    def __post_init__(self) -> None:
        given = [item for item in (self.depths, self.track, self.lake) if item is not None]
        if len(given) > 1:
            raise InputError(
                "the bottom is given twice",
                "--bottom",
                "Give one of --bottom, --soundings and --lake",
            )
        if self.grass is not None and not given:
            raise InputError("grass needs a bottom to stand on", "--grass-top", "Give --bottom too")
        if not given and self.friction != 0.0:
            raise InputError("friction needs a bottom to rub on", "--friction", "Give --bottom too")


@dataclass(frozen=True, slots=True)
class WaterQuestion:
    """The water and the drag of the line in it.

    Parameters
    ----------
    temperature_c : float
        Temperature [degC].
    density_kg_m3 : float or None
        Density in place of that of fresh water [kg m-3].
    normal_constant : float or None
        Fixed normal drag coefficient [-].
    tangential : float or None
        Fixed tangential drag coefficient [-].
    """

    temperature_c: float = 20.0
    density_kg_m3: float | None = None
    normal_constant: float | None = None
    tangential: float | None = None


@dataclass(frozen=True, slots=True)
class DepthQuestion:
    """How deep does this setup run?

    Parameters
    ----------
    setup : SetupQuestion
        The tackle [-].
    technique : TechniqueQuestion
        How it is fished [-].
    bottom : BottomQuestion
        What lies under the cast [-].
    water : WaterQuestion
        The water [-].
    load_limit : float
        Largest contact load that counts as light [-].
    target_m : tuple of float or None
        Depth band to be in [m].
    """

    setup: SetupQuestion = field(default_factory=SetupQuestion)
    technique: TechniqueQuestion = field(default_factory=TechniqueQuestion)
    bottom: BottomQuestion = field(default_factory=BottomQuestion)
    water: WaterQuestion = field(default_factory=WaterQuestion)
    load_limit: float = ACCEPTABLE_LOAD
    target_m: tuple[float, float] | None = None
