"""Maps of a lake hold what they promise."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from leadsman.display_units import METRIC, US
from leadsman.errors import InputError
from leadsman.usecases.lake_edge import EdgeQuestion, find_edge
from leadsman.usecases.lake_map import draw_edge_map, draw_lake_map, draw_survey_map
from leadsman.usecases.lake_report import show_lake
from leadsman.usecases.lake_survey import SurveyQuestion, find_survey


def _words(path: Path) -> str:
    text = re.sub(r"<(style|defs).*?</\1>", " ", path.read_text(), flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


@pytest.mark.parametrize("phone", [False, True])
def test_edge_map_numbers_stretches_and_lists_their_reasons(
    cone_lakes: Path, tmp_path: Path, phone: bool
) -> None:
    found = find_edge(EdgeQuestion("Cone", cone_lakes, secchi_m=2.0))
    path = tmp_path / "edge.svg"
    draw_edge_map(found, path, phone=phone)
    words = _words(path)
    for word in ("Grass stops near", "guess from clarity", "Not for navigation", "9 in 10", "Cone"):
        assert word in words, word
    assert f"1 {found.ranked[0].reason[:20]}" in words
    assert "full pool" in words


def test_zoom_shows_one_stretch(cone_lakes: Path, tmp_path: Path) -> None:
    found = find_edge(EdgeQuestion("Cone", cone_lakes, depth_m=5.0))
    path = tmp_path / "zoom.svg"
    draw_edge_map(found, path, zoom=2, tracks=True)
    words = _words(path)
    assert "Stretch 2 at" in words
    assert "soundings" in words
    with pytest.raises(InputError, match="no stretch"):
        draw_edge_map(found, path, zoom=999)


def test_lake_map_tells_how_sure_it_is(cone_lakes: Path, tmp_path: Path) -> None:
    path = tmp_path / "map.svg"
    draw_lake_map(show_lake("Cone", US, cone_lakes), path, level_m=0.5)
    words = _words(path)
    assert "acres mapped" in words
    assert "9 times in 10" in words
    assert "1.6 ft above" in words
    draw_lake_map(show_lake("Cone", METRIC, cone_lakes), path, phone=True)
    assert "ha mapped" in _words(path)
    with pytest.raises(InputError, match="under water"):
        draw_lake_map(show_lake("Cone", US, cone_lakes), path, level_m=-20.0)


def test_survey_map_numbers_the_runs(cone_lakes: Path, tmp_path: Path) -> None:
    edge = EdgeQuestion("Cone", cone_lakes, depth_m=5.0)
    found = find_survey(SurveyQuestion(edge, 7200.0))
    path = tmp_path / "survey.svg"
    draw_survey_map(found, path)
    words = _words(path)
    assert "way of the boat" in words
    assert "with the way there" in words


def test_pictures_are_refused_before_anything_is_drawn(cone_lakes: Path, tmp_path: Path) -> None:
    report = show_lake("Cone", US, cone_lakes)
    with pytest.raises(InputError, match="ends with"):
        draw_lake_map(report, tmp_path / "map.bmp")
