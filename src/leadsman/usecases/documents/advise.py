"""JSON form of `leadsman advise`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.advise import AdviseAnswer, AdviseRow
from leadsman.usecases.documents.base import Document


class AdviseOptionForm(Document):
    """Something that could be fished next."""

    what: str = Field(description="What to do, in words.")
    setup: str = Field(description="With what.")
    place: str = Field(description="Where.")
    changes: tuple[str, ...] = Field(
        description="What differs: sound, depth, colour, work, cover, place."
    )
    gain: float = Field(description="Bites more than staying, the change paid for.")
    bites_per_h: float = Field(description="Bites an hour expected once there.")
    chance_better: float = Field(description="Chance that its rate is above that of staying [-].")
    least_bites: int = Field(description="With fewer bites in the trial it should be left.")
    change_min: float = Field(description="What the change takes [min].")
    cost: str = Field(description="The same in words.")


class CauseForm(Document):
    """What a change of the day may be due to."""

    cause: str = Field(description="steady, plan, sound, colour, depth, gone or off.")
    chance: float = Field(description="Its chance [-].")


class AdviseDocument(Document):
    """Answer of `leadsman advise`."""

    schema_: str = Field(
        default="leadsman.advise/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="What to do, in a sentence.")
    why: tuple[str, ...] = Field(
        description="What it promises, why, and what would change the advice."
    )
    verdict: str = Field(description="stay or change.")
    status: str = Field(description="Of what is fished now: not started, on or stopped.")
    held_back: bool = Field(description="A change is worth naming, but quiet was asked for.")
    trial_min: float = Field(description="How long to try before judging [min].")
    best: AdviseOptionForm = Field(description="What to do.")
    here: AdviseOptionForm = Field(description="Staying.")
    ranked: tuple[AdviseOptionForm, ...] = Field(description="The best options, best first.")
    causes: tuple[CauseForm, ...] = Field(description="What happened, most likely first.")
    bites: int = Field(description="Bites of the day.")
    hours_left: float = Field(description="Time left that was counted [h].")
    quiet_h: float = Field(description="Least time between two suggestions [h].")
    most_per_h: float = Field(description="Most suggestions an hour.")
    noted: bool = Field(description="Whether the suggestion was noted in the log.")
    notes: tuple[str, ...] = Field(description="What it rests on.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


def advise_document(answer: AdviseAnswer) -> AdviseDocument:
    """JSON form of advice.

    Parameters
    ----------
    answer : AdviseAnswer
        The answer [-].
    """
    advice = answer.advice
    return AdviseDocument(
        headline=answer.headline,
        why=answer.why,
        verdict=advice.verdict,
        status=advice.status,
        held_back=advice.held_back,
        trial_min=advice.trial_min,
        best=_option(answer.best),
        here=_option(answer.here),
        ranked=tuple(_option(row) for row in answer.rows),
        causes=tuple(CauseForm(cause=cause, chance=chance) for cause, chance in advice.causes),
        bites=answer.bites,
        hours_left=answer.hours_left,
        quiet_h=answer.quiet_h,
        most_per_h=answer.most_per_h,
        noted=answer.noted,
        notes=answer.notes,
        cautions=answer.cautions,
    )


def _option(row: AdviseRow) -> AdviseOptionForm:
    ranked = row.ranked
    return AdviseOptionForm(
        what=row.what,
        setup=row.setup,
        place=row.place,
        changes=ranked.changes,
        gain=ranked.gain,
        bites_per_h=ranked.bites_per_h,
        chance_better=ranked.chance_better,
        least_bites=ranked.least_bites,
        change_min=ranked.option.change_min,
        cost=row.cost,
    )
