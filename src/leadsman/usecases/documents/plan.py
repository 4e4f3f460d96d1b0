"""JSON form of `leadsman plan`; also what a new plan on the water starts from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from leadsman.kitfile.trip_words import clock_text
from leadsman.plan.day_types import Species
from leadsman.usecases.documents.base import Document

if TYPE_CHECKING:
    from leadsman.usecases.plan_types import PlanAnswer, PlannedStretch


class PlanRodForm(Document):
    """One rod of the day."""

    number: int = Field(description="Its number on deck, from 1.")
    rod: str = Field(description="Name of the rod.")
    line: str = Field(description="Name of the line to have on it.")
    respool: bool = Field(description="Whether that line must first be spooled.")
    tied: str = Field(description="Lure to tie on.")
    snaps: tuple[str, ...] = Field(description="Lures to snap on.")


class PlanTargetForm(Document):
    """What is taken up for one target."""

    ground: str = Field(description="grass, edge, flat or drop.")
    bottom_m: float = Field(description="Depth of the bottom [m].")
    chance: float = Field(description="Chance that the day asks for it [-].")
    rod: int = Field(description="Number of the rod.")
    lure: str = Field(description="Lure.")
    line: str = Field(description="Line.")
    cast_m: float = Field(description="Cast, rod tip to lure [m].")
    tip_m: float = Field(description="Height of the rod tip at the start [m].")
    how: str = Field(description="What to do with the rod.")
    free_depth_m: float = Field(description="Depth it runs to with nothing to stop it [m].")
    zone_m: float = Field(description="Expected clean zone length of a cast [m].")
    zone_low_m: float = Field(description="Least, as it runs shallower or deeper [m].")
    zone_high_m: float = Field(description="Most, as it runs shallower or deeper [m].")


class PlanStopForm(Document):
    """One stretch of the day."""

    number: int = Field(description="Its turn, from 1.")
    name: str = Field(description="What to call it.")
    arrive: str = Field(description="When to be there, on the clock.")
    leave: str = Field(description="When to leave, on the clock.")
    arrive_s: float = Field(description="The same in seconds of the day [s].")
    leave_s: float = Field(description="The same in seconds of the day [s].")
    lon_deg: float = Field(description="Where the boat comes to it [deg].")
    lat_deg: float = Field(description="Where the boat comes to it [deg].")
    ground: str = Field(description="grass, edge, flat or drop.")
    bottom_m: float = Field(description="Depth of the bottom [m].")
    rod: int = Field(description="Number of the rod.")
    lure: str = Field(description="Lure.")
    line: str = Field(description="Line.")
    zone_m: float = Field(description="Expected zone length of a cast [m].")
    bites: float = Field(description="Expected bites, resting on an assumed rate [-].")
    boat_stops: int = Field(description="Places to hold the boat; 0 where no pass was made.")
    casts: int = Field(description="Casts.")
    heading_deg: float | None = Field(description="Heading, if all casts share one [deg].")
    pass_note: str = Field(description="How the casts go, or why there is no pass.")
    reason: str = Field(description="Why this stretch.")


class PlanOfferForm(Document):
    """A stretch that may be fished, for a new plan on the water."""

    id: int = Field(description="Its number among the candidates, from 0.")
    number: int | None = Field(description="Its turn in the plan; null if not in it.")
    name: str = Field(description="What to call it.")
    x_m: float = Field(description="Where the boat comes to it, east in the lake's frame [m].")
    y_m: float = Field(description="The same, north [m].")
    ground: str = Field(description="grass, edge, flat or drop.")
    bottom_m: float = Field(description="Depth of the bottom [m].")
    rod: int = Field(description="Number of the rod.")
    lure: str = Field(description="Lure.")
    line: str = Field(description="Line.")
    rate_per_m: float = Field(description="Bites for a metre of zone when it is fresh [1/m].")
    zone_m_per_s: float = Field(description="Zone fished a second, in metres; 0 rules it out.")
    length_m: float = Field(description="Its length [m].")
    group: int = Field(description="Group of fish sizes: 0 shallow, 1 drops.")


class PlanSizesForm(Document):
    """Sizes of the fish, where weight is the aim."""

    species: Species = Field(description="Fish.")
    mean_m: tuple[float, ...] = Field(description="Mean length of each group [m].")
    sd_m: float = Field(description="Standard deviation of lengths [m].")
    least_m: float = Field(description="Least legal length [m].")
    count: int = Field(description="How many fish count.")
    culling: bool = Field(description="Whether a kept fish may be exchanged.")
    landed: float = Field(description="Share of bites that are landed [-].")


class PlanDocument(Document):
    """Answer of `leadsman plan`."""

    schema_: str = Field(default="leadsman.plan/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    lake: str = Field(description="Name of the lake.")
    date: str = Field(description="Day, year-month-day.")
    units: str = Field(description="Units of the sentences: us or metric.")
    rods: tuple[PlanRodForm, ...] = Field(description="The rods.")
    targets: tuple[PlanTargetForm, ...] = Field(description="What each target is fished with.")
    stops: tuple[PlanStopForm, ...] = Field(description="Stretches in order.")
    launch_s: float = Field(description="Launch, in seconds of the day [s].")
    deadline_s: float = Field(description="Deadline, in seconds of the day [s].")
    reserve_s: float = Field(description="Time kept back [s].")
    home_s: float = Field(description="When the boat is home, in seconds of the day [s].")
    home_x_m: float = Field(description="Where home is, east in the lake's frame [m].")
    home_y_m: float = Field(description="The same, north [m].")
    launch_name: str = Field(description="Name of the launch.")
    bites: float = Field(description="Expected bites of the day, resting on an assumed rate [-].")
    weight_kg: float | None = Field(
        description="Expected weight of the fish that count, in kg; null where bites are the aim."
    )
    route_exact: bool = Field(description="Whether the order is proved best for its stays.")
    route_bound: float = Field(description="No order with these stays is worth more [bites, kg].")
    rig_worth_m: float = Field(description="Zone of a cast over all targets, rods as rigged [m].")
    rig_bound_m: float = Field(description="No rig is worth more [m].")
    rig_proved: bool = Field(description="Whether the rig is proved best.")
    rig_greedy_m: float = Field(description="Worth of the rig chosen greedily [m].")
    offers: tuple[PlanOfferForm, ...] = Field(description="All stretches weighed.")
    sizes: PlanSizesForm | None = Field(description="Sizes of the fish; null where bites count.")
    short: tuple[str, ...] = Field(description="What could not be had as asked.")
    notes: tuple[str, ...] = Field(description="What was read and assumed.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


def plan_document(answer: PlanAnswer) -> PlanDocument:
    """JSON form of a plan.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    hours, route, rig = answer.found.hours, answer.order.route, answer.rig
    sizes = answer.candidates.sizes
    return PlanDocument(
        headline=answer.headline,
        lake=answer.found.lake.model.name,
        date=answer.found.trip.hours.date.isoformat(),
        units=answer.found.units.name,
        rods=_rods(answer),
        targets=_targets(answer),
        stops=tuple(_stop(answer, stop) for stop in answer.stops),
        launch_s=hours.start_s,
        deadline_s=hours.deadline_s,
        reserve_s=hours.reserve_s,
        home_s=route.home_s,
        home_x_m=answer.found.home_m[0],
        home_y_m=answer.found.home_m[1],
        launch_name=answer.found.trip.launch.name,
        bites=answer.order.total_bites,
        weight_kg=answer.order.weight_kg,
        route_exact=route.exact,
        route_bound=route.bound,
        rig_worth_m=rig.rig.worth_m,
        rig_bound_m=rig.rig.bound_m,
        rig_proved=rig.rig.proved,
        rig_greedy_m=rig.greedy_m,
        offers=_offers(answer),
        sizes=None
        if sizes is None
        else PlanSizesForm(
            species=sizes.species, mean_m=sizes.mean_m, sd_m=sizes.sd_m, least_m=sizes.least_m,
            count=sizes.count, culling=sizes.culling, landed=sizes.landed,
        ),
        short=answer.short,
        notes=answer.notes,
        cautions=answer.cautions,
    )  # fmt: skip


