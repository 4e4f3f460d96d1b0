"""Fish in the log: size, what became of them, the limit and the clock of the livewell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leadsman.errors import LogError, QuantityError
from leadsman.units import parse_length_m, parse_mass_kg
from leadsman.usecases.log_book import Book, LogWhere, now_utc_s
from leadsman.usecases.log_entries import After, LogReply, on_what, put
from leadsman.usecases.log_words import fish_words
from leadsman.waterlog.events import Bite, Body, Fate, Fish, FishFate
from leadsman.waterlog.fish_care import livewell
from leadsman.waterlog.timeline import Entry, Timeline

SAME_BITE_S = 300.0
"""A fish logged within this of a bite is taken for that bite [s]. Own choice: a long fight
and a photograph; the answer says so and the angler may say otherwise."""


@dataclass(frozen=True, slots=True)
class FishQuestion:
    """A fish as an angler tells it.

    Parameters
    ----------
    length_m, weight_kg : float or None
        Its size [m], [kg].
    fate : {"kept", "released", "culled"}
        What became of it [-].
    ago_s : float
        How long ago it bit [s].
    depth_m : float or None
        Depth it came from; None is the bottom of the place [m].
    instead_of : int or None
        Number of the kept fish it takes the place of, which is let go [-].
    own_bite : bool
        It is a bite of its own, whatever was logged just before [-].
    """

    length_m: float | None = None
    weight_kg: float | None = None
    fate: Fate = "released"
    ago_s: float = 0.0
    depth_m: float | None = None
    instead_of: int | None = None
    own_bite: bool = False


def size_of(texts: Sequence[str]) -> tuple[float | None, float | None]:
    """Length and weight from texts such as "16 in" and "2 lb 4 oz" [m, kg].

    Parameters
    ----------
    texts : sequence of str
        One or two of them, in any order [-].

    Raises
    ------
    QuantityError
        One is neither, or both are of one kind.
    """
    length_m: float | None = None
    weight_kg: float | None = None
    for text in texts:
        try:
            value, is_length = parse_length_m(text, "SIZE"), True
        except QuantityError:
            try:
                value, is_length = parse_mass_kg(text, "SIZE"), False
            except QuantityError:
                raise QuantityError(
                    f"{text[:40]!r} is neither a length nor a weight", "SIZE",
                    "Write '16 in', '41 cm', '2 lb 4 oz' or '1.1 kg'",
                ) from None  # fmt: skip
        if (length_m if is_length else weight_kg) is not None or not value > 0.0:
            raise QuantityError(
                f"{text[:40]!r} is not one more size of this fish", "SIZE",
                "Give one length and one weight at most, above 0",
            )  # fmt: skip
        if is_length:
            length_m = value
        else:
            weight_kg = value
    return length_m, weight_kg


def fish(where: LogWhere, question: FishQuestion) -> LogReply:
    """Note a fish in the boat.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    question : FishQuestion
        The fish [-].
    """
    with Book(where.path) as book:
        line = book.line(book.trip_now())
        linked = None if question.own_bite else _open_bite(line, question.ago_s, where.at)
        body = Fish(
            question.length_m, question.weight_kg, question.fate, linked.id if linked else None,
            question.depth_m, question.ago_s,
        )  # fmt: skip
        bodies: list[Body] = [body]
        if question.instead_of is not None:
            if question.fate != "kept":
                raise LogError(
                    "only a kept fish takes another's place", "--instead-of", "Add --kept"
                )
            bodies.append(FishFate(_numbered(line, question.instead_of).id, "culled"))

        def answer(after: After) -> tuple[str, Sequence[str]]:
            caught = [e for e in after.line.entries if isinstance(e.body, Fish)]
            number = next(i for i, e in enumerate(caught, 1) if e.id == after.events[0].id)
            words = fish_words(body, after.units).removeprefix("fish")
            notes = [*on_what(after), *_tank(after.line)]
            if linked is not None:
                notes.append("Taken for the bite just before; if it was another: --own-bite")
            return f"Fish {number}{words}, at {after.when}.", notes

        return put(where, book, bodies, answer)


def change_fate(where: LogWhere, number: int, fate: Fate) -> LogReply:
    """Say what became of an earlier fish.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    number : int
        Its number of the day [-].
    fate : {"kept", "released", "culled"}
        What became of it [-].
    """
    with Book(where.path, make=False) as book:
        entry = _numbered(book.line(book.trip_now()), number)
        return put(
            where, book, [FishFate(entry.id, fate)],
            lambda after: (f"Fish {number} is {fate}.", _tank(after.line)),
        )  # fmt: skip


def _open_bite(line: Timeline, ago_s: float, at: str | None) -> Entry | None:
    """The bite just before, if no fish has it yet."""
    if at is not None:
        return None
    moment = now_utc_s() - ago_s
    had = {e.body.bite for e in line.entries if isinstance(e.body, Fish)}
    for entry in reversed(line.entries):
        if isinstance(entry.body, Fish) and entry.t_utc_s <= moment:
            return None
        if isinstance(entry.body, Bite) and entry.id not in had:
            return entry if -60.0 <= moment - entry.t_utc_s <= SAME_BITE_S else None
    return None


def _numbered(line: Timeline, number: int) -> Entry:
    caught = [entry for entry in line.entries if isinstance(entry.body, Fish)]
    if not 1 <= number <= len(caught):
        has = f"Fish 1 to {len(caught)} are there" if caught else "No fish is in the log today"
        raise LogError(f"there is no fish number {number} today", "NUMBER", has)
    return caught[number - 1]


def _tank(line: Timeline) -> list[str]:
    """Fish kept, room by the limit and the clock of the livewell."""
    tank = livewell(line, now_utc_s())
    if not tank.kept:
        return []
    count = len(tank.kept)
    text = f"{count} kept" if tank.room is None else f"{count} kept of {count + tank.room}"
    hours = tank.kept[0].hours
    return [f"{text}; the first has been in the livewell for {hours * 60.0:.0f} min."]
