"""From a trip file to lake, kit, wind and what is known of the day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

import numpy as np

from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError, KitError, PlanError, Where
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.read import read_kit
from leadsman.kitfile.template import demo_kit
from leadsman.kitfile.trip_types import DEMO, Trip
from leadsman.lake.bottom_model import BottomModel
from leadsman.plan.boat_water import BoatSpeeds, SlowZone
from leadsman.plan.route import DayHours
from leadsman.tackle.rod import Rod
from leadsman.usecases.outlook import OutlookQuestion
from leadsman.usecases.passes import compass_wind
from leadsman.usecases.resolve_setup import KIT_FILE

BORROWED = Rod("borrowed rod", 2.13, 0.005, 0.06, "medium heavy")
"""Stands in where the kit has no rods, so that there is a plan at all: 7 ft, our own choice."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class LakeOfTrip:
    """The lake.

    Parameters
    ----------
    model : BottomModel
        Its bottom [-].
    edge_m, edge_se_m : float or None
        Depth of the grass edge below the surface of the day, if kept with the lake, and its
        standard error [m].
    notes : tuple of str
        What was read [-].
    """

    model: BottomModel
    edge_m: float | None
    edge_se_m: float | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ResolvedTrip:
    """A trip with its files opened.

    Parameters
    ----------
    trip : Trip
        As written [-].
    kit : Kit
        What is owned [-].
    units : DisplayUnits
        Units of the reader [-].
    lake : LakeOfTrip
        The lake [-].
    hours : DayHours
        Launch, deadline and reserve [-].
    wind_m_s, wind_from_deg : float
        The wind, and where it comes from, clockwise from true north [m s-1], [deg].
    boat : BoatSpeeds
        The boat [-].
    here_m, home_m : tuple of float
        Launch, and where the day ends, in the lake's frame [m].
    rods : int
        Rods on deck [-].
    short : tuple of str
        What could not be had as asked, a sentence each [-].
    notes : tuple of str
        What was read and assumed [-].
    """

    trip: Trip
    kit: Kit
    units: DisplayUnits
    lake: LakeOfTrip
    hours: DayHours
    wind_m_s: float
    wind_from_deg: float
    boat: BoatSpeeds
    here_m: tuple[float, float]
    home_m: tuple[float, float]
    rods: int
    short: tuple[str, ...]
    notes: tuple[str, ...]


def resolve_trip(trip: Trip, model: BottomModel | None = None) -> ResolvedTrip:
    """Open what a trip names.

    Parameters
    ----------
    trip : Trip
        As written [-].
    model : BottomModel or None
        A bottom already opened; None opens the trip's lake [-].

    Raises
    ------
    InputError
        Something named cannot be used; the message names the field.
    """
    kit, short, notes = _kit(trip)
    lake = _lake(trip) if model is None else LakeOfTrip(model, None, None, ())
    frame = lake.model.lattice.frame
    wind = _placed(trip, lambda: compass_wind(trip.water.wind or "0 mph from N"), "weather", "wind")
    here, home = trip.launch.at_deg, trip.launch.back_at_deg
    zones = []
    for zone in trip.boat.no_wake:
        x, y = frame.to_metric(zone.at_deg[1], zone.at_deg[0])
        zones.append(SlowZone(float(x), float(y), zone.radius_m))
    boat = BoatSpeeds(
        trip.boat.speed_m_s, trip.boat.no_wake_m_s, trip.boat.no_wake_shore_m,
        trip.boat.least_depth_m, tuple(zones),
    )  # fmt: skip
    rods = trip.tackle.rods
    if rods == 0:
        short = (*short, "No rod was to be on deck; the plan is made for one.")
    return ResolvedTrip(
        trip,
        kit,
        display_units(trip.units or kit.units),
        lake,
        DayHours(trip.hours.launch_s, trip.hours.deadline_s, trip.hours.reserve_s),
        wind[0],
        wind[1],
        boat,
        place_m(lake.model, here, trip.source.where("launch", "at")),
        place_m(lake.model, home, trip.source.where("launch", "back_at")),
        max(rods, 1),
        short,
        (*notes, *lake.notes),
    )


def place_m(
    model: BottomModel, at_deg: tuple[float, float], where: Where | str
) -> tuple[float, float]:
    """A place on or beside the lake in its frame.

    Parameters
    ----------
    model : BottomModel
        The lake [-].
    at_deg : tuple of float
        Latitude and longitude [deg].
    where : Where or str
        What to blame [-].

    Raises
    ------
    PlanError
        It is far from the lake.
    """
    lattice = model.lattice
    x, y = (float(v) for v in lattice.frame.to_metric(at_deg[1], at_deg[0]))
    middle = lattice.frame.to_lonlat(
        lattice.x0_m + 0.5 * lattice.cell_m * lattice.nx,
        lattice.y0_m + 0.5 * lattice.cell_m * lattice.ny,
    )
    inside = (
        lattice.x0_m - 500.0 <= x <= lattice.x0_m + lattice.cell_m * lattice.nx + 500.0
        and lattice.y0_m - 500.0 <= y <= lattice.y0_m + lattice.cell_m * lattice.ny + 500.0
    )
    if not inside:
        raise PlanError(
            f"{at_deg[0]:.4f}, {at_deg[1]:.4f} is not at {model.name}, whose middle is at "
            f"{float(middle[1]):.4f}, {float(middle[0]):.4f}",
            where,
            "Write latitude, then longitude",
        )
    return x, y


def _placed(trip: Trip, make: Callable[[], T], *keys: str) -> T:
    """Run something that reads one field and put the place of the field into its error."""
    try:
        return make()
    except InputError as error:
        raise KitError(error.problem, trip.source.where(*keys), error.remedy) from None


