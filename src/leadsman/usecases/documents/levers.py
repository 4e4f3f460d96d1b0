"""JSON form of `leadsman levers`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.levers import LeversAnswer


class LeverPartForm(Document):
    """The share of one property in a change of material."""

    name: str = Field(description="diameter, density or stretch.")
    depth_change_m: float = Field(description="Its change of the greatest depth [m].")
    zone_change_m: float | None = Field(description="Its change of the zone length [m].")


class LeverForm(Document):
    """One step of one control."""

    control: str = Field(description="line size, material, cast, tip, speed, buoyancy or drift.")
    step: str = Field(description="The step in words.")
    depth_change_m: float = Field(description="Change of the greatest depth, positive deeper [m].")
    zone_change_m: float | None = Field(description="Change of the expected zone length [m].")
    matters: bool = Field(description="Whether it could be told on the water.")
    parts: tuple[LeverPartForm, ...] = Field(description="For a material: what makes it up.")


class LeversDocument(Document):
    """Answer of `leadsman levers`."""

    schema_: str = Field(
        default="leadsman.levers/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    lure: str = Field(description="Name of the lure.")
    line: str = Field(description="Name of the line.")
    cast_m: float = Field(description="Cast that the steps start from [m].")
    tip_m: float = Field(description="Tip height that the steps start from [m].")
    max_depth_m: float = Field(description="Greatest free-running depth as it is [m].")
    zone_m: float | None = Field(description="Expected zone length as it is [m].")
    levers: tuple[LeverForm, ...] = Field(description="The steps.")
    notes: tuple[str, ...] = Field(description="What was read and assumed.")


def levers_document(answer: LeversAnswer) -> LeversDocument:
    """JSON form of a table of levers.

    Parameters
    ----------
    answer : LeversAnswer
        The answer [-].
    """
    return LeversDocument(
        headline=answer.headline,
        lure=answer.setup.lure_name,
        line=answer.setup.line_name,
        cast_m=answer.cast_m,
        tip_m=answer.tip_m,
        max_depth_m=answer.table.max_depth_m,
        zone_m=answer.table.zone_m,
        levers=tuple(
            LeverForm(
                control=lever.control,
                step=lever.step,
                depth_change_m=lever.depth_change_m,
                zone_change_m=lever.zone_change_m,
                matters=lever.matters,
                parts=tuple(
                    LeverPartForm(
                        name=part.name,
                        depth_change_m=part.depth_change_m,
                        zone_change_m=part.zone_change_m,
                    )
                    for part in lever.parts
                ),
            )
            for lever in answer.table.levers
        ),
        notes=answer.notes,
    )
