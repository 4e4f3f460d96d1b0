"""What every JSON document shares."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import BaseModel, ConfigDict, Field

if TYPE_CHECKING:
    # It brings the physics with it, which most documents can do without.
    from leadsman.calibrate.running_band import Band


class Document(BaseModel):
    """A JSON document."""

    model_config = ConfigDict(frozen=True, populate_by_name=True)


class BandForm(Document):
    """Middle, 50 % and 90 % band of one figure."""

    median: float = Field(description="Half of the chance lies below.")
    low_50: float = Field(description="Lower end of the central 50 % band.")
    high_50: float = Field(description="Upper end of the central 50 % band.")
    low_90: float = Field(description="Lower end of the central 90 % band.")
    high_90: float = Field(description="Upper end of the central 90 % band.")

    @classmethod
    def of(cls, band: Band) -> BandForm:
        """Form of a band."""
        return cls(
            median=band.median,
            low_50=band.low_50,
            high_50=band.high_50,
            low_90=band.low_90,
            high_90=band.high_90,
        )
