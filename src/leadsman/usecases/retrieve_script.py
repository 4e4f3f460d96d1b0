"""The retrieve as a person writes it: "reel 12 turns low; stop 2 s; reel tip high"."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from leadsman.errors import QuantityError, TechniqueError
from leadsman.hydro.technique import Step
from leadsman.units import parse_length_m, parse_speed_m_s, parse_time_s

MAX_STEPS: Final = 400
"""Longest script after repeats; more would only slow the answer [-]."""

SNAP_SECONDS: Final = 0.3
"""A quick snap of the rod; common practice, no source [s]."""

SNAP_PULL_M: Final = 0.6
"""How far a snap draws the tip; common practice, no source [m]."""

RECOVER_SECONDS: Final = 0.6
"""Bringing the rod forward again after a snap; common practice, no source [s]."""

_FORMS: Final = (
    "Steps are: 'reel [12 turns | 8 s] [at 3 mph] [tip 2 ft]', 'stop 2 s', "
    "'lift to 6 ft in 1 s', 'snap [2 ft] [in 0.3 s]', and 'repeat' at the end"
)


@dataclass(frozen=True, slots=True)
class ScriptContext:
    """What the words of a script refer to.

    Parameters
    ----------
    speed : float
        Reel speed where a step names none: turns per second if
        `turn_m` is None and the technique has a take-up, else metres per second [m s-1].
    turn_m : float or None
        Line per handle turn where no take-up curve is known; None with one [m].
    in_turns : bool
        True if speeds are turns per second [-].
    tip_height : callable
        Gives the height of the tip for a word such as ``low`` [m].
    """

    speed: float
    turn_m: float | None
    in_turns: bool
    tip_height: Callable[[str], float]


def parse_script(text: str, context: ScriptContext, cast_m: float) -> tuple[Step, ...]:
    """Read a retrieve script.

    Parameters
    ----------
    text : str
        Steps separated by semicolons, line ends or "then" [-].
    context : ScriptContext
        What its words refer to [-].
    cast_m : float
        Length of the cast, which bounds how often ``repeat`` repeats [m].

    Raises
    ------
    TechniqueError
        A step cannot be read, or the script never reels.
    """
    lowered = text.lower()
    words = [part.strip() for part in re.split(r"[;\n]|\bthen\b", lowered) if part.strip()]
    if not words:
        raise TechniqueError("the script is empty", "retrieve", _FORMS)
    repeats = words[-1] == "repeat"
    if repeats:
        words = words[:-1]
    steps = [
        step
        for number, part in enumerate(words, start=1)
        for step in _parse_step(part, context, number)
    ]
    if not any(step.kind == "reel" for step in steps):
        raise TechniqueError("the script never reels", "retrieve", "Add a reel step")
    if repeats:
        steps = _repeat(steps, context, cast_m)
    if len(steps) > MAX_STEPS:
        raise TechniqueError(
            f"the script has {len(steps)} steps, more than {MAX_STEPS}", "retrieve", "Shorten it"
        )
    return tuple(steps)


def _repeat(steps: list[Step], context: ScriptContext, cast_m: float) -> list[Step]:
    per_turn = (context.turn_m or 0.5) if context.in_turns else 1.0
    taken = sum(
        step.seconds * step.speed_m_s * per_turn for step in steps if math.isfinite(step.seconds)
    )
    if taken <= 0.0 or any(math.isinf(step.seconds) for step in steps):
        raise TechniqueError(
            "a script that repeats needs an end on every reel step",
            "retrieve",
            "Write for example 'reel 5 turns; stop 1 s; repeat'",
        )
    rounds = min(math.ceil(1.5 * cast_m / taken), MAX_STEPS // len(steps))
    return steps * max(rounds, 1)


def _parse_step(part: str, context: ScriptContext, number: int) -> tuple[Step, ...]:
    where = f"retrieve step {number}"
    verb, _, rest = part.partition(" ")
    try:
        if verb == "reel":
            return (_reel(rest, context, where),)
        if verb in ("stop", "pause"):
            return (Step("stop", seconds=parse_time_s(rest, where)),)
        if verb in ("lift", "lower"):
            return (_lift(rest, context, where),)
        if verb == "snap":
            return _snap(rest, context, where)
    except (QuantityError, TechniqueError) as error:
        raise TechniqueError(f"{part!r}: {error.problem}", where, error.remedy or _FORMS) from error
    raise TechniqueError(f"unknown step {part!r}", where, _FORMS)


def _take(pattern: str, text: str) -> tuple[str | None, str]:
    """Cut the first match of a pattern out of the text."""
    match = re.search(pattern, text)
    if match is None:
        return None, text
    return match.group(1).strip(), (text[: match.start()] + " " + text[match.end() :]).strip()


def _tip(text: str, context: ScriptContext, where: str) -> float:
    return (
        context.tip_height(text) if re.fullmatch(r"[a-z]+", text) else parse_length_m(text, where)
    )


def _reel(rest: str, context: ScriptContext, where: str) -> Step:
    tip_text, rest = _take(r"\btip (?:at |to )?(.+?)(?= at |$)", rest)
    speed_text, rest = _take(r"\bat (.+)$", rest)
    turns_text, rest = _take(r"(\d+(?:\.\d+)?) turns?\b", rest)
    speed = context.speed
    if speed_text is not None:
        turns_per_s = re.fullmatch(
            r"(\d+(?:\.\d+)?) turns?(?:/| per | a )s(?:ec|econd)?", speed_text
        )
        if turns_per_s:
            rate = float(turns_per_s.group(1))
            speed = rate if context.in_turns else rate * _turn_m(context, where)
        else:
            metres = parse_speed_m_s(speed_text, where)
            speed = metres / _turn_m(context, where) if context.in_turns else metres
    tip_m = _tip(tip_text, context, where) if tip_text is not None else None
    rest = rest.strip()
    if rest in ("under", "low", "usual", "high"):
        tip_m, rest = context.tip_height(rest), ""
    seconds = math.inf
    if turns_text is not None:
        rate = speed if context.in_turns else speed / _turn_m(context, where)
        seconds = float(turns_text) / rate
    elif rest:
        seconds, rest = parse_time_s(rest, where), ""
    if rest:
        raise TechniqueError(f"do not understand {rest!r}", where, _FORMS)
    return Step("reel", seconds=seconds, speed_m_s=speed, tip_m=tip_m)


def _turn_m(context: ScriptContext, where: str) -> float:
    if context.turn_m is None:
        raise TechniqueError(
            "handle turns mean nothing without a reel",
            where,
            "Name a reel with --reel or the line per turn with --turn",
        )
    return context.turn_m


def _lift(rest: str, context: ScriptContext, where: str) -> Step:
    time_text, rest = _take(r"\bin (.+)$", rest)
    height = re.sub(r"^(?:tip )?to ", "", rest.strip())
    if not height:
        raise TechniqueError("a lift needs the height it ends at", where, _FORMS)
    seconds = parse_time_s(time_text, where) if time_text else 1.0
    return Step("sweep", seconds=seconds, tip_m=_tip(height, context, where))


def _snap(rest: str, context: ScriptContext, where: str) -> tuple[Step, ...]:
    """A pull of the rod, then the rod brought forward while the slack is reeled up."""
    time_text, rest = _take(r"\bin (.+)$", rest)
    seconds = parse_time_s(time_text, where) if time_text else SNAP_SECONDS
    pull = parse_length_m(rest, where) if rest.strip() else SNAP_PULL_M
    return (
        Step("sweep", seconds=seconds, pull_back_m=pull),
        Step("sweep", seconds=RECOVER_SECONDS, speed_m_s=context.speed, pull_back_m=-pull),
    )
