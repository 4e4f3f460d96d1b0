"""The sentences of `match`: what to do and why, in a person's own units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leadsman.display_units import DisplayUnits
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.plan.match_types import DepthBand, Excluded, LimitOrder, Match, MatchRequest
from leadsman.plan.tip_schedule import TipSchedule

PLOWING_SHARE = 0.4
"""Share of the contact over the limit from which a setup is called too deep [-]. Own choice."""

SPARSE_METRES = 3.0
"""Contact under which a setup is called barely touching [m]. Own choice."""


@dataclass(frozen=True, slots=True)
class Measures:
    """What a reason is made from.

    Parameters
    ----------
    zone_m, contact_m, plowing_m, near_m : float
        Zone, and metres in contact, over the limit, and near, if it runs as thought [m].
    mean_load : float
        Mean load over the contact [-].
    free_max_depth_m : float
        Greatest depth free of the bottom [m].
    lost_chance : float
        Chance that grass ends the cast [-].
    first_contact_m : float or None
        Distance gone until first contact [m].
    """

    zone_m: float
    contact_m: float
    plowing_m: float
    near_m: float
    mean_load: float
    free_max_depth_m: float
    lost_chance: float
    first_contact_m: float | None


def tip_height(tip_m: float, units: DisplayUnits) -> str:
    """A tip height in words, such as ``"2 ft up"`` or ``"1 ft under water"``.

    Parameters
    ----------
    tip_m : float
        Height of the tip [m].
    units : DisplayUnits
        Units to speak in [-].
    """
    text = _half(abs(tip_m), units)
    if text.startswith("0 "):
        return "at the surface"
    return f"{text} up" if tip_m > 0.0 else f"{text} under water"


def schedule_words(schedule: TipSchedule, units: DisplayUnits) -> str:
    """Say a tip schedule as a person would.

    Parameters
    ----------
    schedule : TipSchedule
        What the tip does [-].
    units : DisplayUnits
        Units to speak in [-].

    Returns
    -------
    str
        Such as ``"12 turns low (1 ft up), then up to 6 ft, then evenly down to
        2 ft by turn 60"`` [-].
    """
    if schedule.is_constant:
        return f"tip held {tip_height(schedule.start_tip_m, units)}"
    parts: list[str] = []
    tip, place = schedule.start_tip_m, 0.0
    heights = [schedule.start_tip_m, *(knot.tip_m for knot in schedule.knots)]
    for knot in schedule.knots:
        if knot.tip_m == tip:
            held = _reeled(knot.reeled - place, schedule, units)
            parts.append(f"{held} {_level_words(tip, heights, units)}")
        else:
            way = "up" if knot.tip_m > tip else "down"
            goal = tip_height(knot.tip_m, units).removesuffix(" up").replace("at the", "the")
            if not parts:
                parts.append(f"start with the tip {tip_height(tip, units)}")
            if knot.reeled - place > (5.0 if schedule.in_turns else 4.0):
                mark = _mark(knot.reeled, schedule, units)
                parts.append(f"then evenly {way} to {goal} by {mark}")
            else:
                parts.append(f"then {way} to {goal}")
        tip, place = knot.tip_m, knot.reeled
    return ", ".join(parts)


def match_reason(request: MatchRequest, m: Measures) -> str:
    """Why a setup stands where it stands, one sentence.

    Parameters
    ----------
    request : MatchRequest
        What was asked [-].
    m : Measures
        What the setup does [-].
    """
    units = request.units
    free = units.depth.text(m.free_max_depth_m)
    zone = units.distance.text(m.zone_m)
    if request.band is not None:
        return (
            f"Free-runs {free} and stays in {_band(request.band, units)} for {zone} of each cast."
        )
    assert request.bottom is not None
    past = _past_bottom(m.free_max_depth_m, request.bottom, units)
    grass = ""
    if request.bottom.grass is not None:
        grass = f", with a {_percent(m.lost_chance)} chance that grass ends the cast"
    if m.contact_m <= 0.0:
        if request.bottom.grass is not None:
            return f"Free-runs {free}: works the grass for {zone} of each cast{grass}."
        return f"Free-runs {free}, {past}: touches only if it runs deeper than thought{grass}."
    if m.plowing_m > PLOWING_SHARE * m.contact_m:
        return (
            f"Free-runs {free}, {past}: too deep, over the load limit for "
            f"{_of(m.plowing_m, m.contact_m, units)} on the bottom, which leaves {zone}{grass}."
        )
    if m.contact_m < SPARSE_METRES:
        return f"Free-runs {free}, {past}: barely touches, {zone} of each cast{grass}."
    if grass:
        return (
            f"Free-runs {free}, {past}: works grass and bottom for {zone} of each cast, on the "
            f"bottom for {units.distance.text(m.contact_m)} at a mean load of "
            f"{m.mean_load:.2f}{grass}."
        )
    return (
        f"Free-runs {free}, {past}: ticks for {zone} of each cast at a mean load of "
        f"{m.mean_load:.2f}."
    )


def exclusion(request: MatchRequest, m: Measures) -> tuple[str, str]:
    """Why a setup is no use: a kind and one sentence.

    Parameters
    ----------
    request : MatchRequest
        What was asked [-].
    m : Measures
        What the setup does at its best [-].
    """
    units = request.units
    free = units.depth.text(m.free_max_depth_m)
    if request.band is not None:
        if m.free_max_depth_m < request.band.top_m:
            short = units.depth.text(request.band.top_m - m.free_max_depth_m)
            return "short", f"Free-runs {free} at most, {short} short of the band."
        return "misses", f"Free-runs {free} but is hardly ever in {_band(request.band, units)}."
    assert request.bottom is not None
    past = _past_bottom(m.free_max_depth_m, request.bottom, units)
    if request.bottom.grass is not None and m.lost_chance > 0.5:
        return (
            "fouls",
            f"Would foul: a {_percent(m.lost_chance)} chance that grass ends the cast.",
        )
    if m.contact_m <= 0.0:
        return "short", f"Free-runs {free} at most, {past}: never touches."
    if m.plowing_m > PLOWING_SHARE * m.contact_m:
        return (
            "plows",
            f"Would plow: free-runs {free}, {past}, over the load limit for "
            f"{_of(m.plowing_m, m.contact_m, units)} on the bottom.",
        )
    return "misses", f"Free-runs {free}, {past}: hardly ever touches."


def headline(request: MatchRequest, ranked: Sequence[Match], nearest: Excluded | None) -> str:
    """The answer in one sentence a person could act on.

    Parameters
    ----------
    request : MatchRequest
        What was asked [-].
    ranked : sequence of Match
        Setups, best first [-].
    nearest : Excluded or None
        The nearest to an answer if nothing is ranked [-].
    """
    units = request.units
    if ranked:
        best = ranked[0]
        doing = "in the band" if request.band is not None else "ticks"
        if request.bottom is not None and request.bottom.grass is not None and request.band is None:
            doing = "works the grass and bottom"
        return (
            f"{best.lure}, {best.line}, {units.distance.text(best.cast_m)}, {best.how}: "
            f"{doing} for {units.distance.text(best.nominal_zone_m)} of each cast if it runs as "
            f"thought, {units.distance.text(best.zone_m)} on average "
            f"({units.distance.band(*best.zone_band_m)})."
        )
    assert nearest is not None
    goal = _goal(request)
    free = units.depth.text(nearest.free_max_depth_m)
    if nearest.kind == "short":
        return (
            f"Nothing here reaches {goal}: the nearest is {nearest.lure} on {nearest.line}, "
            f"which gets to {free}. Lighter line, a longer cast or the tip under water gain some; "
            "in very clear deep water fish may also come up to a lure run fast with stops well "
            "above them."
        )
    return (
        f"Nothing here suits {goal}: the nearest is {nearest.lure} on {nearest.line} "
        f"(free-runs {free}). {nearest.reason}"
    )


def limit_words(ranked: Sequence[Match], limits: Sequence[LimitOrder]) -> str:
    """How the order moves with the limit of acceptable load, one sentence.

    Parameters
    ----------
    ranked : sequence of Match
        Setups, best first [-].
    limits : sequence of LimitOrder
        The order at each limit [-].
    """
    if not ranked or not limits:
        return ""
    shown = ", ".join(f"{order.limit_load:.2f}" for order in limits)
    firsts = {order.order[0] for order in limits}
    if firsts == {0}:
        return f"{_name(ranked[0])} comes first at each load limit of {shown}."
    told = "; ".join(f"{order.limit_load:.2f}: {_name(ranked[order.order[0]])}" for order in limits)
    return f"The first place moves with the load limit ({told})."


def cautions(request: MatchRequest, ranked: Sequence[Match]) -> tuple[str, ...]:
    """What to mind with this answer.

    Parameters
    ----------
    request : MatchRequest
        What was asked [-].
    ranked : sequence of Match
        Setups, best first [-].
    """
    said: list[str] = []
    if any(match.line_touches for match in ranked[:5]):
        said.append(
            "The line itself touches a rise between rod and lure, which is not computed: "
            "expect less depth behind it."
        )
    if request.bottom is not None and request.bottom.grass is not None:
        said.append(
            "Fouling in grass is reckoned with assumed figures that no measurement backs; "
            "trust your own log over them."
        )
    if request.band is None:
        said.append("Contact load is an index: a lip that touches changes the way a lure runs.")
    return tuple(said)


def _name(match: Match) -> str:
    return f"{match.lure} on {match.line}"


def _goal(request: MatchRequest) -> str:
    if request.band is not None:
        return _band(request.band, request.units)
    assert request.bottom is not None
    low, high = float(np.min(request.bottom.depth_m)), float(np.max(request.bottom.depth_m))
    if high - low < 0.15:
        return f"the {request.units.depth.text(high)} bottom"
    return f"the bottom at {request.units.depth.band(low, high)}"


def _past_bottom(free_m: float, bottom: BottomProfile, units: DisplayUnits) -> str:
    """How a depth stands to the bottom, or to the grass if it stays above that."""
    low, high = float(np.min(bottom.depth_m)), float(np.max(bottom.depth_m))
    if bottom.grass is not None:
        top = float(np.min(np.interp(bottom.grass.x_m, bottom.x_m, bottom.depth_m)))
        top = min(top, float(np.min(bottom.grass.top_depth_m)))
        if free_m < top:
            return f"{units.depth.text(top - free_m)} short of the top of the grass"
    if high - low >= 0.15:
        return f"over a bottom at {units.depth.band(low, high)}"
    level = units.depth.text(high)
    if free_m >= 1.5 * high:
        return f"{free_m / high:.1f} times the {level} bottom"
    if free_m >= high:
        return f"{units.depth.text(free_m - high)} past the {level} bottom"
    return f"{units.depth.text(high - free_m)} short of the {level} bottom"


def _band(band: DepthBand, units: DisplayUnits) -> str:
    return units.depth.band(band.top_m, band.bottom_m)


def _of(part_m: float, whole_m: float, units: DisplayUnits) -> str:
    return f"{units.distance.number(part_m)} of {units.distance.text(whole_m)}"


def _percent(chance: float) -> str:
    return f"{100.0 * chance:.0f} %"


def _half(height_m: float, units: DisplayUnits) -> str:
    """A height to half a foot or a tenth of a metre: as finely as a rod can be held."""
    value = units.depth.value(height_m)
    step = 0.5 if units.name == "us" else 0.1
    return f"{round(value / step) * step:.3g} {units.depth.unit}"


def _reeled(amount: float, schedule: TipSchedule, units: DisplayUnits) -> str:
    if schedule.in_turns:
        return f"{amount:.0f} turn{'s' if round(amount) != 1 else ''}"
    return units.distance.text(amount)


def _mark(amount: float, schedule: TipSchedule, units: DisplayUnits) -> str:
    if schedule.in_turns:
        return f"turn {amount:.0f}"
    return f"{units.distance.text(amount)} reeled in"


def _level_words(tip_m: float, heights: Sequence[float], units: DisplayUnits) -> str:
    height = tip_height(tip_m, units)
    if tip_m <= min(heights):
        return f"low ({height})"
    return f"high ({height})" if tip_m >= max(heights) else f"with the tip {height}"
