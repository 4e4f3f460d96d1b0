"""The folder of a plan, and a new plan on the water from it."""

from __future__ import annotations

import csv
import json
import shutil
import time
from pathlib import Path

import pytest
from defusedxml import ElementTree
from gpx_schema import SCHEMA

from leadsman.errors import InputError, PlanError
from leadsman.kitfile.trip_words import clock_text
from leadsman.output.gpx import GPX_NAMESPACE
from leadsman.output.plan_card import plan_card_pdf
from leadsman.usecases.plan_files import check_folder, read_plan, write_plan
from leadsman.usecases.plan_text import report_text
from leadsman.usecases.plan_types import PlanAnswer
from leadsman.usecases.plan_views import overview, plan_card
from leadsman.usecases.replan import ReplanQuestion, find_stretch, replan

NS = f"{{{GPX_NAMESPACE}}}"
# Sequences of the GPX 1.1 schema (topografix.com/GPX/1/1/gpx.xsd), from memory.
ORDER = {
    "gpx": ["metadata", "wpt", "rte", "trk", "extensions"],
    "metadata": ["name", "desc", "author", "copyright", "link", "time", "keywords"],
    "wpt": ["ele", "time", "name", "cmt", "desc", "src", "link", "sym", "type", "extensions"],
    "rte": ["name", "cmt", "desc", "src", "link", "number", "type", "extensions", "rtept"],
    "trk": ["name", "cmt", "desc", "src", "link", "number", "type", "extensions", "trkseg"],
}


def test_everything_is_there_and_nothing_else(plan_folder: Path, day_plan: PlanAnswer) -> None:
    names = {path.name for path in plan_folder.iterdir()}
    assert {
        "report.md", "card.pdf", "map.png", "plan.gpx", "plan.geojson", "plan.json",
        "depths.csv", "depths.png",
    } <= names  # fmt: skip
    made = sum(stop.passes is not None for stop in day_plan.stops)
    assert sum(name.startswith("pass-") for name in names) == made
    assert not [name for name in names if name.startswith(".") or name.endswith(".tmp")]
    assert [p.name for p in plan_folder.parent.iterdir()] == [plan_folder.name]


def test_gpx_stands_in_the_schemas_order(plan_folder: Path, day_plan: PlanAnswer) -> None:
    xmlschema = pytest.importorskip("xmlschema")
    xmlschema.XMLSchema(SCHEMA).validate(str(plan_folder / "plan.gpx"))
    root = ElementTree.fromstring((plan_folder / "plan.gpx").read_bytes())

    def check(element) -> None:
        name = element.tag.removeprefix(NS)
        if name in ORDER:
            places = [ORDER[name].index(child.tag.removeprefix(NS)) for child in element]
            assert places == sorted(places)
            for child in element:
                check(child)

    check(root)
    points = [p.findtext(f"{NS}name") for p in root.findall(f"{NS}wpt")]
    assert points[0] == "north ramp"
    assert {str(stop.number) for stop in day_plan.stops} <= set(points)
    day = root.find(f"{NS}rte")
    assert day.findtext(f"{NS}name") == "Day"
    assert root.find(f".//{NS}ele") is None  # depth is no elevation
    for point in root.iter():
        if "lat" in point.attrib:
            assert 44.9 < float(point.attrib["lat"]) < 45.1
            assert -90.1 < float(point.attrib["lon"]) < -89.9


def test_geojson_and_depths_read_back(plan_folder: Path, day_plan: PlanAnswer) -> None:
    shapes = json.loads((plan_folder / "plan.geojson").read_text("utf-8"))
    assert "crs" not in shapes  # RFC 7946
    kinds = {f["properties"]["what"] for f in shapes["features"]}
    assert {"stretch of the day", "way", "boat", "cast"} <= kinds
    rows = list(csv.reader((plan_folder / "depths.csv").open(encoding="utf-8")))
    text = " ".join(" ".join(row) for row in rows)
    for served in day_plan.served:
        assert served.lure.name in text


def test_the_card_is_one_sheet_and_says_when_to_stop(day_plan: PlanAnswer) -> None:
    card = plan_card(day_plan)
    pdf = plan_card_pdf(card)
    assert pdf.startswith(b"%PDF")
    assert pdf.count(b"/Type /Page\n") + pdf.count(b"/Type /Page ") in (1, 2)
    assert card.stop is not None
    assert f"{card.stop:%H:%M}" == clock_text(day_plan.stops[-1].leave_s)
    assert "back by 09:00" in card.stop_note
    assert len(card.passes) == len(day_plan.stops)
    assert [p.start for p in card.passes] == sorted(p.start for p in card.passes)
    assert any("Not for navigation" in words for words in card.cautions)


