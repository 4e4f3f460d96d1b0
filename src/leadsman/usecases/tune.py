"""What was learned of each lure, from which observation, and what to look for next."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from leadsman.calibrate.evidence import Fished
from leadsman.calibrate.learned import tune_kit, usual_setup
from leadsman.calibrate.next_observation import Candidate, Suggestion, next_observations
from leadsman.calibrate.off_true import OffTrue, off_true
from leadsman.calibrate.tune import RATED_DEPTH, Conflict, TunedLure, Tuning
from leadsman.display_units import DisplayUnits, display_units
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.observations import read_observations
from leadsman.tackle.line import line_properties, line_spread
from leadsman.tackle.lure import Lure
from leadsman.usecases.observe import observations_path
from leadsman.usecases.resolve_setup import load_kit

SUGGESTIONS = 3
"""Observations suggested for each lure [-]."""

CASTS = (1.0, 0.55)
"""Casts on which an observation is suggested, as shares of the usual one [-]."""


@dataclass(frozen=True, slots=True)
class TuneAnswer:
    """Every lure that was observed, before and after.

    Parameters
    ----------
    kit : Kit
        The kit [-].
    tuning : Tuning
        What was learned [-].
    off_true : tuple of OffTrue
        Lures that seem to run off [-].
    suggestions : dict of str to tuple of Suggestion
        What would teach most of each lure, by name [-].
    headline : str
        The answer in a sentence [-].
    """

    kit: Kit
    tuning: Tuning
    off_true: tuple[OffTrue, ...]
    suggestions: dict[str, tuple[Suggestion, ...]]
    headline: str

    @property
    def units(self) -> DisplayUnits:
        """Units the person reads in."""
        return display_units(self.kit.units)


def conflict_words(conflict: Conflict, units: DisplayUnits) -> str:
    """What does not agree, with what, one sentence.

    Parameters
    ----------
    conflict : Conflict
        What the rest contradicts [-].
    units : DisplayUnits
        Units to speak in [-].
    """
    wrong = f"{conflict.chance * 100:.0f} in 100 that it is plainly wrong"
    others, said_m = conflict.others, conflict.said_m
    if others is None or said_m is None:
        return f"{conflict.label} does not agree with the rest ({wrong})."
    rest = units.depth.band(others.low_m, others.high_m)
    if conflict.label == RATED_DEPTH:
        return (
            f"its rated depth of {units.depth.text(said_m)} does not agree with what you saw, "
            f"which puts it at {rest} in the test the rating is for; what you saw is believed."
        )
    return (
        f"{conflict.label} does not agree with the rest, by which it runs {rest} there ({wrong})."
    )


def tune_lures(
    kit_path: Path | None,
    lure: str | None = None,
    units: str | None = None,
    progress: Callable[[str], None] | None = None,
) -> TuneAnswer:
    """Fit the lures of a kit to what was seen of them.

    Parameters
    ----------
    kit_path : pathlib.Path or None
        Kit file; None takes ``kit.toml`` here [-].
    lure : str or None
        Suggest observations for this lure too, observed or not [-].
    units : str or None
        Units to answer in; None is as the kit says [-].
    progress : callable or None
        Told the name of each lure as it is begun [-].

    Raises
    ------
    InputError
        There is no kit file of one's own, or it or the observations cannot be read.
    """
    kit, _ = load_kit(kit_path)
    observations = observations_path(kit)
    if units is not None:
        kit = replace(kit, units=display_units(units).name)
    asked = kit.lure(lure) if lure else None
    tuning = tune_kit(kit, observations, progress)
    off = off_true(tuning.lures, read_observations(observations))
    suggestions = {
        item.lure.name: _suggest(kit, item)
        for item in tuning.lures
        if asked is None or item.lure.name == asked.name
    }
    shown = tuning.lures
    if asked is not None:
        shown = tuple(item for item in shown if item.lure.name == asked.name) or shown
    told = _headline(replace(tuning, lures=shown), off, kit)
    return TuneAnswer(kit, tuning, off, suggestions, told)


def _suggest(kit: Kit, item: TunedLure) -> tuple[Suggestion, ...]:
    usual = usual_setup(kit, item.lure)
    candidates = [
        Candidate("ticked", _label(item.lure, line.name, cast, kit), fished)
        for line in kit.lines
        for cast in (share * usual.technique.cast_m for share in CASTS)
        for fished in (
            Fished(
                line_properties(line),
                line.name,
                line_spread(line).diameter_log_sd,
                replace(usual.technique, cast_m=cast),
            ),
        )
    ]
    candidates.append(Candidate("pull", "pull on a scale at walking pace, on short line", None))
    return next_observations(item.belief, candidates, [usual])[:SUGGESTIONS]


def _label(lure: Lure, line: str, cast_m: float, kit: Kit) -> str:
    units = display_units(kit.units)
    return f"tick a known bottom with {lure.name} on {line}, {units.distance.text(cast_m)} cast"


def _headline(tuning: Tuning, off: tuple[OffTrue, ...], kit: Kit) -> str:
    units = display_units(kit.units)
    if not tuning.lures:
        return "Nothing was observed yet: note a tick with leadsman observe."
    best = max(tuning.lures, key=lambda item: item.prior_band.width_m - item.band.width_m)
    now = units.depth.band(best.band.low_m, best.band.high_m)
    before = units.depth.band(best.prior_band.low_m, best.prior_band.high_m)
    told = f"{best.lure.name} runs {now} on its usual setup (9 in 10); before it was {before}."
    if off:
        told += f" Look at {off[0].lure}: {off[0].reason}."
    return told


def dive_angle_deg(item: TunedLure) -> tuple[float, float]:
    """Dive angle before and after [deg].

    Parameters
    ----------
    item : TunedLure
        A tuned lure [-].
    """
    return (
        math.degrees(item.fit.forces.dive_angle_rad),
        math.degrees(item.belief.centre.dive_angle_rad),
    )
