"""`leadsman match`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.option_groups import (
    AimOptions,
    AnswerOptions,
    BottomOptions,
    KitOption,
    PictureOption,
    WaterOptions,
    command,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from leadsman.plan.match_types import Excluded
    from leadsman.usecases.match import MatchAnswer

EXAMPLES = """
[bold]Examples[/bold]

leadsman match --bottom "10 ft"

leadsman match --bottom "15 ft" --grass-top "12 ft" --picture match.svg

leadsman match --target 18-22ft --casts "60 yd" --tips low,usual

leadsman match --soundings track.csv --at 45.1234,-93.5678 --heading 120
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "match", epilog=EXAMPLES)(match)


def match(
    kit: KitOption,
    bottom: BottomOptions,
    aim: AimOptions,
    water: WaterOptions,
    picture: PictureOption,
    answer: AnswerOptions,
    lure: Annotated[str | None, typer.Option(help="Try only this lure.")] = None,
    line: Annotated[str | None, typer.Option(help="Try only this line.")] = None,
    rod: Annotated[str | None, typer.Option(help="Try only this rod.")] = None,
    reel: Annotated[str | None, typer.Option(help="Try only this reel.")] = None,
    cast: Annotated[
        str | None,
        typer.Option("--cast", "--casts", help="Casts allowed, '30 yd, 60 yd'; else your own."),
    ] = None,
    tips: Annotated[
        str, typer.Option(help="Rod positions allowed: words or heights, by commas.")
    ] = "under,low,usual,high",
    boat: Annotated[
        str | None, typer.Option(help="Drift of the boat toward the lure, '0.5 mph'.")
    ] = None,
    wind: Annotated[str | None, typer.Option(help="'8 mph from ahead'.")] = None,
    top: Annotated[int, typer.Option(min=1, max=500, help="How many places to show.")] = 10,
) -> None:
    """Which lure on which line, cast how far, rides this bottom longest."""
    from leadsman.cli import to_questions as to
    from leadsman.cli.reply import progress
    from leadsman.units import parse_speed_m_s
    from leadsman.usecases.match import MatchQuestion, find_match
    from leadsman.usecases.pictures import check_picture_path
    from leadsman.usecases.questions import SetupQuestion
    from leadsman.usecases.wind_text import parse_wind

    if picture.picture is not None:
        check_picture_path(picture.picture)
    question = MatchQuestion(
        SetupQuestion(kit.kit, lure, line, rod, reel, units=answer.units),
        to.bottom_question(bottom),
        to.water_question(water),
        to.casts_m(cast),
        to.tip_positions(tips),
        aim.load_limit,
        to.target_m(aim),
        parse_speed_m_s(boat, "--boat") if boat else 0.0,
    )
    with progress("Ranking your kit", quiet=answer.json) as tell:
        found = find_match(
            question,
            parse_wind(wind, bottom.heading) if wind else None,
            lambda share, _: tell(share),
        )
    if picture.picture is not None:
        from leadsman.usecases.pictures import draw_match

        draw_match(found, picture.picture)
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.match import match_document

        print_document(match_document(found))
        return
    _print(found, top)
    if picture.picture is not None:
        typer.echo(f"Picture: {picture.picture}")


def _print(found: MatchAnswer, top: int) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table

    units, result = found.units, found.result
    print_answer(result.headline)
    if result.ranked:
        print_table(
            "",
            ("", "lure", "line", "cast", "zone", "might be", "load", "free depth"),
            [
                (
                    str(place),
                    item.lure,
                    item.line,
                    units.distance.text(item.cast_m),
                    units.distance.text(item.zone_m),
                    units.distance.band(*item.zone_band_m),
                    f"{item.mean_load:.2f}",
                    units.depth.text(item.free_max_depth_m),
                )
                for place, item in enumerate(result.ranked[:top], start=1)
            ],
            left=3,
        )
        print_notes(
            [
                f"{place}. {item.reason} Rod: {item.how}."
                for place, item in enumerate(result.ranked[: min(top, 3)], start=1)
            ]
        )
        print_notes([result.limit_sentence])
    print_notes(_left_out(result.excluded))
    print_notes((*result.cautions, *found.notes))


def _left_out(excluded: Sequence[Excluded]) -> list[str]:
    """One line for each lure that is no use: why, on the line that comes nearest."""
    by_lure: dict[str, list[Excluded]] = {}
    for item in excluded:
        by_lure.setdefault(item.lure, []).append(item)
    told: list[str] = []
    for lure, items in by_lure.items():
        nearest = max(items, key=lambda item: (item.zone_m, item.free_max_depth_m))
        lines = "one line" if len(items) == 1 else f"{len(items)} lines"
        told.append(f"Left out, {lure} on {lines}; nearest {nearest.line}: {nearest.reason}")
    return told
