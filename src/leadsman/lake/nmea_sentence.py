"""NMEA 0183 sentences of a sounder and a position receiver, one at a time.

Fields as described on the gpsd project's NMEA page ("NMEA Revealed").
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Literal

from leadsman.dimensions import FOOT_M

MAX_SENTENCE = 200
"""Longest sentence taken [characters]. The standard says 82; loggers add to it."""

Fault = Literal["no checksum", "wrong checksum", "damaged sentence"]


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence with a valid checksum.

    Parameters
    ----------
    talker : str
        Two letters that say which kind of instrument talks [-].
    kind : str
        Three letters that say what it tells [-].
    fields : tuple of str
        The fields after the address [-].
    """

    talker: str
    kind: str
    fields: tuple[str, ...]

    def field(self, index: int) -> str:
        """Field by number, from 0; empty where the sentence is short."""
        return self.fields[index] if index < len(self.fields) else ""


@dataclass(frozen=True, slots=True)
class Fix:
    """A position.

    Parameters
    ----------
    lat_deg, lon_deg : float
        Position on WGS84 [deg].
    time_of_day_s : float or None
        Seconds since midnight UTC [s].
    day_s : float or None
        Midnight of its date since 1970 UTC; None where the sentence has no date [s].
    estimated : bool
        Whether the receiver says it is not measured (dead reckoning, manual, simulated) [-].
    """

    lat_deg: float
    lon_deg: float
    time_of_day_s: float | None
    day_s: float | None
    estimated: bool = False


@dataclass(frozen=True, slots=True)
class DepthReading:
    """A depth.

    Parameters
    ----------
    depth_m : float
        Depth as the sentence counts it [m].
    below : {"surface", "transducer", "keel"}
        What it is measured from [-].
    """

    depth_m: float
    below: Literal["surface", "transducer", "keel"]


def checksum(body: str) -> int:
    """Exclusive or of the characters between ``$`` and ``*``."""
    value = 0
    for char in body:
        value ^= ord(char) & 0xFF
    return value


def parse_sentence(text: str) -> Sentence | Fault | None:
    """Read one line of a log.

    Parameters
    ----------
    text : str
        The line; anything before the ``$`` is a logger's own and skipped [-].

    Returns
    -------
    Sentence or str or None
        The sentence, what is wrong with it, or None where the line holds none.
    """
    start = text.rfind("$")
    if start < 0:
        return None
    text = text[start + 1 :].strip()
    if len(text) > MAX_SENTENCE or not text.isascii():
        return "damaged sentence"
    body, star, given = text.partition("*")
    address, _, rest = body.partition(",")
    if len(address) != 5 or not address.isalnum():
        # Proprietary sentences start with P and have their own lengths.
        return None if address[:1] == "P" else "damaged sentence"
    if not star:
        return "no checksum"
    try:
        expected = int(given[:2], 16)
    except ValueError:
        return "wrong checksum"
    if len(given[:2]) != 2 or expected != checksum(body):
        return "wrong checksum"
    return Sentence(address[:2], address[2:], tuple(rest.split(",")))


def parse_fix(sentence: Sentence) -> Fix | None:
    """Position of a GGA, GLL or RMC sentence.

    Parameters
    ----------
    sentence : Sentence
        The sentence [-].

    Returns
    -------
    Fix or None
        The position; None where the receiver says it has none.
    """
    get = sentence.field
    estimated = False
    if sentence.kind == "GGA":
        if get(5) in ("", "0"):
            return None
        estimated = get(5) in ("6", "7", "8")
        position, clock, date = (get(1), get(2), get(3), get(4)), get(0), ""
    elif sentence.kind == "GLL":
        if get(5) == "V" or get(6) == "N":
            return None
        position, clock, date = (get(0), get(1), get(2), get(3)), get(4), ""
        estimated = get(6) in ("E", "M", "S")
    elif sentence.kind == "RMC":
        if get(1) != "A" or get(11) == "N":
            return None
        position, clock, date = (get(2), get(3), get(4), get(5)), get(0), get(8)
        estimated = get(11) in ("E", "M", "S")
    else:
        return None
    lat = _degrees(position[0], position[1], "N", "S", 90.0)
    lon = _degrees(position[2], position[3], "E", "W", 180.0)
    if lat is None or lon is None:
        return None
    return Fix(lat, lon, _time_of_day(clock), _rmc_day(date), estimated)


