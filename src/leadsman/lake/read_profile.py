"""Temperature and oxygen profiles from a table of text."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import numpy as np

from leadsman.dimensions import FOOT_M
from leadsman.errors import LakeDataError, Where
from leadsman.lake.csv_layout import split_line
from leadsman.lake.file_guard import read_text
from leadsman.lake.profile_layout import ProfileLayout, find_profile_layout
from leadsman.lake.soundings import DEEPEST_LAKE_M
from leadsman.lake.water_column import FloatArray, WaterProfile, saturation_mg_l

MAX_FILE_BYTES = 64 * 1024 * 1024
MAX_LINES = 500_000
"""Largest table of readings taken [byte, -]; choices of ours, some ten thousand profiles."""
ZERO_ERROR_MG_L = 0.5
"""Oxygen below zero that a probe may show in water without any [mg L-1], own choice."""
SPLASH_M = 0.3
"""Depth above the surface that a probe may show at the start of a cast [m], own choice."""
MOST_OXYGEN_MG_L = 25.0
"""Above any lake's oxygen [mg L-1]: twice saturation at 8 degC; own choice."""
_MISSING = {"", "na", "nan", "n/a", "null", "none", "-", "--", "."}


@dataclass(frozen=True, slots=True)
class ProfileTable:
    """The profiles of a file and what was found while reading it.

    Parameters
    ----------
    profiles : tuple of WaterProfile
        Profiles, in order of their days [-].
    said : tuple of str
        Columns, units, and what was left out, each a sentence [-].
    source : str
        File name [-].
    """

    profiles: tuple[WaterProfile, ...]
    said: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class _Reading:
    """One line of the table, in the table's own units."""

    line: int
    depth: float
    temperature: float
    oxygen: float
    day: str
    place: str


def read_profiles(
    path: Path, place: str | None = None, depth_unit: str | None = None
) -> ProfileTable:
    """Read a table of readings.

    Parameters
    ----------
    path : pathlib.Path
        Text table with depth, temperature and, if known, oxygen and date [-].
    place : str or None
        Which lake or station, where the table has several [-].
    depth_unit : str or None
        ``"m"`` or ``"ft"`` where the table is silent or wrong; None finds it [-].

    Raises
    ------
    LakeDataError
        It is no such table, or its readings cannot be those of a lake.
    """
    source = path.name
    lines = read_text(path, MAX_FILE_BYTES).splitlines()
    if len(lines) > MAX_LINES:
        raise LakeDataError(f"has more than {MAX_LINES:,} lines", source, "Keep the days you need")
    rows = [
        (i + 1, line)
        for i, line in enumerate(lines)
        if line.strip() and line.lstrip()[0] not in "#"
    ]
    if not rows:
        raise LakeDataError("holds no readings", source)
    layout = find_profile_layout([line[:10_000] for _, line in rows[:60]], source)
    if depth_unit is not None:
        layout = replace(layout, depth_unit=depth_unit)
    readings, missing = _readings(rows[layout.skip :], layout, source)
    readings = _of_place(readings, place, source)
    if not readings:
        raise LakeDataError("no line holds both a depth and a temperature", source)
    said = [_columns_sentence(layout)]
    if missing:
        said.append(f"{missing} lines without depth or temperature are left out")
    depth = _depths([r.depth for r in readings], readings, layout, source, said)
    celsius = _celsius(np.array([r.temperature for r in readings]), layout, source, said)
    oxygen = _oxygen(np.array([r.oxygen for r in readings]), celsius, layout, source, said)
    days = _days([r.day for r in readings], [r.line for r in readings], source, said)
    profiles = _profiles(depth, celsius, oxygen, days, source)
    return ProfileTable(profiles, tuple(said), source)


def choose_profile(table: ProfileTable, day: date | None, most_days: int = 45) -> WaterProfile:
    """The profile read nearest to a day.

    Parameters
    ----------
    table : ProfileTable
        The profiles [-].
    day : datetime.date or None
        Day wanted; None takes the only one [-].
    most_days : int
        Days after which a profile says nothing of the day [day].

    Raises
    ------
    LakeDataError
        There are several and no day is named, or none is near it.
    """
    profiles = table.profiles
    dated = [(p.day, p) for p in profiles if p.day is not None]
    if not dated:
        return profiles[0]
    first, last = dated[0][0], dated[-1][0]
    if day is None:
        if len(profiles) > 1:
            raise LakeDataError(
                f"has {len(profiles)} profiles from {first} to {last}", table.source, "Name the day"
            )
        return profiles[0]
    near_day, near = min(dated, key=lambda item: abs((item[0] - day).days))
    if abs((near_day - day).days) > most_days:
        raise LakeDataError(
            f"the profile nearest to {day} was read on {near_day}, more than {most_days} days off",
            table.source,
            "Give a profile of the season, or none for a guess",
        )
    return near


