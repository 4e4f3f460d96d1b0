"""`leadsman observe` and `leadsman tune`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.option_groups import AnswerOptions, KitOption, command

if TYPE_CHECKING:
    from leadsman.usecases.tune import TuneAnswer

OBSERVE_EXAMPLES = """
[bold]Examples[/bold]

leadsman observe long-lip-15 ticked --depth "14 ft" --line fluoro-12 --cast "50 yd"

leadsman observe long-lip-15 "did not reach" --depth "16 ft" --line fluoro-12 --cast "50 yd"

leadsman observe long-lip-15 pull --pull "0.4 lb" --speed "3 mph"
"""

Text = str | None


def register(app: typer.Typer) -> None:
    """Add the commands.

    Parameters
    ----------
    app : typer.Typer
        Where to add them [-].
    """
    command(app, "observe", epilog=OBSERVE_EXAMPLES)(observe)
    command(app, "tune")(tune)


def observe(
    lure: Annotated[str, typer.Argument(help="Name of the lure in the kit.")],
    kind: Annotated[
        str,
        typer.Argument(
            help="ticked, 'did not reach', measured, 'time to bottom', pull or retuned."
        ),
    ],
    kit: KitOption,
    answer: AnswerOptions,
    depth: Annotated[Text, typer.Option(help="Depth; a spread may follow: '14 +- 0.5 ft'.")] = None,
    line: Annotated[Text, typer.Option(help="Name of the line in the kit.")] = None,
    cast: Annotated[Text, typer.Option(help="Rod tip to lure, '50 yd' or '50 +- 1 yd'.")] = None,
    tip: Annotated[Text, typer.Option("--tip-height", help="Height of the rod tip.")] = None,
    speed: Annotated[Text, typer.Option(help="Line taken in, or speed of the pull.")] = None,
    time: Annotated[Text, typer.Option(help="Time until it touched, '9 s'.")] = None,
    pull: Annotated[Text, typer.Option(help="Pull on the scale, '0.4 lb'.")] = None,
    casts: Annotated[Text, typer.Option(help="Casts on which it was seen.")] = None,
    off_true: Annotated[Text, typer.Option(help="left or right, if it runs to a side.")] = None,
    date: Annotated[Text, typer.Option(help="Day, 2026-06-21; else today.")] = None,
    note: Annotated[Text, typer.Option(help="Anything else.")] = None,
) -> None:
    """Note what you saw of a lure, in observations.csv beside the kit."""
    from leadsman.cli.reply import print_answer, print_document
    from leadsman.usecases.observe import observe as write_down

    cells = {
        "date": date, "lure": lure, "kind": kind, "depth": depth, "line": line, "cast": cast,
        "tip": tip, "speed": speed, "time": time, "pull": pull, "casts": casts,
        "off_true": off_true, "note": note,
    }  # fmt: skip
    found = write_down(kit.kit, {key: text for key, text in cells.items() if text is not None})
    if answer.json:
        from leadsman.usecases.documents.tune import observe_document

        print_document(observe_document(found))
        return
    print_answer(found.headline)


def tune(
    kit: KitOption,
    answer: AnswerOptions,
    lure: Annotated[Text, typer.Option(help="Suggest observations for this lure only.")] = None,
) -> None:
    """What was learned of each lure, what each observation taught, and what to look for next."""
    from leadsman.cli.reply import print_document
    from leadsman.usecases.tune import tune_lures

    found = tune_lures(kit.kit, lure, answer.units)
    if answer.json:
        from leadsman.usecases.documents.tune import tune_document

        print_document(tune_document(found))
        return
    _print(found)


def _print(found: TuneAnswer) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table
    from leadsman.usecases.tune import conflict_words

    depth = found.units.depth
    print_answer(found.headline)
    if not found.tuning.lures:
        return
    print_table(
        "Depth on its usual setup, 9 in 10 within; by lure and drag alone",
        ("lure", "package", "with what you saw", "band narrower by"),
        [
            (
                item.lure.name,
                depth.band(item.prior_band.low_m, item.prior_band.high_m),
                depth.band(item.band.low_m, item.band.high_m),
                depth.text(item.prior_band.width_m - item.band.width_m),
            )
            for item in found.tuning.lures
        ],
    )
    print_table(
        "What each observation taught",
        ("lure", "observation", "band narrower by"),
        [
            (item.lure.name, taught.label, depth.text(taught.gain_m))
            for item in found.tuning.lures
            for taught in item.taught
        ],
        left=2,
    )
    print_notes(
        [
            f"{item.lure.name}: {conflict_words(c, found.units)}"
            for item in found.tuning.lures
            for c in item.conflicts
        ]
    )
    for off in found.off_true:
        print_notes([f"{off.lure}: {off.reason} ({off.detail}). Check: {'; '.join(off.check)}."])
    for name, suggestions in found.suggestions.items():
        print_notes(
            [
                f"Next for {name}: {item.candidate.label}"
                + (f", expected at {depth.text(item.expected_m)}" if item.expected_m else "")
                + f"; would narrow the band by {depth.text(item.gain_m)}."
                for item in suggestions
            ]
        )
