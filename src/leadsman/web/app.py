"""The application: pages, API and the layer that guards both."""

from __future__ import annotations

import os
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from anyio.to_thread import current_default_thread_limiter
from fastapi import FastAPI, Request, Response
from fastapi.routing import APIRoute
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware

from leadsman import __version__
from leadsman.web.pages import page_response, read_pages
from leadsman.web.pairing import Pairing
from leadsman.web.problems import add_problem_handlers
from leadsman.web.routers import depth, devices, kit
from leadsman.web.security import SecurityLayer
from leadsman.web.settings import ServerSettings
from leadsman.web.state import ServerState

ANSWERS_AT_ONCE = max(2, os.cpu_count() or 1)
"""Answers that are computed at once; others wait in line [-]."""

ROUTERS = (devices.router, depth.router, kit.router)
"""Addresses of the API, in the order of the description."""


def make_app(settings: ServerSettings | None = None, pairing: Pairing | None = None) -> FastAPI:
    """The application of one server.

    Parameters
    ----------
    settings : ServerSettings or None
        What it is started with; None is for this machine alone [-].
    pairing : Pairing or None
        The paired devices; None starts with none [-].
    """
    settings = settings or ServerSettings()
    pairing = pairing or Pairing()
    app = FastAPI(
        title="Leadsman",
        version=__version__,
        description="The use cases of Leadsman over HTTP. SI throughout; estimates, not for "
        "navigation.",
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
        generate_unique_id_function=_operation_name,
        lifespan=_lifespan,
        middleware=[Middleware(SecurityLayer, settings=settings, pairing=pairing)],
    )
    app.state.leadsman = ServerState(settings, pairing, read_pages())
    add_problem_handlers(app)
    for router in ROUTERS:
        app.include_router(router)
    app.add_api_route("/{address:path}", _page, methods=["GET", "HEAD"], include_in_schema=False)
    return app


@asynccontextmanager
async def _lifespan(_: FastAPI) -> AsyncIterator[None]:
    # An answer keeps all cores busy by itself: more at once would only share them out.
    current_default_thread_limiter().total_tokens = ANSWERS_AT_ONCE
    yield


async def _page(address: str, request: Request) -> Response:
    state: ServerState = request.app.state.leadsman
    page = state.pages.get(f"/{address}")
    if page is None:
        raise HTTPException(404)
    return page_response(page, request.headers)


def _operation_name(route: APIRoute) -> str:
    return route.name
