"""From rows of the file to evidence."""

from __future__ import annotations

from datetime import date

import pytest

from leadsman.calibrate.cases import lure_cases
from leadsman.calibrate.evidence import (
    DidNotReach,
    MeasuredDepth,
    PullOnScale,
    Ticked,
    TimeToBottom,
)
from leadsman.errors import LogError
from leadsman.kitfile.observation import Observation, parse_observation
from leadsman.kitfile.template import demo_kit

KIT = demo_kit()
LURE = "long-thin-lip-20"


def row(day: int, number: int = 2, **cells: str) -> Observation:
    given = {
        "date": f"2026-06-{day:02d}", "lure": LURE, "kind": "ticked", "depth": "17 ft",
        "line": "fluoro-12", "cast": "60 +- 3 yd",
    }  # fmt: skip
    return parse_observation({**given, **cells}, "observations.csv", number)


def seen(*rows: Observation):  # type: ignore[no-untyped-def]
    return next(c for c in lure_cases(KIT, rows) if c.lure.name == LURE).observed


def test_each_kind_becomes_its_evidence() -> None:
    kinds = {
        "ticked": Ticked,
        "did not reach": DidNotReach,
        "measured": MeasuredDepth,
        "time to bottom": TimeToBottom,
        "pull": PullOnScale,
    }
    for kind, wanted in kinds.items():
        (item,) = seen(row(1, kind=kind, time="12 s", pull="0.6 lb", speed="3 mph"))
        assert isinstance(item.evidence, wanted)
        assert item.day == date(2026, 6, 1) and kind in item.label


def test_numbers_arrive() -> None:
    (item,) = seen(row(1, depth="17 +- 1 ft", tip="-2 ft", speed="4 ft/s", casts="5"))
    evidence = item.evidence
    assert isinstance(evidence, Ticked)
    assert (evidence.depth_m, evidence.depth_sd_m) == pytest.approx((17 * 0.3048, 0.3048))
    fished = evidence.fished
    assert fished.line.diameter_m == pytest.approx(3.1e-4) and fished.line_name == "fluoro-12"
    assert fished.diameter_log_sd == 0.02  # measured, by the kit
    assert fished.technique.cast_m == pytest.approx(54.864)
    assert fished.technique.tip_m == pytest.approx(-0.6096)
    assert fished.cast_log_sd == pytest.approx(0.05) and fished.casts == 5
    assert fished.technique.steps[0].speed_m_s == pytest.approx(1.2192)


def test_usual_pace_is_the_angler_s() -> None:
    (item,) = seen(row(1))
    assert item.evidence.fished.technique.steps[0].speed_m_s == KIT.angler.reel_speed_m_s  # type: ignore[union-attr]


def test_retuning_starts_afresh_and_order_is_by_day() -> None:
    rows = (row(9, depth="16 ft"), row(5, kind="retuned"), row(1), row(8, depth="15 ft"))
    labels = [item.label for item in seen(*rows)]
    assert ["15.0 ft" in labels[0], "16.0 ft" in labels[1], len(labels)] == [True, True, 2]


def test_rows_while_it_ran_to_a_side_do_not_count() -> None:
    assert seen(row(1, off_true="left")) == ()


def test_names_are_found_in_the_kit_or_refused() -> None:
    assert len(seen(row(1, lure="LONG-thin-lip-20"))) == 1
    for cells, says in (
        ({"lure": "long-thin-lip-2"}, "Perhaps"),
        ({"line": "fluor-12"}, "Perhaps"),
    ):
        with pytest.raises(LogError, match=says) as caught:
            seen(row(1, 7, **cells))
        assert caught.value.where.line == 7
