"""What to change, if anything: the core of the advice, free of I/O.

Each option is worth what it is expected to give over the time that still
counts, its change paid for, if it is tried for a while and then kept or left
for the best other one, whichever the trial says: one step of looking ahead,
summed exactly over the counts a trial can bring (the knowledge gradient of
Frazier, Powell & Dayanik 2008, SIAM J. Control Optim. 47:2410-2439, from
memory, with the Gamma-Poisson law in place of the normal). Staying is valued
the same way, so the advice fidgets only when trying is worth its price.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from leadsman.belief.gamma_poisson import GammaRate
from leadsman.belief.levels import Cell
from leadsman.waterlog.change import USUAL_CHANGE, ChangeSettings, Status, Stint, fading, status
from leadsman.waterlog.reading import Cause, Reading, mixed_rates

Change = Literal["sound", "depth", "colour", "work", "cover", "place"]
Verdict = Literal["stay", "change"]
# No trial brings more bites than this; a count that high is not waited for.
MOST_COUNTED = 400
# The order in which equal gains are named: cheapest and most often right first.
CHANGES: tuple[Change, ...] = ("sound", "depth", "colour", "work", "cover", "place")


@dataclass(frozen=True, slots=True)
class Option:
    """Something that can be fished next.

    Parameters
    ----------
    name : str
        Identity, given back in the advice [-].
    cell : Cell
        What it fishes [-].
    zone_m_per_h : float
        Zone it fishes in an hour, from the physics [m/h].
    change_min : float
        Time to get there from what is fished now: other rod, snap, retie,
        move [min].
    """

    name: str
    cell: Cell
    zone_m_per_h: float
    change_min: float


@dataclass(frozen=True, slots=True)
class AdviceSettings:
    """How eager the advice is.

    Parameters
    ----------
    trial_h : float
        How long a change is tried before it is judged [h].
    lasting_h : float
        How long a pattern is worth counting on [h].
    least_gain : float
        Bites a change must promise to be named [-].
    share, share_on : float
        The same as a share of what staying promises: usually, and while the
        present stint is going [-].
    sure, sure_on : float
        Least chance of being better that a change must have: usually, and
        while the present stint is going [-].
    going : int
        Bites from which a stint counts as going: it is left alone then unless
        a change is both likely and worth much [-].
    fading : float
        Score above which such a stint counts as fading, so that a change may
        be named before the stop is certain [-].
    quiet_h : float
        Least time between two suggestions, as the angler set it [h].
    most_per_h : float
        Most suggestions an hour, as the angler set it [h-1].
    show : int
        How many options to rank in the answer [-].
    """

    trial_h: float = 0.25
    lasting_h: float = 4.0
    least_gain: float = 0.1
    share: float = 0.05
    share_on: float = 0.2
    sure: float = 0.4
    sure_on: float = 0.8
    going: int = 2
    fading: float = 500.0
    quiet_h: float = 0.25
    most_per_h: float = 4.0
    show: int = 5


USUAL = AdviceSettings()


@dataclass(frozen=True, slots=True)
class Ranked:
    """An option with what it promises.

    Parameters
    ----------
    option : Option
        The option [-].
    changes : tuple of str
        What differs from what is fished now; empty for staying [-].
    gain : float
        Bites more than staying over the time that counts, change paid [-].
    bites_per_h : float
        Expected bites an hour once there [h-1].
    chance_better : float
        Chance that its rate per hour is above that of staying [-].
    least_bites : int
        Fewer bites than this in the trial and it should be left [-].
    """

    option: Option
    changes: tuple[Change, ...]
    gain: float
    bites_per_h: float
    chance_better: float
    least_bites: int


@dataclass(frozen=True, slots=True)
class Advice:
    """What the log says to do.

    Parameters
    ----------
    verdict : {"stay", "change"}
        The answer [-].
    best : Ranked
        The option to take; staying itself if that is the answer [-].
    here : Ranked
        Staying [-].
    status : str
        Of the present stint: not started, on or stopped [-].
    causes : tuple of (str, float)
        What the last stop may be due to, most likely first; empty while there
        is one account only [-].
    held_back : bool
        A change is worth naming, but the angler wants quiet for now [-].
    trial_min : float
        How long to try before judging by `least_bites` [min].
    ranked : tuple of Ranked
        The best options, best first [-].
    """

    verdict: Verdict
    best: Ranked
    here: Ranked
    status: str
    causes: tuple[tuple[Cause, float], ...]
    held_back: bool
    trial_min: float
    ranked: tuple[Ranked, ...]


def advise(
    reading: Reading,
    here: Option,
    options: tuple[Option, ...],
    hours_left: float,
    told_at_h: tuple[float, ...] = (),
    settings: AdviceSettings = USUAL,
    change: ChangeSettings = USUAL_CHANGE,
) -> Advice:
    """Say what to fish next.

    Parameters
    ----------
    reading : Reading
        What the log says so far [-].
    here : Option
        What is fished now, its change free [-].
    options : tuple of Option
        What else could be fished [-].
    hours_left : float
        Time left to fish [h].
    told_at_h : tuple of float
        When suggestions were made before, hours since the start [h].
    settings : AdviceSettings
        How eager to be [-].
    change : ChangeSettings
        The detector's weights [-].
    """
    others = tuple(o for o in options if o.cell != here.cell)
    reading = _with_room(reading, (here, *others))
    rates = mixed_rates(reading.hypotheses, [o.cell for o in (here, *others)])
    table = _values((here, *others), rates, max(hours_left, 0.0), settings)
    staying = table[0][0]
    rows = [
        (value - staying, changes_between(here.cell, option.cell), option, rate, least)
        for option, rate, (value, least) in zip((here, *others), rates, table, strict=True)
    ]
    stay = _ranked(reading, here, rows[0])
    rows.sort(key=lambda row: (-round(row[0], 9), _order(row[1])))
    order = [_ranked(reading, here, row) for row in rows[: settings.show]]
    best = order[0]
    stint, state = _stint(reading, here.cell, change)
    going = len(stint.bites_at_m) >= settings.going
    on = going and fading(stint, settings.going, change) < settings.fading
    least_chance = settings.sure_on if on else settings.sure
    least_share = settings.share_on if on else settings.share
    worth = (
        best.gain >= max(settings.least_gain, least_share * staying)
        and best.chance_better >= least_chance
    )
    hushed = _wants_quiet(reading.t_h, told_at_h, settings)
    verdict: Verdict = "change" if worth and not hushed and bool(best.changes) else "stay"
    return Advice(
        verdict=verdict,
        best=best if verdict == "change" else stay,
        here=stay,
        status=state,
        causes=_causes(reading),
        held_back=worth and hushed and bool(best.changes),
        trial_min=60.0 * min(settings.trial_h, max(hours_left, 0.0)),
        ranked=tuple(order),
    )


def changes_between(old: Cell, new: Cell) -> tuple[Change, ...]:
    """What differs between two cells, in the order of `CHANGES` [-].

    Parameters
    ----------
    old, new : Cell
        Cells [-].
    """
    return tuple(name for name in CHANGES if getattr(old, name) != getattr(new, name))


def trial_value(
    rate: GammaRate,
    zone_m_per_h: float,
    trial_h: float,
    rest_h: float,
    otherwise: float,
) -> tuple[float, int]:
    """Expected bites of trying for a while and then keeping or leaving [-].

    Parameters
    ----------
    rate : GammaRate
        Belief over the option's rate [-].
    zone_m_per_h : float
        Zone it fishes in an hour [m/h].
    trial_h, rest_h : float
        Length of the trial and of the time after it [h].
    otherwise : float
        Bites the best other option would give after the trial, its change
        paid [-].

    Returns
    -------
    float
        Expected bites over trial and rest [-].
    int
        Least count in the trial for which keeping is right [-].
    """
    mean_per_h = rate.mean_per_m * zone_m_per_h
    zone_m = zone_m_per_h * trial_h
    # Keeping is right from y on: (shape + y) / (effort + zone) * zone_m_per_h * rest > otherwise.
    keep_per_bite = zone_m_per_h * rest_h / (rate.effort_m + zone_m)
    if keep_per_bite <= 0.0:
        return mean_per_h * trial_h + max(otherwise, 0.0), 0
    needed = otherwise / keep_per_bite - rate.shape
    if needed > MOST_COUNTED:
        return mean_per_h * trial_h + max(otherwise, mean_per_h * rest_h), MOST_COUNTED
    least = max(math.ceil(needed), 0)
    below = rate.count_chances(zone_m, least)[:least]
    p_below = sum(below)
    y_below = sum(y * p for y, p in enumerate(below))
    y_above = mean_per_h * trial_h - y_below
    kept = keep_per_bite * (rate.shape * (1.0 - p_below) + y_above)
    return mean_per_h * trial_h + kept + p_below * otherwise, least


def _stint(reading: Reading, cell: Cell, change: ChangeSettings) -> tuple[Stint, Status]:
    """The present stint and its status; one that was just called stopped stays so."""
    if cell not in reading.watches:
        died = bool(reading.stops) and reading.stops[-1].cell == cell
        return Stint(), "stopped" if died else "not started"
    stint = reading.watches[cell].stint
    return stint, status(stint, change)


def _values(
    options: tuple[Option, ...],
    rates: list[GammaRate],
    hours_left: float,
    settings: AdviceSettings,
) -> list[tuple[float, int]]:
    """Value in bites of each option, the first being to stay; and its least count."""
    counts_h = settings.lasting_h * (1.0 - math.exp(-hours_left / settings.lasting_h))
    per_h = np.array([r.mean_per_m * o.zone_m_per_h for r, o in zip(rates, options, strict=True)])
    change_h = np.array([o.change_min / 60.0 for o in options])
    values: list[tuple[float, int]] = []
    for i, (option, rate) in enumerate(zip(options, rates, strict=True)):
        left_h = counts_h - option.change_min / 60.0
        if left_h <= 0.0:
            values.append((0.0, 0))
            continue
        trial_h = min(settings.trial_h, left_h)
        rest_h = left_h - trial_h
        # From a trial back to what is fished now costs the same change again; to a third option
        # no less than the dearer of the two.
        lost_h = np.maximum(change_h, change_h[i])
        after = per_h * np.maximum(rest_h - lost_h, 0.0)
        after[i] = 0.0
        otherwise = float(after.max())
        values.append(trial_value(rate, option.zone_m_per_h, trial_h, rest_h, otherwise))
    return values


def _with_room(reading: Reading, options: tuple[Option, ...]) -> Reading:
    cells = [o.cell for o in options]
    return replace(
        reading,
        hypotheses=tuple(replace(h, belief=h.belief.with_cells(cells)) for h in reading.hypotheses),
    )


def _ranked(
    reading: Reading, here: Option, row: tuple[float, tuple[Change, ...], Option, GammaRate, int]
) -> Ranked:
    gain, changes, option, rate, least = row
    chance = _chance_better(reading, option, here) if changes else 0.5
    return Ranked(option, changes, gain, rate.mean_per_m * option.zone_m_per_h, chance, least)


def _chance_better(reading: Reading, option: Option, here: Option) -> float:
    ratio = math.log(max(option.zone_m_per_h, 1e-9) / max(here.zone_m_per_h, 1e-9))
    return sum(
        h.weight * h.belief.chance_better(option.cell, here.cell, ratio) for h in reading.hypotheses
    )


def _wants_quiet(t_h: float, told_at_h: tuple[float, ...], settings: AdviceSettings) -> bool:
    if not told_at_h:
        return False
    if t_h - max(told_at_h) < settings.quiet_h - 1e-9:
        return True
    within = sum(1 for told in told_at_h if t_h - told < 1.0)
    return within >= settings.most_per_h


def _order(changes: tuple[Change, ...]) -> tuple[int, int]:
    if not changes:
        return (0, -1)
    return (len(changes), CHANGES.index(changes[0]))


def _causes(reading: Reading) -> tuple[tuple[Cause, float], ...]:
    if len(reading.hypotheses) == 1:
        return ()
    return tuple(sorted(((h.cause, h.weight) for h in reading.hypotheses), key=lambda cw: -cw[1]))
