"""What `match` is asked and what it answers."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from leadsman.display_units import US, DisplayUnits
from leadsman.errors import PlanError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.fouling import FoulingCoefficients
from leadsman.hydro.technique import Technique
from leadsman.hydro.zone import ACCEPTABLE_LOAD, LOAD_LIMITS_SHOWN, NEAR_BOTTOM_M
from leadsman.plan.tip_schedule import TipSchedule
from leadsman.water import Water

LEAST_WATER_M = 0.1
"""Water needed somewhere under a cast [m]. Own choice: less does not cover a lure."""


@dataclass(frozen=True, slots=True)
class DepthBand:
    """A band of depth to keep the lure in, for fish off the bottom.

    Parameters
    ----------
    top_m, bottom_m : float
        Shallow and deep edge [m].

    Raises
    ------
    PlanError
        The band is empty or out of the water.
    """

    top_m: float
    bottom_m: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.top_m < self.bottom_m:
            raise PlanError(
                f"depth band {self.top_m:.4g} to {self.bottom_m:.4g} m is empty or above water",
                "target",
                "Give the shallow edge first, such as 18-22 ft",
            )


@dataclass(frozen=True, slots=True)
class MatchRequest:
    """What to match the tackle to.

    Parameters
    ----------
    bottom : BottomProfile or None
        Bottom along the cast, with its grass if there is any; None only with
        a depth band, over water deep enough not to matter [-].
    band : DepthBand or None
        Depth band to keep the lure in; None asks for contact with the bottom
        or the top of the grass [-].
    limit_load : float
        Largest contact load that still counts, see
        `leadsman.hydro.zone.ACCEPTABLE_LOAD` for its reason [-].
    limits_shown : tuple of float
        Other limits for which the order is reported [-].
    near_m : float
        Gap that counts as near the bottom [m].
    schedules : bool
        Whether to search tip schedules, or only compare constant tips [-].
    schedules_for : int
        For how many of the best setups a schedule is searched [-].
    water : Water
        Density and viscosity [-].
    drag : DragLaw
        Drag of the line [-].
    fouling : FoulingCoefficients
        How readily grass holds a lure: assumptions [-].
    units : DisplayUnits
        Units of the sentences [-].

    Raises
    ------
    PlanError
        Neither a bottom nor a band is given, there is no water over the
        bottom, or the limit is outside 0 to 1.
    """

    bottom: BottomProfile | None = None
    band: DepthBand | None = None
    limit_load: float = ACCEPTABLE_LOAD
    limits_shown: tuple[float, ...] = LOAD_LIMITS_SHOWN
    near_m: float = NEAR_BOTTOM_M
    schedules: bool = True
    schedules_for: int = 40
    water: Water = field(default_factory=Water)
    drag: DragLaw = field(default_factory=DragLaw)
    fouling: FoulingCoefficients = field(default_factory=FoulingCoefficients)
    units: DisplayUnits = US

    def __post_init__(self) -> None:
        if self.bottom is None and self.band is None:
            raise PlanError(
                "there is neither a bottom nor a depth band to match",
                "target",
                "Give a bottom depth, a profile or a band such as 18-22 ft",
            )
        if self.bottom is not None and not float(np.max(self.bottom.depth_m)) >= LEAST_WATER_M:
            raise PlanError(
                "there is no water under the cast", "bottom", "Cast over water, not over land"
            )
        for limit in (self.limit_load, *self.limits_shown):
            if not 0.0 < limit <= 1.0:
                raise PlanError(
                    f"limit of acceptable load {limit:.4g} is outside 0 to 1",
                    "limit",
                    "Give a share such as 0.12",
                )

    @property
    def limits(self) -> tuple[float, ...]:
        """The limit that counts, then the others shown [-]."""
        return (self.limit_load, *self.limits_shown)


@dataclass(frozen=True, slots=True)
class Match:
    """One setup and how to fish it.

    Parameters
    ----------
    lure, line, rod : str
        Names in the kit; rod may be empty [-].
    cast_m : float
        Best of the allowed casts, tip to lure at the start [m].
    tip_m : float
        Height of the tip at the start [m].
    schedule : TipSchedule
        What the tip does through the retrieve [-].
    technique : Technique
        The whole retrieve, ready to be computed again [-].
    zone_m : float
        Expected zone length of a cast: over the error of the depth, and over
        fouling in grass. What the ranking goes by [m].
    zone_band_m : tuple of (float, float)
        Least and most zone length as the lure runs shallower or deeper than
        thought, by 1.73 standard errors, or as thought [m].
    nominal_zone_m : float
        Zone length if the lure runs exactly as thought [m].
    near_m, contact_m, plowing_m : float
        Metres near the bottom, in contact, and over the limit, nominal [m].
    mean_load : float
        Mean load over the contact; 0 without contact [-].
    first_contact_m, first_contact_s : float or None
        Distance gone and time until first contact, nominal [m], [s].
    free_max_depth_m : float
        Greatest depth of the same retrieve with nothing to stop it [m].
    constant_tip_m : float
        Best constant tip at the same cast [m].
    constant_zone_m : float
        Its expected zone length, never more than `zone_m` [m].
    travelled_m : float
        Horizontal metres of the retrieve [m].
    fouls : float
        Expected fouls in a cast [-].
    lost_chance : float
        Chance that grass ends the cast [-].
    band_s : float
        Seconds of a cast in the depth band, nominal; 0 without a band [s].
    line_touches : bool
        Whether the line itself touches something, which is not solved [-].
    reason : str
        Why it stands where it stands, one sentence [-].
    how : str
        What to do with the rod, as a person would say it [-].
    """

    lure: str
    line: str
    rod: str
    cast_m: float
    tip_m: float
    schedule: TipSchedule
    technique: Technique
    zone_m: float
    zone_band_m: tuple[float, float]
    nominal_zone_m: float
    near_m: float
    contact_m: float
    plowing_m: float
    mean_load: float
    first_contact_m: float | None
    first_contact_s: float | None
    free_max_depth_m: float
    constant_tip_m: float
    constant_zone_m: float
    travelled_m: float
    fouls: float
    lost_chance: float
    band_s: float
    line_touches: bool
    reason: str
    how: str

    @property
    def schedule_gain_m(self) -> float:
        """Expected zone gained by moving the tip over the best constant one [m]."""
        return self.zone_m - self.constant_zone_m


@dataclass(frozen=True, slots=True)
class Excluded:
    """A setup that is no use here.

    Parameters
    ----------
    lure, line, rod : str
        Names in the kit [-].
    kind : str
        ``"short"``, ``"plows"``, ``"fouls"`` or ``"misses"`` [-].
    free_max_depth_m : float
        Greatest depth of any allowed cast and rod position [m].
    zone_m : float
        What little zone it has [m].
    reason : str
        Why, one sentence [-].
    """

    lure: str
    line: str
    rod: str
    kind: str
    free_max_depth_m: float
    zone_m: float
    reason: str


@dataclass(frozen=True, slots=True)
class LimitOrder:
    """The order of the setups at one limit of acceptable load.

    Parameters
    ----------
    limit_load : float
        The limit [-].
    order : tuple of int
        Indices into the ranked list, best first [-].
    zone_m : tuple of float
        Expected zone of each ranked setup at that limit, in the ranked order,
        each with the best of the tips and schedules computed [m].
    """

    limit_load: float
    order: tuple[int, ...]
    zone_m: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class CastOption:
    """One setup with one cast and one constant tip, for the full table.

    Parameters
    ----------
    lure, line, rod : str
        Names in the kit [-].
    cast_m, tip_m : float
        Cast and tip height [m].
    zone_m : float
        Expected zone length [m].
    mean_load : float
        Mean load over the contact [-].
    free_max_depth_m : float
        Greatest depth free of the bottom [m].
    """

    lure: str
    line: str
    rod: str
    cast_m: float
    tip_m: float
    zone_m: float
    mean_load: float
    free_max_depth_m: float


@dataclass(frozen=True, slots=True)
class MatchResult:
    """The answer.

    Parameters
    ----------
    request : MatchRequest
        What was asked [-].
    headline : str
        The answer in one sentence [-].
    ranked : tuple of Match
        Setups by expected zone length, best first [-].
    excluded : tuple of Excluded
        Setups that are no use, with the reason [-].
    options : tuple of CastOption
        Every allowed cast and rod position with a constant tip, best first [-].
    limits : tuple of LimitOrder
        How the order moves with the limit of acceptable load [-].
    limit_sentence : str
        The same in one sentence [-].
    nearest : Excluded or None
        The nearest to an answer when nothing is ranked [-].
    cautions : tuple of str
        What to mind [-].
    """

    request: MatchRequest
    headline: str
    ranked: tuple[Match, ...]
    excluded: tuple[Excluded, ...]
    options: tuple[CastOption, ...]
    limits: tuple[LimitOrder, ...]
    limit_sentence: str
    nearest: Excluded | None
    cautions: tuple[str, ...]
