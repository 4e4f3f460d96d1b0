"""Files of any kind that tell of a lake: which kind, and what the angler says of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Literal

from leadsman.errors import InputError
from leadsman.lake.file_guard import checked_size
from leadsman.lake.load_soundings import SoundingOptions
from leadsman.lake.read_contours import ContourOptions
from leadsman.lake.read_csv import CsvOptions
from leadsman.lake.read_grid import MAX_GRID_BYTES, GridOptions
from leadsman.lake.vector_file import VECTOR_SUFFIXES

FileKind = Literal["soundings", "contours", "grid"]
_GRID_STARTS = (b"II*", b"MM\x00*", b"II+", b"MM\x00+", b"CDF", b"\x89HDF", b"ncols", b"nrows")


@dataclass(frozen=True, slots=True)
class LakeFileOptions:
    """What the angler says of one file; whatever is None is detected and said back.

    Parameters
    ----------
    crs : str or None
        Frame of the positions, such as ``"EPSG:3070"`` [-].
    depth_unit : str or None
        ``"ft"``, ``"m"`` or ``"fathom"`` [-].
    sign : {"down", "up"} or None
        Whether depths count positive down or up [-].
    surface_elevation_m : float or None
        Elevation of the water surface, for files of bottom elevation [m].
    level_m : float
        Water level on the file's day above the lake's reference level [m].
    lat_column, lon_column, depth_column : str or None
        Columns of a table; the depth column is also the attribute of a contour file [-].
    transducer_depth_m : float or None
        Depth of the transducer below the surface, for NMEA 0183 logs [m].
    require_checksum : bool
        Leave out sentences of a log without a checksum [-].
    elevation_is_depth : bool
        Take ``ele`` of a GPX file as depth [-].
    layer : str or None
        Layer of a GeoPackage or variable of a NetCDF file [-].
    band_value : {"shallow", "deep"}
        Which end of its band the depth of a band polygon is [-].
    inner_rings : {"hump", "deeper"}
        What a ring inside a ring of its own depth bounds [-].
    se_m : float or None
        Standard error of a grid by its makers [m].
    """

    crs: str | None = None
    depth_unit: str | None = None
    sign: Literal["down", "up"] | None = None
    surface_elevation_m: float | None = None
    level_m: float = 0.0
    lat_column: str | None = None
    lon_column: str | None = None
    depth_column: str | None = None
    transducer_depth_m: float | None = None
    require_checksum: bool = True
    elevation_is_depth: bool = False
    layer: str | None = None
    band_value: Literal["shallow", "deep"] = "shallow"
    inner_rings: Literal["hump", "deeper"] = "hump"
    se_m: float | None = None

    def soundings(self) -> SoundingOptions:
        """For a table, a log or a GPX file."""
        return SoundingOptions(
            CsvOptions(
                lon_column=self.lon_column,
                lat_column=self.lat_column,
                depth_column=self.depth_column,
                depth_unit=self.depth_unit,
                sign=self.sign,
                surface_elevation_m=self.surface_elevation_m,
                crs=self.crs,
            ),
            self.transducer_depth_m,
            self.require_checksum,
            self.elevation_is_depth,
        )

    def contours(self) -> ContourOptions:
        """For contours or depth bands."""
        return ContourOptions(
            self.depth_column, self.depth_unit, self.crs, self.layer, self.band_value,
            self.inner_rings,
        )  # fmt: skip

    def grid(self) -> GridOptions:
        """For a grid."""
        return GridOptions(
            self.crs, self.depth_unit, self.sign, self.surface_elevation_m, self.se_m, self.layer
        )


@dataclass(frozen=True, slots=True)
class LakeFile:
    """A file and what the angler says of it.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    options : LakeFileOptions
        What is said of it [-].
    """

    path: Path
    options: LakeFileOptions = field(default_factory=LakeFileOptions)


def file_kind(path: Path) -> FileKind:
    """Kind of a file: by its ending for contours, else by its content.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].

    Raises
    ------
    LakeDataError
        It is missing, empty or too large.
    """
    checked_size(path, MAX_GRID_BYTES)
    if path.suffix.casefold() in VECTOR_SUFFIXES:
        return "contours"
    with path.open("rb") as handle:
        head = handle.read(64).lstrip()
    if head.startswith(_GRID_STARTS) or head[:5].lower() in (b"ncols", b"nrows"):
        return "grid"
    return "soundings"


def spread_options(
    paths: Sequence[Path], said: Sequence[tuple[str, Path | None, Any]]
) -> tuple[LakeFile, ...]:
    """Files with what was said of each or of all of them.

    Parameters
    ----------
    paths : sequence of pathlib.Path
        The files [-].
    said : sequence of tuple
        Name of a field of `LakeFileOptions`, the file it is said of (None for
        all) and its value; what is said of one file wins [-].

    Raises
    ------
    InputError
        Something is said of a file that was not given.
    """
    files: list[LakeFile] = []
    for path in paths:
        options = LakeFileOptions()
        for name, of, value in sorted(said, key=lambda item: item[1] is not None):
            if of is None or _same(of, path):
                options = replace(options, **{name: value})
        files.append(LakeFile(path, options))
    for name, of, _ in said:
        if of is not None and not any(_same(of, path) for path in paths):
            raise InputError(
                f"it names {str(of)[:60]!r}, which is not among the files",
                f"--{name.replace('_', '-').removesuffix('-m')}",
                "Write FILE=VALUE with one of the files given",
            )
    return tuple(files)


def _same(said: Path, path: Path) -> bool:
    return said == path or said.name == str(said) == path.name
