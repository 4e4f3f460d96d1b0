"""Where to sound next: within the hours, near the edge, where the map is least sure."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from defusedxml import ElementTree

from leadsman.errors import InputError
from leadsman.usecases.lake_edge import EdgeQuestion
from leadsman.usecases.lake_survey import SurveyQuestion, find_survey, write_survey

from .conftest import DEEPEST_M, FRAME, RADIUS_M, add, cone_rows

HOUR_S = 3600.0


def _ask(lakes: Path, hours: float, name: str = "Cone") -> SurveyQuestion:
    return SurveyQuestion(EdgeQuestion(name, lakes, depth_m=5.0), hours * HOUR_S)


@pytest.mark.parametrize("hours", [0.15, 0.3, 2.0])
def test_runs_fit_into_the_hours(cone_lakes: Path, hours: float) -> None:
    found = find_survey(_ask(cone_lakes, hours))
    assert 0.0 < found.plan.hours <= hours
    assert found.plan.se_after_m < found.plan.se_before_m
    radius = RADIUS_M * (1.0 - 5.0 / DEEPEST_M)
    for run in found.plan.runs:
        x, y = FRAME.to_metric(run.lon_deg, run.lat_deg)
        assert np.max(np.abs(np.hypot(x, y) - radius)) < 60.0


def test_it_goes_where_the_map_is_bad(tmp_path: Path) -> None:
    """Half of the lake is sounded in lines 20 m apart, the other half 80 m."""
    rows = [
        row
        for gap, west in ((20.0, True), (80.0, False))
        for row in cone_rows(gap_m=gap)
        if (row[0] < FRAME.lon0_deg) == west
    ]
    path = tmp_path / "half.csv"
    path.write_text("lon,lat,depth_m\n" + "\n".join(f"{a:.8f},{b:.8f},{d:.3f}" for a, b, d in rows))
    add("Half", tmp_path / "lakes", path)
    found = find_survey(_ask(tmp_path / "lakes", 0.12, "Half"))
    first = found.plan.runs[0]
    assert float(np.mean(first.lon_deg)) > FRAME.lon0_deg


def test_too_little_time_is_told(cone_lakes: Path) -> None:
    with pytest.raises(InputError, match=r"short|outside"):
        find_survey(_ask(cone_lakes, 0.051))
    with pytest.raises(InputError, match="outside"):
        find_survey(_ask(cone_lakes, 1000.0))


def test_tracks_as_gpx(cone_lakes: Path, tmp_path: Path) -> None:
    found = find_survey(_ask(cone_lakes, 2.0))
    path = tmp_path / "tracks.gpx"
    write_survey(found, path)
    root = ElementTree.fromstring(path.read_bytes())
    names = [e.text for e in root.iter("{http://www.topografix.com/GPX/1/1}name")]
    assert "Sound 1" in names
    tracks = root.findall("{http://www.topografix.com/GPX/1/1}trk")
    assert len(tracks) == len(found.plan.runs)
    with pytest.raises(InputError, match=r"\.gpx"):
        write_survey(found, tmp_path / "tracks.geojson")
