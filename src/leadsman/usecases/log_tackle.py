"""What is fished and where: setups by the names of the kit, places by name or position."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from leadsman.belief.levels import COVERS, WORKS, colour_family_of
from leadsman.errors import LogError
from leadsman.kitfile.kit import suggestion
from leadsman.usecases.log_book import Book, LogWhere, Standing, standing
from leadsman.usecases.log_entries import LAW, After, LogReply, put
from leadsman.usecases.log_words import place_words, setup_words
from leadsman.waterlog.events import LineCare, Place, SetupStart
from leadsman.waterlog.timeline import Timeline

if TYPE_CHECKING:
    from leadsman.kitfile.kit import Kit

ON = " on "
"""Joins lure and line in the name of a setup."""

CHECK_LINE_S = 7200.0
"""Time on one line after which a check of its last yards is due [s]. Common practice, no
source: check for nicks often."""


@dataclass(frozen=True, slots=True)
class StartQuestion:
    """A rod is picked up.

    Parameters
    ----------
    lure, line : str or None
        Names in the kit; None takes what was last fished [-].
    cast_m : float or None
        Length of the casts; None is the angler's own [m].
    tip : str or float or None
        Rod position in a word, or height of the tip; None is the usual one [m].
    work : str
        straight, stop or snap [-].
    """

    lure: str | None = None
    line: str | None = None
    cast_m: float | None = None
    tip: str | float | None = None
    work: str = "stop"


def start_setup(where: LogWhere, question: StartQuestion) -> LogReply:
    """Note that fishing with a setup begins.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    question : StartQuestion
        What is fished [-].

    Raises
    ------
    InputError
        A name is not in the kit, or nothing says which line is meant.
    """
    from leadsman.usecases.resolve_setup import load_kit

    kit, kit_notes = load_kit(where.kit)
    if question.work not in WORKS:
        raise LogError(
            f"'{question.work[:20]}' is no way to work a lure", "--work", f"Use {', '.join(WORKS)}"
        )
    with Book(where.path) as book:
        line = book.line(book.trip_now(opens=True))
        body = _setup(question, kit, standing(line), line)

        def answer(after: After) -> tuple[str, Sequence[str]]:
            notes = [*kit_notes]
            if after.now.place is None:
                notes.append("Say where: leadsman log place NAME --depth '14 ft'")
            else:
                notes.append(f"At {place_words(after.now.place, after.units)}.")
            notes += _line_due(after)
            if after.now.start is None:
                notes.append(f"Say more of the day: leadsman log day LAKE --limit 5. {LAW}")
            return f"Fishing {setup_words(body, after.units)}, from {after.when}.", notes

        return put(where, book, [body], answer, opens=True)


def _setup(question: StartQuestion, kit: Kit, now: Standing, line: Timeline) -> SetupStart:
    from leadsman.usecases.resolve_technique import resolve_tip_m
    from leadsman.usecases.rod_position import DEFAULT_ROD_LENGTH_M

    last = now.last_setup
    if question.lure is None:
        if last is None:
            raise LogError(
                "no lure is named and none was fished today", "LURE",
                f"Name one of {', '.join(item.name for item in kit.lures[:8])}",
            )  # fmt: skip
        if question.line is None:
            # The same rod again, changed only in what is said.
            found = split_setup(last.setup, kit)
            lure_name, line_name = found if found is not None else (last.setup, "")
        else:
            lure_name, line_name = last.setup.split(ON)[0], question.line
    else:
        lure_name, line_name = question.lure, question.line or ""
    lure = kit.lure(lure_name)
    line_name = kit.line(line_name).name if line_name else _line_of(lure.name, kit, line)
    tip_m: float | None = None
    if question.tip is not None and question.tip != "usual":
        combo = next((c for c in kit.combos if c.line.name == line_name), None)
        rod_m = combo.rod.length_m if combo is not None else DEFAULT_ROD_LENGTH_M
        tip_m = resolve_tip_m(question.tip, rod_m, kit.angler)
    cast_m = question.cast_m
    if question.lure is None and question.line is None and last is not None:
        cast_m = last.cast_m if cast_m is None else cast_m
        tip_m = last.tip_m if question.tip is None else tip_m
    return SetupStart(
        f"{lure.name}{ON}{line_name}",
        lure.sound,
        colour_family_of(lure.colour),
        question.work,
        cast_m,
        tip_m,
    )


def _line_of(lure: str, kit: Kit, line: Timeline) -> str:
    """The line a lure hangs on where none is named: today's, the one in hand, the only one."""
    starts = [e.body for e in line.entries if isinstance(e.body, SetupStart)]
    for start in reversed(starts):
        found = split_setup(start.setup, kit)
        if found is not None and found[0] == lure:
            return found[1]
    if starts:
        found = split_setup(starts[-1].setup, kit)
        if found is not None:
            return found[1]
    if len(kit.lines) == 1:
        return kit.lines[0].name
    raise LogError(
        "no line is named, and nothing fished today tells it", "LINE",
        f"Name one of {', '.join(item.name for item in kit.lines[:8])}",
    )  # fmt: skip


