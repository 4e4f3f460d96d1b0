"""From a computed retrieve to its side view."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.technique import Technique
from leadsman.hydro.zone import contact_zone
from leadsman.output.side_view_of import side_view_of, zone_extents

LINE = LineProperties(0.00031, 1780.0, 2e9)
LURE = LureForces(math.radians(20.0), 0.0012, 0.02, 0.04)
CAST = Technique.steady(50.0, 0.6, 1.3)
FLAT = BottomProfile.flat(3.048)


def test_zone_of_picture_is_zone_of_words() -> None:
    path = retrieve(LURE, LINE, CAST, FLAT)
    measured = contact_zone(path, FLAT).zone_m
    assert measured > 3.0
    alone = side_view_of(path, 0.6, "h", bottom=FLAT)
    # Alone, the samples at most 0.5 m apart bound the difference at each end.
    assert sum(z.length_m for z in alone.zones) == pytest.approx(measured, abs=0.5)
    told = side_view_of(path, 0.6, "h", bottom=FLAT, zone_m=measured)
    assert sum(z.length_m for z in told.zones) == pytest.approx(measured, rel=0.02)


def test_metres_in_the_grass_are_zone_where_they_count() -> None:
    """The path enters grass 5 ft deep where it passes 5 ft, not where it meets the bottom."""
    grass = GrassLayer(np.array([0.0, 60.0]), np.full(2, 1.524), np.full(2, 0.5))
    over = replace(FLAT, grass=grass)
    path = retrieve(LURE, LINE, CAST, FLAT)
    counted = side_view_of(path, 0.6, "h", bottom=over, grass_counts=True, load_limit=1.0)
    bare = side_view_of(path, 0.6, "h", bottom=over, load_limit=1.0)
    inside = path.x_m[path.depth_m >= 1.524]
    (zone,) = counted.zones
    assert (zone.near_x_m, zone.far_x_m) == pytest.approx((inside.min(), inside.max()), abs=0.5)
    assert sum(z.length_m for z in bare.zones) < 0.9 * zone.length_m


def test_first_contact_and_free_depth_are_taken_over() -> None:
    path, free = retrieve(LURE, LINE, CAST, FLAT), retrieve(LURE, LINE, CAST)
    band = (0.9 * free.max_depth_m, 1.1 * free.max_depth_m)
    view = side_view_of(path, 0.6, "h", bottom=FLAT, free=free, max_depth_band_m=band)
    assert view.call is not None
    assert view.call.depth_m == pytest.approx(free.max_depth_m)
    assert view.call.what == "free-running"
    first = path.first_contact_index
    assert first is not None
    assert view.marks[0].x_m == path.x_m[first]
    assert view.marks[0].label.startswith("first contact")
    assert view.free is not None


def test_nothing_touched_needs_no_free_path_nor_mark() -> None:
    path = retrieve(LURE, LINE, CAST)
    view = side_view_of(path, 0.6, "h", free=path, max_depth_band_m=(0.0, 99.0))
    assert view.free is None
    assert view.marks == ()
    assert view.zones == ()
    assert view.call is not None
    assert view.call.what == "deepest"


def test_extents_end_half_way_and_join_when_close() -> None:
    x = np.array([10.0, 9.0, 8.0, 7.0, 6.0, 5.0, 4.0])
    wanted = np.array([False, True, True, False, False, True, False])
    apart = zone_extents(x, wanted)
    assert [(z.near_x_m, z.far_x_m) for z in apart] == [(4.5, 5.5), (7.5, 9.5)][::-1]
    close = zone_extents(0.25 * x, wanted)
    assert len(close) == 1
    assert close[0].length_m == pytest.approx(0.25 * 3.0)
    assert close[0].far_x_m - close[0].near_x_m == pytest.approx(0.25 * 5.0)


def test_extents_add_up_to_what_was_measured() -> None:
    x = np.linspace(10.0, 0.0, 21)
    wanted = (x > 2.0) & (x < 6.0)
    assert sum(z.length_m for z in zone_extents(x, wanted, 3.6)) == pytest.approx(3.6)
    assert zone_extents(x, np.zeros(21, dtype=bool)) == ()


def test_remarks_say_what_was_not_worked_out() -> None:
    path = retrieve(LURE, LINE, CAST, FLAT)
    view = side_view_of(path, 0.6, "h", bottom=FLAT, note="Rating only.")
    assert view.note.startswith("Rating only.")
    assert ("line itself touches" in view.note) == path.line_touches
