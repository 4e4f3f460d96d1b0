"""Times of day, dates and places as a person writes them."""

from __future__ import annotations

import datetime as dt
import math
import re

from leadsman.errors import QuantityError, Where

_CLOCK = 'Write it like "6:30" or "2:00 pm"'


def clock_s(raw: object, where: Where | str | None = None) -> float:
    """Seconds of the day from ``"6:30"``, ``"2:00 pm"`` or a TOML time [s].

    Parameters
    ----------
    raw : object
        Text or time [-].
    where : Where or str or None
        Place for the error message [-].

    Raises
    ------
    QuantityError
        It is no time of day.
    """
    if isinstance(raw, dt.time):
        return raw.hour * 3600.0 + raw.minute * 60.0 + raw.second
    shown = str(raw)[:40]
    found = re.fullmatch(r"\s*(\d{1,2}):(\d{2})\s*(am|pm)?\s*", raw, re.I) if (
        isinstance(raw, str)
    ) else None  # fmt: skip
    if found is None:
        raise QuantityError(f"{shown!r} is no time of day", where, _CLOCK)
    hour, minute, half = int(found[1]), int(found[2]), (found[3] or "").lower()
    if half:
        hour = hour % 12 + (12 if half == "pm" else 0) if 1 <= hour <= 12 else 99
    if hour * 60 + minute > 24 * 60 or minute > 59:
        raise QuantityError(f"{shown!r} is no time of day", where, _CLOCK)
    return hour * 3600.0 + minute * 60.0


def clock_text(seconds: float) -> str:
    """A time of day as a clock shows it, to the minute begun.

    Parameters
    ----------
    seconds : float
        Seconds of the day [s].
    """
    minutes = math.floor(seconds / 60.0 + 1e-6)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def calendar_date(raw: object, where: Where | str | None = None) -> dt.date:
    """A date from TOML's own form or from text.

    Parameters
    ----------
    raw : object
        Text or date [-].
    where : Where or str or None
        Place for the error message [-].

    Raises
    ------
    QuantityError
        It is no date.
    """
    if isinstance(raw, dt.date) and not isinstance(raw, dt.datetime):
        return raw
    try:
        return dt.date.fromisoformat(str(raw))
    except ValueError:
        raise QuantityError(
            f"{str(raw)[:40]!r} is no date", where, "Write year-month-day, 2025-07-12"
        ) from None


def place_deg(raw: object, where: Where | str | None = None) -> tuple[float, float]:
    """Latitude and longitude from ``"45.0012, -90.0034"`` [deg].

    Parameters
    ----------
    raw : object
        Text [-].
    where : Where or str or None
        Place for the error message [-].

    Raises
    ------
    QuantityError
        It is no place on Earth.
    """
    shown = str(raw)[:40]
    parts = re.split(r"[,;\s]+", raw.strip()) if isinstance(raw, str) else []
    try:
        lat, lon = (float(part) for part in parts)
    except ValueError:
        raise QuantityError(
            f"{shown!r} is no place",
            where,
            'Write latitude, then longitude, in degrees: "45.0012, -90.0034"',
        ) from None
    if not (abs(lat) <= 90.0 and abs(lon) <= 180.0):
        raise QuantityError(
            f"{shown!r} is not on Earth", where, "Check the order: latitude comes first"
        )
    return lat, lon