def split_setup(setup: str, kit: Kit) -> tuple[str, str] | None:
    """Lure and line of a setup by its name; None if the kit has no such pair.

    Parameters
    ----------
    setup : str
        Name of a setup [-].
    kit : Kit
        The kit [-].
    """
    lines = {line.name for line in kit.lines}
    for lure in kit.lures:
        head = f"{lure.name}{ON}"
        if setup.startswith(head) and setup[len(head) :] in lines:
            return lure.name, setup[len(head) :]
    return None


def _line_due(after: After) -> list[str]:
    """A word on the line where it was not looked at for long."""
    if after.now.setup is None:
        return []
    name = after.now.setup.setup
    entries = after.line.entries
    looked = [e.t_utc_s for e in entries if isinstance(e.body, LineCare) and e.body.setup == name]
    first = next(
        (e.t_utc_s for e in entries if isinstance(e.body, SetupStart) and e.body.setup == name),
        entries[-1].t_utc_s,
    )
    if entries[-1].t_utc_s - (looked[-1] if looked else first) < CHECK_LINE_S:
        return []
    return ["Feel the last yards of this line for nicks, then: leadsman log line checked"]


def go_to(
    where: LogWhere, place: str, depth_m: float | None = None, ground: str | None = None
) -> LogReply:
    """Note where the boat is.

    Parameters
    ----------
    where : LogWhere
        Which log, and when [-].
    place : str
        Name of a stretch or spot, or latitude,longitude [-].
    depth_m : float or None
        Depth of the bottom there; None is as said before of this place [m].
    ground : str or None
        edge, flat, drop or open_water; None is as said before, else edge [-].
    """
    body = place_of(place, depth_m, ground)
    with Book(where.path) as book:
        body = known_place(book, body, depth_m is None, ground is None)

        def answer(after: After) -> tuple[str, Sequence[str]]:
            notes: list[str] = []
            if body.bottom_m is None:
                notes.append("Its depth is not known: add --depth, or bites count with less.")
            if after.now.setup is None:
                notes.append("Say with what: leadsman log start LURE LINE")
            return f"At {place_words(body, after.units)}, from {after.when}.", notes

        return put(where, book, [body], answer, opens=True)


def place_of(text: str, depth_m: float | None = None, ground: str | None = None) -> Place:
    """A place from its words, checked.

    Parameters
    ----------
    text : str
        Name, or latitude,longitude [-].
    depth_m : float or None
        Depth of the bottom [m].
    ground : str or None
        edge, flat, drop or open_water [-].

    Raises
    ------
    LogError
        It has no name, or the ground or the position is none.
    """
    name = " ".join(text.split())
    if not name:
        raise LogError("a place needs a name or a position", "PLACE", "Write one")
    cover = (ground or "edge").strip().casefold().replace(" ", "_").replace("-", "_")
    if cover not in COVERS:
        remedy = suggestion(cover, [str(c) for c in COVERS], "kind of ground")
        raise LogError(f"unknown ground '{(ground or '')[:20]}'", "--ground", remedy)
    if depth_m is not None and not 0.3 <= depth_m <= 60.0:
        raise LogError(
            f"a bottom at {depth_m:.3g} m is not one to fish", "--depth",
            "Give a depth from 1 ft to 197 ft",
        )  # fmt: skip
    if re.fullmatch(r"[-+]?\d+(\.\d*)?\s*[,; ]\s*[-+]?\d+(\.\d*)?", name) is None:
        return Place(name, cover, depth_m)
    lat_deg, lon_deg = (float(part) for part in re.split(r"\s*[,; ]\s*", name))
    if not (abs(lat_deg) <= 90.0 and abs(lon_deg) <= 180.0):
        raise LogError(f"'{name[:40]}' is not a place on Earth", "PLACE", "Latitude comes first")
    # Four digits are some 11 m of latitude: the spot, not the very boat.
    return Place(f"{lat_deg:.4f},{lon_deg:.4f}", cover, depth_m, lat_deg, lon_deg)


def known_place(book: Book, place: Place, fill_depth: bool, fill_ground: bool) -> Place:
    """A place with what was said of it before, today or in the last days.

    Parameters
    ----------
    book : Book
        The open log [-].
    place : Place
        As it is said now [-].
    fill_depth, fill_ground : bool
        Whether depth and ground were left open [-].
    """
    if not (fill_depth or fill_ground):
        return place
    recent = sorted(book.log.trips(), key=lambda item: -item[2])[:10]
    for trip, _, _ in recent:
        for entry in reversed(book.line(trip).entries):
            said = entry.body
            if not isinstance(said, Place) or said.place.casefold() != place.place.casefold():
                continue
            return replace(
                place,
                place=said.place,
                cover=said.cover if fill_ground else place.cover,
                bottom_m=said.bottom_m if fill_depth else place.bottom_m,
                lat_deg=said.lat_deg if place.lat_deg is None else place.lat_deg,
                lon_deg=said.lon_deg if place.lon_deg is None else place.lon_deg,
            )
    return place
