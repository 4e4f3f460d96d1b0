"""Options of `leadsman log`, `advise` and `review`, and how their words are read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from leadsman.cli.option_groups import AnswerOptions

if TYPE_CHECKING:
    from leadsman.usecases.log_book import LogWhere
    from leadsman.usecases.log_entries import LogReply

Text = str | None
_LOG = "Log"


def _option(name: str, text: str) -> Any:
    return typer.Option(name, help=text, rich_help_panel=_LOG, show_default=False)


@dataclass(frozen=True)
class LogOptions:
    """Which log."""

    log: Annotated[
        Path | None,
        _option("--log", "Log file; else waterlog.sqlite beside the kit file, or here."),
    ] = None
    kit: Annotated[
        Path | None, _option("--kit", "Kit file; else kit.toml here, else the demo kit.")
    ] = None


@dataclass(frozen=True)
class WhenOption:
    """When it happened."""

    at: Annotated[
        Text, _option("--at", "When it happened, '9:40' or '2026-06-21 9:40'; else now.")
    ] = None


def where_of(log: LogOptions, answer: AnswerOptions, when: WhenOption | None = None) -> LogWhere:
    """Which log, when, and in what units to answer.

    Parameters
    ----------
    log : LogOptions
        Which log [-].
    answer : AnswerOptions
        How to answer [-].
    when : WhenOption or None
        When it happened [-].
    """
    from leadsman.usecases.log_book import LogWhere

    return LogWhere(log.log, log.kit, when.at if when is not None else None, answer.units)


def joined(words: Sequence[str] | None) -> str:
    """Words typed without quotes, as one text.

    Parameters
    ----------
    words : sequence of str or None
        Words [-].
    """
    return " ".join(words or ())


def ago_s(text: str, where: str) -> float:
    """How long ago, from "2 min"; a bare number is minutes, the one such case [s].

    Parameters
    ----------
    text : str
        Text [-].
    where : str
        Name of the argument [-].
    """
    from leadsman.errors import QuantityError
    from leadsman.units import parse_time_s

    found = parse_time_s(text, where, default_unit="min")
    if not 0.0 <= found <= 43_200.0:
        raise QuantityError(
            f"{text[:30]!r} is not how long ago it was", where, "Give 0 min to 12 h, or use --at"
        )
    return found


def hours(text: str | None, where: str) -> float | None:
    """Hours from "6 h" or "90 min" [h].

    Parameters
    ----------
    text : str or None
        Text [-].
    where : str
        Name of the option [-].
    """
    from leadsman.errors import QuantityError
    from leadsman.units import parse_time_s

    if text is None:
        return None
    found = parse_time_s(text, where) / 3600.0
    if not 0.0 <= found <= 24.0:
        raise QuantityError(f"{text[:30]!r} is not 0 to 24 h", where, "Write it like '6 h'")
    return found


def minutes(text: str | None, where: str, usual: float) -> float:
    """Minutes from "3 min" [min].

    Parameters
    ----------
    text : str or None
        Text; None is the usual one [-].
    where : str
        Name of the option [-].
    usual : float
        What holds if nothing is said [min].
    """
    found = hours(text, where)
    return usual if found is None else 60.0 * found


def length_m(text: str | None, where: str) -> float | None:
    """Length from "14 ft" [m].

    Parameters
    ----------
    text : str or None
        Text [-].
    where : str
        Name of the option [-].
    """
    from leadsman.units import parse_length_m

    return None if text is None else parse_length_m(text, where)


def tell(reply: LogReply, answer: AnswerOptions) -> None:
    """Print what an entry came to.

    Parameters
    ----------
    reply : LogReply
        What it came to [-].
    answer : AnswerOptions
        How to answer [-].
    """
    if answer.json:
        from leadsman.cli.reply import print_document
        from leadsman.usecases.documents.log import log_entry_document

        print_document(log_entry_document(reply))
        return
    # Plain printing: an entry should cost a second, not the start of a text library.
    for text in (reply.headline, *(f"- {note}" for note in (*reply.notes, *reply.cautions))):
        typer.echo(text)
