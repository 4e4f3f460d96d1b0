"""JSON form of `leadsman passes`."""

from __future__ import annotations

from pydantic import Field

from leadsman.plan.passes_types import BoatStop, PassPlan, PlannedCast
from leadsman.usecases.documents.base import Document
from leadsman.usecases.passes import PassesAnswer


class PassCastForm(Document):
    """One cast of a pass."""

    heading_deg: float = Field(description="True heading, clockwise from north [deg].")
    cast_m: float = Field(description="Rod tip to lure at the start [m].")
    zone_m: float = Field(description="Expected zone length [m].")
    zone_band_m: tuple[float, float] = Field(
        description="Zone length as the lure runs shallower or deeper than thought [m]."
    )
    new_edge_m: float = Field(
        description="Expected metres of the stretch it covers that none before it did [m]."
    )
    covers_m: tuple[float, float] = Field(
        description="Part of the stretch it works, from its beginning [m]."
    )
    mean_load: float = Field(description="Mean load over the contact [-].")
    foul_chance: float = Field(description="Chance of at least one foul in grass [-].")
    lost_chance: float = Field(description="Chance that a foul ends the cast [-].")
    seconds: float = Field(description="Time it takes, throw and turn included [s].")


class BoatStopForm(Document):
    """A place of the boat."""

    number: int = Field(description="Its turn, from 1.")
    lat_deg: float = Field(description="Latitude, WGS84 [deg].")
    lon_deg: float = Field(description="Longitude, WGS84 [deg].")
    depth_m: float = Field(description="Water under the boat [m].")
    along_m: float = Field(description="Where along the stretch [m].")
    casts: tuple[PassCastForm, ...] = Field(description="Casts in order.")


class PassForm(Document):
    """How to fish one stretch."""

    name: str = Field(description="Name of the stretch.")
    headline: str = Field(description="What to do, in a sentence.")
    why: str = Field(description="Why the stretch was chosen.")
    length_m: float = Field(description="Length of the stretch [m].")
    depth_m: float = Field(description="Depth of its edge [m].")
    lure: str = Field(description="Name of the lure.")
    line: str = Field(description="Name of the line.")
    rod: str = Field(description="Name of the rod; empty if it does not matter.")
    how: str = Field(description="What to do with the rod, in words.")
    boat: str = Field(description="hold or creep.")
    boat_m_s: float = Field(description="Speed at which it creeps, 0 where it is held [m s-1].")
    minutes: float = Field(description="Time for all of it [min].")
    zone_m: float = Field(description="Expected zone length of all casts [m].")
    covered_m: float = Field(description="Expected metres covered, nothing counted twice [m].")
    covered_share: float = Field(description="The same over the length of the stretch [-].")
    zone_m_per_hour: float = Field(description="Metres of new edge in the zone per hour [m h-1].")
    bound_m: float = Field(
        description="No choice of the casts considered covers more in that time [m]."
    )
    casts_considered: int = Field(description="Candidates evaluated.")
    stops: tuple[BoatStopForm, ...] = Field(description="Places in order.")
    reasons: tuple[str, ...] = Field(description="Why so.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


class PassesDocument(Document):
    """Answer of `leadsman passes`."""

    schema_: str = Field(
        default="leadsman.passes/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    lake: str = Field(description="Name of the lake.")
    passes: tuple[PassForm, ...] = Field(description="Passes, the best rate first.")
    left_out: tuple[str, ...] = Field(description="Stretches that could not be planned, and why.")
    notes: tuple[str, ...] = Field(description="What was read and assumed.")


def passes_document(answer: PassesAnswer) -> PassesDocument:
    """JSON form of passes.

    Parameters
    ----------
    answer : PassesAnswer
        The answer [-].
    """
    return PassesDocument(
        headline=answer.headline,
        lake=answer.model.name,
        passes=tuple(_pass(plan, why) for plan, why in zip(answer.plans, answer.why, strict=True)),
        left_out=answer.left_out,
        notes=answer.notes,
    )


def _pass(plan: PassPlan, why: str) -> PassForm:
    setup = plan.setup
    return PassForm(
        name=plan.stretch.name,
        headline=plan.headline,
        why=why,
        length_m=plan.stretch.length_m,
        depth_m=plan.stretch.depth_m,
        lure=setup.lure.name,
        line=setup.line.name,
        rod=setup.rod,
        how=setup.how,
        boat=plan.boat,
        boat_m_s=plan.boat_m_s,
        minutes=plan.minutes,
        zone_m=plan.zone_m,
        covered_m=plan.covered_m,
        covered_share=plan.covered_share,
        zone_m_per_hour=plan.zone_per_hour_m,
        bound_m=plan.bound_m,
        casts_considered=plan.casts_considered,
        stops=tuple(_stop(stop) for stop in plan.stops),
        reasons=plan.reasons,
        cautions=plan.cautions,
    )


def _stop(stop: BoatStop) -> BoatStopForm:
    return BoatStopForm(
        number=stop.number,
        lat_deg=stop.lat_deg,
        lon_deg=stop.lon_deg,
        depth_m=stop.depth_m,
        along_m=stop.along_m,
        casts=tuple(_cast(cast) for cast in stop.casts),
    )


def _cast(cast: PlannedCast) -> PassCastForm:
    return PassCastForm(
        heading_deg=cast.heading_deg,
        cast_m=cast.cast_m,
        zone_m=cast.zone_m,
        zone_band_m=cast.zone_band_m,
        new_edge_m=cast.new_edge_m,
        covers_m=cast.covers_m,
        mean_load=cast.mean_load,
        foul_chance=cast.foul_chance,
        lost_chance=cast.lost_chance,
        seconds=cast.seconds,
    )
