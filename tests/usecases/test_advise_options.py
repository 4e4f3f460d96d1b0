"""What could be fished instead: costs, places that are taken, and one offer for each cell."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from leadsman.belief.levels import LADDER
from leadsman.kitfile.template import demo_kit
from leadsman.usecases.advise_options import NEW_PLACE, ChangeCosts, Offer, offers, ways_of
from leadsman.usecases.log_physics import KitPhysics
from leadsman.waterlog.events import Body, Event, Place, SetupStart, StretchStatus
from leadsman.waterlog.store import Waterlog
from leadsman.waterlog.timeline import timeline

FT = 0.3048
KIT = demo_kit()
SETUP = SetupStart("long-lip-15-rattling on fluoro-12", "rattling", "light")
BAR = Place("long bar", "edge", 14 * FT, 45.0, -93.0)


@pytest.fixture(scope="module")
def physics(tmp_path_factory: pytest.TempPathFactory) -> Iterator[KitPhysics]:
    path: Path = tmp_path_factory.mktemp("log") / "log.sqlite"
    with Waterlog(path) as log:
        yield KitPhysics(log, KIT)


def found(
    physics: KitPhysics,
    *bodies: Body,
    costs: ChangeCosts | None = None,
    rigged: tuple[str, ...] = (),
    place: Place = BAR,
) -> tuple[Offer, tuple[Offer, ...]]:
    day = (place, SETUP, *bodies)
    events = [Event(f"event-{n:04d}", "t", "d", n, 1e9 + n, b) for n, b in enumerate(day)]
    ways = ways_of(timeline(events), SETUP, place, rigged, ())
    return offers(ways, KIT, physics, costs or ChangeCosts())


def minutes(made: tuple[Offer, ...], setup: str, place: str = "long bar") -> float:
    return next(
        o.option.change_min
        for o in made
        if o.setup.setup == setup and o.place.place == place and o.place.bottom_m == BAR.bottom_m
    )


def test_here_costs_nothing_and_is_not_offered_again(physics: KitPhysics) -> None:
    here, made = found(physics)
    assert here.option.change_min == 0.0
    cells = [offer.option.cell for offer in made]
    assert here.option.cell not in cells
    assert len(set(cells)) == len(cells)


def test_every_kind_of_change_is_offered(physics: KitPhysics) -> None:
    here, made = found(physics)
    now = here.option.cell
    for factor in ("sound", "depth", "colour", "work", "place"):
        assert any(getattr(o.option.cell, factor) != getattr(now, factor) for o in made), factor


def test_costs_of_rod_snap_retie(physics: KitPhysics) -> None:
    other = "long-thin-lip-20 on fluoro-10"
    # Another rod, tied on: 3 + 0.5 min; on a snap: 1 + 0.5; rigged already: 0.5. Own figures.
    for costs, rigged, wanted in (
        (ChangeCosts(), (), 3.5),
        (ChangeCosts(snap=True), (), 1.5),
        (ChangeCosts(retie_min=6.0), (), 6.5),
        (ChangeCosts(), (other,), 0.5),
    ):
        _, made = found(physics, costs=costs, rigged=rigged)
        assert minutes(made, other) == pytest.approx(wanted)


def test_a_run_is_as_long_as_the_way(physics: KitPhysics) -> None:
    """A hundredth of a degree of latitude is 1112 m on a sphere of 6371 km."""
    north = Place("north bar", "edge", 14 * FT, 45.01, -93.0)
    way_m = math.radians(0.01) * 6_371_000.0
    no_tying = ChangeCosts(rod_min=0.0, retie_min=0.0)
    _, made = found(physics, north, BAR, costs=no_tying)
    offer = next(o for o in made if o.place.place == "north bar")
    assert offer.option.change_min == pytest.approx(3.0 + way_m / 9.0 / 60.0, rel=1e-6)
    unknown = Place("some bar", "edge", 14 * FT)
    _, made = found(physics, unknown, BAR, costs=no_tying)
    offer = next(o for o in made if o.place.place == "some bar")
    assert offer.option.change_min == pytest.approx(10.0)


def test_a_taken_stretch_is_not_offered_until_it_is_free(physics: KitPhysics) -> None:
    road = Place("old road", "edge", 14 * FT)

    def places(*bodies: Body) -> set[str]:
        return {o.place.place for o in found(physics, road, BAR, *bodies)[1]}

    assert places() == {"long bar", "old road", NEW_PLACE}
    taken = StretchStatus("Old Road", True)
    assert places(taken) == {"long bar", NEW_PLACE}
    assert places(taken, StretchStatus("old road", False)) == {"long bar", "old road", NEW_PLACE}


def test_no_offer_plows_or_swims_over_them(physics: KitPhysics) -> None:
    _, made = found(physics)
    for offer in made:
        assert physics.worked(offer.setup, offer.place).kind == "near the bottom"
        assert offer.option.cell.depth == LADDER.index_of(float(offer.place.bottom_m or 0.0))


def test_in_open_water_lures_run_free(physics: KitPhysics) -> None:
    open_water = Place("the basin", "open_water", 40 * FT)
    _, made = found(physics, place=open_water)
    here = [o for o in made if o.place.place == "the basin"]
    assert len({o.option.cell.depth for o in here}) >= 3


def test_what_needs_no_shift_is_not_had_by_shifting(physics: KitPhysics) -> None:
    here, made = found(physics)
    for offer in made:
        if offer.place.bottom_m != BAR.bottom_m:
            assert offer.option.cell.depth != here.option.cell.depth
