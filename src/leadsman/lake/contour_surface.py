"""A bottom between contours: by the distances to the next shallower and the next deeper one.

Between two contours depth goes evenly from one to the other along the way
across, so there are no terraces. Where a contour holds no deeper one the
bottom sags below it by up to half an interval (own derivation: the deepest
ground lies between the last contour and the next that was not drawn).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import KNOWS_NOTHING_M, BottomModel, Float32Array
from leadsman.lake.contours import DepthRegions
from leadsman.lake.lattice import Lattice
from leadsman.lake.soundings import BoolArray, FloatArray
from leadsman.lake.survey_error import survey_se_m

POSITION_SE_M = 5.0
"""Standard error of where a contour is drawn [m]: digitised maps; no source, a choice of ours."""
BRIDGE = 0.5
"""Standard error midway between contours over their interval, times two [-]: 0.25 at the middle,
the spread of an even law (0.29) drawn in a little. Checked by hiding contours."""
SUMMIT_SE = 0.29
"""Standard error inside the last contour over the interval [-]: an even law, 1 / sqrt(12)."""


def lattice_for(regions: DepthRegions, cell_m: float | None = None) -> Lattice:
    """Lattice that holds a lake's contours.

    Parameters
    ----------
    regions : DepthRegions
        The contours [-].
    cell_m : float or None
        Width of a cell; None takes 5 m, wider for large lakes [m].

    Raises
    ------
    LakeDataError
        The lake is too large for the cell.
    """
    x1, y1, x2, y2 = regions.regions[0].bounds
    if cell_m is None:
        cell_m = max(5.0, float(np.ceil(np.sqrt((x2 - x1) * (y2 - y1) / 8e6))))
    return Lattice.around(
        regions.frame, np.array([x1, x2]), np.array([y1, y2]), cell_m, 2.0 * cell_m
    )


def model_from_contours(
    regions: DepthRegions, name: str, lattice: Lattice | None = None, error_scale: float = 1.0
) -> BottomModel:
    """Bottom model from contours.

    Parameters
    ----------
    regions : DepthRegions
        The contours [-].
    name : str
        Name of the lake [-].
    lattice : Lattice or None
        Where to; its frame has to be the contours' [-].
    error_scale : float
        Factor on the error between contours, from hiding contours [-].

    Returns
    -------
    BottomModel
        The model; unknown outside the outermost contour. Of a shoreline alone
        it tells where the water is, with an error that says that it knows
        nothing of its depth; `fuse` leaves it out.

    Raises
    ------
    LakeDataError
        There is no area, or the frames differ.
    """
    lattice = lattice or lattice_for(regions)
    if lattice.frame != regions.frame:
        raise LakeDataError("the lattice is in another frame than the contours", regions.source)
    if len(regions.levels_m) == 1 and regions.levels_m[0] == 0.0:
        return _water_only(regions, name, lattice)
    masks = [region_mask(regions, index, lattice) for index in range(len(regions.regions))]
    if not np.any(masks[0]):
        raise LakeDataError("the contours hold no cell; they are smaller than one", regions.source)
    depth = np.full(lattice.shape, np.nan, dtype=np.float32)
    se = np.full(lattice.shape, np.nan, dtype=np.float32)
    levels = regions.levels_m
    for index, mask in enumerate(masks):
        deeper = masks[index + 1] if index + 1 < len(masks) else None
        if index + 1 < len(levels):
            interval = float(levels[index + 1] - levels[index])
        else:
            interval = float(levels[-1] - levels[-2]) if len(levels) > 1 else 0.5 * float(levels[0])
        _fill_band(
            depth, se, mask, deeper, float(levels[index]), interval, lattice.cell_m, error_scale
        )
    known = np.isfinite(depth)
    se[known] = np.hypot(se[known], survey_se_m(depth[known].astype(np.float64))).astype(np.float32)
    return BottomModel(
        name, lattice, depth, se, (regions.source,),
        (f"Bottom between {len(levels)} contours, without terraces",),
    )  # fmt: skip


def _water_only(regions: DepthRegions, name: str, lattice: Lattice) -> BottomModel:
    """Where the water is, when nothing is known of its depth."""
    water = region_mask(regions, 0, lattice)
    if not np.any(water):
        raise LakeDataError("the contours hold no cell; they are smaller than one", regions.source)
    depth = np.where(water, 0.0, np.nan).astype(np.float32)
    se = np.where(water, KNOWS_NOTHING_M, np.nan).astype(np.float32)
    return BottomModel(
        name, lattice, depth, se, (regions.source,), ("A shoreline, without depths",)
    )


def region_mask(regions: DepthRegions, index: int, lattice: Lattice) -> BoolArray:
    """Cells whose centre is deeper than a level.

    Parameters
    ----------
    regions : DepthRegions
        The contours [-].
    index : int
        Number of the level, 0 for the outermost [-].
    lattice : Lattice
        The cells, in the contours' frame [-].
    """
    from rasterio.features import rasterize
    from rasterio.transform import Affine

    half = 0.5 * lattice.cell_m
    to_frame = Affine(
        lattice.cell_m, 0.0, lattice.x0_m - half, 0.0, lattice.cell_m, lattice.y0_m - half
    )
    region = regions.regions[index]
    if region.is_empty:
        return np.zeros(lattice.shape, dtype=bool)
    burnt = rasterize([(region, 1)], out_shape=lattice.shape, transform=to_frame, dtype="uint8")
    return np.asarray(burnt, dtype=bool)


def _box(mask: BoolArray, grow: int) -> tuple[slice, slice]:
    rows = np.flatnonzero(np.any(mask, axis=1))
    cols = np.flatnonzero(np.any(mask, axis=0))
    return (
        slice(max(int(rows[0]) - grow, 0), int(rows[-1]) + 1 + grow),
        slice(max(int(cols[0]) - grow, 0), int(cols[-1]) + 1 + grow),
    )


def _fill_band(
    depth: Float32Array,
    se: Float32Array,
    mask: BoolArray,
    deeper: BoolArray | None,
    level_m: float,
    interval_m: float,
    cell_m: float,
    error_scale: float,
) -> None:
    """Fill the ground between one contour and the next deeper one, in place."""
    from scipy.ndimage import distance_transform_edt, label

    if not np.any(mask):
        return
    box = _box(mask, 1)
    here = mask[box]
    below = deeper[box] if deeper is not None else np.zeros(here.shape, dtype=bool)
    band = here & ~below
    if not np.any(band):
        return
    # Half a cell: from the centre of the first cell beyond to the contour itself.
    up = np.asarray(distance_transform_edt(here), dtype=np.float64)[band] * cell_m - 0.5 * cell_m
    if np.any(below):
        down = np.asarray(distance_transform_edt(~below), dtype=np.float64)[band] * cell_m
        down -= 0.5 * cell_m
    else:
        down = np.full(up.shape, np.inf)
    parts, count = label(here, structure=np.ones((3, 3)))
    has_deeper = np.zeros(count + 1, dtype=bool)
    has_deeper[np.unique(parts[below])] = True
    own = parts[band]
    last = ~has_deeper[own]
    widest = np.zeros(count + 1)
    np.maximum.at(widest, own, up)
    values, error = _between(up, down, level_m, interval_m, error_scale)
    if np.any(last):
        sag = 1.0 - (1.0 - np.clip(up[last] / np.maximum(widest[own[last]], cell_m), 0.0, 1.0)) ** 2
        values[last] = level_m + 0.5 * interval_m * sag
        error[last] = error_scale * SUMMIT_SE * interval_m * np.sqrt(sag)
    _put(depth[box], band, values)
    _put(se[box], band, error)


def _between(
    up: FloatArray, down: FloatArray, level_m: float, interval_m: float, error_scale: float
) -> tuple[FloatArray, FloatArray]:
    """Depth and its error between two contours."""
    with np.errstate(invalid="ignore"):
        share = np.where(np.isfinite(down), up / (up + down), 0.0)
        slope = np.where(np.isfinite(down), interval_m / (up + down), 0.0)
    bridge = error_scale * 2.0 * BRIDGE * interval_m * np.sqrt(share * (1.0 - share)) * 0.5
    placing = np.minimum(POSITION_SE_M * slope, 0.5 * interval_m)
    return level_m + interval_m * share, np.hypot(bridge, placing)


def _put(target: Float32Array, where: npt.NDArray[np.bool_], values: FloatArray) -> None:
    target[where] = values.astype(np.float32)
