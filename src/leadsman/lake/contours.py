"""Depth contours of a lake as regions: for each level, all ground deeper than it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.frame import MetricFrame
from leadsman.lake.mend_ring import mended
from leadsman.lake.soundings import FloatArray

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SAME_RING_OVERLAP = 0.98
"""Two rings of one level that share this much of their area are the same ring twice [-]."""
MAX_RING_PAIRS = 30_000
"""Most pairs of rings of one level whose boxes meet [-]; a real lake has hundreds."""
InnerRings = Literal["hump", "deeper"]
MAX_RINGS = 200_000
"""Most rings taken from one file [-]."""


@dataclass(frozen=True, slots=True)
class DepthRegions:
    """For each level the region of the lake that is deeper, in a metric frame.

    Parameters
    ----------
    frame : MetricFrame
        The flat frame [-].
    levels_m : ndarray, shape (n,)
        Depths of the contours, rising; 0 is the shoreline [m].
    regions : tuple of shapely geometry, length n
        Polygons of the ground deeper than each level, in the frame [m].
    source : str
        File name [-].
    mended : tuple of str
        What had to be mended, each a sentence [-].
    """

    frame: MetricFrame
    levels_m: FloatArray
    regions: tuple[BaseGeometry, ...]
    source: str
    mended: tuple[str, ...] = ()

    def area_m2(self, index: int) -> float:
        """Area of one region [m2]."""
        return float(self.regions[index].area)


def build_regions(
    frame: MetricFrame,
    polygons: Sequence[BaseGeometry],
    depths_m: FloatArray,
    source: str,
    inner_rings: InnerRings = "hump",
) -> DepthRegions:
    """Regions from the rings of contour polygons, in any order.

    Within one level rings count even-odd: a ring inside another ring of the
    same level bounds an island or a hump. Levels are then made to nest.

    Parameters
    ----------
    frame : MetricFrame
        Frame of the polygons [-].
    polygons : sequence of shapely polygons
        Valid polygons in metres [m].
    depths_m : ndarray, shape (n,)
        Depth of each polygon's boundary [m].
    source : str
        File name for messages [-].
    inner_rings : {"hump", "deeper"}
        What a ring inside a ring of its own level bounds. A contour divides
        deeper from shallower ground, so it is a hump; "deeper" ignores such
        rings, but for those of level 0, which stay islands [-].

    Returns
    -------
    DepthRegions
        The regions.

    Raises
    ------
    LakeDataError
        There are no polygons, or too many.
    """
    import shapely

    if len(polygons) == 0:
        raise LakeDataError("holds no closed contours", source)
    if len(polygons) > MAX_RINGS:
        raise LakeDataError(f"holds more than {MAX_RINGS:,} polygons", source, "Thin it out")
    notes: list[str] = []
    levels = np.unique(np.round(depths_m, 4))
    regions: list[BaseGeometry] = []
    repeats = 0
    humps_m2 = 0.0
    for level in levels:
        rings: list[BaseGeometry] = []
        for member in map(int, np.flatnonzero(np.abs(depths_m - level) < 6e-5)):
            rings += _rings(polygons[member])
        region, repeated = _even_odd(rings, source)
        repeats += repeated
        if level > 0.0:
            whole = shapely.union_all(rings)
            humps_m2 += float(whole.area - region.area)
            region = whole if inner_rings == "deeper" else region
        regions.append(region)
    if repeats:
        notes.append(f"{repeats:,} rings given twice are counted once")
    if humps_m2 > 1.0:
        what = "humps" if inner_rings == "hump" else "deeper ground, and ignored"
        notes.append(
            f"Rings inside a ring of their own level ({humps_m2 / 1e4:.1f} ha in all levels) "
            f"are taken as {what}"
        )
    cut = 0.0
    for index in range(1, len(regions)):
        inside = shapely.intersection(regions[index], regions[index - 1])
        cut += float(regions[index].area - inside.area)
        regions[index] = inside
    if cut > 1e-3 * float(regions[0].area):
        notes.append(
            f"{cut / 1e4:.2f} ha of deeper contours lie on islands or outside shallower ones; cut"
        )
    return DepthRegions(frame, levels, tuple(regions), source, tuple(notes))


def _rings(geometry: BaseGeometry) -> list[BaseGeometry]:
    """Every ring of a polygon or multipolygon as a polygon without holes."""
    import shapely

    parts = shapely.get_parts(geometry)
    out: list[BaseGeometry] = []
    for part in parts:
        if part.geom_type != "Polygon" or part.is_empty:
            continue
        out.append(shapely.Polygon(part.exterior))
        out += [shapely.Polygon(ring) for ring in part.interiors]
    return out


def _even_odd(rings: list[BaseGeometry], source: str) -> tuple[BaseGeometry, int]:
    """Region inside an odd number of the rings, and how many rings came twice."""
    import shapely
    from shapely import STRtree

    whole = (mended(r, source) for r in rings)
    rings = sorted(whole, key=lambda r: -float(r.area))
    kept: list[BaseGeometry] = []
    repeated = 0
    pairs = 0
    depth: list[int] = []
    tree = STRtree(rings)
    twin = np.zeros(len(rings), dtype=bool)
    for index, ring in enumerate(rings):
        holders = 0
        for other in map(int, tree.query(ring)):
            if other >= index or twin[other]:
                continue
            pairs += 1
            if pairs > MAX_RING_PAIRS:
                raise LakeDataError(
                    f"over {MAX_RING_PAIRS:,} pairs of rings of one level lie in one another",
                    source,
                    "Check that the depth attribute is the right one",
                )  # fmt: skip
            shared = float(shapely.intersection(ring, rings[other]).area)
            if shared > SAME_RING_OVERLAP * float(rings[other].area):
                twin[index] = True
                break
            if shared > 0.5 * float(ring.area):
                holders += 1
        if twin[index]:
            repeated += 1
            continue
        kept.append(ring)
        depth.append(holders)
    region: BaseGeometry = shapely.MultiPolygon()
    for generation in range(max(depth, default=0) + 1):
        layer = shapely.union_all([r for r, d in zip(kept, depth, strict=True) if d == generation])
        region = (
            shapely.union(region, layer)
            if generation % 2 == 0
            else shapely.difference(region, layer)
        )
    return region, repeated
