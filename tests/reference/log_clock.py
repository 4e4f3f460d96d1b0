"""A clock that tests set, so that a whole day on the water passes in a moment."""

from __future__ import annotations

import calendar
import time
from collections.abc import Callable
from typing import Any

import pytest

from leadsman.usecases import log_book

DAY = (2026, 6, 21)


class Water:
    """A day on the water: commands at moments of the clock."""

    def __init__(self, run: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
        self._run = run
        self.now = self.at(6, 0)
        monkeypatch.setenv("TZ", "UTC")
        time.tzset()
        monkeypatch.setattr(log_book.time, "time", lambda: self.now)
        monkeypatch.setattr(log_book, "_steady_clock", lambda: (None, None))

    def at(self, hour: int, minute: int, day: int = 0) -> float:
        """Unix time of a moment of the day [s]."""
        year, month, first = DAY
        return float(calendar.timegm((year, month, first + day, hour, minute, 0)))

    def go(self, moment: str, *words: str, day: int = 0) -> Any:
        """Set the clock to "6:40" and run a command that must work."""
        hour, minute = (int(part) for part in moment.split(":"))
        self.now = self.at(hour, minute, day)
        reply = self._run(*words)
        assert reply.code == 0, (words, reply.err)
        return reply

    def log(self, moment: str, text: str, day: int = 0) -> Any:
        """Set the clock and write `leadsman log` words."""
        return self.go(moment, "log", *text.split(), day=day)