def _rods(answer: PlanAnswer) -> tuple[PlanRodForm, ...]:
    from leadsman.usecases.plan_text import rod_lures

    kit, rig = answer.found.kit, answer.rig
    made = []
    for number, item in enumerate(rig.rig.rods, start=1):
        tied, snaps = rod_lures(answer, number)
        made.append(
            PlanRodForm(
                number=number,
                rod=kit.rods[item.rod].name,
                line=kit.lines[item.line].name,
                respool=rig.problem.spooled[item.rod] != item.line,
                tied=tied,
                snaps=snaps,
            )
        )
    return tuple(made)


def _targets(answer: PlanAnswer) -> tuple[PlanTargetForm, ...]:
    return tuple(
        PlanTargetForm(
            ground=s.target.ground,
            bottom_m=s.target.depth_m,
            chance=s.target.chance,
            rod=s.rod,
            lure=s.lure.name,
            line=s.line.name,
            cast_m=s.way.cast_m,
            tip_m=s.way.tip_m,
            how=s.way.how,
            free_depth_m=s.way.free_max_depth_m,
            zone_m=s.way.zone_m,
            zone_low_m=s.way.zone_band_m[0],
            zone_high_m=s.way.zone_band_m[1],
        )
        for s in answer.served
    )


def _stop(answer: PlanAnswer, stop: PlannedStretch) -> PlanStopForm:
    from leadsman.usecases.plan_text import casts_words, zone_of

    x, y = stop.way_m[-1]
    lon, lat = answer.found.lake.model.lattice.frame.to_lonlat(float(x), float(y))
    heading, words = casts_words(stop.passes) if stop.passes is not None else (None, stop.pass_note)
    return PlanStopForm(
        number=stop.number,
        name=stop.stretch.name,
        arrive=clock_text(stop.arrive_s),
        leave=clock_text(stop.leave_s),
        arrive_s=stop.arrive_s,
        leave_s=stop.leave_s,
        lon_deg=float(lon),
        lat_deg=float(lat),
        ground=stop.served.target.ground,
        bottom_m=stop.served.target.depth_m,
        rod=stop.served.rod,
        lure=stop.served.lure.name,
        line=stop.served.line.name,
        zone_m=zone_of(stop),
        bites=stop.bites,
        boat_stops=len(stop.passes.stops) if stop.passes is not None else 0,
        casts=stop.passes.casts if stop.passes is not None else 0,
        heading_deg=None if heading is None else heading * 57.29577951308232,
        pass_note=words,
        reason=stop.stretch.reason,
    )


def _offers(answer: PlanAnswer) -> tuple[PlanOfferForm, ...]:
    turn = {index: n for n, index in enumerate(answer.order.route.order, start=1)}
    made = []
    for index, (item, offer) in enumerate(
        zip(answer.candidates.stretches, answer.candidates.offers, strict=True)
    ):
        served = answer.served[item.target]
        x, y = item.beside_m
        made.append(
            PlanOfferForm(
                id=index,
                number=turn.get(index),
                name=item.name,
                x_m=x,
                y_m=y,
                ground=served.target.ground,
                bottom_m=served.target.depth_m,
                rod=served.rod,
                lure=served.lure.name,
                line=served.line.name,
                rate_per_m=offer.promise.rate_per_m,
                zone_m_per_s=offer.promise.zone_m_s,
                length_m=offer.promise.length_m,
                group=offer.group,
            )
        )
    return tuple(made)
