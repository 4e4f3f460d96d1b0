"""JSON form of `leadsman replan`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from leadsman.kitfile.trip_words import clock_text
from leadsman.usecases.documents.base import Document

if TYPE_CHECKING:
    from leadsman.usecases.replan import ReplanAnswer


class NewStopForm(Document):
    """A stretch of the rest of the day."""

    name: str = Field(description="What to call it.")
    number: int | None = Field(description="Its turn in the plan before; null if it had none.")
    arrive: str = Field(description="When to be there, on the clock.")
    leave: str = Field(description="When to leave, on the clock.")
    arrive_s: float = Field(description="The same in seconds of the day [s].")
    leave_s: float = Field(description="The same in seconds of the day [s].")
    lon_deg: float = Field(description="Where the boat comes to it [deg].")
    lat_deg: float = Field(description="Where the boat comes to it [deg].")
    bottom_m: float = Field(description="Depth of the bottom [m].")
    rod: int = Field(description="Number of the rod.")
    lure: str = Field(description="Lure.")
    bites: float = Field(description="Expected bites, resting on an assumed rate [-].")


class ReplanDocument(Document):
    """Answer of `leadsman replan`."""

    schema_: str = Field(
        default="leadsman.replan/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    stops: tuple[NewStopForm, ...] = Field(description="Stretches in order.")
    home_s: float = Field(description="When the boat is home, in seconds of the day [s].")
    bites: float = Field(description="Expected bites of the rest of the day [-].")
    weight_kg: float | None = Field(
        description="Expected weight of the fish that count, in kg; null where bites are the aim."
    )
    notes: tuple[str, ...] = Field(description="What was left out.")


def replan_document(answer: ReplanAnswer) -> ReplanDocument:
    """JSON form of a new plan.

    Parameters
    ----------
    answer : ReplanAnswer
        The plan [-].
    """
    return ReplanDocument(
        headline=answer.headline,
        stops=tuple(
            NewStopForm(
                name=stop.offer.name,
                number=stop.offer.number,
                arrive=clock_text(stop.arrive_s),
                leave=clock_text(stop.leave_s),
                arrive_s=stop.arrive_s,
                leave_s=stop.leave_s,
                lon_deg=stop.lon_deg,
                lat_deg=stop.lat_deg,
                bottom_m=stop.offer.bottom_m,
                rod=stop.offer.rod,
                lure=stop.offer.lure,
                bites=stop.bites,
            )
            for stop in answer.stops
        ),
        home_s=answer.order.route.home_s,
        bites=answer.order.total_bites,
        weight_kg=answer.order.weight_kg,
        notes=answer.notes,
    )