def _kit(trip: Trip) -> tuple[Kit, tuple[str, ...], tuple[str, ...]]:
    named, beside = trip.tackle.kit, trip.source.file(str(KIT_FILE))
    if named == DEMO or (named is None and not beside.is_file()):
        kit, notes = demo_kit(), ("Kit: the demo kit, which is invented.",)
    else:
        path = trip.source.file(named) if named else beside
        kit, notes = read_kit(path), (f"Kit: {path.name}.",)
    for what, items in (("lures", kit.lures), ("lines", kit.lines)):
        if not items:
            raise PlanError(
                f"there are no {what} in the kit", str(kit.path or "kit"), f"Add {what} to it"
            )
    if kit.rods:
        return kit, (), notes
    told = "There are no rods in the kit; the plan is made for one borrowed 7 ft rod."
    return replace(kit, rods=(BORROWED,), combos=()), (told,), notes


def _lake(trip: Trip) -> LakeOfTrip:
    lake = trip.lake
    if lake.name == DEMO:
        from leadsman.usecases.passes_lake import resolve_lake

        found = resolve_lake(None)
        return LakeOfTrip(found.model, None, None, found.notes)
    if lake.name is not None:
        from leadsman.usecases.lake_store import open_lake

        folder = trip.source.file(lake.folder or "lakes")
        name = lake.name
        stored = _placed(trip, lambda: open_lake(name, folder), "lake", "name")
        edge = stored.record.edge
        return LakeOfTrip(
            stored.model,
            edge.depth_m + lake.level_m if edge else None,
            edge.se_m if edge else None,
            (f"Lake: {stored.name}, kept in {stored.folder.name}.",),
        )
    assert lake.file is not None
    path = trip.source.file(lake.file)
    model, notes = _placed(trip, lambda: lake_of_file(path, lake.crs), "lake", "file")
    return LakeOfTrip(model, None, None, notes)


def lake_of_file(path: Path, crs: str | None = None) -> tuple[BottomModel, tuple[str, ...]]:
    """Bottom of one file of soundings, contours or a grid, not kept.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    crs : str or None
        Frame of its positions, if it tells none [-].

    Raises
    ------
    InputError
        It cannot be read.
    """
    from leadsman.lake.model_file import SUFFIX, load_model
    from leadsman.usecases.lake_files import LakeFileOptions, file_kind

    if path.suffix == SUFFIX and path.is_file():
        return load_model(path), ()
    options = LakeFileOptions(crs=crs)
    kind = file_kind(path)
    if kind == "grid":
        from leadsman.lake.read_grid import read_grid

        model, report = read_grid(path, path.stem, options.grid())
    elif kind == "contours":
        from leadsman.lake.contour_surface import lattice_for, model_from_contours
        from leadsman.lake.read_contours import read_contours

        regions, report = read_contours(path, options.contours())
        model = model_from_contours(regions, path.stem, lattice_for(regions, None))
    else:
        from leadsman.lake.load_soundings import load_soundings
        from leadsman.lake.sounding_surface import model_from_soundings

        soundings, report = load_soundings(path, options.soundings())
        model, _ = model_from_soundings([soundings], path.stem)
    return model, tuple(report.summary().splitlines())


def outlook_question(found: ResolvedTrip, reach_m: float) -> OutlookQuestion:
    """What is known of the day, as the outlook asks it.

    Parameters
    ----------
    found : ResolvedTrip
        The trip [-].
    reach_m : float
        Greatest depth any owned lure reaches [m].
    """
    trip, model = found.trip, found.lake.model
    water, fish, lake = trip.water, trip.fish, trip.lake
    edge = lake.grass_edge_m if lake.grass_edge_m is not None else found.lake.edge_m
    lattice = model.lattice
    return OutlookQuestion(
        profile=trip.source.file(water.profile) if water.profile else None,
        profile_place=water.profile_place,
        day=trip.hours.date,
        place_deg=trip.launch.at_deg,
        zone=trip.hours.zone,
        hours_h=(trip.hours.launch_s / 3600.0, trip.hours.deadline_s / 3600.0),
        species=fish.species,
        max_depth_m=max(float(np.nanmax(model.depth_m)) + lake.level_m, 1.0),
        fetch_m=float(max(lattice.nx, lattice.ny) * lattice.cell_m),
        secchi_m=water.clarity_m,
        surface_c=water.temperature_c,
        thermocline_m=water.thermocline_m,
        oxygen_floor_m=water.oxygen_floor_m,
        grass_edge_m=None if lake.grass == "none" else edge,
        grass=lake.grass,
        sky=water.sky,
        wind_m_s=found.wind_m_s if water.wind else None,
        forage=fish.forage,
        forage_m=fish.forage_m,
        pressure=fish.pressure,
        fish_m=_wide(fish.seen_m),
        reach_m=reach_m,
        cover_weights={_cover(trip, name): value for name, value in fish.covers.items()},
        strengths=fish.factors,
        sound=fish.sound,
        colour=fish.colour,
        units=found.units.name,
    )


def _wide(seen_m: tuple[float, float] | None) -> tuple[float, float] | None:
    """A single depth is a band of a foot to either side."""
    if seen_m is None or seen_m[1] - seen_m[0] > 0.1:
        return seen_m
    return max(seen_m[0] - 0.3, 0.0), seen_m[1] + 0.3


def _cover(trip: Trip, name: str) -> str:
    from leadsman.belief.levels import COVERS
    from leadsman.kitfile.kit import suggestion

    if name not in COVERS:
        raise KitError(
            f"unknown cover '{name[:40]}'",
            trip.source.where("override", "covers", name),
            suggestion(name[:40], COVERS, "cover"),
        )
    return name
