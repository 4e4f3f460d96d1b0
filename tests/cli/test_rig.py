"""`leadsman rig`: facts 8 and 9 of the trade (common practice, no source)."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

ASKED = "10-12 ft grass 30 %; 15 ft edge 40 %; 20 ft drop 30 %"


def test_three_rods_cover_grass_edge_and_rock(leadsman: Callable[..., Any]) -> None:
    reply = leadsman("rig", "--rods", "3", "--for", ASKED, "--json")
    assert reply.code == 0, reply.err
    found = reply.document
    assert len(found["rods"]) <= 3
    for item in found["served"]:
        assert item["zone_m"] > 3.0, item
        assert item["rod"] is not None
    assert found["greedy_m"] <= found["worth_m"] + 1e-9 <= found["bound_m"] + 2e-9
    tied = [lure for rod in found["rods"] for lure in (rod["tied"], *rod["snaps"])]
    assert len(tied) == len(set(tied))


def test_what_nothing_reaches_is_said(leadsman: Callable[..., Any]) -> None:
    found = leadsman("rig", "--for", "10 ft flat 50 %; 45 ft drop 50 %", "--json").document
    assert any("45.0 ft" in gap for gap in found["gaps"])
    assert found["served"][1]["lure"] is None


def test_nothing_at_all_is_an_error(leadsman: Callable[..., Any]) -> None:
    reply = leadsman("rig", "--for", "80 ft drop")
    assert reply.code == 2
    assert "nothing in the kit" in reply.err
