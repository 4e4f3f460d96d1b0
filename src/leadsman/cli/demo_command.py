"""`leadsman demo`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    app.command("demo")(demo)


def demo(
    out: Annotated[Path, typer.Option(help="Folder to write to.")] = Path("demo-out"),
    json: Annotated[bool, typer.Option("--json", help="Answer as JSON.")] = False,
) -> None:
    """Run the main job on an invented kit and lake; write pictures and a report."""
    from leadsman.cli.reply import print_document, progress
    from leadsman.usecases.demo import run_demo

    with progress("Running the demo (the first run compiles the physics)", quiet=json) as tell:
        found = run_demo(out, lambda share, _: tell(share))
    if json:
        from leadsman.usecases.documents.demo import demo_document

        print_document(demo_document(found))
        return
    typer.echo(found.report)
    typer.echo(f"Written to {out}: {', '.join(path.name for path in found.files)}")
