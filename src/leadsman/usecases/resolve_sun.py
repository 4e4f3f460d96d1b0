"""The hours of sun of a day at a place, on the angler's clock."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from leadsman.errors import PlanError
from leadsman.plan.day_types import HourOfSun
from leadsman.plan.sun import check_place, hours_of_sun, solar_zone, sun_times

FAR_OFF_H = 2.5
"""How far a believable clock is from the sun's [h]; the widest zones and summer time."""


@dataclass(frozen=True, slots=True)
class ResolvedSun:
    """Hours of sun and what was assumed.

    Parameters
    ----------
    hours : tuple of HourOfSun
        Hours; empty without a day and a place [-].
    notes : tuple of str
        Clock, sunrise and sunset [-].
    """

    hours: tuple[HourOfSun, ...] = ()
    notes: tuple[str, ...] = ()


def resolve_sun(
    day: date | None,
    place_deg: tuple[float, float] | None,
    zone: str | None,
    hours_h: tuple[float, float] | None,
) -> ResolvedSun:
    """Height of the sun through the hours to be fished.

    Parameters
    ----------
    day : datetime.date or None
        Day [-].
    place_deg : tuple of float or None
        Latitude and longitude [deg].
    zone : str or None
        Time zone; None takes this machine's where it can be that of the place [-].
    hours_h : tuple of float or None
        First and last hour; None goes from sunrise to sunset [h].

    Raises
    ------
    PlanError
        The zone is unknown, or hours are named without day and place.
    """
    if day is None or place_deg is None:
        if hours_h is not None or zone is not None:
            raise PlanError(
                "hours need a day and a place, to know the sun", "hours", "Give both, or no hours"
            )
        return ResolvedSun()
    check_place(*place_deg)
    clock, note = _zone(zone, day, place_deg[1])
    times = sun_times(day, *place_deg, clock)
    notes = [note]
    if times.sunrise is not None and times.sunset is not None:
        rise, down = times.sunrise, times.sunset
        notes.append(f"Sunrise {rise:%H:%M}, sunset {down:%H:%M}")
        span = (
            float(rise.hour) if rise.date() == day else 0.0,
            float(math.ceil(down.hour + down.minute / 60.0)) if down.date() == day else 24.0,
        )
        span = span if span[0] < span[1] else (0.0, 24.0)
    else:
        notes.append("The sun does not rise or does not set that day")
        span = (0.0, 24.0)
    hours = hours_of_sun(day, *place_deg, clock, *(hours_h or span))
    return ResolvedSun(hours, tuple(notes))


def _zone(text: str | None, day: date, lon_deg: float) -> tuple[tzinfo, str]:
    if text is not None:
        fixed = re.fullmatch(r"\s*(?:UTC|GMT)\s*([+-])(\d{1,2})(?::?([0-5]\d))?\s*", text, re.I)
        if fixed is not None and int(fixed[2]) <= 14:
            sign = -1.0 if fixed[1] == "-" else 1.0
            span = timedelta(hours=int(fixed[2]), minutes=int(fixed[3] or 0))
            return timezone(sign * span), f"Times in {text.strip()}"
        try:
            return ZoneInfo(text.strip()), f"Times in {text.strip()}"
        except (ZoneInfoNotFoundError, ValueError, OSError):
            raise PlanError(
                f"unknown time zone '{text[:40]}'", "zone", "Write America/Chicago or UTC-5"
            ) from None
    own = datetime(day.year, day.month, day.day, 12).astimezone()
    offset = own.utcoffset() or timedelta()
    if abs(offset.total_seconds() / 3600.0 - lon_deg / 15.0) <= FAR_OFF_H:
        return timezone(offset), f"Times in this computer's zone, {own:UTC%z}"
    guess = solar_zone(lon_deg)
    return guess, f"Times in {guess}, told from the longitude alone, without summer time"
