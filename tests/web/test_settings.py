"""By which names the server may be called."""

from __future__ import annotations

import pytest

from leadsman.web.settings import ServerSettings


@pytest.mark.parametrize(
    ("host", "port", "allowed"),
    [
        ("localhost:8331", 8331, True),
        ("LocalHost:8331", 8331, True),
        ("[::1]:8331", 8331, True),
        ("localhost", 8331, False),
        ("localhost:8332", 8331, False),
        ("localhost.evil.example:8331", 8331, False),
        ("localhost", 80, True),
        ("anything:8331", None, False),
        ("127.0.0.1:9", None, True),
        ("", None, False),
    ],
)
def test_only_own_names_and_the_own_port(host: str, port: int | None, allowed: bool) -> None:
    assert ServerSettings(port=port).allows_host(host) is allowed
