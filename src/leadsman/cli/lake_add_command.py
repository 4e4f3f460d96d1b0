"""`leadsman lake add`."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated

import typer

from leadsman.cli.lake_options import LakesOption, option
from leadsman.cli.option_groups import AnswerOptions, Text

_FILES = "What you know of the files; VALUE for all, FILE=VALUE for one; may be repeated"
Said = list[str] | None

ADD_EXAMPLES = """
[bold]Examples[/bold]

leadsman lake add Quillfeather practice-day.nmea

leadsman lake add Quillfeather contours.zip log.csv --crs contours.zip=EPSG:26915
--depth-unit log.csv=ft --level log.csv='1.5 ft'

leadsman lake add Quillfeather sunday.gpx --join
"""


def add(
    name: Annotated[str, typer.Argument(help="Name of the lake.")],
    files: Annotated[
        list[Path],
        typer.Argument(
            help="Logs (NMEA 0183, GPX), tables (CSV, XYZ), contours (GeoJSON, shapefile, "
            "GeoPackage), grids (GeoTIFF, ASCII grid, NetCDF)."
        ),
    ],
    where: LakesOption,
    answer: AnswerOptions,
    join: Annotated[
        bool, typer.Option("--join", help="Join the files with a lake of that name.")
    ] = False,
    replace: Annotated[
        bool, typer.Option("--replace", help="Make a lake of that name anew.")
    ] = False,
    reference: Annotated[
        str, option("--reference", "What depth 0 is, 'summer pool 845 ft'; said back.")
    ] = "",
    cell: Annotated[Text, option("--cell", "Width of a cell of the map, '5 m'.")] = None,
    crs: Annotated[Said, option("--crs", "Frame of positions, EPSG:26915.", _FILES)] = None,
    depth_unit: Annotated[Said, option("--depth-unit", "ft, m or fathom.", _FILES)] = None,
    sign: Annotated[Said, option("--sign", "Depths count positive down or up.", _FILES)] = None,
    surface: Annotated[
        Said,
        option("--surface", "Elevation of the water, for bottom elevations, '845 ft'.", _FILES),
    ] = None,
    level: Annotated[
        Said, option("--level", "Water of that day above the reference, '1.5 ft'.", _FILES)
    ] = None,
    lat_column: Annotated[Said, option("--lat-column", "Column of latitudes.", _FILES)] = None,
    lon_column: Annotated[Said, option("--lon-column", "Column of longitudes.", _FILES)] = None,
    depth_column: Annotated[
        Said, option("--depth-column", "Column or attribute of depths.", _FILES)
    ] = None,
    transducer: Annotated[
        Said, option("--transducer", "Its depth below the surface, '1.3 ft'.", _FILES)
    ] = None,
    layer: Annotated[
        Said, option("--layer", "Layer of a GeoPackage, variable of a NetCDF.", _FILES)
    ] = None,
    bands: Annotated[
        Said, option("--bands", "Depth of a band is its shallow or deep end.", _FILES)
    ] = None,
    inner_rings: Annotated[
        Said, option("--inner-rings", "Rings inside one of their depth: hump or deeper.", _FILES)
    ] = None,
    grid_error: Annotated[
        Said, option("--grid-error", "Standard error of a grid by its makers, '0.5 ft'.", _FILES)
    ] = None,
    no_checksum: Annotated[
        bool, typer.Option("--no-checksum", help="Trust log lines without a checksum.",
                           rich_help_panel=_FILES),
    ] = False,
    ele_is_depth: Annotated[
        bool, typer.Option("--ele-is-depth", help="The GPX files hold depths as elevations.",
                           rich_help_panel=_FILES),
    ] = False,
) -> None:  # fmt: skip
    """Make a lake of one or several files and say how good its map is."""
    from leadsman.cli.lake_print import print_report
    from leadsman.cli.reply import print_document, progress
    from leadsman.errors import InputError
    from leadsman.units import parse_length_m
    from leadsman.usecases.lake_add import AddLakeQuestion, add_lake
    from leadsman.usecases.lake_files import spread_options

    if join and replace:
        raise InputError("--join and --replace exclude one another", "--join", "Give one of them")
    length = parse_length_m
    said = [
        *_said("crs", crs, files),
        *_said("depth_unit", depth_unit, files, _choice("--depth-unit", "ft", "m", "fathom")),
        *_said("sign", sign, files, _choice("--sign", "down", "up")),
        *_said("surface_elevation_m", surface, files, lambda t: length(t, "--surface")),
        *_said("level_m", level, files, lambda t: length(t, "--level")),
        *_said("lat_column", lat_column, files),
        *_said("lon_column", lon_column, files),
        *_said("depth_column", depth_column, files),
        *_said("transducer_depth_m", transducer, files, lambda t: length(t, "--transducer")),
        *_said("layer", layer, files),
        *_said("band_value", bands, files, _choice("--bands", "shallow", "deep")),
        *_said("inner_rings", inner_rings, files, _choice("--inner-rings", "hump", "deeper")),
        *_said("se_m", grid_error, files, lambda t: length(t, "--grid-error")),
        ("require_checksum", None, not no_checksum),
        ("elevation_is_depth", None, ele_is_depth),
    ]
    question = AddLakeQuestion(
        name,
        spread_options(files, said),
        where.lakes,
        "join" if join else "replace" if replace else "refuse",
        length(cell, "--cell") if cell else None,
        reference,
        answer.units or "us",
    )
    with progress(f"Mapping {name}", quiet=answer.json) as tell:
        report = add_lake(question, lambda share, _: tell(share))
    if answer.json:
        from leadsman.usecases.documents.lake import lake_document

        print_document(lake_document(report))
        return
    print_report(report)


def _said(
    field: str, texts: Sequence[str] | None, files: Sequence[Path],
    read: Callable[[str], object] = str,
) -> list[tuple[str, Path | None, object]]:  # fmt: skip
    """What is said of all files, or of one as FILE=VALUE."""
    out: list[tuple[str, Path | None, object]] = []
    for text in texts or ():
        file, equals, value = text.rpartition("=")
        # A frame may hold "=" itself, as "+proj=utm +zone=15" does.
        named = any(file in (str(path), path.name) for path in files)
        # Else a word that looks like a file: refused later, as it is none of those given.
        if equals and (named or re.fullmatch(r"[^+\s\[\]]+\.[A-Za-z0-9]{1,7}", file)):
            out.append((field, Path(file), read(value)))
        else:
            out.append((field, None, read(text)))
    return out


def _choice(option: str, *words: str) -> Callable[[str], object]:
    """Reader of one of some words."""

    def read(text: str) -> str:
        from leadsman.errors import InputError

        if text.strip().casefold() not in words:
            raise InputError(
                f"{text[:30]!r} is not known", option, f"Write one of: {', '.join(words)}"
            )
        return text.strip().casefold()

    return read
