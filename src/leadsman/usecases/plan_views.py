"""The plan of a day as card, maps, way points and shapes."""

from __future__ import annotations

import math
from datetime import time
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from leadsman.kitfile.trip_words import clock_text as at
from leadsman.output.map_view_of import depth_edge_of, depth_grid_of
from leadsman.output.map_view_types import MapView, Place, Polyline, Stretch
from leadsman.output.plan_card_types import PassEntry, PlanCard, RodEntry
from leadsman.usecases.plan_text import (
    GROUND_WORDS,
    WORK,
    casts_words,
    plain_depth,
    rod_lures,
    zone_of,
)
from leadsman.usecases.plan_types import PlanAnswer, PlannedStretch, Served

if TYPE_CHECKING:
    from leadsman.output.geojson import Feature
    from leadsman.output.gpx import Track, Waypoint

FloatArray = npt.NDArray[np.float64]


def plan_card(answer: PlanAnswer) -> PlanCard:
    """The card for the boat.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    home_s = answer.order.route.home_s
    last = answer.stops[-1].leave_s if answer.stops else home_s
    run = max(math.ceil((home_s - last) / 60.0), 1)
    deadline = at(answer.found.hours.deadline_s)
    cautions = tuple(c for c in answer.cautions if c)
    return PlanCard(
        answer.headline,
        answer.found.lake.model.name,
        answer.found.trip.hours.date,
        tuple(_rod(answer, number) for number in range(1, len(answer.rig.rig.rods) + 1)),
        tuple(_pass(answer, stop) for stop in answer.stops),
        _time(last),
        f"{run} min run to {answer.found.trip.launch.name}, back by {deadline}",
        cautions,
        answer.found.units,
    )


def _time(seconds: float) -> time:
    minutes = min(math.floor(seconds / 60.0 + 1e-6), 24 * 60 - 1)
    return time(minutes // 60, minutes % 60)


def _rod(answer: PlanAnswer, number: int) -> RodEntry:
    item = answer.rig.rig.rods[number - 1]
    tied, snaps = rod_lures(answer, number)
    line = answer.found.kit.lines[item.line].name
    if answer.rig.problem.spooled[item.rod] != item.line:
        line = f"spool {line}"
    own = [s for s in answer.served if s.rod == number]
    used = [s for s in own if s.lure.name == tied] or own
    units = answer.found.units
    if not used:
        return RodEntry(number, tied, line, "a change of depth", 0.0, 0.0, "", snaps)
    step = 0.3048 if units.name == "us" else 0.5
    depths = [round(s.target.depth_m / step) * step for s in own]
    covers = ", ".join(dict.fromkeys(GROUND_WORDS[s.target.ground] for s in own))
    notes = []
    for name in snaps:
        mine = [s for s in own if s.lure.name == name]
        depth = plain_depth(units, mine[0].target.depth_m) if mine else ""
        notes.append(f"{name} for {depth} {mine[0].target.ground}" if mine else name)
    return RodEntry(
        number, tied, f"{line}, on the {answer.found.kit.rods[item.rod].name} rod", covers,
        min(depths), max(depths), _how(answer, used[0]), tuple(notes),
    )  # fmt: skip


def _how(answer: PlanAnswer, served: Served) -> str:
    way, units = served.way, answer.found.units
    return f"{units.distance.text(way.cast_m)}, {way.how}; {WORK[served.target.ground]}"


def _pass(answer: PlanAnswer, stop: PlannedStretch) -> PassEntry:
    units, served, plan = answer.found.units, stop.served, stop.passes
    heading, words = (None, "find it with the sounder") if plan is None else casts_words(plan)
    boat = ""
    if plan is not None and plan.stops:
        depths = [place.depth_m for place in plan.stops]
        low, high = (round(units.depth.value(d)) for d in (min(depths), max(depths)))
        water = f"{low}" if low == high else f"{low}–{high}"
        many = len(plan.stops)
        where = "outside, " if plan.stretch.kind == "edge" else ""
        boat = f"boat {where}over {water} {units.depth.unit}, {many} stop{'s' if many > 1 else ''}"
    note = f"snap on {served.lure.name}" if served.snapped else ""
    return PassEntry(
        _time(stop.arrive_s), _time(stop.leave_s),
        f"{stop.number} {stop.stretch.name}, {plain_depth(units, served.target.depth_m)}",
        served.rod, boat, heading, zone_of(stop), ", ".join(w for w in (words, note) if w),
    )  # fmt: skip


def overview(answer: PlanAnswer) -> MapView:
    """The whole lake with the stretches numbered and the way of the boat.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    model, level = answer.found.lake.model, answer.found.trip.lake.level_m
    units = answer.found.units
    ways = [stop.way_m for stop in answer.stops] + [answer.home_way_m]
    route = np.concatenate(ways)
    edges = []
    for ground in ("edge", "drop"):
        served = next((s for s in answer.served if s.target.ground == ground), None)
        if served is not None:
            depth = served.target.depth_m
            told = "grass edge" if ground == "edge" else "drop"
            edge = depth_edge_of(
                model, depth, f"{told}, {plain_depth(units, depth)}", grass=ground == "edge",
                level_m=level,
            )  # fmt: skip
            edges.append(type(edge)(edge.lines, (), edge.what, edge.grass))
            break
    lattice = model.lattice
    middle = (
        lattice.x0_m + 0.5 * lattice.cell_m * lattice.nx,
        lattice.y0_m + 0.5 * lattice.cell_m * lattice.ny,
    )
    lon, lat = lattice.frame.to_lonlat(*middle)
    return MapView(
        headline=answer.headline,
        grid=depth_grid_of(model, level),
        edges=tuple(edges),
        stretches=tuple(
            Stretch(
                stop.number,
                Polyline(stop.stretch.line.x_m, stop.stretch.line.y_m),
                at(stop.arrive_s),
            )
            for stop in answer.stops
        ),
        route=Polyline(route[:, 0], route[:, 1]) if len(route) >= 2 else None,
        places=(Place(*answer.found.here_m, answer.found.trip.launch.name),),
        units=units,
        north_rad=lattice.frame.grid_heading_rad(float(lon), float(lat), 0.0),
        wind_from_rad=(
            math.radians(answer.found.wind_from_deg) if answer.found.wind_m_s > 0.0 else None
        ),
        subtitle=f"{model.name}, {answer.found.trip.hours.date.isoformat()}",
        stretch_words="stretch, in order",
    )


