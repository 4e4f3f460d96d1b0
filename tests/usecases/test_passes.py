"""From a question to passes, on the demo lake with the demo kit."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from gpx_schema import SCHEMA

from leadsman.dimensions import FOOT_M
from leadsman.errors import InputError, PlanError, TechniqueError
from leadsman.lake.demo_lake import FRAME, true_depth_m
from leadsman.lake.model_file import save_model
from leadsman.usecases.documents.passes import passes_document
from leadsman.usecases.passes import PassesAnswer, PassesQuestion, compass_wind, find_passes
from leadsman.usecases.passes_files import (
    draw_passes,
    picture_paths,
    write_passes_geojson,
    write_passes_gpx,
)
from leadsman.usecases.questions import SetupQuestion


@pytest.fixture(scope="module")
def lake(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo lake from its formula, as a bottom file."""
    from leadsman.lake.bottom_model import BottomModel
    from leadsman.lake.lattice import Lattice

    lattice = Lattice(FRAME, -1100.0, -520.0, 5.0, 441, 209)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    depth = true_depth_m(x, y)
    known = depth > 0.2
    path = tmp_path_factory.mktemp("lake") / "demo.bottom"
    model = BottomModel(
        "demo", lattice, np.where(known, depth, np.nan).astype(np.float32),
        np.where(known, 0.15, np.nan).astype(np.float32),
    )  # fmt: skip
    save_model(model, path)
    return path


def ask(lake: Path, **more: object) -> PassesQuestion:
    base: dict[str, object] = {
        "edge_depth_m": 13.0 * FOOT_M, "lake": str(lake), "boat": "hold", "minutes": 15.0,
        "setup": SetupQuestion(lure="long-lip-17", line="fluoro-12"),
        "tips": ("low",), "stretch_m": 150.0,
    }  # fmt: skip
    return PassesQuestion(**(base | more))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def answer(lake: Path) -> PassesAnswer:
    return find_passes(ask(lake, count=2))


def test_plans_the_best_rate_first(answer: PassesAnswer) -> None:
    assert len(answer.plans) == 2
    rates = [plan.zone_per_hour_m for plan in answer.plans]
    assert rates == sorted(rates, reverse=True)
    assert answer.headline == answer.plans[0].headline
    assert all(plan.minutes <= 15.0 for plan in answer.plans)


def test_boats_float_on_the_true_lake_outside_the_edge(answer: PassesAnswer) -> None:
    for plan in answer.plans:
        x = np.array([stop.x_m for stop in plan.stops])
        y = np.array([stop.y_m for stop in plan.stops])
        assert np.all(true_depth_m(x, y) > 13.0 * FOOT_M - 0.3)


def test_near_a_place(lake: Path) -> None:
    lon, lat = FRAME.to_lonlat(0.0, -440.0)
    near = (float(lat), float(lon))
    plan = find_passes(ask(lake, near_deg=near)).plans[0]
    middle = plan.stretch.x_m.size // 2
    assert abs(plan.stretch.x_m[middle]) < 200.0
    with pytest.raises(PlanError, match="lies near that place"):
        find_passes(ask(lake, near_deg=(46.0, -90.0)))


def test_no_such_depth_and_no_lure_that_reaches(lake: Path) -> None:
    with pytest.raises(InputError):
        find_passes(ask(lake, edge_depth_m=90.0 * FOOT_M))
    with pytest.raises(PlanError, match="nearest is"):
        find_passes(ask(lake, edge_depth_m=34.0 * FOOT_M))


def test_files(answer: PassesAnswer, tmp_path: Path) -> None:
    drawn = draw_passes(answer, tmp_path / "pass.svg")
    assert [p.name for p in drawn] == ["pass.svg", "pass-2.svg"]
    assert all(path.stat().st_size > 1000 for path in drawn)
    write_passes_gpx(answer, tmp_path / "pass.gpx")
    assert "<wpt " in (tmp_path / "pass.gpx").read_text(encoding="utf-8")
    pytest.importorskip("xmlschema").XMLSchema(SCHEMA).validate(str(tmp_path / "pass.gpx"))
    write_passes_geojson(answer, tmp_path / "pass.geojson")
    assert json.loads((tmp_path / "pass.geojson").read_text(encoding="utf-8"))["features"]


def test_picture_names() -> None:
    assert [p.name for p in picture_paths(Path("a.png"), 3)] == ["a.png", "a-2.png", "a-3.png"]


def test_document_is_complete(answer: PassesAnswer) -> None:
    document = json.loads(passes_document(answer).model_dump_json(by_alias=True))
    assert document["schema"] == "leadsman.passes/1"
    assert len(document["passes"]) == 2
    first = document["passes"][0]
    assert first["stops"][0]["casts"]
    assert first["covered_m"] == pytest.approx(answer.plans[0].covered_m)


def test_wind_by_compass_only() -> None:
    speed, bearing = compass_wind("10 mph from NW")
    assert speed == pytest.approx(4.4704)
    assert bearing == pytest.approx(315.0)
    with pytest.raises(TechniqueError):
        compass_wind("10 mph from ahead")
