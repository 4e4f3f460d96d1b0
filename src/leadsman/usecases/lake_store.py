"""A folder of lakes, each under its name: saved whole or not at all, opened fast.

One folder for each lake holds the grid, the sounded tracks and `lake.json`,
which names the other two. Their names change with every save and `lake.json`
is replaced last, so that a reader sees the old lake or the new one.
"""

from __future__ import annotations

import io
import re
import secrets
import shutil
import unicodedata
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from leadsman.errors import InputError, LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.file_guard import read_bytes
from leadsman.lake.grass_edge import EdgeDepth
from leadsman.lake.model_file import SUFFIX, load_model, save_model, write_atomically
from leadsman.usecases.lake_record import RECORD_VERSION, KeptPatch, LakeRecord

if TYPE_CHECKING:
    from pydantic import TypeAdapter

FloatArray = npt.NDArray[np.float64]

RECORD_NAME = "lake.json"
MAX_RECORD_BYTES = 4_000_000
MAX_TRACK_BYTES = 64_000_000
MAX_NAME = 60
DEGREE_STEP = 1e-7
"""Step in which track positions are stored [deg]: 11 mm."""
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)")


@dataclass(frozen=True, slots=True)
class Track:
    """Where a sounder was run without a break.

    Parameters
    ----------
    lon_deg, lat_deg : ndarray, shape (n,)
        Places on WGS84 in order [deg].
    """

    lon_deg: FloatArray
    lat_deg: FloatArray


@dataclass(frozen=True, slots=True)
class StoredLake:
    """A lake as it is kept.

    Parameters
    ----------
    folder : pathlib.Path
        Where it is kept [-].
    record : LakeRecord
        What it was made from and how good it is [-].
    model : BottomModel
        Its bottom [-].
    """

    folder: Path
    record: LakeRecord
    model: BottomModel

    @property
    def name(self) -> str:
        """Name as the angler gave it."""
        return self.record.name

    def tracks(self) -> tuple[Track, ...]:
        """Where the sounder was run; empty without soundings."""
        if self.record.tracks_file is None:
            return ()
        return _unpack_tracks(self.folder / self.record.tracks_file)


def lakes_folder(given: Path | None) -> Path:
    """Folder of the lakes.

    Parameters
    ----------
    given : pathlib.Path or None
        As told; None is ``lakes`` in the current folder, beside ``kit.toml`` [-].
    """
    return given if given is not None else Path("lakes")


def folder_name(name: str) -> str:
    """Name of a lake's folder: small letters, digits and hyphens.

    Parameters
    ----------
    name : str
        Name of the lake [-].

    Raises
    ------
    InputError
        It has no letter or digit, or is too long.
    """
    slug = _slug(name)
    if not slug or len(name) > MAX_NAME:
        raise InputError(
            f"{name[:30]!r} cannot be the name of a lake",
            "lake name",
            f"Use letters and digits, at most {MAX_NAME}",
        )
    return f"{slug}-lake" if _RESERVED.fullmatch(slug) else slug


def _slug(name: str) -> str:
    plain = unicodedata.normalize("NFKC", name).casefold()
    return "-".join("".join(c if c.isalnum() else " " for c in plain).split())


def list_lakes(lakes: Path | None = None) -> tuple[LakeRecord, ...]:
    """Every lake that is kept, by name.

    Parameters
    ----------
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    """
    root = lakes_folder(lakes)
    if not root.is_dir():
        return ()
    found = [read_record(path.parent) for path in sorted(root.glob(f"*/{RECORD_NAME}"))]
    return tuple(sorted(found, key=lambda record: record.name.casefold()))


def find_lake(name: str, lakes: Path | None = None) -> Path:
    """Folder of a lake by its name or the beginning of it.

    Parameters
    ----------
    name : str
        Name, or as much of it as tells the lake [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].

    Raises
    ------
    InputError
        There is no such lake, or several.
    """
    root = lakes_folder(lakes)
    slug = folder_name(name)
    if (root / slug / RECORD_NAME).is_file():
        return root / slug
    known = [path.parent for path in sorted(root.glob(f"*/{RECORD_NAME}"))]
    hits = [folder for folder in known if folder.name.startswith(_slug(name))]
    if len(hits) == 1:
        return hits[0]
    names = ", ".join(read_record(folder).name for folder in (hits or known)[:8])
    if hits:
        raise InputError(f"{name!r} may be several lakes", "lake name", f"Say which: {names}")
    raise InputError(
        f"there is no lake {name!r} in {root}",
        "lake name",
        f"It holds: {names}" if known else "Add it with: leadsman lake add NAME FILE...",
    )


def lake_exists(name: str, lakes: Path | None = None) -> bool:
    """Whether a lake of this very name is kept.

    Parameters
    ----------
    name : str
        Name of the lake [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].
    """
    return (lakes_folder(lakes) / folder_name(name) / RECORD_NAME).is_file()


def open_lake(name: str, lakes: Path | None = None) -> StoredLake:
    """Open a lake.

    Parameters
    ----------
    name : str
        Name, or as much of it as tells the lake [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].

    Raises
    ------
    InputError
        There is no such lake, or its files are damaged.
    """
    folder = find_lake(name, lakes)
    record = read_record(folder)
    try:
        model = load_model(folder / record.bottom_file)
    except LakeDataError:
        # Somebody may have saved the lake between the two reads.
        again = read_record(folder)
        if again.bottom_file == record.bottom_file:
            raise
        record, model = again, load_model(folder / again.bottom_file)
    return StoredLake(folder, record, model)


