"""The depth table as CSV: read back by the standard library, safe in a spreadsheet."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from leadsman.display_units import METRIC
from leadsman.errors import InputError
from leadsman.output.depth_table import DepthTable, write_depth_table_csv


def make(lures: tuple[str, ...] = ("Long lip", "Square lip")) -> DepthTable:
    casts, tips = np.array([36.576, 54.864]), np.array([-0.9144, 0.6096])
    depth = np.linspace(1.0, 6.0, len(lures) * 2 * 2 * 2).reshape(len(lures), 2, 2, 2)
    if lures:
        depth[0, 0, 1, :] = np.nan
    return DepthTable(lures, ("10 lb nylon", "12 lb"), casts, tips, depth, 0.9 * depth, 1.1 * depth)


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_lure_line_cast_and_tip_has_a_row(tmp_path: Path) -> None:
    table = make()
    rows = read(write_depth_table_csv(table, tmp_path / "t.csv"))
    assert len(rows) == 2 * 2 * 2 * 2
    first = rows[0]
    assert (first["lure"], first["line"]) == ("Long lip", "10 lb nylon")
    # The international foot and yard are exact.
    assert float(first["cast_yd"]) == pytest.approx(36.576 / 0.9144)
    assert float(first["rod_tip_ft"]) == pytest.approx(-3.0)
    assert float(first["depth_ft"]) == pytest.approx(1.0 / 0.3048, abs=0.006)
    assert float(first["depth_low_90_ft"]) < float(first["depth_ft"])
    assert float(first["depth_high_90_ft"]) > float(first["depth_ft"])


def test_a_cast_that_cannot_be_made_is_empty(tmp_path: Path) -> None:
    rows = read(write_depth_table_csv(make(), tmp_path / "t.csv"))
    empty = [row for row in rows if row["depth_ft"] == ""]
    assert len(empty) == 2
    assert all(row["depth_low_90_ft"] == row["depth_high_90_ft"] == "" for row in empty)


def test_metric_headings_say_so(tmp_path: Path) -> None:
    rows = read(write_depth_table_csv(make(), tmp_path / "t.csv", METRIC))
    assert float(rows[0]["cast_m"]) == pytest.approx(36.6)
    assert "depth_m" in rows[0]


def test_names_with_commas_quotes_and_formulas_survive(tmp_path: Path) -> None:
    names = ('"Big", the red one', '=HYPERLINK("x")')
    rows = read(write_depth_table_csv(make(names), tmp_path / "t.csv"))
    found = {row["lure"] for row in rows}
    assert found == {names[0], "'" + names[1]}


def test_a_missing_folder_is_said(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        write_depth_table_csv(make(), tmp_path / "no" / "t.csv")


def test_tables_must_fit_together() -> None:
    good = make()
    with pytest.raises(ValueError, match="do not fit"):
        DepthTable(
            good.lures,
            good.lines,
            good.casts_m,
            good.tips_m,
            good.depth_m[:1],
            good.low_m,
            good.high_m,
        )
    with pytest.raises(ValueError, match="outside its band"):
        DepthTable(
            good.lures,
            good.lines,
            good.casts_m,
            good.tips_m,
            good.depth_m,
            good.high_m,
            good.high_m,
        )
    with pytest.raises(ValueError, match="lacks its band"):
        DepthTable(
            good.lures,
            good.lines,
            good.casts_m,
            good.tips_m,
            good.depth_m,
            np.full_like(good.low_m, np.nan),
            good.high_m,
        )
    with pytest.raises(ValueError, match="must rise"):
        DepthTable(
            good.lures,
            good.lines,
            good.casts_m[::-1].copy(),
            good.tips_m,
            good.depth_m,
            good.low_m,
            good.high_m,
        )
    with pytest.raises(ValueError, match="empty"):
        make(("", "a"))
    with pytest.raises(ValueError, match="needs a lure"):
        make(())
