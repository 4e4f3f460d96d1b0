"""Entries of the log in plain words."""

from __future__ import annotations

from leadsman.dimensions import OUNCE_KG, POUND_KG
from leadsman.display_units import DisplayUnits
from leadsman.waterlog.events import (
    AdviceGiven,
    Bite,
    Body,
    Casts,
    Contact,
    Fish,
    FishFate,
    LineCare,
    Note,
    Place,
    SetupStart,
    SetupStop,
    Sighting,
    StretchStatus,
    TripStart,
    TripStop,
    WaterReading,
)

COVER_WORDS = {"edge": "edge", "flat": "flat", "drop": "drop", "open_water": "open water"}


def entry_words(body: Body, units: DisplayUnits) -> str:
    """What happened, in a few words.

    Parameters
    ----------
    body : Body
        What happened [-].
    units : DisplayUnits
        Units the person reads in [-].
    """
    match body:
        case TripStart():
            return _start_words(body, units)
        case TripStop():
            return "day ended"
        case SetupStart():
            return f"fishing {setup_words(body, units)}"
        case SetupStop():
            return "stopped fishing"
        case Place():
            return f"at {place_words(body, units)}"
        case Casts():
            return f"{body.count} casts"
        case Bite():
            return "bite"
        case Fish():
            return fish_words(body, units)
        case FishFate():
            return f"an earlier fish {body.fate}"
        case StretchStatus():
            return f"{body.stretch} is {'taken' if body.taken else 'free'}"
        case LineCare():
            return f"line {body.action}, {body.setup}"
        case Contact():
            touched = "touched" if body.touched else "did not reach"
            return f"lure {touched} the bottom at {units.depth.text(body.depth_m)}"
        case Sighting():
            return f"saw {body.what}" + (f": {body.text}" if body.text else "")
        case WaterReading():
            return _water_words(body, units)
        case Note():
            return body.text
        case AdviceGiven():
            return f"advice: {body.option} ({100.0 * body.chance:.0f} % sure)" + _followed(body)
        case _:
            return body.kind


def setup_words(setup: SetupStart, units: DisplayUnits) -> str:
    """A setup in words.

    Parameters
    ----------
    setup : SetupStart
        The setup [-].
    units : DisplayUnits
        Units the person reads in [-].
    """
    parts = [setup.setup, setup.sound, f"worked {setup.work}"]
    if setup.cast_m is not None:
        parts.append(f"cast {units.distance.text(setup.cast_m)}")
    if setup.tip_m is not None:
        side = "under water" if setup.tip_m < 0.0 else "up"
        parts.append(f"tip {units.depth.text(abs(setup.tip_m))} {side}")
    return ", ".join(parts)


def place_words(place: Place, units: DisplayUnits) -> str:
    """A place in words.

    Parameters
    ----------
    place : Place
        The place [-].
    units : DisplayUnits
        Units the person reads in [-].
    """
    depth = f", {units.depth.text(place.bottom_m)}" if place.bottom_m is not None else ""
    return f"{place.place} ({COVER_WORDS.get(place.cover, place.cover)}{depth})"


def fish_words(fish: Fish, units: DisplayUnits) -> str:
    """A fish in words.

    Parameters
    ----------
    fish : Fish
        The fish [-].
    units : DisplayUnits
        Units the person reads in [-].
    """
    sizes = []
    if fish.length_m is not None:
        sizes.append(units.size.text(fish.length_m))
    if fish.weight_kg is not None:
        sizes.append(weight_text(fish.weight_kg, units))
    return ", ".join(["fish", *sizes, fish.fate])


def weight_text(weight_kg: float, units: DisplayUnits) -> str:
    """Weight of a fish: pounds and ounces, or kilograms.

    Parameters
    ----------
    weight_kg : float
        Weight [kg].
    units : DisplayUnits
        Units the person reads in [-].
    """
    if units.name == "metric":
        return f"{weight_kg:.2f} kg"
    pounds, ounces = divmod(round(weight_kg / OUNCE_KG), round(POUND_KG / OUNCE_KG))
    return f"{pounds} lb {ounces} oz"


def _start_words(body: TripStart, units: DisplayUnits) -> str:
    parts = [f"day on {body.lake}" if body.lake else "day", f"{body.hours:g} h"]
    if body.secchi_m is not None:
        parts.append(f"clarity {units.depth.text(body.secchi_m)}")
    if body.limit_fish is not None:
        parts.append(f"limit {body.limit_fish}")
    return ", ".join(parts)


def _water_words(body: WaterReading, units: DisplayUnits) -> str:
    where = "livewell" if body.in_livewell else f"water at {units.depth.text(body.depth_m)}"
    parts = []
    if body.temperature_c is not None:
        parts.append(units.temperature.text(body.temperature_c))
    if body.secchi_m is not None:
        parts.append(f"clarity {units.depth.text(body.secchi_m)}")
    if body.oxygen_mg_l is not None:
        parts.append(f"oxygen {body.oxygen_mg_l:.1f} mg/L")
    if body.level_m is not None:
        parts.append(f"level {units.depth.change(body.level_m)}")
    return f"{where}: {', '.join(parts)}"


def _followed(body: AdviceGiven) -> str:
    if body.followed is None:
        return ""
    return ", followed" if body.followed else ", not followed"
