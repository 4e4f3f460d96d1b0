"""Reading the day: blocks of fishing become beliefs, and stops get causes.

Pure arithmetic, no I/O. Fish do not announce a change, so several accounts of
the day are kept side by side: all as it was; tired of this sound; the liked
colour turned; another depth; left the place; stopped everywhere. At every
block each account may turn into another with a small chance, and each is
weighed by how well it foretold the bites: a multi-process model (Harrison &
Stevens 1976, J. R. Stat. Soc. B 38:205-247, from memory), its accounts of one
cause merged by their moments.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from leadsman.belief.gamma_poisson import GammaRate
from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import RateBelief, RatePrior
from leadsman.waterlog.change import USUAL_CHANGE, ChangeSettings, Stint, status

Cause = Literal["steady", "plan", "sound", "colour", "depth", "gone", "off"]


@dataclass(frozen=True, slots=True)
class Block:
    """Fishing in one cell between two moments.

    Parameters
    ----------
    t_h : float
        End of the block, hours since the start of the day [h].
    cell : Cell
        What was fished [-].
    zone_m : float
        Zone fished [m].
    bites : int
        Bites, the last at the end of the block [-].
    """

    t_h: float
    cell: Cell
    zone_m: float
    bites: int


@dataclass(frozen=True, slots=True)
class CauseSettings:
    """How often things change, and by how much.

    All are assumptions with their reasons in docs/log-and-advice.md; that a
    spot tires of a sound after 15 to 20 fish is common practice (no source).

    Parameters
    ----------
    sound_per_h, colour_per_h, depth_per_h, gone_per_h, off_per_h : float
        Chance per hour of each change [h-1].
    tire_per_bite : float
        Further chance with each bite that a place tires of a sound, between
        `tire_from` and `tire_to` bites there [-].
    tire_from, tire_to : int
        Those bites [-].
    drop : float
        Fall of the log rate that a change brings: about a tenth is left [-].
    elsewhere, depth_elsewhere : float
        Rise of the log rate with the other colours or sound, and at the other
        depths, after such a change: the fish went somewhere [-].
    spread, spread_elsewhere : float
        Standard deviation of the fall and of the rise, the latter greater
        because it is not known where they went [-].
    away_h : float
        A stint left for longer than this starts afresh [h].
    trust : float
        How far a block counts in weighing the accounts: bites come in bursts,
        so a lull says less than independent bites would (a power likelihood) [-].
    """

    sound_per_h: float = 0.04
    colour_per_h: float = 0.03
    depth_per_h: float = 0.12
    gone_per_h: float = 0.04
    off_per_h: float = 0.03
    tire_per_bite: float = 0.05
    tire_from: int = 13
    tire_to: int = 22
    drop: float = -2.3
    elsewhere: float = 0.2
    depth_elsewhere: float = 0.6
    spread: float = 0.5
    spread_elsewhere: float = 0.8
    away_h: float = 0.75
    trust: float = 0.7


USUAL_CAUSES = CauseSettings()


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One account of the day.

    Parameters
    ----------
    cause : str
        What it says changed last [-].
    weight : float
        Its probability [-].
    belief : RateBelief
        The rates if it is so [-].
    """

    cause: Cause
    weight: float
    belief: RateBelief


@dataclass(frozen=True, slots=True)
class Stop:
    """A stint that was on and stopped.

    Parameters
    ----------
    t_h : float
        When it was called [h].
    cell : Cell
        Where and with what [-].
    bites : int
        Bites it gave [-].
    """

    t_h: float
    cell: Cell
    bites: int


@dataclass(frozen=True, slots=True)
class Watch:
    """A stint under watch.

    Parameters
    ----------
    stint : Stint
        Effort and bites [-].
    last_h : float
        When it was last fished [h].
    """

    stint: Stint
    last_h: float


@dataclass(frozen=True, slots=True)
class Reading:
    """All that the log of the day says so far.

    Parameters
    ----------
    t_h : float
        Time of the last block [h].
    hypotheses : tuple of Hypothesis
        Accounts of the day with their weights, which sum to 1 [-].
    watches : dict of Cell to Watch
        Stints not left for long [-].
    stops : tuple of Stop
        Stops called, oldest first [-].
    """

    t_h: float
    hypotheses: tuple[Hypothesis, ...]
    watches: dict[Cell, Watch] = field(default_factory=dict)
    stops: tuple[Stop, ...] = ()


