"""Options that several commands share, each group once.

A group is a dataclass whose fields are Typer options; `command` gives a
function that takes groups the flat signature Typer reads.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import MISSING, dataclass, fields, is_dataclass
from pathlib import Path
from typing import Annotated, Any, get_type_hints

import typer

Text = str | None


def _text(name: str, text: str, panel: str) -> Any:
    return typer.Option(name, help=text, rich_help_panel=panel, show_default=False)


_TACKLE = "Tackle"
_NUMBERS = "Numbers in place of names, for study"
_CAST = "Cast and retrieve"
_BOTTOM = "Bottom"
_WATER = "Water"
_OUTPUT = "Answer"


@dataclass(frozen=True)
class KitOption:
    """Which kit."""

    kit: Annotated[
        Path | None,
        _text("--kit", "Kit file; else kit.toml here, else the demo kit.", _TACKLE),
    ] = None


@dataclass(frozen=True)
class TackleOptions:
    """One lure on one line."""

    lure: Annotated[Text, _text("--lure", "Name of a lure in the kit.", _TACKLE)] = None
    line: Annotated[Text, _text("--line", "Name of a line in the kit.", _TACKLE)] = None
    rod: Annotated[Text, _text("--rod", "Name of a rod in the kit.", _TACKLE)] = None
    reel: Annotated[Text, _text("--reel", "Name of a reel in the kit.", _TACKLE)] = None
    dive_angle: Annotated[
        Text, _text("--dive-angle", "Dive angle, such as '33 deg'.", _NUMBERS)
    ] = None
    pull_area: Annotated[
        Text, _text("--pull-area", "Pull area (drag coefficient times area), '20 cm2'.", _NUMBERS)
    ] = None
    lure_mass: Annotated[Text, _text("--lure-mass", "Mass of the lure, '15 g'.", _NUMBERS)] = None
    buoyancy: Annotated[
        Text, _text("--buoyancy", "Net buoyancy, positive floats, '0.05 N' or '5 g'.", _NUMBERS)
    ] = None
    diameter: Annotated[Text, _text("--diameter", "Line diameter, '0.31 mm'.", _NUMBERS)] = None
    density: Annotated[Text, _text("--density", "Line density, '1.78 g/cm3'.", _NUMBERS)] = None
    modulus: Annotated[
        Text, _text("--modulus", "Line modulus, '2.2 GPa'; 'inf' does not stretch.", _NUMBERS)
    ] = None


@dataclass(frozen=True)
class CastOptions:
    """One cast and its retrieve."""

    cast: Annotated[
        Text,
        _text(
            "--cast",
            "Rod tip to lure when the retrieve starts, '60 yd', or measured, '60 +- 1 yd'.",
            _CAST,
        ),
    ] = None
    tip_height: Annotated[
        str,
        _text(
            "--tip-height",
            "Rod tip: under, low, usual, high, or a height above the water such as '2 ft' "
            "('-3 ft' is under water).",
            _CAST,
        ),
    ] = "usual"
    speed: Annotated[Text, _text("--speed", "Line taken in, '4 ft/s' or '3 mph'.", _CAST)] = None
    turns: Annotated[Text, _text("--turns", "Handle turns per second; needs a reel.", _CAST)] = None
    retrieve: Annotated[
        Text,
        _text(
            "--retrieve",
            "Script, 'reel 12 turns low; stop 2 s; reel tip high'. Steps: reel, stop, lift, "
            "lower, snap, repeat.",
            _CAST,
        ),
    ] = None
    boat: Annotated[
        Text, _text("--boat", "Drift of the boat toward the lure, '0.5 mph'.", _CAST)
    ] = None
    wind: Annotated[
        Text,
        _text(
            "--wind",
            "'8 mph from ahead', 'from NW'; a cast you give counts as its calm length.",
            _CAST,
        ),
    ] = None


@dataclass(frozen=True)
class BottomOptions:
    """What lies under the cast."""

    bottom: Annotated[
        Text,
        _text(
            "--bottom",
            "'10 ft', '8,9,10,12 ft' evenly from tip to lure, or '0 yd: 8 ft, 30 yd: 10 ft'.",
            _BOTTOM,
        ),
    ] = None
    soundings: Annotated[
        Path | None,
        _text("--soundings", "Table of positions and depths, or an NMEA 0183 log.", _BOTTOM),
    ] = None
    lake: Annotated[
        Text, _text("--lake", "Name of a lake you added: see 'leadsman lake add'.", _BOTTOM)
    ] = None
    lakes: Annotated[
        Path | None, _text("--lakes", "Folder of the lakes; else lakes/ here.", _BOTTOM)
    ] = None
    at: Annotated[Text, _text("--at", "Where the rod tip is: 'latitude,longitude'.", _BOTTOM)] = (
        None
    )
    heading: Annotated[
        float | None, _text("--heading", "True heading of the cast in degrees.", _BOTTOM)
    ] = None
    lat_column: Annotated[
        Text, _text("--lat-column", "Column of latitudes in the table.", _BOTTOM)
    ] = None
    lon_column: Annotated[
        Text, _text("--lon-column", "Column of longitudes in the table.", _BOTTOM)
    ] = None
    depth_column: Annotated[
        Text, _text("--depth-column", "Column of depths in the table.", _BOTTOM)
    ] = None
    depth_unit: Annotated[
        Text, _text("--depth-unit", "Unit of depths in the table: ft, m or fathom.", _BOTTOM)
    ] = None
    level: Annotated[
        Text,
        _text("--level", "Water now above that of soundings or lake, '-1.5 ft'.", _BOTTOM),
    ] = None
    grass_top: Annotated[
        Text, _text("--grass-top", "Depth of the top of the grass, '6 ft'.", _BOTTOM)
    ] = None
    grass_density: Annotated[
        float, _text("--grass-density", "Share of the ground it covers, 0 to 1.", _BOTTOM)
    ] = 0.5
    grass_from: Annotated[
        Text, _text("--grass-from", "Where it begins, from the rod tip, '20 yd'.", _BOTTOM)
    ] = None
    grass_to: Annotated[Text, _text("--grass-to", "Where it ends, from the rod tip.", _BOTTOM)] = (
        None
    )
    friction: Annotated[
        float, _text("--friction", "Friction between lure and bottom, 0 unless told.", _BOTTOM)
    ] = 0.0


@dataclass(frozen=True)
class WaterOptions:
    """The water and the drag in it."""

    water_temperature: Annotated[str, _text("--water-temperature", "'68 degF'.", _WATER)] = (
        "20 degC"
    )
    water_density: Annotated[
        Text, _text("--water-density", "'998 kg/m3', in place of fresh water's.", _WATER)
    ] = None
    cn: Annotated[
        float | None, _text("--cn", "Fixed normal drag coefficient of the line.", _WATER)
    ] = None
    ct: Annotated[
        float | None, _text("--ct", "Fixed tangential drag coefficient of the line.", _WATER)
    ] = None


@dataclass(frozen=True)
class AimOptions:
    """What counts as the zone."""

    target: Annotated[
        Text,
        _text("--target", "Depth band to be in instead of touching, '18-22 ft'.", _BOTTOM),
    ] = None
    load_limit: Annotated[
        float,
        _text(
            "--load-limit",
            "Largest contact load (bottom force over pull) that counts as ticking, 0.12 unless "
            "told.",
            _BOTTOM,
        ),
    ] = 0.12


@dataclass(frozen=True)
class AnswerOptions:
    """How the answer is given."""

    json: Annotated[
        bool, typer.Option("--json", help="Answer as JSON.", rich_help_panel=_OUTPUT)
    ] = False
    units: Annotated[Text, _text("--units", "us or metric; else as the kit says.", _OUTPUT)] = None


@dataclass(frozen=True)
class PictureOption:
    """Whether to draw."""

    picture: Annotated[
        Path | None, _text("--picture", "Write a side view to this .svg or .png file.", _OUTPUT)
    ] = None


def command(app: typer.Typer, name: str, **settings: Any) -> Callable[..., Any]:
    """Register a function of option groups as a command.

    Parameters
    ----------
    app : typer.Typer
        Where to register [-].
    name : str
        Name of the command [-].
    **settings : object
        Passed to Typer [-].
    """

    def register(function: Callable[..., None]) -> Callable[..., None]:
        hints = get_type_hints(function, include_extras=True)
        groups = {
            key: hints[key]
            for key in inspect.signature(function).parameters
            if is_dataclass(hints[key])
        }
        parameters = _own_parameters(function, hints, groups)
        for group in groups.values():
            parameters += _group_parameters(group)

        def run(**values: Any) -> None:
            made = {
                key: group(**{item.name: values.pop(item.name) for item in fields(group)})
                for key, group in groups.items()
            }
            function(**made, **values)

        run.__doc__ = function.__doc__
        run.__name__ = function.__name__
        run.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
        run.__annotations__ = {item.name: item.annotation for item in parameters}
        app.command(name, **settings)(run)
        return function

    return register


def _own_parameters(
    function: Callable[..., None], hints: dict[str, Any], groups: dict[str, Any]
) -> list[inspect.Parameter]:
    return [
        inspect.Parameter(
            key, inspect.Parameter.KEYWORD_ONLY, default=item.default, annotation=hints[key]
        )
        for key, item in inspect.signature(function).parameters.items()
        if key not in groups
    ]


def _group_parameters(group: Any) -> list[inspect.Parameter]:
    hints = get_type_hints(group, include_extras=True)
    return [
        inspect.Parameter(
            item.name,
            inspect.Parameter.KEYWORD_ONLY,
            default=inspect.Parameter.empty if item.default is MISSING else item.default,
            annotation=hints[item.name],
        )
        for item in fields(group)
    ]