def parse_zda_day(sentence: Sentence) -> float | None:
    """Midnight of the date of a ZDA sentence.

    Parameters
    ----------
    sentence : Sentence
        The sentence [-].

    Returns
    -------
    float or None
        Seconds since 1970 UTC [s].
    """
    return _day(sentence.field(3), sentence.field(2), sentence.field(1))


def parse_depth(sentence: Sentence) -> DepthReading | Literal["no bottom", "damaged"] | None:
    """Depth of a DBT, DBS, DBK or DPT sentence.

    A positive DPT offset is the transducer's depth below the surface, so the
    sum is the depth below the surface. A negative one is the distance from
    transducer to keel: the sum is then the depth below the keel and the depth
    below the surface stays unknown, so the depth below the transducer is
    returned.

    Parameters
    ----------
    sentence : Sentence
        The sentence [-].

    Returns
    -------
    DepthReading or str or None
        The depth; what is wrong; None for other sentences.
    """
    if sentence.kind in ("DBT", "DBS", "DBK"):
        depth = _three_units(sentence.fields)
        if not isinstance(depth, float):
            return depth
        below: dict[str, Literal["surface", "transducer", "keel"]] = {
            "DBT": "transducer", "DBS": "surface", "DBK": "keel",
        }  # fmt: skip
        return DepthReading(depth, below[sentence.kind])
    if sentence.kind == "DPT":
        if not sentence.field(0):
            return "no bottom"
        value = _number(sentence.field(0))
        offset = _number(sentence.field(1)) if sentence.field(1) else 0.0
        if value is None or offset is None or value < 0.0:
            return "damaged"
        if offset > 0.0:
            return DepthReading(value + offset if value > 0.0 else 0.0, "surface")
        return DepthReading(value, "transducer")
    return None


def _three_units(fields: tuple[str, ...]) -> float | Literal["no bottom", "damaged"]:
    """Depth written in feet, metres and fathoms: the finest one, if they agree."""
    found: list[tuple[float, float]] = []
    for value_at, letter, unit_m in ((0, "f", FOOT_M), (2, "M", 1.0), (4, "F", 6.0 * FOOT_M)):
        text = fields[value_at] if value_at < len(fields) else ""
        unit = fields[value_at + 1] if value_at + 1 < len(fields) else ""
        if not text:
            continue
        value = _number(text)
        if value is None or value < 0.0 or unit != letter:
            return "damaged"
        step = 10.0 ** -len(text.partition(".")[2]) * unit_m
        found.append((step, value * unit_m))
    if not found:
        return "no bottom"
    step, depth = min(found)
    # Each is rounded or cut to its own last digit, and has to agree within that.
    if any(abs(other - depth) > other_step + step for other_step, other in found):
        return "damaged"
    return depth


def _number(text: str) -> float | None:
    if not text or not set(text) <= set("0123456789.-+"):
        return None
    try:
        return float(text)
    except ValueError:
        return None


def _degrees(text: str, hemisphere: str, plus: str, minus: str, limit: float) -> float | None:
    """Degrees from ``ddmm.mmmm`` and a hemisphere letter."""
    value = _number(text)
    if value is None or value < 0.0 or hemisphere not in (plus, minus):
        return None
    degrees = math.floor(value / 100.0)
    minutes = value - degrees * 100.0
    angle = degrees + minutes / 60.0
    if minutes >= 60.0 or angle > limit:
        return None
    return -angle if hemisphere == minus else angle


def _time_of_day(text: str) -> float | None:
    if len(text) < 6 or not text[:6].isdigit():
        return None
    seconds = _number(text[4:])
    hours, minutes = int(text[:2]), int(text[2:4])
    if seconds is None or hours > 23 or minutes > 59 or seconds >= 61.0:
        return None
    return hours * 3600.0 + minutes * 60.0 + seconds


def _rmc_day(text: str) -> float | None:
    """Midnight of a date written ddmmyy; years from 80 are of the last century."""
    if len(text) != 6 or not text.isdigit():
        return None
    year = int(text[4:])
    return _day(str(year + (1900 if year >= 80 else 2000)), text[2:4], text[:2])


def _day(year: str, month: str, day: str) -> float | None:
    if not (year.isdigit() and month.isdigit() and day.isdigit()):
        return None
    try:
        return datetime(int(year), int(month), int(day), tzinfo=UTC).timestamp()
    except (ValueError, OverflowError):
        return None
