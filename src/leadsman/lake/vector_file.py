"""Opening GeoJSON, shapefiles and GeoPackages nobody vouched for, within bounds."""

from __future__ import annotations

import tempfile
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError, Where
from leadsman.lake.file_guard import checked_size

MAX_VECTOR_BYTES = 256 * 1024 * 1024
"""Largest vector file read, also after unpacking [byte]; a choice of ours."""
MAX_ZIP_MEMBERS = 200
MAX_ZIP_RATIO = 200.0
"""Packed more tightly than this is a bomb, not a map [-]; shapefiles pack 2 to 10 times."""
MAX_FEATURES = 200_000
MAX_VERTICES = 5_000_000
SHAPE_PARTS = (".shp", ".shx", ".dbf", ".prj", ".cpg")
VECTOR_SUFFIXES = (".geojson", ".json", ".shp", ".gpkg", ".zip")


@dataclass(frozen=True, slots=True)
class VectorTable:
    """Features of one layer.

    Parameters
    ----------
    geometry : ndarray of object, shape (n,)
        Shapely geometries in the file's frame [-].
    fields : dict of str to ndarray
        Attributes by name, each of shape (n,) [-].
    crs : str or None
        Frame the file names [-].
    source : str
        File name [-].
    """

    geometry: npt.NDArray[Any]
    fields: dict[str, npt.NDArray[Any]]
    crs: str | None
    source: str


def read_vector(path: Path, layer: str | None = None) -> VectorTable:
    """Read one layer of a vector file.

    Parameters
    ----------
    path : pathlib.Path
        GeoJSON, shapefile, zipped shapefile or GeoPackage [-].
    layer : str or None
        Layer of a GeoPackage; None takes the only one, or the first with polygons [-].

    Returns
    -------
    VectorTable
        Geometries and attributes.

    Raises
    ------
    LakeDataError
        It is damaged, too large, hostile or of no known kind.
    """
    checked_size(path, MAX_VECTOR_BYTES)
    suffix = path.suffix.casefold()
    if suffix == ".zip":
        with _unzipped(path) as inner:
            return _read(inner, path.name, layer)
    if suffix not in VECTOR_SUFFIXES:
        raise LakeDataError(
            f"'{suffix or path.name}' is no kind of contour file we read",
            path.name,
            "Give GeoJSON, a shapefile (.shp or .zip) or a GeoPackage",
        )
    return _read(path, path.name, layer)


_MAGIC = {".shp": (b"\x00\x00\x27\x0a",), ".gpkg": (b"SQLite format 3\x00",)}


def _check_magic(path: Path, source: str) -> None:
    """Whether content is what the suffix says, so that no other reader is let loose on it."""
    suffix = path.suffix.casefold()
    with path.open("rb") as handle:
        head = handle.read(4096)
    if suffix in _MAGIC:
        if not head.startswith(_MAGIC[suffix]):
            raise LakeDataError(f"is not what its ending {suffix} says", source)
        return
    text = head.removeprefix(b"\xef\xbb\xbf").lstrip()
    if not text.startswith(b"{"):
        raise LakeDataError("is not GeoJSON", source)


def _read(path: Path, source: str, layer: str | None) -> VectorTable:
    import pyogrio
    import shapely
    from pyogrio.errors import DataLayerError, DataSourceError, FeatureError, GeometryError

    _check_magic(path, source)
    try:
        if path.suffix.casefold() == ".gpkg" and layer is None:
            layer = _polygon_layer(path)
        info = pyogrio.read_info(path, layer=layer, force_feature_count=True)
        if int(info["features"]) > MAX_FEATURES:
            raise LakeDataError(f"holds more than {MAX_FEATURES:,} features", source, "Thin it out")
        meta, _, wkb, columns = pyogrio.raw.read(path, layer=layer, force_2d=True)
        geometry = shapely.from_wkb(wkb, on_invalid="ignore")
    except (DataSourceError, DataLayerError, FeatureError, GeometryError) as error:
        raise LakeDataError(f"cannot be read ({_short(error)})", source) from error
    except (ValueError, RuntimeError, KeyError, UnicodeDecodeError) as error:
        raise LakeDataError(f"is damaged ({_short(error)})", source) from error
    good = ~(shapely.is_missing(geometry) | shapely.is_empty(geometry))
    if not np.any(good):
        raise LakeDataError("holds no shapes", source)
    if int(np.sum(shapely.get_num_coordinates(geometry))) > MAX_VERTICES:
        raise LakeDataError(f"holds more than {MAX_VERTICES:,} corners", source, "Thin it out")
    names = [str(name) for name in meta["fields"]]
    fields = {name: np.asarray(column)[good] for name, column in zip(names, columns, strict=True)}
    return VectorTable(np.asarray(geometry)[good], fields, meta.get("crs"), source)


