"""`leadsman plan` and `leadsman replan`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from leadsman.usecases.plan_types import PlanAnswer
    from leadsman.usecases.replan import ReplanAnswer

Json = Annotated[bool, typer.Option("--json", help="Print one JSON document.")]


def register(app: typer.Typer) -> None:
    """Add the commands.

    Parameters
    ----------
    app : typer.Typer
        The application [-].
    """
    app.command("plan")(plan)
    app.command("replan")(replan)


def plan(
    trip: Annotated[
        Path | None, typer.Argument(help="Trip file; without one, the demo trip.")
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(help="Folder for report, card, maps, GPX, GeoJSON and depth table."),
    ] = None,
    new: Annotated[
        Path | None, typer.Option(help="Write the demo trip to this file, as a start.")
    ] = None,
    phone: Annotated[bool, typer.Option("--phone", help="Draw the maps for a phone.")] = False,
    json: Json = False,
) -> None:
    """Plan a whole day: rods, stretches in order, boat and casts, home in time."""
    from leadsman.cli.reply import print_document, progress
    from leadsman.kitfile.trip import demo_trip_text, parse_trip, read_trip
    from leadsman.usecases.plan_day import plan_day
    from leadsman.usecases.plan_files import check_folder, write_plan

    if new is not None:
        _write_new(new)
        return
    asked = read_trip(trip) if trip is not None else parse_trip(demo_trip_text())
    if out is not None:
        check_folder(out)
    with progress("Planning the day", quiet=json) as tell:
        found = plan_day(asked, lambda share, _: tell(0.8 * share if out else share))
        files = (
            write_plan(found, out, lambda share, _: tell(0.8 + 0.2 * share), phone) if out else ()
        )
    if json:
        from leadsman.usecases.documents.plan import plan_document

        print_document(plan_document(found))
        return
    _print(found, files, trip is None)


def _write_new(path: Path) -> None:
    from leadsman.cli.reply import print_answer
    from leadsman.errors import InputError
    from leadsman.kitfile.atomic import write_text_atomic
    from leadsman.kitfile.trip import demo_trip_text

    if path.exists():
        raise InputError("there is a file already", path, "Choose another name")
    write_text_atomic(path, demo_trip_text())
    print_answer(f"{path} written: change it to your day, then leadsman plan {path} --out FOLDER.")


def _print(found: PlanAnswer, files: tuple[Path, ...], demo: bool) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table
    from leadsman.kitfile.trip_words import clock_text
    from leadsman.usecases.plan_text import rod_lures, zone_of

    kit, rig, units = found.found.kit, found.rig.rig, found.found.units
    print_answer(found.headline)
    if found.short:
        print_notes(found.short)
    rows = []
    for number, item in enumerate(rig.rods, start=1):
        tied, snaps = rod_lures(found, number)
        spool = found.rig.problem.spooled[item.rod] != item.line
        rows.append(
            (
                f"{number} {kit.rods[item.rod].name}",
                kit.lines[item.line].name + (" (spool it)" if spool else ""),
                tied,
                ", ".join(snaps) or "-",
            )
        )
    print_table("", ("rod", "line", "tie on", "snap on"), rows, left=4)
    print_table(
        "",
        ("when", "where", "bottom", "rod", "lure", "zone a cast", "bites"),
        [
            (
                f"{clock_text(stop.arrive_s)}-{clock_text(stop.leave_s)}",
                f"{stop.number} {stop.stretch.name}",
                units.depth.text(stop.served.target.depth_m),
                str(stop.served.rod),
                stop.served.lure.name,
                units.distance.text(zone_of(stop)),
                f"{stop.bites:.1f}",
            )
            for stop in found.stops
        ],
        left=2,
    )
    print_notes(found.cautions)
    if files:
        print_notes([f"{len(files)} files in {files[0].parent}: start with {files[0].name}."])
    elif demo:
        print_notes(["The demo trip; write your own with: leadsman plan --new trip.toml"])


def replan(
    folder: Annotated[Path, typer.Argument(help="Folder of the plan.")],
    now: Annotated[str, typer.Option(help="The time now, '10:40'.")],
    here: Annotated[
        str | None, typer.Option("--from", help="Where you are: 'latitude, longitude'.")
    ] = None,
    done: Annotated[list[str] | None, typer.Option(help="Stretch fished; repeat it.")] = None,
    taken: Annotated[list[str] | None, typer.Option(help="Stretch with another boat.")] = None,
    closed: Annotated[list[str] | None, typer.Option(help="Stretch closed to you.")] = None,
    deadline: Annotated[str | None, typer.Option(help="New deadline, '15:00'.")] = None,
    json: Json = False,
) -> None:
    """Choose the rest of the day anew, from where you are."""
    from leadsman.cli.reply import print_document
    from leadsman.kitfile.trip_words import clock_s, place_deg
    from leadsman.usecases.replan import ReplanQuestion
    from leadsman.usecases.replan import replan as ask

    found = ask(
        ReplanQuestion(
            folder,
            clock_s(now, "--now"),
            place_deg(here, "--from") if here is not None else None,
            _words(done),
            _words(taken),
            _words(closed),
            clock_s(deadline, "--deadline") if deadline is not None else None,
        )
    )
    if json:
        from leadsman.usecases.documents.replan import replan_document

        print_document(replan_document(found))
        return
    _print_rest(found)


def _words(given: list[str] | None) -> tuple[str, ...]:
    """Numbers may come in one word, ``"1,2"``; names hold commas and stay whole."""
    words: list[str] = []
    for item in given or []:
        parts = [part.strip() for part in item.split(",")]
        words += parts if all(part.isdigit() for part in parts) else [item]
    return tuple(words)


def _print_rest(found: ReplanAnswer) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table
    from leadsman.display_units import display_units
    from leadsman.kitfile.trip_words import clock_text

    units = display_units(found.plan.units)
    print_answer(found.headline)
    print_table(
        "",
        ("when", "where", "bottom", "rod", "lure", "bites"),
        [
            (
                f"{clock_text(stop.arrive_s)}-{clock_text(stop.leave_s)}",
                stop.offer.name + (f" (was {stop.offer.number})" if stop.offer.number else ""),
                units.depth.text(stop.offer.bottom_m),
                str(stop.offer.rod),
                stop.offer.lure,
                f"{stop.bites:.1f}",
            )
            for stop in found.stops
        ],
        left=2,
    )
    print_notes(found.notes)
    print_notes(("Not for navigation; weather and local rules come first.",))