def _number(cell: str, line: int, column: str, source: str) -> float:
    text = cell.strip()
    if text.casefold() in _MISSING:
        return np.nan
    if re.fullmatch(r"[+-]?\d+,\d+", text):
        text = text.replace(",", ".")
    try:
        value = float(text)
    except ValueError:
        raise LakeDataError(
            f"'{cell[:30]}' is not a number",
            Where(source, line, column),
            "Leave the cell empty where nothing was read",
        ) from None
    if not np.isfinite(value) or value <= -99.0:  # -99, -999 and the like mean "not read"
        return np.nan
    return value


def _readings(
    rows: Sequence[tuple[int, str]], layout: ProfileLayout, source: str
) -> tuple[list[_Reading], int]:
    found: list[_Reading] = []
    missing = 0
    wanted = max(layout.depth, layout.temperature)
    for line, text in rows:
        cells = split_line(text, layout.delimiter)
        if len(cells) <= wanted:
            missing += 1
            continue

        def number(at: int, cells: list[str] = cells, line: int = line) -> float:
            return _number(cells[at], line, layout.column(at), source)

        def words(at: int | None, cells: list[str] = cells) -> str:
            return cells[at] if at is not None and at < len(cells) else ""

        depth, temperature = number(layout.depth), number(layout.temperature)
        oxygen = np.nan
        if layout.oxygen is not None and layout.oxygen < len(cells):
            oxygen = number(layout.oxygen)
        if np.isnan(depth + temperature):
            missing += 1
            continue
        found.append(
            _Reading(line, depth, temperature, oxygen, words(layout.day), words(layout.place))
        )
    return found, missing


def _of_place(readings: list[_Reading], place: str | None, source: str) -> list[_Reading]:
    names = sorted({r.place for r in readings})
    if place is not None:
        kept = [r for r in readings if r.place.casefold() == place.strip().casefold()]
        if not kept:
            raise LakeDataError(
                f"has no readings of '{place[:30]}'", source, f"It has {', '.join(names[:8])}"
            )
        return kept
    if len(names) > 1:
        raise LakeDataError(
            f"has readings of {len(names)} places: {', '.join(n[:20] for n in names[:8])}",
            source,
            "Name one of them",
        )
    return readings


def _columns_sentence(layout: ProfileLayout) -> str:
    parts = [
        f"depth from {layout.column(layout.depth)}",
        f"temperature from {layout.column(layout.temperature)}",
    ]
    parts.append(
        f"oxygen from {layout.column(layout.oxygen)}" if layout.oxygen is not None else "no oxygen"
    )
    return f"Columns: {', '.join(parts)}"


def _depths(
    raw: list[float], readings: list[_Reading], layout: ProfileLayout, source: str, said: list[str]
) -> FloatArray:
    depth = np.array(raw)
    unit = layout.depth_unit
    if unit is None:
        unit = "ft" if layout.temperature_unit == "degF" else "m"
        said.append(f"No unit is named for depth; taken as {unit}")
    else:
        said.append(f"Depth is in {unit}")
    factor = FOOT_M if unit == "ft" else 1.0
    depth = depth * factor
    if np.all(depth <= 0.0) and depth.min() < -SPLASH_M:
        depth = -depth
        said.append("Depths are written as negative numbers and taken as below the surface")
    worst = int(np.argmin(depth))
    if depth[worst] < -SPLASH_M:
        raise LakeDataError(
            f"depth {raw[worst]:g} is above the water",
            Where(source, readings[worst].line, layout.column(layout.depth)),
            "Depths count from the surface down, all with one sign",
        )
    worst = int(np.argmax(depth))
    if depth[worst] > DEEPEST_LAKE_M:
        raise LakeDataError(
            f"depth {raw[worst]:g} is deeper than any lake",
            Where(source, readings[worst].line, layout.column(layout.depth)),
        )
    return np.maximum(depth, 0.0)


