"""`leadsman table`."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.option_groups import AnswerOptions, KitOption, WaterOptions, command

if TYPE_CHECKING:
    from leadsman.usecases.depth_table import TableAnswer

EXAMPLES = """
[bold]Examples[/bold]

leadsman table --line fluoro-12

leadsman table --cast "30, 45, 60 yd" --tips low,high --csv depths.csv --picture depths.png
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "table", epilog=EXAMPLES)(table)


def table(
    kit: KitOption,
    water: WaterOptions,
    answer: AnswerOptions,
    lure: Annotated[str | None, typer.Option(help="Only this lure.")] = None,
    line: Annotated[str | None, typer.Option(help="Only this line.")] = None,
    cast: Annotated[
        str, typer.Option("--cast", "--casts", help="Casts, by commas.")
    ] = "20, 30, 40, 50, 60, 70 yd",
    tips: Annotated[
        str, typer.Option(help="Rod positions: words or heights, by commas.")
    ] = "under,usual,high",
    csv: Annotated[Path | None, typer.Option(help="Write the table to this .csv file.")] = None,
    picture: Annotated[
        Path | None, typer.Option(help="Write it as pictures; pages are numbered.")
    ] = None,
) -> None:
    """How deep every lure runs on every line, against cast and rod position."""
    from leadsman.cli import to_questions as to
    from leadsman.cli.reply import print_answer, print_document, print_notes, print_table, progress
    from leadsman.usecases.depth_table import TableQuestion, find_depth_table
    from leadsman.usecases.pictures import check_picture_path, draw_table, write_table
    from leadsman.usecases.questions import SetupQuestion

    if picture is not None:
        check_picture_path(picture)
    question = TableQuestion(
        SetupQuestion(kit.kit, lure, line, units=answer.units),
        to.casts_m(cast),
        to.tip_positions(tips),
        to.water_question(water),
    )
    with progress("Computing the table", quiet=answer.json) as tell:
        found = find_depth_table(question, lambda share, _: tell(share))
    files = [write_table(found, csv)] if csv is not None else []
    if picture is not None:
        files += draw_table(found, picture)
    if answer.json:
        from leadsman.usecases.documents.depth_table import table_document

        print_document(table_document(found))
        return
    units, shown = found.units, found.table
    print_answer(found.headline)
    for t, tip in enumerate(shown.tips_m.tolist()):
        where = "under water" if tip < 0.0 else "up"
        one_line = f" on {shown.lines[0]}" if len(shown.lines) == 1 else ""
        print_table(
            f"Rod tip {units.depth.text(abs(tip))} {where}{one_line}: depth in "
            f"{units.depth.unit}, then where it runs 9 times in 10",
            (
                "lure",
                *([] if one_line else ["line"]),
                *(units.distance.text(c) for c in shown.casts_m.tolist()),
            ),
            [
                (
                    name,
                    *([] if one_line else [on]),
                    *(_cell(found, u, n, c, t) for c in range(shown.casts_m.size)),
                )
                for u, name in enumerate(shown.lures)
                for n, on in enumerate(shown.lines)
            ],
            left=1 if one_line else 2,
        )
    print_notes(found.notes)
    for file in files:
        typer.echo(f"Written: {file}")


def _cell(found: TableAnswer, u: int, n: int, c: int, t: int) -> str:
    depth, table = found.units.depth, found.table
    middle = float(table.depth_m[u, n, c, t])
    if not math.isfinite(middle):
        return "-"
    low, high = float(table.low_m[u, n, c, t]), float(table.high_m[u, n, c, t])
    return f"{depth.number(middle)} {depth.value(low):.0f}-{depth.value(high):.0f}"
