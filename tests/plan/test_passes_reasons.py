"""What a pass says for itself."""

from __future__ import annotations

from leadsman.plan.passes_reasons import pass_cautions
from leadsman.plan.passes_types import GrassStand


def test_cautions_name_what_can_hurt() -> None:
    from pass_cases import straight

    said = " ".join(pass_cautions(straight()))
    for word in ("Not for navigation", "Life jacket", "hooks", "law", "lightning"):
        assert word in said
    assert "Vegetation" not in said
    assert "Vegetation" in " ".join(pass_cautions(straight(grass=GrassStand(4.0))))
