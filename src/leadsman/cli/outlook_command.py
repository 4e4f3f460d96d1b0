"""`leadsman outlook`."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import typer

from leadsman.cli.option_groups import AnswerOptions, PictureOption, command
from leadsman.cli.outlook_options import (
    OutlookDayOptions,
    OutlookFishOptions,
    OutlookOwnOptions,
    OutlookWaterOptions,
)

if TYPE_CHECKING:
    from leadsman.usecases.outlook import OutlookAnswer, OutlookQuestion

EXAMPLES = """
[bold]Examples[/bold]

leadsman outlook --clarity "6 ft" --water-temperature "76 degF" --grass thick

leadsman outlook --profile profiles.csv --date 2024-07-17 --at 45.1,-93.2 --clarity "5 ft"

leadsman outlook --date 2024-07-17 --at 45.1,-93.2 --lake-length "3 mi" --without wind
"""


def register(app: typer.Typer) -> None:
    """Add the command.

    Parameters
    ----------
    app : typer.Typer
        Where to add it [-].
    """
    command(app, "outlook", epilog=EXAMPLES)(outlook)


def outlook(
    water: OutlookWaterOptions,
    day: OutlookDayOptions,
    fish: OutlookFishOptions,
    own: OutlookOwnOptions,
    picture: PictureOption,
    answer: AnswerOptions,
) -> None:
    """What depth, cover and hour to expect fish at, and what to tie on first.

    Tell what you know; every factor says what it rests on, and any can be switched off.
    """
    from leadsman.usecases.outlook import find_outlook
    from leadsman.usecases.pictures import check_picture_path

    if picture.picture is not None:
        check_picture_path(picture.picture)
    found = find_outlook(_question(water, day, fish, own, answer))
    if picture.picture is not None:
        from leadsman.usecases.outlook_view import draw_outlook

        draw_outlook(found, picture.picture)
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.outlook import outlook_document

        print_document(outlook_document(found))
        return
    _print(found)
    if picture.picture is not None:
        typer.echo(f"Picture: {picture.picture}")


def _question(
    water: OutlookWaterOptions,
    day: OutlookDayOptions,
    fish: OutlookFishOptions,
    own: OutlookOwnOptions,
    answer: AnswerOptions,
) -> OutlookQuestion:
    from leadsman.belief.levels import ColourFamily, Sound
    from leadsman.cli import outlook_options as read
    from leadsman.cli.to_questions import position_deg
    from leadsman.plan.day_types import Grass, Pressure, Sky, Species
    from leadsman.units import parse_length_m, parse_speed_m_s, parse_temperature_c
    from leadsman.usecases.outlook import OutlookQuestion

    def depth_m(text: str | None, where: str) -> float | None:
        return parse_length_m(text, where) if text is not None else None

    forage, forage_m = read.forage_of(fish.forage)
    return OutlookQuestion(
        profile=water.profile,
        profile_place=water.profile_place,
        profile_depth_unit=read.word(
            water.profile_depth_unit, read.DepthUnit, "--profile-depth-unit"
        ),
        day=read.day_of(day.date),
        place_deg=position_deg(day.at, "--at") if day.at is not None else None,
        zone=day.zone,
        hours_h=read.hours_of(day.hours),
        species=read.word(fish.species, Species, "--species"),
        max_depth_m=depth_m(water.max_depth, "--max-depth"),
        fetch_m=depth_m(water.lake_length, "--lake-length"),
        secchi_m=depth_m(water.clarity, "--clarity"),
        surface_c=(
            parse_temperature_c(water.water_temperature, "--water-temperature")
            if water.water_temperature is not None
            else None
        ),
        thermocline_m=depth_m(water.thermocline, "--thermocline"),
        oxygen_floor_m=depth_m(water.oxygen_floor, "--oxygen-floor"),
        grass_edge_m=depth_m(fish.grass_edge, "--grass-edge"),
        grass=read.word(fish.grass, Grass, "--grass"),
        sky=read.word(day.sky, Sky, "--sky"),
        wind_m_s=parse_speed_m_s(day.wind, "--wind") if day.wind is not None else None,
        forage=forage,
        forage_m=forage_m,
        pressure=read.word(fish.pressure, Pressure, "--pressure"),
        fish_m=read.fish_of(own.fish_depth),
        reach_m=depth_m(fish.reach, "--reach"),
        cover_weights=read.covers_of(own.cover),
        strengths=read.strengths_of(own.without, own.weigh),
        sound=read.word(own.sound, Sound, "--sound"),
        colour=read.word(own.colour, ColourFamily, "--colour"),
        units=answer.units or "us",
    )


def _print(found: OutlookAnswer) -> None:
    from leadsman.cli.reply import print_answer, print_notes, print_table
    from leadsman.usecases.outlook import clock

    units, result = found.units, found.outlook
    print_answer(found.headline)
    rises = result.come_up_m > 0.0
    print_table(
        "",
        ("depth", "", "fish", *(("a lure here",) if rises else ())),
        [
            (
                units.depth.band(band.low_m, band.high_m),
                "█" * round(40.0 * band.lure),
                f"{100.0 * band.fish:.0f} %",
                *((f"{100.0 * band.lure:.0f} %",) if rises else ()),
            )
            for band in result.bands
        ],
        left=2,
    )
    covers = ", ".join(
        f"{name.replace('_', ' ')} {100.0 * chance:.0f} %" for name, chance in result.covers.items()
    )
    sure = (
        f"Middle {units.depth.text(result.fish_m.median)}; if each factor counted half or double, "
        f"{units.depth.band(*result.median_band_m)}"
    )
    print_notes([f"Cover: {covers}", sure, *([result.reach] if result.reach else [])])
    if result.hours:
        print_table(
            "",
            ("hour", "sun", "bites", "fish at"),
            [
                (
                    clock(hour.start_h),
                    f"{math.degrees(hour.elevation_rad):.0f} deg",
                    f"x {hour.weight:.1f}",
                    units.depth.band(hour.fish_m.low_50, hour.fish_m.high_50),
                )
                for hour in result.hours
            ],
        )
    print_notes([result.start.sound_why, result.start.colour_why])
    print_table(
        "",
        ("factor", "known", "does", "rests on", "moves"),
        [
            (
                factor.key,
                factor.known + (" (guess)" if factor.is_guess and factor.key != "start" else ""),
                factor.effect,
                factor.basis,
                "-" if factor.key == "start" else units.depth.change(factor.shift_m),
            )
            for factor in result.factors
        ],
        left=4,
    )
    print_notes([f"{factor.key}: {factor.source}" for factor in result.factors])
    if result.unused:
        print_notes([f"Not used: {'; '.join(result.unused)}"])
    print_notes(found.notes)
    print_notes(result.cautions)
