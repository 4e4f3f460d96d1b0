"""From the open log to a reading of today and a memory of the days before."""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.belief.levels import Cell, DepthBands
from leadsman.belief.log_rates import RatePrior
from leadsman.waterlog.change import USUAL_CHANGE, ChangeSettings
from leadsman.waterlog.effort import DayEffort, Physics, day_effort
from leadsman.waterlog.events import AdviceGiven, TripStart
from leadsman.waterlog.reading import USUAL_CAUSES, CauseSettings, Reading, begin, observe
from leadsman.waterlog.season import (
    USUAL_MEMORY,
    MemorySettings,
    PastDay,
    from_text,
    past_day,
    remembered,
    to_text,
)
from leadsman.waterlog.store import Waterlog
from leadsman.waterlog.timeline import Timeline, timeline


@dataclass(frozen=True, slots=True)
class Today:
    """A day of the log, read.

    Parameters
    ----------
    line : Timeline
        Its events in order [-].
    effort : DayEffort
        What was fished [-].
    reading : Reading
        What it says [-].
    told_at_h : tuple of float
        When advice was given, hours since the start [h].
    hours_left : float
        Time left of the day's hours [h].
    """

    line: Timeline
    effort: DayEffort
    reading: Reading
    told_at_h: tuple[float, ...]
    hours_left: float


def past_days(
    log: Waterlog, physics: Physics, version: str, bands: DepthBands, before: str
) -> list[PastDay]:
    """What all other days came to; worked out once and kept in the file.

    Parameters
    ----------
    log : Waterlog
        The open log [-].
    physics : callable
        Zone of a cast from a setup and a place [-].
    version : str
        Name of the physics, the kit and the bands; another name works all out anew [-].
    bands : DepthBands
        How depth is cut [-].
    before : str
        The day that is left out [-].
    """
    kept = log.summaries(version)
    days: list[PastDay] = []
    fresh: dict[str, tuple[int, str]] = {}
    for trip, _, last_row in log.trips():
        if trip == before:
            continue
        if trip in kept and kept[trip][0] == last_row:
            days.append(from_text(kept[trip][1]))
            continue
        day = _summed_up(log, trip, physics, bands)
        fresh[trip] = (last_row, to_text(day))
        days.append(day)
    if fresh:
        log.keep_summaries(version, fresh)
    return days


def read_today(
    log: Waterlog,
    trip: str,
    prior: RatePrior,
    physics: Physics,
    bands: DepthBands,
    now_utc_s: float,
    past: list[PastDay],
    cells: tuple[Cell, ...] = (),
    change: ChangeSettings = USUAL_CHANGE,
    causes: CauseSettings = USUAL_CAUSES,
    memory: MemorySettings = USUAL_MEMORY,
) -> Today:
    """Read a day: its events, effort and beliefs, started from outlook and memory.

    Parameters
    ----------
    log : Waterlog
        The open log [-].
    trip : str
        The day [-].
    prior : RatePrior
        The outlook [-].
    physics : callable
        Zone of a cast from a setup and a place [-].
    bands : DepthBands
        How depth is cut [-].
    now_utc_s : float
        Now, Unix time [s].
    past : list of PastDay
        Days before, from `past_days` [-].
    cells : tuple of Cell
        Cells that will be asked about [-].
    change : ChangeSettings
        The detector's weights [-].
    causes : CauseSettings
        How often things change [-].
    memory : MemorySettings
        How far the past counts [-].
    """
    line = timeline(log.events(trip))
    effort = day_effort(line, physics, bands, now_utc_s)
    start = _trip_start(line)
    lake, secchi_m, hours = (start.lake, start.secchi_m, start.hours) if start else ("", None, 8.0)
    prior = remembered(prior, past, lake, effort.start_utc_s, secchi_m, memory)
    fished = {block.cell: None for block in effort.blocks}
    reading = begin(prior, (*cells, *fished))
    for block in effort.blocks:
        if block.zone_m > 0.0:
            reading = observe(reading, block, change, causes)
    told = tuple(
        (e.t_utc_s - effort.start_utc_s) / 3600.0
        for e in line.entries
        if isinstance(e.body, AdviceGiven)
    )
    left = hours - (now_utc_s - effort.start_utc_s) / 3600.0
    return Today(line, effort, reading, told, max(left, 0.0))


def _trip_start(line: Timeline) -> TripStart | None:
    for entry in line.entries:
        if isinstance(entry.body, TripStart):
            return entry.body
    return None


def _summed_up(log: Waterlog, trip: str, physics: Physics, bands: DepthBands) -> PastDay:
    line = timeline(log.events(trip))
    start = _trip_start(line)
    effort = day_effort(line, physics, bands, 0.0)
    lake, secchi_m = (start.lake, start.secchi_m) if start else ("", None)
    return past_day(lake, secchi_m, effort)
