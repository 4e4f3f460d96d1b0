"""Every field of the trip file is described where a hand editor looks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from leadsman.kitfile.trip_schema import TRIP_TABLES, TripTable

DOCS = Path(__file__).parents[2] / "docs" / "trip-file.md"
SECTIONS = {"trip": TripTable, **TRIP_TABLES}


@pytest.mark.parametrize("name", SECTIONS)
def test_fields_and_documentation_agree(name: str) -> None:
    text = DOCS.read_text("utf-8")
    match = re.search(rf"^## `{re.escape(name)}`.*?(?=^## |\Z)", text, re.M | re.S)
    assert match, f"docs/trip-file.md has no section for {name}"
    described = set(re.findall(r"^\| `([a-z_]+)`", match[0], re.M))
    assert described == set(SECTIONS[name].model_fields)
    for field in SECTIONS[name].model_fields.values():
        assert field.description
