"""A day of the log: its beginning, its end, and whether its advice was followed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from leadsman.errors import LogError
from leadsman.usecases.log_book import Book, LogWhere, now_utc_s
from leadsman.usecases.log_entries import LAW, After, LogReply, bites_text, capital, put
from leadsman.usecases.log_words import entry_words
from leadsman.waterlog.event_json import body_from_json
from leadsman.waterlog.events import AdviceGiven, Amend, Body, SetupStop, TripStart, TripStop


def begin_day(
    where: LogWhere,
    lake: str = "",
    hours: float | None = None,
    secchi_m: float | None = None,
    limit_fish: int | None = None,
) -> LogReply:
    """Begin a day, or say more about the one that has begun.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    lake : str
        Name of the water [-].
    hours : float or None
        Hours to be fished from now; None keeps what was said, else 8 [h].
    secchi_m : float or None
        Depth at which a white disk is lost from sight [m].
    limit_fish : int or None
        Fish that may be kept at a time, by the local rules [-].
    """
    with Book(where.path) as book:
        trip = book.trip_now(opens=True)
        entries = book.line(trip).entries
        before = next((e for e in entries if isinstance(e.body, TripStart)), None)
        body: Body
        if before is None:
            offset_h = _utc_offset_h(now_utc_s())
            # Hours count from the day's first entry, which may be older than this one.
            gone_h = (now_utc_s() - entries[0].t_utc_s) / 3600.0 if entries else 0.0
            total_h = (8.0 if hours is None else hours) + max(gone_h, 0.0)
            body = TripStart(lake, round(total_h, 3), offset_h, secchi_m, limit_fish)
        else:
            said = {"lake": lake or None, "secchi_m": secchi_m, "limit_fish": limit_fish}
            if hours is not None:
                gone_h = (now_utc_s() - entries[0].t_utc_s) / 3600.0
                said["hours"] = round(hours + max(gone_h, 0.0), 3)
            fields: dict[str, object] = {k: v for k, v in said.items() if v is not None}
            if not fields:
                raise LogError(
                    "the day has begun already, and nothing new is said of it", "log day",
                    "Give a lake, --hours, --clarity or --limit",
                )  # fmt: skip
            _check_amend(TripStart.kind, fields)
            body = Amend(before.id, fields)

        def answer(after: After) -> tuple[str, Sequence[str]]:
            start = after.now.start or TripStart(lake)
            return f"{capital(entry_words(start, after.units))}.", (LAW,)

        return put(where, book, [body], answer, opens=True)


def stop(where: LogWhere, day: bool = False) -> LogReply:
    """Stop fishing for now, or end the day.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    day : bool
        End the day [-].
    """
    with Book(where.path, make=False) as book:

        def answer(after: After) -> tuple[str, Sequence[str]]:
            if not day:
                return f"Stopped at {after.when}.", ("Go on with: leadsman log start LURE",)
            notes = (
                "What the day came to: leadsman review",
                "Clean, drain and dry boat and gear before the next water.",
            )
            return f"Day ended at {after.when} with {bites_text(after.bites)}.", notes

        return put(where, book, [TripStop() if day else SetupStop()], answer)


def followed(where: LogWhere, yes: bool) -> LogReply:
    """Say whether the last advice was followed.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    yes : bool
        True if it was [-].
    """
    with Book(where.path, make=False) as book:
        trip = book.trip_now()
        told = [e for e in book.line(trip).entries if isinstance(e.body, AdviceGiven)]
        if not told:
            raise LogError("no advice was given today", "log followed", "Ask: leadsman advise")
        body = Amend(told[-1].id, {"followed": yes})
        word = "followed" if yes else "not followed"
        return put(where, book, [body], lambda after: (f"The last advice was {word}.", ()))


def _check_amend(kind: str, fields: dict[str, object]) -> None:
    body_from_json(kind, {"lake": "", **fields}, "this entry")


def _utc_offset_h(t_utc_s: float) -> float:
    offset = datetime.fromtimestamp(t_utc_s).astimezone().utcoffset()
    return offset.total_seconds() / 3600.0 if offset is not None else 0.0
