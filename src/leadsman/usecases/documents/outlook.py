"""JSON form of `leadsman outlook`."""

from __future__ import annotations

import math

from pydantic import Field

from leadsman.belief.levels import COVERS
from leadsman.lake.estimate import Estimate
from leadsman.plan.day_types import DepthMiddle
from leadsman.usecases.documents.base import Document
from leadsman.usecases.outlook import OutlookAnswer


class EstimateForm(Document):
    """A number about the lake."""

    value: float = Field(description="The value, in the unit of the field.")
    low: float = Field(description="Lower end of its 90 % band.")
    high: float = Field(description="Upper end of its 90 % band.")
    origin: str = Field(description="measured, given or guess.")
    source: str = Field(description="Publication, file or kind of guess.")


class DepthMiddleForm(Document):
    """Middle and bands of a belief over depth."""

    median_m: float = Field(description="Half of the belief lies above [m].")
    low_50_m: float = Field(description="Upper end of the central 50 % band [m].")
    high_50_m: float = Field(description="Lower end of the central 50 % band [m].")
    low_90_m: float = Field(description="Upper end of the central 90 % band [m].")
    high_90_m: float = Field(description="Lower end of the central 90 % band [m].")


class DepthBandForm(Document):
    """Chance of one band of depth."""

    low_m: float = Field(description="Upper limit [m].")
    high_m: float = Field(description="Lower limit [m].")
    fish: float = Field(description="Chance that a fish lies in it [-].")
    lure: float = Field(
        description="Chance for a lure in it: fish there and those below that come up [-]."
    )
    by_cover: dict[str, float] = Field(description="The lure's chance, split by cover [-].")


class FactorForm(Document):
    """One thing that moved the belief."""

    key: str = Field(description="Word by which it is switched off or weighed.")
    known: str = Field(description="What is known.")
    effect: str = Field(description="What it does.")
    basis: str = Field(
        description="published (strength assumed), common practice, own assumption or your word."
    )
    source: str = Field(description="Publication, or what is assumed and how widely.")
    is_guess: bool = Field(description="Whether what is known is itself a guess.")
    strength: float = Field(description="How much it counts: 1 as it is [-].")
    shift_m: float = Field(description="How far it moves the middle of the belief, down [m].")
    moved: float = Field(description="Share of the belief it moves to another depth [-].")
    covers: dict[str, float] = Field(description="Its factor on covers; 1 where missing [-].")
    depth: tuple[float, ...] = Field(description="Its factor on each depth of the grid [-].")


class HourForm(Document):
    """One hour of the day."""

    start_h: float = Field(description="Start on the angler's clock [h].")
    sun_elevation_deg: float = Field(description="Height of the sun in its middle [deg].")
    weight: float = Field(description="Bites expected over the day's mean hour [-].")
    fish: DepthMiddleForm = Field(description="Where the fish are in that hour.")


class RuledOutForm(Document):
    """Depths with next to no belief."""

    low_m: float = Field(description="Upper limit [m].")
    high_m: float = Field(description="Lower limit [m].")
    left: float = Field(description="Belief left there [-].")
    why: str = Field(description="The reason.")


