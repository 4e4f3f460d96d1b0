"""A whole day: rods, stretches in order, boat and casts, home in time."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError
from leadsman.kitfile.trip_types import Trip
from leadsman.lake.bottom_model import BottomModel
from leadsman.plan.boat_water import straightened, water_grid
from leadsman.plan.catch_weight import FishSizes
from leadsman.plan.day_plan import DayOrder, Offer, order_day
from leadsman.plan.day_stretches import DayStretch, day_stretches, told_apart
from leadsman.plan.day_worth import (
    BEST_BITES_PER_H,
    Promise,
    along_share,
    structure_factor,
)
from leadsman.plan.passes_settings import Pace
from leadsman.plan.passes_types import PassPlan
from leadsman.plan.route import DayHours
from leadsman.plan.water_travel import TravelTable, WaterGrid, travel_table
from leadsman.usecases.outlook import OutlookAnswer, clock, find_outlook
from leadsman.usecases.plan_passes import PassesOfDay
from leadsman.usecases.plan_rods import RodsOfDay, reach_m, rods_of_day, water_of
from leadsman.usecases.plan_text import day_cautions, day_notes, headline
from leadsman.usecases.plan_types import Candidates, PlanAnswer, PlannedStretch, Served
from leadsman.usecases.resolve_trip import ResolvedTrip, outlook_question, resolve_trip

FloatArray = npt.NDArray[np.float64]

CASTS_AT_A_PLACE = 6.0
"""Casts made from one place, for a quick estimate of the pace [-]. Own assumption."""
TRIES = 4
"""How often the order is chosen anew when a pass cannot be made where it was thought [-]."""


def plan_day(
    trip: Trip,
    progress: Callable[[float, str], None] | None = None,
    model: BottomModel | None = None,
) -> PlanAnswer:
    """Plan a day.

    Parameters
    ----------
    trip : Trip
        The day as written [-].
    progress : callable or None
        Takes the share that is done and what is being done [-].
    model : BottomModel or None
        A bottom already opened; None opens the trip's lake [-].

    Raises
    ------
    InputError
        Something given cannot be used. What merely cannot be had as asked is said in the
        answer, with the nearest plan.
    """
    tell = progress or (lambda _share, _what: None)
    tell(0.0, "opening lake and kit")
    found = resolve_trip(trip, model)
    tell(0.1, "reading the day")
    reach = reach_m(found.kit, water_of(found))
    outlook = find_outlook(outlook_question(found, reach))
    tell(0.15, "trying every lure on every line")
    rods = rods_of_day(
        found, outlook.outlook, reach, lambda share, what: tell(0.15 + 0.4 * share, what)
    )
    tell(0.6, "finding stretches")
    stretches, served_of, notes = _stretches(found, outlook, rods)
    candidates, table = _candidates(found, rods, stretches, served_of)
    tell(0.7, "choosing order and casts")
    passes = PassesOfDay(found, rods)
    order, candidates = _order(found, candidates, served_of, passes)
    stops = _stops(order, candidates, table, served_of, rods, passes)
    short = [*found.short, *rods.short, *_too_late(found, candidates, order)]
    answer = PlanAnswer(
        found,
        outlook,
        rods.rig,
        rods.served,
        candidates,
        order,
        stops,
        _way(table, candidates.grid, order.route.order[-1] if stops else len(stretches), -1),
        "",
        tuple(dict.fromkeys(short)),
        (*found.notes, *notes),
        (),
    )
    tell(1.0, "done")
    return replace(
        answer,
        headline=headline(answer),
        notes=(*answer.notes, *day_notes(answer)),
        cautions=day_cautions(answer),
    )


def _stretches(
    found: ResolvedTrip, outlook: OutlookAnswer, rods: RodsOfDay
) -> tuple[tuple[DayStretch, ...], list[Served], tuple[str, ...]]:
    """Stretches for the targets that something on the rods works."""
    if not rods.served:
        raise PlanError(
            "nothing rigged works anywhere for more than a few yards of a cast",
            "rods",
            "Allow more rods or snaps, a higher contact load, or other targets",
        )
    day = outlook.outlook.day
    edge = day.grass_edge_m
    targets = [served.target for served in rods.served]
    total = sum(target.chance for target in targets)
    targets = [replace(t, chance=t.chance / total) for t in targets]
    metric = found.units.name == "metric"
    made, notes = day_stretches(
        found.lake.model,
        targets,
        found.trip.lake.level_m,
        edge.value if edge is not None else None,
        (edge.high - edge.low) / (2.0 * 1.645) if edge is not None else 0.0,
        "{:.1f} m" if metric else "{:.0f} ft",
        metric,
    )
    made = told_apart(made)
    return made, [rods.served[item.target] for item in made], notes


def _candidates(
    found: ResolvedTrip,
    rods: RodsOfDay,
    stretches: Sequence[DayStretch],
    served_of: Sequence[Served],
) -> tuple[Candidates, TravelTable]:
    grid = water_grid(found.lake.model, found.boat, found.trip.lake.level_m)
    places = [_near_water(grid, item) for item in stretches]
    for name, ramp in (("at", found.here_m), ("back_at", found.home_m)):
        try:
            grid.cell_of(*ramp)
        except PlanError:
            raise PlanError(
                "no water deep enough for the boat lies near the launch",
                found.trip.source.where("launch", name),
                "Give a place on the water, or a smaller least_depth of the boat",
            ) from None
    table = travel_table(
        grid, [place or found.here_m for place in places] + [found.here_m, found.home_m]
    )
    travel = table.time_s.copy()
    for index, place in enumerate(places):
        if place is None:
            travel[index, :] = travel[:, index] = np.inf
    offers = _offers(found, rods, stretches, served_of)
    return Candidates(tuple(stretches), offers, grid, travel, _sizes(found)), table


def _near_water(grid: WaterGrid, item: DayStretch) -> tuple[float, float] | None:
    for place in (item.beside_m, item.middle_m):
        try:
            grid.cell_of(*place)
        except PlanError:
            continue
        return place
    return None


def _offers(
    found: ResolvedTrip,
    rods: RodsOfDay,
    stretches: Sequence[DayStretch],
    served_of: Sequence[Served],
) -> tuple[Offer, ...]:
    best_h = found.trip.fish.best_bites_per_h or BEST_BITES_PER_H
    top = max(s.rel_rate * _zone_m_s(found, s) for s in rods.served)
    base = best_h / 3600.0 / top
    offers = []
    for item, served in zip(stretches, served_of, strict=True):
        zone = _zone_m_s(found, served)
        if item.line.kind == "edge":
            se = float(np.median(item.line.position_se_m))
            zone *= along_share(served.way.zone_m, item.radius_m, se)
        rate = base * served.rel_rate * structure_factor(item.score)
        group = int(served.target.ground == "drop")
        offers.append(Offer(item.name, Promise(rate, zone, item.line.length_m), group))
    return tuple(offers)


def _zone_m_s(found: ResolvedTrip, served: Served) -> float:
    """Zone fished a second, by a quick estimate of the pace [m s-1]."""
    pace = Pace()
    retrieve_s = served.way.travelled_m / found.kit.angler.reel_speed_m_s
    cast_s = retrieve_s + pace.throw_s + pace.turn_s + pace.settle_s / CASTS_AT_A_PLACE
    return served.way.zone_m / cast_s


def _sizes(found: ResolvedTrip) -> FishSizes | None:
    aim = found.trip.aim
    if aim.want == "bites":
        return None
    drop = aim.usual_length_drop_m or aim.usual_length_m
    return FishSizes(
        found.trip.fish.species, (aim.usual_length_m, drop), aim.length_spread_m,
        aim.least_length_m or 0.0, aim.count, aim.culling, aim.landed,
    )  # fmt: skip


def _order(
    found: ResolvedTrip,
    candidates: Candidates,
    served_of: Sequence[Served],
    passes: PassesOfDay,
) -> tuple[DayOrder, Candidates]:
    """Choose the order; a stretch on which no pass can be made is taken out and it is chosen anew.

    What a pass turned out to fish replaces the quick estimate of it.
    """
    hours: DayHours = found.hours
    offers, travel = list(candidates.offers), candidates.travel_s.copy()
    for _ in range(TRIES):
        order = order_day(offers, travel, hours, candidates.sizes)
        failed = False
        for index, stay in zip(order.route.order, order.stay_s, strict=True):
            item, served = candidates.stretches[index], served_of[index]
            made = passes.plan(index, item, served, stay)
            if made is None:
                offers[index] = replace(
                    offers[index], promise=replace(offers[index].promise, zone_m_s=0.0)
                )
                failed = True
        if not failed:
            break
    else:
        order = order_day(offers, travel, hours, candidates.sizes)
    return order, replace(candidates, offers=tuple(offers), travel_s=travel)


def _stops(
    order: DayOrder,
    candidates: Candidates,
    table: TravelTable,
    served_of: Sequence[Served],
    rods: RodsOfDay,
    passes: PassesOfDay,
) -> tuple[PlannedStretch, ...]:
    at = len(candidates.stretches)
    stops = []
    for number, index in enumerate(order.route.order, start=1):
        plan: PassPlan | None = passes.made.get(index)
        stops.append(
            PlannedStretch(
                number,
                candidates.stretches[index],
                served_of[index],
                order.route.arrive_s[number - 1],
                order.route.leave_s[number - 1],
                order.bites[number - 1],
                plan,
                "" if plan is not None else passes.refused.get(index, ""),
                _way(table, candidates.grid, at, index),
            )
        )
        at = index
    return tuple(stops)


def _way(table: TravelTable, grid: WaterGrid, start: int, end: int) -> FloatArray:
    """Way over water; -1 is home."""
    end = len(table.cells) - 1 if end < 0 else end
    return straightened(grid, table.way(start, end))


def _too_late(found: ResolvedTrip, candidates: Candidates, order: DayOrder) -> list[str]:
    """What to do where no stretch can be fished and be back in time."""
    if order.route.order:
        return []
    here = len(candidates.stretches)
    trip_s = candidates.travel_s[here, :here] + candidates.travel_s[:here, here + 1]
    works = np.array([offer.promise.zone_m_s > 0.0 for offer in candidates.offers])
    trip_s = np.where(works, trip_s, np.inf)
    if not np.any(np.isfinite(trip_s)):
        return ["No stretch found can be reached by water this boat can use."]
    nearest = int(np.argmin(trip_s))
    need = float(trip_s[nearest]) + 600.0 + found.hours.reserve_s
    until = math.ceil((found.hours.start_s + need) / 60.0) / 60.0
    return [
        f"No stretch can be fished and be back by {clock(found.hours.deadline_s / 3600.0)}: the "
        f"nearest, {candidates.stretches[nearest].name}, takes {trip_s[nearest] / 60.0:.0f} min "
        "there and back. The nearest plan: fish within sight of the launch, or be allowed until "
        f"{clock(until)} for ten minutes there with the reserve kept."
    ]
