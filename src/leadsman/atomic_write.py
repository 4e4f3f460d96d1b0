"""Write a file whole or not at all; the rooms word the failure for what they write."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_bytes_atomic(path: Path, data: bytes) -> None:
    """Replace a file in one step, so that a crash leaves the old or the new one.

    A file that is there keeps its permissions, a new one gets the usual ones,
    and a link stays a link.

    Parameters
    ----------
    path : pathlib.Path
        File to write; its folder must exist [-].
    data : bytes
        Its whole content [-].

    Raises
    ------
    OSError
        It cannot be written there; nothing is left behind.
    """
    target = Path(path).resolve()
    handle, scratch = tempfile.mkstemp(prefix=f".{target.name[:40]}.", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask()
        Path(scratch).chmod(mode)
        Path(scratch).replace(target)
    except BaseException:
        Path(scratch).unlink(missing_ok=True)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
