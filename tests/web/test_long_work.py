"""Long work tells its steps, ends in one answer, and stops when nobody waits."""

from __future__ import annotations

import json
import threading

import pytest
from pydantic import BaseModel

from leadsman.errors import InputError
from leadsman.web.long_work import Tell, Work, stream_work

from .conftest import run_async


class Done(BaseModel):
    """An answer."""

    value: int


def _lines(work: Work) -> list[dict[str, object]]:
    async def read() -> list[str]:
        return [str(line) async for line in stream_work(work).body_iterator]

    return [json.loads(line) for line in run_async(read)]


def test_steps_then_the_answer() -> None:
    def work(tell: Tell) -> BaseModel:
        tell("first", 0.5)
        tell("second", None)
        return Done(value=7)

    assert _lines(work) == [
        {"step": {"doing": "first", "share": 0.5}},
        {"step": {"doing": "second", "share": None}},
        {"answer": {"value": 7}},
    ]


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (InputError("is wrong", "kit.toml", "Mend it"), "is wrong."),
        (RuntimeError("inside"), "fault"),
    ],
)
def test_a_failure_is_the_last_line(error: Exception, words: str) -> None:
    def work(tell: Tell) -> BaseModel:
        raise error

    last = _lines(work)[-1]["problem"]
    assert isinstance(last, dict)
    assert words in last["problem"] and "inside" not in str(last)


def test_it_stops_when_the_page_goes_away() -> None:
    ended = threading.Event()
    told = threading.Event()

    def work(tell: Tell) -> BaseModel:
        try:
            for n in range(100_000):
                tell(str(n), None)
                told.set()
                threading.Event().wait(0.001)
        finally:
            ended.set()
        return Done(value=0)

    async def leave() -> None:
        lines = stream_work(work).body_iterator
        await anext(aiter(lines))
        await lines.aclose()  # type: ignore[attr-defined]

    run_async(leave)
    assert told.is_set() and ended.wait(5.0)
