"""A bottom between contours against analytic cones and the contours' own areas."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import Z_90
from leadsman.lake.contour_surface import lattice_for, model_from_contours
from leadsman.lake.contours import DepthRegions, build_regions
from leadsman.lake.frame import MetricFrame
from leadsman.lake.fuse import fuse
from leadsman.lake.lattice import Lattice
from leadsman.lake.read_contours import ContourOptions, read_contours

FRAME = MetricFrame(-93.0, 45.0)


def cone(levels: np.ndarray, radius_m: float = 300.0, deepest_m: float = 10.0) -> DepthRegions:
    """Contours of a cone with its deepest point at the centre."""
    rings = [shapely.Point(0, 0).buffer(radius_m * (1.0 - d / deepest_m), 64) for d in levels]
    return build_regions(FRAME, rings, levels, "cone")


def test_a_cone_comes_back_without_terraces() -> None:
    model = model_from_contours(cone(np.arange(0.0, 10.0, 2.0)), "cone")
    r = np.linspace(5.0, 290.0, 300)
    depth, se = model.sample(r, np.zeros(300))
    truth = 10.0 * (1.0 - r / 300.0)
    assert np.max(np.abs(depth - truth)[r > 65.0]) < 0.25, "between contours a cone is exact"
    assert np.max(np.abs(depth - truth)) < 1.1, "inside the last contour within half an interval"
    assert np.max(np.abs(np.diff(depth))[r[1:] > 65.0]) < 0.12, "no terrace, no step"
    assert np.mean(np.abs(depth - truth) < Z_90 * se) > 0.9


def test_areas_are_those_of_the_contours() -> None:
    levels = np.arange(0.0, 10.0, 2.0)
    regions = cone(levels)
    # The innermost circle has 60 m radius: at 2 m its cells follow it to 1 %.
    model = model_from_contours(regions, "cone", lattice_for(regions, 2.0))
    for index, level in enumerate(levels):
        assert model.area_deeper_m2(level) == pytest.approx(regions.area_m2(index), rel=0.02)


def test_real_areas_within_two_percent(shared_data) -> None:
    """Lake Monona at 5 m: area deeper than each contour against the polygons' own."""
    regions, _ = read_contours(
        shared_data("yahara_monona/monona-contours-all.shp"), ContourOptions(crs="EPSG:3070")
    )
    model = model_from_contours(regions, "real")
    for index, level in enumerate(regions.levels_m):
        assert model.area_deeper_m2(float(level)) == pytest.approx(regions.area_m2(index), rel=0.02)
    assert 21.3 < float(np.nanmax(model.depth_m)) < 21.336 + 1.53


def test_hidden_contours_lie_within_the_stated_band(shared_data) -> None:
    """Every other contour of Lake Monona hidden: its true depth is known along its whole line."""
    regions, _ = read_contours(
        shared_data("yahara_monona/monona-contours-all.shp"), ContourOptions(crs="EPSG:3070")
    )
    keep = [0, *range(3, len(regions.levels_m), 2)]
    seen = DepthRegions(
        regions.frame,
        regions.levels_m[keep],
        tuple(regions.regions[i] for i in keep),
        "half",
    )
    model = model_from_contours(seen, "half", lattice_for(regions, 10.0))
    errors: list[np.ndarray] = []
    inside: list[np.ndarray] = []
    for index in range(4, len(regions.levels_m) - 3, 2):
        line = shapely.segmentize(regions.regions[index].boundary, 25.0)
        xy = shapely.get_coordinates(line)
        depth, se = model.sample(xy[:, 0], xy[:, 1])
        known = np.isfinite(depth)
        errors.append((depth - regions.levels_m[index])[known])
        inside.append(np.abs(errors[-1]) <= Z_90 * se[known])
    rmse = float(np.sqrt(np.mean(np.concatenate(errors) ** 2)))
    coverage = float(np.mean(np.concatenate(inside)))
    assert rmse < 0.92, "published scale: Curtarelli et al. 2015, IJGI 4:220"
    assert 0.85 <= coverage <= 1.0, f"coverage {coverage:.3f}"


def test_an_island_is_no_water() -> None:
    rings = [shapely.Point(0, 0).buffer(r) for r in (300, 40, 250)]
    regions = build_regions(FRAME, rings, np.array([0.0, 0.0, 2.0]), "i")
    model = model_from_contours(regions, "i")
    depth, _ = model.sample(np.array([0.0, 150.0]), np.zeros(2))
    assert np.isnan(depth[0])
    assert depth[1] >= 0.0


def test_contours_smaller_than_a_cell_and_another_frame() -> None:
    tiny = build_regions(FRAME, [shapely.Point(2.6, 2.6).buffer(0.2)], np.ones(1), "tiny")
    with pytest.raises(LakeDataError, match="hold no cell"):
        model_from_contours(tiny, "tiny")
    other = Lattice(MetricFrame(-92.0, 45.0), 0.0, 0.0, 5.0, 10, 10)
    with pytest.raises(LakeDataError, match="another frame"):
        model_from_contours(cone(np.array([0.0, 2.0])), "cone", other)


def test_a_shoreline_alone_tells_where_water_is_and_nothing_of_depth() -> None:
    model = model_from_contours(cone(np.array([0.0])), "shore")
    assert np.count_nonzero(np.isfinite(model.depth_m)) * 25.0 == pytest.approx(
        np.pi * 300.0**2, rel=0.01
    )
    assert np.nanmin(model.se_m) > 20.0
    with pytest.raises(LakeDataError, match="says nothing about depth"):
        fuse([model], "shore")
    depths = model_from_contours(cone(np.arange(0.0, 10.0, 2.0)), "cone")
    assert np.array_equal(fuse([model, depths], "both").depth_m, depths.depth_m, equal_nan=True)
