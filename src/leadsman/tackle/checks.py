"""One way to refuse impossible tackle, shared by its types."""

from __future__ import annotations

import math

from leadsman.dimensions import Dimension
from leadsman.errors import KitError, Where


def check_between(
    value: float, low: float, high: float, field: str, dimension: Dimension, unit: str
) -> None:
    """Refuse a value outside what such tackle can be.

    Parameters
    ----------
    value, low, high : float
        Value and the ends it must lie between [SI].
    field : str
        Name of the field in the kit file [-].
    dimension : Dimension
        Kind of quantity [-].
    unit : str
        Unit of the message [-].

    Raises
    ------
    KitError
        The value lies outside or is not a number.
    """
    if math.isfinite(value) and low <= value <= high:
        return
    span = f"{dimension.value(low, unit):.4g} to {dimension.value(high, unit):.4g} {unit}"
    shown = f"{dimension.value(value, unit):.4g} {unit}"
    raise KitError(
        f"{field.replace('_', ' ')} of {shown} is outside {span}",
        Where(field=field),
        "Check the number and its unit",
    )


def check_name(name: str, kind: str) -> None:
    """Refuse a name that could not be typed on a command line or shown on one line.

    Parameters
    ----------
    name : str
        Name of a piece of tackle [-].
    kind : str
        What it names, for the message [-].

    Raises
    ------
    KitError
        The name is empty, too long or not printable.
    """
    if not name.strip() or name != name.strip() or len(name) > 60 or not name.isprintable():
        raise KitError(
            f"a {kind} needs a printable name of 1 to 60 characters",
            Where(field="name"),
            "Give it a short plain name",
        )
