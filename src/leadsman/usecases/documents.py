"""What `--json` prints and the web sends: one documented, versioned form each.

Names carry their unit. Adding a field keeps the version of the schema, any
other change raises it; docs/json.md describes every field.
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

from leadsman.calibrate.running_band import Band
from leadsman.hydro.tow import Tow
from leadsman.usecases.depth import DepthAnswer
from leadsman.usecases.kit_check import KitCheckAnswer


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
        description="Central 90 % band of the greatest depth, free of any bottom [m]."
    )
    max_depth_bands_m: BandForm = Field(description="All bands of the free greatest depth [m].")
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
        max_depth_band_m=(band.max_depth_m.low_90, band.max_depth_m.high_90),
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


class LureForm(Document):
    """A lure of the kit with its numbers."""

    name: str = Field(description="Name.")
    dive_angle_deg: float = Field(description="Dive angle [deg].")
    dive_angle_sd_deg: float = Field(description="Its standard deviation [deg].")
    pull_area_cm2: float = Field(description="Pull area [cm2].")
    pull_area_log_sd: float = Field(description="Standard deviation of its logarithm [-].")
    basis: str = Field(description="What the numbers rest on.")


class LineForm(Document):
    """A line of the kit with its numbers."""

    name: str = Field(description="Name.")
    diameter_mm: float = Field(description="Diameter [mm].")
    diameter_kind: str = Field(description="measured, nominal or from test.")
    diameter_log_sd: float = Field(description="Standard deviation of its logarithm [-].")


class KitDocument(Document):
    """Answer of `leadsman kit check`."""

    schema_: str = Field(default="leadsman.kit/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    lures: tuple[LureForm, ...] = Field(description="Lures.")
    lines: tuple[LineForm, ...] = Field(description="Lines.")
    rods: tuple[str, ...] = Field(description="Names of rods.")
    reels: tuple[str, ...] = Field(description="Names of reels.")
    cautions: tuple[str, ...] = Field(description="What does not go together.")


def kit_document(answer: KitCheckAnswer) -> KitDocument:
    """JSON form of a checked kit.

    Parameters
    ----------
    answer : KitCheckAnswer
        The answer [-].
    """
    return KitDocument(
        headline=answer.headline,
        lures=tuple(
            LureForm(
                name=item.name,
                dive_angle_deg=item.dive_angle_deg,
                dive_angle_sd_deg=item.dive_angle_sd_deg,
                pull_area_cm2=item.pull_area_cm2,
                pull_area_log_sd=item.pull_area_log_sd,
                basis=item.basis,
            )
            for item in answer.lures
        ),
        lines=tuple(
            LineForm(
                name=item.name,
                diameter_mm=item.diameter_mm,
                diameter_kind=item.diameter_kind,
                diameter_log_sd=item.diameter_log_sd,
            )
            for item in answer.lines
        ),
        rods=tuple(rod.name for rod in answer.kit.rods),
        reels=tuple(reel.name for reel in answer.kit.reels),
        cautions=answer.cautions,
    )
