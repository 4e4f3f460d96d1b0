"""What can be written into the log: a closed set of plain events.

Nothing is changed or deleted: an `Undo` takes back, an `Amend` puts right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar, Literal, get_args

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
    """A rod is picked up; it is fished until another, a stop or a move.

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
        Length [m], weight [kg].
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
    TripStart | TripStop | SetupStart | SetupStop | Place | Casts
    | Bite | Fish | FishFate | StretchStatus | LineCare | Contact
    | Sighting | WaterReading | Note | AdviceGiven | Undo | Amend
)  # fmt: skip
BODIES: dict[str, type[Body]] = {body.kind: body for body in get_args(Body)}


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
        where = f"event {self.id[:64]}"
        plain = all(c.isascii() and (c.isalnum() or c in "-_") for c in self.id)
        if not (plain and 8 <= len(self.id) <= 64):
            raise LogError("an event id is 8 to 64 letters, digits, - or _", where)
        if not (1 <= len(self.trip) <= 200 and 1 <= len(self.device) <= 200):
            raise LogError("trip or device is empty or too long", where)
        if not (math.isfinite(self.time_utc_s) and 0.0 <= self.time_utc_s < 4.0e9):
            raise LogError("time is not a Unix time between 1970 and 2096", where)
        if self.seq < 0:
            raise LogError("seq is below 0", where)
        if not math.isfinite(self.mono_s or 0.0):
            raise LogError("mono_s is not a number", where)
