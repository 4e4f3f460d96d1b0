"""Write a file whole or not at all."""

from __future__ import annotations

from pathlib import Path

from leadsman.atomic_write import write_bytes_atomic
from leadsman.errors import KitError


def write_text_atomic(path: Path, text: str) -> None:
    """Replace a file in one step, so that a crash leaves the old or the new one.

    Parameters
    ----------
    path : pathlib.Path
        File to write; its directory must exist [-].
    text : str
        What to write, as UTF-8 with the newlines it has [-].

    Raises
    ------
    KitError
        It cannot be written there.
    """
    try:
        write_bytes_atomic(path, text.encode("utf-8"))
    except OSError as error:
        reason = (error.strerror or "it cannot be written").lower()
        remedy = "Check that its directory is there and that you may write in it"
        raise KitError(f"the file cannot be written: {reason}", str(path), remedy) from None
