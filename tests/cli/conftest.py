from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any, NamedTuple

import pytest

from leadsman.cli import run


class Reply(NamedTuple):
    """What a command came to."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> dict[str, Any]:
        loaded: dict[str, Any] = json.loads(self.out)
        return loaded


@pytest.fixture
def leadsman(
    capsys: pytest.CaptureFixture[str], tmp_path: Any, monkeypatch: pytest.MonkeyPatch
) -> Callable[..., Reply]:
    """Run a command in an empty folder and give its exit code and output."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "100")

    def ask(*words: str) -> Reply:
        code = run(list(words))
        captured = capsys.readouterr()
        return Reply(code, captured.out, captured.err)

    return ask
