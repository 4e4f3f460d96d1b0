"""A diving lure as it lies in the box."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leadsman.dimensions import ANGLE, AREA, FORCE, LENGTH, MASS
from leadsman.errors import KitError, Where
from leadsman.tackle.checks import check_between, check_name
from leadsman.tackle.line_materials import MATERIALS, MaterialName

LipShape = Literal["rounded", "square"]
Balance = Literal["floats", "suspends", "sinks"]
Sound = Literal["rattling", "silent"]
ColourFamily = Literal["natural", "bright", "pale", "dark", "crawfish"]

LIP_SHAPES: tuple[LipShape, ...] = ("rounded", "square")
BALANCES: tuple[Balance, ...] = ("floats", "suspends", "sinks")
SOUNDS: tuple[Sound, ...] = ("rattling", "silent")
COLOUR_FAMILIES: tuple[ColourFamily, ...] = ("natural", "bright", "pale", "dark", "crawfish")


@dataclass(frozen=True, slots=True)
class DepthTest:
    """How a rated depth was found, as far as it is told.

    Parameters
    ----------
    line_material : {"nylon", "fluorocarbon", "copolymer", "braid"} or None
        Material of the line of the test; None if it is not told [-].
    line_test_n : float or None
        Its pound test [N].
    line_diameter_m : float or None
        Its diameter [m].
    cast_m : float or None
        Length of the cast [m].
    tip_m : float or None
        Height of the rod tip, negative under water [m].
    """

    line_material: MaterialName | None = None
    line_test_n: float | None = None
    line_diameter_m: float | None = None
    cast_m: float | None = None
    tip_m: float | None = None

    def __post_init__(self) -> None:
        if self.line_material is not None:
            _check_word(self.line_material, tuple(MATERIALS), "rated_line_material")
        if self.line_test_n is not None:
            check_between(self.line_test_n, 2.0, 1000.0, "rated_line_test", FORCE, "lb")
        if self.line_diameter_m is not None:
            check_between(self.line_diameter_m, 5e-5, 2e-3, "rated_line_diameter", LENGTH, "mm")
        if self.cast_m is not None:
            check_between(self.cast_m, 5.0, 150.0, "rated_cast", LENGTH, "yd")
        if self.tip_m is not None:
            check_between(self.tip_m, -3.0, 6.0, "rated_tip", LENGTH, "ft")


@dataclass(frozen=True, slots=True)
class RatedDepth:
    """The depth a package promises.

    Parameters
    ----------
    shallow_m : float
        Shallower end of the promise [m].
    deep_m : float
        Deeper end; equal to `shallow_m` where one figure is given [m].
    test : DepthTest
        How it was found [-].
    """

    shallow_m: float
    deep_m: float
    test: DepthTest = DepthTest()

    def __post_init__(self) -> None:
        check_between(self.shallow_m, 0.0, 20.0, "rated_depth", LENGTH, "ft")
        check_between(self.deep_m, 0.05, 20.0, "rated_depth", LENGTH, "ft")
        if self.shallow_m > self.deep_m:
            raise KitError("the rated depth runs backwards", Where(field="rated_depth"))


@dataclass(frozen=True, slots=True)
class Lure:
    """A diving lure. Two copies of one model are two lures.

    Parameters
    ----------
    name : str
        Name in the kit [-].
    body_length_m : float
        Length of the body without the lip [m].
    lip_length_m : float
        Length of the lip outside the body [m].
    lip_width_m : float
        Greatest width of the lip [m].
    mass_kg : float
        Mass with its hooks [kg].
    body_width_m : float or None
        Greatest width or height of the body [m].
    lip_shape : {"rounded", "square"} or None
        Shape of the front of the lip [-].
    balance : {"floats", "suspends", "sinks"}
        What it does when the retrieve stops [-].
    buoyancy_n : float or None
        Net buoyancy, positive floats, if known [N].
    rated : RatedDepth or None
        What the package says [-].
    sound : {"rattling", "silent"}
        Sound [-].
    colour : {"natural", "bright", "pale", "dark", "crawfish"}
        Family of colours [-].
    open_hooks : int
        Hooks with open points, a treble counts as one [-].
    model : str or None
        What copies of one lure have in common [-].
    dive_angle_rad : float or None
        Dive angle, for a person who has measured it [rad].
    pull_area_m2 : float or None
        Pull area, for a person who has measured it [m2].

    Raises
    ------
    KitError
        No such lure can exist.
    """

    name: str
    body_length_m: float
    lip_length_m: float
    lip_width_m: float
    mass_kg: float
    body_width_m: float | None = None
    lip_shape: LipShape | None = None
    balance: Balance = "floats"
    buoyancy_n: float | None = None
    rated: RatedDepth | None = None
    sound: Sound = "silent"
    colour: ColourFamily = "natural"
    open_hooks: int = 2
    model: str | None = None
    dive_angle_rad: float | None = None
    pull_area_m2: float | None = None

    def __post_init__(self) -> None:
        check_name(self.name, "lure")
        check_between(self.body_length_m, 0.015, 0.4, "body_length", LENGTH, "in")
        check_between(self.lip_length_m, 0.002, 0.15, "lip_length", LENGTH, "in")
        check_between(self.lip_width_m, 0.002, 0.15, "lip_width", LENGTH, "in")
        check_between(self.mass_kg, 5e-4, 0.5, "mass", MASS, "oz")
        if self.body_width_m is not None:
            check_between(self.body_width_m, 0.004, 0.15, "body_width", LENGTH, "in")
            if self.body_width_m > self.body_length_m:
                raise KitError("the body is wider than it is long", Where(field="body_width"))
        if self.lip_shape is not None:
            _check_word(self.lip_shape, LIP_SHAPES, "lip_shape")
        _check_word(self.balance, BALANCES, "balance")
        _check_word(self.sound, SOUNDS, "sound")
        _check_word(self.colour, COLOUR_FAMILIES, "colour")
        self._check_balance()
        if not 0 <= self.open_hooks <= 6:
            raise KitError("open hooks are 0 to 6", Where(field="open_hooks"))
        if self.dive_angle_rad is not None:
            check_between(self.dive_angle_rad, 0.0, 1.4, "dive_angle", ANGLE, "deg")
        if self.pull_area_m2 is not None:
            check_between(self.pull_area_m2, 5e-5, 2e-2, "pull_area", AREA, "cm2")

    def _check_balance(self) -> None:
        if self.buoyancy_n is None:
            return
        check_between(self.buoyancy_n, -2.0, 2.0, "buoyancy", FORCE, "g")
        wrong = (self.balance == "floats" and self.buoyancy_n < 0.0) or (
            self.balance == "sinks" and self.buoyancy_n > 0.0
        )
        if wrong:
            raise KitError(
                f"a lure that {self.balance} cannot have this buoyancy",
                Where(field="buoyancy"),
                "Positive buoyancy floats, negative sinks",
            )


def _check_word(word: str, allowed: tuple[str, ...], field: str) -> None:
    if word not in allowed:
        raise KitError(
            f"unknown {field.replace('_', ' ')} '{word}'",
            Where(field=field),
            f"Use one of {', '.join(allowed)}",
        )
