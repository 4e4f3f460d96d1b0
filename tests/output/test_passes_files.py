"""Way points, routes and shapes of a pass."""

from __future__ import annotations

import json
import re

import pytest
from pass_cases import model_of, setup, slope, straight

from leadsman.output.geojson import geojson_text
from leadsman.output.gpx import gpx_text
from leadsman.output.passes_files import pass_features, pass_tracks, pass_waypoints, stop_note
from leadsman.plan.passes import PassPlanner
from leadsman.plan.passes_settings import PassSettings
from leadsman.plan.passes_types import PassPlan

MODEL = model_of(slope)


@pytest.fixture(scope="module")
def plan() -> PassPlan:
    settings = PassSettings(boat="hold", minutes=9.0)
    return PassPlanner(MODEL, setup(), settings).plan(straight())


def test_way_points_are_the_stops_with_notes(plan: PassPlan) -> None:
    points = pass_waypoints(plan)
    assert [p.name for p in points] == [f"P{s.number:02d}" for s in plan.stops]
    for point, stop in zip(points, plan.stops, strict=True):
        assert (point.lon_deg, point.lat_deg) == (stop.lon_deg, stop.lat_deg)
        assert point.depth_m == stop.depth_m
    note = stop_note(plan.stops[0])
    assert re.search(r"\d{3} deg true, \d+ yd, zone \d+ yd", note)


def test_gpx_holds_route_points_and_no_elevation(plan: PassPlan) -> None:
    text = gpx_text(pass_waypoints(plan), pass_tracks(plan, MODEL), "Passes")
    assert text.count("<wpt ") == len(plan.stops)
    assert text.count("<rtept ") == len(plan.stops)
    assert "<ele>" not in text
    assert "Not for navigation" in text


def test_geojson_is_that_of_rfc_7946(plan: PassPlan) -> None:
    """RFC 7946: a feature collection, longitude first, no crs member."""
    document = json.loads(geojson_text(pass_features([plan], MODEL)))
    assert document["type"] == "FeatureCollection"
    assert "crs" not in document
    kinds = [item["properties"]["what"] for item in document["features"]]
    assert kinds.count("cast") == plan.casts
    assert kinds.count("boat") == len(plan.stops)
    assert kinds.count("stretch") == 1
    boat = next(i for i in document["features"] if i["properties"]["what"] == "boat")
    lon, lat = boat["geometry"]["coordinates"]
    assert (lon, lat) == pytest.approx((plan.stops[0].lon_deg, plan.stops[0].lat_deg), abs=1e-6)
