"""One row of the observations file."""

from __future__ import annotations

from datetime import date

import pytest

from leadsman.errors import LogError
from leadsman.kitfile.observation import COLUMNS, KINDS, NEEDED, parse_observation

GOOD = {
    "date": "2026-06-21", "lure": "long-thin-lip-20", "kind": "ticked", "depth": "17 +- 0.5 ft",
    "line": "fluoro-10", "cast": "60 +- 1 yd", "tip": "-1 ft", "speed": "4 ft/s",
}  # fmt: skip


def test_values_arrive_in_si() -> None:
    row = parse_observation(GOOD, "observations.csv", 3)
    assert row.day == date(2026, 6, 21) and row.kind == "ticked" and row.row == 3
    assert (row.depth_m, row.depth_sd_m) == pytest.approx((17 * 0.3048, 0.1524))
    assert (row.cast_m, row.cast_sd_m) == pytest.approx((54.864, 0.9144))
    assert row.tip_m == pytest.approx(-0.3048) and row.speed_m_s == pytest.approx(1.2192)
    assert row.casts == 1 and row.off_true is None


@pytest.mark.parametrize("spelled", ["did not reach", "did-not-reach", "Did_Not_Reach"])
def test_kinds_are_forgiving_of_spelling(spelled: str) -> None:
    assert parse_observation({**GOOD, "kind": spelled}, "x").kind == "did not reach"


def test_every_kind_has_its_needs() -> None:
    assert set(NEEDED) == set(KINDS)
    for needs in NEEDED.values():
        assert set(needs) <= set(COLUMNS)


@pytest.mark.parametrize(
    ("changes", "column", "says"),
    [
        ({"date": "21/6/2026"}, "date", "not a date"),
        ({"date": ""}, "date", "is empty"),
        ({"lure": " "}, "lure", "is empty"),
        ({"kind": "tikced"}, "kind", "Perhaps 'ticked'"),
        ({"depth": "17"}, "depth", "no unit"),
        ({"depth": "17 lb"}, "depth", "is a mass"),
        ({"depth": "170 ft"}, "depth", "beyond what can be"),
        ({"depth": "nan ft"}, "depth", "number"),
        ({"depth": ""}, "depth", "needs 'depth'"),
        ({"line": ""}, "line", "needs 'line'"),
        ({"cast": "60 miles"}, "cast", "beyond what can be"),
        ({"cast": "60 +- 60 miles"}, "cast", "beyond what can be"),
        ({"tip": "20 ft"}, "tip", "beyond what can be"),
        ({"speed": "80 mph"}, "speed", "beyond what can be"),
        ({"casts": "0"}, "casts", "not a number of casts"),
        ({"casts": "²"}, "casts", "not a number of casts"),
        ({"casts": "99999999"}, "casts", "not a number of casts"),
        ({"off_true": "up"}, "off_true", "left or right"),
        ({"dept": "3 ft"}, "dept", "Perhaps 'depth'"),
        ({"kind": "time to bottom"}, "time", "needs 'time'"),
        ({"kind": "time to bottom", "time": "2 h"}, "time", "beyond what can be"),
        ({"kind": "pull"}, "pull", "needs 'pull'"),
        ({"kind": "pull", "pull": "1000 lb"}, "pull", "beyond what can be"),
    ],
)
def test_mistakes(changes: dict[str, str], column: str, says: str) -> None:
    with pytest.raises(LogError) as caught:
        parse_observation({**GOOD, **changes}, "observations.csv", 7)
    assert says in caught.value.message
    where = caught.value.where
    assert (where.source, where.line, where.field) == ("observations.csv", 7, column)
