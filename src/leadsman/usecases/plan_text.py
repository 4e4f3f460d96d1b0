"""The plan of a day in words: headline, report, cautions."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from leadsman.display_units import DisplayUnits
from leadsman.kitfile.trip_words import clock_text as at
from leadsman.output.plan_card import compass_words
from leadsman.output.plan_card_types import USUAL_CAUTIONS
from leadsman.plan.catch_weight import legal_chance
from leadsman.plan.cover_needs import Ground
from leadsman.plan.day_worth import BEST_BITES_PER_H, SETTLE_S
from leadsman.plan.passes_types import PassPlan
from leadsman.usecases.plan_types import PlanAnswer, PlannedStretch, Served

WARM_C = 29.0
"""Livewell water warmer than this harms bass [degC]: habitat suitability reports FWS/OBS-82/10.36
and 10.72; Brungs & Jones 1977."""
PRESSURE_M = 6.0
"""Pressure injury is typical in smallmouth bass from deeper than this [m]: Elliott et al. 2021,
N. Am. J. Fish. Manage. 41:834-843."""

WORK: dict[Ground, str] = {
    "grass": "stop above it, snap it free",
    "edge": "touch, stop, snap it free",
    "flat": "touch, stop, go on",
    "drop": "touch, stop, go on",
}
"""How a lure is worked on contact; common practice, no source (an uninterrupted retrieve that
touches nothing is the poorest)."""
GROUND_WORDS: dict[Ground, str] = {
    "grass": "thick grass",
    "edge": "outside edge of the grass",
    "flat": "clean flats",
    "drop": "drops and rock",
}


def plain_depth(units: DisplayUnits, depth_m: float) -> str:
    """A depth to be found with the sounder, in whole feet or tenths of a metre.

    Parameters
    ----------
    units : DisplayUnits
        Units of the reader [-].
    depth_m : float
        Depth [m].
    """
    digits = 0 if units.name == "us" else 1
    return f"{units.depth.value(depth_m):.{digits}f} {units.depth.unit}"


def headline(answer: PlanAnswer) -> str:
    """The plan in a sentence.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    if not answer.stops:
        return answer.short[-1] if answer.short else "No stretch can be fished."
    first, units = answer.stops[0], answer.found.units
    served = first.served
    start = (
        f"Start {at(first.arrive_s)}, {first.stretch.name[0].lower()}{first.stretch.name[1:]}, "
        f"{plain_depth(units, served.target.depth_m)}: {served.lure.name} on {served.line.name}"
    )
    many = len(answer.stops)
    rest = f"{many} {'stretch' if many == 1 else 'stretches'}"
    return f"{start}; {rest}, back {at(answer.order.route.home_s)}, deadline {_deadline(answer)}."


def _deadline(answer: PlanAnswer) -> str:
    return at(answer.found.hours.deadline_s)


def casts_words(plan: PassPlan) -> tuple[float | None, str]:
    """Heading where all casts share one [rad], else how they go, in words.

    Parameters
    ----------
    plan : PassPlan
        The pass [-].
    """
    angles = np.radians([cast.heading_deg for stop in plan.stops for cast in stop.casts])
    if angles.size == 0:
        return None, ""
    mean = complex(np.mean(np.exp(1j * angles)))
    if abs(mean) > 0.9:
        return float(np.angle(mean)) % (2.0 * math.pi), ""
    axis = complex(np.mean(np.exp(2j * angles)))
    if abs(axis) > 0.7:
        along = 0.5 * float(np.angle(axis))
        both = (compass_words(along).split()[0], compass_words(along + math.pi).split()[0])
        return None, f"cast both ways along it, {both[0]} and {both[1]}"
    if plan.stretch.kind == "edge":
        return None, "cast both ways along it as it bends"
    return None, "fan the casts"


