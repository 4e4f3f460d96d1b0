"""`leadsman warmup`."""

from __future__ import annotations

import typer


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    app.command("warmup")(warmup)


def warmup() -> None:
    """Compile the physics once, so that later answers come at once (up to a minute)."""
    from leadsman.cli.reply import print_answer
    from leadsman.usecases.warmup import warm_up

    typer.echo("Compiling the physics; this happens once after an install ...", err=True)
    print_answer(warm_up().headline)
