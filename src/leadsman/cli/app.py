"""The commands, in the order in which a person meets them."""

from __future__ import annotations

from typing import Annotated

import typer

from leadsman import __version__
from leadsman.cli import (
    advise_command,
    calibrate_commands,
    demo_command,
    depth_command,
    kit_commands,
    lake_commands,
    levers_command,
    log_commands,
    match_command,
    outlook_command,
    passes_command,
    plan_command,
    review_command,
    rig_command,
    serve_command,
    table_command,
    tow_command,
    warmup_command,
)

app = typer.Typer(
    name="leadsman",
    help=(
        "How deep each of your lures runs, over which bottom, on which line and cast.\n\n"
        "Quantities carry units: '60 yd', '12 lb', '0.31 mm', '10 ft'. Estimates, not for "
        "navigation."
    ),
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode="rich",
    context_settings={"help_option_names": ["-h", "--help"]},
    pretty_exceptions_enable=False,
)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"leadsman {__version__}")
        raise typer.Exit


@app.callback()
def _root(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Show the version."),
    ] = False,
) -> None:
    pass


for _commands in (
    demo_command,
    outlook_command,
    match_command,
    passes_command,
    plan_command,
    rig_command,
    depth_command,
    levers_command,
    table_command,
    tow_command,
    lake_commands,
    log_commands,
    advise_command,
    review_command,
    kit_commands,
    calibrate_commands,
    serve_command,
    warmup_command,
):
    _commands.register(app)