def read_record(folder: Path) -> LakeRecord:
    """What is kept of a lake beside its grid.

    Parameters
    ----------
    folder : pathlib.Path
        Folder of the lake [-].

    Raises
    ------
    LakeDataError
        It is damaged or of another version.
    """
    from pydantic import ValidationError

    path = folder / RECORD_NAME
    try:
        record = _adapter().validate_json(read_bytes(path, MAX_RECORD_BYTES))
    except ValidationError as error:
        raise LakeDataError(
            "is damaged", path, "Add the lake anew with --replace, or remove its folder"
        ) from error
    named = (record.bottom_file, record.tracks_file or "x")
    if record.version != RECORD_VERSION or any(Path(item).name != item for item in named):
        raise LakeDataError("is of another version, or damaged", path, "Add the lake anew")
    return record


def save_lake(
    model: BottomModel,
    record: LakeRecord,
    tracks: tuple[Track, ...],
    lakes: Path | None = None,
) -> StoredLake:
    """Keep a lake, in place of one of the same name.

    Parameters
    ----------
    model : BottomModel
        Its bottom [-].
    record : LakeRecord
        What goes with it; its file names are set here [-].
    tracks : tuple of Track
        Where the sounder was run [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].

    Raises
    ------
    LakeDataError
        It cannot be written.
    """
    folder = lakes_folder(lakes) / folder_name(record.name)
    token = secrets.token_hex(4)
    bottom_file = f"bottom-{token}{SUFFIX}"
    tracks_file = f"tracks-{token}.npz" if tracks else None
    record = replace(record, bottom_file=bottom_file, tracks_file=tracks_file)
    try:
        save_model(model, folder / bottom_file)
        if tracks_file is not None:
            write_atomically(folder / tracks_file, _packed_tracks(tracks))
        _write_record(record, folder)
    except LakeDataError:
        for name in (bottom_file, tracks_file):
            if name is not None:
                (folder / name).unlink(missing_ok=True)
        raise
    for old in (*folder.glob(f"bottom-*{SUFFIX}"), *folder.glob("tracks-*.npz")):
        if old.name not in (bottom_file, tracks_file):
            old.unlink(missing_ok=True)
    return StoredLake(folder, record, model)


def keep_edge(lake: StoredLake, edge: EdgeDepth | None) -> StoredLake:
    """Keep the depth at which the grass stops, or forget it.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].
    edge : EdgeDepth or None
        The depth, below the lake's reference level [m].
    """
    record = replace(lake.record, edge=edge)
    _write_record(record, lake.folder)
    return replace(lake, record=record)


def keep_patches(lake: StoredLake, patches: tuple[KeptPatch, ...]) -> StoredLake:
    """Keep the grass that was seen, in place of what was kept before.

    Parameters
    ----------
    lake : StoredLake
        The lake [-].
    patches : tuple of KeptPatch
        All patches, later ones on top [-].
    """
    record = replace(lake.record, patches=patches)
    _write_record(record, lake.folder)
    return replace(lake, record=record)


def remove_lake(name: str, lakes: Path | None = None) -> LakeRecord:
    """Remove a lake and say what it was. The whole name has to be given.

    Parameters
    ----------
    name : str
        Name of the lake [-].
    lakes : pathlib.Path or None
        Folder of the lakes [-].

    Raises
    ------
    InputError
        There is no such lake, or its folder holds files that are not ours.
    """
    folder = lakes_folder(lakes) / folder_name(name)
    if not (folder / RECORD_NAME).is_file():
        find_lake(name, lakes)  # says which lakes there are
        raise InputError(f"{name!r} is not the whole name of a lake", "lake name", "Give all of it")
    record = read_record(folder)
    ours = {RECORD_NAME, record.bottom_file, record.tracks_file}
    strange = sorted(path.name for path in folder.iterdir() if path.name not in ours)
    strange = [n for n in strange if not re.fullmatch(r"\.?(bottom|tracks|lake)[-.].*", n)]
    if strange:
        raise InputError(
            f"{folder} also holds {strange[0][:60]!r}, which Leadsman did not write",
            "lake name",
            "Move it away first",
        )
    # The record goes first: a lake half removed is no lake.
    (folder / RECORD_NAME).unlink()
    shutil.rmtree(folder)
    return record


def _adapter() -> TypeAdapter[LakeRecord]:
    from pydantic import TypeAdapter

    return TypeAdapter(LakeRecord)


def _write_record(record: LakeRecord, folder: Path) -> None:
    write_atomically(folder / RECORD_NAME, _adapter().dump_json(record, indent=1))


def _packed_tracks(tracks: tuple[Track, ...]) -> bytes:
    starts = np.cumsum([0, *(track.lon_deg.size for track in tracks)])
    out = io.BytesIO()
    np.savez_compressed(
        out,
        lon=np.rint(np.concatenate([t.lon_deg for t in tracks]) / DEGREE_STEP).astype(np.int32),
        lat=np.rint(np.concatenate([t.lat_deg for t in tracks]) / DEGREE_STEP).astype(np.int32),
        start=starts.astype(np.int64),
    )
    return out.getvalue()


def _unpack_tracks(path: Path) -> tuple[Track, ...]:
    import zipfile
    import zlib

    try:
        with np.load(io.BytesIO(read_bytes(path, MAX_TRACK_BYTES)), allow_pickle=False) as data:
            lon, lat, start = data["lon"] * DEGREE_STEP, data["lat"] * DEGREE_STEP, data["start"]
    except (ValueError, KeyError, OSError, EOFError, zipfile.BadZipFile, zlib.error) as error:
        raise LakeDataError("is damaged", path, "Add the lake anew with --replace") from error
    pairs = zip(start[:-1].tolist(), start[1:].tolist(), strict=True)
    return tuple(Track(lon[first:last], lat[first:last]) for first, last in pairs)
