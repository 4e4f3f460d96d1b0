"""What a device asks first: is this Leadsman, and may I use it?"""

from __future__ import annotations

from fastapi import APIRouter, Request, Response
from fastapi.responses import JSONResponse
from pydantic import BaseModel, Field

from leadsman import __version__
from leadsman.web.pairing import SESSION_COOKIE, SESSION_SECONDS
from leadsman.web.problems import RESPONSES, Problem, problem_response
from leadsman.web.requests import Asked
from leadsman.web.security import is_this_machine, session_secret
from leadsman.web.state import ServerState, State

router = APIRouter(prefix="/api", responses=RESPONSES, tags=["devices"])


class Hello(BaseModel):
    """Who answers."""

    version: str = Field(description="Version of the program.")
    paired: bool = Field(description="Whether this device may use it.")


class PairAsked(Asked):
    """The code that the laptop shows."""

    code: str = Field(min_length=1, max_length=40, description="The code.")


@router.get("/hello")
async def hello(request: Request, state: State) -> Hello:
    """Version, and whether this device may use the rest."""
    return Hello(version=__version__, paired=_may_use(request, state))


@router.post("/pair", response_model=Hello, responses={403: {"model": Problem}})
async def pair(asked: PairAsked, state: State) -> Response:
    """Use the code; the device then keeps a session in a cookie."""
    secret = state.pairing.pair(asked.code)
    if secret is None:
        return problem_response(
            403,
            Problem(
                problem="This is not the code that the laptop shows now.",
                remedy="Each code works once. Look at the laptop again.",
            ),
        )
    response = JSONResponse(Hello(version=__version__, paired=True).model_dump())
    response.set_cookie(
        SESSION_COOKIE,
        secret,
        max_age=int(SESSION_SECONDS),
        httponly=True,
        samesite="strict",
        path="/",
    )
    return response


def _may_use(request: Request, state: ServerState) -> bool:
    if not state.settings.paired or is_this_machine(request.scope):
        return True
    return state.pairing.knows(session_secret(request.headers.get("cookie")))
