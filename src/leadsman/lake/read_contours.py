"""Depth contours and depth bands from vector files."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError, Where
from leadsman.lake.contours import DepthRegions, InnerRings, build_regions
from leadsman.lake.csv_layout import DEPTH_UNITS_M, unit_in_name
from leadsman.lake.frame import MetricFrame
from leadsman.lake.mend_ring import mended
from leadsman.lake.read_csv import to_wgs84
from leadsman.lake.soundings import DEEPEST_LAKE_M, DropTally, FloatArray, ReadReport
from leadsman.lake.vector_file import VectorTable, read_vector

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

DEPTH_FIELDS = (
    "depthm", "depthmeters", "depthmetres", "depth", "depthft", "depthfeet", "contour", "zdepth",
    "depthlow", "maxdepth", "mindepth", "z", "level", "value",
)  # fmt: skip
CLOSE_RING_M = 15.0
"""A line whose ends are this near is a closed contour [m]; a choice of ours."""


@dataclass(frozen=True, slots=True)
class ContourOptions:
    """What the user says about a contour file; the rest is detected.

    Parameters
    ----------
    depth_field : str or None
        Attribute that holds the depth [-].
    depth_unit : str or None
        ``"ft"``, ``"m"`` or ``"fathom"`` [-].
    crs : str or None
        Frame of the positions, such as ``"EPSG:3070"``, where the file names none [-].
    layer : str or None
        Layer of a GeoPackage [-].
    band_value : {"shallow", "deep"}
        For depth bands: which end of its band a polygon's depth is [-].
    inner_rings : {"hump", "deeper"}
        What a ring inside a ring of its own level bounds [-].
    """

    depth_field: str | None = None
    depth_unit: str | None = None
    crs: str | None = None
    layer: str | None = None
    band_value: Literal["shallow", "deep"] = "shallow"
    inner_rings: InnerRings = "hump"


def read_contours(
    path: Path, options: ContourOptions | None = None
) -> tuple[DepthRegions, ReadReport]:
    """Read contours (nested polygons or closed lines) or depth bands.

    Parameters
    ----------
    path : pathlib.Path
        GeoJSON, shapefile (also zipped) or GeoPackage [-].
    options : ContourOptions or None
        What is known about it [-].

    Returns
    -------
    tuple of DepthRegions and ReadReport
        For each level all deeper ground, and what was found and mended.

    Raises
    ------
    LakeDataError
        It cannot be used.
    """
    options = options or ContourOptions()
    table = read_vector(path, options.layer)
    source = table.source
    tally = DropTally.empty()
    said: list[str] = []
    warnings: list[str] = []
    depth, good = _depths(table, options, tally, said, warnings)
    geometry = table.geometry[good]
    frame, metric = _to_frame(
        geometry, options.crs or table.crs, options.crs is not None, source, said
    )
    polygons, keep = _polygons(metric, tally, source)
    if not polygons:
        raise LakeDataError("holds no closed contours or polygons", source)
    depth = depth[keep]
    if _are_bands(polygons):
        polygons, depth = _bands_to_nested(polygons, depth, options.band_value, said)
    regions = build_regions(frame, polygons, depth, source, options.inner_rings)
    said += regions.mended
    levels = ", ".join(f"{level:.2f}" for level in regions.levels_m[:30])
    said.append(
        f"Contours at {levels} m; {float(regions.regions[0].area) / 1e4:.1f} ha in the outermost"
    )
    if regions.levels_m[0] > 0.0:
        warnings.append("there is no shoreline (depth 0); the outermost contour ends the map")
    report = ReadReport(
        source, "contours", int(table.geometry.size), len(polygons), tuple(said), tally.dropped(),
        tuple(warnings),
    )  # fmt: skip
    return regions, report


def _depths(
    table: VectorTable,
    options: ContourOptions,
    tally: DropTally,
    said: list[str],
    warnings: list[str],
) -> tuple[FloatArray, npt.NDArray[np.bool_]]:
    """Depth of each usable feature, positive down, and which those are."""
    name = _depth_field(table, options.depth_field)
    values = _numbers(table.fields[name])
    unit = options.depth_unit or unit_in_name(re.sub(r"([a-z])([A-Z])", r"\1 \2", name))
    if unit is not None and unit.casefold() not in DEPTH_UNITS_M:
        raise LakeDataError(f"'{unit[:20]}' is no unit of depth", table.source, "Use ft or m")
    how = "as given" if options.depth_unit else "by its name"
    if unit is None:
        said.append(f"Depth is '{name}'; no unit is named, so metres are assumed")
        warnings.append("if the depths are in feet, say so with the depth unit")
    else:
        said.append(f"Depth is '{name}' in {unit}, {how}")
    depth = values * DEPTH_UNITS_M[unit.casefold() if unit else "m"]
    finite = depth[np.isfinite(depth)]
    if finite.size and np.mean(finite < 0.0) > 0.5:
        said.append("Depths count negative down")
        depth = -depth
    bad = ~np.isfinite(depth)
    tally.add("depth is not a number", None, int(np.count_nonzero(bad)))
    with np.errstate(invalid="ignore"):
        out = ~bad & ((depth < 0.0) | (depth > DEEPEST_LAKE_M))
    tally.add("depth above the water or deeper than any lake", None, int(np.count_nonzero(out)))
    good = ~(bad | out)
    if not np.any(good):
        raise LakeDataError(f"no feature has a usable depth in '{name}'", table.source)
    return depth[good], good


def _depth_field(table: VectorTable, wanted: str | None) -> str:
    names = list(table.fields)
    listed = ", ".join(names[:20]) or "none"
    if wanted is not None:
        for name in names:
            if name.casefold() == wanted.casefold():
                return name
        raise LakeDataError(
            f"has no attribute '{wanted[:40]}'", Where(table.source, field="depth field"),
            f"Its attributes are: {listed}",
        )  # fmt: skip
    plain = {re.sub(r"[^a-z]", "", name.casefold()): name for name in reversed(names)}
    for candidate in DEPTH_FIELDS:
        if candidate in plain and np.any(np.isfinite(_numbers(table.fields[plain[candidate]]))):
            return plain[candidate]
    raise LakeDataError(
        "which attribute holds the depth cannot be told",
        table.source,
        f"Name it; the attributes are: {listed}",
    )


def _numbers(column: npt.NDArray[Any]) -> FloatArray:
    if column.dtype.kind in "iuf":
        return column.astype(np.float64)
    out = np.full(column.shape, np.nan)
    for index, value in enumerate(column):
        try:
            out[index] = float(str(value))
        except ValueError:
            continue
    return out


def _to_frame(
    geometry: npt.NDArray[Any], crs: str | None, given: bool, source: str, said: list[str]
) -> tuple[MetricFrame, npt.NDArray[Any]]:
    """Shapes in a metric frame around them."""
    import shapely

    xy = shapely.get_coordinates(geometry)
    if not np.all(np.isfinite(xy)):
        raise LakeDataError("has corners that are not numbers", source)
    if crs is None:
        if np.max(np.abs(xy[:, 0])) > 180.0 or np.max(np.abs(xy[:, 1])) > 90.0:
            raise LakeDataError(
                f"names no frame, and {xy[0, 0]:.6g}, {xy[0, 1]:.6g} are no degrees",
                Where(source, field="crs"),
                "Give it, such as --crs EPSG:3070",
            )
        said.append("The file names no frame; longitude and latitude on WGS84 are assumed")
        crs = "EPSG:4326"
    else:
        said.append(f"Frame {crs[:40]}, {'as given' if given else 'by the file'}")
    lon, lat = to_wgs84(xy[:, 0], xy[:, 1], crs, source)
    if not (np.all(np.isfinite(lon)) and np.all(np.isfinite(lat))) or np.max(np.abs(lat)) > 85.0:
        raise LakeDataError(
            f"its corners do not lie in the frame {crs[:40]}", Where(source, field="crs"),
            "Give the right frame",
        )  # fmt: skip
    frame = MetricFrame.around(lon, lat)
    x, y = frame.to_metric(lon, lat)
    if not np.all(np.isfinite(x)) or max(np.ptp(x), np.ptp(y)) > 300_000.0:
        raise LakeDataError("the shapes are too far apart for one lake", source, "Check the frame")
    return frame, np.asarray(shapely.set_coordinates(geometry.copy(), np.stack([x, y], axis=1)))


def _polygons(
    geometry: npt.NDArray[Any], tally: DropTally, source: str
) -> tuple[list[BaseGeometry], npt.NDArray[np.int64]]:
    """Valid polygons of every feature that has one, and the feature of each."""
    import shapely

    out: list[BaseGeometry] = []
    owner: list[int] = []
    for index, shape in enumerate(geometry):
        if shape.geom_type in ("LineString", "MultiLineString"):
            for line in shapely.get_parts(shape):
                ring = _closed(line, source)
                if ring is None:
                    tally.add("line that is not closed", None)
                else:
                    out.append(ring)
                    owner.append(index)
            continue
        if shape.geom_type not in ("Polygon", "MultiPolygon", "GeometryCollection"):
            tally.add(f"{shape.geom_type.casefold()} where a contour was expected", None)
            continue
        if not shape.is_valid:
            shape = mended(shape, source)
            tally.add("self-crossing or otherwise broken ring (mended, kept)", None)
        for part in shapely.get_parts(shape):
            if part.geom_type in ("Polygon", "MultiPolygon") and part.area > 0.0:
                out.append(part)
                owner.append(index)
    return out, np.array(owner, dtype=np.int64)


def _closed(line: BaseGeometry, source: str) -> BaseGeometry | None:
    import shapely

    xy = shapely.get_coordinates(line)
    if len(xy) < 4 or np.hypot(*(xy[0] - xy[-1])) > CLOSE_RING_M:
        return None
    ring = shapely.Polygon(xy)
    return mended(ring, source)


def _are_bands(polygons: list[BaseGeometry]) -> bool:
    """Whether the polygons lie side by side (bands) rather than one in another (contours)."""
    import shapely

    if len(polygons) < 2:
        return False
    total = float(sum(p.area for p in polygons))
    united = float(shapely.union_all(polygons).area)
    return total < 1.02 * united and any(p.interiors for p in polygons if p.geom_type == "Polygon")


def _bands_to_nested(
    polygons: list[BaseGeometry],
    depth: FloatArray,
    band_value: Literal["shallow", "deep"],
    said: list[str],
) -> tuple[list[BaseGeometry], FloatArray]:
    """All ground deeper than each level, from bands that exclude one another."""
    import shapely

    levels = np.unique(depth)
    said.append(
        f"The polygons are depth bands; each depth is taken as the {band_value} end of its band"
    )
    nested: list[BaseGeometry] = []
    at: list[float] = []
    for index, level in enumerate(levels):
        # A hair of growth closes the slits between neighbouring bands.
        parts = [p.buffer(0.05) for p, d in zip(polygons, depth, strict=True) if d >= level]
        region = shapely.union_all(parts).buffer(-0.05)
        nested.append(region)
        shallow = level if band_value == "shallow" else (levels[index - 1] if index else 0.0)
        at.append(float(shallow))
    return nested, np.array(at)
