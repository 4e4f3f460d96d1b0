"""What could be fished instead: the kit's lures here, deeper, shallower and elsewhere."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from leadsman.belief.levels import LADDER, WORKS, Cell, colour_family_of
from leadsman.usecases.log_physics import KitPhysics
from leadsman.usecases.log_tackle import ON, split_setup
from leadsman.waterlog.advice import Option
from leadsman.waterlog.events import Place, SetupStart, StretchStatus
from leadsman.waterlog.timeline import Timeline

if TYPE_CHECKING:
    from leadsman.kitfile.kit import Kit

NEW_PLACE = "a new place"
"""Name of a place like this one that was not fished today."""
WORTH_H = 2.0
"""Time over which a slow change is weighed against more zone when two rods fish alike [h]."""
EARTH_M = 6_371_000.0
"""Mean radius of the Earth [m]."""


@dataclass(frozen=True, slots=True)
class ChangeCosts:
    """What a change costs in fishing time; all are own assumptions an angler may set.

    Parameters
    ----------
    rod_min : float
        To take up a rod that is rigged already [min].
    snap_min : float
        To change the lure on a snap [min].
    retie_min : float
        To cut and tie [min].
    shift_min : float
        To shift to deeper or shallower water of the same place [min].
    move_min : float
        To pick up, run and settle elsewhere, where the way is not known [min].
    run_m_s : float
        Speed of a run, where both positions are known [m s-1].
    settle_min : float
        To pick up and settle, beside the run itself [min].
    snap : bool
        Whether lures hang on a snap [-].
    """

    rod_min: float = 0.5
    snap_min: float = 1.0
    retie_min: float = 3.0
    shift_min: float = 2.0
    move_min: float = 10.0
    run_m_s: float = 9.0
    settle_min: float = 3.0
    snap: bool = False


@dataclass(frozen=True, slots=True)
class Offer:
    """Something to fish, with all that is needed to say how.

    Parameters
    ----------
    option : Option
        For the advice [-].
    setup : SetupStart
        With what [-].
    place : Place
        Where [-].
    cost : str
        What the change takes, in words [-].
    """

    option: Option
    setup: SetupStart
    place: Place
    cost: str


@dataclass(frozen=True, slots=True)
class Ways:
    """What is fished now and what the day offers.

    Parameters
    ----------
    setup : SetupStart
        What is fished [-].
    place : Place
        Where [-].
    rigged : tuple of str
        Setups on a rod in the boat [-].
    places : tuple of Place
        Other places that are free [-].
    """

    setup: SetupStart
    place: Place
    rigged: tuple[str, ...]
    places: tuple[Place, ...]


def ways_of(
    line: Timeline, setup: SetupStart, place: Place, rigged: Iterable[str], more: Sequence[Place]
) -> Ways:
    """What the day offers, from its log.

    Parameters
    ----------
    line : Timeline
        The day [-].
    setup : SetupStart
        What is fished [-].
    place : Place
        Where [-].
    rigged : iterable of str
        Further setups on a rod [-].
    more : sequence of Place
        Further places that could be fished [-].
    """
    taken: set[str] = set()
    places: dict[str, Place] = {}
    setups: dict[str, None] = {setup.setup: None}
    for entry in line.entries:
        body = entry.body
        if isinstance(body, StretchStatus):
            (taken.add if body.taken else taken.discard)(body.stretch.casefold())
        elif isinstance(body, Place):
            places[body.place] = body
        elif isinstance(body, SetupStart):
            setups[body.setup] = None
    setups.update(dict.fromkeys(rigged))
    places.update({item.place: item for item in more})
    free = [p for n, p in places.items() if n != place.place and n.casefold() not in taken]
    return Ways(setup, place, tuple(setups), tuple(free))


def offers(
    ways: Ways, kit: Kit, physics: KitPhysics, costs: ChangeCosts
) -> tuple[Offer, tuple[Offer, ...]]:
    """What is fished now, and everything else that could be, one offer for each cell.

    Parameters
    ----------
    ways : Ways
        What the day offers [-].
    kit : Kit
        The kit [-].
    physics : KitPhysics
        Zone of a cast [-].
    costs : ChangeCosts
        What changes cost [-].
    """
    here = _offer(ways, ways.setup, ways.place, physics, costs)
    best: dict[Cell, Offer] = {}
    # What can be had without shifting the boat is not had by shifting it.
    for round_ in _candidates(ways, kit):
        found: dict[Cell, Offer] = {}
        for setup, place in round_:
            kind = physics.worked(setup, place).kind
            # A lure that swims over the fish is no change of depth anyone asked for, one that
            # plows is lost; in open water everything runs free.
            if kind != "near the bottom" and place.cover != "open_water":
                continue
            offer = _offer(ways, setup, place, physics, costs)
            rival = found.get(offer.option.cell)
            if rival is None or _worth(offer) > _worth(rival):
                found[offer.option.cell] = offer
        best = {**found, **best}
    best.pop(here.option.cell, None)
    return here, tuple(best.values())


def _candidates(ways: Ways, kit: Kit) -> Iterable[list[tuple[SetupStart, Place]]]:
    """Setups and places to think of, nearest at hand first."""
    setups = _setups(ways, kit)
    worked = [(replace(ways.setup, work=work), ways.place) for work in WORKS]
    yield [*worked, *((setup, ways.place) for setup in setups)]
    yield [(s, place) for place in _deeper_and_shallower(ways.place) for s in setups]
    # Two changes at once teach little, so elsewhere it is the colour fished now, or a rod that
    # is rigged.
    few = [s for s in setups if s.colour == ways.setup.colour or s.setup in ways.rigged]
    new = replace(ways.place, place=NEW_PLACE, lat_deg=None, lon_deg=None)
    yield [(s, place) for place in (*ways.places, new) for s in few]


def _setups(ways: Ways, kit: Kit) -> list[SetupStart]:
    """Every lure on the lines of today's rods, and on those of rods that throw it."""
    now = split_setup(ways.setup.setup, kit)
    found: dict[str, SetupStart] = {ways.setup.setup: ways.setup}
    for lure in kit.lures:
        lines = [names[1] for s in ways.rigged if (names := split_setup(s, kit)) is not None]
        lines += [c.line.name for c in kit.combos if c.rod.throws(lure.mass_kg)]
        if now is not None:
            lines.append(now[1])
        for line in dict.fromkeys(lines):
            name = f"{lure.name}{ON}{line}"
            start = SetupStart(name, lure.sound, colour_family_of(lure.colour), ways.setup.work)
            found.setdefault(name, start)
    return list(found.values())


