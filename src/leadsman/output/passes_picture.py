"""A picture of one stretch: bottom, edge with its band, boat positions in order, casts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from leadsman.display_units import US, DisplayUnits
from leadsman.lake.bottom_model import BottomModel
from leadsman.output.map_view_of import depth_edge_of, depth_grid_of
from leadsman.output.map_view_types import CastLine, DepthGrid, MapView, Polyline, Window
from leadsman.output.style import LAPTOP, Layout
from leadsman.plan.passes_types import PassPlan

if TYPE_CHECKING:
    from matplotlib.figure import Figure

MARGIN_M = 22.0
"""Ground shown beyond the boats and casts [m]."""


def draw_pass(
    plan: PassPlan,
    model: BottomModel,
    *,
    edge_se_m: float = 0.0,
    level_m: float = 0.0,
    wind_from_rad: float | None = None,
    units: DisplayUnits = US,
    layout: Layout = LAPTOP,
) -> Figure:
    """Draw a pass.

    Parameters
    ----------
    plan : PassPlan
        The pass [-].
    model : BottomModel
        The bottom [-].
    edge_se_m : float
        Standard error of the depth of the edge itself [m].
    level_m : float
        Water level now above the reference [m].
    wind_from_rad : float or None
        Where the wind comes from, clockwise from true north [rad].
    units : DisplayUnits
        Units the reader thinks in [-].
    layout : Layout
        Width and type sizes [-].
    """
    from leadsman.output.map_picture import draw_map

    view = pass_view(
        plan, model, edge_se_m=edge_se_m, level_m=level_m, wind_from_rad=wind_from_rad, units=units
    )
    return draw_map(view, layout)


def pass_view(
    plan: PassPlan,
    model: BottomModel,
    *,
    edge_se_m: float = 0.0,
    level_m: float = 0.0,
    wind_from_rad: float | None = None,
    units: DisplayUnits = US,
) -> MapView:
    """What the picture of a pass shows.

    Parameters
    ----------
    plan : PassPlan
        The pass [-].
    model : BottomModel
        The bottom [-].
    edge_se_m : float
        Standard error of the depth of the edge itself [m].
    level_m : float
        Water level now above the reference [m].
    wind_from_rad : float or None
        Where the wind comes from, clockwise from true north [rad].
    units : DisplayUnits
        Units the reader thinks in [-].
    """
    casts = _casts(plan)
    seen = [Polyline(plan.stretch.x_m, plan.stretch.y_m)]
    seen += [
        Polyline(np.array([c.boat_x_m, c.end_x_m]), np.array([c.boat_y_m, c.end_y_m]))
        for c in casts
    ]
    window = Window.around(tuple(seen), MARGIN_M)
    near = _cut(model, window)
    stretch = plan.stretch
    grass = stretch.grass is not None
    bare = {"edge": "edge", "drop": "drop", "flat": "depth"}[stretch.kind]
    what = "grass edge" if grass else bare
    edge = depth_edge_of(
        near,
        stretch.depth_m,
        f"{what}, {units.depth.text(stretch.depth_m)}",
        depth_se_m=edge_se_m,
        grass=grass,
        level_m=level_m,
    )
    lon, lat = model.lattice.frame.to_lonlat(float(stretch.x_m[0]), float(stretch.y_m[0]))
    return MapView(
        headline=plan.headline,
        grid=_grid(near, level_m),
        edges=(edge,),
        casts=casts,
        route=_route(plan),
        window=window,
        units=units,
        north_rad=model.lattice.frame.grid_heading_rad(float(lon), float(lat), 0.0),
        wind_from_rad=wind_from_rad,
        scale="distance",
        subtitle=_subtitle(plan, units),
        note="Thick: expected in the zone.",
    )


def _subtitle(plan: PassPlan, units: DisplayUnits) -> str:
    setup = plan.setup
    return (
        f"{setup.lure.name} on {setup.line.name}; "
        f"{units.distance.text(plan.zone_per_hour_m)} of new "
        f"{'edge' if plan.stretch.kind == 'edge' else 'ground'} an hour"
    )


def _casts(plan: PassPlan) -> tuple[CastLine, ...]:
    made = []
    for stop in plan.stops:
        for place, cast in enumerate(stop.casts):
            zone = None
            if len(cast.zone_x_m) == 2:
                zone = Polyline(np.array(cast.zone_x_m), np.array(cast.zone_y_m))
            number = stop.number if place == 0 else None
            made.append(CastLine(stop.x_m, stop.y_m, cast.end_x_m, cast.end_y_m, zone, number))
    return tuple(made)


def _route(plan: PassPlan) -> Polyline | None:
    if len(plan.stops) < 2:
        return None
    return Polyline(
        np.array([stop.x_m for stop in plan.stops]), np.array([stop.y_m for stop in plan.stops])
    )


def _cut(model: BottomModel, window: Window) -> BottomModel:
    """The part of the bottom about a window, so that contours are drawn of it alone."""
    from dataclasses import replace

    lattice = model.lattice
    margin = 0.6 * max(window.right_m - window.left_m, window.top_m - window.bottom_m) + 30.0
    cols = np.flatnonzero(
        (lattice.x_m >= window.left_m - margin) & (lattice.x_m <= window.right_m + margin)
    )
    rows = np.flatnonzero(
        (lattice.y_m >= window.bottom_m - margin) & (lattice.y_m <= window.top_m + margin)
    )
    if cols.size < 2 or rows.size < 2:
        return model
    own = replace(
        lattice,
        x0_m=float(lattice.x_m[cols[0]]),
        y0_m=float(lattice.y_m[rows[0]]),
        nx=int(cols.size),
        ny=int(rows.size),
    )
    part = (slice(int(rows[0]), int(rows[-1]) + 1), slice(int(cols[0]), int(cols[-1]) + 1))
    return replace(model, lattice=own, depth_m=model.depth_m[part], se_m=model.se_m[part])


def _grid(model: BottomModel, level_m: float) -> DepthGrid:
    return depth_grid_of(model, level_m)
