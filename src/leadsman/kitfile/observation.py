"""One thing that was seen of a lure, as a row of the observations file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Literal

from leadsman.dimensions import LENGTH, TIME, Dimension
from leadsman.errors import InputError, LogError, Where
from leadsman.kitfile.kit import suggestion
from leadsman.units import (
    parse_force_n,
    parse_length_m,
    parse_speed_m_s,
    parse_spread,
)

Kind = Literal["ticked", "did not reach", "measured", "time to bottom", "pull", "retuned"]
KINDS: tuple[Kind, ...] = (
    "ticked", "did not reach", "measured", "time to bottom", "pull", "retuned",
)  # fmt: skip

COLUMNS: dict[str, str] = {
    "date": "Day it was seen, as 2026-06-21",
    "lure": "Name of the lure in the kit",
    "kind": "ticked, did not reach, measured, time to bottom, pull or retuned",
    "depth": "Depth of the bottom, or of the lure if measured; a spread may follow: 14 +- 0.5 ft",
    "line": "Name of the line in the kit",
    "cast": "Cast, from rod tip to lure, with a spread if it was measured: 60 +- 1 yd",
    "tip": "Height of the rod tip, negative under water",
    "speed": "Line taken in per second; for a pull, speed through the water",
    "time": "Time from the start of the retrieve to the first touch",
    "pull": "Pull on the scale, on short line",
    "casts": "Casts on which it was seen; 1 if empty",
    "off_true": "left or right if the lure runs to one side",
    "note": "Anything else",
}
"""Columns of the file and what stands in them."""

NEEDED: dict[Kind, tuple[str, ...]] = {
    "ticked": ("depth", "line", "cast"),
    "did not reach": ("depth", "line", "cast"),
    "measured": ("depth", "line", "cast"),
    "time to bottom": ("depth", "line", "cast", "time"),
    "pull": ("pull", "speed"),
    "retuned": (),
}
"""Columns that each kind cannot do without."""


_POSSIBLE = (  # column, field, least, most [SI]
    ("depth", "depth_m", 0.02, 30.0),
    ("depth", "depth_sd_m", 0.0, 5.0),
    ("cast", "cast_m", 1.0, 200.0),
    ("cast", "cast_sd_m", 0.0, 50.0),
    ("tip", "tip_m", -3.0, 6.0),
    ("speed", "speed_m_s", 0.2, 5.0),
    ("time", "time_s", 0.5, 600.0),
    ("time", "time_sd_s", 0.0, 60.0),
    ("pull", "pull_n", 0.01, 100.0),
)


@dataclass(frozen=True, slots=True)
class Observation:
    """One row: something that was seen of a lure.

    Parameters
    ----------
    day : datetime.date
        When [-].
    lure : str
        Name of the lure [-].
    kind : {"ticked", "did not reach", "measured", "time to bottom", "pull", "retuned"}
        What was seen; *retuned* starts the lure afresh [-].
    depth_m, depth_sd_m : float or None
        Depth and its spread [m].
    line : str or None
        Name of the line [-].
    cast_m, cast_sd_m : float or None
        Cast from rod tip to lure and its spread [m].
    tip_m : float or None
        Height of the rod tip [m].
    speed_m_s : float or None
        Line taken in per second, or speed through the water for a pull [m s-1].
    time_s, time_sd_s : float or None
        Time to the first touch and its spread [s].
    pull_n : float or None
        Pull [N].
    casts : int
        Casts on which it was seen [-].
    off_true : {"left", "right"} or None
        Side to which the lure runs [-].
    note : str
        Anything else [-].
    row : int or None
        Line in the file [-].
    """

    day: date
    lure: str
    kind: Kind
    depth_m: float | None = None
    depth_sd_m: float | None = None
    line: str | None = None
    cast_m: float | None = None
    cast_sd_m: float | None = None
    tip_m: float | None = None
    speed_m_s: float | None = None
    time_s: float | None = None
    time_sd_s: float | None = None
    pull_n: float | None = None
    casts: int = 1
    off_true: Literal["left", "right"] | None = None
    note: str = ""
    row: int | None = None


def parse_observation(cells: dict[str, str], source: str, row: int | None = None) -> Observation:
    """One observation from its cells as a person writes them.

    Parameters
    ----------
    cells : dict of str to str
        Text by column; empty and missing cells are the same [-].
    source : str
        File or command it came from, for messages [-].
    row : int or None
        Line in the file [-].

    Raises
    ------
    LogError
        A column is unknown, a needed one is empty, or a value cannot be read.
    """
    given = {key: value.strip() for key, value in cells.items() if value and value.strip()}

    def refuse(problem: str, column: str, remedy: str) -> LogError:
        return LogError(problem, Where(source, row, column), remedy)

    for key in given:
        if key not in COLUMNS:
            remedy = suggestion(key, list(COLUMNS), "column")
            raise refuse(f"unknown column '{key[:40]}'", key[:40], remedy)
    for key in ("date", "lure", "kind"):
        if key not in given:
            raise refuse(f"'{key}' is empty", key, _fill(key))
    word = " ".join(given["kind"].casefold().replace("-", " ").replace("_", " ").split())
    kind = next((known for known in KINDS if known == word), None)
    if kind is None:
        remedy = suggestion(word, KINDS, "kind")
        raise refuse(f"unknown kind '{given['kind'][:40]}'", "kind", remedy)
    for key in NEEDED[kind]:
        if key not in given:
            raise refuse(f"'{kind}' needs '{key}'", key, _fill(key))
    try:
        return _read_values(given, kind, source, row)
    except LogError:
        raise
    except InputError as error:
        raise LogError(error.problem, error.where, error.remedy) from None


def _fill(column: str) -> str:
    about = COLUMNS[column]
    return f"Fill it: {about[:1].lower()}{about[1:]}"


def _read_values(given: dict[str, str], kind: Kind, source: str, row: int | None) -> Observation:
    def at(column: str) -> Where:
        return Where(source, row, column)

    def spread(column: str, dimension: Dimension) -> tuple[float | None, float | None]:
        if column not in given:
            return None, None
        return parse_spread(given[column], dimension, at(column))

    def one(column: str, parse: Callable[[object, Where], float]) -> float | None:
        return parse(given[column], at(column)) if column in given else None

    try:
        day = date.fromisoformat(given["date"])
    except ValueError:
        raise LogError(
            f"'{given['date'][:40]}' is not a date", at("date"), "Write it like 2026-06-21"
        ) from None
    casts = given.get("casts", "1")
    if not (casts.isascii() and casts.isdigit() and len(casts) <= 4 and 1 <= int(casts) <= 1000):
        raise LogError(f"'{casts[:20]}' is not a number of casts", at("casts"), "Write 1 to 1000")
    off_true = given.get("off_true", "").casefold() or None
    if off_true not in (None, "left", "right"):
        raise LogError(f"'{off_true[:20]}' is no side", at("off_true"), "Write left or right")
    depth_m, depth_sd_m = spread("depth", LENGTH)
    cast_m, cast_sd_m = spread("cast", LENGTH)
    time_s, time_sd_s = spread("time", TIME)
    found = Observation(
        day=day, lure=given["lure"], kind=kind, depth_m=depth_m, depth_sd_m=depth_sd_m,
        line=given.get("line"), cast_m=cast_m, cast_sd_m=cast_sd_m,
        tip_m=one("tip", parse_length_m), speed_m_s=one("speed", parse_speed_m_s),
        time_s=time_s, time_sd_s=time_sd_s, pull_n=one("pull", parse_force_n),
        casts=int(casts), off_true=off_true, note=given.get("note", ""), row=row,  # type: ignore[arg-type]
    )  # fmt: skip
    for column, field, low, high in _POSSIBLE:
        value = getattr(found, field)
        if value is not None and not low <= value <= high:
            problem = f"{column} '{given[column][:40]}' is beyond what can be"
            raise LogError(problem, at(column), "Check the number and its unit")
    return found
