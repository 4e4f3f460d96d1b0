"""Fish kept, limit, livewell: what to watch, by published figures.

Local rules come first; nothing here says what is allowed.
"""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.waterlog.events import Fish, FishFate, TripStart, WaterReading
from leadsman.waterlog.timeline import Timeline

# Largemouth and smallmouth habitat suitability reports (FWS/OBS-82/10.36 and 10.72) and
# Brungs & Jones 1977: oxygen at least 5.5 mg/L, at most 29 degC.
LEAST_OXYGEN_MG_L = 5.5
MOST_TEMPERATURE_C = 29.0
# Pressure injury is typical in smallmouth bass from deeper than 6 m, and venting is not advised
# (Elliott et al. 2021, N. Am. J. Fish. Manage. 41:834-843).
PRESSURE_DEPTH_M = 6.0
LONG_IN_LIVEWELL_H = 4.0  # common practice, no source


@dataclass(frozen=True, slots=True)
class Kept:
    """A fish in the livewell.

    Parameters
    ----------
    id : str
        Id of the fish's event [-].
    hours : float
        How long it has been there [h].
    weight_kg : float or None
        Weight, if known [kg].
    caught_depth_m : float or None
        Depth it came from, if known [m].
    """

    id: str
    hours: float
    weight_kg: float | None
    caught_depth_m: float | None


@dataclass(frozen=True, slots=True)
class Livewell:
    """What is in the livewell, and what to watch.

    Parameters
    ----------
    kept : tuple of Kept
        Fish kept, longest first [-].
    room : int or None
        Fish that may still be kept by the limit the angler gave; None if none
        was given [-].
    cautions : tuple of str
        What to watch, most pressing first [-].
    """

    kept: tuple[Kept, ...]
    room: int | None
    cautions: tuple[str, ...]


def livewell(line: Timeline, now_utc_s: float) -> Livewell:
    """Fish kept now, room by the angler's limit, and cautions.

    Parameters
    ----------
    line : Timeline
        The day [-].
    now_utc_s : float
        Now, Unix time [s].
    """
    fate: dict[str, str] = {}
    since: dict[str, float] = {}
    fish: dict[str, Fish] = {}
    limit: int | None = None
    temperature_c: float | None = None
    oxygen_mg_l: float | None = None
    for entry in line.entries:
        body = entry.body
        if isinstance(body, TripStart):
            limit = body.limit_fish
        elif isinstance(body, Fish):
            fish[entry.id], since[entry.id], fate[entry.id] = body, entry.t_utc_s, body.fate
        elif isinstance(body, FishFate) and body.fish in fish:
            fate[body.fish] = body.fate
        elif isinstance(body, WaterReading) and body.in_livewell:
            temperature_c = body.temperature_c if body.temperature_c is not None else temperature_c
            oxygen_mg_l = body.oxygen_mg_l if body.oxygen_mg_l is not None else oxygen_mg_l
    kept = tuple(
        Kept(i, (now_utc_s - since[i]) / 3600.0, fish[i].weight_kg, fish[i].caught_depth_m)
        for i in fish
        if fate[i] == "kept"
    )
    kept = tuple(sorted(kept, key=lambda k: -k.hours))
    room = None if limit is None else limit - len(kept)
    return Livewell(kept, room, _cautions(kept, room, temperature_c, oxygen_mg_l))


def _cautions(
    kept: tuple[Kept, ...],
    room: int | None,
    temperature_c: float | None,
    oxygen_mg_l: float | None,
) -> tuple[str, ...]:
    if not kept:
        return ()
    said: list[str] = []
    if room is not None and room < 0:
        said.append("More fish are kept than the limit you gave. Local rules decide: check now.")
    if oxygen_mg_l is not None and oxygen_mg_l < LEAST_OXYGEN_MG_L:
        said.append(
            f"Livewell oxygen {oxygen_mg_l:.1f} mg/L is under {LEAST_OXYGEN_MG_L} mg/L: "
            "run the pump, change water, or let the fish go."
        )
    if temperature_c is not None and temperature_c > MOST_TEMPERATURE_C:
        said.append(
            f"Livewell at {temperature_c:.0f} degC is over {MOST_TEMPERATURE_C:.0f} degC: "
            "change water or let the fish go."
        )
    if any(k.caught_depth_m is not None and k.caught_depth_m > PRESSURE_DEPTH_M for k in kept):
        said.append(
            "A kept fish came from deeper than 6 m: pressure injury is likely. Watch whether it "
            "stays upright; venting is not advised; letting it go at once is kinder."
        )
    if kept[0].hours > LONG_IN_LIVEWELL_H:
        said.append(f"The first fish has been in the livewell for {kept[0].hours:.1f} h.")
    said.append("Your local rules on limits, lengths and livewells come first.")
    return tuple(said)
