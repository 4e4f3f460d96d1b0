"""How a cast is fished: its length, the retrieve as a script, rod tip and boat."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from leadsman.errors import TechniqueError

StepKind = Literal["reel", "stop", "sweep"]


@dataclass(frozen=True, slots=True)
class TakeUp:
    """Line taken in per handle turn, which falls as the spool empties.

    The winding layer is an annulus, so the square of the take-up is linear in
    the line that is off the spool: u^2 = full^2 - (full^2 - half^2) * 2 * out / capacity.

    Parameters
    ----------
    full_m : float
        Take-up per turn with a full spool [m].
    half_m : float
        Take-up per turn with half of the capacity off the spool [m].
    capacity_m : float
        Line on the full spool, of the line that is spooled [m].
    """

    full_m: float
    half_m: float
    capacity_m: float

    def __post_init__(self) -> None:
        if not 0.05 <= self.half_m <= self.full_m <= 3.0:
            raise TechniqueError(
                "take-up per turn must fall from full to half spool within 0.05 to 3 m", "take-up"
            )
        if not 10.0 <= self.capacity_m <= 5000.0:
            raise TechniqueError("line capacity is outside 10 to 5000 m", "capacity")

    def per_turn_m(self, line_out_m: float) -> float:
        """Take-up per turn with some line off the spool [m].

        Parameters
        ----------
        line_out_m : float
            Line off the spool [m].
        """
        loss = (self.full_m**2 - self.half_m**2) * 2.0 * line_out_m / self.capacity_m
        return math.sqrt(max(self.full_m**2 - loss, (0.2 * self.full_m) ** 2))


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a retrieve script.

    A *reel* step takes line in; a *stop* takes none; a *sweep* moves the rod
    (a lift, or with a short time a snap), taking line in only if it has a
    speed. During any step the tip goes evenly from where it was to `tip_m`.

    Parameters
    ----------
    kind : {"reel", "stop", "sweep"}
        What is done [-].
    seconds : float
        How long; ``math.inf`` reels until the lure is home [s].
    speed_m_s : float
        Line taken in per second, or turns per second where the technique has
        a `TakeUp` [m s-1 or turn s-1].
    tip_m : float or None
        Height of the tip above the water at the end of the step, negative
        under water; None keeps it [m].
    pull_back_m : float
        How far the step draws the tip horizontally away from the lure [m].
    """

    kind: StepKind
    seconds: float = math.inf
    speed_m_s: float = 0.0
    tip_m: float | None = None
    pull_back_m: float = 0.0

    def __post_init__(self) -> None:
        if self.kind not in ("reel", "stop", "sweep"):
            raise TechniqueError(
                f"unknown step {self.kind!r}", "retrieve", "Use reel, stop or sweep"
            )
        if not self.seconds > 0.0:
            raise TechniqueError("a step takes more than 0 s", "retrieve")
        if self.kind == "reel" and not self.speed_m_s > 0.0:
            raise TechniqueError("a reel step needs a speed above 0", "retrieve")
        if not 0.0 <= self.speed_m_s <= 10.0:
            raise TechniqueError("speed is outside 0 to 10 m/s", "retrieve")
        if self.kind != "reel" and math.isinf(self.seconds):
            raise TechniqueError(f"a {self.kind} step needs an end", "retrieve", "Give its seconds")
        if self.tip_m is not None and not -5.0 <= self.tip_m <= 10.0:
            raise TechniqueError("rod tip is outside 5 m under water to 10 m up", "tip height")
        if not -5.0 <= self.pull_back_m <= 5.0:
            raise TechniqueError("the tip moves at most 5 m in a step", "retrieve")


@dataclass(frozen=True, slots=True)
class Technique:
    """How one cast is fished.

    The script runs once; after its last step the last reel step goes on until
    the lure is home.

    Parameters
    ----------
    cast_m : float
        Horizontal distance from rod tip to lure when the retrieve starts, the
        lure lying at the surface [m].
    tip_m : float
        Height of the rod tip above the water at the start, negative under
        water [m].
    steps : tuple of Step
        The retrieve script; at least one reel step [-].
    take_up : TakeUp or None
        When given, reel speeds are turns per second [-].
    boat_m_s : float
        Horizontal velocity of the boat, and with it of the tip, toward the
        lure positive, along the plane of the retrieve [m s-1].
    """

    cast_m: float
    tip_m: float
    steps: tuple[Step, ...]
    take_up: TakeUp | None = None
    boat_m_s: float = 0.0

    def __post_init__(self) -> None:
        if not 1.0 <= self.cast_m <= 200.0:
            raise TechniqueError(
                f"cast of {self.cast_m:.4g} m is outside 1 to 200 m (1.1 to 219 yd)",
                "cast",
                f"Give a {'longer' if self.cast_m < 1.0 else 'shorter'} cast",
            )
        if not -5.0 <= self.tip_m <= 10.0:
            raise TechniqueError("rod tip is outside 5 m under water to 10 m up", "tip height")
        if not any(step.kind == "reel" for step in self.steps):
            raise TechniqueError("the script never reels", "retrieve", "Add a reel step")
        if not -3.0 <= self.boat_m_s <= 3.0:
            raise TechniqueError("boat speed is outside -3 to 3 m/s", "boat")

    @classmethod
    def steady(
        cls, cast_m: float, tip_m: float = 0.6, speed_m_s: float = 1.3, boat_m_s: float = 0.0
    ) -> Technique:
        """Reel at one speed with the tip at one height.

        Parameters
        ----------
        cast_m : float
            Horizontal distance from rod tip to lure at the start [m].
        tip_m : float
            Height of the rod tip [m].
        speed_m_s : float
            Line taken in per second [m s-1].
        boat_m_s : float
            Velocity of the boat toward the lure [m s-1].
        """
        return cls(cast_m, tip_m, (Step("reel", speed_m_s=speed_m_s),), boat_m_s=boat_m_s)
