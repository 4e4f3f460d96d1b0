"""Bodies of events to and from JSON, every field checked."""

from __future__ import annotations

import dataclasses
import functools
import math
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from leadsman.errors import LogError
from leadsman.waterlog.events import BODIES, Body

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
