from __future__ import annotations

import stat
from pathlib import Path

import pytest

from leadsman.atomic_write import write_bytes_atomic


def test_new_and_replaced(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    write_bytes_atomic(path, b"one")
    write_bytes_atomic(path, b"two")
    assert path.read_bytes() == b"two"
    assert [item.name for item in tmp_path.iterdir()] == ["a.txt"]


def test_a_new_file_has_the_permissions_of_any_other(tmp_path: Path) -> None:
    plain, ours = tmp_path / "plain", tmp_path / "ours"
    plain.write_bytes(b"")
    write_bytes_atomic(ours, b"")
    assert stat.S_IMODE(ours.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)


def test_a_file_keeps_its_permissions_and_a_link_stays_one(tmp_path: Path) -> None:
    real, link = tmp_path / "real", tmp_path / "link"
    real.write_bytes(b"one")
    real.chmod(0o640)
    link.symlink_to(real)
    write_bytes_atomic(link, b"two")
    assert link.is_symlink()
    assert real.read_bytes() == b"two"
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_nothing_is_left_where_it_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(OSError):  # the kind differs between systems
        write_bytes_atomic(tmp_path / "folder", b"x")
    assert [item.name for item in tmp_path.iterdir()] == ["folder"]
    with pytest.raises(OSError):
        write_bytes_atomic(tmp_path / "nowhere" / "a", b"x")
