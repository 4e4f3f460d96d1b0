"""Opening a file nobody vouched for: bounds on size, and text or not."""

from __future__ import annotations

from pathlib import Path

from leadsman.errors import LakeDataError

MAX_FILE_BYTES = 128 * 1024 * 1024
"""Largest text read at once [byte]: some 5 million soundings, for which memory stays under 3 GB;
ten days of sounder log are a third of it. A choice of ours."""


def checked_size(path: Path, limit_bytes: int = MAX_FILE_BYTES) -> int:
    """Size of a regular file that can be read.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    limit_bytes : int
        Largest size accepted [byte].

    Returns
    -------
    int
        Size [byte].

    Raises
    ------
    LakeDataError
        It is missing, no regular file, unreadable, empty or too large.
    """
    try:
        if not path.exists():
            raise LakeDataError("there is no such file", path.name, "Check the name and the folder")
        if not path.is_file():
            raise LakeDataError("is not a file", path.name, "Give a file, not a folder or a device")
        size = path.stat().st_size
    except OSError as error:
        raise LakeDataError(f"cannot be opened ({error.strerror})", path.name) from error
    except ValueError as error:
        raise LakeDataError("is not a usable file name", str(path)[:80]) from error
    if size == 0:
        raise LakeDataError("the file is empty", path.name)
    if size > limit_bytes:
        raise LakeDataError(
            f"the file has {size / 1e6:,.0f} MB, more than the {limit_bytes / 1e6:,.0f} MB we read",
            path.name,
            "Split it, or thin it out",
        )
    return size


def read_bytes(path: Path, limit_bytes: int = MAX_FILE_BYTES) -> bytes:
    """Whole content of a file of bounded size.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    limit_bytes : int
        Largest size accepted [byte].

    Raises
    ------
    LakeDataError
        It cannot be read or is too large.
    """
    checked_size(path, limit_bytes)
    try:
        with path.open("rb") as handle:
            data = handle.read(limit_bytes + 1)
    except OSError as error:
        raise LakeDataError(f"cannot be read ({error.strerror})", path.name) from error
    if len(data) > limit_bytes:
        raise LakeDataError("the file grew while it was read", path.name)
    return data


def read_text(path: Path, limit_bytes: int = MAX_FILE_BYTES) -> str:
    """Text of a file: UTF-8 or UTF-16 with a mark, else one byte per letter.

    Parameters
    ----------
    path : pathlib.Path
        The file [-].
    limit_bytes : int
        Largest size accepted [byte].

    Raises
    ------
    LakeDataError
        It cannot be read, is too large or is no text.
    """
    data = read_bytes(path, limit_bytes)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        try:
            return data.decode("utf-16")
        except UnicodeDecodeError as error:
            raise LakeDataError("is damaged text (broken UTF-16)", path.name) from error
    control = sum(data[:65536].count(code) for code in (0, 1, 2, 3, 4, 5, 6, 14, 15, 16, 127))
    if control > 0.01 * min(len(data), 65536):
        raise LakeDataError(
            "is not a text file", path.name, "Export the soundings as CSV, NMEA 0183 or GPX"
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")
