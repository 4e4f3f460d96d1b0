"""Writing whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from leadsman.errors import KitError
from leadsman.kitfile.atomic import write_text_atomic


def test_replaces_and_keeps_rights(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text("old")
    path.chmod(0o640)
    write_text_atomic(path, "new\n")
    assert path.read_text() == "new\n"
    assert path.stat().st_mode & 0o777 == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    real.write_text("old")
    link.symlink_to(real)
    write_text_atomic(link, "new")
    assert link.is_symlink() and real.read_text() == "new"


def test_nowhere_to_write(tmp_path: Path) -> None:
    with pytest.raises(KitError, match="cannot be written"):
        write_text_atomic(tmp_path / "none" / "a.toml", "x")


def test_failure_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.toml"
    path.write_text("old")

    def fail(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(KitError, match="no space left"):
        write_text_atomic(path, "new")
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]
