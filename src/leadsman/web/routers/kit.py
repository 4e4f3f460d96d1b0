"""The tackle, what was seen of it and what that taught."""

from __future__ import annotations

from pathlib import Path

from fastapi import APIRouter
from fastapi.responses import StreamingResponse
from pydantic import BaseModel

from leadsman.usecases.documents.kit import KitDocument, kit_document
from leadsman.usecases.documents.tune import (
    ObserveDocument,
    TuneDocument,
    observe_document,
    tune_document,
)
from leadsman.usecases.kit_check import check_kit, start_kit
from leadsman.usecases.observe import observe
from leadsman.usecases.resolve_setup import KIT_FILE
from leadsman.usecases.tune import tune_lures
from leadsman.web.long_work import NDJSON, Tell, stream_work
from leadsman.web.problems import RESPONSES
from leadsman.web.requests import Asked, ObservationAsked, Units
from leadsman.web.state import State

router = APIRouter(prefix="/api", responses=RESPONSES, tags=["kit"])


class TuneAsked(Asked):
    """What was learned of each lure?"""

    units: Units | None = None


@router.get("/kit")
def kit(state: State) -> KitDocument:
    """Lures, lines, rods and reels, and what the program makes of them."""
    return kit_document(check_kit(state.settings.kit))


@router.post("/kit/start")
def kit_start(state: State) -> KitDocument:
    """Write a commented kit file to the folder the server runs in, unless one is there."""
    path: Path = state.settings.kit or KIT_FILE
    start_kit(path)
    return kit_document(check_kit(state.settings.kit))


@router.post("/observations")
def observations(asked: ObservationAsked, state: State) -> ObserveDocument:
    """Note what was seen of a lure."""
    return observe_document(observe(state.settings.kit, asked.cells()))


@router.post(
    "/tune",
    response_class=StreamingResponse,
    responses={200: {"model": TuneDocument, "content": {NDJSON: {}}}},
)
def tune(asked: TuneAsked, state: State) -> StreamingResponse:
    """What was learned of each lure, a line for each step, then the answer."""

    def work(tell: Tell) -> BaseModel:
        found = tune_lures(
            state.settings.kit, units=asked.units, progress=lambda lure: tell(lure, None)
        )
        return tune_document(found)

    return stream_work(work)