def _deeper_and_shallower(place: Place) -> list[Place]:
    if place.bottom_m is None:
        return []
    band = LADDER.index_of(place.bottom_m)
    return [
        replace(place, bottom_m=round(LADDER.middle_m(i), 1))
        for i in (band - 1, band + 1)
        if 1 <= i < len(LADDER)
    ]


def _offer(
    ways: Ways, setup: SetupStart, place: Place, physics: KitPhysics, costs: ChangeCosts
) -> Offer:
    fishing = physics(setup, place)
    cell = Cell(
        place.place, LADDER.index_of(fishing.depth_m), place.cover, setup.sound, setup.colour,
        setup.work,
    )  # fmt: skip
    minutes, words = _cost(ways, setup, place, costs)
    name = f"{setup.setup} at {place.place}"
    zone_m_per_h = fishing.zone_m * fishing.casts_per_h
    return Offer(Option(name, cell, zone_m_per_h, minutes), setup, place, words)


def _cost(ways: Ways, setup: SetupStart, place: Place, costs: ChangeCosts) -> tuple[float, str]:
    minutes, words = 0.0, []
    if setup.setup != ways.setup.setup:
        if setup.setup in ways.rigged:
            minutes += costs.rod_min
            words.append("the rod is rigged")
        else:
            tie = costs.snap_min if costs.snap else costs.retie_min
            same_line = setup.setup.split(ON)[-1] == ways.setup.setup.split(ON)[-1]
            minutes += tie if same_line else tie + costs.rod_min
            words.append(
                ("snap it on" if costs.snap else "retie")
                + ("" if same_line else f" on the rod with {setup.setup.split(ON)[-1]}")
            )
    if place.place != ways.place.place:
        run_m = _apart_m(ways.place, place)
        minutes += costs.move_min if run_m is None else (
            costs.settle_min + run_m / costs.run_m_s / 60.0
        )  # fmt: skip
        words.append("move")
    elif place.bottom_m != ways.place.bottom_m:
        minutes += costs.shift_min
        words.append("shift the boat")
    return minutes, " and ".join(words) or "nothing to change"


def _apart_m(a: Place, b: Place) -> float | None:
    if a.lat_deg is None or a.lon_deg is None or b.lat_deg is None or b.lon_deg is None:
        return None
    north = math.radians(b.lat_deg - a.lat_deg)
    east = math.radians(b.lon_deg - a.lon_deg) * math.cos(math.radians(a.lat_deg))
    return EARTH_M * math.hypot(north, east)


def _worth(offer: Offer) -> float:
    return offer.option.zone_m_per_h * max(WORTH_H - offer.option.change_min / 60.0, 0.0)
