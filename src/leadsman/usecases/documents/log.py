"""JSON forms of `leadsman log`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.log_entries import LogReply
from leadsman.usecases.log_exchange import ExchangeReply
from leadsman.usecases.log_show import LogView


class LogEntryDocument(Document):
    """Answer of the commands of `leadsman log` that write an entry."""

    schema_: str = Field(
        default="leadsman.log.entry/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="What was written, in a sentence.")
    log: str = Field(description="The log's file.")
    day: str = Field(description="The day the entry belongs to.")
    events: tuple[str, ...] = Field(description="Ids of what was written.")
    notes: tuple[str, ...] = Field(description="What follows from it.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


class LogRowForm(Document):
    """One entry."""

    number: int | None = Field(description="Its number of the day; null if it was taken back.")
    event: str = Field(description="Id of the event.")
    time_utc_s: float = Field(description="When it happened, Unix time [s].")
    clock: str = Field(description="The same on this machine's clock.")
    kind: str = Field(description="Kind of event.")
    words: str = Field(description="What happened.")


class KeptForm(Document):
    """A fish in the livewell."""

    event: str = Field(description="Id of the fish's event.")
    hours: float = Field(description="How long it has been there [h].")
    weight_kg: float | None = Field(description="Weight, if known [kg].")


class LogShowDocument(Document):
    """Answer of `leadsman log show`."""

    schema_: str = Field(
        default="leadsman.log.show/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    log: str = Field(description="The log's file.")
    day: str = Field(description="The day.")
    days: int = Field(description="Days in the log.")
    bites: int = Field(description="Bites of the day.")
    fish: int = Field(description="Fish of the day.")
    setup: str | None = Field(description="What is being fished; null while nothing is.")
    place: str | None = Field(description="Where; null if nothing was said.")
    entries: tuple[LogRowForm, ...] = Field(description="Entries in order of time.")
    kept: tuple[KeptForm, ...] = Field(description="Fish in the livewell, longest first.")
    room: int | None = Field(description="Fish that may still be kept by the limit given.")
    notes: tuple[str, ...] = Field(description="What was odd in the log.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


class LogExchangeDocument(Document):
    """Answer of `leadsman log export`, `import` and `salvage`."""

    schema_: str = Field(
        default="leadsman.log.exchange/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    log: str = Field(description="The log's file.")
    file: str = Field(description="The other file.")
    new: int = Field(description="Entries written.")
    known: int = Field(description="Entries that were there already.")
    days: tuple[str, ...] = Field(description="Days they belong to.")


def log_entry_document(reply: LogReply) -> LogEntryDocument:
    """JSON form of an entry's answer.

    Parameters
    ----------
    reply : LogReply
        The answer [-].
    """
    return LogEntryDocument(
        headline=reply.headline,
        log=str(reply.path),
        day=reply.trip,
        events=reply.events,
        notes=reply.notes,
        cautions=reply.cautions,
    )


def log_show_document(view: LogView) -> LogShowDocument:
    """JSON form of a day.

    Parameters
    ----------
    view : LogView
        The day [-].
    """
    now = view.now
    return LogShowDocument(
        headline=view.headline,
        log=str(view.path),
        day=view.trip,
        days=view.days,
        bites=view.bites,
        fish=view.fish,
        setup=now.setup.setup if now.setup else None,
        place=now.place.place if now.place else None,
        entries=tuple(
            LogRowForm(
                number=row.number,
                event=row.id,
                time_utc_s=row.t_utc_s,
                clock=row.clock,
                kind=row.kind,
                words=row.words,
            )
            for row in view.rows
        ),
        kept=tuple(
            KeptForm(event=k.id, hours=k.hours, weight_kg=k.weight_kg) for k in view.livewell.kept
        ),
        room=view.livewell.room,
        notes=view.notes,
        cautions=view.livewell.cautions,
    )


def log_exchange_document(reply: ExchangeReply) -> LogExchangeDocument:
    """JSON form of an export or import.

    Parameters
    ----------
    reply : ExchangeReply
        The answer [-].
    """
    return LogExchangeDocument(
        headline=reply.headline,
        log=str(reply.path),
        file=str(reply.file),
        new=reply.new,
        known=reply.known,
        days=reply.days,
    )
