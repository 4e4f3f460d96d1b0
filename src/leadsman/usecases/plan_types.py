"""What a plan of a day says."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.plan.catch_weight import FishSizes
from leadsman.plan.day_plan import DayOrder, Offer
from leadsman.plan.day_stretches import DayStretch
from leadsman.plan.day_targets import DayTarget
from leadsman.plan.match_types import Match
from leadsman.plan.passes_types import PassPlan
from leadsman.plan.water_travel import WaterGrid
from leadsman.tackle.line import Line
from leadsman.tackle.lure import Lure
from leadsman.usecases.outlook import OutlookAnswer
from leadsman.usecases.resolve_trip import ResolvedTrip
from leadsman.usecases.rig import RigAnswer

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Served:
    """What is taken up for one target.

    Parameters
    ----------
    target : DayTarget
        What the day may ask [-].
    rod : int
        Number of the rod on deck, from 1 [-].
    lure : Lure
        The lure, in the sound that suits the day where a copy is owned [-].
    line : Line
        The line on that rod [-].
    way : Match
        How it is fished [-].
    rel_rate : float
        Bites for a metre of zone over those at the best target [-].
    snapped : bool
        Whether the lure is snapped on, not tied [-].
    """

    target: DayTarget
    rod: int
    lure: Lure
    line: Line
    way: Match
    rel_rate: float
    snapped: bool


@dataclass(frozen=True, slots=True)
class PlannedStretch:
    """One stretch of the day.

    Parameters
    ----------
    number : int
        Its turn, from 1 [-].
    stretch : DayStretch
        Where it is and why [-].
    served : Served
        What is cast there [-].
    arrive_s, leave_s : float
        When, in seconds of the day [s].
    bites : float
        Expected bites [-].
    passes : PassPlan or None
        Boat positions and casts; None where they could not be worked out [-].
    pass_note : str
        Why not; may be empty [-].
    way_m : ndarray, shape (k, 2)
        Way over water to it, in the lake's frame [m].
    """

    number: int
    stretch: DayStretch
    served: Served
    arrive_s: float
    leave_s: float
    bites: float
    passes: PassPlan | None
    pass_note: str
    way_m: FloatArray


@dataclass(frozen=True, slots=True)
class Candidates:
    """Everything the order of the day was chosen from; kept for a new plan on the water.

    Parameters
    ----------
    stretches : tuple of DayStretch
        Stretches [-].
    offers : tuple of Offer
        What each has to give [-].
    grid : WaterGrid
        Where the boat may go [-].
    travel_s : ndarray, shape (n + 2, n + 2)
        Times between them, the launch and home [s].
    sizes : FishSizes or None
        With them the aim is weight [-].
    """

    stretches: tuple[DayStretch, ...]
    offers: tuple[Offer, ...]
    grid: WaterGrid
    travel_s: FloatArray
    sizes: FishSizes | None


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    """The plan of a day.

    Parameters
    ----------
    found : ResolvedTrip
        The trip [-].
    outlook : OutlookAnswer
        What to expect of the day [-].
    rig : RigAnswer
        What is on the rods [-].
    served : tuple of Served
        What is taken up for each target that anything works [-].
    candidates : Candidates
        What the order was chosen from [-].
    order : DayOrder
        The order [-].
    stops : tuple of PlannedStretch
        Stretches in order; empty where none can be fished in time [-].
    home_way_m : ndarray, shape (k, 2)
        Way home over water [m].
    headline : str
        The answer in a sentence [-].
    short : tuple of str
        What could not be had as asked, and the nearest that can [-].
    notes : tuple of str
        What was read and assumed [-].
    cautions : tuple of str
        What to mind [-].
    """

    found: ResolvedTrip
    outlook: OutlookAnswer
    rig: RigAnswer
    served: tuple[Served, ...]
    candidates: Candidates
    order: DayOrder
    stops: tuple[PlannedStretch, ...]
    home_way_m: FloatArray
    headline: str
    short: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
