"""JSON form of `leadsman depth`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.depth import DepthAnswer
from leadsman.usecases.documents.base import BandForm, Document


class PathPoint(Document):
    """One place on the path of the lure."""

    t_s: float = Field(description="Time since the retrieve started [s].")
    x_m: float = Field(description="Distance from the rod tip at the start [m].")
    depth_m: float = Field(description="Depth below the surface [m].")
    pull_n: float = Field(description="Line tension at the lure [N].")
    load: float = Field(description="Contact load, bottom force over pull [-].")


class DepthDocument(Document):
    """Answer of `leadsman depth`."""

    schema_: str = Field(
        default="leadsman.depth/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    lure: str = Field(description="Name of the lure.")
    line: str = Field(description="Name of the line.")
    cast_m: float = Field(description="Rod tip to lure at the start, horizontal [m].")
    tip_m: float = Field(
        description="Height of the rod tip at the start, negative under water [m]."
    )
    max_depth_m: float = Field(description="Greatest depth of the retrieve as fished [m].")
    max_depth_band_m: tuple[float, float] = Field(
        description="Central 90 % band of the greatest depth of the retrieve as fished [m]."
    )
    max_depth_bands_m: BandForm = Field(
        description="All bands of the greatest depth if nothing stops the lure [m]."
    )
    free_max_depth_m: float = Field(description="Greatest depth if nothing stops the lure [m].")
    band_basis: str = Field(description="What the bands rest on.")
    band_shares: dict[str, float] = Field(
        description="Part of the variance of the depth that each input causes [-]."
    )
    zone_m: float = Field(description="Zone length of the retrieve [m].")
    zone_kind: str = Field(
        description="What the zone is: contact, band or near greatest depth (within 0.3 m)."
    )
    zone_band_m: BandForm | None = Field(description="Bands of the zone length [m].")
    load_limit: float = Field(description="Largest load that counts as ticking [-].")
    contact_m: float = Field(description="Metres in contact at any load [m].")
    plowing_m: float = Field(description="Metres in contact over the limit [m].")
    near_bottom_m: float | None = Field(description="Metres within 0.3 m of the bottom [m].")
    mean_load: float = Field(description="Mean load over the metres in contact [-].")
    first_contact_m: float | None = Field(description="Metres gone until first contact [m].")
    first_contact_s: float | None = Field(description="Time until first contact [s].")
    touch_chance: float = Field(description="Chance that the lure touches, over the bands [-].")
    line_touches: bool = Field(description="Whether the line itself touches; not solved.")
    dive_angle_deg: float = Field(description="Dive angle used [deg].")
    pull_area_cm2: float = Field(description="Pull area used [cm2].")
    line_diameter_mm: float = Field(description="Line diameter used [mm].")
    path: tuple[PathPoint, ...] = Field(description="Path, from the end of the cast to the rod.")
    notes: tuple[str, ...] = Field(description="What was read and assumed.")
    cautions: tuple[str, ...] = Field(description="What to mind.")


def depth_document(answer: DepthAnswer) -> DepthDocument:
    """JSON form of a depth.

    Parameters
    ----------
    answer : DepthAnswer
        The answer [-].
    """
    path, contact, band = answer.path, answer.contact, answer.band
    points = zip(path.t_s, path.x_m, path.depth_m, path.pull_n, path.load, strict=True)
    return DepthDocument(
        headline=answer.headline,
        lure=answer.setup.lure_name,
        line=answer.setup.line_name,
        cast_m=answer.technique.cast_m,
        tip_m=answer.technique.tip_m,
        max_depth_m=path.max_depth_m,
        max_depth_band_m=answer.fished_depth_band_m,
        max_depth_bands_m=BandForm.of(band.max_depth_m),
        free_max_depth_m=answer.free.max_depth_m,
        band_basis=answer.band_basis,
        band_shares={share.name: share.fraction for share in band.shares},
        zone_m=answer.zone_m,
        zone_kind=answer.zone_kind,
        zone_band_m=BandForm.of(band.zone_m) if band.zone_m is not None else None,
        load_limit=answer.question.load_limit,
        contact_m=contact.contact_m if contact else 0.0,
        plowing_m=contact.plowing_m if contact else 0.0,
        near_bottom_m=contact.near_m if contact else None,
        mean_load=contact.mean_load if contact else 0.0,
        first_contact_m=contact.first_contact_m if contact else None,
        first_contact_s=contact.first_contact_s if contact else None,
        touch_chance=band.touch_chance,
        line_touches=path.line_touches,
        dive_angle_deg=answer.dive_angle_deg,
        pull_area_cm2=answer.setup.forces.pull_area_m2 * 1e4,
        line_diameter_mm=answer.setup.line.diameter_m * 1e3,
        path=tuple(
            PathPoint(t_s=t, x_m=x, depth_m=z, pull_n=pull, load=load)
            for t, x, z, pull, load in points
        ),
        notes=answer.notes,
        cautions=answer.cautions,
    )