def _celsius(raw: FloatArray, layout: ProfileLayout, source: str, said: list[str]) -> FloatArray:
    unit = layout.temperature_unit
    if unit is None:
        unit = "degF" if float(np.max(raw)) > 40.0 else "degC"
        said.append(f"No unit is named for temperature; by its numbers it is {unit}")
    else:
        said.append(f"Temperature is in {unit}")
    celsius = (raw - 32.0) / 1.8 if unit == "degF" else raw
    low, high = float(np.min(celsius)), float(np.max(celsius))
    if low < -0.5 or high > 40.0:
        raise LakeDataError(
            f"temperatures run from {np.min(raw):g} to {np.max(raw):g} {unit}, which no open "
            "water has",
            Where(source, field=layout.column(layout.temperature)),
            "Check the unit and the column",
        )
    return np.maximum(celsius, 0.0)


def _oxygen(
    raw: FloatArray, celsius: FloatArray, layout: ProfileLayout, source: str, said: list[str]
) -> FloatArray | None:
    if layout.oxygen is None or not np.isfinite(raw).any():
        return None
    name = layout.column(layout.oxygen)
    high, low = float(np.nanmax(raw)), float(np.nanmin(raw))
    unit = layout.oxygen_unit
    if unit is None:
        unit = "%" if high > MOST_OXYGEN_MG_L else "mg/L"
        said.append(f"No unit is named for oxygen; by its numbers it is {unit}")
    elif unit == "mg/L" and high > MOST_OXYGEN_MG_L:
        raise LakeDataError(
            f"oxygen reaches {high:g} mg/L, more than any lake holds",
            Where(source, field=name),
            "If it is percent of saturation, say so in the column's name",
        )
    if (unit == "%" and high > 400.0) or low < (-ZERO_ERROR_MG_L if unit == "mg/L" else -5.0):
        raise LakeDataError(
            f"oxygen runs from {low:g} to {high:g} {unit}, which no lake has",
            Where(source, field=name),
            "Check the unit and the probe",
        )
    if low < 0.0:
        said.append(f"Oxygen down to {low:g} {unit} is the probe's zero and taken as 0")
    found = np.maximum(raw, 0.0)
    if unit == "%":
        said.append("Oxygen is in percent of saturation, turned into mg/L as at sea level")
        return found / 100.0 * saturation_mg_l(celsius)
    return found


def _days(
    raw: Sequence[str], lines: Sequence[int], source: str, said: list[str]
) -> list[date | None]:
    heads = [re.split(r"[ T]", text.strip())[0] for text in raw]
    slashed = [re.fullmatch(r"(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})", head) for head in heads]
    day_first = any(m and int(m[1]) > 12 for m in slashed)
    if any(slashed) and not day_first and not any(m and int(m[2]) > 12 for m in slashed):
        said.append("Dates could be day first or month first; taken as month first")
    known: dict[str, date | None] = {"": None}
    for head, m, line in zip(heads, slashed, lines, strict=True):
        if head in known:
            continue
        try:
            if m:
                day, month = (int(m[1]), int(m[2])) if day_first else (int(m[2]), int(m[1]))
                known[head] = date(int(m[3]), month, day)
            else:
                known[head] = date.fromisoformat(head)
        except ValueError:
            raise LakeDataError(
                f"'{head[:30]}' is not a date", Where(source, line), "Write dates as 2024-07-31"
            ) from None
    return [known[head] for head in heads]


def _profiles(
    depth: FloatArray,
    celsius: FloatArray,
    oxygen: FloatArray | None,
    days: list[date | None],
    source: str,
) -> tuple[WaterProfile, ...]:
    """One profile a day; readings at one depth averaged, any order of lines."""
    found: list[WaterProfile] = []
    rows: dict[date | None, list[int]] = {}
    for i, day in enumerate(days):
        rows.setdefault(day, []).append(i)
    for day in sorted(rows, key=lambda d: d or date.min):
        mine = np.array(rows[day])
        at, place = np.unique(depth[mine], return_inverse=True)
        count = np.bincount(place)
        mean = np.bincount(place, celsius[mine]) / count
        breath = None
        if oxygen is not None:
            read = np.isfinite(oxygen[mine])
            total = np.bincount(place[read], oxygen[mine][read], minlength=at.size)
            number = np.bincount(place[read], minlength=at.size)
            breath = np.where(number > 0, total / np.maximum(number, 1), np.nan)
        found.append(WaterProfile(at, mean, breath, day, source))
    return tuple(found)
