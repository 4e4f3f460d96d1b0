"""What a day on the water came to, and what it teaches of the lures."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from leadsman.belief.levels import LADDER
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError, LogError
from leadsman.usecases.advise import say_depth
from leadsman.usecases.log_book import Book, LogWhere, now_utc_s, standing
from leadsman.usecases.log_physics import KitPhysics
from leadsman.usecases.log_tackle import split_setup
from leadsman.waterlog.day_log import past_days
from leadsman.waterlog.effort import Stretch, day_effort
from leadsman.waterlog.events import SetupStart
from leadsman.waterlog.phrases import review_words
from leadsman.waterlog.review import HUNDRED_YARDS_M, ProposedObservation, Review, review
from leadsman.waterlog.season import PastDay, weight

if TYPE_CHECKING:
    from leadsman.kitfile.kit import Kit

KIND_OF = {"ticked": "ticked", "did_not_reach": "did not reach"}
LEAST_WEIGHT = 0.01
"""Share under which an earlier day is not told of [-]."""


@dataclass(frozen=True, slots=True)
class SeasonRow:
    """What earlier days gave at one level.

    Parameters
    ----------
    factor, level : str
        Such as depth and 3, or sound and silent [-].
    bites, zone_m : float
        Bites [-] and zone fished [m], each day by how far it counts today.
    per_100_yd : float
        Bites per 100 yd of zone [-].
    """

    factor: str
    level: str
    bites: float
    zone_m: float
    per_100_yd: float


@dataclass(frozen=True, slots=True)
class NotedObservation:
    """An observation proposed to calibration.

    Parameters
    ----------
    observation : ProposedObservation
        As the log has it [-].
    cells : dict of str to str
        As it goes into the observations file; empty where it cannot [-].
    told : str
        In words [-].
    written : bool
        Whether it is in the file now [-].
    """

    observation: ProposedObservation
    cells: dict[str, str]
    told: str
    written: bool = False


@dataclass(frozen=True, slots=True)
class ReviewQuestion:
    """Which day, and what to do with it.

    Parameters
    ----------
    where : LogWhere
        Which log [-].
    trip : str or None
        Which day; None is the newest [-].
    note_observations : bool
        Write what the log says of running depths beside the kit [-].
    """

    where: LogWhere = field(default_factory=LogWhere)
    trip: str | None = None
    note_observations: bool = False


@dataclass(frozen=True, slots=True)
class ReviewAnswer:
    """The report of a day.

    Parameters
    ----------
    trip : str
        The day [-].
    lake : str
        The water [-].
    headline : str
        The day in a sentence [-].
    review : Review
        Its numbers [-].
    observations : tuple of NotedObservation
        What it says of running depths [-].
    season : tuple of SeasonRow
        What earlier days gave, by how far they count [-].
    season_days : int
        Earlier days that count [-].
    notes : tuple of str
        What it rests on [-].
    cautions : tuple of str
        What to mind [-].
    units : DisplayUnits
        Units the person reads in [-].
    """

    trip: str
    lake: str
    headline: str
    review: Review
    observations: tuple[NotedObservation, ...]
    season: tuple[SeasonRow, ...]
    season_days: int
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    units: DisplayUnits


def find_review(question: ReviewQuestion) -> ReviewAnswer:
    """Report on a day of the log.

    Parameters
    ----------
    question : ReviewQuestion
        Which day [-].

    Raises
    ------
    InputError
        There is no such day, or observations cannot be written.
    """
    from leadsman.usecases.resolve_setup import load_kit

    kit, kit_notes = load_kit(question.where.kit)
    units = display_units(question.where.units or kit.units)
    with Book(question.where.path, make=False) as book:
        trip = book.last_trip(question.trip)
        line = book.line(trip)
        physics = KitPhysics(book.log, kit)
        now = standing(line)
        goes_on = not now.stopped and trip == book.trip_now()
        effort = day_effort(line, physics, LADDER, now_utc_s() if goes_on else 0.0)

        def running(stretch: Stretch) -> tuple[float, float]:
            runs = physics.runs(stretch.setup)
            return runs.depth_m, runs.depth_sd_m

        found = review(line, effort, running)
        past = past_days(book.log, physics, physics.version, LADDER, trip)
        day = datetime.fromtimestamp(effort.start_utc_s).date().isoformat()
        observations = tuple(_observation(o, kit, physics, day, units) for o in found.proposed)
        physics.keep()
    start = now.start
    lake, secchi_m = (start.lake, start.secchi_m) if start else ("", None)
    season, days = _season(past, lake, effort.start_utc_s, secchi_m)
    if question.note_observations:
        observations = _write(observations, kit)
    return ReviewAnswer(
        trip=trip,
        lake=lake,
        headline=_headline(trip, lake, found, units),
        review=found,
        observations=observations,
        season=season,
        season_days=days,
        notes=(*_notes(found, physics, observations, question.note_observations), *kit_notes),
        cautions=found.livewell.cautions,
        units=units,
    )


def draw_review(answer: ReviewAnswer, path: Path, phone: bool = False) -> tuple[Path, Path]:
    """Write the day's two pictures: bites by depth and time, and what worked.

    Parameters
    ----------
    answer : ReviewAnswer
        The report [-].
    path : pathlib.Path
        File of the first, ending in .svg or .png; the second gets "-rates" [-].
    phone : bool
        As narrow as a phone [-].
    """
    from leadsman.output.picture import save_picture
    from leadsman.output.review_pictures import draw_day, draw_rates
    from leadsman.output.style import LAPTOP, PHONE
    from leadsman.usecases.pictures import check_picture_path

    check_picture_path(path)
    layout = PHONE if phone else LAPTOP
    rates = path.with_stem(f"{path.stem}-rates")
    units = answer.units
    save_picture(draw_day(answer.review, LADDER, answer.headline, units, layout), path)

    def say_level(factor: str, level: str) -> str:
        return level_words(units, factor, level)

    save_picture(draw_rates(answer.review, answer.headline, say_level, layout), rates)
    return path, rates


def level_words(units: DisplayUnits, factor: str, level: str) -> str:
    """A level of a factor in words.

    Parameters
    ----------
    units : DisplayUnits
        Units the person reads in [-].
    factor, level : str
        Such as depth and 3 [-].
    """
    if factor == "depth":
        return say_depth(units, int(level))
    plain = level.replace("%2A", "*").replace("%3D", "=").replace("%25", "%")
    return plain if factor == "place" else plain.replace("_", " ")


def _headline(trip: str, lake: str, found: Review, units: DisplayUnits) -> str:
    words = review_words(found, lambda band: say_depth(units, band))
    return f"{trip}{f' on {lake}' if lake else ''}: {words[:1].lower()}{words[1:]}"


def _notes(
    found: Review,
    physics: KitPhysics,
    observations: tuple[NotedObservation, ...],
    asked: bool,
) -> tuple[str, ...]:
    notes = [
        "Zone is the metres of each cast within a foot of the bottom or grass, by the physics; "
        "casts that were not counted go by your pace. Bars hold 8 times in 10."
    ]
    if observations and not asked:
        notes.append("Keep what it says of running depths: leadsman review --note-observations")
    if found.advice_given:
        given, taken = found.advice_given, found.advice_followed
        notes.append(f"Advice given {given} times, said to be followed {taken} times.")
    notes += [f"'{name}' is not in the kit, so its effort is a guess." for name in physics.unknown]
    notes += [f"{text[:1].upper()}{text[1:]}." for text in found.warnings]
    return tuple(notes)


def _observation(
    proposed: ProposedObservation, kit: Kit, physics: KitPhysics, day: str, units: DisplayUnits
) -> NotedObservation:
    kind = KIND_OF[proposed.kind]
    told = f"{proposed.setup}: {kind} at {units.depth.text(proposed.depth_m)}"
    names = split_setup(proposed.setup, kit)
    setup = SetupStart(proposed.setup, cast_m=proposed.cast_m, tip_m=proposed.tip_m)
    cast_m = physics.runs(setup).cast_m
    if names is None or cast_m is None:
        return NotedObservation(proposed, {}, f"{told} (not in the kit, so of no use)")
    cells = {
        "date": day,
        "lure": names[0],
        "kind": kind,
        "depth": f"{proposed.depth_m:.3f} m",
        "line": names[1],
        "cast": f"{cast_m:.1f} m",
        "note": f"log {proposed.event}",
    }
    if proposed.tip_m is not None:
        cells["tip"] = f"{proposed.tip_m:.2f} m"
    return NotedObservation(proposed, cells, f"{told}, cast {units.distance.text(cast_m)}")


def _write(observations: tuple[NotedObservation, ...], kit: Kit) -> tuple[NotedObservation, ...]:
    """Write each once: its note names the log's entry, so that asking again adds nothing."""
    from dataclasses import replace

    from leadsman.kitfile.observations import append_observation, read_observations
    from leadsman.usecases.observe import observations_path

    if not observations:
        raise LogError(
            "the day says nothing of running depths", "--note-observations",
            "Note on the water: leadsman log touch '14 ft'",
        )  # fmt: skip
    path = observations_path(kit)
    there = {row.note for row in read_observations(path)}
    done: list[NotedObservation] = []
    for item in observations:
        written = False
        if item.cells:
            try:
                if item.cells["note"] not in there:
                    append_observation(path, item.cells)
                written = True
            except InputError as error:
                done.append(replace(item, told=f"{item.told}; not written: {error.problem}"))
                continue
        done.append(replace(item, written=written))
    return tuple(done)


def _season(
    past: list[PastDay], lake: str, t_utc_s: float, secchi_m: float | None
) -> tuple[tuple[SeasonRow, ...], int]:
    sums: dict[tuple[str, str], tuple[float, float]] = {}
    count = 0
    for day in past:
        power = weight(day, lake, t_utc_s, secchi_m)
        if power < LEAST_WEIGHT:
            continue
        count += 1
        for cell, bites, zone_m in day.cells:
            for factor in ("depth", "cover", "sound", "colour"):
                key = (factor, cell.level(factor))
                b, z = sums.get(key, (0.0, 0.0))
                sums[key] = (b + power * bites, z + power * zone_m)
    rows = [
        SeasonRow(factor, level, b, z, b / z * HUNDRED_YARDS_M)
        for (factor, level), (b, z) in sums.items()
        if z > 0.0
    ]
    order = ["depth", "cover", "sound", "colour"]
    rows.sort(key=lambda row: (order.index(row.factor), -row.per_100_yd))
    return tuple(rows), count
