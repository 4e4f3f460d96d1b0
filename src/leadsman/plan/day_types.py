"""What is known of a day before launch, and what it makes likely."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import numpy.typing as npt

from leadsman.belief.levels import COVERS, LADDER, ColourFamily, Cover, Sound
from leadsman.display_units import US, DisplayUnits
from leadsman.errors import PlanError
from leadsman.lake.estimate import Estimate
from leadsman.lake.water_column import WaterProfile

FloatArray = npt.NDArray[np.float64]

Species = Literal["largemouth", "smallmouth", "spotted"]
Sky = Literal["clear", "broken", "overcast"]
Forage = Literal["baitfish", "crayfish", "panfish"]
Grass = Literal["none", "some", "thick"]
Pressure = Literal["light", "usual", "heavy"]
Basis = Literal["published, strength assumed", "common practice", "own assumption", "your word"]

DEEPEST_GRID_M = 30.0
"""Depth below which nothing is asked [m]; three times what a diving lure reaches."""
STEP_M = 0.1
"""Step of the depth grid [m]; a third of the depth at which a touch is felt as right or wrong."""


@dataclass(frozen=True, slots=True)
class HourOfSun:
    """The sun in the middle of one hour.

    Parameters
    ----------
    start_h : float
        Start of the hour on the angler's clock [h].
    elevation_rad : float
        Height of the sun above the horizon, negative below [rad].
    """

    start_h: float
    elevation_rad: float


@dataclass(frozen=True, slots=True)
class Day:
    """Everything known of a day; what is not known is None.

    Parameters
    ----------
    max_depth_m : float
        Greatest depth of the water that is fished [m].
    species : {"largemouth", "smallmouth", "spotted"}
        Fish looked for [-].
    profile : WaterProfile or None
        Temperature and oxygen over depth [-].
    surface_c : Estimate or None
        Temperature at the surface [degC].
    thermocline_m : Estimate or None
        Depth of the thermocline [m].
    oxygen_floor_m : Estimate or None
        First depth with too little oxygen, where no profile tells it [m].
    secchi_m : Estimate or None
        Depth at which a white disk is lost from sight [m].
    grass : {"none", "some", "thick"} or None
        How much grass there is [-].
    grass_edge_m : Estimate or None
        Depth of the outside edge of the deepest grass [m].
    warming : bool or None
        Whether the season runs from winter to midsummer [-].
    summer : bool
        Whether the date lies where lakes are layered [-].
    hours : tuple of HourOfSun
        The hours to be fished, empty without date and place [-].
    sky : {"clear", "broken", "overcast"}
        Clouds [-].
    wind_m_s : float or None
        Wind [m s-1].
    forage : {"baitfish", "crayfish", "panfish"} or None
        What the fish are thought to eat [-].
    forage_m : float or None
        Depth it was seen at [m].
    pressure : {"light", "usual", "heavy"}
        How heavily the water is fished [-].
    fish_m : tuple of float or None
        Depths at which the angler already knows fish [m].
    reach_m : float or None
        Greatest depth any owned lure reaches [m].
    cover_weights : mapping of str to float
        The angler's own weights of covers, 1 where not named [-].
    strengths : mapping of str to float
        How much a factor counts by its key: 1 as it is, 0 switched off [-].
    sound : {"rattling", "silent"} or None
        Sound the angler has decided on [-].
    colour : {"natural", "light", "dark", "red"} or None
        Colour family the angler has decided on [-].
    units : DisplayUnits
        Units of the sentences [-].

    Raises
    ------
    PlanError
        A number is outside what can be.
    """

    max_depth_m: float
    species: Species = "largemouth"
    profile: WaterProfile | None = None
    surface_c: Estimate | None = None
    thermocline_m: Estimate | None = None
    oxygen_floor_m: Estimate | None = None
    secchi_m: Estimate | None = None
    grass: Grass | None = None
    grass_edge_m: Estimate | None = None
    warming: bool | None = None
    summer: bool = False
    hours: tuple[HourOfSun, ...] = ()
    sky: Sky = "clear"
    wind_m_s: float | None = None
    forage: Forage | None = None
    forage_m: float | None = None
    pressure: Pressure = "usual"
    fish_m: tuple[float, float] | None = None
    reach_m: float | None = None
    cover_weights: Mapping[str, float] = field(default_factory=dict)
    strengths: Mapping[str, float] = field(default_factory=dict)
    sound: Sound | None = None
    colour: ColourFamily | None = None
    units: DisplayUnits = US

    def __post_init__(self) -> None:
        if not 1.0 <= self.max_depth_m <= 1700.0:
            raise PlanError(
                f"water {self.max_depth_m:.4g} m deep is outside 1 to 1700 m", "greatest depth"
            )
        for name, value in self.strengths.items():
            if not 0.0 <= value <= 4.0:
                raise PlanError(
                    f"a weight of {value:.3g} for {name} is outside 0 to 4",
                    "weight of a factor",
                    "0 switches it off, 1 leaves it, 2 counts it double",
                )
        if not any(self.cover_weights.get(cover, 1.0) > 0.0 for cover in COVERS):
            raise PlanError("every cover has weight 0", "covers", "Give one above 0")
        if any(not 0.0 <= value <= 100.0 for value in self.cover_weights.values()):
            raise PlanError("a weight of a cover is outside 0 to 100", "covers")

    def grid_m(self) -> FloatArray:
        """Depths at which the belief is held, from the surface to the bottom [m]."""
        deepest = min(self.max_depth_m, DEEPEST_GRID_M)
        return np.linspace(0.0, deepest, max(round(deepest / STEP_M), 10) + 1)


@dataclass(frozen=True, slots=True, eq=False)
class DayFactor:
    """One thing that moves the belief.

    Parameters
    ----------
    key : str
        Word by which it is switched off or weighed [-].
    known : str
        What is known, with its unit [-].
    effect : str
        What it does, a sentence [-].
    basis : {"published, strength assumed", "common practice", "own assumption", "your word"}
        What the effect rests on [-].
    source : str
        The publication, or what is assumed and how widely [-].
    is_guess : bool
        Whether what is known is itself a guess [-].
    depth : ndarray, shape (n,)
        Factor on each depth of the grid, 1 where it says nothing [-].
    cover : mapping of str to float
        Factor on covers, 1 where not named [-].
    strength : float
        How much it counts: 1 as it is, 0 not at all [-].
    shift_m : float
        How far the middle of the belief lies deeper with it than without it [m].
    moved : float
        Share of the belief that it moves to another depth [-].
    """

    key: str
    known: str
    effect: str
    basis: Basis
    source: str
    is_guess: bool
    depth: FloatArray
    cover: Mapping[str, float] = field(default_factory=dict)
    strength: float = 1.0
    shift_m: float = 0.0
    moved: float = 0.0


@dataclass(frozen=True, slots=True)
class BandChance:
    """How likely one band of depth is.

    Parameters
    ----------
    low_m, high_m : float
        Limits [m].
    fish : float
        Chance that a fish lies in it [-].
    lure : float
        Chance that a lure in it is met by a fish that bites: the fish there and those below that
        come up [-].
    """

    low_m: float
    high_m: float
    fish: float
    lure: float


@dataclass(frozen=True, slots=True)
class DepthMiddle:
    """Middle, half and nine tenths of a belief over depth.

    Parameters
    ----------
    median, low_50, high_50, low_90, high_90 : float
        Depths [m].
    """

    median: float
    low_50: float
    high_50: float
    low_90: float
    high_90: float


@dataclass(frozen=True, slots=True)
class HourChance:
    """One hour of the day.

    Parameters
    ----------
    start_h : float
        Start on the angler's clock [h].
    elevation_rad : float
        Height of the sun in its middle [rad].
    weight : float
        Bites expected over those of the day's mean hour [-].
    fish_m : DepthMiddle
        Where the fish are in that hour [m].
    """

    start_h: float
    elevation_rad: float
    weight: float
    fish_m: DepthMiddle


@dataclass(frozen=True, slots=True)
class RuledOut:
    """A stretch of depth in which next to no fish is expected.

    Parameters
    ----------
    low_m, high_m : float
        Limits [m].
    left : float
        Belief left in it [-].
    why : str
        The reason [-].
    """

    low_m: float
    high_m: float
    left: float
    why: str


@dataclass(frozen=True, slots=True)
class StartWith:
    """Sound and colour family to tie on first.

    Parameters
    ----------
    sound : {"rattling", "silent"}
        Sound [-].
    sounds : mapping of str to float
        Weight of each sound [-].
    sound_why : str
        The reason [-].
    colour : {"natural", "light", "dark", "red"}
        Colour family [-].
    colours : mapping of str to float
        Weight of each family [-].
    colour_why : str
        The reason [-].
    """

    sound: Sound
    sounds: Mapping[Sound, float]
    sound_why: str
    colour: ColourFamily
    colours: Mapping[ColourFamily, float]
    colour_why: str


@dataclass(frozen=True, slots=True, eq=False)
class Outlook:
    """What to expect of the day.

    Parameters
    ----------
    day : Day
        What it rests on [-].
    depth_m : ndarray, shape (n,)
        Grid of depths [m].
    fish_per_m, lure_per_m : ndarray, shape (n,)
        Belief over the depth of the fish, and over the depth of a lure that they take [m-1].
    fish_m, lure_m : DepthMiddle
        Middles and bands of both [m].
    median_band_m : tuple of float
        Middle of the fish if each factor counted half or double [m].
    bands : tuple of BandChance
        The bands of `belief.levels.LADDER`, and what lies deeper [-].
    covers : mapping of str to float
        Chance of each cover [-].
    joint : ndarray, shape (bands, covers)
        Chance of each band with each cover, for the lure [-].
    hours : tuple of HourChance
        The hours to be fished [-].
    factors : tuple of DayFactor
        What moved the belief, in the order it was applied [-].
    unused : tuple of str
        What could have helped and is not known or was switched off [-].
    ruled_out : tuple of RuledOut
        Depths with next to no belief [-].
    start : StartWith
        Sound and colour family [-].
    come_up_m : float
        How far fish are thought to rise to a lure [m].
    reach : str
        What to do where lures do not reach the fish; empty if they do [-].
    cautions : tuple of str
        What to mind [-].
    """

    day: Day
    depth_m: FloatArray
    fish_per_m: FloatArray
    lure_per_m: FloatArray
    fish_m: DepthMiddle
    lure_m: DepthMiddle
    median_band_m: tuple[float, float]
    bands: tuple[BandChance, ...]
    covers: Mapping[Cover, float]
    joint: FloatArray
    hours: tuple[HourChance, ...]
    factors: tuple[DayFactor, ...]
    unused: tuple[str, ...]
    ruled_out: tuple[RuledOut, ...]
    start: StartWith
    come_up_m: float
    reach: str
    cautions: tuple[str, ...]

    def rate_weights(self) -> dict[str, dict[str, float]]:
        """Relative rates of bites by level, as `belief.outlook_prior.rate_prior` takes them [-].

        A rate belongs to a metre of depth, so a band counts by its chance over its thickness.
        """
        depth = {str(i): 0.0 for i in range(len(LADDER))}
        for band in self.bands:
            i = LADDER.index_of(0.5 * (band.low_m + band.high_m))
            depth[str(i)] = max(depth[str(i)], band.lure / (band.high_m - band.low_m))
        return {
            "depth": depth,
            "cover": {str(name): chance for name, chance in self.covers.items()},
            "sound": {str(name): chance for name, chance in self.start.sounds.items()},
            "colour": {str(name): chance for name, chance in self.start.colours.items()},
        }
