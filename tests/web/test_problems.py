"""Every failure is JSON with what is wrong; none shows the inside."""

from __future__ import annotations

import httpx
import pytest

from leadsman.errors import InputError, KitError, Where
from leadsman.web.app import make_app
from leadsman.web.problems import fault_problem, input_problem

from .conftest import run_async


@pytest.mark.parametrize(
    ("body", "place"),
    [
        (b"{", None),
        (b"[]", None),
        (b"null", None),
        (b"\xff\xfe", None),
        (b'{"lure": "x"}', "line"),
        (b'{"lure": "a", "line": "b", "cast_m": NaN}', None),
        (b'{"lure": "a", "line": "b", "cast_m": 1e400}', None),
        (b'{"lure": "a", "line": "b", "cast_m": "far"}', "cast_m"),
        (b'{"lure": "a", "line": "b", "kit": "/etc/passwd"}', "kit"),
        (b"[" * 100_000, None),
    ],
    ids=lambda value: str(value)[:30],
)
def test_what_cannot_be_read_is_a_problem(
    client: httpx.Client, body: bytes, place: str | None
) -> None:
    answer = client.post("/api/depth", content=body, headers={"content-type": "application/json"})
    assert answer.status_code in (400, 422)
    told = answer.json()
    assert told["problem"] and "Traceback" not in answer.text
    if place is not None:
        assert told["where"] == place


def test_an_unknown_lure_is_told_with_those_there_are(client: httpx.Client) -> None:
    answer = client.post("/api/depth", json={"lure": "no-such", "line": "fluoro-12"})
    assert answer.status_code == 422
    told = answer.json()
    assert "no-such" in told["problem"] and "long-lip-15" in told["remedy"]


def test_folders_of_this_machine_are_not_told() -> None:
    problem = input_problem(
        KitError("is wrong", Where("/home/somebody/secret/kit.toml", 7, "lures.a.mass"), "Mend it")
    )
    assert problem.where == "kit.toml, line 7, lures.a.mass"
    assert problem.remedy == "Mend it."
    assert input_problem(InputError("x", "C:\\Users\\me\\kit.toml")).where == "kit.toml"


def test_a_fault_of_ours_does_not_show_its_inside() -> None:
    assert "password" not in fault_problem(RuntimeError("password 123")).model_dump_json()
    app = make_app()

    @app.get("/api/breaks")
    def breaks() -> None:
        raise RuntimeError("inside 123")

    # the last address takes every path, so the new one must come before it
    app.router.routes.insert(0, app.router.routes.pop())

    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(app, raise_app_exceptions=False)
        async with httpx.AsyncClient(transport=transport, base_url="http://localhost") as there:
            return await there.get("/api/breaks")

    answer = run_async(ask)
    assert answer.status_code == 500
    assert "inside" not in answer.text and answer.json()["remedy"]


def test_nothing_at_an_address(client: httpx.Client) -> None:
    assert client.get("/nothing").json()["problem"]
    assert client.get("/nothing").status_code == 404
    assert client.put("/api/depth", json={}).status_code in (404, 405)
