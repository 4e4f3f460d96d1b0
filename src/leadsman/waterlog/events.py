"""What can be written into the log: a closed set of plain events.

Nothing is ever changed or deleted. An `Undo` takes an event back (and an undo
of an undo brings it back), an `Amend` says what an event should have been.
"""

from __future__ import annotations

import dataclasses
import functools
import math
from dataclasses import dataclass
from types import UnionType
from typing import Any, ClassVar, Literal, Union, get_args, get_origin, get_type_hints

from leadsman.errors import LogError

Fate = Literal["kept", "released", "culled"]


@dataclass(frozen=True, slots=True)
class TripStart:
    """A day begins.

    Parameters
    ----------
    lake : str
        Name of the water [-].
    hours : float
        Time from launch to the deadline [h].
    utc_offset_h : float
        Local time minus UTC [h].
    secchi_m : float or None
        Clarity as the depth at which a Secchi disc disappears [m].
    limit_fish : int or None
        Fish that may be kept at a time, by the local rules [-].
    """

    kind: ClassVar[str] = "trip_start"
    lake: str
    hours: float = 8.0
    utc_offset_h: float = 0.0
    secchi_m: float | None = None
    limit_fish: int | None = None


@dataclass(frozen=True, slots=True)
class TripStop:
    """The day ends."""

    kind: ClassVar[str] = "trip_stop"


@dataclass(frozen=True, slots=True)
class SetupStart:
    """A rod is picked up; fishing with it goes on until another, a stop or a move.

    Parameters
    ----------
    setup : str
        Name of the setup in the kit [-].
    sound, colour, work : str
        Sound, colour family and how the lure is worked [-].
    cast_m : float or None
        Length of the casts; None for the setup's usual one [m].
    tip_m : float or None
        Height of the rod tip; None for the usual one [m].
    """

    kind: ClassVar[str] = "setup_start"
    setup: str
    sound: str = "silent"
    colour: str = "natural"
    work: str = "stop"
    cast_m: float | None = None
    tip_m: float | None = None


@dataclass(frozen=True, slots=True)
class SetupStop:
    """Fishing pauses."""

    kind: ClassVar[str] = "setup_stop"


@dataclass(frozen=True, slots=True)
class Place:
    """The boat is somewhere else.

    Parameters
    ----------
    place : str
        Identity of the stretch or spot [-].
    cover : str
        edge, flat, drop or open_water [-].
    bottom_m : float or None
        Depth of the bottom there [m].
    lat_deg, lon_deg : float or None
        Position, WGS 84 [deg].
    """

    kind: ClassVar[str] = "place"
    place: str
    cover: str = "edge"
    bottom_m: float | None = None
    lat_deg: float | None = None
    lon_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Casts:
    """Casts made since the setup or place changed or the last count; optional.

    Parameters
    ----------
    count : int
        Casts [-].
    """

    kind: ClassVar[str] = "casts"
    count: int


@dataclass(frozen=True, slots=True)
class Bite:
    """A strike, landed or not.

    Parameters
    ----------
    ago_s : float
        How long before it was written it happened: one more tap backdates [s].
    """

    kind: ClassVar[str] = "bite"
    ago_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Fish:
    """A fish in the boat; counts as a bite of its own unless it names one.

    Parameters
    ----------
    length_m, weight_kg : float or None
        Length [m] and weight [kg].
    fate : {"kept", "released", "culled"}
        What became of it [-].
    bite : str or None
        Id of the bite it came from, if that was logged [-].
    caught_depth_m : float or None
        Depth it came from, for its care [m].
    ago_s : float
        How long before it was written it happened [s].
    """

    kind: ClassVar[str] = "fish"
    length_m: float | None = None
    weight_kg: float | None = None
    fate: Fate = "released"
    bite: str | None = None
    caught_depth_m: float | None = None
    ago_s: float = 0.0


@dataclass(frozen=True, slots=True)
class FishFate:
    """A fish already logged is released, culled or kept after all.

    Parameters
    ----------
    fish : str
        Id of the fish's event [-].
    fate : {"kept", "released", "culled"}
        What becomes of it [-].
    """

    kind: ClassVar[str] = "fish_fate"
    fish: str
    fate: Fate


@dataclass(frozen=True, slots=True)
class StretchStatus:
    """A stretch of the plan is taken by another boat, or free again.

    Parameters
    ----------
    stretch : str
        Identity of the stretch [-].
    taken : bool
        True if it is taken [-].
    """

    kind: ClassVar[str] = "stretch"
    stretch: str
    taken: bool


