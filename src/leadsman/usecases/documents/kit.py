"""JSON form of `leadsman kit check`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.kit_check import KitCheckAnswer


class LureForm(Document):
    """A lure of the kit with its numbers."""

    name: str = Field(description="Name.")
    dive_angle_deg: float = Field(description="Dive angle [deg].")
    dive_angle_sd_deg: float = Field(description="Its standard deviation [deg].")
    pull_area_cm2: float = Field(description="Pull area [cm2].")
    pull_area_log_sd: float = Field(description="Standard deviation of its logarithm [-].")
    basis: str = Field(description="What the numbers rest on.")


class LineForm(Document):
    """A line of the kit with its numbers."""

    name: str = Field(description="Name.")
    diameter_mm: float = Field(description="Diameter [mm].")
    diameter_kind: str = Field(description="measured, nominal or from test.")
    diameter_log_sd: float = Field(description="Standard deviation of its logarithm [-].")


class KitDocument(Document):
    """Answer of `leadsman kit check`."""

    schema_: str = Field(default="leadsman.kit/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    lures: tuple[LureForm, ...] = Field(description="Lures.")
    lines: tuple[LineForm, ...] = Field(description="Lines.")
    rods: tuple[str, ...] = Field(description="Names of rods.")
    reels: tuple[str, ...] = Field(description="Names of reels.")
    cautions: tuple[str, ...] = Field(description="What does not go together.")


def kit_document(answer: KitCheckAnswer) -> KitDocument:
    """JSON form of a checked kit.

    Parameters
    ----------
    answer : KitCheckAnswer
        The answer [-].
    """
    return KitDocument(
        headline=answer.headline,
        lures=tuple(
            LureForm(
                name=item.name,
                dive_angle_deg=item.dive_angle_deg,
                dive_angle_sd_deg=item.dive_angle_sd_deg,
                pull_area_cm2=item.pull_area_cm2,
                pull_area_log_sd=item.pull_area_log_sd,
                basis=item.basis,
            )
            for item in answer.lures
        ),
        lines=tuple(
            LineForm(
                name=item.name,
                diameter_mm=item.diameter_mm,
                diameter_kind=item.diameter_kind,
                diameter_log_sd=item.diameter_log_sd,
            )
            for item in answer.lines
        ),
        rods=tuple(rod.name for rod in answer.kit.rods),
        reels=tuple(reel.name for reel in answer.kit.reels),
        cautions=answer.cautions,
    )
