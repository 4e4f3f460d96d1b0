"""What a page may ask, bounded field by field, and the question it becomes. SI throughout."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from leadsman.errors import TechniqueError
from leadsman.hydro.cast_flight import Wind
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.usecases.questions import (
    BottomQuestion,
    DepthQuestion,
    GrassQuestion,
    SetupQuestion,
    TechniqueQuestion,
    WaterQuestion,
)

Units = Literal["us", "metric"]
Name = Annotated[str, Field(min_length=1, max_length=80)]
TipWord = Literal["under", "low", "usual", "high"]


class Asked(BaseModel):
    """Base of what is asked: unknown fields are refused, numbers are finite."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class WindAsked(Asked):
    """The wind as the caster meets it."""

    speed_m_s: float = Field(ge=0.0, le=20.0, description="Speed [m s-1].")
    from_deg: float = Field(
        ge=0.0, le=360.0, description="Where it comes from, clockwise from dead ahead [deg]."
    )

    def wind(self) -> Wind | None:
        """The wind; None if it is calm."""
        if self.speed_m_s < 0.05:
            return None
        return Wind.coming_from(self.speed_m_s, math.radians(self.from_deg))


class BottomPoint(Asked):
    """Depth of the bottom at one place."""

    x_m: float | None = Field(
        None,
        ge=0.0,
        le=200.0,
        description="Distance from the rod tip; null at all points spaces them evenly from the "
        "rod tip to where the lure lands [m].",
    )
    depth_m: float = Field(ge=0.1, le=30.0, description="Depth [m].")


class GrassAsked(Asked):
    """Grass along the cast."""

    top_depth_m: float = Field(ge=0.0, le=30.0, description="Depth of its top [m].")
    density: float = Field(0.5, ge=0.0, le=1.0, description="Fraction of ground covered [-].")
    from_m: float = Field(0.0, ge=0.0, le=199.0, description="Where it begins [m].")
    to_m: float = Field(200.0, gt=0.0, le=200.0, description="Where it ends [m].")


class DepthAsked(Asked):
    """How deep does this setup run?"""

    lure: Name = Field(description="Name of the lure.")
    line: Name = Field(description="Name of the line.")
    cast_m: float | None = Field(
        None, ge=5.0, le=120.0, description="Cast in calm air; null takes the usual one [m]."
    )
    tip: TipWord | Annotated[float, Field(ge=-3.0, le=6.0)] = Field(
        "usual", description="Rod position in a word, or height of the tip [m]."
    )
    speed_m_s: float | None = Field(
        None, ge=0.3, le=3.0, description="Line taken in; null takes the usual pace [m s-1]."
    )
    boat_m_s: float = Field(
        0.0, ge=-1.0, le=1.0, description="Drift of the boat toward the lure [m s-1]."
    )
    wind: WindAsked | None = Field(None, description="Wind; null is calm.")
    bottom: Annotated[tuple[BottomPoint, ...], Field(max_length=60)] = Field(
        (), description="The bottom, straight between points; none for deep water."
    )
    grass: GrassAsked | None = Field(None, description="Grass on the bottom.")
    temperature_c: float = Field(
        20.0, ge=1.0, le=35.0, description="Temperature of the water [degC]."
    )
    load_limit: float = Field(
        ACCEPTABLE_LOAD, ge=0.01, le=1.0, description="Largest load that counts as light [-]."
    )
    units: Units | None = Field(None, description="Units of the words; null is as the kit says.")
    draws: Literal[32, 64, 128] = Field(128, description="Draws of the band [-].")

    def question(self, kit: Path | None) -> DepthQuestion:
        """The question of the use case.

        Parameters
        ----------
        kit : pathlib.Path or None
            Kit file of the server [-].
        """
        return DepthQuestion(
            setup=SetupQuestion(kit=kit, lure=self.lure, line=self.line, units=self.units),
            technique=TechniqueQuestion(
                cast_m=self.cast_m, tip=self.tip, speed_m_s=self.speed_m_s, boat_m_s=self.boat_m_s
            ),
            bottom=BottomQuestion(depths=self._depths(), grass=self._grass()),
            water=WaterQuestion(temperature_c=self.temperature_c),
            load_limit=self.load_limit,
        )

    def wind_met(self) -> Wind | None:
        """The wind; None if it is calm or not told."""
        return self.wind.wind() if self.wind is not None else None

    def _depths(self) -> str | None:
        if not self.bottom:
            return None
        if len(self.bottom) == 1:
            return f"{self.bottom[0].depth_m:.6f} m"
        if all(p.x_m is None for p in self.bottom):
            return ", ".join(f"{p.depth_m:.6f} m" for p in self.bottom)
        if any(p.x_m is None for p in self.bottom):
            raise TechniqueError(
                "some points of the bottom have a distance and others have none",
                "bottom",
                "Give a distance to all or to none",
            )
        return ", ".join(f"{p.x_m:.6f} m: {p.depth_m:.6f} m" for p in self.bottom)

    def _grass(self) -> GrassQuestion | None:
        grass = self.grass
        if grass is None:
            return None
        return GrassQuestion(grass.top_depth_m, grass.density, grass.from_m, grass.to_m)


class ObservationAsked(Asked):
    """Something that was seen of a lure, as a person writes it, with units."""

    lure: Name = Field(description="Name of the lure.")
    kind: Literal["ticked", "did not reach", "measured", "time to bottom", "pull", "retuned"] = (
        Field(description="What was seen.")
    )
    date: str = Field("", max_length=10, description="Day, 2026-06-21; empty is today.")
    depth: str = Field("", max_length=40, description="Depth, '14 ft' or '14 +- 0.5 ft'.")
    line: str = Field("", max_length=80, description="Name of the line.")
    cast: str = Field("", max_length=40, description="Cast, '50 yd'.")
    tip: str = Field("", max_length=40, description="Height of the rod tip, '2 ft'.")
    speed: str = Field("", max_length=40, description="Line taken in, or speed of the pull.")
    time: str = Field("", max_length=40, description="Time until it touched, '9 s'.")
    pull: str = Field("", max_length=40, description="Pull on the scale, '0.4 lb'.")
    casts: str = Field("", max_length=6, description="Casts on which it was seen.")
    off_true: Literal["", "left", "right"] = Field("", description="Side it runs to.")
    note: str = Field("", max_length=300, description="Anything else.")

    def cells(self) -> dict[str, str]:
        """Text by column, as the use case takes it."""
        return {key: str(value) for key, value in self.model_dump().items() if value}
