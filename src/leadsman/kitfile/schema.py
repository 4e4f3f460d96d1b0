"""The kit file's fields, read by pydantic and turned into tackle."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Literal

from pydantic import AliasChoices, BaseModel, BeforeValidator, ConfigDict, Field
from pydantic_core import PydanticCustomError

from leadsman.dimensions import LENGTH, MASS
from leadsman.errors import QuantityError
from leadsman.tackle.line_materials import MaterialName
from leadsman.tackle.lure import Balance, ColourFamily, LipShape, Sound
from leadsman.tackle.rod import Power
from leadsman.units import (
    QuantityRange,
    parse_angle_rad,
    parse_area_m2,
    parse_density_kg_m3,
    parse_force_n,
    parse_length_m,
    parse_mass_kg,
    parse_pressure_pa,
    parse_range,
    parse_speed_m_s,
)


def reads(parse: Callable[[object], object]) -> BeforeValidator:
    """A validator that reads a quantity with its unit.

    Parameters
    ----------
    parse : callable
        Reads it, raising `QuantityError` [-].
    """

    def validate(raw: object) -> object:
        try:
            return parse(raw)
        except QuantityError as error:
            raise PydanticCustomError(
                "quantity", "{problem}", {"problem": error.problem, "remedy": error.remedy or ""}
            ) from None

    return BeforeValidator(validate)


Length = Annotated[float, reads(parse_length_m)]
Mass = Annotated[float, reads(parse_mass_kg)]
Force = Annotated[float, reads(parse_force_n)]
Speed = Annotated[float, reads(parse_speed_m_s)]
Angle = Annotated[float, reads(parse_angle_rad)]
Area = Annotated[float, reads(parse_area_m2)]
Density = Annotated[float, reads(parse_density_kg_m3)]
Pressure = Annotated[float, reads(parse_pressure_pa)]
LengthRange = Annotated[Any, reads(lambda raw: parse_range(raw, LENGTH))]
MassRange = Annotated[Any, reads(lambda raw: parse_range(raw, MASS))]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class LureTable(_Table):
    """``[lures.<name>]``."""

    body_length: Length = Field(description="Length of the body without the lip")
    lip_length: Length = Field(description="Length of the lip outside the body")
    lip_width: Length = Field(description="Greatest width of the lip")
    mass: Mass = Field(description="Mass with hooks")
    body_width: Length | None = Field(None, description="Greatest width or height of the body")
    lip_shape: LipShape | None = Field(None, description="rounded or square")
    balance: Balance = Field("floats", description="floats, suspends or sinks when it is stopped")
    buoyancy: Force | None = Field(None, description="Net buoyancy, positive floats; grams do")
    rated_depth: LengthRange | None = Field(None, description="What the package says")
    rated_line_material: MaterialName | None = Field(None, description="Line of that test")
    rated_line_test: Force | None = Field(None, description="Pound test of that line")
    rated_line_diameter: Length | None = Field(None, description="Diameter of that line")
    rated_cast: Length | None = Field(None, description="Cast of that test")
    rated_tip: Length | None = Field(None, description="Height of the rod tip in that test")
    sound: Sound = Field("silent", description="rattling or silent")
    colour: ColourFamily = Field(
        "natural",
        validation_alias=AliasChoices("colour", "color"),
        description="natural, bright, pale, dark or crawfish",
    )
    open_hooks: int = Field(2, description="Hooks with open points; a treble counts as one")
    model: str | None = Field(None, description="What copies of one lure have in common")
    dive_angle: Angle | None = Field(None, description="Dive angle, if you have measured it")
    pull_area: Area | None = Field(None, description="Pull area, if you have measured it")


class LineTable(_Table):
    """``[lines.<name>]``."""

    material: MaterialName = Field(description="nylon, fluorocarbon, copolymer or braid")
    test: Force | None = Field(None, description="Pound test")
    diameter: Length | None = Field(None, description="Diameter; left out, the test gives it")
    diameter_measured: bool = Field(False, description="true if measured, not read off the spool")
    density: Density | None = Field(None, description="Density; left out, the material gives it")
    modulus: Pressure | None = Field(None, description="Tensile modulus; left out likewise")


class ReelTable(_Table):
    """``[reels.<name>]``."""

    take_up_full: Length = Field(description="Line taken in per handle turn with a full spool")
    take_up_half: Length | None = Field(None, description="The same with half of the line off")
    capacity: Length = Field(description="Length of line that fills the spool")
    capacity_diameter: Length = Field(description="Diameter of line that this length is for")


class RodTable(_Table):
    """``[rods.<name>]``."""

    length: Length = Field(description="Length")
    lure_mass: MassRange = Field(description="Range of lure masses it is made for")
    power: Power = Field("medium", description="light to heavy")


class ComboTable(_Table):
    """``[combos.<name>]``."""

    rod: str = Field(description="Name of a rod")
    reel: str = Field(description="Name of a reel")
    line: str = Field(description="Name of the line on it")


class CastTable(_Table):
    """``[[angler.casts]]``."""

    mass: Mass = Field(description="Mass of the lure")
    length: Length = Field(description="From you to the splash, in calm air")
    rod: Length | None = Field(None, description="Length of the rod")
    count: int = Field(1, description="Casts that this is the mean of")


class AnglerTable(_Table):
    """``[angler]``."""

    grip_height: Length | None = Field(None, description="Height of your hand above the water")
    reel_speed: Speed | None = Field(None, description="Line you usually take in per second")
    usual_cast: Length | None = Field(None, description="Your usual cast with a deep diver")
    casts: list[CastTable] = Field(default_factory=list, description="Casts you have measured")


class KitTable(_Table):
    """The whole file."""

    units: Literal["us", "metric"] = Field("us", description="us or metric: how answers are shown")
    angler: AnglerTable = Field(
        default_factory=lambda: AnglerTable.model_validate({}), description="You"
    )
    lures: dict[str, LureTable] = Field(default_factory=dict, description="Lures by name")
    lines: dict[str, LineTable] = Field(default_factory=dict, description="Lines by name")
    reels: dict[str, ReelTable] = Field(default_factory=dict, description="Reels by name")
    rods: dict[str, RodTable] = Field(default_factory=dict, description="Rods by name")
    combos: dict[str, ComboTable] = Field(default_factory=dict, description="What is put together")


TABLES: dict[str, type[BaseModel]] = {
    "lures": LureTable,
    "lines": LineTable,
    "reels": ReelTable,
    "rods": RodTable,
    "combos": ComboTable,
}
"""Tables that hold named things."""


def range_or_none(value: object) -> QuantityRange | None:
    """A range as read, typed again after pydantic let it through as it was."""
    return value if isinstance(value, QuantityRange) else None
