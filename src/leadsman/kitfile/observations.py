"""What was seen of lures: an append-only file beside the kit."""

from __future__ import annotations

import csv
import io
import os
from pathlib import Path

from leadsman.errors import LogError, Where
from leadsman.kitfile.kit import suggestion
from leadsman.kitfile.observation import COLUMNS, Observation, parse_observation

MAX_BYTES = 5_000_000
"""Largest file that is read [byte]."""


def read_observations(path: Path) -> tuple[Observation, ...]:
    """Read every observation; a missing file holds none.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].

    Raises
    ------
    LogError
        The file or one of its rows cannot be read; the message names the line.
    """
    path = Path(path)
    source = str(path)
    try:
        if not path.exists():
            return ()
        if path.stat().st_size > MAX_BYTES:
            raise LogError("the file is too large for observations", source)
        text = path.read_text("utf-8-sig")
    except UnicodeDecodeError:
        raise LogError("the file is not UTF-8 text", source, "Save it as UTF-8 text") from None
    except OSError as error:
        reason = (error.strerror or "it cannot be read").lower()
        raise LogError(f"the file cannot be opened: {reason}", source) from None
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    found: list[Observation] = []
    header: list[str] | None = None
    try:
        for cells in reader:
            row = reader.line_num
            if not any(cell.strip() for cell in cells) or cells[0].lstrip().startswith("#"):
                continue
            if header is None:
                header = _header(cells, source, row)
                continue
            if len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
                raise LogError(
                    f"there are {len(cells)} cells for {len(header)} columns", Where(source, row),
                    "Put a text with commas in quotes",
                )  # fmt: skip
            by_name = dict(zip(header, cells, strict=False))
            found.append(parse_observation(by_name, source, row))
    except csv.Error as error:
        raise LogError(
            f"this is not readable as CSV: {error}", Where(source, reader.line_num)
        ) from None
    return tuple(found)


def _header(cells: list[str], source: str, row: int) -> list[str]:
    names = [cell.strip().casefold() for cell in cells]
    for name in names:
        if name and name not in COLUMNS:
            raise LogError(
                f"unknown column '{name[:40]}'",
                Where(source, row),
                suggestion(name, list(COLUMNS), "column"),
            )
    if len(set(names)) != len(names):
        raise LogError("a column is there twice", Where(source, row), "Remove one of them")
    missing = [name for name in ("date", "lure", "kind") if name not in names]
    if missing:
        raise LogError(
            f"the first line has no column '{missing[0]}'", Where(source, row),
            f"Let it read {','.join(COLUMNS)}",
        )  # fmt: skip
    return names


def append_observation(path: Path, cells: dict[str, str]) -> Observation:
    """Add one observation to the end of the file, which is written whole or not at all.

    Nothing that stands in the file is changed. A new file gets its header.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    cells : dict of str to str
        Text by column, as in the file [-].

    Returns
    -------
    Observation
        As it will be read again.

    Raises
    ------
    LogError
        The observation or the file as it is cannot be read, or it cannot be written.
    """
    path = Path(path)
    observation = parse_observation(cells, "observation")
    read_observations(path)  # a file that is wrong already is not added to
    columns, tail = _existing(path)
    lost = [key for key in cells if cells[key].strip() and key not in columns]
    if lost:
        raise LogError(
            f"the file has no column '{lost[0]}'", str(path), "Add it to the end of its first line"
        )
    buffer = io.StringIO(newline="")
    writer = csv.writer(buffer, lineterminator="\n")
    if not tail:
        writer.writerow(columns)
    elif not tail.endswith("\n"):
        buffer.write("\n")
    writer.writerow([" ".join(cells.get(name, "").split()) for name in columns])
    data = buffer.getvalue().encode("utf-8")
    try:
        handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT, 0o666)
        try:
            before = os.fstat(handle).st_size
            if os.write(handle, data) != len(data):
                os.ftruncate(handle, before)
                raise OSError(28, "No space left on device")
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        reason = (error.strerror or "it cannot be written").lower()
        raise LogError(f"the file cannot be written: {reason}", str(path)) from None
    return observation


def _existing(path: Path) -> tuple[list[str], str]:
    """Columns of the file that is there, and its text; our own columns for a new one."""
    text = path.read_text("utf-8-sig") if path.exists() else ""
    for cells in csv.reader(io.StringIO(text, newline="")):
        if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
            return [cell.strip().casefold() for cell in cells], text
    return list(COLUMNS), ""
