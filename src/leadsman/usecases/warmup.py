"""Compile the kernels once, so that no later answer waits for it."""

from __future__ import annotations

import time
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WarmupAnswer:
    """How long each kernel took.

    Parameters
    ----------
    seconds : tuple of (str, float)
        Kernel and its time to compile or load [s].
    """

    seconds: tuple[tuple[str, float], ...]

    @property
    def headline(self) -> str:
        """The answer in a sentence."""
        total = sum(spent for _, spent in self.seconds)
        return f"Ready: {len(self.seconds)} kernels compiled or loaded in {total:.1f} s."


def warm_up() -> WarmupAnswer:
    """Compile every kernel, or load it where that was done before."""
    from leadsman.hydro import retrieve, tow

    spent: list[tuple[str, float]] = []
    for name, kernel in (("retrieve", retrieve.warm_up), ("tow", tow.warm_up)):
        started = time.perf_counter()
        kernel()
        spent.append((name, time.perf_counter() - started))
    return WarmupAnswer(tuple(spent))
