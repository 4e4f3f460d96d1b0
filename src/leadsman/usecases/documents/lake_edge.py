"""JSON forms of `leadsman lake` edge, survey and grass."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from pydantic import Field

from leadsman.lake.edge import EdgeLine
from leadsman.usecases.documents.base import Document
from leadsman.usecases.documents.lake import GrassEdgeForm
from leadsman.usecases.lake_edge import EdgeAnswer, RankedStretch
from leadsman.usecases.lake_patches import PatchesAnswer
from leadsman.usecases.lake_survey import SurveyAnswer


class StretchForm(Document):
    """One ranked stretch of an edge."""

    rank: int = Field(description="Place, 1 is best.")
    kind: str = Field(description="point, inside turn or straight.")
    lat_deg: float = Field(description="Latitude of its middle [deg].")
    lon_deg: float = Field(description="Longitude of its middle [deg].")
    length_m: float = Field(description="Its length [m].")
    radius_m: float | None = Field(description="Radius of its bend; null if straight [m].")
    slope: float = Field(description="Steepness from the edge outward [m m-1].")
    flat_width_m: float = Field(description="Width of the flat behind [m].")
    deep_distance_m: float | None = Field(description="Distance to deep water; null if far [m].")
    drop_width_m: float | None = Field(description="Lip to foot of a drop [m].")
    position_se_m: float = Field(description="Standard error of the place of the line [m].")
    score: float = Field(description="From 0 to 1; common practice, no source.")
    reason: str = Field(description="Why, in a sentence.")
    line_lat_deg: tuple[float, ...] = Field(description="Latitudes along it [deg].")
    line_lon_deg: tuple[float, ...] = Field(description="Longitudes along it [deg].")


class EdgeLineForm(Document):
    """One line of an edge."""

    length_m: float = Field(description="Its length [m].")
    depth_se_m: float = Field(description="Median standard error of the depth there [m].")
    position_se_m: float = Field(description="Median standard error of its place [m].")
    lat_deg: tuple[float, ...] = Field(description="Latitudes along it [deg].")
    lon_deg: tuple[float, ...] = Field(description="Longitudes along it [deg].")


class LakeEdgeDocument(Document):
    """Answer of `leadsman lake edge`."""

    schema_: str = Field(
        default="leadsman.lake-edge/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    lake: str = Field(description="Name of the lake.")
    kind: str = Field(description="grass, depth or drop.")
    depth_m: float = Field(description="Depth of the edge below the surface of the day [m].")
    band_m: tuple[float, float] = Field(
        description="Where the edge lies nine times in ten; both ends alike for a bare depth [m]."
    )
    level_m: float = Field(description="Level of the day above the reference level [m].")
    grass: GrassEdgeForm | None = Field(description="Where the grass edge comes from.")
    length_m: float = Field(description="Length of the edge [m].")
    lines: tuple[EdgeLineForm, ...] = Field(description="The edge, longest line first.")
    stretches: tuple[StretchForm, ...] = Field(description="Stretches, best first.")
    notes: tuple[str, ...] = Field(description="What was read, assumed and what to mind.")


class SurveyRunForm(Document):
    """One track to run with the sounder on."""

    number: int = Field(description="Order.")
    length_m: float = Field(description="Its length [m].")
    hours: float = Field(description="Time with getting there [h].")
    se_before_m: float = Field(description="Error near the edge it covers, now [m].")
    se_after_m: float = Field(description="The same as foreseen afterwards [m].")
    reason: str = Field(description="Why, in a sentence.")
    lat_deg: tuple[float, ...] = Field(description="Latitudes along it [deg].")
    lon_deg: tuple[float, ...] = Field(description="Longitudes along it [deg].")


class LakeSurveyDocument(Document):
    """Answer of `leadsman lake survey`."""

    schema_: str = Field(
        default="leadsman.lake-survey/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    lake: str = Field(description="Name of the lake.")
    hours: float = Field(description="Time for all runs [h].")
    se_before_m: float = Field(description="Error near the edge, root mean square, now [m].")
    se_after_m: float = Field(description="The same as foreseen afterwards [m].")
    runs: tuple[SurveyRunForm, ...] = Field(description="Tracks in their order.")
    notes: tuple[str, ...] = Field(description="What to mind.")


class PatchForm(Document):
    """One patch of grass that was seen."""

    lat_deg: tuple[float, ...] = Field(description="Latitudes of its outline [deg].")
    lon_deg: tuple[float, ...] = Field(description="Longitudes of its outline [deg].")
    top_depth_m: float = Field(description="Depth of its top below the reference level [m].")
    density: float = Field(description="Share of the ground covered; 0 is bare.")
    origin: str = Field(description="drawn, imported or marked.")


class LakeGrassDocument(Document):
    """Answer of `leadsman lake grass`."""

    schema_: str = Field(
        default="leadsman.lake-grass/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    lake: str = Field(description="Name of the lake.")
    patches: tuple[PatchForm, ...] = Field(description="Grass seen, later ones on top.")


def edge_document(answer: EdgeAnswer) -> LakeEdgeDocument:
    """JSON form of an edge."""
    grass = answer.grass
    return LakeEdgeDocument(
        headline=answer.headline,
        lake=answer.lake.name,
        kind=answer.kind,
        depth_m=answer.depth_m,
        band_m=answer.band_m,
        level_m=answer.question.level_m,
        grass=None
        if grass is None
        else GrassEdgeForm(
            depth_m=grass.depth_m,
            low_m=grass.low_m,
            high_m=grass.high_m,
            se_m=grass.se_m,
            origin=grass.origin,
        ),
        length_m=answer.length_m,
        lines=tuple(_line(line) for line in answer.lines),
        stretches=tuple(_stretch(item, answer.lines) for item in answer.ranked),
        notes=answer.notes,
    )


def survey_document(answer: SurveyAnswer) -> LakeSurveyDocument:
    """JSON form of a survey."""
    plan = answer.plan
    return LakeSurveyDocument(
        headline=answer.headline,
        lake=answer.edge.lake.name,
        hours=plan.hours,
        se_before_m=plan.se_before_m,
        se_after_m=plan.se_after_m,
        runs=tuple(
            SurveyRunForm(
                number=number,
                length_m=run.length_m,
                hours=run.hours,
                se_before_m=run.se_before_m,
                se_after_m=run.se_after_m,
                reason=reason,
                lat_deg=tuple(run.lat_deg.tolist()),
                lon_deg=tuple(run.lon_deg.tolist()),
            )
            for number, (run, reason) in enumerate(zip(plan.runs, answer.reasons, strict=True), 1)
        ),
        notes=answer.notes,
    )


def grass_document(answer: PatchesAnswer) -> LakeGrassDocument:
    """JSON form of the grass kept with a lake."""
    return LakeGrassDocument(
        headline=answer.headline,
        lake=answer.lake.name,
        patches=tuple(
            PatchForm(
                lat_deg=patch.lat_deg,
                lon_deg=patch.lon_deg,
                top_depth_m=patch.top_depth_m,
                density=patch.density,
                origin=patch.origin,
            )
            for patch in answer.lake.record.patches
        ),
    )


def _line(line: EdgeLine) -> EdgeLineForm:
    lon, lat = line.lonlat()
    return EdgeLineForm(
        length_m=line.length_m,
        depth_se_m=float(np.median(line.depth_se_m)),
        position_se_m=float(np.median(line.position_se_m)),
        lat_deg=tuple(lat.tolist()),
        lon_deg=tuple(lon.tolist()),
    )


def _stretch(item: RankedStretch, lines: Sequence[EdgeLine]) -> StretchForm:
    stretch = item.stretch
    lon, lat = lines[stretch.line].lonlat()
    part = np.arange(stretch.first, stretch.last + 1) % lon.size
    return StretchForm(
        rank=item.rank,
        kind=stretch.kind,
        lat_deg=stretch.lat_deg,
        lon_deg=stretch.lon_deg,
        length_m=stretch.length_m,
        radius_m=stretch.radius_m if math.isfinite(stretch.radius_m) else None,
        slope=stretch.slope,
        flat_width_m=stretch.flat_width_m,
        deep_distance_m=(
            stretch.deep_distance_m if math.isfinite(stretch.deep_distance_m) else None
        ),
        drop_width_m=item.drop_width_m,
        position_se_m=stretch.position_se_m,
        score=stretch.score,
        reason=item.reason,
        line_lat_deg=tuple(lat[part].tolist()),
        line_lon_deg=tuple(lon[part].tolist()),
    )
