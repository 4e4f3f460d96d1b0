"""Several bottom models of one lake as one, each weighing by its error."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import KNOWS_NOTHING_M, BottomModel
from leadsman.lake.lattice import Lattice
from leadsman.lake.soundings import FloatArray

MIN_OVERLAP_CELLS = 50
"""Fewer common cells than this tell nothing about an offset of level [-]."""
LEVEL_LIMIT = 3.0
"""Offsets above this are no water level but a wrong unit or sign [m]; a choice of ours."""
SLACK = 1e-4
"""Rounding allowed when lattices are laid over each other [cell]."""
LEVEL_DOUBT = 0.15
"""Offsets below this are not worth moving a map for [m]; half a foot, a choice of ours."""


def fuse(models: Sequence[BottomModel], name: str, align: bool = True) -> BottomModel:
    """One model from several, by inverse variance cell by cell.

    The others are moved to the level of the one with the least median error,
    when their overlap says that they lie higher or lower. Where two disagree
    by more than their errors allow, the error is widened by the ratio (Birge
    ratio; Birge 1932, Phys. Rev. 40:207, from memory).

    Parameters
    ----------
    models : sequence of BottomModel
        Models of the same lake [-].
    name : str
        Name of the lake [-].
    align : bool
        Take out offsets of level between them [-].

    Returns
    -------
    BottomModel
        The fused model on the finest of the lattices, widened to hold all.

    Raises
    ------
    LakeDataError
        There are none, or they do not lie near one another.
    """
    if not models:
        raise LakeDataError("no models to fuse", name)
    models = [m for m in models if float(np.nanmedian(m.se_m)) < 0.5 * KNOWS_NOTHING_M]
    if not models:
        raise LakeDataError(
            "a shoreline alone says nothing about depth", name,
            "Give soundings or deeper contours as well",
        )  # fmt: skip
    if len(models) == 1:
        return models[0].renamed(name)
    order = sorted(models, key=lambda m: float(np.nanmedian(m.se_m)))
    lattice = _common_lattice(order)
    said: list[str] = [text for model in order for text in model.said]
    layers = [_on(model, lattice) for model in order]
    if align:
        _align(layers, order, said)
    weight = np.zeros(lattice.shape)
    total = np.zeros(lattice.shape)
    for depth, se in layers:
        w = np.where(np.isfinite(depth), 1.0 / np.maximum(se, 0.01) ** 2, 0.0)
        weight += w
        total += w * np.nan_to_num(depth)
    with np.errstate(invalid="ignore", divide="ignore"):
        fused = np.where(weight > 0.0, total / weight, np.nan)
        se = np.where(weight > 0.0, 1.0 / np.sqrt(weight), np.nan)
    se *= _birge(layers, fused)
    sources = tuple(source for model in order for source in model.sources)
    return BottomModel(
        name, lattice, fused.astype(np.float32), se.astype(np.float32), sources, tuple(said)
    )


def _common_lattice(models: Sequence[BottomModel]) -> Lattice:
    base = min((model.lattice for model in models), key=lambda lattice: lattice.cell_m)
    frame, cell = base.frame, base.cell_m
    xs: list[FloatArray] = []
    ys: list[FloatArray] = []
    for model in models:
        own = model.lattice
        corners_x = np.array([own.x_m[0], own.x_m[-1], own.x_m[0], own.x_m[-1]])
        corners_y = np.array([own.y_m[0], own.y_m[0], own.y_m[-1], own.y_m[-1]])
        lon, lat = own.frame.to_lonlat(corners_x, corners_y)
        x, y = frame.to_metric(lon, lat)
        xs.append(x)
        ys.append(y)
    x, y = np.concatenate(xs), np.concatenate(ys)
    # Whole cells from the finest lattice, so that it is not resampled itself.
    west = math.floor((float(np.min(x)) - base.x0_m) / cell + SLACK)
    south = math.floor((float(np.min(y)) - base.y0_m) / cell + SLACK)
    east = math.ceil((float(np.max(x)) - base.x0_m) / cell - SLACK)
    north = math.ceil((float(np.max(y)) - base.y0_m) / cell - SLACK)
    return Lattice(
        frame, base.x0_m + west * cell, base.y0_m + south * cell, cell,
        east - west + 1, north - south + 1,
    )  # fmt: skip


def _on(model: BottomModel, lattice: Lattice) -> tuple[FloatArray, FloatArray]:
    """A model sampled at the cells of a lattice."""
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    if model.lattice.frame == lattice.frame:
        return model.sample(x, y)
    lon, lat = lattice.frame.to_lonlat(x, y)
    return model.sample_lonlat(lon, lat)


def _align(
    layers: list[tuple[FloatArray, FloatArray]], models: Sequence[BottomModel], said: list[str]
) -> None:
    """Move each later layer to the level of the first one it overlaps, in place."""
    base = layers[0][0]
    for index in range(1, len(layers)):
        depth, se = layers[index]
        both = np.isfinite(base) & np.isfinite(depth)
        if np.count_nonzero(both) < MIN_OVERLAP_CELLS:
            continue
        offset = float(np.median(depth[both] - base[both]))
        names = ", ".join(models[index].sources)
        if abs(offset) > LEVEL_LIMIT:
            said.append(
                f"{names} differs from the rest by {abs(offset):.1f} m, too much for a "
                "water level; check its unit and sign"
            )
        elif abs(offset) >= LEVEL_DOUBT:
            layers[index] = (depth - offset, se)
            way = "deeper" if offset > 0.0 else "shallower"
            said.append(f"{names} lies {abs(offset):.2f} m {way} than the rest; moved to match")


def _birge(layers: Sequence[tuple[FloatArray, FloatArray]], fused: FloatArray) -> FloatArray:
    """Factor by which layers that disagree widen the error, at least 1."""
    chi2 = np.zeros(fused.shape)
    count = np.zeros(fused.shape)
    for depth, se in layers:
        known = np.isfinite(depth)
        with np.errstate(invalid="ignore"):
            chi2 += np.where(known, ((depth - fused) / np.maximum(se, 0.01)) ** 2, 0.0)
        count += known
    ratio = chi2 / np.maximum(count - 1.0, 1.0)
    return np.asarray(np.sqrt(np.maximum(np.where(count > 1.0, ratio, 1.0), 1.0)), dtype=np.float64)
