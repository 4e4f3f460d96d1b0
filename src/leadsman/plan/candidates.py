"""What may be tied on and cast: plain inputs of `match` and `levers`, free of any file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from leadsman.errors import PlanError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.fouling import REFERENCE_HOOKS, ClearingTackle
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.technique import TakeUp, Technique
from leadsman.hydro.zone import PathBatch
from leadsman.water import Water

DEPTH_REL_SE = 0.035
"""Relative standard error of a running depth that no observation has tightened [-].

Published fits of the drag of a cylinder differ by 8 %, which moves depth by 3.5 % (Cheng 2013,
J. Hydraul. Eng. 139:602, against White, Viscous Fluid Flow): the floor of an uncalibrated
depth. A lure known only from its package is worse; give what its fit says.
"""


@dataclass(frozen=True, slots=True)
class LureOption:
    """A lure that may be tied on.

    Parameters
    ----------
    name : str
        Its name in the kit [-].
    forces : LureForces
        Its two numbers, mass and buoyancy [-].
    open_hooks : int
        Open hook points, which foul [-].
    depth_rel_se : float
        Relative standard error of its running depth [-].

    Raises
    ------
    PlanError
        The standard error is outside 0 to 0.5 or hooks are negative.
    """

    name: str
    forces: LureForces
    open_hooks: int = REFERENCE_HOOKS
    depth_rel_se: float = DEPTH_REL_SE

    def __post_init__(self) -> None:
        if not 0.0 <= self.depth_rel_se <= 0.5:
            raise PlanError("relative error of its depth is outside 0 to 0.5", self.name)
        if self.open_hooks < 0:
            raise PlanError("open hooks cannot be negative", self.name)


@dataclass(frozen=True, slots=True)
class LineOption:
    """A line that may be on the reel.

    Parameters
    ----------
    name : str
        Its name in the kit [-].
    properties : LineProperties
        Diameter, density, modulus [-].
    breaking_n : float
        Breaking strength [N].

    Raises
    ------
    PlanError
        The strength is not above 0.
    """

    name: str
    properties: LineProperties
    breaking_n: float

    def __post_init__(self) -> None:
        if not self.breaking_n > 0.0:
            raise PlanError("breaking strength must be above 0", self.name)


@dataclass(frozen=True, slots=True)
class Candidate:
    """One lure on one line, with the casts and rod positions it may be fished with.

    Parameters
    ----------
    lure : LureOption
        The lure [-].
    line : LineOption
        The line [-].
    casts_m : tuple of float
        Horizontal distances tip to lure at the start that may be cast [m].
    tips_m : tuple of float
        Heights of the rod tip that may be held; a tip schedule stays between
        the lowest and the highest [m].
    reel_rate : float
        Handle turns per second with a take-up, else line taken in per second
        [turn s-1 or m s-1].
    take_up : TakeUp or None
        Take-up of the reel per turn [-].
    boat_m_s : float
        Drift of the boat toward the lure [m s-1].
    rod : str
        Name of the rod, empty if it does not matter [-].
    rod_power_n : float
        Pull at which the rod is fully bent [N].

    Raises
    ------
    PlanError
        There is no cast or no rod position, or the reel rate is not above 0.
    """

    lure: LureOption
    line: LineOption
    casts_m: tuple[float, ...]
    tips_m: tuple[float, ...]
    reel_rate: float = 1.3
    take_up: TakeUp | None = None
    boat_m_s: float = 0.0
    rod: str = ""
    rod_power_n: float = 45.0

    def __post_init__(self) -> None:
        if not self.casts_m:
            raise PlanError("there is no allowed cast", self.name, "Allow at least one cast length")
        if not self.tips_m:
            raise PlanError("there is no rod position", self.name, "Allow at least one tip height")
        if not self.reel_rate > 0.0:
            raise PlanError("reel rate must be above 0", self.name)

    @property
    def name(self) -> str:
        """Lure and line in words [-]."""
        return f"{self.lure.name} on {self.line.name}"

    @property
    def in_turns(self) -> bool:
        """Whether the retrieve is counted in handle turns; else in metres reeled in [-]."""
        return self.take_up is not None

    @property
    def lowest_tip_m(self) -> float:
        """Lowest rod position [m]."""
        return min(self.tips_m)

    @property
    def highest_tip_m(self) -> float:
        """Highest rod position [m]."""
        return max(self.tips_m)

    @property
    def clearing(self) -> ClearingTackle:
        """What can be brought to bear on a fouled lure [-]."""
        return ClearingTackle(
            breaking_n=self.line.breaking_n,
            stiffness_n=self.line.properties.stiffness_n,
            open_hooks=self.lure.open_hooks,
            rod_power_n=self.rod_power_n,
        )


@dataclass(frozen=True, slots=True)
class Trial:
    """One retrieve to be computed.

    Parameters
    ----------
    lure : LureForces
        The lure [-].
    line : LineProperties
        The line [-].
    technique : Technique
        How it is fished [-].
    """

    lure: LureForces
    line: LineProperties
    technique: Technique


PathSolver = Callable[[Sequence[Trial], BottomProfile | None, Water, DragLaw], PathBatch]
"""Computes many retrieves over one bottom, or free of any bottom with None."""

Progress = Callable[[float, str], None]
"""Called with the fraction done, 0 to 1, and what is being done."""
