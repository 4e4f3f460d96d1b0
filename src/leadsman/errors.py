"""Every error a person can cause, as a small tree.

An `InputError` says what is wrong, where it is wrong and what to do about it.
The faces turn it into one message and exit code 2; anything else that escapes
is a fault of ours and exits with 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Where:
    """A place in something the user gave us.

    Parameters
    ----------
    source : str or None
        File name, option name or argument, as the user would recognise it [-].
    line : int or None
        Line in the file, counted from 1 [-].
    field : str or None
        Dotted field name, such as ``lures.deep-long.mass`` [-].
    """

    source: str | None = None
    line: int | None = None
    field: str | None = None

    def __str__(self) -> str:
        parts: list[str] = []
        if self.source is not None:
            parts.append(self.source)
        if self.line is not None:
            parts.append(f"line {self.line}")
        if self.field is not None:
            parts.append(self.field)
        return ", ".join(parts)


class LeadsmanError(Exception):
    """Root of all errors raised on purpose."""


class InputError(LeadsmanError):
    """Something the user gave cannot be used.

    Parameters
    ----------
    problem : str
        What is wrong, one sentence without a full stop [-].
    where : Where or str or pathlib.Path or None
        Where it is wrong [-].
    remedy : str or None
        What to do, an imperative sentence without a full stop [-].
    """

    def __init__(
        self,
        problem: str,
        where: Where | str | Path | None = None,
        remedy: str | None = None,
    ) -> None:
        if isinstance(where, str | Path):
            where = Where(source=str(where))
        self.problem = problem
        self.where = where or Where()
        self.remedy = remedy
        super().__init__(self.message)

    @property
    def message(self) -> str:
        """The whole message, one or two sentences."""
        place = str(self.where)
        text = f"{place}: {self.problem}." if place else f"{self.problem}."
        if self.remedy:
            text += f" {self.remedy}."
        return text


class QuantityError(InputError):
    """A number with a unit cannot be read or lies outside what is physical."""


class KitError(InputError):
    """The kit file is malformed or describes impossible tackle."""


class LakeDataError(InputError):
    """Soundings, contours or a grid cannot be used."""


class TechniqueError(InputError):
    """A retrieve script, cast or rod position makes no sense."""


class PlanError(InputError):
    """A plan was asked for that cannot be made as asked."""


class LogError(InputError):
    """An entry or a log file cannot be used."""


class SolverError(LeadsmanError):
    """The physics could not be solved for valid input: a fault of ours."""
