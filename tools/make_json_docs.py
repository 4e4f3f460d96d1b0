"""Write docs/json.md from the document models, so that it cannot fall behind them."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from pathlib import Path

from leadsman.usecases import documents
from leadsman.usecases.documents.base import Document

HEAD = """# JSON documents

Written by `tools/make_json_docs.py` from the program; do not edit by hand.

Every command prints one document with `--json`. `schema` names the document and its
version: adding a field keeps the version, changing or removing one raises it. Numbers
are SI, with the unit in the name; nothing is rounded. `null` means "does not apply".
"""


def models() -> list[type[Document]]:
    """Every document and form, in the order of their modules."""
    found: list[type[Document]] = []
    for info in sorted(pkgutil.iter_modules(documents.__path__), key=lambda item: item.name):
        module = importlib.import_module(f"leadsman.usecases.documents.{info.name}")
        found += [
            item
            for item in vars(module).values()
            if inspect.isclass(item)
            and issubclass(item, Document)
            and item is not Document
            and item.__module__ == module.__name__
        ]
    return found


def text() -> str:
    """The whole page."""
    parts = [HEAD]
    for model in models():
        parts.append(
            f"\n## {model.__name__}\n\n{inspect.getdoc(model)}\n\n| field | type | meaning |"
        )
        parts.append("|---|---|---|")
        schema = model.model_json_schema(by_alias=True, mode="serialization")
        for name, field in schema["properties"].items():
            parts.append(f"| `{name}` | {_kind(field)} | {field.get('description', '')} |")
    return "\n".join(parts) + "\n"


def _kind(field: dict[str, object]) -> str:
    if "anyOf" in field:
        options = field["anyOf"]
        assert isinstance(options, list)
        return " or ".join(_kind(option) for option in options)
    if "$ref" in field:
        return str(field["$ref"]).rsplit("/", 1)[-1]
    if field.get("type") == "array":
        if "prefixItems" in field:
            items = field["prefixItems"]
            assert isinstance(items, list)
            return "pair" if len(items) == 2 else "list"
        inner = field.get("items", {})
        assert isinstance(inner, dict)
        return f"list of {_kind(inner)}"
    if field.get("type") == "object":
        return "object of numbers"
    return str(field.get("type", "any"))


if __name__ == "__main__":
    Path(__file__).parents[1].joinpath("docs", "json.md").write_text(text(), encoding="utf-8")
