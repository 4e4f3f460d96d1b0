"""JSON form of `leadsman match`."""

from __future__ import annotations

from pydantic import Field

from leadsman.plan.match_types import Excluded, Match
from leadsman.usecases.documents.base import Document
from leadsman.usecases.match import MatchAnswer


class TipKnotForm(Document):
    """A place in a tip schedule."""

    reeled: float = Field(description="Reeled in since the start, in `reeled_unit`.")
    tip_m: float = Field(description="Height of the rod tip there [m].")


class MatchForm(Document):
    """One ranked setup."""

    rank: int = Field(description="Place, 1 is best.")
    lure: str = Field(description="Name of the lure.")
    line: str = Field(description="Name of the line.")
    rod: str = Field(description="Name of the rod; empty if it does not matter.")
    cast_m: float = Field(description="Rod tip to lure at the start [m].")
    tip_m: float = Field(description="Height of the rod tip at the start [m].")
    tip_schedule: tuple[TipKnotForm, ...] = Field(
        description="Later heights of the tip; empty if it is held."
    )
    reeled_unit: str = Field(description="turn or m.")
    zone_m: float = Field(description="Expected zone length, what the ranking goes by [m].")
    nominal_zone_m: float = Field(description="Zone length if it runs as thought [m].")
    zone_band_m: tuple[float, float] = Field(
        description="Zone length as the lure runs shallower or deeper than thought [m]."
    )
    constant_zone_m: float = Field(description="Expected zone with the best constant tip [m].")
    constant_tip_m: float = Field(description="That tip [m].")
    mean_load: float = Field(description="Mean load over the metres in contact [-].")
    near_bottom_m: float = Field(description="Metres within 0.3 m of the bottom [m].")
    contact_m: float = Field(description="Metres in contact at any load [m].")
    plowing_m: float = Field(description="Metres in contact over the limit [m].")
    first_contact_m: float | None = Field(description="Metres gone until first contact [m].")
    first_contact_s: float | None = Field(description="Time until first contact [s].")
    free_max_depth_m: float = Field(description="Greatest depth free of the bottom [m].")
    lost_chance: float = Field(description="Chance that grass ends the cast [-].")
    line_touches: bool = Field(description="Whether the line itself touches; not solved.")
    how: str = Field(description="What to do with the rod, in words.")
    reason: str = Field(description="Why it stands here, in one sentence.")


class ExcludedForm(Document):
    """One setup that is no use here."""

    lure: str = Field(description="Name of the lure.")
    line: str = Field(description="Name of the line.")
    kind: str = Field(description="short, plows, fouls or misses.")
    free_max_depth_m: float = Field(description="Greatest depth of any allowed cast [m].")
    reason: str = Field(description="Why, in one sentence.")


class LimitForm(Document):
    """The order at one limit of acceptable load."""

    load_limit: float = Field(description="The limit [-].")
    best: str = Field(description="First place at that limit.")
    order: tuple[int, ...] = Field(description="Ranks of the list above, best first.")


class MatchDocument(Document):
    """Answer of `leadsman match`."""

    schema_: str = Field(
        default="leadsman.match/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    load_limit: float = Field(description="Largest load that counts as ticking [-].")
    target_m: tuple[float, float] | None = Field(description="Wanted depth band [m].")
    ranked: tuple[MatchForm, ...] = Field(description="Setups, best first.")
    excluded: tuple[ExcludedForm, ...] = Field(description="Setups that are no use, and why.")
    limits: tuple[LimitForm, ...] = Field(description="How the order moves with the limit.")
    limit_sentence: str = Field(description="The same in a sentence.")
    notes: tuple[str, ...] = Field(description="What was read and assumed.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


def match_document(answer: MatchAnswer) -> MatchDocument:
    """JSON form of a ranking.

    Parameters
    ----------
    answer : MatchAnswer
        The answer [-].
    """
    result = answer.result
    ranked = result.ranked
    return MatchDocument(
        headline=result.headline,
        load_limit=result.request.limit_load,
        target_m=answer.question.target_m,
        ranked=tuple(_match(place, item) for place, item in enumerate(ranked, start=1)),
        excluded=tuple(_excluded(item) for item in result.excluded),
        limits=tuple(
            LimitForm(
                load_limit=item.limit_load,
                best=(
                    f"{ranked[item.order[0]].lure} on {ranked[item.order[0]].line}"
                    if item.order
                    else ""
                ),
                order=tuple(index + 1 for index in item.order),
            )
            for item in result.limits
        ),
        limit_sentence=result.limit_sentence,
        notes=answer.notes,
        cautions=result.cautions,
    )


def _match(place: int, item: Match) -> MatchForm:
    return MatchForm(
        rank=place,
        lure=item.lure,
        line=item.line,
        rod=item.rod,
        cast_m=item.cast_m,
        tip_m=item.tip_m,
        tip_schedule=tuple(
            TipKnotForm(reeled=knot.reeled, tip_m=knot.tip_m) for knot in item.schedule.knots
        ),
        reeled_unit="turn" if item.schedule.in_turns else "m",
        zone_m=item.zone_m,
        nominal_zone_m=item.nominal_zone_m,
        zone_band_m=item.zone_band_m,
        constant_zone_m=item.constant_zone_m,
        constant_tip_m=item.constant_tip_m,
        mean_load=item.mean_load,
        near_bottom_m=item.near_m,
        contact_m=item.contact_m,
        plowing_m=item.plowing_m,
        first_contact_m=item.first_contact_m,
        first_contact_s=item.first_contact_s,
        free_max_depth_m=item.free_max_depth_m,
        lost_chance=item.lost_chance,
        line_touches=item.line_touches,
        how=item.how,
        reason=item.reason,
    )


def _excluded(item: Excluded) -> ExcludedForm:
    return ExcludedForm(
        lure=item.lure,
        line=item.line,
        kind=item.kind,
        free_max_depth_m=item.free_max_depth_m,
        reason=item.reason,
    )
