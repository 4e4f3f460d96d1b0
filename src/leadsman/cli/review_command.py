"""`leadsman review`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.log_options import LogOptions, where_of
from leadsman.cli.option_groups import AnswerOptions, command

if TYPE_CHECKING:
    from leadsman.usecases.review import ReviewAnswer

EXAMPLES = """
[bold]Examples[/bold]

leadsman review

leadsman review --day 2026-06-21 --picture day.png

leadsman review --note-observations, then: leadsman tune
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "review", epilog=EXAMPLES)(review)


def review(
    log: LogOptions,
    answer: AnswerOptions,
    day: Annotated[str | None, typer.Option(help="Which day; else the newest.")] = None,
    picture: Annotated[
        Path | None,
        typer.Option(help="Write two pictures, this and one ending in -rates; .svg or .png."),
    ] = None,
    phone: Annotated[bool, typer.Option("--phone", help="Pictures for a phone.")] = False,
    note_observations: Annotated[
        bool,
        typer.Option(
            "--note-observations", help="Write how deep lures ran to observations.csv by the kit."
        ),
    ] = False,
) -> None:
    """What the day came to: what worked against what was tried, and how deep lures really ran."""
    from leadsman.usecases.pictures import check_picture_path
    from leadsman.usecases.review import ReviewQuestion, draw_review, find_review

    if picture is not None:
        check_picture_path(picture)
    found = find_review(ReviewQuestion(where_of(log, answer), day, note_observations))
    drawn = draw_review(found, picture, phone) if picture is not None else ()
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.review import review_document

        print_document(review_document(found))
        return
    _print(found)
    for path in drawn:
        typer.echo(f"Picture: {path}")


def _print(found: ReviewAnswer) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table
    from leadsman.usecases.review import level_words

    units, report = found.units, found.review
    print_answer(found.headline)
    if report.rates:
        print_table(
            f"What worked against what was tried: {report.bites} bites, "
            f"{units.distance.text(report.zone_m)} of zone, {report.hours:.1f} h",
            ("", "", "bites", "zone", "time", "per 100 yd", "8 times in 10"),
            [
                (
                    row.factor,
                    level_words(units, row.factor, row.level),
                    str(row.bites),
                    units.distance.text(row.zone_m),
                    f"{row.hours:.1f} h",
                    f"{row.per_100_yd:.2f}",
                    f"{row.low_per_100_yd:.2f} to {row.high_per_100_yd:.2f}",
                )
                for row in report.rates
            ],
            left=2,
        )
    print_notes(
        [
            f"On and stopped: {stop.place}, {stop.sound}, after {stop.bites} bites, "
            f"{stop.t_h:.1f} h into the day."
            for stop in report.stops
        ]
    )
    _print_depths(found)
    _print_season(found)
    print_notes((*found.notes, *found.cautions))


def _print_depths(found: ReviewAnswer) -> None:
    from leadsman.cli.reply import print_notes, print_table

    depth = found.units.depth
    if found.review.contacts:
        print_table(
            "How deep lures really ran",
            ("setup", "bottom", "", "predicted", "off by"),
            [
                (
                    row.setup,
                    depth.text(row.depth_m),
                    "touched" if row.touched else "did not reach",
                    f"{depth.text(row.predicted_m)} ± {depth.text(row.predicted_sd_m)}",
                    depth.change(row.depth_m - row.predicted_m),
                )
                for row in found.review.contacts
            ],
        )
    word = {True: "Noted beside the kit", False: "For the lure's depth"}
    print_notes([f"{word[item.written]}: {item.told}." for item in found.observations])


def _print_season(found: ReviewAnswer) -> None:
    from leadsman.cli.reply import print_table
    from leadsman.usecases.review import level_words

    if not found.season:
        return
    days = "1 earlier day" if found.season_days == 1 else f"{found.season_days} earlier days"
    print_table(
        f"Season: {days}, each by how far it counts",
        ("", "", "bites", "zone", "per 100 yd"),
        [
            (
                row.factor,
                level_words(found.units, row.factor, row.level),
                f"{row.bites:.1f}",
                found.units.distance.text(row.zone_m),
                f"{row.per_100_yd:.2f}",
            )
            for row in found.season
        ],
        left=2,
    )
