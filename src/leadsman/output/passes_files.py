"""Passes as way points, routes and shapes for the chart plotter and the map."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from leadsman.display_units import US, DisplayUnits

if TYPE_CHECKING:
    from leadsman.lake.bottom_model import BottomModel
    from leadsman.output.geojson import Feature
    from leadsman.output.gpx import Track, Waypoint
    from leadsman.plan.passes_types import BoatStop, PassPlan


def stop_note(stop: BoatStop, units: DisplayUnits = US) -> str:
    """What to do at a place, in words.

    Parameters
    ----------
    stop : BoatStop
        The place [-].
    units : DisplayUnits
        Units of the words [-].
    """
    casts = "; ".join(
        f"{cast.heading_deg:03.0f} deg true, {units.distance.text(cast.cast_m)}, zone "
        f"{units.distance.text(cast.zone_m)}"
        for cast in stop.casts
    )
    return f"Cast {casts}. Water {units.depth.text(stop.depth_m)}."


def pass_waypoints(plan: PassPlan, units: DisplayUnits = US, tag: str = "P") -> list[Waypoint]:
    """Boat positions of a pass as way points with notes.

    Parameters
    ----------
    plan : PassPlan
        The pass [-].
    units : DisplayUnits
        Units of the notes [-].
    tag : str
        What the names begin with; short, for small screens [-].
    """
    from leadsman.output.gpx import Waypoint

    return [
        Waypoint(
            stop.lon_deg,
            stop.lat_deg,
            f"{tag}{stop.number:02d}",
            stop_note(stop, units),
            stop.depth_m,
        )
        for stop in plan.stops
    ]


def pass_tracks(plan: PassPlan, model: BottomModel, tag: str = "P") -> list[Track]:
    """The boat's way as a route, and the edge beside it as a track.

    Parameters
    ----------
    plan : PassPlan
        The pass [-].
    model : BottomModel
        The bottom, for its frame [-].
    tag : str
        What the names begin with [-].
    """
    from leadsman.output.gpx import Track

    lon, lat = model.lattice.frame.to_lonlat(plan.stretch.x_m, plan.stretch.y_m)
    tracks = []
    if len(plan.stops) > 1:
        tracks.append(
            Track(
                np.array([stop.lon_deg for stop in plan.stops]),
                np.array([stop.lat_deg for stop in plan.stops]),
                f"{tag} route",
                plan.headline,
                None,
                is_route=True,
            )
        )
    tracks.append(Track(lon, lat, f"{tag} edge", plan.stretch.name, plan.stretch.depth_m))
    return tracks


def pass_features(plans: Sequence[PassPlan], model: BottomModel) -> list[Feature]:
    """Stretches, boat positions, casts and their zones as shapes.

    Parameters
    ----------
    plans : sequence of PassPlan
        The passes [-].
    model : BottomModel
        The bottom, for its frame [-].
    """
    from leadsman.output.geojson import line_feature, point_feature

    frame = model.lattice.frame
    made = []
    for number, plan in enumerate(plans, start=1):
        lon, lat = frame.to_lonlat(plan.stretch.x_m, plan.stretch.y_m)
        made.append(
            line_feature(
                lon,
                lat,
                what="stretch",
                number=number,
                name=plan.stretch.name,
                depth_m=plan.stretch.depth_m,
                minutes=plan.minutes,
                covered_m=plan.covered_m,
            )
        )
        for stop in plan.stops:
            made.append(
                point_feature(
                    stop.lon_deg,
                    stop.lat_deg,
                    what="boat",
                    stretch=number,
                    number=stop.number,
                    depth_m=stop.depth_m,
                )
            )
            for cast in stop.casts:
                x = np.array([stop.x_m, cast.end_x_m])
                y = np.array([stop.y_m, cast.end_y_m])
                made.append(
                    line_feature(
                        *frame.to_lonlat(x, y),
                        what="cast",
                        stretch=number,
                        number=stop.number,
                        heading_deg=cast.heading_deg,
                        cast_m=cast.cast_m,
                        zone_m=cast.zone_m,
                    )
                )
                if len(cast.zone_x_m) == 2:
                    zone = frame.to_lonlat(np.array(cast.zone_x_m), np.array(cast.zone_y_m))
                    made.append(
                        line_feature(
                            *zone,
                            what="zone",
                            stretch=number,
                            number=stop.number,
                            zone_m=cast.zone_m,
                            load=cast.mean_load,
                        )
                    )
    return made
