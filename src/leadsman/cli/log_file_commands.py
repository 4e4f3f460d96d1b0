"""`leadsman log`: reading the log, taking back, and carrying it between devices."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.log_options import LogOptions, tell, where_of
from leadsman.cli.option_groups import AnswerOptions, command

if TYPE_CHECKING:
    from leadsman.usecases.log_exchange import ExchangeReply

DayOption = Annotated[
    str | None, typer.Option("--day", help="Which day, '2026-06-21'; else the newest.")
]


def register(log: typer.Typer) -> None:
    """Add the commands.

    Parameters
    ----------
    log : typer.Typer
        Where to add them [-].
    """
    command(log, "show")(show)
    command(log, "undo")(undo)
    command(log, "redo")(redo)
    command(log, "export")(export)
    command(log, "import")(import_)
    command(log, "salvage")(salvage)


def show(
    log: LogOptions,
    answer: AnswerOptions,
    day: DayOption = None,
    everything: Annotated[bool, typer.Option("--all", help="What was taken back too.")] = False,
) -> None:
    """The day so far, every entry with its number."""
    from leadsman.usecases.log_show import show as look

    view = look(where_of(log, answer), day, everything)
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.log import log_show_document

        print_document(log_show_document(view))
        return
    from leadsman.cli.reply import print_answer, print_notes, print_table

    print_answer(view.headline)
    if view.rows:
        print_table(
            "",
            ("", "time", "entry"),
            [(str(row.number or "-"), row.clock, row.words) for row in view.rows],
            left=3,
        )
    tank = view.livewell
    if tank.kept:
        room = "" if tank.room is None else f", room for {max(tank.room, 0)}"
        first = 60.0 * tank.kept[0].hours
        print_notes([f"{len(tank.kept)} kept{room}; the first for {first:.0f} min."])
    print_notes([*view.notes, *tank.cautions])
    print_notes([f"Log: {view.path}, {view.days} days."])


def undo(
    log: LogOptions,
    answer: AnswerOptions,
    number: Annotated[
        int | None, typer.Argument(help="Number in 'leadsman log show'; else the last written.")
    ] = None,
) -> None:
    """Take an entry back; it is marked, never deleted."""
    from leadsman.usecases.log_show import undo as take_back

    tell(take_back(where_of(log, answer), number), answer)


def redo(log: LogOptions, answer: AnswerOptions) -> None:
    """Bring back what was taken back last."""
    from leadsman.usecases.log_show import redo as bring_back

    tell(bring_back(where_of(log, answer)), answer)


def export(
    log: LogOptions,
    answer: AnswerOptions,
    file: Annotated[Path, typer.Argument(help="File ending in .csv, .json or .sqlite.")],
    day: DayOption = None,
    over: Annotated[bool, typer.Option("--over", help="Write over a file that is there.")] = False,
) -> None:
    """The whole log, or one day, to a file; .sqlite is a copy, safe while the log is open."""
    from leadsman.usecases.log_exchange import export_log

    _tell_exchange(export_log(where_of(log, answer), file, day, over), answer)


def import_(
    log: LogOptions,
    answer: AnswerOptions,
    file: Annotated[Path, typer.Argument(help="File ending in .csv, .json or .sqlite.")],
) -> None:
    """Take in another device's log; sending the same file again adds nothing."""
    from leadsman.usecases.log_exchange import import_log

    _tell_exchange(import_log(where_of(log, answer), file), answer)


def salvage(
    answer: AnswerOptions,
    damaged: Annotated[Path, typer.Argument(help="The damaged log; it is not touched.")],
    fresh: Annotated[Path, typer.Argument(help="New file for what can be read.")],
) -> None:
    """Save every readable entry of a damaged log into a new file."""
    from leadsman.usecases.log_exchange import salvage_log

    _tell_exchange(salvage_log(damaged, fresh), answer)


def _tell_exchange(reply: ExchangeReply, answer: AnswerOptions) -> None:
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.log import log_exchange_document

        print_document(log_exchange_document(reply))
        return
    typer.echo(reply.headline)
