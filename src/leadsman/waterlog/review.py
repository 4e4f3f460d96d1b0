"""What a day came to: the numbers of the report."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from leadsman.belief.gamma_poisson import GammaRate
from leadsman.waterlog.change import USUAL_CHANGE, ChangeSettings, Stint, status
from leadsman.waterlog.effort import DayEffort, Stretch
from leadsman.waterlog.events import AdviceGiven, Contact, Fish
from leadsman.waterlog.fish_care import Livewell, livewell
from leadsman.waterlog.timeline import Timeline, is_bite

HUNDRED_YARDS_M = 91.44  # exact
FACTORS = ("depth", "cover", "sound", "colour", "work", "place")
# Weakly informed start of a shown rate: half a bite in 100 yd of zone before any was seen.
_SHOWN_PRIOR = GammaRate(0.5, HUNDRED_YARDS_M)

RunningDepth = Callable[[Stretch], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class RateRow:
    """What one level of one factor gave.

    Parameters
    ----------
    factor, level : str
        Such as depth and 3, or sound and silent [-].
    bites : int
        Bites [-].
    zone_m : float
        Zone fished [m].
    hours : float
        Time spent [h].
    per_100_yd : float
        Bites per 100 yd (91.44 m) of zone, posterior mean [-].
    low_per_100_yd, high_per_100_yd : float
        Its 80 % credible interval [-].
    """

    factor: str
    level: str
    bites: int
    zone_m: float
    hours: float
    per_100_yd: float
    low_per_100_yd: float
    high_per_100_yd: float


@dataclass(frozen=True, slots=True)
class BitePoint:
    """One bite for the picture of depth over time.

    Parameters
    ----------
    t_h : float
        Hours since the day's start [h].
    depth_m : float
        Depth the lure ran at [m].
    sound, place : str
        With what and where [-].
    landed : bool
        True for a fish in the boat [-].
    """

    t_h: float
    depth_m: float
    sound: str
    place: str
    landed: bool


@dataclass(frozen=True, slots=True)
class ContactRow:
    """A contact with a bottom of known depth against the predicted running depth.

    Parameters
    ----------
    t_h : float
        Hours since the day's start [h].
    setup : str
        Setup [-].
    depth_m : float
        Depth of the bottom [m].
    touched : bool
        True if the lure touched [-].
    predicted_m, predicted_sd_m : float
        Greatest running depth predicted, and its standard deviation [m].
    surprise : float
        (depth - predicted) / sd, positive if the bottom lies deeper [-].
    """

    t_h: float
    setup: str
    depth_m: float
    touched: bool
    predicted_m: float
    predicted_sd_m: float
    surprise: float


@dataclass(frozen=True, slots=True)
class ProposedObservation:
    """A contact put as evidence for calibration.

    Parameters
    ----------
    setup : str
        Setup [-].
    kind : {"ticked", "did_not_reach"}
        What it says [-].
    depth_m : float
        At which depth [m].
    cast_m, tip_m : float or None
        Cast and rod tip as logged; None for the setup's usual ones [m].
    event : str
        Id of the log's event [-].
    """

    setup: str
    kind: str
    depth_m: float
    cast_m: float | None
    tip_m: float | None
    event: str


@dataclass(frozen=True, slots=True)
class StopRow:
    """A stint that was on and stopped.

    Parameters
    ----------
    t_h : float
        When it could be called [h].
    place, sound : str
        Where and with what [-].
    bites : int
        Bites it gave [-].
    """

    t_h: float
    place: str
    sound: str
    bites: int


@dataclass(frozen=True, slots=True)
class Review:
    """The day's report.

    Parameters
    ----------
    bites, fish : int
        Bites and fish [-].
    hours : float
        Time fished [h].
    zone_m : float
        Zone fished [m].
    rates : tuple of RateRow
        By factor and level, best first within a factor [-].
    points : tuple of BitePoint
        Bites by time and depth [-].
    effort_by_band_h : tuple of (int, float, float)
        Depth band [-], start and end of each stretch since the day's start [h].
    stops : tuple of StopRow
        Stints that died [-].
    contacts : tuple of ContactRow
        How deep lures really ran [-].
    proposed : tuple of ProposedObservation
        Evidence for calibration [-].
    advice_given, advice_followed : int
        Suggestions made, and those the angler said they followed [-].
    livewell : Livewell
        Fish kept and cautions [-].
    warnings : tuple of str
        What was odd in the log [-].
    """

    bites: int
    fish: int
    hours: float
    zone_m: float
    rates: tuple[RateRow, ...]
    points: tuple[BitePoint, ...]
    effort_by_band_h: tuple[tuple[int, float, float], ...]
    stops: tuple[StopRow, ...]
    contacts: tuple[ContactRow, ...]
    proposed: tuple[ProposedObservation, ...]
    advice_given: int
    advice_followed: int
    livewell: Livewell
    warnings: tuple[str, ...]


def review(
    line: Timeline,
    effort: DayEffort,
    running_depth: RunningDepth | None = None,
    change: ChangeSettings = USUAL_CHANGE,
) -> Review:
    """Report on a day.

    Parameters
    ----------
    line : Timeline
        The day [-].
    effort : DayEffort
        What was fished [-].
    running_depth : callable or None
        Greatest running depth of a stretch's setup and its standard
        deviation [m]; None leaves the comparison with contacts out.
    change : ChangeSettings
        The detector's weights [-].
    """
    end_s = line.entries[-1].t_utc_s if line.entries else effort.start_utc_s
    rates = tuple(row for factor in FACTORS for row in _rates(effort, factor))
    given = [e.body for e in line.entries if isinstance(e.body, AdviceGiven)]
    contacts, proposed = _contacts(line, effort, running_depth)
    bites = sum(1 for e in line.entries if is_bite(e))
    hours = sum(s.stop_utc_s - s.start_utc_s for s in effort.stretches) / 3600.0
    stray = len(effort.stray_bites)
    odd = (f"{stray} bites fell outside of any setup and place",) if stray else ()
    return Review(
        bites=bites,
        fish=sum(1 for e in line.entries if isinstance(e.body, Fish)),
        hours=hours,
        zone_m=sum(b.zone_m for b in effort.blocks),
        rates=rates,
        points=_points(line, effort),
        effort_by_band_h=tuple(
            (s.cell.depth, _h(effort, s.start_utc_s), _h(effort, s.stop_utc_s))
            for s in effort.stretches
        ),
        stops=_stops(effort, change),
        contacts=contacts,
        proposed=proposed,
        advice_given=len(given),
        advice_followed=sum(1 for a in given if a.followed),
        livewell=livewell(line, end_s),
        warnings=line.warnings + odd,
    )


def _h(effort: DayEffort, t_utc_s: float) -> float:
    return (t_utc_s - effort.start_utc_s) / 3600.0


def _rates(effort: DayEffort, factor: str) -> list[RateRow]:
    bites: dict[str, int] = {}
    zone: dict[str, float] = {}
    hours: dict[str, float] = {}
    for stretch in effort.stretches:
        level = stretch.cell.level(factor)
        bites[level] = bites.get(level, 0) + sum(b.bites for b in stretch.blocks)
        zone[level] = zone.get(level, 0.0) + sum(b.zone_m for b in stretch.blocks)
        spent = (stretch.stop_utc_s - stretch.start_utc_s) / 3600.0
        hours[level] = hours.get(level, 0.0) + spent
    rows = []
    for level in bites:
        rate = _SHOWN_PRIOR.seen(bites[level], zone[level])
        low, high = rate.interval_per_m()
        rows.append(
            RateRow(
                factor,
                level,
                bites[level],
                zone[level],
                hours[level],
                rate.mean_per_m * HUNDRED_YARDS_M,
                low * HUNDRED_YARDS_M,
                high * HUNDRED_YARDS_M,
            )
        )
    return sorted(rows, key=lambda r: -r.per_100_yd)


def _at(effort: DayEffort, t_utc_s: float) -> Stretch | None:
    for stretch in effort.stretches:
        if stretch.start_utc_s <= t_utc_s <= stretch.stop_utc_s:
            return stretch
    return None


def _points(line: Timeline, effort: DayEffort) -> tuple[BitePoint, ...]:
    points: list[BitePoint] = []
    landed = {e.body.bite for e in line.entries if isinstance(e.body, Fish)}
    for entry in line.entries:
        stretch = _at(effort, entry.t_utc_s) if is_bite(entry) else None
        if stretch is not None:
            points.append(
                BitePoint(
                    _h(effort, entry.t_utc_s),
                    stretch.fishing.depth_m,
                    stretch.cell.sound,
                    stretch.cell.place,
                    isinstance(entry.body, Fish) or entry.id in landed,
                )
            )
    return tuple(points)


def _stops(effort: DayEffort, change: ChangeSettings) -> tuple[StopRow, ...]:
    rows: list[StopRow] = []
    for stretch in effort.stretches:
        stint = Stint()
        for block in stretch.blocks:
            stint = stint.fished(block.zone_m, block.bites)
            if status(stint, change) == "stopped":
                n = len(stint.bites_at_m)
                rows.append(StopRow(block.t_h, block.cell.place, block.cell.sound, n))
                stint = Stint()
    return tuple(rows)


def _contacts(
    line: Timeline, effort: DayEffort, running_depth: RunningDepth | None
) -> tuple[tuple[ContactRow, ...], tuple[ProposedObservation, ...]]:
    rows: list[ContactRow] = []
    proposed: list[ProposedObservation] = []
    for entry in line.entries:
        body = entry.body
        stretch = _at(effort, entry.t_utc_s) if isinstance(body, Contact) else None
        if stretch is None or not isinstance(body, Contact):
            continue
        setup = stretch.setup
        proposed.append(
            ProposedObservation(
                setup.setup,
                "ticked" if body.touched else "did_not_reach",
                body.depth_m,
                setup.cast_m,
                setup.tip_m,
                entry.id,
            )
        )
        if running_depth is not None:
            mean_m, sd_m = running_depth(stretch)
            off = (body.depth_m - mean_m) / max(sd_m, 1e-6)
            t_h = _h(effort, entry.t_utc_s)
            row = ContactRow(t_h, setup.setup, body.depth_m, body.touched, mean_m, sd_m, off)
            rows.append(row)
    return tuple(rows), tuple(proposed)
