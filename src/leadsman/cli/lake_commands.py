"""`leadsman lake ...`: add, list, show, edge, survey, map, export, remove."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from leadsman.cli.lake_add_command import ADD_EXAMPLES, add
from leadsman.cli.lake_options import (
    MAP_PANEL,
    EdgeOptions,
    LakesOption,
    LevelOption,
    MapOptions,
    option,
)
from leadsman.cli.lake_print import print_edge, print_files, print_report, print_runs
from leadsman.cli.option_groups import AnswerOptions, Text, command

if TYPE_CHECKING:
    from leadsman.usecases.lake_edge import EdgeQuestion

EDGE_EXAMPLES = """
[bold]Examples[/bold]

leadsman lake edge Quillfeather --marks edge-points.csv --keep

leadsman lake edge Quillfeather --clarity "9 ft" --picture edge.png

leadsman lake edge Quillfeather --drop "12-20 ft" --out drop.gpx

leadsman lake edge Quillfeather --picture spot.png --zoom 1 --phone
"""
GRASS_EXAMPLES = """
[bold]Examples[/bold]

leadsman lake grass Quillfeather --at 45.0026,-89.9991 --top "1 ft" --density thick

leadsman lake grass Quillfeather patches.geojson

leadsman lake grass Quillfeather --out patches.geojson
"""
SURVEY_EXAMPLES = """
[bold]Example[/bold]

leadsman lake survey Quillfeather --hours 3 --clarity "9 ft" --out tracks.gpx
"""
EXPORT_EXAMPLES = """
[bold]Examples[/bold]

leadsman lake export Quillfeather contours.gpx --interval "5 ft"

