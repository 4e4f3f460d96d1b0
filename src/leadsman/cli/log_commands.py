"""`leadsman log`: what is written on the water, a thumb and a second each."""

from __future__ import annotations

from typing import Annotated, Literal

import typer

from leadsman.cli import log_file_commands
from leadsman.cli.log_options import (
    LogOptions,
    WhenOption,
    ago_s,
    hours,
    joined,
    length_m,
    tell,
    where_of,
)
from leadsman.cli.option_groups import AnswerOptions, command

Text = str | None
Words = list[str]

EXAMPLES = """
[bold]A day[/bold]

leadsman log day "Invented Lake" --hours "8 h" --clarity "6 ft" --limit 5

leadsman log start long-lip-15 fluoro-12

leadsman log place "long bar" --depth "14 ft" --ground edge

leadsman log bite · leadsman log bite 2 (two minutes ago) · leadsman log fish 16 in --kept

leadsman advise · leadsman log stop --day · leadsman review
"""


def register(app: typer.Typer) -> None:
    """Add the commands.

    Parameters
    ----------
    app : typer.Typer
        Where to add them [-].
    """
    log = typer.Typer(
        name="log",
        help="The log of the day: what was fished, where, and what bit. Nothing is ever deleted.",
        no_args_is_help=True,
        rich_markup_mode="rich",
        epilog=EXAMPLES,
    )
    for name, function in (
        ("day", day), ("start", start), ("stop", stop), ("place", place), ("cast", cast),
        ("bite", bite), ("fish", fish), ("fate", fate), ("touch", touch), ("stretch", stretch),
        ("line", line), ("saw", saw), ("water", water), ("note", note), ("followed", followed),
    ):  # fmt: skip
        command(log, name)(function)
    log_file_commands.register(log)
    app.add_typer(log)


def day(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    lake: Annotated[Words | None, typer.Argument(help="Name of the water.")] = None,
    time: Annotated[
        Text, typer.Option("--hours", help="Time to be fished from now, '8 h'.")
    ] = None,
    clarity: Annotated[
        Text, typer.Option(help="Depth at which a white disk is lost from sight, '6 ft'.")
    ] = None,
    limit: Annotated[
        int | None, typer.Option(help="Fish you may keep at a time, by your local rules.")
    ] = None,
) -> None:
    """Begin a day, or say more of it: lake, hours, clarity, limit."""
    from leadsman.usecases.log_day import begin_day

    tell(
        begin_day(
            where_of(log, answer, when), joined(lake), hours(time, "--hours"),
            length_m(clarity, "--clarity"), limit,
        ),
        answer,
    )  # fmt: skip


def start(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    lure: Annotated[Text, typer.Argument(help="Lure in the kit; else the last one.")] = None,
    line: Annotated[Text, typer.Argument(help="Line in the kit; else as fished today.")] = None,
    cast: Annotated[Text, typer.Option(help="Rod tip to lure, '50 yd'; else your own.")] = None,
    tip: Annotated[
        Text, typer.Option("--tip-height", help="under, low, usual, high, or '2 ft'.")
    ] = None,
    work: Annotated[
        str, typer.Option(help="straight; stop (stops and starts); snap (out of grass).")
    ] = "stop",
) -> None:
    """Fishing with a setup begins, or the same one changes cast, rod or retrieve."""
    from leadsman.cli.to_questions import tip_position
    from leadsman.usecases.log_tackle import StartQuestion, start_setup

    tip_m = tip_position(tip, "--tip-height") if tip is not None else None
    question = StartQuestion(lure, line, length_m(cast, "--cast"), tip_m, work)
    tell(start_setup(where_of(log, answer, when), question), answer)


def stop(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    day: Annotated[bool, typer.Option("--day", help="The day ends.")] = False,
) -> None:
    """Fishing rests, or the day ends."""
    from leadsman.usecases.log_day import stop as write

    tell(write(where_of(log, answer, when), day), answer)


