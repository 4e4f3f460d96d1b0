"""The arrows between rooms point one way (docs/conventions.md, docs/design.md)."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "src" / "leadsman"

# A room may import itself and every room of a lower rank, never one of its own rank.
RANKS = {
    "errors": 0,
    "atomic_write": 1,
    "dimensions": 1,
    "display_units": 2,
    "units": 2,
    "water": 2,
    "hydro": 3,
    "tackle": 4,
    "kitfile": 5,
    "calibrate": 6,
    "lake": 5,
    "belief": 5,
    "plan": 7,
    "waterlog": 7,
    "output": 8,
    "usecases": 9,
    "cli": 11,
    "web": 10,
    "__main__": 12,
}


def _room(module: str) -> str | None:
    parts = module.split(".")
    return parts[1] if parts[0] == "leadsman" and len(parts) > 1 else None


def _imports(path: Path) -> set[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
            if node.module == "leadsman":
                found |= {f"leadsman.{alias.name}" for alias in node.names}
    return found


SOURCES = sorted(
    path for path in SRC.rglob("*.py") if path.parent != SRC or path.stem != "__init__"
)


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(SRC)))
def test_imports_point_to_lower_rooms(path: Path) -> None:
    own = path.relative_to(SRC).parts[0].removesuffix(".py")
    assert own in RANKS, f"{own} has no place in the order of rooms"
    for module in _imports(path):
        room = _room(module)
        if room is None or room == own or room == "__version__":
            continue
        assert RANKS[room] < RANKS[own], f"{path.relative_to(SRC)} imports {module}"


@pytest.mark.parametrize(
    "path",
    [p for p in SOURCES if p.relative_to(SRC).parts[0] in ("hydro", "tackle", "belief")],
    ids=lambda p: str(p.relative_to(SRC)),
)
def test_physics_knows_no_files_plots_or_web(path: Path) -> None:
    forbidden = {"matplotlib", "fastapi", "typer", "rich", "sqlite3", "rasterio", "pyogrio", "json"}
    roots = {module.split(".")[0] for module in _imports(path)}
    assert not roots & forbidden


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(SRC)))
def test_modules_stay_readable(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    explained = "over 400 lines, because" in " ".join("\n".join(lines[:40]).split())
    assert len(lines) <= 400 or explained