def test_the_map_numbers_the_order(day_plan: PlanAnswer) -> None:
    view = overview(day_plan)
    assert [s.rank for s in view.stretches] == list(range(1, len(day_plan.stops) + 1))
    assert view.stretch_words == "stretch, in order"
    assert view.route is not None
    ends = [(view.route.x_m[i], view.route.y_m[i]) for i in (0, -1)]
    for x, y in ends:
        ramp = day_plan.found.here_m
        assert abs(x - ramp[0]) + abs(y - ramp[1]) < 200.0


def test_the_report_says_proof_sources_and_assumptions(day_plan: PlanAnswer) -> None:
    text = report_text(day_plan)
    assert day_plan.headline in text
    assert "proved best" in text and "taking the best one at a time" in text
    assert "common practice" in text and "own assumption" in text
    assert "Not for navigation" in text
    for stop in day_plan.stops:
        assert stop.stretch.name in text


def test_a_folder_of_something_else_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "fish.jpg").write_bytes(b"x")
    with pytest.raises(InputError, match="no plan"):
        check_folder(tmp_path / "photos")
    with pytest.raises(InputError, match="not there"):
        check_folder(tmp_path / "a" / "b")
    with pytest.raises(InputError, match="not a folder"):
        check_folder(tmp_path / "photos" / "fish.jpg")
    assert (tmp_path / "photos" / "fish.jpg").read_bytes() == b"x"


def test_an_old_plan_may_be_written_over(
    plan_folder: Path, day_plan: PlanAnswer, tmp_path: Path
) -> None:
    mine = tmp_path / "again"
    shutil.copytree(plan_folder, mine)
    (mine / "pass-77.png").write_bytes(b"old")
    (mine / "notes.txt").write_text("mine")
    write_plan(day_plan, mine)
    assert not (mine / "pass-77.png").exists()
    assert (mine / "notes.txt").read_text() == "mine"


# -- a new plan on the water -------------------------------------------------------


def test_what_is_gone_stays_gone_and_home_is_reached(
    plan_folder: Path, day_plan: PlanAnswer
) -> None:
    first, second, third = (stop.stretch.name for stop in day_plan.stops[:3])
    start = time.perf_counter()
    found = replan(ReplanQuestion(plan_folder, 6.75 * 3600.0, None, ("1",), ("2",), (third,)))
    assert time.perf_counter() - start < 2.0
    names = [stop.offer.name for stop in found.stops]
    assert names and not {first, second, third} & set(names)
    now = 6.75 * 3600.0
    for stop in found.stops:
        assert stop.arrive_s >= now - 1e-6
        now = stop.leave_s
    hours = day_plan.found.hours
    assert found.order.route.home_s <= hours.deadline_s - hours.reserve_s + 1e-6
    assert found.headline.startswith("Next: ")
    assert "done last" in found.notes[0]


def test_late_in_the_day_it_says_go_home(plan_folder: Path) -> None:
    late = replan(ReplanQuestion(plan_folder, 8.6 * 3600.0, deadline_s=9.0 * 3600.0))
    assert not late.stops and "go home" in late.headline
    with pytest.raises(PlanError, match="Go home"):
        replan(ReplanQuestion(plan_folder, 10.0 * 3600.0))


def test_a_place_changes_what_is_next(plan_folder: Path) -> None:
    west = replan(ReplanQuestion(plan_folder, 6.5 * 3600.0, (45.0, -90.012)))
    east = replan(ReplanQuestion(plan_folder, 6.5 * 3600.0, (45.0, -89.988)))
    assert west.stops[0].lon_deg < east.stops[0].lon_deg


def test_names_that_are_not_there(plan_folder: Path, tmp_path: Path) -> None:
    plan, _, _ = read_plan(plan_folder)
    with pytest.raises(PlanError, match="no stretch"):
        find_stretch(plan, "99", "done")
    with pytest.raises(PlanError, match="several"):
        find_stretch(plan, plan.stops[0].name[:1], "done")
    with pytest.raises(InputError, match="no plan"):
        read_plan(tmp_path)
    broken = tmp_path / "broken"
    shutil.copytree(plan_folder, broken)
    (broken / "plan-water.npz").write_bytes(b"PK junk")
    with pytest.raises(InputError, match="damaged"):
        read_plan(broken)
    (broken / "plan.json").write_text("{}")
    with pytest.raises(InputError, match="damaged"):
        read_plan(broken)
