"""Every field of the kit file is described where a hand editor looks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from leadsman.kitfile.schema import TABLES, AnglerTable, CastTable, KitTable

DOCS = Path(__file__).parents[2] / "docs" / "kit-file.md"
SECTIONS = {"kit": KitTable, "angler": AnglerTable, "angler.casts": CastTable, **TABLES}


@pytest.mark.parametrize("name", SECTIONS)
def test_fields_and_documentation_agree(name: str) -> None:
    text = DOCS.read_text("utf-8")
    match = re.search(rf"^## `{re.escape(name)}`.*?(?=^## |\Z)", text, re.M | re.S)
    assert match, f"docs/kit-file.md has no section for {name}"
    described = set(re.findall(r"^\| `([a-z_]+)`", match[0], re.M))
    assert described == set(SECTIONS[name].model_fields)


def test_every_field_has_a_description() -> None:
    for table in SECTIONS.values():
        for field in table.model_fields.values():
            assert field.description
