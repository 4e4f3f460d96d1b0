"""What one running server knows, handed to the addresses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, cast

from fastapi import Depends, Request

from leadsman.web.pages import Page
from leadsman.web.pairing import Pairing
from leadsman.web.settings import ServerSettings


@dataclass(frozen=True, slots=True)
class ServerState:
    """What one running server knows.

    Parameters
    ----------
    settings : ServerSettings
        What it was started with [-].
    pairing : Pairing
        The paired devices [-].
    pages : mapping of str to Page
        The built pages by address [-].
    """

    settings: ServerSettings
    pairing: Pairing
    pages: Mapping[str, Page]


def state_of(request: Request) -> ServerState:
    """State of the server that answers a request.

    Parameters
    ----------
    request : fastapi.Request
        The request [-].
    """
    return cast(ServerState, request.app.state.leadsman)


State = Annotated[ServerState, Depends(state_of)]
"""The state, as an argument of an address."""