def plan_waypoints(answer: PlanAnswer) -> list[Waypoint]:
    """Launch, stretches in order, and the places of the boat on each.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    from leadsman.output.gpx import Waypoint
    from leadsman.output.passes_files import pass_waypoints

    launch = answer.found.trip.launch
    points = [
        Waypoint(
            launch.at_deg[1], launch.at_deg[0], launch.name,
            f"Back by {at(answer.found.hours.deadline_s)}.",
        )
    ]  # fmt: skip
    for stop in answer.stops:
        lon, lat = _lonlat(answer, stop.way_m[-1:])
        served = stop.served
        points.append(
            Waypoint(
                float(lon[0]), float(lat[0]), f"{stop.number}",
                f"{at(stop.arrive_s)} to {at(stop.leave_s)} {stop.stretch.name}. Rod "
                f"{served.rod}, {served.lure.name} on {served.line.name}.",
                served.target.depth_m,
            )
        )  # fmt: skip
        if stop.passes is not None:
            points += pass_waypoints(stop.passes, answer.found.units, f"{stop.number}-")
    return points


def plan_tracks(answer: PlanAnswer) -> list[Track]:
    """The way over water as one route, and each pass.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    from leadsman.output.gpx import Track
    from leadsman.output.passes_files import pass_tracks

    ways = np.concatenate([*(stop.way_m for stop in answer.stops), answer.home_way_m])
    lon, lat = _lonlat(answer, ways)
    tracks = [Track(lon, lat, "Day", answer.headline, None, is_route=True)]
    for stop in answer.stops:
        if stop.passes is not None:
            tracks += pass_tracks(stop.passes, answer.found.lake.model, f"{stop.number}-")
    return tracks


def plan_features(answer: PlanAnswer) -> list[Feature]:
    """Ways, stretches, boat places, casts and zones as shapes.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    """
    from leadsman.output.geojson import line_feature
    from leadsman.output.passes_files import pass_features

    made = []
    for stop in answer.stops:
        line = stop.stretch.line
        made.append(
            line_feature(
                *_lonlat(answer, np.column_stack((line.x_m, line.y_m))),
                what="stretch of the day", number=stop.number, name=stop.stretch.name,
                arrive=at(stop.arrive_s), leave=at(stop.leave_s), rod=stop.served.rod,
                lure=stop.served.lure.name, depth_m=stop.served.target.depth_m,
                bites=round(stop.bites, 3), reason=stop.stretch.reason,
            )
        )  # fmt: skip
        if len(stop.way_m) >= 2:
            made.append(line_feature(*_lonlat(answer, stop.way_m), what="way", to=stop.number))
    if len(answer.home_way_m) >= 2:
        made.append(line_feature(*_lonlat(answer, answer.home_way_m), what="way", to="home"))
    plans = [stop.passes for stop in answer.stops if stop.passes is not None]
    return [*made, *pass_features(plans, answer.found.lake.model)]


def _lonlat(answer: PlanAnswer, points: FloatArray) -> tuple[FloatArray, FloatArray]:
    return answer.found.lake.model.lattice.frame.to_lonlat(points[:, 0], points[:, 1])
