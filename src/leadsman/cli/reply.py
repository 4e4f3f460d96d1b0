"""How the command line answers: one sentence, then a table, then the why."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pydantic import BaseModel


def print_document(document: BaseModel) -> None:
    """Print a document as JSON on standard output.

    Parameters
    ----------
    document : pydantic.BaseModel
        What to print [-].
    """
    sys.stdout.write(document.model_dump_json(indent=2, by_alias=True) + "\n")


def print_answer(sentence: str) -> None:
    """Print the sentence a person can act on.

    Parameters
    ----------
    sentence : str
        The answer [-].
    """
    from rich.console import Console

    Console(highlight=False, soft_wrap=False).print(sentence, style="bold", markup=False)


def print_notes(notes: Sequence[str]) -> None:
    """Print what stands behind the answer, a line each.

    Parameters
    ----------
    notes : sequence of str
        Plain sentences [-].
    """
    from rich.console import Console
    from rich.padding import Padding

    console = Console(highlight=False)
    for note in notes:
        console.print(Padding(f"- {note}", (0, 0, 0, 0)), markup=False)


def print_table(
    title: str, columns: Sequence[str], rows: Sequence[Sequence[str]], left: int = 1
) -> None:
    """Print a table with numbers to the right.

    Parameters
    ----------
    title : str
        What the table shows [-].
    columns : sequence of str
        Column heads, with units [-].
    rows : sequence of sequence of str
        Cells, one for each column [-].
    left : int
        How many columns from the left hold words [-].
    """
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(
        title=Text(title) if title else None,
        box=box.SIMPLE,
        title_justify="left",
        pad_edge=False,
        padding=(0, 1),
        collapse_padding=True,
    )
    for number, column in enumerate(columns):
        table.add_column(
            Text(column), justify="left" if number < left else "right", overflow="fold"
        )
    for row in rows:
        table.add_row(*[Text(cell) for cell in row])
    Console(highlight=False).print(table)


@contextmanager
def progress(title: str, quiet: bool = False) -> Iterator[Callable[[float], None]]:
    """Show a progress bar on standard error where work takes more than a second.

    Parameters
    ----------
    title : str
        What is being done [-].
    quiet : bool
        Show nothing [-].

    Yields
    ------
    callable
        Takes the share that is done, 0 to 1 [-].
    """
    if quiet or not sys.stderr.isatty():
        yield lambda share: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    with Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        TimeElapsedColumn(),
        console=Console(stderr=True),
        transient=True,
    ) as bar:
        task = bar.add_task(title, total=1.0)
        yield lambda share: bar.update(task, completed=share)
