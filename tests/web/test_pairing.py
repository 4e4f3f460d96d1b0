"""A code works once, not for long, and not for one who guesses."""

from __future__ import annotations

import httpx
import pytest
from starlette.types import Message

from leadsman.web.app import make_app
from leadsman.web.pairing import (
    CODE_LENGTH,
    CODE_LETTERS,
    CODE_SECONDS,
    MAX_SESSIONS,
    SESSION_SECONDS,
    WRONG_TRIES,
    Pairing,
    shown,
)
from leadsman.web.settings import ServerSettings

from .conftest import run_async


class Clock:
    """A clock that the test moves."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


def test_a_code_works_once_and_the_next_is_told() -> None:
    told: list[str] = []
    pairing = Pairing(told.append)
    code = pairing.code
    secret = pairing.pair(f" {shown(code).lower()} ")
    assert secret is not None and pairing.knows(secret)
    assert pairing.pair(code) is None
    assert told == [code, pairing.code] and pairing.code != code


def test_a_code_grows_old() -> None:
    clock = Clock()
    pairing = Pairing(clock=clock)
    code = pairing.code
    clock.now += CODE_SECONDS
    assert pairing.pair(code) is None
    assert pairing.code != code


def test_guessing_changes_the_code() -> None:
    pairing = Pairing()
    code = pairing.code
    for _ in range(WRONG_TRIES):
        assert pairing.pair("A" * CODE_LENGTH) is None
    assert pairing.code != code


def test_a_session_ends_and_an_unknown_one_never_began() -> None:
    clock = Clock()
    pairing = Pairing(clock=clock)
    secret = pairing.pair(pairing.code)
    assert pairing.knows(secret)
    for other in (None, "", "guess", (secret or "") + "x"):
        assert not pairing.knows(other)
    clock.now += SESSION_SECONDS
    assert not pairing.knows(secret)


def test_sessions_are_bounded_and_the_oldest_goes() -> None:
    clock = Clock()
    pairing = Pairing(clock=clock)
    secrets = []
    for _ in range(MAX_SESSIONS + 1):
        clock.now += 1.0
        secrets.append(pairing.pair(pairing.code))
    assert not pairing.knows(secrets[0])
    assert all(pairing.knows(secret) for secret in secrets[1:])


def test_no_letter_of_a_code_is_read_as_another() -> None:
    assert not set(CODE_LETTERS) & set("O0I1B8S5Z2")
    assert len(CODE_LETTERS) ** CODE_LENGTH > 1e11


@pytest.fixture
def from_the_network() -> tuple[httpx.AsyncClient, Pairing]:
    """A phone: the same server, another address."""
    pairing = Pairing()
    app = make_app(ServerSettings(hosts=("192.168.7.2",), port=8331, paired=True), pairing)
    transport = httpx.ASGITransport(app, client=("192.168.7.9", 40000), raise_app_exceptions=False)
    base = "http://192.168.7.2:8331"
    return httpx.AsyncClient(transport=transport, base_url=base), pairing


def test_a_phone_pairs_over_http(from_the_network: tuple[httpx.AsyncClient, Pairing]) -> None:
    phone, pairing = from_the_network

    async def day() -> None:
        assert (await phone.get("/")).status_code == 200
        assert (await phone.get("/api/hello")).json()["paired"] is False
        for path in ("/api/kit", "/api/openapi.json"):
            refused = await phone.get(path)
            assert refused.status_code == 401 and refused.json()["remedy"]
        assert (await phone.post("/api/depth", json={})).status_code == 401
        wrong = await phone.post("/api/pair", json={"code": "AAAA-AAAA"})
        assert wrong.status_code == 403 and "set-cookie" not in wrong.headers
        paired = await phone.post("/api/pair", json={"code": shown(pairing.code)})
        assert paired.status_code == 200
        cookie = paired.headers["set-cookie"].lower()
        assert "httponly" in cookie and "samesite=strict" in cookie
        assert (await phone.get("/api/hello")).json()["paired"] is True
        assert (await phone.get("/api/kit")).status_code == 200
        forged = {"x-forwarded-for": "127.0.0.1", "forwarded": "for=127.0.0.1"}
        phone.cookies.clear()
        assert (await phone.get("/api/kit", headers=forged)).status_code == 401

    run_async(day)


def test_the_layer_leaves_other_protocols_alone() -> None:
    app = make_app(ServerSettings(paired=True))
    sent: list[Message] = []

    async def send(message: Message) -> None:
        sent.append(message)

    async def receive() -> Message:
        return {"type": "websocket.connect"}

    scope = {"type": "websocket", "path": "/api/kit", "headers": [], "query_string": b""}
    run_async(lambda: app(scope, receive, send))
    assert not [m for m in sent if m["type"] == "websocket.accept"]
