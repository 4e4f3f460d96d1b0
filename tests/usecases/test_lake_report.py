"""The report says what came in, what was left out and how good the map is."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from leadsman.display_units import METRIC, US
from leadsman.usecases.lake_report import show_lake

from .conftest import DEEPEST_M, RADIUS_M, add, write_rings


def test_figures_of_a_cone(cone_lakes: Path) -> None:
    """Closed forms: area pi R^2, mean depth D / 3."""
    report = show_lake("Cone", METRIC, cone_lakes)
    assert report.area_m2 == pytest.approx(math.pi * RADIUS_M**2, rel=0.02)
    assert report.mean_depth_m == pytest.approx(DEEPEST_M / 3.0, rel=0.03)
    assert report.max_depth_m == pytest.approx(DEEPEST_M, abs=0.5)
    assert report.centre_deg == pytest.approx((46.0, -91.0), abs=1e-3)
    assert "28.1 ha" in report.headline or "28 ha" in report.headline
    shares = [item.share for item in report.shares]
    assert shares == sorted(shares)


def test_error_stands_beside_the_published_scale(cone_lakes: Path) -> None:
    """Siljeg et al. 2015 (under 0.3 m) and Curtarelli et al. 2015 (0.92 m): 1.0 to 3.0 ft."""
    sentence = show_lake("Cone", US, cone_lakes).check_sentence
    assert "1.0 to 3.0 ft" in sentence
    assert "Siljeg" in sentence
    assert "root mean square" in sentence


def test_without_soundings_it_says_so(tmp_path: Path) -> None:
    report = add("R", tmp_path / "lakes", write_rings(tmp_path / "r.geojson"))
    assert "too few soundings" in report.check_sentence
    assert any("Not for navigation" in note for note in report.notes)