leadsman lake export Quillfeather bottom.tif
"""


def register(app: typer.Typer) -> None:
    """Add the commands.

    Parameters
    ----------
    app : typer.Typer
        Where to add them [-].
    """
    lake = typer.Typer(
        name="lake",
        help="Your lakes: from logs, contours and grids to the bottom, its edges and where to go.",
        no_args_is_help=True,
        rich_markup_mode="rich",
    )
    command(lake, "add", epilog=ADD_EXAMPLES)(add)
    command(lake, "list")(list_)
    command(lake, "show")(show)
    command(lake, "edge", epilog=EDGE_EXAMPLES)(edge)
    command(lake, "grass", epilog=GRASS_EXAMPLES)(grass)
    command(lake, "survey", epilog=SURVEY_EXAMPLES)(survey)
    command(lake, "map")(map_)
    command(lake, "export", epilog=EXPORT_EXAMPLES)(export)
    command(lake, "remove")(remove)
    app.add_typer(lake)


def list_(where: LakesOption, answer: AnswerOptions) -> None:
    """Which lakes there are."""
    from leadsman.cli.reply import print_answer, print_document, print_table
    from leadsman.display_units import display_units
    from leadsman.usecases.lake_store import lakes_folder, list_lakes

    records = list_lakes(where.lakes)
    folder = lakes_folder(where.lakes)
    count = f"{len(records)} lake{'' if len(records) == 1 else 's'} in {folder}."
    headline = count if records else f"No lake in {folder} yet: leadsman lake add NAME FILE..."
    if answer.json:
        from leadsman.usecases.documents.lake import list_document

        print_document(list_document(records, headline))
        return
    print_answer(headline)
    if records:
        depth = display_units(answer.units or "us").depth
        rows = [
            (
                item.name,
                ", ".join(file.report.source for file in item.files),
                "-" if item.edge is None else depth.text(item.edge.depth_m),
            )
            for item in records
        ]
        print_table("", ("lake", "made from", "grass edge"), rows, left=2)


def show(
    name: Annotated[str, typer.Argument(help="Name of the lake, or its beginning.")],
    where: LakesOption,
    answer: AnswerOptions,
) -> None:
    """How good the map of a lake is: what came in, what was left out, how sure each depth is."""
    from leadsman.cli.reply import print_document
    from leadsman.display_units import display_units
    from leadsman.usecases.lake_report import show_lake

    report = show_lake(name, display_units(answer.units or "us"), where.lakes)
    if answer.json:
        from leadsman.usecases.documents.lake import lake_document

        print_document(lake_document(report))
        return
    print_report(report)


def edge(
    name: Annotated[str, typer.Argument(help="Name of the lake, or its beginning.")],
    which: EdgeOptions,
    level: LevelOption,
    draw: MapOptions,
    where: LakesOption,
    answer: AnswerOptions,
    keep: Annotated[
        bool, typer.Option("--keep", help="Keep this grass edge with the lake.")
    ] = False,
    zoom: Annotated[
        int | None, typer.Option(min=1, help="Show only this stretch on the map.",
                                 rich_help_panel=MAP_PANEL),
    ] = None,
    tracks: Annotated[
        bool, typer.Option("--tracks", help="Show where was sounded.", rich_help_panel=MAP_PANEL)
    ] = False,
    out: Annotated[
        Path | None, option("--out", "Write edge and stretches to this .gpx or .geojson file.")
    ] = None,
    top: Annotated[int, typer.Option(min=1, max=500, help="How many stretches to list.")] = 8,
) -> None:  # fmt: skip
    """Where the grass stops, or a depth or drop lies, and which stretches come first."""
    from leadsman.cli.reply import print_document
    from leadsman.errors import InputError
    from leadsman.usecases.lake_edge import find_edge
    from leadsman.usecases.lake_export import check_export_path, export_edge
    from leadsman.usecases.lake_map import draw_edge_map
    from leadsman.usecases.pictures import check_picture_path

    if draw.picture is not None:
        check_picture_path(draw.picture)
    elif zoom is not None or tracks or draw.phone:
        raise InputError("it goes with a map", "--zoom, --tracks or --phone", "Add --picture FILE")
    if out is not None:
        check_export_path(out)
    found = find_edge(_edge_question(name, which, level, where, answer, keep))
    if draw.picture is not None:
        draw_edge_map(found, draw.picture, phone=draw.phone, zoom=zoom, tracks=tracks)
    if out is not None:
        export_edge(found, out)
    if answer.json:
        from leadsman.usecases.documents.lake_edge import edge_document

        print_document(edge_document(found))
        return
    print_edge(found, top)
    print_files(("Map", draw.picture), ("Edge and stretches", out))


def grass(
    name: Annotated[str, typer.Argument(help="Name of the lake, or its beginning.")],
    level: LevelOption,
    where: LakesOption,
    answer: AnswerOptions,
    file: Annotated[
        Path | None,
        typer.Argument(
            help="Polygons or points with top_depth_ft (or _m) and density: GeoJSON, shapefile, "
            "GeoPackage."
        ),
    ] = None,
    at: Annotated[Text, option("--at", "Mark one place: 'latitude,longitude'.")] = None,
    top: Annotated[Text, option("--top", "Depth of its top there, '1 ft'.")] = None,
    density: Annotated[
        str, option("--density", "Cover there: bare, sparse, scattered, thick, matted or '60 %'.")
    ] = "thick",
    crs: Annotated[Text, option("--crs", "Frame of the file, EPSG:26915.")] = None,
    depth_unit: Annotated[Text, option("--depth-unit", "Unit of its top_depth.")] = None,
    replace: Annotated[
        bool, typer.Option("--replace", help="Forget the patches kept before.")
    ] = False,
    clear: Annotated[bool, typer.Option("--clear", help="Forget all patches.")] = False,
    out: Annotated[Path | None, option("--out", "Write all patches to this .geojson.")] = None,
) -> None:
    """Thick grass you saw: keep it with the lake, so that casts there know of it."""
    from leadsman.cli.lake_print import print_grass
    from leadsman.cli.reply import print_document
    from leadsman.cli.to_questions import position_deg
    from leadsman.errors import InputError
    from leadsman.units import parse_length_m
    from leadsman.usecases.lake_patches import (
        MarkedGrass,
        PatchesQuestion,
        density_share,
        grass_patches,
    )

    mark = None
    if at is not None:
        share = density_share(density)
        if top is None and share > 0.0:
            raise InputError("how deep its top lies is not told", "--top", "Add --top '1 ft'")
        lat_deg, lon_deg = position_deg(at, "--at")
        top_m = parse_length_m(top, "--top") if top else 0.0
        mark = MarkedGrass(lat_deg, lon_deg, top_m, share)
    elif top is not None:
        raise InputError("it goes with a place", "--top", "Add --at latitude,longitude")
    question = PatchesQuestion(
        name, where.lakes, file, mark, "replace" if replace else "add", clear, crs, depth_unit,
        _level_m(level), out, answer.units or "us",
    )  # fmt: skip
    found = grass_patches(question)
    if answer.json:
        from leadsman.usecases.documents.lake_edge import grass_document

        print_document(grass_document(found))
        return
    print_grass(found)
    print_files(("Patches", out))


def survey(
    name: Annotated[str, typer.Argument(help="Name of the lake, or its beginning.")],
    hours: Annotated[str, typer.Option(help="Time there is, '3 h'; a bare number is hours.")],
    which: EdgeOptions,
    level: LevelOption,
    draw: MapOptions,
    where: LakesOption,
    answer: AnswerOptions,
    out: Annotated[Path | None, option("--out", "Write the tracks to this .gpx file.")] = None,
    speed: Annotated[Text, option("--speed", "Speed of the boat, '5 mph'.")] = None,
    start: Annotated[Text, option("--from", "Where you start: 'latitude,longitude'.")] = None,
) -> None:
    """Where to run the sounder next so that the edge gets sure."""
    from leadsman.cli.reply import print_document
    from leadsman.cli.to_questions import position_deg
    from leadsman.units import parse_speed_m_s, parse_time_s
    from leadsman.usecases.lake_export import check_export_path
    from leadsman.usecases.lake_map import draw_survey_map
    from leadsman.usecases.lake_survey import (
        SOUNDING_SPEED_M_S,
        SurveyQuestion,
        find_survey,
        write_survey,
    )
    from leadsman.usecases.pictures import check_picture_path

    if draw.picture is not None:
        check_picture_path(draw.picture)
    if out is not None:
        check_export_path(out)
    question = SurveyQuestion(
        _edge_question(name, which, level, where, answer, keep=False),
        parse_time_s(hours, "--hours", default_unit="h"),
        parse_speed_m_s(speed, "--speed") if speed else SOUNDING_SPEED_M_S,
        position_deg(start, "--from") if start else None,
    )
    found = find_survey(question)
    if out is not None:
        write_survey(found, out)
    if draw.picture is not None:
        draw_survey_map(found, draw.picture, phone=draw.phone)
    if answer.json:
        from leadsman.usecases.documents.lake_edge import survey_document

        print_document(survey_document(found))
        return
    print_runs(found)
    print_files(("Tracks", out), ("Map", draw.picture))


def map_(
    name: Annotated[str, typer.Argument(help="Name of the lake, or its beginning.")],
    picture: Annotated[Path, typer.Argument(help="Map to write, .svg or .png.")],
    level: LevelOption,
    where: LakesOption,
    answer: AnswerOptions,
    phone: Annotated[bool, typer.Option("--phone", help="For a phone's width.")] = False,
) -> None:
    """A map of the bottom and of where it was sounded."""
    from leadsman.cli.reply import print_answer, print_document
    from leadsman.display_units import display_units
    from leadsman.usecases.lake_map import draw_lake_map
    from leadsman.usecases.lake_report import show_lake

    report = show_lake(name, display_units(answer.units or "us"), where.lakes)
    draw_lake_map(report, picture, phone=phone, level_m=_level_m(level))
    if answer.json:
        from leadsman.usecases.documents.lake import done_document

        print_document(done_document(report.headline, report.record.name, str(picture)))
        return
    print_answer(report.headline)
    print_files(("Map", picture))


def export(
    name: Annotated[str, typer.Argument(help="Name of the lake, or its beginning.")],
    out: Annotated[
        Path, typer.Argument(help="Contours as .gpx or .geojson, the grid as .tif.")
    ],
    level: LevelOption,
    where: LakesOption,
    answer: AnswerOptions,
    interval: Annotated[Text, option("--interval", "Steps between contours, '5 ft'.")] = None,
) -> None:  # fmt: skip
    """Contours or the grid of a lake, for other programs and devices."""
    from leadsman.cli.reply import print_answer, print_document
    from leadsman.units import parse_length_m
    from leadsman.usecases.lake_export import export_lake

    step = parse_length_m(interval, "--interval") if interval else None
    done = export_lake(name, out, where.lakes, step, _level_m(level), answer.units or "us")
    if answer.json:
        from leadsman.usecases.documents.lake import export_document

        print_document(export_document(done, name))
        return
    print_answer(done.headline)
    print_files(("Written", done.path))


def remove(
    name: Annotated[str, typer.Argument(help="The whole name of the lake.")],
    where: LakesOption,
    answer: AnswerOptions,
) -> None:
    """Remove a lake; the files it was made from stay where they are."""
    from leadsman.cli.reply import print_answer, print_document
    from leadsman.usecases.lake_store import remove_lake

    record = remove_lake(name, where.lakes)
    headline = f"{record.name} is removed; the files it was made from are untouched."
    if answer.json:
        from leadsman.usecases.documents.lake import done_document

        print_document(done_document(headline, record.name))
        return
    print_answer(headline)


def _level_m(level: LevelOption) -> float:
    from leadsman.units import parse_length_m

    return parse_length_m(level.level, "--level") if level.level else 0.0


def _edge_question(
    name: str, which: EdgeOptions, level: LevelOption, where: LakesOption,
    answer: AnswerOptions, keep: bool,
) -> EdgeQuestion:  # fmt: skip
    from leadsman.dimensions import LENGTH
    from leadsman.lake.structure import SCALE_M
    from leadsman.units import parse_length_m, parse_range
    from leadsman.usecases.lake_edge import EdgeQuestion

    band = parse_range(which.drop, LENGTH, "--drop") if which.drop else None
    return EdgeQuestion(
        name,
        where.lakes,
        which.marks,
        which.depth_unit,
        parse_length_m(which.clarity, "--clarity") if which.clarity else None,
        parse_length_m(which.depth, "--depth") if which.depth else None,
        (band.low, band.high) if band is not None else None,
        keep,
        _level_m(level),
        parse_length_m(which.scale, "--scale") if which.scale else SCALE_M,
        answer.units or "us",
    )
