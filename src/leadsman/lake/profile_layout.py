"""Which column of a table of readings is depth, temperature, oxygen and date, and in what unit."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from leadsman.errors import LakeDataError, Where
from leadsman.lake.csv_layout import is_number, split_line

DEPTH_NAMES = ("depth", "z", "waterdepth", "sampledepth", "dep", "tiefe", "profondeur")
TEMPERATURE_NAMES = (
    "wtemp", "watertemperature", "watertemp", "temperature", "temp", "t", "wtr",
)  # fmt: skip
OXYGEN_NAMES = (
    "doraw", "do", "dissolvedoxygen", "oxygen", "o2", "domgl", "odo", "rdo", "domg", "oxy",
)  # fmt: skip
SATURATION_NAMES = (
    "dosat",
    "odosat",
    "dosaturation",
    "oxygensaturation",
    "saturation",
    "dopercent",
)
DATE_NAMES = ("sampledate", "date", "datetime", "timestamp", "time", "day")
PLACE_NAMES = ("lakeid", "lake", "lakename", "site", "siteid", "station", "location", "sta")

_UNIT_WORDS = {
    "m": "m", "meter": "m", "meters": "m", "metre": "m", "metres": "m",
    "ft": "ft", "foot": "ft", "feet": "ft",
    "c": "degC", "degc": "degC", "celsius": "degC",
    "f": "degF", "degf": "degF", "fahrenheit": "degF",
    "mgl": "mg/L", "mg/l": "mg/L", "ppm": "mg/L", "sat": "%", "%": "%", "percent": "%", "pct": "%",
}  # fmt: skip
_UNITS_OF = {"depth": ("m", "ft"), "temperature": ("degC", "degF"), "oxygen": ("mg/L", "%")}


@dataclass(frozen=True, slots=True)
class ProfileLayout:
    """Where things are in a table of readings.

    Parameters
    ----------
    delimiter : str
        Character between cells; a blank means any white space [-].
    header : tuple of str or None
        Column names; None for a table without them [-].
    depth, temperature : int
        Column numbers from 0 [-].
    oxygen, day, place : int or None
        Column numbers from 0, None where there is none [-].
    depth_unit, temperature_unit, oxygen_unit : str or None
        Units named in the table, None where it is silent [-].
    skip : int
        Lines before the first reading [-].
    """

    delimiter: str
    header: tuple[str, ...] | None
    depth: int
    temperature: int
    oxygen: int | None
    day: int | None
    place: int | None
    depth_unit: str | None
    temperature_unit: str | None
    oxygen_unit: str | None
    skip: int

    def column(self, index: int) -> str:
        """Name of a column as the user knows it."""
        return f"'{self.header[index]}'" if self.header else f"column {index + 1}"


def find_profile_layout(lines: Sequence[str], source: str) -> ProfileLayout:
    """Layout of a table of readings from its first lines.

    Parameters
    ----------
    lines : sequence of str
        The first lines that hold something [-].
    source : str
        File name [-].

    Raises
    ------
    LakeDataError
        Depth and temperature cannot be told.
    """
    mark = _delimiter(lines, source)
    rows = [split_line(line, mark) for line in lines]
    if sum(is_number(cell) for cell in rows[0]) >= 2 and not any(
        re.match(r"[A-Za-z]", cell) for cell in rows[0]
    ):
        return _without_header(rows[0], mark, source)
    header = tuple(rows[0])
    taken: set[int] = set()
    depth = _find(header, DEPTH_NAMES, taken)
    temperature = _find(header, TEMPERATURE_NAMES, taken)
    if depth is None or temperature is None:
        missing = " or ".join(
            name for name, at in (("depth", depth), ("temperature", temperature)) if at is None
        )
        raise LakeDataError(
            f"no column for {missing} among {', '.join(name[:20] for name in header[:12])}",
            Where(source, 1),
            "Name the columns depth, temperature and oxygen, with their units",
        )
    oxygen = _find(header, OXYGEN_NAMES, taken)
    if oxygen is None:
        oxygen = _find(header, SATURATION_NAMES, taken)
    day = _find(header, DATE_NAMES, taken)
    place = _find(header, PLACE_NAMES, taken)
    second = rows[1] if len(rows) > 1 else []
    wanted = [at for at in (depth, temperature) if at < len(second)]
    unit_row = len(wanted) == 2 and all(
        _unit(second[at], what) is not None
        for at, what in ((depth, "depth"), (temperature, "temperature"))
    )

    def unit(at: int | None, what: str) -> str | None:
        if at is None:
            return None
        below = _unit(second[at], what) if unit_row and at < len(second) else None
        return below or _unit(header[at], what)

    return ProfileLayout(
        mark, header, depth, temperature, oxygen, day, place,
        unit(depth, "depth"), unit(temperature, "temperature"), unit(oxygen, "oxygen"),
        2 if unit_row else 1,
    )  # fmt: skip


def _without_header(first: Sequence[str], mark: str, source: str) -> ProfileLayout:
    if len(first) > 3:
        raise LakeDataError(
            f"has {len(first)} columns and no names",
            Where(source, 1),
            "Add a first line that names depth, temperature and oxygen",
        )
    oxygen = 2 if len(first) == 3 else None
    return ProfileLayout(mark, None, 0, 1, oxygen, None, None, None, None, None, 0)


def _delimiter(lines: Sequence[str], source: str) -> str:
    best, best_score = "", 0.0
    for mark in (";", "\t", ",", " "):
        widths = [len(split_line(line, mark)) for line in lines]
        common = max(set(widths), key=widths.count)
        score = widths.count(common) / len(widths)
        if common >= 2 and score > best_score + 0.05:
            best, best_score = mark, score
    if not best:
        raise LakeDataError(
            "holds no table of at least two columns",
            source,
            "Give depth and temperature on each line, with oxygen where you have it",
        )
    return best


def _find(header: Sequence[str], names: Sequence[str], taken: set[int]) -> int | None:
    plain = [re.sub(r"[^a-z0-9]", "", re.sub(r"[\[(].*?[\])]", "", h.casefold())) for h in header]
    bare = [
        re.sub(r"(mgl|degc|degf|celsius|fahrenheit|meters|metres|feet|ft|m|c|f)$", "", p)
        for p in plain
    ]
    for words in (plain, bare):
        for wanted in names:
            for index, word in enumerate(words):
                if word == wanted and index not in taken:
                    taken.add(index)
                    return index
    return None


def _unit(text: str, what: str) -> str | None:
    """Unit of a kind of reading that a cell mentions, such as ``Temp (°F)`` or ``do_mgl``."""
    folded = text.casefold().replace("°", "deg").replace("mg/l", "mgl").replace("%", " percent ")
    words = [word for word in re.split(r"[^a-z]+", folded) if word]
    for word in reversed(words):
        unit = _UNIT_WORDS.get(word)
        if unit in _UNITS_OF[what]:
            return unit
    if what == "oxygen" and "mgl" in folded:
        return "mg/L"
    return None
