"""From events as they came in to what holds: undone, amended, in order of time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from leadsman.errors import LogError
from leadsman.waterlog.event_json import body_from_json, body_to_json
from leadsman.waterlog.events import (
    Amend,
    Bite,
    Body,
    Event,
    Fish,
    Undo,
)

_SLACK_S = 2.0  # a clock that steps back by less is jitter, not a setting


@dataclass(frozen=True, slots=True)
class Entry:
    """An event that holds.

    Parameters
    ----------
    id : str
        Id of the event [-].
    t_utc_s : float
        When it happened, best estimate, Unix time [s].
    body : Body
        What happened, amendments applied [-].
    device : str
        Who wrote it [-].
    """

    id: str
    t_utc_s: float
    body: Body
    device: str


@dataclass(frozen=True, slots=True)
class Timeline:
    """A day in order.

    Parameters
    ----------
    entries : tuple of Entry
        By time [-].
    warnings : tuple of str
        What was odd: clocks set, targets missing [-].
    """

    entries: tuple[Entry, ...]
    warnings: tuple[str, ...] = ()


def timeline(events: Iterable[Event]) -> Timeline:
    """Settle the events of one day.

    Parameters
    ----------
    events : iterable of Event
        Events in the order they came in [-].
    """
    events = list(events)
    times, warnings = _times(events)
    live = _live(events)
    known = {event.id for event in events}
    amends: dict[str, list[Amend]] = {}
    for event in events:
        if not isinstance(event.body, Undo | Amend):
            continue
        if event.body.target not in known:
            warnings.append(f"{event.body.kind} of an event that is not here: {event.body.target}")
        elif isinstance(event.body, Amend) and live[event.id]:
            amends.setdefault(event.body.target, []).append(event.body)
    entries: list[Entry] = []
    for event in events:
        if isinstance(event.body, Undo | Amend) or not live[event.id]:
            continue
        body: Body = event.body
        t = times[event.id]
        if isinstance(body, Bite | Fish):
            t -= body.ago_s
        for amend in amends.get(event.id, ()):
            t = amend.at_utc_s if amend.at_utc_s is not None else t
            body = _amended(body, amend, warnings)
        entries.append(Entry(event.id, t, body, event.device))
    seq = {event.id: event.seq for event in events}
    entries.sort(key=lambda e: (e.t_utc_s, e.device, seq[e.id]))
    return Timeline(tuple(entries), tuple(warnings))


def _amended(body: Body, amend: Amend, warnings: list[str]) -> Body:
    if amend.body is None:
        return body
    try:
        return body_from_json(body.kind, {**body_to_json(body), **amend.body}, "amend")
    except LogError as error:
        warnings.append(f"an amendment was left out. {error}")
        return body


def _live(events: list[Event]) -> dict[str, bool]:
    """An event holds unless an undo that holds names it.

    Undos are judged from the last to the first by each device's own count, so
    an undo can only be undone by a later one and there are no circles.
    """
    order = sorted(
        (e for e in events if isinstance(e.body, Undo)), key=lambda e: (e.time_utc_s, e.seq, e.id)
    )
    dead: set[str] = set()
    for event in reversed(order):
        assert isinstance(event.body, Undo)
        if event.id not in dead and event.body.target != event.id:
            dead.add(event.body.target)
    return {event.id: event.id not in dead for event in events}


def _times(events: list[Event]) -> tuple[dict[str, float], list[str]]:
    """When each event was written, with clocks that were set in between put right.

    The latest setting of a clock is believed, because phones set themselves by
    the network; earlier events keep the time between them. With a clock that
    is never set (`mono_s`) this is exact; without one a step back is closed up.
    """
    times: dict[str, float] = {}
    warnings: list[str] = []
    by_device: dict[str, list[Event]] = {}
    for event in events:
        by_device.setdefault(event.device, []).append(event)
    for device, own in by_device.items():
        own.sort(key=lambda e: e.seq)
        shift = 0.0
        later: Event | None = None
        for event in reversed(own):
            if later is not None:
                shift = _shift(event, later, shift)
                step = (later.time_utc_s - event.time_utc_s) if shift else 0.0
                if step < -_SLACK_S:
                    warnings.append(
                        f"the clock of {device} was set back by {-step / 60.0:.0f} min; "
                        "earlier times are shifted"
                    )
            times[event.id] = event.time_utc_s + shift
            later = event
    return times, warnings


def _shift(event: Event, later: Event, shift: float) -> float:
    """What to add to an event's clock, given what was added to the next one's."""
    same = event.session is not None and event.session == later.session
    if same and event.mono_s is not None and later.mono_s is not None:
        passed = later.mono_s - event.mono_s
        wanted = later.time_utc_s + shift - passed
        off = wanted - event.time_utc_s
        return off if abs(off - shift) > _SLACK_S else shift
    if later.time_utc_s < event.time_utc_s - _SLACK_S:
        return later.time_utc_s + shift - event.time_utc_s
    return shift


def is_bite(entry: Entry) -> bool:
    """True for bites and for fish that name no bite [-].

    Parameters
    ----------
    entry : Entry
        Entry [-].
    """
    return isinstance(entry.body, Bite) or (
        isinstance(entry.body, Fish) and entry.body.bite is None
    )


def backdated(event: Event, minutes: float, new_id: str, seq: int, now_utc_s: float) -> Event:
    """The event that moves another one back in time: one more tap.

    Parameters
    ----------
    event : Event
        What to move [-].
    minutes : float
        How much earlier it happened [min].
    new_id : str
        Id of the new event [-].
    seq : int
        The device's next count [-].
    now_utc_s : float
        Unix time now [s].
    """
    body = Amend(event.id, at_utc_s=event.time_utc_s - 60.0 * minutes)
    return replace(event, id=new_id, seq=seq, time_utc_s=now_utc_s, body=body)
