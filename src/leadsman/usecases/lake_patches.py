"""Thick grass that somebody saw: patches kept with a lake, brought in and taken out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import numpy as np

from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError, LakeDataError
from leadsman.lake.grass_map import DENSITY_WORDS, GrassPatch, read_patches
from leadsman.usecases.lake_export import check_export_path
from leadsman.usecases.lake_record import KeptPatch
from leadsman.usecases.lake_store import StoredLake, keep_patches, open_lake
from leadsman.usecases.lake_text import area_text, place_text

MAX_PATCHES = 5000
IfThere = Literal["add", "replace"]


@dataclass(frozen=True, slots=True)
class MarkedGrass:
    """One place where thick grass stands.

    Parameters
    ----------
    lat_deg, lon_deg : float
        Where [deg].
    top_depth_m : float
        Depth of its top below the surface of the day, 0 at the surface [m].
    density : float
        Share of the ground covered; 0 marks bare ground [-].
    """

    lat_deg: float
    lon_deg: float
    top_depth_m: float
    density: float


@dataclass(frozen=True, slots=True)
class PatchesQuestion:
    """Grass to be kept, or to be listed.

    Parameters
    ----------
    name : str
        The lake [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    file : pathlib.Path or None
        Patches to bring in: polygons or points with a top depth and a density [-].
    mark : MarkedGrass or None
        One place marked on the water [-].
    if_there : {"add", "replace"}
        Whether patches kept before stay, below the new ones [-].
    clear : bool
        Forget all patches [-].
    crs : str or None
        Frame of the file where it names none [-].
    depth_unit : str or None
        Unit of its top depths where it names none [-].
    level_m : float
        Water level of the day above the reference level [m].
    out : pathlib.Path or None
        Where to write all patches as GeoJSON [-].
    units : str
        Units to answer in [-].
    """

    name: str
    lakes: Path | None = None
    file: Path | None = None
    mark: MarkedGrass | None = None
    if_there: IfThere = "add"
    clear: bool = False
    crs: str | None = None
    depth_unit: str | None = None
    level_m: float = 0.0
    out: Path | None = None
    units: str = "us"


@dataclass(frozen=True, slots=True)
class PatchesAnswer:
    """Grass that is kept.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    headline : str
        The answer in a sentence [-].
    rows : tuple of tuple
        For each patch where, top, cover and origin, as words [-].
    """

    lake: StoredLake
    units: DisplayUnits
    headline: str
    rows: tuple[tuple[str, str, str, str], ...]


def density_share(text: str) -> float:
    """Cover from a word, a per cent or a share [-].

    Parameters
    ----------
    text : str
        Such as ``"thick"``, ``"80 %"`` or ``"0.8"`` [-].

    Raises
    ------
    InputError
        It is none of them.
    """
    word = text.strip().casefold()
    if word in ("bare", "none"):
        return 0.0
    if word in DENSITY_WORDS:
        return DENSITY_WORDS[word]
    try:
        value = float(word.removesuffix("%"))
    except ValueError:
        value = float("nan")
    share = value / 100.0 if word.endswith("%") else value
    if not 0.0 <= share <= 1.0:
        words = ", ".join(DENSITY_WORDS)
        raise InputError(
            f"{text[:30]!r} is no cover of grass", "--density", f"Write bare, {words} or '60 %'"
        )
    return share


def grass_patches(question: PatchesQuestion) -> PatchesAnswer:
    """Keep, forget, list or write out the grass that was seen on a lake.

    Parameters
    ----------
    question : PatchesQuestion
        What to do [-].

    Raises
    ------
    InputError
        A patch makes no sense or lies off the lake; nothing is changed then.
    """
    if question.clear and (question.file is not None or question.mark is not None):
        raise InputError("it forgets what is given with it", "--clear", "Do one after the other")
    if question.out is not None and check_export_path(question.out) != "geojson":
        raise InputError("patches go into GeoJSON", question.out, "End the name with .geojson")
    lake = open_lake(question.name, question.lakes)
    new = _new_patches(question, lake)
    if new or question.clear:
        before = () if question.clear or question.if_there == "replace" else lake.record.patches
        kept = (*before, *(KeptPatch.of(patch) for patch in new))
        if len(kept) > MAX_PATCHES:
            raise InputError(f"more than {MAX_PATCHES:,} patches", "patches", "Join some of them")
        lake = keep_patches(lake, kept)
    if question.out is not None:
        _write(lake, question.out)
    units = display_units(question.units)
    rows = tuple(_row(patch, question.level_m, units) for patch in lake.record.patches)
    return PatchesAnswer(lake, units, _headline(lake, len(new), units), rows)


def _new_patches(question: PatchesQuestion, lake: StoredLake) -> tuple[GrassPatch, ...]:
    new: list[GrassPatch] = []
    if question.file is not None:
        new += read_patches(question.file, question.crs, question.depth_unit)
    mark = question.mark
    if mark is not None:
        new.append(
            GrassPatch(
                np.array([mark.lon_deg]), np.array([mark.lat_deg]), mark.top_depth_m,
                mark.density, "marked",
            )
        )  # fmt: skip
    out: list[GrassPatch] = []
    for number, patch in enumerate(new, 1):
        on_map, _ = lake.model.sample_lonlat(patch.lon_deg, patch.lat_deg)
        if not np.any(np.isfinite(on_map)):
            raise LakeDataError(
                f"patch {number} at {_where(patch)} is not on the map of {lake.name}",
                question.file.name if question.file is not None else "--at",
                "Check the order of latitude and longitude, and the frame",
            )
        out.append(replace(patch, top_depth_m=max(patch.top_depth_m - question.level_m, 0.0)))
    return tuple(out)


def _where(patch: GrassPatch | KeptPatch) -> str:
    return place_text(float(np.mean(patch.lat_deg)), float(np.mean(patch.lon_deg)))


def _row(patch: KeptPatch, level_m: float, units: DisplayUnits) -> tuple[str, str, str, str]:
    top = patch.top_depth_m + level_m
    shown = "bare" if patch.density == 0.0 else units.depth.text(top) if top > 0.0 else "surface"
    return _where(patch), shown, f"{100.0 * patch.density:.0f} %", patch.origin


def _headline(lake: StoredLake, new: int, units: DisplayUnits) -> str:
    count = len(lake.record.patches)
    if count == 0:
        return f"No grass is kept for {lake.name}: casts on it know only its grass edge, if any."
    from leadsman.usecases.lake_cast import grass_of

    grown = grass_of(lake)
    seen = 0.0 if grown is None else float(np.count_nonzero(grown.seen))
    area = area_text(seen * lake.model.lattice.cell_area_m2, units)
    added = f", {new} of them new" if new else ""
    return f"{count} patches of grass are kept for {lake.name}{added}: {area} seen."


def _write(lake: StoredLake, path: Path) -> None:
    from leadsman.output.geojson import point_feature, polygon_feature, write_geojson

    features = []
    for patch in lake.record.patches:
        lon, lat = np.array(patch.lon_deg), np.array(patch.lat_deg)
        about: dict[str, str | float | int | bool | None] = {
            "what": "grass", "top_depth_m": round(patch.top_depth_m, 3),
            "density": round(patch.density, 3), "origin": patch.origin,
        }  # fmt: skip
        if lon.size == 1:
            features.append(point_feature(float(lon[0]), float(lat[0]), **about))
        else:
            features.append(polygon_feature([(lon, lat)], **about))
    if not features:
        raise InputError(f"no grass is kept for {lake.name}", "--out", "Add patches first")
    write_geojson(path, features)
