"""How deep every lure runs on every line, against cast and rod tip; as CSV.

The CSV has one row for each lure, line, cast and rod tip, with its band. A
name that a spreadsheet would take for a formula is written with a leading
apostrophe, so that a kit from somebody else cannot run anything.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from leadsman.display_units import US, DisplayUnits
from leadsman.output.picture import write_atomically

FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class DepthTable:
    """Greatest free-running depths of a kit, with their 90 % bands.

    Parameters
    ----------
    lures : tuple of str, length a
        Names of the lures [-].
    lines : tuple of str, length b
        Names of the lines [-].
    casts_m : ndarray, shape (c,)
        Casts, tip to lure, rising [m].
    tips_m : ndarray, shape (d,)
        Heights of the rod tip, negative under water [m].
    depth_m, low_m, high_m : ndarray, shape (a, b, c, d)
        Greatest depth and the shallow and deep end of its 90 % band; NaN where
        that lure cannot be cast so far on that line [m].

    Raises
    ------
    ValueError
        Shapes do not fit, a depth lies outside its band, or a name is empty.
    """

    lures: tuple[str, ...]
    lines: tuple[str, ...]
    casts_m: FloatArray
    tips_m: FloatArray
    depth_m: FloatArray
    low_m: FloatArray
    high_m: FloatArray

    def __post_init__(self) -> None:
        shape = (len(self.lures), len(self.lines), self.casts_m.size, self.tips_m.size)
        if 0 in shape:
            raise ValueError("depth table: needs a lure, a line, a cast and a rod tip")
        if not all(name.strip() for name in (*self.lures, *self.lines)):
            raise ValueError("depth table: a name is empty")
        if self.casts_m.ndim != 1 or self.tips_m.ndim != 1:
            raise ValueError("depth table: casts and tips are plain lists")
        if not (np.all(np.isfinite(self.casts_m)) and np.all(np.isfinite(self.tips_m))):
            raise ValueError("depth table: a cast or a rod tip is not a number")
        if np.any(np.diff(self.casts_m) <= 0.0):
            raise ValueError("depth table: casts must rise")
        columns = (self.depth_m, self.low_m, self.high_m)
        if any(column.shape != shape for column in columns):
            raise ValueError("depth table: depths do not fit lures, lines, casts and tips")
        known = np.isfinite(self.depth_m)
        if any(np.any(np.isfinite(column) != known) for column in columns):
            raise ValueError("depth table: a depth lacks its band")
        if np.any((self.low_m > self.depth_m) | (self.depth_m > self.high_m)):
            raise ValueError("depth table: a depth lies outside its band")


def depth_table_rows(table: DepthTable, units: DisplayUnits = US) -> Iterator[list[str]]:
    """Rows of the CSV, headings first.

    Parameters
    ----------
    table : DepthTable
        The table [-].
    units : DisplayUnits
        Units to write; they are in the headings [-].

    Yields
    ------
    list of str
        One row; cells are empty where a cast cannot be made [-].
    """
    depth, distance = units.depth, units.distance
    yield [
        "lure",
        "line",
        f"cast_{distance.unit}",
        f"rod_tip_{depth.unit}",
        f"depth_{depth.unit}",
        f"depth_low_90_{depth.unit}",
        f"depth_high_90_{depth.unit}",
    ]
    for i, lure in enumerate(table.lures):
        for j, line in enumerate(table.lines):
            for k, cast_m in enumerate(table.casts_m):
                for n, tip_m in enumerate(table.tips_m):
                    found = (table.depth_m, table.low_m, table.high_m)
                    cells = [float(column[i, j, k, n]) for column in found]
                    yield [
                        _plain(lure),
                        _plain(line),
                        f"{distance.value(float(cast_m)):.1f}",
                        f"{depth.value(float(tip_m)):.1f}",
                        *("" if np.isnan(c) else f"{depth.value(c):.2f}" for c in cells),
                    ]


def write_depth_table_csv(table: DepthTable, path: str | Path, units: DisplayUnits = US) -> Path:
    """Write the table as CSV (RFC 4180, UTF-8), whole or not at all.

    Parameters
    ----------
    table : DepthTable
        The table [-].
    path : str or pathlib.Path
        Where to [-].
    units : DisplayUnits
        Units to write; they are in the headings [-].

    Returns
    -------
    pathlib.Path
        The file written [-].

    Raises
    ------
    InputError
        The file cannot be written.
    """
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows(depth_table_rows(table, units))
    target = Path(path)
    write_atomically(target, text.getvalue().encode("utf-8"))
    return target


def _plain(name: str) -> str:
    return f"'{name}" if name[:1] in "=+-@\t\r" else name