def begin(
    prior: RatePrior, cells: Iterable[Cell] = (), doubt: float = 0.3, asleep: float = 0.15
) -> Reading:
    """The reading before the first cast: the outlook, and the doubt that it is off.

    Parameters
    ----------
    prior : RatePrior
        What the outlook says [-].
    cells : iterable of Cell
        Cells that will be asked about [-].
    doubt : float
        Chance that the outlook knows nothing of where and how they bite [-].
    asleep : float
        Chance that they do not bite yet, wherever and however [-].
    """
    cells = tuple(cells)
    start = RateBelief.start(prior, cells)
    accounts = [Hypothesis("steady", 1.0 - doubt - asleep, start)]
    if doubt > 0.0:
        accounts.append(Hypothesis("plan", doubt, RateBelief.start(_flat(prior), cells)))
    if asleep > 0.0:
        drop = _only(start, {"all=": USUAL_CAUSES.drop})
        accounts.append(Hypothesis("off", asleep, start.moved(drop, USUAL_CAUSES.spread)))
    return Reading(0.0, tuple(accounts))


def _flat(prior: RatePrior) -> RatePrior:
    """A prior of the same average that prefers nothing."""
    by_factor: dict[str, list[float]] = {}
    for key, mean in prior.means.items():
        by_factor.setdefault(key.split("=", 1)[0], []).append(mean)
    level = sum(sum(means) / len(means) for means in by_factor.values())
    return RatePrior(prior.log_rate + level, prior.factors)


def observe(
    reading: Reading,
    block: Block,
    change: ChangeSettings = USUAL_CHANGE,
    causes: CauseSettings = USUAL_CAUSES,
) -> Reading:
    """The reading after one more block.

    Parameters
    ----------
    reading : Reading
        The reading before [-].
    block : Block
        What was fished since; a block that ends before the last one counts
        as no time [-].
    change : ChangeSettings
        The detector's weights [-].
    causes : CauseSettings
        How often things change [-].
    """
    t_h = max(block.t_h, reading.t_h)
    hours = t_h - reading.t_h
    watches = {
        cell: watch
        for cell, watch in reading.watches.items()
        if t_h - watch.last_h <= causes.away_h
    }
    before = watches[block.cell].stint if block.cell in watches else Stint()
    hypotheses = tuple(
        Hypothesis(h.cause, h.weight, h.belief.with_cells((block.cell,)).after(hours))
        for h in reading.hypotheses
    )
    hypotheses = _weigh(hypotheses, block, causes)
    stint = before.fished(block.zone_m, block.bites)
    hypotheses = _change(hypotheses, block, hours, len(stint.bites_at_m), causes)
    stops = reading.stops
    watches[block.cell] = Watch(stint, t_h)
    if status(stint, change) == "stopped":
        stops = (*stops, Stop(t_h, block.cell, len(stint.bites_at_m)))
        del watches[block.cell]
    return Reading(t_h, hypotheses, watches, stops)


def merged(hypotheses: tuple[Hypothesis, ...]) -> RateBelief:
    """One belief with the mean and covariance of a mixture.

    Parameters
    ----------
    hypotheses : tuple of Hypothesis
        Accounts with the same effects [-].
    """
    first = hypotheses[0].belief
    if len(hypotheses) == 1:
        return first
    weights = np.array([h.weight for h in hypotheses])
    weights /= weights.sum()
    means = np.array([h.belief.mean for h in hypotheses])
    mean = weights @ means
    off = means - mean
    cov = (off.T * weights) @ off
    for weight, h in zip(weights.tolist(), hypotheses, strict=True):
        cov += weight * h.belief.cov
    return first.with_moments(mean, cov)


