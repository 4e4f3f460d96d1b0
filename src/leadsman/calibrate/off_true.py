"""Lures that do not run as they should: to one side, or suddenly shallower."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leadsman.calibrate.tune import TunedLure
from leadsman.kitfile.observation import Observation

Reason = Literal["runs to one side", "suddenly shallower", "shallower than its copies"]

WHAT_TO_CHECK = (
    "the line tie is bent or has turned",
    "the lip is loose, cracked or chipped",
    "a hook or split ring is bent, fouled or changed for a heavier one",
    "weed or line is caught on it",
    "the body lets in water",
)
"""What makes a lure run off; common practice, no source."""
LATEST = 2
"""Observations at the end that have to agree before a lure is called changed [-]; our choice."""


@dataclass(frozen=True, slots=True)
class OffTrue:
    """A lure that is suspected of running off.

    Parameters
    ----------
    lure : str
        Lure [-].
    reason : str
        Why it is suspected [-].
    detail : str
        What speaks for it: a side, or labels of observations [-].
    check : tuple of str
        What to look at, likeliest first [-].
    """

    lure: str
    reason: Reason
    detail: str
    check: tuple[str, ...] = WHAT_TO_CHECK


def off_true(
    tuned: Sequence[TunedLure], observations: Sequence[Observation]
) -> tuple[OffTrue, ...]:
    """Lures to look at before they are trusted.

    Parameters
    ----------
    tuned : sequence of TunedLure
        Lures as learned [-].
    observations : sequence of Observation
        Rows of the file [-].

    Returns
    -------
    tuple of OffTrue
        One for each suspicion.
    """
    found = _one_sided(observations)
    for lure in tuned:
        latest = [lesson.label for lesson in lure.taught[-LATEST:]]
        shallower = [c.label for c in lure.conflicts if c.shallower and c.label in latest]
        if latest and latest[-1] in shallower:
            found.append(OffTrue(lure.lure.name, "suddenly shallower", "; ".join(shallower)))
    return tuple(found + _copies(tuned))


def _one_sided(observations: Sequence[Observation]) -> list[OffTrue]:
    """Lures that ran to one side when last seen; they need not have taught anything else."""
    by_lure: dict[str, list[Observation]] = {}
    for row in sorted(observations, key=lambda row: row.day):
        by_lure.setdefault(row.lure.strip().casefold(), []).append(row)
    sides = ((rows[0].lure.strip(), _side_now(rows)) for rows in by_lure.values())
    return [OffTrue(name, "runs to one side", side) for name, side in sides if side is not None]


def _side_now(rows: Sequence[Observation]) -> str | None:
    """Side to which a lure ran last, unless it was retuned since."""
    side: str | None = None
    for row in rows:
        if row.kind == "retuned":
            side = None
        elif row.off_true is not None:
            side = row.off_true
    return side


def _copies(tuned: Sequence[TunedLure]) -> list[OffTrue]:
    """Copies of one model whose bands, on the same setup, do not meet."""
    found: list[OffTrue] = []
    for lure in tuned:
        if lure.lure.model is None or not lure.taught:
            continue
        for other in tuned:
            same = other is not lure and other.lure.model == lure.lure.model
            if same and other.taught and lure.band.high_m < other.band.low_m:
                name = lure.lure.name
                found.append(OffTrue(name, "shallower than its copies", other.lure.name))
                break
    return found
