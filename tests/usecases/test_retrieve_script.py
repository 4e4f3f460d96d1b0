from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import TechniqueError
from leadsman.hydro.technique import Step
from leadsman.usecases.retrieve_script import MAX_STEPS, ScriptContext, parse_script
from leadsman.usecases.rod_position import tip_height_m

METRES = ScriptContext(speed=1.3, turn_m=0.6, in_turns=False, tip_height=tip_height_m)
TURNS = ScriptContext(speed=2.0, turn_m=0.6, in_turns=True, tip_height=tip_height_m)


def test_turns_become_seconds_at_the_reel_speed() -> None:
    (step,) = parse_script("reel 12 turns", METRES, 50.0)
    assert step.seconds == pytest.approx(12 * 0.6 / 1.3)
    (step,) = parse_script("reel 12 turns", TURNS, 50.0)
    assert step.seconds == pytest.approx(6.0)


def test_heights_in_words_and_lengths() -> None:
    low, up = parse_script("reel 4 turns low; reel tip 6 ft", METRES, 50.0)
    assert low.tip_m == pytest.approx(tip_height_m("low"))
    assert up.tip_m == pytest.approx(1.8288)
    assert math.isinf(up.seconds)


def test_speed_in_any_unit() -> None:
    (step,) = parse_script("reel at 3 mph", METRES, 50.0)
    assert step.speed_m_s == pytest.approx(3 * 0.44704)
    (step,) = parse_script("reel 3 turns at 2 turns/s", METRES, 50.0)
    assert step.speed_m_s == pytest.approx(1.2)
    assert step.seconds == pytest.approx(1.5)


def test_a_snap_returns_the_rod_to_where_it_was() -> None:
    steps = parse_script("reel 3 turns; snap 2 ft in 0.2 s; stop 1 s; reel", METRES, 50.0)
    assert sum(step.pull_back_m for step in steps) == pytest.approx(0.0)
    assert steps[1].seconds == pytest.approx(0.2)


def test_lift_and_stop() -> None:
    steps = parse_script(
        "reel 3 s then lift to 6 ft in 0.5 s then stop 2 s then reel", METRES, 50.0
    )
    assert (steps[1].kind, steps[1].seconds) == ("sweep", 0.5)
    assert steps[1].tip_m == pytest.approx(1.8288)
    assert steps[2] == Step("stop", seconds=2.0)


def test_repeat_covers_the_whole_cast() -> None:
    steps = parse_script("reel 5 turns; stop 1 s; repeat", METRES, 50.0)
    assert sum(s.seconds * s.speed_m_s for s in steps) >= 50.0
    assert len(steps) <= MAX_STEPS


@pytest.mark.parametrize(
    "text",
    ["", ";;", "stop 2 s", "reel 3 apples", "jump", "reel tip sideways", "stop", "reel; repeat",
     "lift in 1 s; reel", "reel 0 turns", "reel at fast"],
)  # fmt: skip
def test_a_broken_script_gets_one_message_with_a_remedy(text: str) -> None:
    with pytest.raises(TechniqueError) as caught:
        parse_script(text, METRES, 50.0)
    assert caught.value.remedy
    assert "retrieve" in str(caught.value.where) or "tip" in str(caught.value.where)


def test_turns_without_a_reel_are_refused() -> None:
    context = ScriptContext(speed=1.3, turn_m=None, in_turns=False, tip_height=tip_height_m)
    with pytest.raises(TechniqueError, match="without a reel"):
        parse_script("reel 12 turns", context, 50.0)


@given(st.text(max_size=60))
def test_any_text_is_a_script_or_a_clear_error(text: str) -> None:
    try:
        steps = parse_script(text, METRES, 50.0)
    except TechniqueError as error:
        assert error.message
    else:
        assert any(step.kind == "reel" for step in steps)
