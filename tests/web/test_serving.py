"""Starting the server: what it says, and what it refuses."""

from __future__ import annotations

import socket
from pathlib import Path

import pytest

from leadsman.errors import InputError
from leadsman.web import serving
from leadsman.web.serving import ServeQuestion, serve


def _unused(_: object) -> None:
    raise AssertionError("nothing is ready")


def test_a_broken_kit_is_told_before_anything_is_served(tmp_path: Path) -> None:
    kit = tmp_path / "kit.toml"
    kit.write_text("lures = 3")
    with pytest.raises(InputError, match="kit"):
        serve(ServeQuestion(kit), _unused, _unused)


def test_without_a_network_lan_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "lan_address", lambda: None)
    with pytest.raises(InputError, match="no network"):
        serve(ServeQuestion(lan=True), _unused, _unused)


def test_when_all_ports_are_taken_it_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "free_port", lambda port, host: None)
    with pytest.raises(InputError, match="taken"):
        serve(ServeQuestion(port=4000), _unused, _unused)


def test_by_default_only_this_machine_is_listened_to(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: dict[str, object] = {}

    def config(app: object, **words: object) -> object:
        seen.update(words)
        raise KeyboardInterrupt

    monkeypatch.setattr(serving.uvicorn, "Config", config)
    with pytest.raises(KeyboardInterrupt):
        serve(ServeQuestion(port=0), _unused, _unused)
    assert seen["host"] == "127.0.0.1" and seen["proxy_headers"] is False


def test_an_invitation_keeps_the_code_out_of_what_is_sent() -> None:
    told = serving._invitation("192.168.7.2", 8331, "ACDEFGHJ")
    before, after = told.url.split("#")
    assert "ACDEFGHJ" not in before and after.endswith("ACDEFGHJ")
    assert told.code == "ACDE-FGHJ"


def test_the_qr_code_holds_the_address(capsys: pytest.CaptureFixture[str]) -> None:
    from leadsman.cli.serve_command import _print_invitation

    _print_invitation(serving._invitation("192.168.7.2", 8331, "ACDEFGHJ"))
    said = capsys.readouterr().out
    assert "http://192.168.7.2:8331/" in said and "ACDE-FGHJ" in said
    assert max(len(line) for line in said.splitlines()) <= 80


def test_a_taken_port_is_not_stolen() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        assert serving.free_port(taken.getsockname()[1], "127.0.0.1") != taken.getsockname()[1]
