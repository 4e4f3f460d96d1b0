"""`leadsman serve`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.option_groups import KitOption, command

if TYPE_CHECKING:
    from leadsman.web.serving import Invitation

EXAMPLES = """
[bold]Examples[/bold]

leadsman serve

leadsman serve --lan --kit kit.toml
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "serve", epilog=EXAMPLES)(serve)


def serve(
    kit: KitOption,
    port: Annotated[int, typer.Option(min=0, max=65500, help="Port; 0 takes any.")] = 8331,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let a phone on the same network pair with a code.")
    ] = False,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open a browser window.")
    ] = True,
) -> None:
    """Show the pages in a browser, on this machine and, if wanted, on a phone."""
    from leadsman.cli.reply import print_answer
    from leadsman.web.serving import ServeQuestion
    from leadsman.web.serving import serve as run

    typer.echo("Getting the physics ready ...", err=True)

    def ready(address: str) -> None:
        print_answer(f"Leadsman is at {address} (stop it with Ctrl+C).")
        if browser:
            import webbrowser

            webbrowser.open(address)

    run(ServeQuestion(kit.kit, port, lan), ready, _print_invitation)


def _print_invitation(invitation: Invitation) -> None:
    import segno

    typer.echo("\nFor a phone on this network, scan once:\n")
    segno.make(invitation.url, error="m").terminal(compact=True)
    typer.echo(f"\nor open {invitation.address} and type {invitation.code}\n")
