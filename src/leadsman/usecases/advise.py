"""Stay, or change what? The log's advice in plain words."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path

from leadsman.belief.levels import LADDER
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import LogError
from leadsman.usecases.advise_options import ChangeCosts, Offer, offers, ways_of
from leadsman.usecases.log_book import Book, LogWhere, Standing, now_utc_s, standing
from leadsman.usecases.log_entries import LAW
from leadsman.usecases.log_physics import KitPhysics
from leadsman.usecases.log_prior import prior_of
from leadsman.usecases.log_tackle import place_of, split_setup
from leadsman.waterlog.advice import Advice, AdviceSettings, Ranked, advise
from leadsman.waterlog.day_log import Today, past_days, read_today
from leadsman.waterlog.events import AdviceGiven, Place, SetupStart
from leadsman.waterlog.fish_care import livewell
from leadsman.waterlog.phrases import advice_words, change_words

MOST_LEAST_BITES = 8
"""A trial that needs more bites than this is no test [-]. Own choice."""


@dataclass(frozen=True, slots=True)
class AdviseQuestion:
    """What the advice should go by.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    outlook : pathlib.Path or None
        JSON of an outlook; None starts from a flat wide guess [-].
    hours_left : float or None
        Time left to fish; None is what is left of the day's hours [h].
    rigged : tuple of str
        Lures, or setups, on rods that were not fished yet [-].
    places : tuple of (str, float or None)
        Further places: name and depth of the bottom [-, m].
    costs : ChangeCosts
        What changes cost [-].
    quiet_h : float or None
        Least time between two suggestions; None is the usual one [h].
    most_per_h : float or None
        Most suggestions an hour; None is the usual one [h-1].
    keep : bool
        Note in the log that a change was named, for its quiet and its review [-].
    """

    where: LogWhere = field(default_factory=LogWhere)
    outlook: Path | None = None
    hours_left: float | None = None
    rigged: tuple[str, ...] = ()
    places: tuple[tuple[str, float | None], ...] = ()
    costs: ChangeCosts = field(default_factory=ChangeCosts)
    quiet_h: float | None = None
    most_per_h: float | None = None
    keep: bool = True


@dataclass(frozen=True, slots=True)
class AdviseRow:
    """One option, ranked.

    Parameters
    ----------
    what : str
        What to do, in words [-].
    setup : str
        With what [-].
    place : str
        Where [-].
    ranked : Ranked
        What it promises [-].
    cost : str
        What the change takes, in words [-].
    """

    what: str
    setup: str
    place: str
    ranked: Ranked
    cost: str


@dataclass(frozen=True, slots=True)
class AdviseAnswer:
    """The advice.

    Parameters
    ----------
    headline : str
        What to do, in a sentence [-].
    why : tuple of str
        What it promises, why, and what would change it [-].
    advice : Advice
        The advice in figures [-].
    best, here : AdviseRow
        What to do, and staying [-].
    rows : tuple of AdviseRow
        The best options, best first [-].
    hours_left : float
        Time left that was counted [h].
    bites : int
        Bites of the day [-].
    quiet_h, most_per_h : float
        Least time between suggestions [h], most of them an hour [h-1].
    noted : bool
        Whether the suggestion was noted in the log [-].
    notes : tuple of str
        What it rests on [-].
    cautions : tuple of str
        What to mind [-].
    units : DisplayUnits
        Units the person reads in [-].
    """

    headline: str
    why: tuple[str, ...]
    advice: Advice
    best: AdviseRow
    here: AdviseRow
    rows: tuple[AdviseRow, ...]
    hours_left: float
    bites: int
    quiet_h: float
    most_per_h: float
    noted: bool
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    units: DisplayUnits


def find_advice(question: AdviseQuestion) -> AdviseAnswer:
    """What to fish next, by the log of the day.

    Parameters
    ----------
    question : AdviseQuestion
        What to go by [-].

    Raises
    ------
    InputError
        There is no day that goes on with a setup and a place, or something given is wrong.
    """
    from leadsman.usecases.resolve_setup import load_kit

    settings = _settings(question)
    kit, kit_notes = load_kit(question.where.kit)
    units = display_units(question.where.units or kit.units)
    rigged = _rigged(question.rigged, kit)
    more = tuple(place_of(name, depth_m) for name, depth_m in question.places)
    with Book(question.where.path, make=False) as book:
        trip = book.trip_now()
        line = book.line(trip)
        setup, place = _fished(standing(line))
        physics = KitPhysics(book.log, kit)
        ways = ways_of(line, setup, place, rigged, tuple(_like(p, place) for p in more))
        here, others = offers(ways, kit, physics, question.costs)
        prior, basis = prior_of(question.outlook, here.option.zone_m_per_h)
        past = past_days(book.log, physics, physics.version, LADDER, trip)
        cells = tuple(offer.option.cell for offer in (here, *others))
        today = read_today(book.log, trip, prior, physics, LADDER, now_utc_s(), past, cells)
        physics.keep()
        left = today.hours_left if question.hours_left is None else question.hours_left
        advice = advise(
            today.reading, here.option, tuple(o.option for o in others), left,
            today.told_at_h, settings,
        )  # fmt: skip
        if advice.status == "not started" and _has_stopped(today, here):
            advice = replace(advice, status="stopped")
        noted = question.keep and advice.verdict == "change" and _noted(book, advice)
    by_name = {offer.option.name: offer for offer in (here, *others)}
    answer = AdviseAnswer(
        headline="",
        why=(),
        advice=advice,
        best=_row(advice.best, by_name, units),
        here=_row(advice.here, by_name, units),
        rows=tuple(_row(r, by_name, units) for r in advice.ranked),
        hours_left=left,
        bites=sum(b.bites for b in today.effort.blocks) + len(today.effort.stray_bites),
        quiet_h=settings.quiet_h,
        most_per_h=settings.most_per_h,
        noted=noted,
        notes=(),
        cautions=(*livewell(today.line, now_utc_s()).cautions, LAW),
        units=units,
    )
    notes = _notes(today, physics, here, basis, len(past), settings)
    headline, why = _words(answer, by_name)
    return replace(answer, headline=headline, why=why, notes=(*notes, *kit_notes))


def _noted(book: Book, advice: Advice) -> bool:
    """Note a suggestion; an answer that is known is given even where the disk is full."""
    best = advice.best
    try:
        book.write([AdviceGiven(best.option.name, best.gain, best.chance_better)])
    except LogError:
        return False
    return True


def _has_stopped(today: Today, here: Offer) -> bool:
    """Whether the last stop was here: fishing on without a bite does not make it a new start."""
    stops = today.reading.stops
    return bool(stops) and stops[-1].cell == here.option.cell


def _settings(question: AdviseQuestion) -> AdviceSettings:
    settings = AdviceSettings()
    for value, name, least, most in (
        (question.hours_left, "--hours-left", 0.0, 24.0),
        (question.quiet_h, "--quiet", 0.0, 24.0),
        (question.most_per_h, "--most-per-hour", 0.0, 60.0),
    ):
        if value is not None and not least <= value <= most:
            raise LogError(f"{value:g} is outside {least:g} to {most:g}", name)
    if question.quiet_h is not None:
        settings = replace(settings, quiet_h=question.quiet_h)
    if question.most_per_h is not None:
        settings = replace(settings, most_per_h=question.most_per_h)
    return settings


def _rigged(names: tuple[str, ...], kit: object) -> tuple[str, ...]:
    """Setups by name; a lure alone stands for it on the line of a rod that throws it."""
    from leadsman.kitfile.kit import Kit
    from leadsman.usecases.log_tackle import ON

    assert isinstance(kit, Kit)
    found: list[str] = []
    for name in names:
        if split_setup(name, kit) is not None:
            found.append(name)
            continue
        lure_name, on, line_name = name.partition(ON)
        lure = kit.lure(lure_name)
        if on:
            found.append(f"{lure.name}{ON}{kit.line(line_name).name}")
            continue
        lines = [c.line.name for c in kit.combos if c.rod.throws(lure.mass_kg)]
        if not lines:
            raise LogError(
                f"no rod of the kit is put together for {lure.name}", "--rigged",
                f"Write it with its line, '{lure.name} on LINE'",
            )  # fmt: skip
        found.append(f"{lure.name}{ON}{lines[0]}")
    return tuple(found)


def _like(place: Place, here: Place) -> Place:
    """A further place, on the ground fished now and as deep where nothing else is said."""
    bottom_m = here.bottom_m if place.bottom_m is None else place.bottom_m
    return replace(place, cover=here.cover, bottom_m=bottom_m)


def _fished(now: Standing) -> tuple[SetupStart, Place]:
    if now.stopped:
        raise LogError(
            "the day has ended, so there is nothing to advise", "advise", "Ask: leadsman review"
        )
    if now.last_setup is None or now.place is None:
        missing = "setup" if now.last_setup is None else "place"
        word = "start LURE LINE" if now.last_setup is None else "place NAME --depth '14 ft'"
        raise LogError(
            f"the log of today has no {missing} yet", "advise", f"Say it: leadsman log {word}"
        )
    return now.last_setup, now.place


def say_depth(units: DisplayUnits, band: int) -> str:
    """A depth band in words.

    Parameters
    ----------
    units : DisplayUnits
        Units the person reads in [-].
    band : int
        Number of the band [-].
    """
    low_m, high_m = LADDER.limits_m(band)
    step = 0.5 if units.name == "us" else 0.1

    def text(depth_m: float) -> str:
        return f"{round(units.depth.value(depth_m) / step) * step:g}"

    return f"{text(low_m)} to {text(high_m)} {units.depth.unit}"


def _row(ranked: Ranked, by_name: dict[str, Offer], units: DisplayUnits) -> AdviseRow:
    offer = by_name[ranked.option.name]
    what = change_words(ranked, lambda band: say_depth(units, band))
    return AdviseRow(what, offer.setup.setup, offer.place.place, ranked, offer.cost)


def _words(answer: AdviseAnswer, by_name: dict[str, Offer]) -> tuple[str, tuple[str, ...]]:
    units, advice = answer.units, answer.advice
    first, *rest = advice_words(advice, lambda band: say_depth(units, band))
    offer = by_name[advice.best.option.name]
    if advice.verdict == "stay":
        bites = f"{advice.here.bites_per_h:.1f} bites an hour expected"
        head = f"{first.rstrip('.')}: {offer.setup.setup} at {offer.place.place}, {bites}."
        # The rate was said in the headline. A trial that no day could pass tells nothing either:
        # what stands against staying is then the next best, and how sure it is.
        hopeless = advice.best.least_bites > MOST_LEAST_BITES
        rest = [
            text
            for text in rest
            if not text.startswith(("About ", "There is a change"))
            and not (hopeless and text.startswith("Change if"))
        ]
        rest += _next_best(answer)
    else:
        best = advice.best
        sure = _chance(best.chance_better)
        head = (
            f"{first.rstrip('.')}: {offer.setup.setup}; {best.gain:+.1f} bites over the time "
            f"that counts, {sure}."
        )
        rest.append(f"How: {offer.cost}.")
        if offer.place.bottom_m is not None:
            rest.append(f"Over a bottom at {units.depth.text(offer.place.bottom_m)}.")
    return head, tuple(rest)


def _chance(chance: float) -> str:
    # Never 0 or 100: nothing here is that sure.
    return f"{min(max(round(20.0 * chance) * 5, 5), 95)} in 100 that it is better"


def _next_best(answer: AdviseAnswer) -> list[str]:
    """The best change that was not named, and why it was not."""
    row = next((row for row in answer.rows if row.ranked.changes), None)
    if row is None or row.ranked.gain <= 0.0:
        return []
    chance = _chance(row.ranked.chance_better)
    quiet = answer.advice.held_back
    why = "held back, as you asked for quiet" if quiet else "not enough to leave this yet"
    what = f"{row.what[:1].lower()}{row.what[1:]}"
    return [f"Next best: {what}, with {row.setup}; {row.ranked.gain:+.1f} bites, {chance}: {why}."]


def _notes(
    today: Today,
    physics: KitPhysics,
    here: Offer,
    basis: str,
    past: int,
    settings: AdviceSettings,
) -> tuple[str, ...]:
    notes = [basis]
    if past:
        noun = "day" if past == 1 else "days"
        notes.append(f"{past} earlier {noun} of the log count in part, the latest most.")
    if here.place.bottom_m is None:
        notes.append(
            "The depth of this place is not known, so the zone is that of a free-running lure: "
            "leadsman log place NAME --depth '14 ft'"
        )
    elif physics.worked(here.setup, here.place).kind == "plowing":
        notes.append(
            "By the physics this lure plows the bottom most of its way here: raise the rod, cast "
            "shorter, or take one that runs less deep."
        )
    for name in physics.unknown:
        notes.append(f"'{name}' is not in the kit, so its effort is a guess.")
    notes.append(
        f"Quiet: at least {60.0 * settings.quiet_h:.0f} min between suggestions, at most "
        f"{settings.most_per_h:g} an hour; change it with --quiet and --most-per-hour."
    )
    notes += [f"{text[:1].upper()}{text[1:]}." for text in today.line.warnings]
    return tuple(notes)
