"""Season memory: what past days say to a new one, by lake, season and clarity.

A past day's bites and effort count in part: a power prior (Ibrahim & Chen
2000, Stat. Sci. 15:46-60, from memory) whose power falls with the days since,
the distance in season and clarity, and from lake to lake. Places are not
carried over, ways of fishing are.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import RateBelief, RatePrior
from leadsman.waterlog.effort import DayEffort

YEAR_D = 365.25
ANYWHERE = "*"  # stands for the place where places do not matter


@dataclass(frozen=True, slots=True)
class PastDay:
    """What a day came to.

    Parameters
    ----------
    lake : str
        Name of the water [-].
    t_utc_s : float
        When it began, Unix time [s].
    secchi_m : float or None
        Clarity, if known [m].
    cells : tuple of (Cell, float, float)
        Cell without its place, bites [-] and zone fished [m].
    """

    lake: str
    t_utc_s: float
    secchi_m: float | None
    cells: tuple[tuple[Cell, float, float], ...]


@dataclass(frozen=True, slots=True)
class MemorySettings:
    """How far the past counts; all are assumptions, forgetting is strong.

    Parameters
    ----------
    days : float
        Days after which a day counts 1/e, so a fortnight's news stays news [d].
    yearly : float
        Share with which the same season of other years counts [-].
    season_days : float
        How near in the calendar "the same season" is, one sd [d].
    other_lake : float
        Share with which another lake counts [-].
    clarity_sd : float
        How near in clarity is alike: sd of the log of the Secchi depth [-].
    most_hours_zone_m : float
        The whole past never counts for more than this much fishing [m].
    """

    days: float = 14.0
    yearly: float = 0.25
    season_days: float = 20.0
    other_lake: float = 0.3
    clarity_sd: float = 0.5
    most_hours_zone_m: float = 6000.0


USUAL_MEMORY = MemorySettings()


def past_day(lake: str, secchi_m: float | None, effort: DayEffort) -> PastDay:
    """Sum a day up, places left out.

    Parameters
    ----------
    lake : str
        Name of the water [-].
    secchi_m : float or None
        Clarity [m].
    effort : DayEffort
        The day's effort [-].
    """
    sums: dict[Cell, tuple[float, float]] = {}
    for block in effort.blocks:
        cell = replace(block.cell, place=ANYWHERE)
        bites, zone_m = sums.get(cell, (0.0, 0.0))
        sums[cell] = (bites + block.bites, zone_m + block.zone_m)
    return PastDay(
        lake, effort.start_utc_s, secchi_m, tuple((c, b, z) for c, (b, z) in sums.items())
    )


def weight(
    day: PastDay,
    lake: str,
    t_utc_s: float,
    secchi_m: float | None,
    settings: MemorySettings = USUAL_MEMORY,
) -> float:
    """How far a past day counts for a new one, 0 to 1 [-].

    Parameters
    ----------
    day : PastDay
        The past day [-].
    lake : str
        Water of the new day [-].
    t_utc_s : float
        Start of the new day, Unix time [s].
    secchi_m : float or None
        Clarity of the new day [m].
    settings : MemorySettings
        How far the past counts [-].
    """
    ago_d = (t_utc_s - day.t_utc_s) / 86_400.0
    if ago_d <= 0.0:
        return 0.0
    recent = math.exp(-ago_d / settings.days)
    years = round(ago_d / YEAR_D)
    off_d = abs(ago_d - years * YEAR_D) / settings.season_days
    again = settings.yearly**years * math.exp(-0.5 * off_d * off_d) if years >= 1 else 0.0
    power = max(recent, again)
    if day.lake != lake:
        power *= settings.other_lake
    if day.secchi_m and secchi_m:
        off = math.log(day.secchi_m / secchi_m) / settings.clarity_sd
        power *= math.exp(-0.5 * off * off)
    return power


def remembered(
    prior: RatePrior,
    past: Iterable[PastDay],
    lake: str,
    t_utc_s: float,
    secchi_m: float | None,
    settings: MemorySettings = USUAL_MEMORY,
) -> RatePrior:
    """The outlook's prior, moved by what past days taught.

    Only means move; the scatter stays the outlook's, so the day itself is
    always heard.

    Parameters
    ----------
    prior : RatePrior
        What the outlook says [-].
    past : iterable of PastDay
        Past days [-].
    lake : str
        Water of the new day [-].
    t_utc_s : float
        Start of the new day, Unix time [s].
    secchi_m : float or None
        Clarity of the new day [m].
    settings : MemorySettings
        How far the past counts [-].
    """
    sums: dict[Cell, tuple[float, float]] = {}
    for day in past:
        power = weight(day, lake, t_utc_s, secchi_m, settings)
        if power < 1e-4:
            continue
        for cell, bites, zone_m in day.cells:
            b, z = sums.get(cell, (0.0, 0.0))
            sums[cell] = (b + power * bites, z + power * zone_m)
    total_m = sum(z for _, z in sums.values())
    if total_m <= 0.0:
        return prior
    share = min(1.0, settings.most_hours_zone_m / total_m)
    # Effects that belong to a place mean nothing on another day, so they are left out of learning.
    carried = tuple(f for f in prior.factors if "place" not in f.name.split("*"))
    belief = RateBelief.start(replace(prior, factors=carried), sums)
    for cell, (bites, zone_m) in sorted(sums.items(), key=lambda item: repr(item[0])):
        belief = belief.seen(cell, share * bites, share * zone_m)
    means = dict(prior.means)
    means.update({key: float(belief.mean[i]) for key, i in belief.keys.items()})
    return replace(prior, means=means)


def to_text(day: PastDay) -> str:
    """A past day as text, to be kept.

    Parameters
    ----------
    day : PastDay
        Past day [-].
    """
    cells = [
        [c.place, c.depth, c.cover, c.sound, c.colour, c.work, bites, zone_m]
        for c, bites, zone_m in day.cells
    ]
    return json.dumps([day.lake, day.t_utc_s, day.secchi_m, cells])


def from_text(text: str) -> PastDay:
    """A past day from `to_text`.

    Parameters
    ----------
    text : str
        Text [-].
    """
    lake, t_utc_s, secchi_m, cells = json.loads(text)
    rows = tuple(
        (Cell(place, depth, cover, sound, colour, work), bites, zone_m)
        for place, depth, cover, sound, colour, work, bites, zone_m in cells
    )
    return PastDay(lake, t_utc_s, secchi_m, rows)
