"""`leadsman advise`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.log_options import LogOptions, hours, minutes, where_of
from leadsman.cli.option_groups import AnswerOptions, command

if TYPE_CHECKING:
    from leadsman.usecases.advise import AdviseAnswer
    from leadsman.usecases.advise_options import ChangeCosts

Text = str | None

EXAMPLES = """
[bold]Examples[/bold]

leadsman advise

leadsman outlook --clarity "6 ft" --json > outlook.json && leadsman advise --outlook outlook.json

leadsman advise --rigged mid-lip-10 --place "old road=9 ft" --quiet "20 min"
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "advise", epilog=EXAMPLES)(advise)


def advise(
    log: LogOptions,
    answer: AnswerOptions,
    outlook: Annotated[
        Path | None, typer.Option(help="Start from this: leadsman outlook --json > outlook.json.")
    ] = None,
    hours_left: Annotated[Text, typer.Option(help="Time left to fish, '3 h'.")] = None,
    rigged: Annotated[
        list[str] | None, typer.Option(help="Lure on a rod in the boat, not fished yet; repeat.")
    ] = None,
    place: Annotated[
        list[str] | None, typer.Option(help="Another place, 'old road=9 ft'; repeat.")
    ] = None,
    snap: Annotated[bool, typer.Option("--snap", help="Lures hang on a snap.")] = False,
    retie_time: Annotated[Text, typer.Option(help="To cut and tie; '3 min' unless told.")] = None,
    move_time: Annotated[
        Text, typer.Option(help="To another place; '10 min' unless told or positions are known.")
    ] = None,
    quiet: Annotated[
        Text, typer.Option(help="Least time between suggestions; '12 min' unless told.")
    ] = None,
    most_per_hour: Annotated[
        float | None, typer.Option(help="Most suggestions an hour; 4.")
    ] = None,
    no_note: Annotated[
        bool, typer.Option("--no-note", help="Do not note the suggestion in the log.")
    ] = False,
) -> None:
    """Stay, or change sound, depth, colour, retrieve or place: by the log of the day.

    A suggestion is noted in the log, so that the program keeps quiet for a while and can be
    held to it.
    """
    from leadsman.usecases.advise import AdviseQuestion, find_advice

    question = AdviseQuestion(
        where_of(log, answer),
        outlook,
        hours(hours_left, "--hours-left"),
        tuple(rigged or ()),
        _places(place or []),
        _costs(snap, retie_time, move_time),
        hours(quiet, "--quiet"),
        most_per_hour,
        not no_note,
    )
    found = find_advice(question)
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.advise import advise_document

        print_document(advise_document(found))
        return
    _print(found)


def _places(texts: list[str]) -> tuple[tuple[str, float | None], ...]:
    from leadsman.units import parse_length_m

    found: list[tuple[str, float | None]] = []
    for text in texts:
        name, equals, depth = text.partition("=")
        found.append((name, parse_length_m(depth, "--place") if equals else None))
    return tuple(found)


def _costs(snap: bool, retie_time: str | None, move_time: str | None) -> ChangeCosts:
    from leadsman.usecases.advise_options import ChangeCosts

    usual = ChangeCosts()
    return ChangeCosts(
        snap=snap,
        retie_min=minutes(retie_time, "--retie-time", usual.retie_min),
        move_min=minutes(move_time, "--move-time", usual.move_min),
    )


def _print(found: AdviseAnswer) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table

    print_answer(found.headline)
    print_notes(found.why)
    print_table(
        f"Best by bites over the time that counts, {found.hours_left:.1f} h left",
        ("what", "with", "gain", "bites/h", "better", "change"),
        [
            (
                row.what if row.ranked.changes else "Stay",
                f"{row.setup} at {row.place}",
                f"{row.ranked.gain:+.1f}" if row.ranked.changes else "-",
                f"{row.ranked.bites_per_h:.1f}",
                f"{100.0 * row.ranked.chance_better:.0f} %" if row.ranked.changes else "-",
                f"{row.ranked.option.change_min:.1f} min",
            )
            for row in found.rows
        ],
        left=2,
    )
    print_notes((*found.notes, *found.cautions))
