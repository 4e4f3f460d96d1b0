"""Every JSON field is described, and the page that describes them is up to date."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def _tool() -> object:
    spec = importlib.util.spec_from_file_location(
        "make_json_docs", ROOT / "tools/make_json_docs.py"
    )
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


TOOL = _tool()


def test_the_page_is_what_the_program_prints() -> None:
    written = (ROOT / "docs/json.md").read_text(encoding="utf-8")
    assert written == TOOL.text(), "run: python tools/make_json_docs.py"  # type: ignore[attr-defined]


@pytest.mark.parametrize("model", TOOL.models(), ids=lambda m: m.__name__)  # type: ignore[attr-defined]
def test_every_field_is_described_with_its_unit(model: type) -> None:
    for name, field in model.model_fields.items():  # type: ignore[attr-defined]
        assert field.description, name
        for ending, unit in (("_m", "[m]"), ("_n", "[N]"), ("_s", "[s]"), ("_deg", "[deg]")):
            if name.endswith(ending) and not name.endswith(("_m_s", "_per_m", "_per_s")):
                assert unit in field.description, name
