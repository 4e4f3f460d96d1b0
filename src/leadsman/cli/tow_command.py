"""`leadsman tow`."""

from __future__ import annotations

from typing import Annotated

import typer

from leadsman.cli.option_groups import AnswerOptions, WaterOptions, command

EXAMPLES = """
[bold]Example[/bold]

leadsman tow --line-out "40 m" --diameter "0.35 mm" --speed "1.5 m/s" --end-drag "3 N"
--end-down "2.5 N" --cn 1.2 --ct 0.015 --json
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "tow", epilog=EXAMPLES)(tow)


def tow(
    line_out: Annotated[str, typer.Option(help="Line between tip and end, '40 m'.")],
    speed: Annotated[str, typer.Option(help="Speed through the water, '2 mph'.")],
    end_drag: Annotated[str, typer.Option(help="Drag of what is at the end, '3 N' or '0.7 lb'.")],
    end_down: Annotated[str, typer.Option(help="Down-force of what is at the end, '2.5 N'.")],
    diameter: Annotated[str, typer.Option(help="Line diameter, '0.35 mm'.")],
    water: WaterOptions,
    answer: AnswerOptions,
    density: Annotated[str, typer.Option(help="Line density.")] = "1.14 g/cm3",
    modulus: Annotated[str, typer.Option(help="Line modulus; 'inf' does not stretch.")] = "inf",
    tip_height: Annotated[str, typer.Option(help="Height of the tip.")] = "0 m",
) -> None:
    """Steady depth of a line of fixed length behind a moving boat, for study and checks.

    Towing lures under power is restricted on many waters: local law comes first.
    """
    from leadsman.cli import to_questions as to
    from leadsman.cli.reply import print_answer, print_document
    from leadsman.hydro.line_properties import LineProperties
    from leadsman.units import (
        parse_density_kg_m3,
        parse_force_n,
        parse_length_m,
        parse_speed_m_s,
    )
    from leadsman.usecases.tow import TowQuestion, find_tow

    question = TowQuestion(
        LineProperties(
            parse_length_m(diameter, "--diameter"),
            parse_density_kg_m3(density, "--density"),
            to.modulus_pa(modulus),
        ),
        parse_length_m(line_out, "--line-out"),
        parse_speed_m_s(speed, "--speed"),
        parse_force_n(end_drag, "--end-drag"),
        parse_force_n(end_down, "--end-down"),
        parse_length_m(tip_height, "--tip-height"),
        to.water_question(water),
        answer.units or "us",
    )
    found = find_tow(question)
    if answer.json:
        from leadsman.usecases.documents.tow import tow_document

        print_document(tow_document(found.tow, found.headline, found.depth_band_m))
        return
    print_answer(found.headline)
