"""JSON forms of `leadsman lake` add, list, show, map, export and remove."""

from __future__ import annotations

from collections.abc import Sequence

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.lake_export import ExportAnswer
from leadsman.usecases.lake_record import LakeRecord, SourceFile
from leadsman.usecases.lake_report import LakeReport


class DroppedForm(Document):
    """Data left out for one reason."""

    reason: str = Field(description="Why.")
    count: int = Field(description="How many.")
    lines: tuple[int, ...] = Field(description="First few lines of the file, from 1.")


class LakeFileForm(Document):
    """One file of a lake."""

    source: str = Field(description="File name.")
    format: str = Field(description="csv, nmea, gpx, contours, grid or list.")
    points_in: int = Field(description="Soundings, shapes or cells met.")
    points_kept: int = Field(description="How many of them are used.")
    level_m: float = Field(description="Water level of its day above the reference level [m].")
    said: tuple[str, ...] = Field(description="What was detected or assumed.")
    dropped: tuple[DroppedForm, ...] = Field(description="What was left out or mended, and why.")
    warnings: tuple[str, ...] = Field(description="What to check.")


class LakeCheckForm(Document):
    """What hiding squares of soundings said about the map."""

    square_m: float = Field(description="Width of the hidden squares [m].")
    count: int = Field(description="Places foretold.")
    rmse_m: float = Field(description="Root mean square error [m].")
    bias_m: float = Field(description="Mean error, positive is too deep [m].")
    coverage_90: float = Field(description="Share within the stated 90 % band.")
    published_rmse_m: tuple[float, float] = Field(
        description="Published scale of such errors (Siljeg et al. 2015, Curtarelli et al. 2015) "
        "[m]."
    )


class GrassEdgeForm(Document):
    """Depth at which the grass stops."""

    depth_m: float = Field(description="Best guess below the reference level [m].")
    low_m: float = Field(description="Lower end of its band [m].")
    high_m: float = Field(description="Upper end of its band [m].")
    se_m: float = Field(description="Standard error at one place [m].")
    origin: str = Field(description="marked or clarity.")


class BandShareForm(Document):
    """How much of the map is known how well."""

    half_width_m: float = Field(description="Half-width of the 90 % band of depth [m].")
    share: float = Field(description="Share of the mapped area.")


class LakeDocument(Document):
    """Answer of `leadsman lake add` and `leadsman lake show`."""

    schema_: str = Field(default="leadsman.lake/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    name: str = Field(description="Name of the lake.")
    folder: str = Field(description="Where it is kept.")
    reference: str = Field(description="What depth 0 is, as told; empty if not told.")
    area_m2: float = Field(description="Area whose depth is known [m2].")
    max_depth_m: float = Field(description="Greatest depth [m].")
    mean_depth_m: float = Field(description="Mean depth [m].")
    cell_m: float = Field(description="Width of a cell [m].")
    centre_lat_deg: float = Field(description="Latitude of the middle [deg].")
    centre_lon_deg: float = Field(description="Longitude of the middle [deg].")
    band_m: float = Field(description="Median half-width of the 90 % band of depth [m].")
    shares: tuple[BandShareForm, ...] = Field(description="How much is known how well.")
    points_in: int = Field(description="Over all files.")
    points_kept: int = Field(description="Over all files.")
    files: tuple[LakeFileForm, ...] = Field(description="What it was made from.")
    check: LakeCheckForm | None = Field(description="Hidden squares; null without soundings.")
    grass_edge: GrassEdgeForm | None = Field(description="The grass edge kept with it.")
    patches: int = Field(description="Patches of grass kept with it.")
    notes: tuple[str, ...] = Field(description="How it was made, and what to mind.")


class LakeItemForm(Document):
    """One lake of a list."""

    name: str = Field(description="Name of the lake.")
    files: tuple[str, ...] = Field(description="What it was made from.")
    reference: str = Field(description="What depth 0 is, as told.")
    grass_edge_m: float | None = Field(description="Grass edge kept with it [m].")


class LakeListDocument(Document):
    """Answer of `leadsman lake list`."""

    schema_: str = Field(
        default="leadsman.lake-list/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    lakes: tuple[LakeItemForm, ...] = Field(description="Every lake, by name.")


class LakeDoneDocument(Document):
    """Answer of `leadsman lake export`, `map` and `remove`."""

    schema_: str = Field(
        default="leadsman.lake-done/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="What was done.")
    lake: str = Field(description="Name of the lake.")
    file: str | None = Field(description="File written; null where none was.")


def lake_document(report: LakeReport) -> LakeDocument:
    """JSON form of a report."""
    from leadsman.lake.cross_validation import PUBLISHED_RMSE_M

    record, check = report.record, report.record.check
    return LakeDocument(
        headline=report.headline,
        name=record.name,
        folder=str(report.lake.folder),
        reference=record.reference,
        area_m2=report.area_m2,
        max_depth_m=report.max_depth_m,
        mean_depth_m=report.mean_depth_m,
        cell_m=report.lake.model.lattice.cell_m,
        centre_lat_deg=report.centre_deg[0],
        centre_lon_deg=report.centre_deg[1],
        band_m=report.band_m,
        shares=tuple(
            BandShareForm(half_width_m=item.half_width_m, share=item.share)
            for item in report.shares
        ),
        points_in=report.points_in,
        points_kept=report.points_kept,
        files=tuple(_file(item) for item in record.files),
        check=None
        if check is None
        else LakeCheckForm(
            square_m=check.square_m,
            count=check.count,
            rmse_m=check.rmse_m,
            bias_m=check.bias_m,
            coverage_90=check.coverage_90,
            published_rmse_m=PUBLISHED_RMSE_M,
        ),
        grass_edge=_grass(record),
        patches=len(record.patches),
        notes=tuple(
            text
            for text in (report.coverage_sentence, report.check_sentence, *report.notes)
            if text
        ),
    )


def list_document(records: Sequence[LakeRecord], headline: str) -> LakeListDocument:
    """JSON form of the list of lakes."""
    return LakeListDocument(
        headline=headline,
        lakes=tuple(
            LakeItemForm(
                name=record.name,
                files=tuple(item.report.source for item in record.files),
                reference=record.reference,
                grass_edge_m=None if record.edge is None else record.edge.depth_m,
            )
            for record in records
        ),
    )


def done_document(headline: str, lake: str, file: str | None = None) -> LakeDoneDocument:
    """JSON form of something done."""
    return LakeDoneDocument(headline=headline, lake=lake, file=file)


def export_document(answer: ExportAnswer, lake: str) -> LakeDoneDocument:
    """JSON form of an export."""
    return done_document(answer.headline, lake, str(answer.path))


def _file(item: SourceFile) -> LakeFileForm:
    report = item.report
    return LakeFileForm(
        source=report.source,
        format=report.file_format,
        points_in=report.points_in,
        points_kept=report.points_kept,
        level_m=item.level_m,
        said=report.said,
        dropped=tuple(
            DroppedForm(reason=d.reason, count=d.count, lines=d.lines) for d in report.dropped
        ),
        warnings=report.warnings,
    )


def _grass(record: LakeRecord) -> GrassEdgeForm | None:
    edge = record.edge
    if edge is None:
        return None
    return GrassEdgeForm(
        depth_m=edge.depth_m,
        low_m=edge.low_m,
        high_m=edge.high_m,
        se_m=edge.se_m,
        origin=edge.origin,
    )
