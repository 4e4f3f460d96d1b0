"""What the day may ask, and what is on the rods for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from leadsman.belief.levels import Sound
from leadsman.errors import KitError, PlanError
from leadsman.hydro.retrieve import retrieve_batch
from leadsman.hydro.technique import Technique
from leadsman.kitfile.kit import Kit
from leadsman.plan.day_targets import DayTarget, day_targets, relative_rates
from leadsman.plan.day_types import Outlook
from leadsman.tackle.line import line_properties
from leadsman.tackle.lure import Lure
from leadsman.usecases.match import rod_for
from leadsman.usecases.plan_types import Served
from leadsman.usecases.questions import SetupQuestion, WaterQuestion
from leadsman.usecases.resolve_bottom import resolve_water
from leadsman.usecases.resolve_technique import cast_of, resolve_tip_m
from leadsman.usecases.resolve_trip import ResolvedTrip
from leadsman.usecases.rig import GAP_ZONE_M, RigAnswer, RigQuestion, Target, find_rig

NEAREST_SHARES = (0.9, 0.75, 0.6)
"""Where no lure reaches, the rods are made ready for the first of these shares of the reach that
anything works [-]. Own choice."""


@dataclass(frozen=True, slots=True)
class RodsOfDay:
    """Targets and rods.

    Parameters
    ----------
    targets : tuple of DayTarget
        What the day may ask [-].
    rig : RigAnswer
        What is on the rods [-].
    served : tuple of Served
        What is taken up where anything works [-].
    short : tuple of str
        What nothing works for, and what to do instead [-].
    """

    targets: tuple[DayTarget, ...]
    rig: RigAnswer
    served: tuple[Served, ...]
    short: tuple[str, ...]


def water_of(found: ResolvedTrip) -> WaterQuestion:
    """The water of the day, for the physics.

    Parameters
    ----------
    found : ResolvedTrip
        The trip [-].
    """
    told = found.trip.water.temperature_c
    return WaterQuestion() if told is None else WaterQuestion(temperature_c=told)


def reach_m(kit: Kit, water: WaterQuestion) -> float:
    """Greatest depth any owned lure runs to on any owned line, full cast, rod tip low [m].

    Parameters
    ----------
    kit : Kit
        What is owned [-].
    water : WaterQuestion
        The water [-].
    """
    from leadsman.calibrate.learned import learned

    known = learned(kit)
    body, drag = resolve_water(water)
    lures, lines, ways = [], [], []
    for lure in kit.lures:
        rod = rod_for(lure, kit.rods)
        cast_m = max(cast_of(kit, lure, lure.mass_kg, rod, None, 0.6).m, 5.0)
        tip_m = resolve_tip_m("low", rod.length_m if rod else 2.3, kit.angler)
        for line in kit.lines:
            lures.append(known.belief(lure).centre)
            lines.append(line_properties(line))
            ways.append(Technique.steady(cast_m, tip_m, kit.angler.reel_speed_m_s))
    batch = retrieve_batch(lures, lines, ways, water=body, drags=drag, samples=2)
    return float(np.max(np.where(batch.solved, batch.max_depth_m, 0.0)))


def rods_of_day(
    found: ResolvedTrip, outlook: Outlook, reach: float, tell: Callable[[float, str], None]
) -> RodsOfDay:
    """Choose targets and rig for them; where nothing reaches, the nearest that can be had.

    Parameters
    ----------
    found : ResolvedTrip
        The trip [-].
    outlook : Outlook
        What to expect [-].
    reach : float
        Greatest depth any lure reaches [m].
    tell : callable
        Takes the share done and what is being done [-].

    Raises
    ------
    InputError
        The kit has nothing that can be fished anywhere.
    """
    targets = _targets(found, outlook)
    short: list[str] = []
    rig, served = _tried(found, targets, outlook, tell)
    if not served:
        # the nearest plan: as deep as the kit goes, else over shallower and shallower ground
        asked = min(target.depth_m for target in targets)
        for share in NEAREST_SHARES:
            targets = (DayTarget("flat", max(share * reach, 0.5), 1.0),)
            rig, served = _tried(found, targets, outlook, tell)
            if served:
                break
        short.append(_nothing_reaches(found, asked, reach, targets[0].depth_m))
    if rig is None or not served:
        raise PlanError(
            "nothing in the kit works anywhere for more than a few yards of a cast",
            "rods",
            "Allow more rods or snaps, a higher contact load, or other targets",
        )
    short += rig.gaps
    if outlook.reach:
        short.append(outlook.reach)
    return RodsOfDay(targets, rig, served, tuple(short))


def _tried(
    found: ResolvedTrip,
    targets: tuple[DayTarget, ...],
    outlook: Outlook,
    tell: Callable[[float, str], None],
) -> tuple[RigAnswer | None, tuple[Served, ...]]:
    """The rods for some targets and what they serve; nothing where nothing owned works."""
    try:
        rig = _rig(found, targets, tell)
    except PlanError:
        return None, ()
    return rig, _served(found, rig, targets, outlook)


def _nothing_reaches(found: ResolvedTrip, asked_m: float, reach: float, depth_m: float) -> str:
    depth = found.units.depth
    return (
        f"No lure of the kit works what the day asks, from {depth.text(asked_m)} down: the "
        f"deepest runs to {depth.text(reach)}. The nearest plan fishes {depth.text(depth_m)} and "
        "over deeper fish, which in clear water come up to a lure run fast with stops (common "
        "practice, no source)."
    )


def _targets(found: ResolvedTrip, outlook: Outlook) -> tuple[DayTarget, ...]:
    own = found.trip.fish.targets
    if own is None:
        return day_targets(outlook)
    from leadsman.usecases.target_text import parse_targets

    try:
        asked = parse_targets(own)
    except PlanError as error:
        raise KitError(
            error.problem, found.trip.source.where("override", "targets"), error.remedy
        ) from None
    total = sum(target.chance for target in asked)
    return tuple(DayTarget(t.ground, t.depth_m, t.chance / total) for t in asked)


def _rig(
    found: ResolvedTrip, targets: tuple[DayTarget, ...], tell: Callable[[float, str], None]
) -> RigAnswer:
    question = RigQuestion(
        tuple(Target(t.ground, t.depth_m, t.chance) for t in targets),
        found.rods,
        found.trip.tackle.snaps,
        SetupQuestion(units=found.units.name),
        water_of(found),
        found.trip.tackle.load_limit,
    )
    return find_rig(question, None, tell, found.kit)


def _served(
    found: ResolvedTrip, rig: RigAnswer, targets: tuple[DayTarget, ...], outlook: Outlook
) -> tuple[Served, ...]:
    rates = relative_rates(outlook, targets)
    used = {lure for item in rig.rig.rods for lure in (item.tied, *item.snaps)}
    made: list[Served] = []
    for number, (place, lure) in enumerate(rig.rig.taken_up):
        if place < 0 or rig.rig.best_zone_m[number] < GAP_ZONE_M:
            continue
        rod = rig.rig.rods[place]
        way = rig.ways.get((rod.rod, rod.line, lure, number))
        if way is None:
            continue
        others = [found.kit.lures[i] for i in used]
        made.append(
            Served(
                targets[number],
                place + 1,
                in_sound(found.kit, found.kit.lures[lure], outlook.start.sound, others),
                found.kit.lines[rod.line],
                way,
                rates[number],
                lure != rod.tied,
            )
        )
    return tuple(made)


def in_sound(kit: Kit, lure: Lure, sound: Sound, used: list[Lure]) -> Lure:
    """The copy of a lure in the sound that suits the day, if one is owned and free.

    Parameters
    ----------
    kit : Kit
        What is owned [-].
    lure : Lure
        The lure chosen by how it runs [-].
    sound : {"rattling", "silent"}
        Sound to start with [-].
    used : list of Lure
        Lures on the rods already [-].
    """
    if lure.model is None or lure.sound == sound:
        return lure
    for other in kit.lures:
        if other.model == lure.model and other.sound == sound and other not in used:
            return other
    return lure
