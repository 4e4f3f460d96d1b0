"""From files to one bottom with known error, kept under a name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

import numpy as np

from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError, LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.cross_validation import CrossValidation
from leadsman.lake.soundings import BoolArray, Dropped, ReadReport, Soundings
from leadsman.usecases.lake_files import LakeFile, file_kind
from leadsman.usecases.lake_record import HiddenSquares, LakeRecord, SourceFile
from leadsman.usecases.lake_report import LakeReport, lake_report
from leadsman.usecases.lake_store import (
    StoredLake,
    Track,
    folder_name,
    lake_exists,
    open_lake,
    save_lake,
)

OFF_WATER_CELLS = 2
"""Soundings up to this many cells outside a shoreline are kept [-]: the error of the shoreline
and of a position, 10 m at 5 m cells; a choice of ours."""
MOST_ON_WATER = 0.5
"""If fewer than this share of the soundings lie on the lake, they are of another one [-]."""
MOST_DRY = 0.5
"""A level that leaves more than this share of a file dry is a mistake [-]."""
TRACK_STEP_M = 3.0
"""Tracks are kept in steps of at least this [m]; for showing only."""
TRACK_GAP_M = 60.0
"""Soundings farther apart than this are not one track [m]; a choice of ours."""
MAX_FILES = 40
IfExists = Literal["refuse", "replace", "join"]


@dataclass(frozen=True, slots=True)
class AddLakeQuestion:
    """A lake to be made.

    Parameters
    ----------
    name : str
        Its name [-].
    files : tuple of LakeFile
        What it is made from [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    if_exists : {"refuse", "replace", "join"}
        What to do with a lake of that name: keep it and refuse, make it anew,
        or join the new files with what it holds [-].
    cell_m : float or None
        Width of a cell; None is 5 m, wider for very large lakes [m].
    reference : str
        What depth 0 is, in the angler's words, such as "summer pool 845 ft" [-].
    units : str
        Units to answer in, ``us`` or ``metric`` [-].
    """

    name: str
    files: tuple[LakeFile, ...]
    lakes: Path | None = None
    if_exists: IfExists = "refuse"
    cell_m: float | None = None
    reference: str = ""
    units: str = "us"


@dataclass(slots=True)
class _Found:
    """What the files hold."""

    models: list[BottomModel]
    soundings: list[Soundings]
    files: list[SourceFile]
    shoreline: BottomModel | None
    moored: list[str]
    said: list[str]


def add_lake(
    question: AddLakeQuestion, tell: Callable[[float, str], None] | None = None
) -> LakeReport:
    """Read files, make one bottom of them and keep it.

    Parameters
    ----------
    question : AddLakeQuestion
        What to make [-].
    tell : callable or None
        Takes the share that is done and what is being done [-].

    Returns
    -------
    LakeReport
        What came in, what was left out and how good the map is.

    Raises
    ------
    InputError
        The name is taken, or a file cannot be used; nothing is changed then.
    """
    tell = tell or (lambda share, what: None)
    units = display_units(question.units)
    old = _existing(question)
    found = _read_all(question, tell, units)
    if found.shoreline is None and old is not None and old.record.has_shoreline:
        found.shoreline = old.model
    tell(0.4, "mapping the bottom")
    check = _map_soundings(found, question)
    if old is not None:
        found.models.append(old.model)
    if not found.models:
        raise LakeDataError(
            f"{', '.join(found.moored)}: all soundings lie in one place, so they map nothing: "
            "the boat did not move",
            None,
            "Run the sounder over the water you want to know",
        )
    tell(0.85, "joining the sources")
    model = _fused(found, question.name)
    tracks = tuple(t for s in found.soundings for t in _tracks(s))
    record = LakeRecord(
        question.name, "", None, question.reference, tuple(found.files),
        HiddenSquares.of(check) if check is not None else None, found.shoreline is not None,
    )  # fmt: skip
    if old is not None:
        record = _joined(record, old)
        tracks = (*old.tracks(), *tracks)
    stored = save_lake(model, record, tracks, question.lakes)
    tell(1.0, "done")
    return lake_report(stored, units)


def _existing(question: AddLakeQuestion) -> StoredLake | None:
    """The lake to join with, after the name was checked."""
    folder_name(question.name)
    if not question.files:
        raise InputError("no file was given", "lake add", "Name at least one")
    if len(question.files) > MAX_FILES:
        raise InputError(f"more than {MAX_FILES} files", "lake add", "Join them in several steps")
    if question.cell_m is not None and not 1.0 <= question.cell_m <= 100.0:
        raise InputError(
            f"a cell of {question.cell_m:.4g} m is outside 1 to 100 m", "--cell", "Try 5 m"
        )
    there = lake_exists(question.name, question.lakes)
    if there and question.if_exists == "refuse":
        raise InputError(
            f"there is a lake {question.name!r} already",
            "lake name",
            "Add --join to put these files with it, or --replace to make it anew",
        )
    if question.if_exists != "join":
        return None
    if not there:
        raise InputError(
            f"there is no lake {question.name!r} to join with", "--join", "Leave --join away"
        )
    return open_lake(question.name, question.lakes)


def _read_all(
    question: AddLakeQuestion, tell: Callable[[float, str], None], units: DisplayUnits
) -> _Found:
    found = _Found([], [], [], None, [], [])
    kinds = [file_kind(file.path) for file in question.files]
    for number, (file, kind) in enumerate(zip(question.files, kinds, strict=True)):
        tell(0.4 * number / len(kinds), f"reading {file.path.name}")
        level_m = file.options.level_m
        if not abs(level_m) <= 30.0:
            raise InputError(f"a level of {level_m:.4g} m is beyond 30 m", "--level")
        if kind == "contours":
            report = _add_contours(found, file, question, units)
        elif kind == "grid":
            from leadsman.lake.read_grid import read_grid

            model, report = read_grid(
                file.path, question.name, file.options.grid(), question.cell_m
            )
            found.models.append(_at_reference(model, file, units))
        else:
            from leadsman.lake.load_soundings import load_soundings

            soundings, report = load_soundings(file.path, file.options.soundings())
            if np.mean(soundings.depth_m < level_m) > MOST_DRY:
                _refuse_level(file, level_m, units)
            found.soundings.append(replace(soundings, depth_m=soundings.depth_m - level_m))
        if level_m:
            way = "above" if level_m > 0.0 else "below"
            text = f"Water stood {units.depth.text(abs(level_m))} {way} the reference level"
            report = replace(report, said=(*report.said, text))
        found.files.append(SourceFile(report, level_m))
    return found


def _add_contours(
    found: _Found, file: LakeFile, question: AddLakeQuestion, units: DisplayUnits
) -> ReadReport:
    from leadsman.lake.contour_surface import lattice_for, model_from_contours
    from leadsman.lake.read_contours import read_contours

    regions, report = read_contours(file.path, file.options.contours())
    model = model_from_contours(regions, question.name, lattice_for(regions, question.cell_m))
    if found.shoreline is None and float(regions.levels_m[0]) == 0.0:
        found.shoreline = model
    found.models.append(_at_reference(model, file, units))
    return report


def _refuse_level(file: LakeFile, level_m: float, units: DisplayUnits) -> None:
    raise LakeDataError(
        f"with the level {units.depth.text(level_m)} over the reference most of it would be dry",
        file.path.name,
        "Check --level: it is how much the water of that day stood above the reference",
    )


def _at_reference(model: BottomModel, file: LakeFile, units: DisplayUnits) -> BottomModel:
    """A model of a day on which the water stood above the reference, moved to the reference."""
    level_m = file.options.level_m
    if level_m == 0.0:
        return model
    known = model.depth_m[np.isfinite(model.depth_m)]
    if np.mean(known < level_m) > MOST_DRY:
        _refuse_level(file, level_m, units)
    return replace(model, depth_m=model.depth_m - np.float32(level_m))


def _map_soundings(found: _Found, question: AddLakeQuestion) -> CrossValidation | None:
    """Turn all soundings into one model; they keep to the shoreline where one is known."""
    from leadsman.lake.align_soundings import align_soundings
    from leadsman.lake.sounding_surface import (
        DEFAULT_CELL_M,
        MIN_EXTENT_M,
        lattice_for_soundings,
        model_from_soundings,
    )

    if not found.soundings:
        return None
    if len(found.soundings) > 1:
        alignment = align_soundings(found.soundings)
        found.soundings = list(alignment.soundings)
        found.said += [*alignment.said, *(f"Check: {text}" for text in alignment.warnings)]
    water: BoolArray | None = None
    lattice = None
    if found.shoreline is not None:
        _drop_off_water(found, found.shoreline)
        lattice = found.shoreline.lattice
        water = np.isfinite(found.shoreline.depth_m)
    else:
        lattice = lattice_for_soundings(found.soundings, question.cell_m or DEFAULT_CELL_M)
    parts = [lattice.frame.to_metric(s.lon_deg, s.lat_deg) for s in found.soundings]
    x = np.concatenate([part[0] for part in parts])
    y = np.concatenate([part[1] for part in parts])
    if x.size < 3 or float(np.hypot(np.ptp(x), np.ptp(y))) < MIN_EXTENT_M:
        found.moored += [s.source for s in found.soundings]
        found.soundings.clear()
        return None
    model, check = model_from_soundings(found.soundings, question.name, lattice, water)
    found.models.append(model)
    return check


def _drop_off_water(found: _Found, shoreline: BottomModel) -> None:
    """Take out soundings outside the shoreline and count them in the report of their file."""
    from scipy.ndimage import binary_dilation

    lattice = shoreline.lattice
    water = np.isfinite(shoreline.depth_m)
    near = np.asarray(binary_dilation(water, iterations=OFF_WATER_CELLS), dtype=bool)
    reports = {file.report.source: at for at, file in enumerate(found.files)}
    for number, soundings in enumerate(found.soundings):
        x, y = lattice.frame.to_metric(soundings.lon_deg, soundings.lat_deg)
        with np.errstate(invalid="ignore"):
            col = np.clip(
                np.nan_to_num((x - lattice.x0_m) / lattice.cell_m, posinf=-1e9), -1e9, 1e9
            )
            row = np.clip(
                np.nan_to_num((y - lattice.y0_m) / lattice.cell_m, posinf=-1e9), -1e9, 1e9
            )
        col, row = np.rint(col).astype(np.int64), np.rint(row).astype(np.int64)
        inside = (col >= 0) & (row >= 0) & (col < lattice.nx) & (row < lattice.ny)
        on = np.zeros(x.shape, dtype=bool)
        on[inside] = near[row[inside], col[inside]]
        off = int(np.count_nonzero(~on))
        if off == 0:
            continue
        if off > (1.0 - MOST_ON_WATER) * on.size:
            raise LakeDataError(
                f"{off:,} of {on.size:,} soundings lie outside the lake's shoreline",
                soundings.source,
                "Check that both are of the same lake, and the frame of the contours",
            )
        found.soundings[number] = soundings.where(on)
        at = reports[soundings.source]
        report = found.files[at].report
        report = replace(
            report,
            points_kept=report.points_kept - off,
            dropped=(*report.dropped, Dropped("outside the shoreline (off the water)", off)),
        )
        found.files[at] = replace(found.files[at], report=report)


def _fused(found: _Found, name: str) -> BottomModel:
    from leadsman.lake.fuse import fuse

    model = fuse(found.models, name)
    return replace(model, said=(*model.said, *found.said))


def _joined(record: LakeRecord, old: StoredLake) -> LakeRecord:
    """The record of a lake to which files were added."""
    return replace(
        record,
        name=old.record.name,
        reference=record.reference or old.record.reference,
        files=(*old.record.files, *record.files),
        check=record.check or old.record.check,
        has_shoreline=record.has_shoreline or old.record.has_shoreline,
        edge=old.record.edge,
        patches=old.record.patches,
    )


def _tracks(soundings: Soundings) -> list[Track]:
    """Ways of the boat, thinned, cut where the record has a gap."""
    from leadsman.lake.frame import MetricFrame

    frame = MetricFrame.around(soundings.lon_deg, soundings.lat_deg)
    x, y = frame.to_metric(soundings.lon_deg, soundings.lat_deg)
    step = np.hypot(np.diff(x), np.diff(y))
    cuts = np.concatenate([[0], np.flatnonzero(step > TRACK_GAP_M) + 1, [x.size]])
    out: list[Track] = []
    for first, last in zip(cuts[:-1].tolist(), cuts[1:].tolist(), strict=True):
        along = np.concatenate([[0.0], np.cumsum(step[first : last - 1])])
        keep = np.unique(np.floor(along / TRACK_STEP_M), return_index=True)[1]
        keep = np.unique(np.append(keep, along.size - 1)) + first
        if keep.size >= 2:
            out.append(Track(soundings.lon_deg[keep], soundings.lat_deg[keep]))
    return out
