"""A bottom model from soundings: kriged, with an error that hidden squares have proved."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.cross_validation import CrossValidation, cross_validate
from leadsman.lake.frame import MetricFrame
from leadsman.lake.kriging_pyramid import KrigingPyramid
from leadsman.lake.lattice import Lattice
from leadsman.lake.soundings import BoolArray, FloatArray, Soundings
from leadsman.lake.survey_error import survey_se_m

DEFAULT_CELL_M = 5.0
FILL_M = 120.0
"""Gaps between soundings up to twice this wide are filled [m]; their error says how far to
trust them. A choice of ours."""
BESIDE_M = 10.0
"""Beyond the outermost soundings the map goes on no farther than this [m]."""
MIN_EXTENT_M = 20.0
"""Soundings within less than this map nothing [m]."""


def lattice_for_soundings(
    soundings: Sequence[Soundings], cell_m: float = DEFAULT_CELL_M
) -> Lattice:
    """Lattice that holds some soundings.

    Parameters
    ----------
    soundings : sequence of Soundings
        Cleaned soundings [-].
    cell_m : float
        Width of a cell [m].

    Raises
    ------
    LakeDataError
        There are none, or they are too far apart.
    """
    if not soundings:
        raise LakeDataError("no soundings were given", "soundings")
    lon = np.concatenate([s.lon_deg for s in soundings])
    lat = np.concatenate([s.lat_deg for s in soundings])
    frame = MetricFrame.around(lon, lat)
    x, y = frame.to_metric(lon, lat)
    return Lattice.around(frame, x, y, cell_m, BESIDE_M + cell_m)


def model_from_soundings(
    soundings: Sequence[Soundings],
    name: str,
    lattice: Lattice | None = None,
    water: BoolArray | None = None,
    fill_m: float = FILL_M,
) -> tuple[BottomModel, CrossValidation]:
    """Bottom model from one or more sets of soundings.

    Parameters
    ----------
    soundings : sequence of Soundings
        Cleaned soundings, all of one water level [-].
    name : str
        Name of the lake [-].
    lattice : Lattice or None
        Where to; None fits one to the soundings [-].
    water : ndarray of bool, shape (ny, nx), or None
        Cells that are water, from a shoreline; its border is taken as zero depth [-].
    fill_m : float
        Gaps up to twice this wide are filled [m].

    Returns
    -------
    tuple of BottomModel and CrossValidation
        The model, and what hiding squares said about its error.

    Raises
    ------
    LakeDataError
        The soundings map nothing: too few, or all in one place.
    """
    lattice = lattice or lattice_for_soundings(soundings)
    source = ", ".join(s.source for s in soundings)
    x, y, depth = _metric(soundings, lattice)
    _check_extent(x, y, source)
    domain, distance = _domain(x, y, lattice, fill_m)
    validation = cross_validate(x, y, depth, lattice.cell_m, distance[domain])
    if water is not None:
        shore_x, shore_y = _shore_cells(water, lattice)
        x, y = np.concatenate([x, shore_x]), np.concatenate([y, shore_y])
        depth = np.concatenate([depth, np.zeros(shore_x.size)])
    if water is not None:
        domain, distance = _domain(x, y, lattice, fill_m)
        domain &= water
    pyramid = KrigingPyramid.build(x, y, depth, lattice.cell_m, validation.square_m)
    at_x, at_y = _centres(domain, lattice)
    found, se = pyramid.predict(at_x, at_y, distance[domain])
    survey = validation.survey_scale * survey_se_m(found)
    total = np.hypot(validation.interpolation_scale * se, survey)
    grid = np.full(lattice.shape, np.nan, dtype=np.float32)
    error = np.full(lattice.shape, np.nan, dtype=np.float32)
    grid[domain] = np.maximum(found, 0.0).astype(np.float32)
    error[domain] = total.astype(np.float32)
    said = (
        f"Bottom from {sum(map(len, soundings)):,} soundings on {lattice.cell_m:g} m cells, "
        f"{float(np.count_nonzero(domain)) * lattice.cell_area_m2 / 1e4:.1f} ha",
        str(validation)
        if np.isfinite(validation.rmse_m)
        else "Too few soundings to test the error by hiding some; it rests on the variogram alone",
    )
    model = BottomModel(name, lattice, grid, error, tuple(s.source for s in soundings), said)
    return model, validation


def _metric(
    soundings: Sequence[Soundings], lattice: Lattice
) -> tuple[FloatArray, FloatArray, FloatArray]:
    if not soundings:
        raise LakeDataError("no soundings were given", "soundings")
    parts = [lattice.frame.to_metric(s.lon_deg, s.lat_deg) for s in soundings]
    return (
        np.concatenate([p[0] for p in parts]),
        np.concatenate([p[1] for p in parts]),
        np.concatenate([s.depth_m for s in soundings]),
    )


def _check_extent(x: FloatArray, y: FloatArray, source: str) -> None:
    width = float(np.hypot(np.ptp(x), np.ptp(y)))
    if x.size < 3 or width < MIN_EXTENT_M:
        raise LakeDataError(
            f"{x.size:,} soundings within {width:.0f} m map nothing: the boat did not move",
            source,
            "Run the sounder over the water you want to know",
        )


def _cells_with_data(x: FloatArray, y: FloatArray, lattice: Lattice) -> BoolArray:
    has = np.zeros(lattice.shape, dtype=bool)
    col = np.rint((x - lattice.x0_m) / lattice.cell_m).astype(np.int64)
    row = np.rint((y - lattice.y0_m) / lattice.cell_m).astype(np.int64)
    inside = (col >= 0) & (row >= 0) & (col < lattice.nx) & (row < lattice.ny)
    has[row[inside], col[inside]] = True
    return has


def _domain(
    x: FloatArray, y: FloatArray, lattice: Lattice, fill_m: float
) -> tuple[BoolArray, FloatArray]:
    """Cells between soundings (a morphological closing), and their distance to the nearest."""
    from scipy.ndimage import distance_transform_edt

    pad = int(np.ceil(fill_m / lattice.cell_m)) + 2
    has = np.pad(_cells_with_data(x, y, lattice), pad)
    distance = np.asarray(distance_transform_edt(~has), dtype=np.float64) * lattice.cell_m
    grown = distance <= fill_m
    inner = np.asarray(distance_transform_edt(grown), dtype=np.float64) * lattice.cell_m
    closed = (inner > fill_m) | (distance <= BESIDE_M)
    cut = (slice(pad, -pad), slice(pad, -pad))
    return closed[cut], np.maximum(distance[cut], 0.3 * lattice.cell_m)


def _shore_cells(water: BoolArray, lattice: Lattice) -> tuple[FloatArray, FloatArray]:
    """Places half a cell outside the water's border cells."""
    from scipy.ndimage import binary_dilation

    return _centres(np.asarray(binary_dilation(water) & ~water, dtype=bool), lattice)


def _centres(cells: BoolArray, lattice: Lattice) -> tuple[FloatArray, FloatArray]:
    rows, cols = np.nonzero(cells)
    return lattice.x_m[cols], lattice.y_m[rows]