def place(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    where: Annotated[
        Words, typer.Argument(metavar="PLACE", help="Name of a stretch, or latitude,longitude.")
    ],
    depth: Annotated[Text, typer.Option(help="Depth of the bottom, '14 ft'.")] = None,
    ground: Annotated[Text, typer.Option(help="edge, flat, drop or open_water.")] = None,
) -> None:
    """The boat is somewhere else; a place that was named before keeps its depth."""
    from leadsman.usecases.log_tackle import go_to

    asked = where_of(log, answer, when)
    tell(go_to(asked, joined(where), length_m(depth, "--depth"), ground), answer)


def cast(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    count: Annotated[
        int, typer.Argument(min=0, max=10_000, help="Casts since the last change or count.")
    ] = 1,
) -> None:
    """Casts, if you count them; else they go by time and your pace."""
    from leadsman.usecases.log_entries import count_casts

    tell(count_casts(where_of(log, answer, when), count), answer)


def bite(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    ago: Annotated[
        Words | None,
        typer.Argument(help="How long ago, '2 min'; a bare number is minutes. Else now."),
    ] = None,
    before: Annotated[Text, typer.Option("--ago", help="The same, '2 min'.")] = None,
) -> None:
    """A bite, landed or not."""
    from leadsman.usecases.log_entries import bite as write

    tell(write(where_of(log, answer, when), _ago(joined(ago) or before)), answer)


def fish(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    size: Annotated[
        Words | None, typer.Argument(help="Length or weight or both: 16 in, '2 lb 4 oz'.")
    ] = None,
    kept: Annotated[bool, typer.Option("--kept", help="It goes into the livewell.")] = False,
    culled: Annotated[bool, typer.Option("--culled", help="It was let go for a better.")] = False,
    released: Annotated[bool, typer.Option("--released", help="It was let go; the usual.")] = False,
    ago: Annotated[Text, typer.Option(help="How long ago, '2 min'.")] = None,
    depth: Annotated[Text, typer.Option(help="Depth it came from, for its care.")] = None,
    instead_of: Annotated[
        int | None, typer.Option(help="Number of the kept fish that is let go for it.")
    ] = None,
    own_bite: Annotated[
        bool, typer.Option("--own-bite", help="Not the bite that was logged just before.")
    ] = False,
) -> None:
    """A fish in the boat."""
    from leadsman.errors import LogError
    from leadsman.usecases.log_fish import FishQuestion
    from leadsman.usecases.log_fish import fish as write

    if kept + culled + released > 1:
        raise LogError("a fish has one fate", "--kept", "Give --kept, --culled or --released")
    fate: Literal["kept", "released", "culled"] = (
        "kept" if kept else "culled" if culled else "released"
    )
    length, weight = _size(size)
    question = FishQuestion(
        length, weight, fate, _ago(ago), length_m(depth, "--depth"), instead_of, own_bite
    )
    tell(write(where_of(log, answer, when), question), answer)


def fate(
    log: LogOptions,
    answer: AnswerOptions,
    number: Annotated[int, typer.Argument(help="Number of the fish, as in the log.")],
    what: Annotated[str, typer.Argument(metavar="FATE", help="released, culled or kept.")],
) -> None:
    """What became of an earlier fish."""
    from leadsman.errors import LogError
    from leadsman.usecases.log_fish import change_fate

    if what not in ("kept", "released", "culled"):
        raise LogError(
            f"'{what[:20]}' is no fate of a fish", "FATE", "Use released, culled or kept"
        )
    tell(change_fate(where_of(log, answer), number, what), answer)  # type: ignore[arg-type]


def touch(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    depth: Annotated[Words, typer.Argument(help="Depth of the bottom there, 14 ft.")],
    missed: Annotated[bool, typer.Option("--missed", help="The lure did not reach it.")] = False,
) -> None:
    """The lure touched a bottom of known depth, or did not reach it."""
    from leadsman.units import parse_length_m
    from leadsman.usecases.log_entries import touch as write

    depth_m = parse_length_m(joined(depth), "DEPTH")
    tell(write(where_of(log, answer, when), depth_m, not missed), answer)


