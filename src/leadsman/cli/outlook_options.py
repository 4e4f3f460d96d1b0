"""Options of `leadsman outlook`, and how their words are read."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Annotated, Any, Literal, TypeVar, get_args

import typer

from leadsman.belief.levels import COVERS
from leadsman.dimensions import LENGTH
from leadsman.errors import InputError, QuantityError
from leadsman.units import parse_length_m, parse_range

Text = str | None
Word = TypeVar("Word", bound=str)

_WATER = "Water"
_DAY = "Day and place"
_FISH = "Fish and lake"
_OWN = "Your own word"

ForageWord = Literal["baitfish", "crayfish", "panfish"]
DepthUnit = Literal["m", "ft"]


def _text(name: str, text: str, panel: str) -> Any:
    return typer.Option(name, help=text, rich_help_panel=panel, show_default=False)


@dataclass(frozen=True)
class OutlookWaterOptions:
    """What is known of the water."""

    profile: Annotated[
        Path | None,
        _text("--profile", "Table of depth, temperature and oxygen, one day or many.", _WATER),
    ] = None
    profile_place: Annotated[
        Text, _text("--profile-place", "Which lake or station in that table.", _WATER)
    ] = None
    profile_depth_unit: Annotated[
        Text, _text("--profile-depth-unit", "Unit of depths in that table, m or ft.", _WATER)
    ] = None
    clarity: Annotated[
        Text, _text("--clarity", "Depth at which a white disk is lost from sight, '6 ft'.", _WATER)
    ] = None
    water_temperature: Annotated[
        Text, _text("--water-temperature", "Temperature at the surface, '72 degF'.", _WATER)
    ] = None
    thermocline: Annotated[Text, _text("--thermocline", "Its depth, '22 ft'.", _WATER)] = None
    oxygen_floor: Annotated[
        Text, _text("--oxygen-floor", "Depth below which there is no oxygen, '23 ft'.", _WATER)
    ] = None
    max_depth: Annotated[
        Text, _text("--max-depth", "Greatest depth of the water you fish, '45 ft'.", _WATER)
    ] = None
    lake_length: Annotated[
        Text,
        _text("--lake-length", "Greatest length of the lake, '5 mi'; to guess by.", _WATER),
    ] = None


@dataclass(frozen=True)
class OutlookDayOptions:
    """When and where."""

    date: Annotated[Text, _text("--date", "Day to be fished, 2024-07-31.", _DAY)] = None
    at: Annotated[Text, _text("--at", "Where the lake is: 'latitude,longitude'.", _DAY)] = None
    zone: Annotated[
        Text, _text("--zone", "Time zone, America/Chicago or UTC-5; else this computer's.", _DAY)
    ] = None
    hours: Annotated[
        Text, _text("--hours", "Hours to be fished, '6-14' or '6:30-14:00'; else all light.", _DAY)
    ] = None
    sky: Annotated[str, _text("--sky", "clear (unless told), broken or overcast.", _DAY)] = "clear"
    wind: Annotated[Text, _text("--wind", "How hard it blows, '8 mph'.", _DAY)] = None


@dataclass(frozen=True)
class OutlookFishOptions:
    """Fish, food, grass and tackle."""

    species: Annotated[
        str, _text("--species", "largemouth (unless told), smallmouth or spotted.", _FISH)
    ] = "largemouth"
    forage: Annotated[
        Text,
        _text("--forage", "Food seen: baitfish, crayfish or panfish, 'baitfish at 12 ft'.", _FISH),
    ] = None
    grass: Annotated[Text, _text("--grass", "none, some or thick.", _FISH)] = None
    grass_edge: Annotated[
        Text, _text("--grass-edge", "Depth where the deepest grass stops, '13 ft'.", _FISH)
    ] = None
    pressure: Annotated[
        str, _text("--pressure", "How heavily fished: light, usual or heavy.", _FISH)
    ] = "usual"
    reach: Annotated[
        Text, _text("--reach", "Greatest depth a lure of yours reaches, '20 ft'.", _FISH)
    ] = None


@dataclass(frozen=True)
class OutlookOwnOptions:
    """What the angler knows better."""

    fish_depth: Annotated[
        Text, _text("--fish-depth", "Depths at which you know fish, '12-18 ft'.", _OWN)
    ] = None
    cover: Annotated[
        Text,
        _text("--cover", "Your weights of covers: 'edge=2, flat=0, drop=1, open_water=0'.", _OWN),
    ] = None
    without: Annotated[
        Text, _text("--without", "Factors to switch off, by commas: 'light, wind'.", _OWN)
    ] = None
    weigh: Annotated[
        Text,
        _text("--weigh", "How much factors count, 1 as they are: 'grass=2, light=0.5'.", _OWN),
    ] = None
    sound: Annotated[Text, _text("--sound", "rattling or silent, already decided.", _OWN)] = None
    colour: Annotated[
        Text, _text("--colour", "natural, light, dark or red, already decided.", _OWN)
    ] = None


def word(text: str | None, kind: Any, where: str) -> Any:
    """One of a few words.

    Parameters
    ----------
    text : str or None
        Text of the option [-].
    kind : type
        Literal type with the words allowed [-].
    where : str
        Name of the option [-].

    Raises
    ------
    InputError
        It is another word.
    """
    if text is None:
        return None
    allowed = get_args(kind)
    found = text.strip().casefold().replace(" ", "_")
    if found not in allowed:
        raise InputError(
            f"'{text[:30]}' is not known here", where, f"Use {', '.join(map(str, allowed))}"
        )
    return found


def day_of(text: str | None) -> date | None:
    """A calendar day such as 2024-07-31.

    Parameters
    ----------
    text : str or None
        Text of the option [-].
    """
    if text is None:
        return None
    try:
        found = date.fromisoformat(text.strip())
    except ValueError:
        raise InputError(
            f"'{text[:30]}' is not a day", "--date", "Write year-month-day, 2024-07-31"
        ) from None
    if not 1900 <= found.year <= 2100:
        raise InputError(f"the year {found.year} is outside 1900 to 2100", "--date")
    return found


def hours_of(text: str | None) -> tuple[float, float] | None:
    """First and last hour of a text such as ``6:30-14`` [h].

    Parameters
    ----------
    text : str or None
        Text of the option [-].
    """
    if text is None:
        return None
    mark = r"(\d{1,2})(?::([0-5]\d))?"
    match = re.fullmatch(rf"\s*{mark}\s*(?:-|to)\s*{mark}\s*", text)
    if match is None:
        raise InputError(
            f"'{text[:30]}' is no stretch of hours", "--hours", "Write 6-14 or 6:30-14:00"
        )
    first, last = (int(match[i]) + int(match[i + 1] or 0) / 60.0 for i in (1, 3))
    if not first < last <= 24.0:
        raise InputError(f"the hours '{text[:30]}' do not run forward within one day", "--hours")
    return first, last


def forage_of(text: str | None) -> tuple[ForageWord | None, float | None]:
    """Kind of food and its depth, from a text such as ``baitfish at 12 ft`` [-, m].

    Parameters
    ----------
    text : str or None
        Text of the option [-].
    """
    if text is None:
        return None, None
    kind, _, depth = text.partition(" at ")
    depth_m = parse_length_m(depth, "--forage") if depth.strip() else None
    return word(kind, ForageWord, "--forage"), depth_m


def fish_of(text: str | None) -> tuple[float, float] | None:
    """Depths at which fish are known [m].

    Parameters
    ----------
    text : str or None
        Text of the option [-].
    """
    if text is None:
        return None
    band = parse_range(text, LENGTH, "--fish-depth")
    if not 0.0 <= band.low < band.high:
        raise QuantityError(
            f"'{text[:30]}' is no band of depth", "--fish-depth", "Write it like 12-18ft"
        )
    return band.low, band.high


def weights_of(text: str | None, where: str, example: str) -> dict[str, float]:
    """Numbers by name, from a text such as ``grass=2, light=0.5`` [-].

    Parameters
    ----------
    text : str or None
        Text of the option [-].
    where : str
        Name of the option [-].
    example : str
        How it should look [-].
    """
    found: dict[str, float] = {}
    for part in (text or "").split(","):
        if not part.strip():
            continue
        match = re.fullmatch(r"\s*([A-Za-z_ -]+?)\s*=\s*(\d+(?:\.\d*)?|\.\d+)\s*", part)
        if match is None:
            raise InputError(f"'{part[:30]}' is no weight", where, f"Write it like '{example}'")
        found[match[1].casefold()] = float(match[2])
    if text is not None and not found:
        raise InputError("no weight is given", where, f"Write it like '{example}'")
    return found


def covers_of(text: str | None) -> dict[str, float]:
    """Weights of covers [-].

    Parameters
    ----------
    text : str or None
        Text of the option [-].
    """
    given = weights_of(text, "--cover", "edge=2, flat=0")
    found = {name.replace(" ", "_"): value for name, value in given.items()}
    for name in found:
        if name not in COVERS:
            raise InputError(f"unknown cover '{name[:20]}'", "--cover", f"Use {', '.join(COVERS)}")
    return found


def strengths_of(without: str | None, weigh: str | None) -> dict[str, float]:
    """How much single factors count [-].

    Parameters
    ----------
    without, weigh : str or None
        Texts of the two options [-].
    """
    found = weights_of(weigh, "--weigh", "grass=2, light=0.5")
    for part in (without or "").split(","):
        if part.strip():
            found[part.strip().casefold()] = 0.0
    return found
