"""JSON form of `leadsman review`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.review import ReviewAnswer, level_words


class ReviewRateForm(Document):
    """What one way of fishing gave."""

    factor: str = Field(description="depth, cover, sound, colour, work or place.")
    level: str = Field(description="Which one, in words.")
    bites: int = Field(description="Bites.")
    zone_m: float = Field(description="Zone fished [m].")
    hours: float = Field(description="Time spent [h].")
    per_100_yd: float = Field(description="Bites per 100 yd (91.44 m) of zone, posterior mean.")
    low_per_100_yd: float = Field(description="Lower end of its 80 % interval.")
    high_per_100_yd: float = Field(description="Upper end of its 80 % interval.")


class ReviewBiteForm(Document):
    """One bite."""

    hour: float = Field(description="Hours since the day began [h].")
    depth_m: float = Field(description="Depth the lure ran at [m].")
    sound: str = Field(description="With what sound.")
    place: str = Field(description="Where.")
    landed: bool = Field(description="Whether it was logged as a fish.")


class ReviewStopForm(Document):
    """Something that was on and stopped."""

    hour: float = Field(description="When it could be called, hours since the day began [h].")
    place: str = Field(description="Where.")
    sound: str = Field(description="With what sound.")
    bites: int = Field(description="Bites it gave.")


class ReviewContactForm(Document):
    """How deep a lure really ran against what was predicted."""

    hour: float = Field(description="Hours since the day began [h].")
    setup: str = Field(description="The setup.")
    depth_m: float = Field(description="Depth of the bottom [m].")
    touched: bool = Field(description="Whether the lure touched it.")
    predicted_m: float = Field(description="Greatest running depth predicted [m].")
    predicted_sd_m: float = Field(description="Its standard deviation [m].")
    surprise: float = Field(description="(depth - predicted) / sd [-].")


class ReviewObservationForm(Document):
    """An observation proposed to calibration."""

    told: str = Field(description="In words.")
    event: str = Field(description="Id of the log's event.")
    usable: bool = Field(description="Whether kit and log hold all it needs.")
    written: bool = Field(description="Whether it is in the observations file now.")


class ReviewSeasonForm(Document):
    """What earlier days gave, each by how far it counts."""

    factor: str = Field(description="depth, cover, sound or colour.")
    level: str = Field(description="Which one, in words.")
    bites: float = Field(description="Bites, weighted.")
    zone_m: float = Field(description="Zone fished, weighted [m].")
    per_100_yd: float = Field(description="Bites per 100 yd (91.44 m) of zone.")


class ReviewDocument(Document):
    """Answer of `leadsman review`."""

    schema_: str = Field(
        default="leadsman.review/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The day in a sentence.")
    day: str = Field(description="The day.")
    lake: str = Field(description="The water; empty if it was not said.")
    bites: int = Field(description="Bites.")
    fish: int = Field(description="Fish.")
    hours: float = Field(description="Time fished [h].")
    zone_m: float = Field(description="Zone fished [m].")
    rates: tuple[ReviewRateForm, ...] = Field(description="What each way gave, best first.")
    bites_at: tuple[ReviewBiteForm, ...] = Field(description="Every bite by time and depth.")
    stops: tuple[ReviewStopForm, ...] = Field(description="What was on and stopped.")
    contacts: tuple[ReviewContactForm, ...] = Field(description="How deep lures really ran.")
    observations: tuple[ReviewObservationForm, ...] = Field(description="Proposed to calibration.")
    season: tuple[ReviewSeasonForm, ...] = Field(description="What earlier days gave.")
    season_days: int = Field(description="Earlier days that count.")
    advice_given: int = Field(description="Suggestions made.")
    advice_followed: int = Field(description="Suggestions said to be followed.")
    kept: int = Field(description="Fish in the livewell at the end.")
    notes: tuple[str, ...] = Field(description="What it rests on.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


def review_document(answer: ReviewAnswer) -> ReviewDocument:
    """JSON form of a review.

    Parameters
    ----------
    answer : ReviewAnswer
        The report [-].
    """
    found = answer.review
    return ReviewDocument(
        headline=answer.headline,
        day=answer.trip,
        lake=answer.lake,
        bites=found.bites,
        fish=found.fish,
        hours=found.hours,
        zone_m=found.zone_m,
        rates=_rates(answer),
        bites_at=tuple(
            ReviewBiteForm(
                hour=p.t_h, depth_m=p.depth_m, sound=p.sound, place=p.place, landed=p.landed
            )
            for p in found.points
        ),
        stops=tuple(
            ReviewStopForm(hour=s.t_h, place=s.place, sound=s.sound, bites=s.bites)
            for s in found.stops
        ),
        contacts=_contacts(answer),
        observations=tuple(
            ReviewObservationForm(
                told=o.told, event=o.observation.event, usable=bool(o.cells), written=o.written
            )
            for o in answer.observations
        ),
        season=tuple(
            ReviewSeasonForm(
                factor=row.factor,
                level=level_words(answer.units, row.factor, row.level),
                bites=row.bites,
                zone_m=row.zone_m,
                per_100_yd=row.per_100_yd,
            )
            for row in answer.season
        ),
        season_days=answer.season_days,
        advice_given=found.advice_given,
        advice_followed=found.advice_followed,
        kept=len(found.livewell.kept),
        notes=answer.notes,
        cautions=answer.cautions,
    )


def _rates(answer: ReviewAnswer) -> tuple[ReviewRateForm, ...]:
    return tuple(
        ReviewRateForm(
            factor=row.factor,
            level=level_words(answer.units, row.factor, row.level),
            bites=row.bites,
            zone_m=row.zone_m,
            hours=row.hours,
            per_100_yd=row.per_100_yd,
            low_per_100_yd=row.low_per_100_yd,
            high_per_100_yd=row.high_per_100_yd,
        )
        for row in answer.review.rates
    )


def _contacts(answer: ReviewAnswer) -> tuple[ReviewContactForm, ...]:
    return tuple(
        ReviewContactForm(
            hour=row.t_h,
            setup=row.setup,
            depth_m=row.depth_m,
            touched=row.touched,
            predicted_m=row.predicted_m,
            predicted_sd_m=row.predicted_sd_m,
            surprise=row.surprise,
        )
        for row in answer.review.contacts
    )
