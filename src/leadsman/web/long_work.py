"""Work of more than a second: told as it goes on, a line of JSON at a time, and stopped when the
page that asked goes away.
"""

from __future__ import annotations

import asyncio
import queue
import threading
from collections.abc import AsyncIterator, Callable

from pydantic import BaseModel, Field
from starlette.responses import StreamingResponse

from leadsman.errors import InputError
from leadsman.web.problems import Problem, fault_problem, input_problem

NDJSON = "application/x-ndjson"
"""Content type: JSON documents, one a line."""


class Step(BaseModel):
    """How far the work is."""

    doing: str = Field(description="What is being done.")
    share: float | None = Field(None, description="Share that is done, 0 to 1 [-].")


class Outcome(BaseModel):
    """The last line: the problem, if there was one; else a document of its own came before."""

    problem: Problem | None = Field(None, description="Why there is no answer.")


class StoppedError(Exception):
    """The page that asked has gone away."""


Tell = Callable[[str, float | None], None]
Work = Callable[[Tell], BaseModel]


def stream_work(work: Work) -> StreamingResponse:
    """Run work in a thread and send its steps, then its document.

    Lines are ``{"step": ...}``, then one ``{"answer": ...}`` or ``{"problem": ...}``.

    Parameters
    ----------
    work : callable
        Takes a function to tell its steps to; that raises once nobody waits [-].
    """
    return StreamingResponse(_lines(work), media_type=NDJSON)


async def _lines(work: Work) -> AsyncIterator[str]:
    told: queue.SimpleQueue[str | None] = queue.SimpleQueue()
    stopped = threading.Event()

    def tell(doing: str, share: float | None = None) -> None:
        if stopped.is_set():
            raise StoppedError
        told.put(f'{{"step":{Step(doing=doing, share=share).model_dump_json()}}}\n')

    def run() -> None:
        try:
            told.put(f'{{"answer":{work(tell).model_dump_json(by_alias=True)}}}\n')
        except StoppedError:
            pass
        except InputError as error:
            told.put(f'{{"problem":{input_problem(error).model_dump_json()}}}\n')
        except Exception as error:  # the thread has no other way to say it
            told.put(f'{{"problem":{fault_problem(error).model_dump_json()}}}\n')
        finally:
            told.put(None)

    threading.Thread(target=run, daemon=True).start()
    try:
        while (line := await _next(told)) is not None:
            yield line
    finally:
        stopped.set()


async def _next(told: queue.SimpleQueue[str | None]) -> str | None:
    while True:
        try:
            return told.get_nowait()
        except queue.Empty:
            await asyncio.sleep(0.02)
