"""A whole day: hours, facts of the trade (common practice, no source), impossible wishes."""

from __future__ import annotations

import itertools
import math
import os
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from day_of_plan import KIT, lake, trip

from leadsman.errors import InputError
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.template import demo_kit
from leadsman.kitfile.trip import parse_trip
from leadsman.tackle.line import Line
from leadsman.usecases.plan_day import plan_day
from leadsman.usecases.plan_types import PlanAnswer
from leadsman.usecases.rig import RigQuestion, Target, find_rig

FT, LB = 0.3048, 4.4482216152605
ROOT = Path(__file__).parents[2]
MODEL = lake()


def strength(answer: PlanAnswer, ground: str) -> float:
    return max(s.line.test_n or 0.0 for s in answer.served if s.target.ground == ground)


def test_the_day_fits_its_hours(day_plan: PlanAnswer) -> None:
    hours, now = day_plan.found.hours, day_plan.found.hours.start_s
    assert day_plan.stops
    for stop in day_plan.stops:
        assert stop.arrive_s >= now - 1e-6
        assert stop.leave_s > stop.arrive_s
        now = stop.leave_s
        if stop.passes is not None:
            assert stop.passes.minutes * 60.0 <= stop.leave_s - stop.arrive_s + 1.0
    assert day_plan.order.route.home_s >= now
    assert day_plan.order.route.home_s <= hours.deadline_s - hours.reserve_s
    assert "deadline 09:00" in day_plan.headline


def test_ways_keep_to_water(day_plan: PlanAnswer) -> None:
    for way in [*(stop.way_m for stop in day_plan.stops), day_plan.home_way_m]:
        for a, b in itertools.pairwise(way):
            t = np.linspace(0.0, 1.0, 100)[:, None]
            points = a + t * (b - a)
            depth, _ = MODEL.sample(points[:, 0], points[:, 1])
            # cells are 20 m wide: a leg may shave one at the shore, never cross land
            assert np.mean(np.isfinite(depth)) > 0.97


def test_the_boat_stays_outside_and_casts_along(day_plan: PlanAnswer) -> None:
    """Fact 8: outside the edge, casting parallel to it."""
    seen = 0
    for stop in day_plan.stops:
        if stop.served.target.ground != "edge" or stop.passes is None:
            continue
        line = stop.stretch.line
        for place in stop.passes.stops:
            k = int(np.argmin(np.hypot(line.x_m - place.x_m, line.y_m - place.y_m)))
            outside = (place.x_m - line.x_m[k]) * line.to_deep_x[k] + (
                place.y_m - line.y_m[k]
            ) * line.to_deep_y[k]
            # places may lie past the ends of the stretch, where its last normal tells little
            if 0 < k < line.x_m.size - 1:
                assert outside > 0.0
            near = slice(max(k - 4, 0), k + 5)
            along = math.atan2(
                float(np.ptp(line.x_m[near])) * np.sign(line.x_m[near][-1] - line.x_m[near][0]),
                float(np.ptp(line.y_m[near])) * np.sign(line.y_m[near][-1] - line.y_m[near][0]),
            )
            for cast in place.casts:
                off = abs(math.sin(math.radians(cast.heading_deg) - along))
                seen += off < math.sin(math.radians(45.0))
                assert off < math.sin(math.radians(70.0))
    assert seen > 10


def test_shallower_and_in_grass_the_line_is_heavier(tmp_path: Path) -> None:
    """Facts 9 and 13: 10-12 ft grass, 15 ft edge and 20 ft rock on three rods, the heaviest
    line in the grass and the lightest at the greatest depth, shallow lures over the grass.
    """
    asked = "10-12 ft grass 30 %; 15 ft edge 40 %; 20 ft drop 30 %"
    found = plan_day(trip(tmp_path, more=f'\n[override]\ntargets = "{asked}"\n'), model=MODEL)
    assert {s.target.ground for s in found.served} == {"grass", "edge", "drop"}
    assert len({s.target.depth_m for s in found.served}) == 4
    assert strength(found, "grass") >= strength(found, "edge") >= strength(found, "drop")
    assert strength(found, "grass") > strength(found, "drop")
    deepest_over_grass = max(
        s.way.free_max_depth_m for s in found.served if s.target.ground == "grass"
    )
    others = [s.way.free_max_depth_m for s in found.served if s.target.ground != "grass"]
    assert deepest_over_grass < min(others)


@pytest.mark.parametrize("feet", [12, 13, 14])
@pytest.mark.parametrize("name", ["long-lip-15", "long-lip-15-rattling"])
def test_heavier_line_at_the_grass_edge_than_over_bare_bottom(feet: int, name: str) -> None:
    """Fact 8: where it still reaches, the 15 ft lure goes on heavier line at the edge."""
    kit: Kit = demo_kit()
    sizes = ((8, 0.25), (10, 0.28), (12, 0.31), (14, 0.34), (17, 0.37))
    lines = tuple(Line(f"f{n}", "fluorocarbon", n * LB, mm * 1e-3) for n, mm in sizes)
    kit = replace(kit, lures=(kit.lure(name),), lines=lines, combos=(), rods=(kit.rod("middle"),))
    chosen = {}
    for ground in ("edge", "flat"):
        asked = RigQuestion((Target(ground, feet * FT, 1.0),), 1, 0)  # type: ignore[arg-type]
        rig = find_rig(asked, kit=kit)
        chosen[ground] = lines[rig.rig.rods[0].line].test_n
        reaches = [w.free_max_depth_m for w in rig.ways.values() if w.line == "f17"]
    assert max(reaches) > feet * FT  # it still reaches on the heaviest
    assert chosen["edge"] > chosen["flat"]


