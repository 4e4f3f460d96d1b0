"""From a computed table of levers to its picture."""

from __future__ import annotations

from leadsman.output.levers_picture import draw_levers
from leadsman.output.levers_view_of import levers_view_of
from leadsman.output.picture import picture_bytes
from leadsman.plan.levers import Lever, LeverPart, LeverTable

TABLE = LeverTable(
    5.0,
    20.0,
    (
        Lever("cast", "10 yd more", 0.40, 8.0, True),
        Lever("buoyancy", "a gram more", -0.001, 0.0, False),
        Lever(
            "material",
            "nylon in its place",
            -0.30,
            -3.0,
            True,
            (LeverPart("diameter", -0.25, -2.5), LeverPart("stretch", -0.05, -0.5)),
        ),
    ),
)


def test_what_matters_is_shown_with_its_parts() -> None:
    view = levers_view_of(TABLE, "h")
    assert [lever.step for lever in view.levers] == [
        "cast: 10 yd more",
        "nylon in its place",
        "of that, diameter",
        "of that, stretch",
    ]
    assert [lever.part for lever in view.levers] == [False, False, True, True]
    parts = sum(lever.depth.value_m for lever in view.levers if lever.part)
    assert abs(parts - view.levers[1].depth.value_m) < 1e-12
    assert view.note.startswith("1 more changed nothing")
    assert b"nylon in its place" in picture_bytes(draw_levers(view), "svg")


def test_without_a_zone_there_is_none() -> None:
    table = LeverTable(5.0, None, (Lever("cast", "10 yd more", 0.40, None, True),))
    assert levers_view_of(table, "h").levers[0].zone is None


def test_when_nothing_matters_all_is_shown() -> None:
    table = LeverTable(5.0, 20.0, TABLE.levers[1:2])
    view = levers_view_of(table, "h")
    assert len(view.levers) == 1
    assert view.note == ""