def _polygon_layer(path: Path) -> str | None:
    import pyogrio

    layers = pyogrio.list_layers(path)
    for name, kind in layers:
        if kind is not None and ("Polygon" in str(kind) or "Line" in str(kind)):
            return str(name)
    return str(layers[0][0]) if len(layers) else None


def _short(error: BaseException) -> str:
    text = " ".join(str(error).split())
    return text.rsplit("/", 1)[-1][:120]


@contextmanager
def _unzipped(path: Path) -> Iterator[Path]:
    """Unpack the shapefile of an archive into a private folder, counting every byte."""
    try:
        with zipfile.ZipFile(path) as archive:
            members = _safe_members(archive, path.name)
            with tempfile.TemporaryDirectory(prefix="leadsman-") as folder:
                yield _unpack(archive, members, Path(folder), path.name)
    except (zipfile.BadZipFile, NotImplementedError, EOFError, OSError) as error:
        raise LakeDataError(f"is a damaged archive ({_short(error)})", path.name) from error
    except RuntimeError as error:
        raise LakeDataError("is a locked archive", path.name, "Unpack it first") from error


def _safe_members(archive: zipfile.ZipFile, source: str) -> list[zipfile.ZipInfo]:
    infos = archive.infolist()
    if len(infos) > MAX_ZIP_MEMBERS:
        raise LakeDataError(f"holds more than {MAX_ZIP_MEMBERS} files", source)
    wanted = [
        info
        for info in infos
        if PurePosixPath(info.filename).suffix.casefold() in (*SHAPE_PARTS, ".geojson", ".gpkg")
        and "__MACOSX" not in info.filename
    ]
    total = sum(info.file_size for info in wanted)
    packed = max(sum(info.compress_size for info in wanted), 1)
    if total > MAX_VECTOR_BYTES or (total > 10_000_000 and total / packed > MAX_ZIP_RATIO):
        raise LakeDataError(
            f"would unpack to {total / 1e6:,.0f} MB from {packed / 1e6:,.2f} MB: not a map",
            source,
            "Unpack it yourself and give the .shp if you trust it",
        )
    return wanted


def _unpack(
    archive: zipfile.ZipFile, members: list[zipfile.ZipInfo], folder: Path, source: str
) -> Path:
    left = MAX_VECTOR_BYTES
    for info in members:
        # Only the bare name is used, so that no member can land outside the folder.
        target = folder / PurePosixPath(info.filename.replace("\\", "/")).name
        with archive.open(info) as packed, target.open("wb") as out:
            while chunk := packed.read(1 << 20):
                left -= len(chunk)
                if left < 0:
                    raise LakeDataError("unpacks to more than it says", source)
                out.write(chunk)
    found = [
        f for f in sorted(folder.iterdir()) if f.suffix.casefold() in (".shp", ".geojson", ".gpkg")
    ]
    if not found:
        raise LakeDataError("holds no shapefile, GeoJSON or GeoPackage", source)
    if len(found) > 1:
        names = ", ".join(f.name for f in found[:6])
        raise LakeDataError(f"holds several maps: {names}", Where(source), "Unpack it and give one")
    return found[0]