def mixed_rates(hypotheses: tuple[Hypothesis, ...], cells: Sequence[Cell]) -> list[GammaRate]:
    """Gammas with the mean and variance of the cells' rates over all accounts.

    Parameters
    ----------
    hypotheses : tuple of Hypothesis
        Accounts [-].
    cells : sequence of Cell
        Cells, known to every account [-].
    """
    mean, square = np.zeros(len(cells)), np.zeros(len(cells))
    for h in hypotheses:
        shape, effort_m = h.belief.rates(cells)
        mean += h.weight * shape / effort_m
        square += h.weight * shape * (shape + 1.0) / effort_m**2
    return [
        GammaRate.from_moments(float(m), float(s - m * m))
        for m, s in zip(mean, square, strict=True)
    ]


def silence_chance(rate: GammaRate, zone_m: float) -> float:
    """Chance of no bite over some fishing though the belief is right [-].

    Parameters
    ----------
    rate : GammaRate
        The belief before that fishing [-].
    zone_m : float
        Zone fished [m].
    """
    return math.exp(-rate.shape * math.log1p(zone_m / rate.effort_m))


def _change(
    hypotheses: tuple[Hypothesis, ...],
    block: Block,
    hours: float,
    bites_so_far: int,
    causes: CauseSettings,
) -> tuple[Hypothesis, ...]:
    """Let each account turn into others, and merge what has the same cause."""
    tires = block.bites if causes.tire_from <= bites_so_far <= causes.tire_to else 0
    chance: dict[Cause, float] = {
        "sound": hours * causes.sound_per_h + tires * causes.tire_per_bite,
        "colour": hours * causes.colour_per_h,
        "depth": hours * causes.depth_per_h,
        "gone": hours * causes.gone_per_h,
        "off": hours * causes.off_per_h,
    }
    slots: dict[Cause, list[Hypothesis]] = {}
    stays = 1.0 - sum(chance.values())
    for h in hypotheses:
        slots.setdefault(h.cause, []).append(Hypothesis(h.cause, h.weight * stays, h.belief))
    whole = merged(hypotheses)
    for cause, share in chance.items():
        down, up = _shifts(whole, block.cell, cause, causes)
        moved = whole.moved(down, causes.spread).moved(up, causes.spread_elsewhere)
        slots.setdefault(cause, []).append(Hypothesis(cause, share, moved))
    return tuple(
        Hypothesis(cause, sum(h.weight for h in same), merged(tuple(same)))
        for cause, same in slots.items()
        if sum(h.weight for h in same) > 0.0
    )


def _weigh(
    hypotheses: tuple[Hypothesis, ...], block: Block, causes: CauseSettings
) -> tuple[Hypothesis, ...]:
    """Let a block speak in each account, and weigh them by how well they foretold it."""
    seen = [h.belief.seen_with_chance(block.cell, block.bites, block.zone_m) for h in hypotheses]
    weights = [
        h.weight * chance**causes.trust for h, (_, chance) in zip(hypotheses, seen, strict=True)
    ]
    total = sum(weights)
    return tuple(
        Hypothesis(h.cause, w / total, belief)
        for h, w, (belief, _) in zip(hypotheses, weights, seen, strict=True)
        if w > 1e-6 * total
    )


def _shifts(
    belief: RateBelief, cell: Cell, cause: Cause, causes: CauseSettings
) -> tuple[dict[str, float], dict[str, float]]:
    """What a change at a cell does to the effects: down here, up where the fish may have gone."""
    if cause == "gone":
        return _only(belief, {f"place={cell.level('place')}": causes.drop}), {}
    if cause == "off":
        return _only(belief, {"all=": causes.drop}), {}
    if cause == "sound":
        factor, here = "place*sound", cell.level("place*sound")
    elif cause == "depth":
        factor, here = "depth", str(cell.depth)
    else:
        factor, here = "colour", cell.level("colour")
    down = _only(belief, {f"{factor}={here}": causes.drop})
    head = f"{factor}={cell.level('place')}*" if "*" in factor else f"{factor}="
    rise = causes.depth_elsewhere if cause == "depth" else causes.elsewhere
    up = {key: rise for key in belief.keys if key.startswith(head) and key not in down}
    return down, up


def _only(belief: RateBelief, shifts: dict[str, float]) -> dict[str, float]:
    return {key: shift for key, shift in shifts.items() if key in belief.keys}
