"""`leadsman rig`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.option_groups import AnswerOptions, KitOption, WaterOptions, command

if TYPE_CHECKING:
    from leadsman.usecases.rig import RigAnswer

EXAMPLES = """
[bold]Example[/bold]

leadsman rig --rods 3 --snaps 1 --for "10-12 ft grass 30 %; 15 ft edge 40 %; 20 ft drop 30 %"
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "rig", epilog=EXAMPLES)(rig)


def rig(
    kit: KitOption,
    water: WaterOptions,
    answer: AnswerOptions,
    targets: Annotated[
        str,
        typer.Option(
            "--for",
            help="What the day may ask: depth, ground (grass, edge, flat, drop) and chance.",
        ),
    ],
    rods: Annotated[int, typer.Option(min=1, max=20, help="How many rods on deck.")] = 3,
    snaps: Annotated[int, typer.Option(min=0, max=20, help="Lures to snap on, per rod.")] = 1,
    wind: Annotated[str | None, typer.Option(help="'8 mph from ahead'.")] = None,
) -> None:
    """What to spool and tie on each rod before launch."""
    from leadsman.cli import to_questions as to
    from leadsman.cli.reply import print_document, progress
    from leadsman.usecases.questions import SetupQuestion
    from leadsman.usecases.rig import RigQuestion, find_rig
    from leadsman.usecases.target_text import parse_targets
    from leadsman.usecases.wind_text import parse_wind

    question = RigQuestion(
        parse_targets(targets),
        rods,
        snaps,
        SetupQuestion(kit.kit, units=answer.units),
        to.water_question(water),
    )
    with progress("Trying every lure on every line", quiet=answer.json) as tell:
        found = find_rig(question, parse_wind(wind) if wind else None, lambda s, _: tell(s))
    if answer.json:
        from leadsman.usecases.documents.rig import rig_document

        print_document(rig_document(found))
        return
    _print(found)


def _print(found: RigAnswer) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table

    kit, rig, units = found.kit, found.rig, found.units
    print_answer(found.headline)
    print_table(
        "",
        ("rod", "line", "tie on", "snap on"),
        [
            (
                kit.rods[item.rod].name,
                kit.lines[item.line].name
                + (" (respool)" if found.problem.spooled[item.rod] != item.line else ""),
                kit.lures[item.tied].name,
                ", ".join(kit.lures[lure].name for lure in item.snaps) or "-",
            )
            for item in rig.rods
        ],
        left=4,
    )
    rows = []
    for target, (place, lure), zone in zip(
        found.question.targets, rig.taken_up, rig.best_zone_m.tolist(), strict=True
    ):
        rows.append(
            (
                f"{units.depth.text(target.depth_m)} {target.ground}",
                kit.rods[rig.rods[place].rod].name if place >= 0 else "nothing rigged works",
                kit.lures[lure].name if lure >= 0 else "-",
                units.share.text(target.chance),
                units.distance.text(zone),
            )
        )
    print_table("", ("asked for", "take up", "lure", "chance", "zone"), rows, left=3)
    more = f"One more rod would add {units.distance.text(found.further_rod_m)} of zone a cast."
    print_notes([*found.gaps, *([found.further_lure] if found.further_lure else []), more])
    print_notes(found.notes)
