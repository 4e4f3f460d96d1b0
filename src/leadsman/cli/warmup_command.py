"""`leadsman warmup`."""

from __future__ import annotations

from typing import Annotated

import typer


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    app.command("warmup")(warmup)


def warmup(
    json: Annotated[bool, typer.Option("--json", help="Answer as JSON.")] = False,
) -> None:
    """Compile the physics once, so that later answers come at once (up to a minute)."""
    from leadsman.cli.reply import print_answer, print_document
    from leadsman.usecases.warmup import warm_up

    typer.echo("Compiling the physics; this happens once after an install ...", err=True)
    found = warm_up()
    if json:
        from leadsman.usecases.documents.warmup import warmup_document

        print_document(warmup_document(found))
        return
    print_answer(found.headline)
