"""`leadsman levers`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from leadsman.cli.option_groups import (
    AimOptions,
    AnswerOptions,
    BottomOptions,
    CastOptions,
    KitOption,
    PictureOption,
    TackleOptions,
    WaterOptions,
    command,
)

if TYPE_CHECKING:
    from leadsman.display_units import DisplayUnits

EXAMPLES = """
[bold]Example[/bold]

leadsman levers --lure mid-lip-12 --line fluoro-12 --bottom "10 ft" --picture levers.svg
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "levers", epilog=EXAMPLES)(levers)


def levers(
    kit: KitOption,
    tackle: TackleOptions,
    cast: CastOptions,
    bottom: BottomOptions,
    aim: AimOptions,
    water: WaterOptions,
    picture: PictureOption,
    answer: AnswerOptions,
) -> None:
    """What one step of each control changes, in depth and in yards of zone."""
    from leadsman.cli import to_questions as to
    from leadsman.cli.reply import print_answer, print_document, print_notes, print_table
    from leadsman.usecases.levers import find_levers
    from leadsman.usecases.pictures import check_picture_path, draw_levers

    if picture.picture is not None:
        check_picture_path(picture.picture)
    question = to.depth_question(kit, tackle, cast, bottom, aim, water, answer.units)
    found = find_levers(question, to.wind_of(cast, bottom))
    if picture.picture is not None:
        draw_levers(found, picture.picture)
    if answer.json:
        from leadsman.usecases.documents.levers import levers_document

        print_document(levers_document(found))
        return
    units = found.units
    rows: list[tuple[str, str, str, str]] = []
    for lever in found.table.levers:
        rows.append(
            (
                lever.control,
                lever.step,
                units.depth.change(lever.depth_change_m),
                _zone(lever.zone_change_m, found.units),
            )
        )
        rows += [
            ("", f"  of which {part.name}", units.depth.change(part.depth_change_m),
             _zone(part.zone_change_m, found.units))
            for part in lever.parts
        ]  # fmt: skip
    print_answer(found.headline)
    print_table("", ("control", "one step", "depth", "zone"), rows, left=2)
    print_notes(found.notes)
    if picture.picture is not None:
        typer.echo(f"Picture: {picture.picture}")


def _zone(change_m: float | None, units: DisplayUnits) -> str:
    return "-" if change_m is None else units.distance.change(change_m)
