"""`leadsman passes`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from leadsman.cli.option_groups import AnswerOptions, KitOption, WaterOptions, command

if TYPE_CHECKING:
    from leadsman.plan.passes_types import PassPlan
    from leadsman.usecases.passes import PassesAnswer

EXAMPLES = """
[bold]Examples[/bold]

leadsman passes --depth "13 ft" --grass-height "2 ft" --picture pass.svg

leadsman passes --lake track.nmea --depth "15 ft" --near 45.003,-90.004 --minutes 30

leadsman passes --lake mylake --depth "20 ft" --fish drop --wind "10 mph from NW" --gpx pass.gpx
"""

_LAKE, _FISH, _BOAT, _FILES = "Lake and edge", "What is fished", "Boat, wind and time", "Files"


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "passes", epilog=EXAMPLES)(passes)


def passes(
    kit: KitOption,
    water: WaterOptions,
    answer: AnswerOptions,
    depth: Annotated[
        str,
        typer.Option("--depth", help="Depth of the edge today, '13 ft'.", rich_help_panel=_LAKE),
    ],
    lake: Annotated[
        str | None,
        typer.Option(
            help="A kept lake by name, a bottom file or soundings; else the demo lake.",
            rich_help_panel=_LAKE,
        ),
    ] = None,
    lakes: Annotated[
        Path | None, typer.Option(help="Folder of kept lakes.", rich_help_panel=_LAKE)
    ] = None,
    depth_error: Annotated[
        str,
        typer.Option(help="Standard error of that depth, '0.5 ft'.", rich_help_panel=_LAKE),
    ] = "0.5 ft",
    fish: Annotated[
        Literal["edge", "drop", "flat"],
        typer.Option(
            help="An edge is fished along itself, a drop and a flat by fans of casts.",
            rich_help_panel=_LAKE,
        ),
    ] = "edge",
    near: Annotated[
        str | None,
        typer.Option(help="Stay near 'latitude,longitude'.", rich_help_panel=_LAKE),
    ] = None,
    stretches: Annotated[
        int, typer.Option(min=1, max=25, help="How many stretches.", rich_help_panel=_LAKE)
    ] = 1,
    length: Annotated[
        str, typer.Option(help="Length of a stretch, '200 yd'.", rich_help_panel=_LAKE)
    ] = "200 yd",
    level: Annotated[
        str | None,
        typer.Option(help="Water level above that of the map, '-1.5 ft'.", rich_help_panel=_LAKE),
    ] = None,
    grass_height: Annotated[
        str | None,
        typer.Option(
            help="Height of the grass that ends there, '2 ft'; else none.", rich_help_panel=_LAKE
        ),
    ] = None,
    grass_density: Annotated[
        float,
        typer.Option(
            min=0.0, max=1.0, help="Share of the ground it covers.", rich_help_panel=_LAKE
        ),
    ] = 0.4,
    lure: Annotated[
        str | None, typer.Option(help="Try only this lure.", rich_help_panel=_FISH)
    ] = None,
    line: Annotated[
        str | None, typer.Option(help="Try only this line.", rich_help_panel=_FISH)
    ] = None,
    rod: Annotated[
        str | None, typer.Option(help="Try only this rod.", rich_help_panel=_FISH)
    ] = None,
    cast: Annotated[
        str | None,
        typer.Option(help="Casts allowed in calm air, '50 yd, 60 yd'.", rich_help_panel=_FISH),
    ] = None,
    tips: Annotated[
        str, typer.Option(help="Rod positions allowed, by commas.", rich_help_panel=_FISH)
    ] = "under,low,usual,high",
    load_limit: Annotated[
        float,
        typer.Option(help="Largest contact load that counts as ticking.", rich_help_panel=_FISH),
    ] = 0.12,
    boat: Annotated[
        Literal["hold", "creep", "best"],
        typer.Option(
            help="Held at places, creeping along while reeling, or what is better.",
            rich_help_panel=_BOAT,
        ),
    ] = "best",
    minutes: Annotated[
        float | None,
        typer.Option(help="Time for each stretch; else while it pays.", rich_help_panel=_BOAT),
    ] = None,
    wind: Annotated[
        str | None, typer.Option(help="'10 mph from NW'.", rich_help_panel=_BOAT)
    ] = None,
    least_water: Annotated[
        str, typer.Option(help="Water the boat needs, '5 ft'.", rich_help_panel=_BOAT)
    ] = "5 ft",
    stand_off: Annotated[
        str,
        typer.Option(help="Distance to shore and shallows, '50 ft'.", rich_help_panel=_BOAT),
    ] = "50 ft",
    picture: Annotated[
        Path | None,
        typer.Option(
            help="Draw each stretch to this .svg or .png; more get -2, -3.", rich_help_panel=_FILES
        ),
    ] = None,
    gpx: Annotated[
        Path | None,
        typer.Option(help="Write way points with notes and routes.", rich_help_panel=_FILES),
    ] = None,
    geojson: Annotated[
        Path | None, typer.Option(help="Write boats, casts and zones.", rich_help_panel=_FILES)
    ] = None,
) -> None:
    """Where to hold the boat along an edge, and which way to cast."""
    from leadsman.cli import to_questions as to
    from leadsman.cli.reply import print_document, progress
    from leadsman.plan.passes_settings import BoatLimits
    from leadsman.units import parse_length_m
    from leadsman.usecases.passes import PassesQuestion, compass_wind, find_passes
    from leadsman.usecases.passes_files import (
        draw_passes,
        write_passes_geojson,
        write_passes_gpx,
    )
    from leadsman.usecases.pictures import check_picture_path
    from leadsman.usecases.questions import SetupQuestion

    if picture is not None:
        check_picture_path(picture)
    speed, bearing = compass_wind(wind) if wind else (0.0, 0.0)
    question = PassesQuestion(
        edge_depth_m=parse_length_m(depth, "--depth"),
        setup=SetupQuestion(kit.kit, lure, line, rod, units=answer.units),
        lake=lake,
        lakes=lakes,
        edge_se_m=parse_length_m(depth_error, "--depth-error"),
        kind=fish,
        grass_height_m=parse_length_m(grass_height, "--grass-height") if grass_height else None,
        grass_density=grass_density,
        near_deg=to.position_deg(near, "--near") if near else None,
        count=stretches,
        stretch_m=parse_length_m(length, "--length"),
        minutes=minutes,
        boat=boat,
        limits=BoatLimits(
            parse_length_m(least_water, "--least-water"), parse_length_m(stand_off, "--stand-off")
        ),
        wind_m_s=speed,
        wind_from_deg=bearing,
        casts_m=to.casts_m(cast),
        tips=to.tip_positions(tips),
        level_m=parse_length_m(level, "--level") if level else 0.0,
        load_limit=load_limit,
        water=to.water_question(water),
    )
    with progress("Planning passes", quiet=answer.json) as tell:
        found = find_passes(question, lambda share, _: tell(share))
    drawn = draw_passes(found, picture) if picture is not None else ()
    if gpx is not None:
        write_passes_gpx(found, gpx)
    if geojson is not None:
        write_passes_geojson(found, geojson)
    if answer.json:
        from leadsman.usecases.documents.passes import passes_document

        print_document(passes_document(found))
        return
    _print(found)
    for path in (*drawn, *(p for p in (gpx, geojson) if p is not None)):
        typer.echo(f"Written: {path}")


def _print(found: PassesAnswer) -> None:
    from leadsman.cli.reply import print_answer, print_notes

    print_answer(found.headline)
    for plan, why in zip(found.plans, found.why, strict=True):
        _print_plan(plan, why, found)
    print_notes([f"Left out, {text}" for text in found.left_out])
    print_notes((*found.plans[0].cautions, *found.notes))


def _print_plan(plan: PassPlan, why: str, found: PassesAnswer) -> None:
    from leadsman.cli.reply import print_notes, print_table

    units = found.units
    if len(found.plans) > 1:
        print_notes([plan.headline])
    rows = []
    for stop in plan.stops:
        for place, cast in enumerate(stop.casts):
            first = place == 0
            rows.append(
                (
                    str(stop.number) if first else "",
                    f"{stop.lat_deg:.5f}, {stop.lon_deg:.5f}" if first else "",
                    units.depth.text(stop.depth_m) if first else "",
                    f"{cast.heading_deg:.0f}°",
                    units.distance.text(cast.cast_m),
                    units.distance.text(cast.zone_m),
                    units.distance.text(cast.new_edge_m),
                    f"{cast.mean_load:.2f}",
                )
            )
    print_table(
        plan.stretch.name,
        ("", "boat at", "water", "heading", "cast", "zone", "new", "load"),
        rows,
        left=2,
    )
    print_notes(([why] if why else []) + list(plan.reasons))
