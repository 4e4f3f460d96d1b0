"""JSON form of `leadsman kit check`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.kit_check import KitCheckAnswer


class LureForm(Document):
    """A lure of the kit with its numbers."""

    name: str = Field(description="Name.")
    mass_kg: float = Field(description="Mass [kg].")
    body_length_m: float = Field(description="Length of the body [m].")
    rated_depth_m: tuple[float, float] | None = Field(
        description="What its package promises, shallow and deep end [m]."
    )
    sound: str = Field(description="rattling or silent.")
    colour: str = Field(description="Family of colours.")
    open_hooks: int = Field(description="Hooks that stand open [-].")
    dive_angle_deg: float = Field(description="Dive angle [deg].")
    dive_angle_sd_deg: float = Field(description="Its standard deviation [deg].")
    pull_area_cm2: float = Field(description="Pull area [cm2].")
    pull_area_log_sd: float = Field(description="Standard deviation of its logarithm [-].")
    basis: str = Field(description="What the numbers rest on.")


class LineForm(Document):
    """A line of the kit with its numbers."""

    name: str = Field(description="Name.")
    material: str = Field(description="nylon, fluorocarbon, copolymer or braid.")
    test_n: float | None = Field(description="Pound test [N].")
    diameter_mm: float = Field(description="Diameter [mm].")
    diameter_kind: str = Field(description="measured, nominal or from test.")
    diameter_log_sd: float = Field(description="Standard deviation of its logarithm [-].")


class ComboForm(Document):
    """A rod with the reel and line that are on it."""

    name: str = Field(description="Name.")
    rod: str = Field(description="Name of the rod.")
    reel: str = Field(description="Name of the reel.")
    line: str = Field(description="Name of the line.")


class KitDocument(Document):
    """Answer of `leadsman kit check`."""

    schema_: str = Field(default="leadsman.kit/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    lures: tuple[LureForm, ...] = Field(description="Lures.")
    lines: tuple[LineForm, ...] = Field(description="Lines.")
    rods: tuple[str, ...] = Field(description="Names of rods.")
    reels: tuple[str, ...] = Field(description="Names of reels.")
    cautions: tuple[str, ...] = Field(description="What does not go together.")
    own_file: str | None = Field(description="Name of the kit file; null for the demo kit.")
    units: str = Field(description="Units the kit is read in, us or metric.")
    usual_cast_m: float = Field(description="The angler's usual cast [m].")
    reel_speed_m_s: float = Field(description="The angler's usual pace [m s-1].")
    combos: tuple[ComboForm, ...] = Field(description="Rods as they are put together now.")


def kit_document(answer: KitCheckAnswer) -> KitDocument:
    """JSON form of a checked kit.

    Parameters
    ----------
    answer : KitCheckAnswer
        The answer [-].
    """
    kit = answer.kit
    return KitDocument(
        headline=answer.headline,
        lures=tuple(
            LureForm(
                name=item.name,
                mass_kg=lure.mass_kg,
                body_length_m=lure.body_length_m,
                rated_depth_m=(lure.rated.shallow_m, lure.rated.deep_m) if lure.rated else None,
                sound=lure.sound,
                colour=lure.colour,
                open_hooks=lure.open_hooks,
                dive_angle_deg=item.dive_angle_deg,
                dive_angle_sd_deg=item.dive_angle_sd_deg,
                pull_area_cm2=item.pull_area_cm2,
                pull_area_log_sd=item.pull_area_log_sd,
                basis=item.basis,
            )
            for item, lure in zip(answer.lures, kit.lures, strict=True)
        ),
        lines=tuple(
            LineForm(
                name=item.name,
                material=line.material,
                test_n=line.test_n,
                diameter_mm=item.diameter_mm,
                diameter_kind=item.diameter_kind,
                diameter_log_sd=item.diameter_log_sd,
            )
            for item, line in zip(answer.lines, kit.lines, strict=True)
        ),
        rods=tuple(rod.name for rod in answer.kit.rods),
        reels=tuple(reel.name for reel in answer.kit.reels),
        cautions=answer.cautions,
        own_file=kit.path.name if kit.path else None,
        units=kit.units,
        usual_cast_m=kit.angler.usual_cast_m,
        reel_speed_m_s=kit.angler.reel_speed_m_s,
        combos=tuple(
            ComboForm(name=c.name, rod=c.rod.name, reel=c.reel.name, line=c.line.name)
            for c in kit.combos
        ),
    )
