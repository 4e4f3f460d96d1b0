"""What a device asks first."""

from __future__ import annotations

import httpx

from leadsman import __version__


def test_hello_says_who_answers(client: httpx.Client) -> None:
    assert client.get("/api/hello").json() == {"version": __version__, "paired": True}


def test_a_wrong_code_is_refused_with_what_to_do(client: httpx.Client) -> None:
    answer = client.post("/api/pair", json={"code": "AAAA-AAAA"})
    assert answer.status_code == 403 and answer.json()["remedy"]