def test_the_sound_that_suits_goes_on_where_a_copy_is_owned(day_plan: PlanAnswer) -> None:
    """Facts 10 and 11: rattling first unless very clear or heavily fished; natural in clear."""
    start = day_plan.outlook.outlook.start
    assert start.sound == "rattling" and start.colour == "natural"
    edge = next(s for s in day_plan.served if s.target.ground == "edge")
    assert edge.lure.sound == "rattling"


def test_dirty_water_asks_for_what_is_seen(tmp_path: Path) -> None:
    """Fact 10: 6 to 8 in of visibility; the most visible, contrasting colours, rattling."""
    asked = trip(tmp_path, deadline='deadline = "7:00"')
    asked = replace(asked, water=replace(asked.water, clarity_m=7 * 0.0254))
    start = plan_day(asked, model=MODEL).outlook.outlook.start
    assert start.colour in ("light", "dark", "red")
    assert start.sound == "rattling"


def test_no_lure_reaches_and_fish_above_them_is_the_answer(tmp_path: Path) -> None:
    """Fact 12: "no lure reaches" is not the end of the answer."""
    shallow = KIT[: KIT.index("[lures.mid-10]")] + KIT[KIT.index("[lines.f10]") :]
    found = plan_day(
        trip(tmp_path, shallow, seen='seen = "18-24 ft"', deadline='deadline = "7:30"'),
        model=MODEL,
    )
    assert found.stops
    assert found.short[0].startswith("No lure of the kit works what the day asks")
    assert "come up" in found.short[0]
    assert all(s.target.depth_m < 6 * FT for s in found.served)


def test_a_deadline_too_close_says_what_would_do(tmp_path: Path) -> None:
    found = plan_day(trip(tmp_path, deadline='deadline = "6:25"'), model=MODEL)
    assert not found.stops
    assert "No stretch can be fished and be back by 06:25" in found.headline
    assert "be allowed until 06:" in found.headline


def test_no_rods_gets_a_plan_for_one(tmp_path: Path) -> None:
    bare = KIT[: KIT.index("[rods.long]")]
    found = plan_day(trip(tmp_path, bare, deadline='deadline = "7:30"'), model=MODEL)
    assert found.stops and "no rods in the kit" in found.short[0]
    none = plan_day(trip(tmp_path, rods="rods = 0", deadline='deadline = "7:30"'), model=MODEL)
    assert none.stops and "No rod was to be on deck" in none.short[0]
    assert len(none.rig.rig.rods) == 1


def test_weight_is_an_aim_and_the_livewell_warns(tmp_path: Path) -> None:
    """At most 29 degC in a livewell: FWS/OBS-82/10.36 and 10.72; Brungs & Jones 1977."""
    aim = 'want = "weight"\nlivewell_temperature = "86 degF"\nlivewell_time = "30 min"'
    found = plan_day(trip(tmp_path, aim=aim), model=MODEL)
    assert found.order.weight_kg is not None and found.order.weight_kg > 0.0
    assert any("livewell" in c.lower() and "86" in c for c in found.cautions)
    assert any("longer than" in c for c in found.cautions)


@pytest.mark.parametrize(
    ("was", "now", "field"),
    [
        ('at = "45.0039, -90.0010"', 'at = "-90.0, 45.0"', "launch.at"),
        ('wind = ""', 'wind = "8 mph from ahead"', "weather.wind"),
        ('[override]', '[override]\ntargets = "ten feet of water"', "override.targets"),
        ('[override]', "[override.covers]\nweeds = 2.0", "override.covers.weeds"),
        ('name = "demo"', 'file = "no-such.csv"', "lake.file"),
        ('name = "demo"', 'name = "Nowhere"', "lake.name"),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_placed(tmp_path: Path, was: str, now: str, field: str) -> None:
    asked = trip(tmp_path)
    text = asked.source.text + "\n[override]\n" if was == "[override]" else asked.source.text
    text = text.replace("[weather]", '[weather]\nwind = ""', 1)
    assert was in text
    text = text.replace(was, now, 1)
    if field != "weather.wind":
        text = text.replace('wind = ""', "", 1)
    with pytest.raises(InputError) as caught:
        found = parse_trip(text, tmp_path / "trip.toml")
        plan_day(found, model=None if field.startswith("lake") else MODEL)
    assert caught.value.where.field == field
    assert caught.value.where.line is not None


@pytest.mark.slow
def test_a_real_lake_within_the_time() -> None:
    """Lake with digitised contours, 14 km2: under 20 s of both processors together."""
    given = os.environ.get("LEADSMAN_SHARED_DATA")
    folder = Path(given) if given else ROOT.parent / "shared" / "data"
    path = folder / "yahara_monona" / "monona-contours-all.shp"
    if not path.exists():
        pytest.skip("real contours are not here (set LEADSMAN_SHARED_DATA)")
    import importlib.util

    spec = importlib.util.spec_from_file_location("bench_plan", ROOT / "bench" / "plan.py")
    assert spec and spec.loader
    bench = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(bench)
    asked = parse_trip(bench.MONONA.format(file=path.as_posix()))
    start = time.process_time()
    found = plan_day(asked)
    assert time.process_time() - start < 20.0
    assert len(found.stops) >= 3
    assert found.order.route.home_s <= found.found.hours.home_by_s
    for stop in found.stops:
        depth, _ = found.found.lake.model.sample(stop.stretch.line.x_m, stop.stretch.line.y_m)
        assert np.nanmedian(depth) == pytest.approx(stop.served.target.depth_m, abs=0.4)
