from __future__ import annotations

from datetime import date

import pytest

from leadsman.errors import PlanError
from leadsman.usecases.documents.outlook import outlook_document
from leadsman.usecases.outlook import OutlookQuestion, clock, find_outlook

KNOWN = OutlookQuestion(
    day=date(2024, 7, 20),
    place_deg=(45.0, -93.2),
    zone="America/Chicago",
    secchi_m=2.0,
    surface_c=24.0,
    oxygen_floor_m=7.0,
    grass_edge_m=4.0,
    wind_m_s=3.0,
    max_depth_m=15.0,
)


def test_the_headline_is_one_sentence_to_act_on() -> None:
    found = find_outlook(KNOWN)
    assert found.headline.startswith("Start at ")
    assert found.headline.endswith(".") and found.headline.count(". ") == 0
    for words in ("ft", "edge of the grass", "lure", "next to no fish below 23 ft"):
        assert words in found.headline


def test_little_known_is_called_a_guess() -> None:
    assert find_outlook(OutlookQuestion()).headline.startswith("A guess from little")


def test_metric_people_read_metres_and_celsius() -> None:
    found = find_outlook(OutlookQuestion(units="metric", secchi_m=2.0, surface_c=24.0))
    texts = [found.headline, *found.notes, *found.outlook.cautions]
    texts += [f"{f.known} {f.effect}" for f in found.outlook.factors]
    assert not any(" ft" in text or "degF" in text for text in texts)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"wind_m_s": 90.0}, "wind"),
        ({"forage_m": -1.0}, "forage"),
        ({"reach_m": 0.0}, "reach"),
        ({"thermocline_m": float("nan")}, "thermocline"),
        ({"oxygen_floor_m": -4.0}, "oxygen"),
        ({"grass_edge_m": 99.0}, "grass edge"),
        ({"fish_m": (5.0, 3.0)}, "run backwards"),
        ({"grass": "none", "grass_edge_m": 4.0}, "no grass has no edge"),
        ({"max_depth_m": 0.2}, "greatest depth"),
        ({"strengths": {"moon": 1.0}}, "unknown factor"),
    ],
)
def test_impossible_questions(given, words) -> None:
    with pytest.raises(PlanError, match=words):
        find_outlook(OutlookQuestion(**given))


def test_the_document_says_what_the_answer_says() -> None:
    answer = find_outlook(KNOWN)
    found = outlook_document(answer)
    assert found.schema_ == "leadsman.outlook/1"
    assert found.headline == answer.headline
    assert sum(band.fish for band in found.bands) == pytest.approx(1.0)
    assert sum(sum(band.by_cover.values()) for band in found.bands) == pytest.approx(1.0)
    assert len(found.depth_m) == len(found.fish_density) == len(found.factors[0].depth)
    assert found.oxygen_floor_m is not None and found.oxygen_floor_m.origin == "given"
    assert found.surface_c is not None and found.surface_c.low == 24.0
    assert {factor.key for factor in found.factors} >= {"start", "oxygen", "light", "grass"}
    assert found.rate_weights["cover"] == found.covers


def test_where_no_lure_reaches_the_headline_still_says_what_to_do() -> None:
    # fact of the trade, common practice, no source
    deep = OutlookQuestion(
        secchi_m=8.0, max_depth_m=25.0, reach_m=5.5, fish_m=(7.6, 9.1), surface_c=24.0
    )
    found = find_outlook(deep).headline
    assert "18 ft" in found and "fast with stops so that fish come up" in found
    assert "25 ft" not in found, "no depth that no lure reaches"


def test_a_clock() -> None:
    assert (clock(5.0), clock(6.5), clock(23.75)) == ("05:00", "06:30", "23:45")