@dataclass(frozen=True, slots=True)
class LineCare:
    """The line was checked for nicks, or cut back and retied.

    Parameters
    ----------
    setup : str
        Name of the setup [-].
    action : {"checked", "retied"}
        What was done [-].
    """

    kind: ClassVar[str] = "line"
    setup: str
    action: Literal["checked", "retied"] = "checked"


@dataclass(frozen=True, slots=True)
class Contact:
    """How deep a lure really ran: it touched a bottom of known depth, or did not.

    Parameters
    ----------
    depth_m : float
        Depth of the bottom there [m].
    touched : bool
        True if the lure touched it [-].
    """

    kind: ClassVar[str] = "contact"
    depth_m: float
    touched: bool = True


@dataclass(frozen=True, slots=True)
class Sighting:
    """Something seen.

    Parameters
    ----------
    what : str
        forage, grass, birds, surfacing fish, ... [-].
    text : str
        More [-].
    """

    kind: ClassVar[str] = "sighting"
    what: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class WaterReading:
    """The water as measured.

    Parameters
    ----------
    temperature_c : float or None
        Temperature [degC].
    depth_m : float
        Depth it was measured at [m].
    secchi_m : float or None
        Clarity as Secchi depth [m].
    oxygen_mg_l : float or None
        Dissolved oxygen [mg/L].
    level_m : float or None
        Level against the map's datum [m].
    in_livewell : bool
        True if measured in the livewell [-].
    """

    kind: ClassVar[str] = "water"
    temperature_c: float | None = None
    depth_m: float = 0.0
    secchi_m: float | None = None
    oxygen_mg_l: float | None = None
    level_m: float | None = None
    in_livewell: bool = False


@dataclass(frozen=True, slots=True)
class Note:
    """Words.

    Parameters
    ----------
    text : str
        What is noted [-].
    """

    kind: ClassVar[str] = "note"
    text: str


@dataclass(frozen=True, slots=True)
class AdviceGiven:
    """The program said something, so that it can be held to it and kept quiet.

    Parameters
    ----------
    option : str
        What it named [-].
    gain : float
        Bites it promised [-].
    chance : float
        Chance it gave of being right [-].
    followed : bool or None
        What the angler did; None if not said [-].
    """

    kind: ClassVar[str] = "advice"
    option: str
    gain: float
    chance: float
    followed: bool | None = None


@dataclass(frozen=True, slots=True)
class Undo:
    """An event is taken back; undoing an undo brings it back.

    Parameters
    ----------
    target : str
        Id of the event [-].
    """

    kind: ClassVar[str] = "undo"
    target: str


@dataclass(frozen=True, slots=True)
class Amend:
    """An event should have been something else, or at another time.

    Parameters
    ----------
    target : str
        Id of the event [-].
    body : dict or None
        Fields to replace, by name, as in the event's own JSON [-].
    at_utc_s : float or None
        The right time, Unix time [s].
    """

    kind: ClassVar[str] = "amend"
    target: str
    body: dict[str, object] | None = None
    at_utc_s: float | None = None


Body = (
    TripStart
    | TripStop
    | SetupStart
    | SetupStop
    | Place
    | Casts
    | Bite
    | Fish
    | FishFate
    | StretchStatus
    | LineCare
    | Contact
    | Sighting
    | WaterReading
    | Note
    | AdviceGiven
    | Undo
    | Amend
)
BODIES: dict[str, type[Body]] = {body.kind: body for body in get_args(Body)}

# Limits of what is taken for meant, by field name; outside of them it is a slip of the thumb.
_LIMITS: dict[str, tuple[float, float]] = {
    "hours": (0.0, 72.0),
    "utc_offset_h": (-14.0, 14.0),
    "secchi_m": (0.0, 60.0),
    "cast_m": (1.0, 200.0),
    "tip_m": (-5.0, 10.0),
    "bottom_m": (0.0, 400.0),
    "lat_deg": (-90.0, 90.0),
    "lon_deg": (-180.0, 180.0),
    "count": (0, 10_000),
    "length_m": (0.0, 5.0),
    "weight_kg": (0.0, 500.0),
    "caught_depth_m": (0.0, 400.0),
    "depth_m": (0.0, 400.0),
    "temperature_c": (-2.0, 45.0),
    "oxygen_mg_l": (0.0, 40.0),
    "level_m": (-100.0, 100.0),
    "limit_fish": (0, 1000),
    "at_utc_s": (0.0, 4.0e9),
    "ago_s": (0.0, 86_400.0),
}
_MOST_TEXT = 4000


