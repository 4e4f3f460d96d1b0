"""Who may ask, how much, and what a page may load."""

from __future__ import annotations

import socket
from pathlib import Path

import httpx
import pytest

from leadsman.web.security import is_this_machine, session_secret

from .conftest import Served, serving

DEPTH = {"lure": "long-lip-15", "line": "fluoro-12", "draws": 32}


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:80", "127.0.0.1", "localhost:1", "127.0.0.1.evil.example", ""],
)
def test_a_foreign_name_for_this_machine_is_refused(client: httpx.Client, host: str) -> None:
    for path in ("/", "/api/kit", "/api/openapi.json"):
        answer = client.get(path, headers={"host": host})
        assert answer.status_code in (400, 421), path
        assert "lures" not in answer.text


def test_own_names_are_served(client: httpx.Client, served: Served) -> None:
    for name in ("localhost", "127.0.0.1", "[::1]", "LOCALHOST"):
        answer = client.get("/api/hello", headers={"host": f"{name}:{served.port}"})
        assert answer.status_code == 200, name


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1"},
        {"origin": "http://localhost:{port}"},  # another origin than the one that was called
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
    ids=str,
)
def test_a_page_of_another_site_cannot_post(
    client: httpx.Client, served: Served, headers: dict[str, str]
) -> None:
    sent = {name: value.format(port=served.port) for name, value in headers.items()}
    assert client.post("/api/depth", json=DEPTH, headers=sent).status_code == 403


def test_an_own_page_can_post(client: httpx.Client, served: Served) -> None:
    headers = {"origin": served.url, "sec-fetch-site": "same-origin"}
    assert client.post("/api/depth", json=DEPTH, headers=headers).status_code == 200


def test_a_form_of_another_site_is_no_json(client: httpx.Client) -> None:
    answer = client.post("/api/depth", data=DEPTH)
    assert answer.status_code == 422


def test_too_much_is_refused_by_its_stated_length(client: httpx.Client) -> None:
    answer = client.post("/api/depth", content=b"x" * 300_000)
    assert answer.status_code == 413
    assert answer.json()["problem"]


def test_too_much_is_refused_while_it_arrives(client: httpx.Client) -> None:
    def pieces() -> object:
        for _ in range(40):
            yield b" " * 16_384

    answer = client.post(
        "/api/depth", content=pieces(), headers={"content-type": "application/json"}
    )
    assert answer.status_code == 413


@pytest.mark.parametrize("length", ["-1", "1e3", "99999999999999999999"])
def test_a_false_length_is_refused(served: Served, length: str) -> None:
    with socket.create_connection(("127.0.0.1", served.port), timeout=10.0) as line:
        line.sendall(
            f"POST /api/depth HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n"
            f"Content-Length: {length}\r\nConnection: close\r\n\r\n".encode()
        )
        assert line.recv(64).split()[1] in (b"400", b"413")


def test_every_answer_forbids_what_is_not_ours(client: httpx.Client) -> None:
    for path in ("/", "/api/hello", "/nothing"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy and "http:" not in policy and "*" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
    assert client.get("/api/hello").headers["cache-control"] == "no-store"


@pytest.mark.parametrize(
    "path",
    ["/../kit.toml", "/%2e%2e/kit.toml", "/..%2f..%2fkit.toml", "/assets/../../app.py",
     "//etc/passwd", "/%2fetc/passwd", "/kit.toml", "/.built-from", "/assets/%00", "/c:%5cwindows"],
)  # fmt: skip
def test_no_path_reaches_the_file_system(served: Served, path: str) -> None:
    with socket.create_connection(("127.0.0.1", served.port), timeout=10.0) as line:
        host = f"127.0.0.1:{served.port}"
        line.sendall(f"GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n".encode())
        answer = b""
        while piece := line.recv(65536):
            answer += piece
    assert answer.split()[1] == b"404", path


def test_this_machine_needs_no_session(tmp_path: Path) -> None:
    with (
        serving(tmp_path, paired=True) as guarded,
        httpx.Client(base_url=guarded.url, trust_env=False) as here,
    ):
        assert here.get("/api/kit").status_code == 200


@pytest.mark.parametrize(
    ("client", "expected"),
    [(("127.0.0.1", 5), True), (("::1", 5), True), (("192.168.1.7", 5), False),
     (("testclient", 5), False), (None, False), (("::ffff:192.168.1.7", 5), False)],
)  # fmt: skip
def test_this_machine_is_known_by_its_socket(client: object, expected: bool) -> None:
    assert is_this_machine({"type": "http", "client": client}) is expected


def test_a_broken_cookie_is_no_session() -> None:
    assert session_secret("leadsman_device=abc; other=1") == "abc"
    for broken in (None, "", "other=1", "=;;;", 'leadsman_device="'):
        assert session_secret(broken) in (None, "", '"')
