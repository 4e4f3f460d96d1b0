"""What the day may ask, as a person writes it: "11 ft grass 30 %; 15 ft edge 40 %"."""

from __future__ import annotations

import re

from leadsman.errors import PlanError, QuantityError
from leadsman.plan.cover_needs import GROUNDS, Ground
from leadsman.units import parse_length_m
from leadsman.usecases.rig import Target

_REMEDY = "Write for example '11 ft grass 30 %; 15 ft edge 40 %; 20 ft drop 30 %'"


def parse_targets(text: str) -> tuple[Target, ...]:
    """Read the targets of the day.

    Parameters
    ----------
    text : str
        Depth, kind of ground and chance of each, by semicolons or commas; a
        range of depths is two targets that share the chance; without a chance
        each counts the same [-].

    Raises
    ------
    PlanError
        It cannot be read.
    """
    found: list[Target] = []
    for part in (item.strip() for item in re.split(r"[;,]", text)):
        if part:
            found += _parse(part)
    if not found:
        raise PlanError("there is nothing to rig for", "--for", _REMEDY)
    return tuple(found)


def _parse(part: str) -> list[Target]:
    words = "|".join(GROUNDS)
    match = re.fullmatch(rf"(.+?)\s+({words})(?:\s+([\d.]+)\s*%?)?", part, re.IGNORECASE)
    if match is None:
        raise PlanError(
            f"cannot read {part[:60]!r}", "--for", f"{_REMEDY}; grounds are {', '.join(GROUNDS)}"
        )
    depth_text, word, chance_text = match.groups()
    ground: Ground = next(item for item in GROUNDS if item == word.lower())
    try:
        chance = float(chance_text) if chance_text else 1.0
        ends = re.fullmatch(r"([\d.]+)\s*-\s*([\d.]+\s*\D+)", depth_text)
        if ends is None:
            return [Target(ground, parse_length_m(depth_text, "--for"), chance)]
        deep = parse_length_m(ends.group(2), "--for")
        unit = re.sub(r"[\d.\s]", "", ends.group(2))
        shallow = parse_length_m(f"{ends.group(1)} {unit}", "--for")
    except (ValueError, QuantityError) as error:
        raise PlanError(f"cannot read {part[:60]!r}", "--for", _REMEDY) from error
    return [Target(ground, shallow, 0.5 * chance), Target(ground, deep, 0.5 * chance)]
