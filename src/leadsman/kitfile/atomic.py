"""Write a file whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

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
    path = Path(path)
    target = path.resolve()  # a linked file stays linked
    temporary: str | None = None
    try:
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name[:40]}.", dir=target.parent)
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask()
        Path(temporary).chmod(mode)
        Path(temporary).replace(target)
    except OSError as error:
        if temporary is not None:
            with contextlib.suppress(OSError):
                Path(temporary).unlink()
        reason = (error.strerror or "it cannot be written").lower()
        remedy = "Check that its directory is there and that you may write in it"
        raise KitError(f"the file cannot be written: {reason}", str(path), remedy) from None


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
