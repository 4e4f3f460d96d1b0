"""What is believed before the first cast: an outlook kept as JSON, or nothing in particular."""

from __future__ import annotations

import json
import math
from pathlib import Path

from leadsman.belief.levels import COLOUR_FAMILIES, COVERS, LADDER, SOUNDS
from leadsman.belief.log_rates import RatePrior
from leadsman.belief.outlook_prior import rate_prior
from leadsman.errors import LogError

BEST_BITES_PER_H = 4.0
"""Bites an hour expected of the best setup at the best place before the day has spoken [h-1].
Own assumption, wide: the prior's scatter spans about a fifth to five times it, and a few bites
or an hour without any outweigh it."""
MOST_BYTES = 5_000_000
SCHEMA = "leadsman.outlook/"
_LEVELS: dict[str, frozenset[str]] = {
    "depth": frozenset(str(i) for i in range(len(LADDER))),
    "cover": frozenset(COVERS),
    "sound": frozenset(SOUNDS),
    "colour": frozenset(COLOUR_FAMILIES),
}


def prior_of(outlook: Path | None, zone_m_per_h: float) -> tuple[RatePrior, str]:
    """The prior, and what it rests on in a sentence.

    Parameters
    ----------
    outlook : pathlib.Path or None
        JSON of ``leadsman outlook --json``; None prefers nothing [-].
    zone_m_per_h : float
        Zone fished in an hour now [m/h].

    Raises
    ------
    LogError
        The file is no outlook.
    """
    if outlook is None:
        prior = rate_prior(BEST_BITES_PER_H, zone_m_per_h, {})
        return prior, (
            "Starts from a flat wide guess, as no outlook was given: every depth, cover, sound "
            "and colour alike. Give --outlook to start better."
        )
    weights, headline = read_outlook(outlook)
    return rate_prior(BEST_BITES_PER_H, zone_m_per_h, weights), f"Starts from: {headline}"


def read_outlook(path: Path) -> tuple[dict[str, dict[str, float]], str]:
    """Relative rates by level and the headline of a kept outlook.

    Parameters
    ----------
    path : pathlib.Path
        JSON of ``leadsman outlook --json`` [-].

    Raises
    ------
    LogError
        The file is no outlook.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise LogError("the file is too large for an outlook", path)
        data = json.loads(path.read_text("utf-8-sig"))
    except OSError as error:
        raise LogError(f"cannot be read ({error.strerror})", path, "Check its name") from error
    except (ValueError, RecursionError):
        raise _no_outlook(path) from None
    if not isinstance(data, dict) or not str(data.get("schema", "")).startswith(SCHEMA):
        raise _no_outlook(path)
    given = data.get("rate_weights")
    if not isinstance(given, dict) or not given:
        raise _no_outlook(path)
    weights: dict[str, dict[str, float]] = {}
    for factor, levels in given.items():
        if factor not in _LEVELS or not isinstance(levels, dict):
            raise _no_outlook(path)
        for level, value in levels.items():
            number = isinstance(value, int | float) and not isinstance(value, bool)
            if level not in _LEVELS[factor] or not number or not 0.0 <= value < math.inf:
                raise _no_outlook(path)
        weights[factor] = {level: float(value) for level, value in levels.items()}
    return weights, str(data.get("headline", "an outlook"))[:400]


def _no_outlook(path: Path) -> LogError:
    return LogError(
        "this is no outlook", path, "Make one with: leadsman outlook --json > outlook.json"
    )
