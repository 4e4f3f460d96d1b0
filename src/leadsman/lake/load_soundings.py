"""Soundings from a file of any kind we read, told by its content, and cleaned."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from leadsman.lake.clean import clean
from leadsman.lake.file_guard import checked_size
from leadsman.lake.nmea_sentence import Sentence, parse_sentence
from leadsman.lake.read_csv import CsvOptions, read_csv
from leadsman.lake.read_gpx import read_gpx
from leadsman.lake.read_nmea import read_nmea
from leadsman.lake.soundings import ReadReport, Soundings


@dataclass(frozen=True, slots=True)
class SoundingOptions:
    """What the user says about a file of soundings; the rest is detected.

    Parameters
    ----------
    csv : CsvOptions
        For tables [-].
    transducer_depth_m : float or None
        For NMEA logs: depth of the transducer below the surface [m].
    require_checksum : bool
        For NMEA logs: leave out sentences without a checksum [-].
    elevation_is_depth : bool
        For GPX: take ``ele`` as depth, for devices that misuse it [-].
    """

    csv: CsvOptions = field(default_factory=CsvOptions)
    transducer_depth_m: float | None = None
    require_checksum: bool = True
    elevation_is_depth: bool = False


def load_soundings(
    path: Path, options: SoundingOptions | None = None
) -> tuple[Soundings, ReadReport]:
    """Read and clean soundings from a table, an NMEA 0183 log or a GPX file.

    Parameters
    ----------
    path : pathlib.Path
        The file; its content, not its name, tells its kind [-].
    options : SoundingOptions or None
        What is known about it [-].

    Returns
    -------
    tuple of Soundings and ReadReport
        Cleaned soundings, and what was found and left out.

    Raises
    ------
    LakeDataError
        The file cannot be used.
    """
    options = options or SoundingOptions()
    checked_size(path)
    if _is_gpx(path):
        return clean(*read_gpx(path, options.csv.depth_unit, options.elevation_is_depth))
    with path.open("rb") as handle:
        head = handle.read(65536).decode("latin-1")
    if _is_nmea(head):
        return clean(*read_nmea(path, options.transducer_depth_m, options.require_checksum))
    return clean(*read_csv(path, options.csv))


def _is_gpx(path: Path) -> bool:
    """Whether the file is XML; the reader says whether it is GPX."""
    with path.open("rb") as handle:
        head = handle.read(512).removeprefix(b"\xef\xbb\xbf").lstrip()
    return head.startswith((b"<?xml", b"<gpx", b"<!"))


def _is_nmea(head: str) -> bool:
    """Whether most of the first lines are sentences, valid or not."""
    lines = [line for line in head.splitlines()[:400] if line.strip()]
    hits = sum(isinstance(parse_sentence(line), Sentence | str) for line in lines)
    return hits > 0.5 * len(lines) or (hits >= 2 and head.lstrip()[:1] in "$!\\")
