"""Options that the lake commands share."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

import typer

from leadsman.cli.option_groups import Text

_EDGE = "Which edge"
MAP_PANEL = "Map"


def option(name: str, text: str, panel: str | None = None) -> Any:
    """An option without a default shown.

    Parameters
    ----------
    name : str
        Its name [-].
    text : str
        What it is [-].
    panel : str or None
        Heading it stands under [-].
    """
    return typer.Option(name, help=text, show_default=False, rich_help_panel=panel)


@dataclass(frozen=True)
class LakesOption:
    """Where lakes are kept."""

    lakes: Annotated[
        Path | None, option("--lakes", "Folder of the lakes; else lakes/ here.", "Answer")
    ] = None


@dataclass(frozen=True)
class LevelOption:
    """Water level of the day."""

    level: Annotated[
        Text,
        option("--level", "Water now above the lake's reference level, '-1.5 ft' if below."),
    ] = None


@dataclass(frozen=True)
class EdgeOptions:
    """Which edge."""

    marks: Annotated[
        Path | None,
        option("--marks", "Places where you saw the grass stop: CSV or GPX way points.", _EDGE),
    ] = None
    depth_unit: Annotated[
        Text, option("--depth-unit", "Unit of depths in that file, ft or m.", _EDGE)
    ] = None
    clarity: Annotated[
        Text,
        option("--clarity", "How deep a white disk is seen, '9 ft': a guess of the edge.", _EDGE),
    ] = None
    depth: Annotated[Text, option("--depth", "Any other depth to follow, '15 ft'.", _EDGE)] = None
    drop: Annotated[Text, option("--drop", "A drop between two depths, '12-20 ft'.", _EDGE)] = None
    scale: Annotated[
        Text, option("--scale", "Bends are looked for at this scale; else 66 yd.", _EDGE)
    ] = None


@dataclass(frozen=True)
class MapOptions:
    """Whether and how to draw."""

    picture: Annotated[
        Path | None, option("--picture", "Write a map to this .svg or .png file.", MAP_PANEL)
    ] = None
    phone: Annotated[
        bool, typer.Option("--phone", help="For a phone's width.", rich_help_panel=MAP_PANEL)
    ] = False