def report_text(answer: PlanAnswer) -> str:
    """The report, in Markdown that reads as plain text.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    trip, units = answer.found.trip, answer.found.units
    lines = [
        f"# {answer.found.lake.model.name}, {trip.hours.date.isoformat()}",
        "",
        f"**{answer.headline}**",
        "",
    ]
    if answer.short:
        lines += ["## What could not be had as asked", "", *_bullets(answer.short), ""]
    lines += ["## Rods", "", *_rods(answer), "", "## The day", "", *_stops(answer), ""]
    lines += ["## What to expect", "", *_bullets([answer.outlook.headline, *_expected(answer)]), ""]
    lines += ["## Stretches in order", ""]
    for stop in answer.stops:
        lines += _stop(answer, stop)
    lines += ["## Where else", "", *_others(answer), ""]
    lines += ["## Why these rods", "", *_bullets(_proof(answer)), ""]
    lines += ["## What moved the belief in depth", ""]
    for factor in answer.outlook.outlook.factors:
        lines.append(
            f"- {factor.known}: {factor.effect} [{factor.basis}; {factor.source}] moves the "
            f"middle by {units.depth.change(factor.shift_m)}."
        )
    lines += ["", "## What was read and assumed", "", *_bullets(answer.notes), ""]
    lines += ["## Mind", "", *_bullets(answer.cautions), ""]
    return "\n".join(lines)


def _bullets(items: Sequence[str]) -> list[str]:
    return [f"- {item if item.endswith(('.', '!', '?')) else item + '.'}" for item in items]


def _rods(answer: PlanAnswer) -> list[str]:
    kit, rig = answer.found.kit, answer.rig
    rows = ["| rod | line | tie on | snap on |", "|---|---|---|---|"]
    for number, item in enumerate(rig.rig.rods, start=1):
        spool = " (spool it)" if rig.problem.spooled[item.rod] != item.line else ""
        tied, snaps = rod_lures(answer, number)
        rows.append(
            f"| {number} {kit.rods[item.rod].name} | {kit.lines[item.line].name}{spool} | "
            f"{tied} | {', '.join(snaps) or '-'} |"
        )
    return rows


def rod_lures(answer: PlanAnswer, number: int) -> tuple[str, tuple[str, ...]]:
    """Lure to tie on a rod, and those to snap on, in the sound that suits the day.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    number : int
        Number of the rod on deck, from 1 [-].
    """
    item = answer.rig.rig.rods[number - 1]
    names = {s.way.lure: s.lure.name for s in answer.served if s.rod == number}

    def name(lure: int) -> str:
        own = answer.found.kit.lures[lure].name
        return names.get(own, own)

    return name(item.tied), tuple(name(lure) for lure in item.snaps)


def _stops(answer: PlanAnswer) -> list[str]:
    units = answer.found.units
    rows = [
        "| from | to | where | depth | rod | lure | zone a cast | bites |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for stop in answer.stops:
        rows.append(
            f"| {at(stop.arrive_s)} | {at(stop.leave_s)} | {stop.number} {stop.stretch.name} | "
            f"{units.depth.text(stop.served.target.depth_m)} | {stop.served.rod} | "
            f"{stop.served.lure.name} | {units.distance.text(zone_of(stop))} | {stop.bites:.1f} |"
        )
    rows += ["", f"Home {at(answer.order.route.home_s)}; deadline {_deadline(answer)}, reserve "
             f"{answer.found.hours.reserve_s / 60.0:.0f} min."]  # fmt: skip
    return rows


def zone_of(stop: PlannedStretch) -> float:
    """Expected zone length of a cast on a stretch [m].

    Parameters
    ----------
    stop : PlannedStretch
        The stretch [-].
    """
    if stop.passes is not None and stop.passes.casts:
        return stop.passes.zone_m / stop.passes.casts
    return stop.served.way.zone_m


def _stop(answer: PlanAnswer, stop: PlannedStretch) -> list[str]:
    units, served = answer.found.units, stop.served
    run_m = float(np.sum(np.hypot(*np.diff(stop.way_m, axis=0).T)))
    lines = [
        f"### {stop.number} {stop.stretch.name}, {at(stop.arrive_s)} to {at(stop.leave_s)}",
        "",
        f"- {stop.stretch.reason}.",
        f"- Run there: {units.distance.text(run_m)}.",
        f"- {setup_words(answer, served)}",
    ]
    if stop.passes is not None:
        lines += [f"- {stop.passes.headline}", *_bullets(stop.passes.reasons)]
        said = casts_words(stop.passes)
        way = f"cast {compass_words(said[0])}" if said[0] is not None else said[1]
        lines.append(f"- Boat in order, {way}; see the picture and the GPX file.")
    else:
        lines.append(f"- No pass worked out: {stop.pass_note or 'not tried'}.")
    return [*lines, ""]


def setup_words(answer: PlanAnswer, served: Served) -> str:
    """What to cast and how, with its depth and the reason for the line.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    served : Served
        What is taken up [-].
    """
    units, way = answer.found.units, served.way
    return (
        f"Rod {served.rod}, {served.lure.name} on {served.line.name}"
        f"{', snapped on' if served.snapped else ''}: cast {units.distance.text(way.cast_m)}, rod "
        f"{way.how}, {WORK[served.target.ground]}. Free it runs to "
        f"{units.depth.text(way.free_max_depth_m)} over {units.depth.text(served.target.depth_m)}; "
        f"in the zone for {units.distance.text(way.zone_m)} of a cast, "
        f"{units.distance.band(*way.zone_band_m)} as it runs shallower or deeper than thought."
    )


def _expected(answer: PlanAnswer) -> list[str]:
    start = answer.outlook.outlook.start
    said = [
        f"Sound first: {start.sound}: {start.sound_why}",
        f"Colour first: {start.colour}: {start.colour_why}",
        f"Expected bites {answer.order.total_bites:.1f}, if the best place gives "
        f"{answer.found.trip.fish.best_bites_per_h or BEST_BITES_PER_H:g} an hour, which is an "
        "assumption; the order of the stretches does not hang on it",
    ]
    sizes = answer.candidates.sizes
    if sizes is not None and answer.order.weight_kg is not None:
        bites = np.zeros(len(sizes.mean_m))
        for stop in answer.stops:
            bites[int(stop.served.target.ground == "drop")] += stop.bites
        legal, chance = legal_chance(sizes, bites)
        pounds = answer.order.weight_kg / 0.45359237
        weight = f"{pounds:.1f} lb" if answer.found.units.name == "us" else (
            f"{answer.order.weight_kg:.1f} kg"
        )  # fmt: skip
        said.append(
            f"The best {sizes.count} legal fish are expected to weigh {weight} together; "
            f"{legal:.1f} legal fish, a full {sizes.count} in {100.0 * chance:.0f} of 100 such "
            "days. Lengths, standard weights and the share landed are assumptions"
        )
    return said


def _others(answer: PlanAnswer) -> list[str]:
    chosen = set(answer.order.route.order)
    left = [i for i in range(len(answer.candidates.stretches)) if i not in chosen]
    worth = answer.candidates.offers
    left.sort(key=lambda i: -worth[i].promise.bites(1800.0))
    rows = [
        f"- {answer.candidates.stretches[i].name}: {answer.candidates.stretches[i].reason}."
        for i in left[:6]
    ]
    return rows or ["- Every stretch found is in the plan."]


def _proof(answer: PlanAnswer) -> list[str]:
    rig, route, units = answer.rig, answer.order.route, answer.found.units
    proved = "proved best" if rig.rig.proved else "the best found in the time"
    said = [
        f"Rods: {units.distance.text(rig.rig.worth_m)} of zone a cast over all the day may ask, "
        f"{proved}; taking the best one at a time gives {units.distance.text(rig.greedy_m)}",
        f"One more rod would add {units.distance.text(rig.further_rod_m)}",
        f"Order: {'proved best' if route.exact else 'the best found'} for its stays on the "
        f"stretches, of {len(answer.candidates.stretches)} weighed",
    ]
    return [*said, *([rig.further_lure] if rig.further_lure else []), *rig.notes]


def day_notes(answer: PlanAnswer) -> tuple[str, ...]:
    """What the plan assumes, a sentence each.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    return (
        *answer.outlook.notes,
        "Bites are taken to come with the metres of zone fished, the belief in depth and cover "
        "and the structure, and to run out as a stretch is covered again: assumptions, no source",
        f"{SETTLE_S / 60.0:.1f} min at each stretch go to finding the edge with the sounder; casts "
        "are laid along the edge as found, not as drawn",
        "Passes are planned with the boat held; creeping along may be better, see leadsman passes",
    )


