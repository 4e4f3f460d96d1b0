"""The sentences of a pass: what to do, why, and what to mind."""

from __future__ import annotations

import numpy as np

from leadsman.plan.passes_settings import INTO_WIND_RAD, PassSettings
from leadsman.plan.passes_types import EdgeStretch, PassPlan


def pass_headline(plan: PassPlan, settings: PassSettings) -> str:
    """What to do, in one sentence.

    Parameters
    ----------
    plan : PassPlan
        The pass [-].
    settings : PassSettings
        Its units [-].
    """
    units = settings.units
    what = f"{plan.casts} {'cast' if plan.casts == 1 else 'casts'}"
    covered = (
        f"ride about {units.distance.text(plan.covered_m)} of it "
        if plan.stretch.kind == "edge"
        else f"put about {units.distance.text(plan.covered_m)} of new ground in the zone "
    )
    time = f"in {plan.minutes:.0f} minutes"
    if plan.boat == "creep":
        return (
            f"{plan.stretch.name}: creep along at {units.reel_speed.text(plan.boat_m_s)} casting "
            f"ahead; {what} {covered}{time}."
        )
    stops = f"{len(plan.stops)} {'stop' if len(plan.stops) == 1 else 'stops'}"
    return f"{plan.stretch.name}: {stops}, {what} {covered}{time}."


def pass_reasons(
    plan: PassPlan,
    settings: PassSettings,
    other: tuple[float, float] | None,
    across_m: float | None,
    bounded: bool,
) -> tuple[str, ...]:
    """Why the pass is as it is.

    Parameters
    ----------
    plan : PassPlan
        The pass [-].
    settings : PassSettings
        What was wanted [-].
    other : tuple of float or None
        What the other way of the boat would cover [m], and how long it takes [s].
    across_m : float or None
        Most new edge of one cast square to the edge [m].
    bounded : bool
        Whether the plan's bound is one [-].
    """
    units = settings.units
    said = [_setup(plan, settings), _boat(plan, settings)]
    most = max((c.new_edge_m for s in plan.stops for c in s.casts), default=0.0)
    if across_m is not None and most > 0.0:
        said.append(
            f"The best cast along the edge works {units.distance.text(most)} of it, the best "
            f"square to it {units.distance.text(across_m)}."
        )
    if other is not None:
        way = "Holding" if plan.boat == "creep" else "Creeping along"
        said.append(
            f"{way} would cover {units.distance.text(other[0])} in {other[1] / 60.0:.0f} minutes."
        )
    said += _wind(plan, settings)
    if plan.stretch.length_m < plan.setup.technique.cast_m:
        said.append(
            f"The stretch is {units.distance.text(plan.stretch.length_m)} long, shorter than a "
            "cast: part of each cast lies beyond it."
        )
    if bounded and plan.bound_m > 0.0:
        said.append(
            f"Of {plan.casts_considered:,} casts weighed, no choice covers more than "
            f"{units.distance.text(plan.bound_m)} in the same time."
        )
    fouled = [c.foul_chance for s in plan.stops for c in s.casts]
    if plan.stretch.grass is not None and fouled:
        said.append(
            f"A cast fouls in grass with a chance of {100.0 * float(np.mean(fouled)):.0f} %; how "
            "readily grass holds a lure is an assumption."
        )
    return tuple(said)


def _setup(plan: PassPlan, settings: PassSettings) -> str:
    units, setup = settings.units, plan.setup
    casts = [c.cast_m for s in plan.stops for c in s.casts]
    length = units.distance.band(min(casts), max(casts)) if np.ptp(casts) > 1.0 else (
        units.distance.text(casts[0])
    )  # fmt: skip
    how = f", rod {setup.how}" if setup.how else ""
    band = [c.zone_band_m for s in plan.stops for c in s.casts]
    low, high = float(np.mean([b[0] for b in band])), float(np.mean([b[1] for b in band]))
    mean = plan.zone_m / max(plan.casts, 1)
    return (
        f"{setup.lure.name} on {setup.line.name}, cast {length}{how}: a cast is in the zone for "
        f"{units.distance.text(mean)}, {units.distance.band(low, high)} as the lure runs "
        "shallower or deeper than thought."
    )


def _boat(plan: PassPlan, settings: PassSettings) -> str:
    units = settings.units
    depths = [s.depth_m for s in plan.stops]
    where = "The boat stays outside the edge" if plan.stretch.kind == "edge" else "The boat stays"
    water = (
        units.depth.text(depths[0])
        if max(depths) - min(depths) < 0.15
        else units.depth.band(min(depths), max(depths))
    )
    return f"{where} over {water} of water."


def _wind(plan: PassPlan, settings: PassSettings) -> list[str]:
    wind, units = settings.wind, settings.units
    if wind is None or wind.speed_m_s <= 0.0:
        return []
    headings = np.radians([c.heading_deg for s in plan.stops for c in s.casts])
    off = np.abs(np.angle(np.exp(1j * (headings - wind.from_rad))))
    into = int(np.count_nonzero(off < INTO_WIND_RAD))
    total = plan.casts
    low, high = float(np.min(wind.cast_m)), float(np.max(wind.cast_m))
    text = (
        f"In {units.speed.text(wind.speed_m_s)} of wind a cast comes out "
        f"{units.distance.text(low)} into it and {units.distance.text(high)} at best; "
    )
    if into == 0:
        return [text + "no cast goes into it."]
    return [
        text + f"{into} of {total} casts go into it, where they still bring more than others left."
    ]


def pass_cautions(stretch: EdgeStretch) -> tuple[str, ...]:
    """What to mind along a stretch.

    Parameters
    ----------
    stretch : EdgeStretch
        The stretch [-].
    """
    said = [
        "Not for navigation: level, stumps and shallows differ from any map.",
        "Life jacket on, engine cut-off clipped; mind wind, lightning and other boats.",
        "Look behind you before each cast; hooks.",
        "Local fishing law comes first: licence, seasons, closed places.",
    ]
    if stretch.grass is not None:
        said.append("Vegetation may be protected: keep the propeller out of it; clean, drain, dry.")
    return tuple(said)
