"""`leadsman depth`."""

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
    from leadsman.usecases.depth import DepthAnswer
    from leadsman.usecases.questions import DepthQuestion

EXAMPLES = """
[bold]Examples[/bold]

leadsman depth --lure long-thin-lip-20 --line fluoro-10

leadsman depth --lure mid-lip-12 --line fluoro-12 --bottom "10 ft" --picture side.svg

leadsman depth --lure mid-lip-12 --line fluoro-12 --retrieve "reel 12 turns low; reel tip high"
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "depth", epilog=EXAMPLES)(depth)


def depth(
    kit: KitOption,
    tackle: TackleOptions,
    cast: CastOptions,
    bottom: BottomOptions,
    aim: AimOptions,
    water: WaterOptions,
    picture: PictureOption,
    answer: AnswerOptions,
) -> None:
    """How deep one lure runs on one line, with its band, and where it touches."""
    from leadsman.cli import to_questions as to
    from leadsman.usecases.depth import find_depth
    from leadsman.usecases.pictures import check_picture_path

    if picture.picture is not None:
        check_picture_path(picture.picture)
    question = to.depth_question(kit, tackle, cast, bottom, aim, water, answer.units)
    found = find_depth(question, to.wind_of(cast, bottom))
    if picture.picture is not None:
        from leadsman.usecases.pictures import draw_depth

        draw_depth(found, picture.picture)
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.depth import depth_document

        print_document(depth_document(found))
        return
    _print(found, question)
    if picture.picture is not None:
        typer.echo(f"Picture: {picture.picture}")


def _print(found: DepthAnswer, question: DepthQuestion) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table

    units, band, contact = found.units, found.band.max_depth_m, found.contact
    rows = [
        (
            "free-running depth",
            units.depth.text(found.free.max_depth_m),
            units.depth.band(band.low_50, band.high_50),
            units.depth.band(band.low_90, band.high_90),
        )
    ]
    zone = found.band.zone_m
    rows.append(
        (
            f"zone ({found.zone_kind})",
            units.distance.text(found.zone_m),
            units.distance.band(zone.low_50, zone.high_50) if zone else "-",
            units.distance.band(zone.low_90, zone.high_90) if zone else "-",
        )
    )
    if contact is not None:
        rows.append(("in contact, any load", units.distance.text(contact.contact_m), "", ""))
        rows.append(
            (f"plowing (load over {question.load_limit:.2f})",
             units.distance.text(contact.plowing_m), "", "")
        )  # fmt: skip
        rows.append(("within a foot of the bottom", units.distance.text(contact.near_m), "", ""))
        rows.append(("mean load in contact", f"{contact.mean_load:.2f}", "", ""))
        if contact.first_contact_m is not None and contact.first_contact_s is not None:
            rows.append(
                ("first contact after",
                 f"{units.distance.text(contact.first_contact_m)}, "
                 f"{contact.first_contact_s:.0f} s", "", "")
            )  # fmt: skip
    print_answer(found.headline)
    print_table("", ("", "as thought", "1 in 2 within", "9 in 10 within"), rows)
    print_notes((*found.cautions, *found.notes))
