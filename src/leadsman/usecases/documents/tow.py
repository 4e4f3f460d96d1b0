"""JSON form of `leadsman tow`."""

from __future__ import annotations

from pydantic import Field

from leadsman.hydro.tow import Tow
from leadsman.usecases.documents.base import Document


class TowPoint(Document):
    """One place on a towed line."""

    line_m: float = Field(description="Unstretched line from the tip [m].")
    x_m: float = Field(description="Distance astern of the tip [m].")
    depth_m: float = Field(description="Depth, negative in the air [m].")
    tension_n: float = Field(description="Tension [N].")


class TowDocument(Document):
    """Answer of `leadsman tow`."""

    schema_: str = Field(default="leadsman.tow/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    depth_m: float = Field(description="Depth of the end [m].")
    depth_band_m: tuple[float, float] | None = Field(
        description="Central 90 % band of the depth from the drag of the line; null if fixed [m]."
    )
    layback_m: float = Field(description="Horizontal distance tip to end [m].")
    top_pull_n: float = Field(description="Tension at the tip [N].")
    top_angle_deg: float = Field(description="Line to the horizontal at the tip [deg].")
    at_surface: bool = Field(description="Whether the end runs at the surface.")
    curve: tuple[TowPoint, ...] = Field(description="Shape of the line from tip to end.")


def tow_document(tow: Tow, headline: str, depth_band_m: tuple[float, float] | None) -> TowDocument:
    """JSON form of a tow.

    Parameters
    ----------
    tow : Tow
        Shape of the line [-].
    headline : str
        The answer in a sentence [-].
    depth_band_m : tuple of float or None
        Band of the depth [m].
    """
    columns = zip(tow.line_m, tow.x_m, tow.curve_depth_m, tow.tension_n, strict=True)
    return TowDocument(
        headline=headline,
        depth_m=tow.depth_m,
        depth_band_m=depth_band_m,
        layback_m=tow.layback_m,
        top_pull_n=tow.top_pull_n,
        top_angle_deg=tow.top_angle_rad * 57.29577951308232,
        at_surface=tow.at_surface,
        curve=tuple(TowPoint(line_m=s, x_m=x, depth_m=z, tension_n=t) for s, x, z, t in columns),
    )
