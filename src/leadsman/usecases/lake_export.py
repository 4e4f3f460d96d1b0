"""A lake, its edge and its stretches as GeoJSON, GPX 1.1 and GeoTIFF."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import numpy as np

from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError
from leadsman.usecases.lake_store import StoredLake, open_lake
from leadsman.usecases.lake_text import is_us

if TYPE_CHECKING:
    from leadsman.output.geojson import Feature
    from leadsman.output.gpx import Track
    from leadsman.usecases.lake_edge import EdgeAnswer

ExportKind = Literal["geojson", "gpx", "geotiff"]
KINDS: dict[str, ExportKind] = {
    ".geojson": "geojson",
    ".json": "geojson",
    ".gpx": "gpx",
    ".tif": "geotiff",
    ".tiff": "geotiff",
}
MAX_CONTOURS = 60
CONTOUR_SMOOTH_M = 7.5
"""Standard deviation of the smoothing before contours are drawn [m], as for edges."""
LEAST_CONTOUR_M = 40.0
"""Shorter contours are left out [m]: specks of the grid."""
STRETCHES_OUT = 20
"""Stretches written as way points [-]."""


@dataclass(frozen=True, slots=True)
class ExportAnswer:
    """What was written.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    kind : {"geojson", "gpx", "geotiff"}
        Its format [-].
    headline : str
        What it holds, in a sentence [-].
    """

    path: Path
    kind: ExportKind
    headline: str


def check_export_path(path: Path) -> ExportKind:
    """Format that the ending of a file name asks for.

    Parameters
    ----------
    path : pathlib.Path
        Where the file goes [-].

    Raises
    ------
    InputError
        The ending is unknown, or the folder is not there.
    """
    kind = KINDS.get(path.suffix.lower())
    if kind is None:
        raise InputError(
            f"it ends with {path.suffix or 'nothing'!r}, which we do not write",
            path,
            "End the file name with .geojson, .gpx or .tif",
        )
    if not path.parent.is_dir():
        raise InputError("the folder is not there", path.parent, "Make it first")
    if path.is_dir():
        raise InputError("is a folder", path, "Give a file name")
    return kind


def export_lake(
    name: str,
    path: Path,
    lakes: Path | None = None,
    interval_m: float | None = None,
    level_m: float = 0.0,
    units: str = "us",
) -> ExportAnswer:
    """Write the bottom: contours as GeoJSON or GPX, the grid as GeoTIFF.

    Parameters
    ----------
    name : str
        The lake [-].
    path : pathlib.Path
        Where to; its ending tells the format [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    interval_m : float or None
        Steps between contours; None is 5 ft or 2 m [m].
    level_m : float
        Water level of the day above the reference level [m].
    units : str
        Units to answer in [-].

    Raises
    ------
    InputError
        It cannot be written.
    """
    kind = check_export_path(path)
    shown = display_units(units)
    lake = open_lake(name, lakes)
    if kind == "geotiff":
        from leadsman.output.geotiff import write_geotiff

        write_geotiff(lake.model, path, level_m)
        cell = shown.distance.text(lake.model.lattice.cell_m)
        return ExportAnswer(
            path,
            kind,
            f"Grid of {lake.name}: depth and its standard error in metres, {cell} cells.",
        )
    if interval_m is None:
        interval_m = shown.depth.dimension.si(5.0 if is_us(shown) else 2.0, shown.depth.unit)
    lines = contour_lines(lake, interval_m, level_m, shown)
    title = f"{lake.name}: depth contours"
    if kind == "gpx":
        from leadsman.output.gpx import write_gpx

        write_gpx(path, (), _contour_tracks(lines, shown), title)
    else:
        from leadsman.output.geojson import write_geojson

        write_geojson(path, _contour_features(lines))
    return ExportAnswer(
        path, kind, f"{len(lines)} contours of {lake.name}, {shown.depth.text(interval_m)} apart."
    )


def export_edge(answer: EdgeAnswer, path: Path) -> ExportAnswer:
    """Write an edge and its ranked stretches.

    Parameters
    ----------
    answer : EdgeAnswer
        The edge [-].
    path : pathlib.Path
        Where to, .geojson or .gpx [-].

    Raises
    ------
    InputError
        It cannot be written, or an edge is no grid.
    """
    kind = check_export_path(path)
    if kind == "geotiff":
        raise InputError("an edge is no grid", path, "End the file name with .geojson or .gpx")
    ranked = [item.stretch for item in answer.ranked]
    if kind == "gpx":
        from leadsman.output.gpx import Waypoint, edge_tracks, write_gpx

        name = {"grass": "Grass edge", "depth": "Depth", "drop": "Drop"}[answer.kind]
        waypoints = [
            Waypoint(
                item.stretch.lon_deg, item.stretch.lat_deg, f"{item.rank} {item.stretch.kind}",
                item.reason, answer.depth_m,
            )
            for item in answer.ranked[:STRETCHES_OUT]
        ]  # fmt: skip
        write_gpx(
            path, waypoints, edge_tracks(answer.lines, name), f"{answer.lake.name}: {answer.what}"
        )
    else:
        from leadsman.output.geojson import edge_features, stretch_features, write_geojson

        features = edge_features(answer.lines, answer.what)
        write_geojson(path, [*features, *stretch_features(ranked, answer.lines)])
    return ExportAnswer(
        path, kind, f"{answer.what[0].upper()}{answer.what[1:]}, of {answer.lake.name}: "
        f"{len(answer.lines)} lines and {len(ranked)} stretches.",
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class ContourLine:
    """One line of a contour.

    Parameters
    ----------
    depth_m : float
        Its depth below the surface of the day [m].
    lon_deg, lat_deg : ndarray, shape (n,)
        Its places [deg].
    depth_se_m : float
        Standard error of the map along it, median [m].
    """

    depth_m: float
    lon_deg: np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    lat_deg: np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    depth_se_m: float


def contour_lines(
    lake: StoredLake, interval_m: float, level_m: float, units: DisplayUnits
) -> list[ContourLine]:
    """Contours of a lake at even steps.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].
    interval_m : float
        Steps [m].
    level_m : float
        Water level of the day above the reference level [m].
    units : DisplayUnits
        Units of messages [-].

    Raises
    ------
    InputError
        The steps are too fine or too coarse.
    """
    from contourpy import contour_generator

    from leadsman.lake.edge import smoothed

    deepest = float(np.nanmax(lake.model.depth_m)) + level_m
    if not 0.1 <= interval_m <= 100.0 or deepest / interval_m > MAX_CONTOURS:
        raise InputError(
            f"steps of {units.depth.text(interval_m)} are too fine or too coarse for a lake "
            f"{units.depth.text(deepest)} deep",
            "--interval",
            "Try '5 ft' or '2 m'",
        )
    if deepest <= interval_m:
        raise InputError(
            f"the lake is no deeper than {units.depth.text(deepest)}", "--interval", "Try less"
        )
    model = smoothed(lake.model, CONTOUR_SMOOTH_M)
    lattice = model.lattice
    generator = contour_generator(
        lattice.x_m, lattice.y_m, np.ma.masked_invalid(model.depth_m), corner_mask=True
    )
    out: list[ContourLine] = []
    for depth in np.arange(interval_m, deepest, interval_m).tolist():
        for line in generator.lines(depth - level_m):
            xy = np.asarray(line, dtype=np.float64)
            if float(np.sum(np.hypot(*np.diff(xy, axis=0).T))) < LEAST_CONTOUR_M:
                continue
            lon, lat = lattice.frame.to_lonlat(xy[:, 0], xy[:, 1])
            _, se = lake.model.sample(xy[:, 0], xy[:, 1])
            out.append(ContourLine(depth, lon, lat, float(np.nanmedian(se))))
    return out


def _contour_tracks(lines: list[ContourLine], units: DisplayUnits) -> list[Track]:
    from leadsman.output.gpx import Track

    return [
        Track(line.lon_deg, line.lat_deg, units.depth.text(line.depth_m), "Contour.", line.depth_m)
        for line in lines
    ]


def _contour_features(lines: list[ContourLine]) -> list[Feature]:
    from leadsman.output.geojson import line_feature

    return [
        line_feature(
            line.lon_deg, line.lat_deg, what="contour", depth_m=round(line.depth_m, 3),
            depth_se_m=round(line.depth_se_m, 3),
        )
        for line in lines
    ]  # fmt: skip
