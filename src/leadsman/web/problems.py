"""Every failure as one JSON form: what is wrong, where, and what to do. Never a traceback."""

from __future__ import annotations

import logging
from http import HTTPStatus

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict, Field
from starlette.exceptions import HTTPException

from leadsman.errors import InputError

_LOG = logging.getLogger("leadsman.web")


class Problem(BaseModel):
    """Why a request was not answered."""

    model_config = ConfigDict(frozen=True)

    problem: str = Field(description="What is wrong, one sentence.")
    where: str | None = Field(default=None, description="Where it is wrong.")
    remedy: str | None = Field(default=None, description="What to do.")


RESPONSES: dict[int | str, dict[str, object]] = {
    422: {"model": Problem, "description": "Something given cannot be used."},
}
"""What every address may answer beside its own document."""


def problem_response(status: int, problem: Problem) -> JSONResponse:
    """A failure as a response.

    Parameters
    ----------
    status : int
        HTTP status [-].
    problem : Problem
        What is wrong [-].
    """
    return JSONResponse(problem.model_dump(), status_code=status)


def add_problem_handlers(app: FastAPI) -> None:
    """Answer every failure with a `Problem`.

    Parameters
    ----------
    app : fastapi.FastAPI
        The application [-].
    """

    @app.exception_handler(InputError)
    async def _input(_: Request, error: Exception) -> JSONResponse:
        assert isinstance(error, InputError)
        return problem_response(422, input_problem(error))

    @app.exception_handler(RequestValidationError)
    async def _invalid(_: Request, error: Exception) -> JSONResponse:
        assert isinstance(error, RequestValidationError)
        first = error.errors()[0]
        words = first.get("loc", ())
        place = ".".join(str(part) for part in words if part not in ("body", "query"))
        return problem_response(
            422, Problem(problem=str(first.get("msg", "cannot be read")), where=place or None)
        )

    @app.exception_handler(HTTPException)
    async def _http(_: Request, error: Exception) -> JSONResponse:
        assert isinstance(error, HTTPException)
        words = {
            404: "There is nothing at this address.",
            405: "This is not how it is asked.",
            413: "More was sent than is taken here.",
        }
        told = words.get(error.status_code) or HTTPStatus(error.status_code).phrase
        response = problem_response(error.status_code, Problem(problem=told))
        response.headers.update(error.headers or {})
        return response

    @app.exception_handler(Exception)
    async def _fault(request: Request, error: Exception) -> JSONResponse:
        _LOG.error("fault while answering %s", request.url.path, exc_info=error)
        return problem_response(500, fault_problem(error))


def input_problem(error: InputError) -> Problem:
    """What a person did wrong, with file names but no folders.

    Parameters
    ----------
    error : InputError
        The error [-].
    """
    where = error.where
    source = where.source.replace("\\", "/").rsplit("/", 1)[-1] if where.source else None
    parts = [source, f"line {where.line}" if where.line is not None else None, where.field]
    place = ", ".join(part for part in parts if part)
    return Problem(
        problem=f"{error.problem}.",
        where=place or None,
        remedy=f"{error.remedy}." if error.remedy else None,
    )


def fault_problem(error: Exception) -> Problem:
    """A fault of ours, without its inside.

    Parameters
    ----------
    error : Exception
        The fault, told on the terminal only [-].
    """
    return Problem(
        problem="A fault in Leadsman, not in what you gave it.",
        where=type(error).__name__,
        remedy="Nothing was changed. The window in which Leadsman runs says more.",
    )