@dataclass(frozen=True, slots=True)
class Event:
    """One line of the log.

    Parameters
    ----------
    id : str
        Made by the device that wrote it: 8 to 64 letters, digits, ``-`` or ``_`` [-].
    trip : str
        The day it belongs to [-].
    device : str
        The device that wrote it [-].
    seq : int
        Count of the device's own events, rising [-].
    time_utc_s : float
        When it was written by that device's clock, Unix time [s].
    body : Body
        What happened [-].
    mono_s : float or None
        Reading of a clock that is never set, if the device has one [s].
    session : str or None
        Which run of that clock [-].
    """

    id: str
    trip: str
    device: str
    seq: int
    time_utc_s: float
    body: Body
    mono_s: float | None = None
    session: str | None = None

    def __post_init__(self) -> None:
        where = f"event {self.id}"
        ok = 8 <= len(self.id) <= 64 and all(
            c.isascii() and (c.isalnum() or c in "-_") for c in self.id
        )
        if not ok:
            raise LogError(
                "an event id is 8 to 64 letters, digits, - or _", where[:80], "Make a random one"
            )
        for name, text in (("trip", self.trip), ("device", self.device)):
            if not 1 <= len(text) <= 200:
                raise LogError(f"{name} is empty or too long", where)
        if not (math.isfinite(self.time_utc_s) and 0.0 <= self.time_utc_s < 4.0e9):
            raise LogError("time is not a Unix time between 1970 and 2096", where)
        if self.seq < 0:
            raise LogError("seq is below 0", where)
        if self.mono_s is not None and not math.isfinite(self.mono_s):
            raise LogError("mono_s is not a number", where)


def body_to_json(body: Body) -> dict[str, Any]:
    """Fields of a body that are not at their default, for JSON.

    Parameters
    ----------
    body : Body
        What happened [-].
    """
    out: dict[str, Any] = {}
    for field in dataclasses.fields(body):
        value = getattr(body, field.name)
        if field.default is dataclasses.MISSING or value != field.default:
            out[field.name] = value
    return out


def body_from_json(kind: str, fields: object, where: str = "event") -> Body:
    """A body from JSON, every field checked.

    Parameters
    ----------
    kind : str
        Kind of event [-].
    fields : object
        Decoded JSON [-].
    where : str
        Where it came from, for the message [-].

    Raises
    ------
    LogError
        Unknown kind, unknown or missing field, or a value of the wrong type or size.
    """
    if kind not in BODIES:
        raise LogError(f"unknown kind of event {kind!r}", where, f"Use one of {', '.join(BODIES)}")
    if not isinstance(fields, dict):
        raise LogError("the body of an event is an object", where)
    cls = BODIES[kind]
    hints = _hints(kind)
    unknown = sorted(set(map(str, fields)) - set(hints))
    if unknown:
        raise LogError(f"{kind} has no field {unknown[0]!r}", where, f"Use {', '.join(hints)}")
    values: dict[str, Any] = {}
    for name, hint in hints.items():
        if name in fields:
            values[name] = _checked(fields[name], hint, f"{where}, {kind}.{name}", name)
    try:
        return cls(**values)
    except TypeError:
        need = [
            f.name
            for f in dataclasses.fields(cls)
            if f.default is dataclasses.MISSING and f.name not in values
        ]
        raise LogError(f"{kind} needs {', '.join(need)}", where) from None


@functools.cache
def _hints(kind: str) -> dict[str, Any]:
    return {k: v for k, v in get_type_hints(BODIES[kind]).items() if k != "kind"}


def _checked(value: object, hint: Any, where: str, name: str) -> Any:
    choices = get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)
    if value is None and type(None) in choices:
        return None
    for choice in choices:
        if get_origin(choice) is Literal and value in get_args(choice):
            return value
        if choice is bool and isinstance(value, bool):
            return value
        if choice is str and isinstance(value, str):
            if len(value) > _MOST_TEXT:
                raise LogError(f"text longer than {_MOST_TEXT} characters", where)
            return value
        if (
            isinstance(value, int | float)
            and not isinstance(value, bool)
            and choice in (int, float)
        ):
            if choice is int and not float(value).is_integer():
                raise LogError(f"{value!r} is not a whole number", where)
            return choice(_in_limits(value, where, name))
        if get_origin(choice) is dict and isinstance(value, dict):
            return value
    raise LogError(f"{value!r} is not a {hint}", where)


def _in_limits(value: float, where: str, name: str) -> float:
    low, high = _LIMITS.get(name, (-4.0e9, 4.0e9))
    if not (math.isfinite(value) and low <= value <= high):
        raise LogError(f"{value:g} is outside {low:g} to {high:g}", where)
    return value