class OutlookDocument(Document):
    """Answer of `leadsman outlook`."""

    schema_: str = Field(
        default="leadsman.outlook/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    species: str = Field(description="Fish looked for.")
    max_depth_m: float = Field(description="Greatest depth of the water [m].")
    surface_c: EstimateForm | None = Field(description="Temperature at the surface [degC].")
    thermocline_m: EstimateForm | None = Field(description="Depth of the thermocline [m].")
    oxygen_floor_m: EstimateForm | None = Field(
        description="First depth with too little oxygen, under 3 mg/L [m]."
    )
    secchi_m: EstimateForm | None = Field(description="Clarity [m].")
    grass_edge_m: EstimateForm | None = Field(description="Depth of the deepest grass [m].")
    fish: DepthMiddleForm = Field(description="Where the fish are.")
    lure: DepthMiddleForm = Field(description="Where a lure is taken.")
    median_band_m: tuple[float, float] = Field(
        description="Middle of the fish if each factor counted half or double [m]."
    )
    bands: tuple[DepthBandForm, ...] = Field(description="Chances of bands of depth.")
    covers: dict[str, float] = Field(description="Chances of edge, flat, drop and open_water [-].")
    hours: tuple[HourForm, ...] = Field(description="Hours; empty without day and place.")
    ruled_out: tuple[RuledOutForm, ...] = Field(description="Depths with next to no belief.")
    come_up_m: float = Field(description="How far fish are thought to rise to a lure [m].")
    reach: str = Field(description="What to do where lures do not reach the fish.")
    sound: str = Field(description="Sound to start with: rattling or silent.")
    sounds: dict[str, float] = Field(description="Weights of the sounds [-].")
    sound_why: str = Field(description="The reason.")
    colour: str = Field(description="Colour family to start with: natural, light, dark or red.")
    colours: dict[str, float] = Field(description="Weights of the families [-].")
    colour_why: str = Field(description="The reason.")
    rate_weights: dict[str, dict[str, float]] = Field(
        description="Relative rates of bites by factor and level, for the log of the day [-]."
    )
    depth_m: tuple[float, ...] = Field(description="Grid of depths [m].")
    fish_density: tuple[float, ...] = Field(description="Density of the fish on it [m-1].")
    lure_density: tuple[float, ...] = Field(description="Density for the lure on it [m-1].")
    factors: tuple[FactorForm, ...] = Field(description="What moved the belief.")
    unused: tuple[str, ...] = Field(description="What is not known or was switched off.")
    notes: tuple[str, ...] = Field(description="What was read and assumed.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


def outlook_document(answer: OutlookAnswer) -> OutlookDocument:
    """JSON form of an outlook.

    Parameters
    ----------
    answer : OutlookAnswer
        The answer [-].
    """
    found, day = answer.outlook, answer.outlook.day
    start = found.start
    bands = [
        DepthBandForm(
            low_m=band.low_m,
            high_m=band.high_m,
            fish=band.fish,
            lure=band.lure,
            by_cover={c: float(row[i]) for i, c in enumerate(COVERS)},
        )
        for band, row in zip(found.bands, found.joint, strict=True)
    ]
    return OutlookDocument(
        headline=answer.headline,
        species=day.species,
        max_depth_m=day.max_depth_m,
        surface_c=_estimate(day.surface_c),
        thermocline_m=_estimate(day.thermocline_m),
        oxygen_floor_m=_estimate(day.oxygen_floor_m),
        secchi_m=_estimate(day.secchi_m),
        grass_edge_m=_estimate(day.grass_edge_m),
        fish=_middle(found.fish_m),
        lure=_middle(found.lure_m),
        median_band_m=found.median_band_m,
        bands=tuple(bands),
        covers={str(c): p for c, p in found.covers.items()},
        hours=tuple(
            HourForm(
                start_h=hour.start_h,
                sun_elevation_deg=math.degrees(hour.elevation_rad),
                weight=hour.weight,
                fish=_middle(hour.fish_m),
            )
            for hour in found.hours
        ),
        ruled_out=tuple(
            RuledOutForm(low_m=out.low_m, high_m=out.high_m, left=out.left, why=out.why)
            for out in found.ruled_out
        ),
        come_up_m=found.come_up_m,
        reach=found.reach,
        sound=start.sound,
        sounds={str(name): p for name, p in start.sounds.items()},
        sound_why=start.sound_why,
        colour=start.colour,
        colours={str(name): p for name, p in start.colours.items()},
        colour_why=start.colour_why,
        rate_weights=found.rate_weights(),
        depth_m=tuple(found.depth_m.tolist()),
        fish_density=tuple(found.fish_per_m.tolist()),
        lure_density=tuple(found.lure_per_m.tolist()),
        factors=_factors(answer),
        unused=found.unused,
        notes=answer.notes,
        cautions=found.cautions,
    )


def _factors(answer: OutlookAnswer) -> tuple[FactorForm, ...]:
    return tuple(
        FactorForm(
            key=factor.key,
            known=factor.known,
            effect=factor.effect,
            basis=factor.basis,
            source=factor.source,
            is_guess=factor.is_guess,
            strength=factor.strength,
            shift_m=factor.shift_m,
            moved=factor.moved,
            covers=dict(factor.cover),
            depth=tuple(factor.depth.tolist()),
        )
        for factor in answer.outlook.factors
    )


def _estimate(found: Estimate | None) -> EstimateForm | None:
    if found is None:
        return None
    return EstimateForm(
        value=found.value, low=found.low, high=found.high, origin=found.origin, source=found.source
    )


def _middle(found: DepthMiddle) -> DepthMiddleForm:
    return DepthMiddleForm(
        median_m=found.median,
        low_50_m=found.low_50,
        high_50_m=found.high_50,
        low_90_m=found.low_90,
        high_90_m=found.high_90,
    )