def day_cautions(answer: PlanAnswer) -> tuple[str, ...]:
    """What to mind, most pressing first.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    said: list[str] = []
    aim, sizes = answer.found.trip.aim, answer.candidates.sizes
    water_c = (
        aim.livewell_c if aim.livewell_c is not None else answer.found.trip.water.temperature_c
    )
    if sizes is not None and answer.stops:
        units = answer.found.units
        if water_c is not None and water_c > WARM_C:
            said.append(
                f"Livewell at {units.temperature.text(water_c)}: over "
                f"{units.temperature.text(WARM_C)} bass suffer; cool it, run the pump, keep few."
            )
        hold_s = answer.order.route.home_s - answer.stops[0].arrive_s
        if hold_s > aim.livewell_s:
            said.append(
                f"The first fish may be {hold_s / 3600.0:.0f} h in the livewell, longer than the "
                f"{aim.livewell_s / 3600.0:.0f} h you allow: let early fish go or exchange them."
            )
    if any(stop.served.target.depth_m > PRESSURE_M for stop in answer.stops):
        said.append(
            f"Below {answer.found.units.depth.text(PRESSURE_M)} pressure hurts fish: let them go "
            "at once; venting is not advised."
        )
        return (*said, *(c for c in USUAL_CAUTIONS if not c.startswith("Fish from deep")))
    return (*said, *USUAL_CAUTIONS)
