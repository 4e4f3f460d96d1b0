"""JSON form of `leadsman rig`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.rig import RigAnswer


class RiggedRodForm(Document):
    """One rod ready to fish."""

    rod: str = Field(description="Name of the rod.")
    line: str = Field(description="Name of the line to have on it.")
    respool: bool = Field(description="Whether that line must first be spooled.")
    tied: str = Field(description="Lure to tie on.")
    snaps: tuple[str, ...] = Field(description="Lures to snap on.")


class ServedForm(Document):
    """What is taken up for one target."""

    ground: str = Field(description="grass, edge, flat or drop.")
    bottom_m: float = Field(description="Depth of the bottom [m].")
    chance: float = Field(description="Chance that the day asks for it [-].")
    rod: str | None = Field(description="Rod to take up; null if nothing rigged works there.")
    lure: str | None = Field(description="Lure to use.")
    zone_m: float = Field(description="Expected clean zone length of a cast [m].")


class RigDocument(Document):
    """Answer of `leadsman rig`."""

    schema_: str = Field(default="leadsman.rig/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    rods: tuple[RiggedRodForm, ...] = Field(description="The rods.")
    served: tuple[ServedForm, ...] = Field(description="Each target and what serves it.")
    worth_m: float = Field(
        description="Chance-weighted zone length of a cast, less the cost of respooling [m]."
    )
    bound_m: float = Field(description="No rig is worth more [m].")
    proved: bool = Field(description="Whether this rig is proved best.")
    greedy_m: float = Field(description="Worth of the rig chosen greedily [m].")
    further_rod_m: float = Field(description="What one more rod would add [m].")
    further_lure: str = Field(description="What a further lure would add most; may be empty.")
    gaps: tuple[str, ...] = Field(description="Targets that nothing owned fills.")
    notes: tuple[str, ...] = Field(description="What was assumed.")


def rig_document(answer: RigAnswer) -> RigDocument:
    """JSON form of a rig.

    Parameters
    ----------
    answer : RigAnswer
        The answer [-].
    """
    kit, rig = answer.kit, answer.rig
    served = zip(answer.question.targets, rig.taken_up, rig.best_zone_m.tolist(), strict=True)
    return RigDocument(
        headline=answer.headline,
        rods=tuple(
            RiggedRodForm(
                rod=kit.rods[item.rod].name,
                line=kit.lines[item.line].name,
                respool=answer.problem.spooled[item.rod] != item.line,
                tied=kit.lures[item.tied].name,
                snaps=tuple(kit.lures[lure].name for lure in item.snaps),
            )
            for item in rig.rods
        ),
        served=tuple(
            ServedForm(
                ground=target.ground,
                bottom_m=target.depth_m,
                chance=target.chance,
                rod=kit.rods[rig.rods[place].rod].name if place >= 0 else None,
                lure=kit.lures[lure].name if lure >= 0 else None,
                zone_m=zone,
            )
            for target, (place, lure), zone in served
        ),
        worth_m=rig.worth_m,
        bound_m=rig.bound_m,
        proved=rig.proved,
        greedy_m=answer.greedy_m,
        further_rod_m=answer.further_rod_m,
        further_lure=answer.further_lure,
        gaps=answer.gaps,
        notes=answer.notes,
    )
