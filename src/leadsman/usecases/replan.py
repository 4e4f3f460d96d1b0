"""A new plan on the water: from here, now, without what is taken, closed or done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from leadsman.errors import PlanError
from leadsman.kitfile.trip_words import clock_text
from leadsman.lake.frame import MetricFrame
from leadsman.plan.catch_weight import FishSizes
from leadsman.plan.day_plan import DayOrder, Offer, order_day
from leadsman.plan.day_worth import Promise
from leadsman.plan.route import DayHours
from leadsman.plan.water_travel import travel_table
from leadsman.usecases.documents.plan import PlanDocument, PlanOfferForm
from leadsman.usecases.plan_files import read_plan


@dataclass(frozen=True, slots=True)
class ReplanQuestion:
    """Where the boat is, and what has changed.

    Parameters
    ----------
    folder : pathlib.Path
        Folder of the plan [-].
    now_s : float
        Now, in seconds of the day [s].
    here_deg : tuple of float or None
        Latitude and longitude; None is at the stretch last done, else the launch [deg].
    done, taken, closed : tuple of str
        Stretches by their number in the plan or by name: fished, held by another boat, closed
        to fishing [-].
    deadline_s, reserve_s : float or None
        New deadline and reserve; None keeps the plan's [s].
    """

    folder: Path
    now_s: float
    here_deg: tuple[float, float] | None = None
    done: tuple[str, ...] = ()
    taken: tuple[str, ...] = ()
    closed: tuple[str, ...] = ()
    deadline_s: float | None = None
    reserve_s: float | None = None


@dataclass(frozen=True, slots=True)
class NewStop:
    """A stretch of the rest of the day.

    Parameters
    ----------
    offer : PlanOfferForm
        The stretch [-].
    arrive_s, leave_s : float
        When, in seconds of the day [s].
    bites : float
        Expected bites [-].
    lon_deg, lat_deg : float
        Where the boat comes to it [deg].
    """

    offer: PlanOfferForm
    arrive_s: float
    leave_s: float
    bites: float
    lon_deg: float
    lat_deg: float


@dataclass(frozen=True, slots=True)
class ReplanAnswer:
    """The rest of the day.

    Parameters
    ----------
    question : ReplanQuestion
        What was asked [-].
    plan : PlanDocument
        The plan it started from [-].
    order : DayOrder
        Order and times [-].
    stops : tuple of NewStop
        Stretches in order [-].
    headline : str
        The answer in a sentence [-].
    notes : tuple of str
        What was left out [-].
    """

    question: ReplanQuestion
    plan: PlanDocument
    order: DayOrder
    stops: tuple[NewStop, ...]
    headline: str
    notes: tuple[str, ...]


def replan(question: ReplanQuestion) -> ReplanAnswer:
    """Choose the rest of the day anew.

    Parameters
    ----------
    question : ReplanQuestion
        Where the boat is, and what has changed [-].

    Raises
    ------
    InputError
        There is no plan, a stretch is not known, or home cannot be reached in time.
    """
    plan, grid, centre = read_plan(question.folder)
    frame = MetricFrame(*centre)
    gone: dict[int, str] = {}
    for why in ("done", "taken", "closed"):
        for word in getattr(question, why):
            gone[find_stretch(plan, word, why).id] = why
    left = [offer for offer in plan.offers if offer.id not in gone and offer.zone_m_per_s > 0.0]
    here, note = _here(question, plan, frame)
    hours = _hours(question, plan)
    places = [*((o.x_m, o.y_m) for o in left), here, (plan.home_x_m, plan.home_y_m)]
    usable, kept = [], []
    for offer, place in zip(left, places, strict=False):
        try:
            grid.cell_of(*place)
        except PlanError:
            continue
        usable.append(place)
        kept.append(offer)
    travel = travel_table(grid, [*usable, *places[-2:]]).time_s
    order = order_day([_offer(o) for o in kept], travel, hours, _sizes(plan), quick=True)
    stops = []
    for turn, index in enumerate(order.route.order):
        lon, lat = frame.to_lonlat(kept[index].x_m, kept[index].y_m)
        stops.append(
            NewStop(
                kept[index], order.route.arrive_s[turn], order.route.leave_s[turn],
                order.bites[turn], float(lon), float(lat),
            )
        )  # fmt: skip
    notes = (note, *(f"{_name(plan, i)}: {why}" for i, why in gone.items()))
    return ReplanAnswer(
        question, plan, order, tuple(stops), _headline(plan, order, stops, hours), notes
    )


def find_stretch(plan: PlanDocument, word: str, option: str) -> PlanOfferForm:
    """A stretch by its number in the plan or by the beginning of its name.

    Parameters
    ----------
    plan : PlanDocument
        The plan [-].
    word : str
        Number or name [-].
    option : str
        What to blame [-].

    Raises
    ------
    PlanError
        There is none, or several.
    """
    text = word.strip()
    if text.isdigit():
        hits = [offer for offer in plan.offers if offer.number == int(text)]
    else:
        folded = text.casefold()
        hits = [o for o in plan.offers if o.name.casefold() == folded] or [
            o for o in plan.offers if o.name.casefold().startswith(folded) and folded
        ]
    if len(hits) == 1:
        return hits[0]
    numbers = ", ".join(str(stop.number) for stop in plan.stops)
    raise PlanError(
        f"{'several stretches are' if hits else 'no stretch is'} called '{text[:40]}'",
        f"--{option}",
        f"Use a number of the plan, {numbers}, or a whole name",
    )


def _here(
    question: ReplanQuestion, plan: PlanDocument, frame: MetricFrame
) -> tuple[tuple[float, float], str]:
    if question.here_deg is not None:
        x, y = frame.to_metric(question.here_deg[1], question.here_deg[0])
        return (float(x), float(y)), "From the place you gave"
    if question.done:
        last = find_stretch(plan, question.done[-1], "done")
        return (last.x_m, last.y_m), f"From {last.name}, done last"
    return (plan.home_x_m, plan.home_y_m), f"From {plan.launch_name}"


def _hours(question: ReplanQuestion, plan: PlanDocument) -> DayHours:
    deadline = plan.deadline_s if question.deadline_s is None else question.deadline_s
    reserve = plan.reserve_s if question.reserve_s is None else question.reserve_s
    if question.now_s > deadline - reserve:
        raise PlanError(
            f"it is {clock_text(question.now_s)}, and the deadline less its reserve is "
            f"{clock_text(deadline - reserve)}",
            "--now",
            "Go home now",
        )
    return DayHours(question.now_s, deadline, reserve)


def _offer(form: PlanOfferForm) -> Offer:
    return Offer(form.name, Promise(form.rate_per_m, form.zone_m_per_s, form.length_m), form.group)


def _sizes(plan: PlanDocument) -> FishSizes | None:
    s = plan.sizes
    if s is None:
        return None
    return FishSizes(s.species, s.mean_m, s.sd_m, s.least_m, s.count, s.culling, s.landed)


def _name(plan: PlanDocument, number: int) -> str:
    return next(offer.name for offer in plan.offers if offer.id == number)


def _headline(
    plan: PlanDocument, order: DayOrder, stops: Sequence[NewStop], hours: DayHours
) -> str:
    home = clock_text(order.route.home_s)
    if not stops:
        return f"Nothing more fits before {clock_text(hours.deadline_s)}: go home, {home}."
    first = stops[0]
    leave = clock_text(first.leave_s)
    more = len(stops) - 1
    return (
        f"Next: {first.offer.name} until {leave}, rod {first.offer.rod} with {first.offer.lure}; "
        f"then {more} more, back {home}, deadline {clock_text(hours.deadline_s)}."
    )
