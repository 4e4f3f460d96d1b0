"""JSON forms of `leadsman observe` and `leadsman tune`."""

from __future__ import annotations

from pydantic import Field

from leadsman.calibrate.posterior import DepthBand
from leadsman.calibrate.tune import Conflict, TunedLure
from leadsman.display_units import DisplayUnits
from leadsman.usecases.documents.base import Document
from leadsman.usecases.observe import ObserveAnswer
from leadsman.usecases.tune import TuneAnswer, conflict_words, dive_angle_deg


class DepthBandForm(Document):
    """Middle and 90 % band of a depth."""

    low_m: float = Field(description="A twentieth of the chance lies above, shallower [m].")
    middle_m: float = Field(description="Half of the chance lies on each side [m].")
    high_m: float = Field(description="A twentieth of the chance lies below, deeper [m].")

    @classmethod
    def of(cls, band: DepthBand) -> DepthBandForm:
        """Form of a band."""
        return cls(low_m=band.low_m, middle_m=band.middle_m, high_m=band.high_m)


class TaughtForm(Document):
    """What one observation taught."""

    label: str = Field(description="The observation.")
    gain_m: float = Field(description="How much narrower the 90 % band became [m].")


class ConflictForm(Document):
    """Something that the rest of what was seen contradicts."""

    label: str = Field(description="The observation, or rated depth.")
    chance: float = Field(description="Chance that it is plainly wrong [-].")
    said_m: float | None = Field(description="Depth that it names; null for a pull [m].")
    others: DepthBandForm | None = Field(
        description="Depth on the same setup by all the rest; null for a pull."
    )
    text: str = Field(description="The same in a sentence, in the units of the kit.")

    @classmethod
    def of(cls, conflict: Conflict, units: DisplayUnits) -> ConflictForm:
        """Form of a conflict."""
        return cls(
            label=conflict.label,
            chance=conflict.chance,
            said_m=conflict.said_m,
            others=None if conflict.others is None else DepthBandForm.of(conflict.others),
            text=conflict_words(conflict, units),
        )


class SuggestionForm(Document):
    """An observation worth making."""

    label: str = Field(description="What to do.")
    gain_m: float = Field(description="How much narrower the 90 % band would become [m].")
    expected_m: float | None = Field(description="Depth it is expected at; null for a pull [m].")


class TunedLureForm(Document):
    """One lure before and after."""

    lure: str = Field(description="Name of the lure.")
    before: DepthBandForm = Field(description="Depth on its usual setup, from its package.")
    after: DepthBandForm = Field(description="The same with what was seen.")
    dive_angle_before_deg: float = Field(description="Dive angle before [deg].")
    dive_angle_after_deg: float = Field(description="Dive angle after [deg].")
    pull_area_after_cm2: float = Field(description="Pull area after [cm2].")
    taught: tuple[TaughtForm, ...] = Field(description="What each observation taught.")
    conflicts: tuple[ConflictForm, ...] = Field(description="What does not agree.")
    next: tuple[SuggestionForm, ...] = Field(description="What would teach most next.")


class OffTrueForm(Document):
    """A lure that seems to run off."""

    lure: str = Field(description="Name of the lure.")
    reason: str = Field(description="Why it is suspected.")
    detail: str = Field(description="What speaks for it.")
    check: tuple[str, ...] = Field(description="What to look at, likeliest first.")


class TuneDocument(Document):
    """Answer of `leadsman tune`."""

    schema_: str = Field(default="leadsman.tune/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    lures: tuple[TunedLureForm, ...] = Field(description="Lures that were observed.")
    drag_factor: float = Field(description="Learned factor on the line's normal drag [-].")
    drag_log_sd: float = Field(description="Standard deviation of its logarithm [-].")
    off_true: tuple[OffTrueForm, ...] = Field(description="Lures that seem to run off.")


class ObserveDocument(Document):
    """Answer of `leadsman observe`."""

    schema_: str = Field(
        default="leadsman.observe/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    file: str = Field(description="Name of the file it was added to.")
    lure: str = Field(description="Name of the lure.")
    kind: str = Field(description="What was seen.")


def tune_document(answer: TuneAnswer) -> TuneDocument:
    """JSON form of a tuning.

    Parameters
    ----------
    answer : TuneAnswer
        The answer [-].
    """
    return TuneDocument(
        headline=answer.headline,
        lures=tuple(_lure(item, answer) for item in answer.tuning.lures),
        drag_factor=2.718281828459045**answer.tuning.drag.log_mean,
        drag_log_sd=answer.tuning.drag.log_sd,
        off_true=tuple(
            OffTrueForm(lure=item.lure, reason=item.reason, detail=item.detail, check=item.check)
            for item in answer.off_true
        ),
    )


def _lure(item: TunedLure, answer: TuneAnswer) -> TunedLureForm:
    before, after = dive_angle_deg(item)
    return TunedLureForm(
        lure=item.lure.name,
        before=DepthBandForm.of(item.prior_band),
        after=DepthBandForm.of(item.band),
        dive_angle_before_deg=before,
        dive_angle_after_deg=after,
        pull_area_after_cm2=item.belief.centre.pull_area_m2 * 1e4,
        taught=tuple(TaughtForm(label=t.label, gain_m=t.gain_m) for t in item.taught),
        conflicts=tuple(ConflictForm.of(c, answer.units) for c in item.conflicts),
        next=tuple(
            SuggestionForm(label=s.candidate.label, gain_m=s.gain_m, expected_m=s.expected_m)
            for s in answer.suggestions.get(item.lure.name, ())
        ),
    )


def observe_document(answer: ObserveAnswer) -> ObserveDocument:
    """JSON form of an observation.

    Parameters
    ----------
    answer : ObserveAnswer
        The answer [-].
    """
    return ObserveDocument(
        headline=answer.headline,
        file=answer.path.name,
        lure=answer.observation.lure,
        kind=answer.observation.kind,
    )
