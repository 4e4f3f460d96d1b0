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
    parts = (("retrieve", retrieve.warm_up), ("tow", tow.warm_up), ("cast and zone", _answers))
    for name, kernel in parts:
        started = time.perf_counter()
        kernel()
        spent.append((name, time.perf_counter() - started))
    return WarmupAnswer(tuple(spent))


def _answers() -> None:
    """Ask what the pages ask, so that every kernel behind an answer is met once."""
    from leadsman.hydro.cast_flight import Wind
    from leadsman.kitfile.template import demo_kit
    from leadsman.usecases.depth import find_depth
    from leadsman.usecases.levers import find_levers
    from leadsman.usecases.questions import (
        BottomQuestion,
        DepthQuestion,
        GrassQuestion,
        RawLine,
        RawLure,
        SetupQuestion,
        TechniqueQuestion,
    )
    from leadsman.usecases.resolve_technique import thrower_of

    thrower_of(demo_kit())
    setup = SetupQuestion(raw_lure=RawLure(0.45, 20e-4), raw_line=RawLine(0.3e-3))
    way = TechniqueQuestion(cast_m=20.0, tip=0.5)
    grounds = (
        BottomQuestion(),
        BottomQuestion("2 m"),
        BottomQuestion("2 m, 3 m", grass=GrassQuestion(1.8)),
    )
    for ground in grounds:
        question = DepthQuestion(setup, way, ground)
        find_depth(question, Wind(1.0), draws=32)
        find_levers(question)
