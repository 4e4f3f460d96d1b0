"""Files nobody vouched for."""

from __future__ import annotations

from pathlib import Path

import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.file_guard import checked_size, read_bytes, read_text


def test_size_has_a_limit_that_is_told(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(b"x" * 2_000_000)
    assert checked_size(path) == 2_000_000
    with pytest.raises(LakeDataError, match="2 MB, more than the 1 MB"):
        read_bytes(path, 1_000_000)


@pytest.mark.parametrize("name", ["", "none", "bad\0name"])
def test_no_file(tmp_path: Path, name: str) -> None:
    with pytest.raises(LakeDataError):
        checked_size(tmp_path / name if name else tmp_path)


def test_text_in_its_encodings(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "latin-1"):
        path.write_bytes("Tiefe é\n".encode(encoding))
        assert read_text(path) == "Tiefe é\n"


def test_binary_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "a.bin"
    path.write_bytes(bytes(range(256)) * 20)
    with pytest.raises(LakeDataError, match="not a text file"):
        read_text(path)
