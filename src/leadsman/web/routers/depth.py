"""How deep a setup runs, and what each control would change."""

from __future__ import annotations

from fastapi import APIRouter

from leadsman.usecases.depth import find_depth
from leadsman.usecases.documents.levers import LeversDocument, levers_document
from leadsman.usecases.documents.side_view import DepthPictureDocument, depth_picture_document
from leadsman.usecases.levers import find_levers
from leadsman.web.problems import RESPONSES
from leadsman.web.requests import DepthAsked
from leadsman.web.state import State

router = APIRouter(prefix="/api", responses=RESPONSES, tags=["depth"])


@router.post("/depth")
def depth(asked: DepthAsked, state: State) -> DepthPictureDocument:
    """Running depth, band, contact and zone of one setup, with its side view."""
    answer = find_depth(asked.question(state.settings.kit), asked.wind_met(), asked.draws)
    return depth_picture_document(answer)


@router.post("/levers")
def levers(asked: DepthAsked, state: State) -> LeversDocument:
    """What one step of each control changes."""
    return levers_document(find_levers(asked.question(state.settings.kit), asked.wind_met()))