def stretch(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    words: Annotated[
        Words, typer.Argument(metavar="STRETCH taken|free", help="Its name, and taken or free.")
    ],
) -> None:
    """A stretch is taken by another boat, or free again."""
    from leadsman.errors import LogError
    from leadsman.usecases.log_entries import mark_stretch

    if len(words) < 2 or words[-1] not in ("taken", "free"):
        raise LogError(
            "it is not said whether the stretch is taken or free", "STRETCH",
            "Write: leadsman log stretch 'long bar' taken",
        )  # fmt: skip
    asked = where_of(log, answer, when)
    tell(mark_stretch(asked, joined(words[:-1]), words[-1] == "taken"), answer)


def line(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    done: Annotated[str, typer.Argument(help="checked, or retied.")] = "checked",
    setup: Annotated[Text, typer.Option(help="Of which setup; else the one in hand.")] = None,
) -> None:
    """The line was checked for nicks, or cut back and retied."""
    from leadsman.errors import LogError
    from leadsman.usecases.log_entries import mark_line

    if done not in ("checked", "retied"):
        raise LogError(f"'{done[:20]}' is not known here", "DONE", "Use checked or retied")
    tell(mark_line(where_of(log, answer, when), done == "retied", setup), answer)


def saw(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    words: Annotated[
        Words, typer.Argument(metavar="WHAT [WORDS]", help="forage, grass, birds, ...; and more.")
    ],
) -> None:
    """Something seen."""
    from leadsman.usecases.log_entries import saw as write

    tell(write(where_of(log, answer, when), words[0], joined(words[1:])), answer)


def water(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    temperature: Annotated[Words | None, typer.Argument(help="Temperature, 72 degF.")] = None,
    depth: Annotated[Text, typer.Option(help="Depth it was measured at, else the surface.")] = None,
    clarity: Annotated[
        Text, typer.Option(help="Depth at which a white disk is lost from sight, '6 ft'.")
    ] = None,
    oxygen: Annotated[Text, typer.Option(help="Dissolved oxygen, '6.5 mg/L'.")] = None,
    level: Annotated[Text, typer.Option(help="Level above that of the map, '-1.5 ft'.")] = None,
    livewell: Annotated[bool, typer.Option("--livewell", help="In the livewell.")] = False,
) -> None:
    """A reading of the water or of the livewell."""
    from leadsman.units import parse_temperature_c
    from leadsman.usecases.log_entries import measure_water
    from leadsman.waterlog.events import WaterReading

    reading = WaterReading(
        parse_temperature_c(joined(temperature), "TEMPERATURE") if temperature else None,
        length_m(depth, "--depth") or 0.0,
        length_m(clarity, "--clarity"),
        _oxygen_mg_l(oxygen),
        length_m(level, "--level"),
        livewell,
    )
    tell(measure_water(where_of(log, answer, when), reading), answer)


def note(
    log: LogOptions,
    when: WhenOption,
    answer: AnswerOptions,
    words: Annotated[Words, typer.Argument(metavar="WORDS", help="What is noted.")],
) -> None:
    """Words."""
    from leadsman.usecases.log_entries import note as write

    tell(write(where_of(log, answer, when), joined(words)), answer)


def followed(
    log: LogOptions,
    answer: AnswerOptions,
    no: Annotated[bool, typer.Option("--no", help="It was not followed.")] = False,
) -> None:
    """The last advice was followed, or not; the review counts it."""
    from leadsman.usecases.log_day import followed as write

    tell(write(where_of(log, answer), not no), answer)


def _ago(text: str | None) -> float:
    return ago_s(text, "--ago") if text else 0.0


def _size(words: Words | None) -> tuple[float | None, float | None]:
    """Length and weight; "16 in" typed without quotes is one size."""
    from leadsman.errors import QuantityError
    from leadsman.usecases.log_fish import size_of

    if not words:
        return None, None
    try:
        return size_of([joined(words)])
    except QuantityError:
        return size_of(words)


def _oxygen_mg_l(text: str | None) -> float | None:
    import re

    from leadsman.errors import QuantityError

    if text is None:
        return None
    match = re.fullmatch(r"\s*(\d+(?:\.\d*)?)\s*(?:mg/l|ppm)\s*", text.casefold())
    if match is None:
        raise QuantityError(f"{text[:30]!r} is no oxygen", "--oxygen", "Write it like '6.5 mg/L'")
    return float(match[1])
