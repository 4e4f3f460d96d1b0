"""The demo kit."""

from __future__ import annotations

from pathlib import Path

import pytest

from leadsman.errors import KitError
from leadsman.kitfile.read import read_kit
from leadsman.kitfile.template import demo_kit, demo_kit_text, write_new_kit


def test_demo_kit_has_what_a_day_needs() -> None:
    kit = demo_kit()
    assert len(kit.lures) >= 10 and len(kit.lines) >= 6
    assert len(kit.reels) == 3 and len(kit.rods) >= 3 and len(kit.combos) == 3
    assert {lure.sound for lure in kit.lures} == {"rattling", "silent"}
    rated = sorted(lure.rated.deep_m / 0.3048 for lure in kit.lures if lure.rated)
    assert rated[0] <= 1.0 and rated[-1] >= 24.0  # the ladder of the trade, common practice


def test_every_combo_throws_some_lure() -> None:
    kit = demo_kit()
    for combo in kit.combos:
        assert any(combo.rod.throws(lure.mass_kg) for lure in kit.lures)


def test_new_kit_is_the_demo_kit_and_never_overwrites(tmp_path: Path) -> None:
    path = tmp_path / "kit.toml"
    write_new_kit(path)
    assert path.read_text("utf-8") == demo_kit_text()
    assert read_kit(path).lures == demo_kit().lures
    with pytest.raises(KitError, match="already"):
        write_new_kit(path)
