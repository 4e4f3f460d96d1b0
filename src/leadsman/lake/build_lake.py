"""A lake's bottom model from whatever files there are, each told by its content."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.align_soundings import align_soundings
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.contour_surface import lattice_for, model_from_contours, region_mask
from leadsman.lake.contours import DepthRegions
from leadsman.lake.coverage import Coverage, coverage_of
from leadsman.lake.cross_validation import CrossValidation
from leadsman.lake.file_guard import checked_size
from leadsman.lake.fuse import fuse
from leadsman.lake.load_soundings import SoundingOptions, load_soundings
from leadsman.lake.read_contours import ContourOptions, read_contours
from leadsman.lake.read_csv import CsvOptions
from leadsman.lake.read_grid import GridOptions, read_grid
from leadsman.lake.sounding_surface import model_from_soundings
from leadsman.lake.soundings import ReadReport, Soundings
from leadsman.lake.vector_file import VECTOR_SUFFIXES

FileKind = Literal["soundings", "contours", "grid"]

MAX_FILES = 50
_GRID_MAGIC = (
    b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+", b"CDF", b"\x89HDF",
    b"ncols", b"NCOLS", b"nrows", b"NROWS",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class LakeOptions:
    """What the user says about the files of a lake; the rest is detected.

    Parameters
    ----------
    crs : str or None
        Frame of files that name none [-].
    depth_unit : str or None
        Unit of depths [-].
    cell_m : float or None
        Width of the model's cells [m].
    level_m : float
        Water level of the data above the reference level wanted; it is
        taken off the depths [m].
    csv : CsvOptions
        More about tables [-].
    contours : ContourOptions
        More about contours [-].
    grid : GridOptions
        More about grids [-].
    transducer_depth_m : float or None
        Depth of the sounder's transducer below the surface [m].
    elevation_is_depth : bool
        For GPX: take ``ele`` as depth [-].
    """

    crs: str | None = None
    depth_unit: str | None = None
    cell_m: float | None = None
    level_m: float = 0.0
    csv: CsvOptions = field(default_factory=CsvOptions)
    contours: ContourOptions = field(default_factory=ContourOptions)
    grid: GridOptions = field(default_factory=GridOptions)
    transducer_depth_m: float | None = None
    elevation_is_depth: bool = False


@dataclass(frozen=True, slots=True)
class LakeBuild:
    """A lake's bottom and what was found on the way.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    reports : tuple of ReadReport
        One for each file, in the order given [-].
    validation : CrossValidation or None
        What hiding soundings said about the error; None without soundings [-].
    shoreline : bool
        Whether a contour of depth 0 bounds the water [-].
    soundings : tuple of Soundings
        Cleaned and brought to one level [-].
    coverage : Coverage or None
        Distance of the map's cells to them; None without soundings [-].
    warnings : tuple of str
        What the user should check between the files [-].
    """

    model: BottomModel
    reports: tuple[ReadReport, ...]
    validation: CrossValidation | None
    shoreline: bool
    soundings: tuple[Soundings, ...] = ()
    coverage: Coverage | None = None
    warnings: tuple[str, ...] = ()


def kind_of(path: Path) -> FileKind:
    """What a file holds, by its content and, for vector files, its ending.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].

    Raises
    ------
    LakeDataError
        It cannot be opened.
    """
    checked_size(path, 1 << 31)
    if path.suffix.casefold() in VECTOR_SUFFIXES:
        return "contours"
    with path.open("rb") as handle:
        head = handle.read(64).lstrip()
    return "grid" if head.startswith(_GRID_MAGIC) else "soundings"


def build_lake(name: str, paths: Sequence[Path], options: LakeOptions | None = None) -> LakeBuild:
    """Read files of any kind and fuse them into one bottom model.

    Parameters
    ----------
    name : str
        Name of the lake [-].
    paths : sequence of pathlib.Path
        Tables, sounder logs, GPX, contours or grids of one lake [-].
    options : LakeOptions or None
        What is known about them [-].

    Returns
    -------
    LakeBuild
        The model and its reports.

    Raises
    ------
    LakeDataError
        A file cannot be used, or together they map nothing.
    """
    options = options or LakeOptions()
    if not 1 <= len(paths) <= MAX_FILES:
        raise LakeDataError(f"give 1 to {MAX_FILES} files", name)
    if not -30.0 <= options.level_m <= 30.0:
        raise LakeDataError("the level is outside -30 to 30 m", name)
    soundings: list[Soundings] = []
    contours: list[DepthRegions] = []
    models: list[BottomModel] = []
    reports: list[ReadReport] = []
    for path in paths:
        kind = kind_of(path)
        if kind == "soundings":
            found, report = load_soundings(path, _sounding_options(options))
            soundings.append(found)
        elif kind == "contours":
            regions, report = read_contours(path, _contour_options(options))
            contours.append(regions)
        else:
            model, report = read_grid(path, name, _grid_options(options), options.cell_m)
            models.append(model)
        reports.append(report)
    shore = next((c for c in contours if c.levels_m[0] == 0.0), None)
    for regions in contours:
        models.append(model_from_contours(regions, name, lattice_for(regions, options.cell_m)))
    validation: CrossValidation | None = None
    said: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    aligned: tuple[Soundings, ...] = ()
    if soundings:
        alignment = align_soundings(soundings)
        aligned, said, warnings = alignment.soundings, alignment.said, alignment.warnings
        model, validation = _from_soundings(aligned, name, shore, options.cell_m)
        models.append(model)
    fused = fuse(models, name)
    fused = replace(fused, said=(*fused.said, *said))
    if options.level_m:
        fused = replace(
            fused,
            depth_m=fused.depth_m - np.float32(options.level_m),
            said=(*fused.said, f"{options.level_m:+.2f} m of water level taken off all depths"),
        )
    coverage = coverage_of(fused, aligned) if aligned else None
    return LakeBuild(
        fused, tuple(reports), validation, shore is not None, aligned, coverage, warnings
    )


def _from_soundings(
    soundings: Sequence[Soundings], name: str, shore: DepthRegions | None, cell_m: float | None
) -> tuple[BottomModel, CrossValidation]:
    """Soundings within the shoreline, where there is one."""
    if shore is None:
        from leadsman.lake.sounding_surface import lattice_for_soundings

        lattice = lattice_for_soundings(soundings, cell_m or 5.0)
        return model_from_soundings(soundings, name, lattice)
    lattice = lattice_for(shore, cell_m)
    return model_from_soundings(soundings, name, lattice, region_mask(shore, 0, lattice))


def _sounding_options(options: LakeOptions) -> SoundingOptions:
    csv = replace(
        options.csv,
        crs=options.csv.crs or options.crs,
        depth_unit=options.csv.depth_unit or options.depth_unit,
    )
    return SoundingOptions(
        csv, options.transducer_depth_m, elevation_is_depth=options.elevation_is_depth
    )


def _contour_options(options: LakeOptions) -> ContourOptions:
    return replace(
        options.contours,
        crs=options.contours.crs or options.crs,
        depth_unit=options.contours.depth_unit or options.depth_unit,
    )


def _grid_options(options: LakeOptions) -> GridOptions:
    return replace(
        options.grid,
        crs=options.grid.crs or options.crs,
        depth_unit=options.grid.depth_unit or options.depth_unit,
    )
