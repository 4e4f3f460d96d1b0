"""`leadsman kit check`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from leadsman.cli.option_groups import AnswerOptions, command


def register(app: typer.Typer) -> None:
    """Add the commands.

    Parameters
    ----------
    app : typer.Typer
        Where to add them [-].
    """
    kit = typer.Typer(help="The kit file: what you own.", no_args_is_help=True)
    command(kit, "check")(check)
    kit.command("new")(new)
    app.add_typer(kit, name="kit")


def check(
    answer: AnswerOptions,
    file: Annotated[
        Path | None, typer.Argument(help="Kit file; else kit.toml here, else the demo kit.")
    ] = None,
) -> None:
    """Read a kit file and show what the program makes of it; nothing is changed."""
    from leadsman.cli.reply import print_answer, print_document, print_notes, print_table
    from leadsman.usecases.kit_check import check_kit

    found = check_kit(file)
    if answer.json:
        from leadsman.usecases.documents.kit import kit_document

        print_document(kit_document(found))
        return
    print_answer(found.headline)
    print_table(
        "Lures",
        ("lure", "dive angle", "pull area", "from"),
        [
            (
                item.name,
                f"{item.dive_angle_deg:.0f} ± {item.dive_angle_sd_deg:.0f} deg",
                f"{item.pull_area_cm2:.0f} cm2 ± {item.pull_area_log_sd * 100:.0f} %",
                item.basis,
            )
            for item in found.lures
        ],
    )
    print_table(
        "Lines",
        ("line", "diameter", "from"),
        [
            (
                item.name,
                f"{item.diameter_mm:.2f} mm ± {item.diameter_log_sd * 100:.0f} %",
                item.diameter_kind,
            )
            for item in found.lines
        ],
    )
    print_notes(found.cautions)


def new(
    file: Annotated[Path, typer.Argument(help="Where to write it.")] = Path("kit.toml"),
) -> None:
    """Write a commented example kit to edit; a file that is there is left alone."""
    from leadsman.usecases.kit_check import start_kit

    typer.echo(start_kit(file))
