"""The sources of the pages: types, own tests, colours and size."""

from __future__ import annotations

import gzip
import json
import re
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from leadsman.output import style
from leadsman.web.pages import read_pages

from .conftest import ROOT, UI, load_module

RunNode = Callable[..., "subprocess.CompletedProcess[str]"]
MOST_BYTES = 400_000
"""Compressed script and style of the first load [byte]."""


def test_the_committed_types_are_those_of_the_api(run_node: RunNode, tmp_path: Path) -> None:
    tool = load_module(ROOT / "tools/make_api_types.py")
    text = tool.description()
    why = "run: python tools/make_api_types.py"
    assert (UI / "src/api/openapi.json").read_text("utf-8") == text, why
    out = tmp_path / "schema.d.ts"
    run_node(
        "openapi-typescript/bin/cli.js", str(UI / "src/api/openapi.json"), "--output", str(out)
    )
    made = tool.stamp(text) + out.read_text("utf-8")
    assert (UI / "src/api/schema.d.ts").read_text("utf-8") == made, why


def test_sources_are_sound(run_node: RunNode) -> None:
    done = run_node(
        "svelte-check/bin/svelte-check", "--tsconfig", "./tsconfig.json", "--fail-on-warnings"
    )
    assert done.returncode == 0, done.stdout[-3000:]


def test_own_tests_of_the_pages_pass(run_node: RunNode) -> None:
    done = run_node("vitest/vitest.mjs", "run")
    assert done.returncode == 0, (done.stdout + done.stderr)[-3000:]
    assert re.search(r"Tests\s+\S*\d+ passed", re.sub(r"\x1b\[[0-9;]*m", "", done.stdout))


def test_the_first_load_is_small(fresh_pages: None) -> None:
    pages = read_pages()
    sizes = {
        address: len(page.packed or page.body)
        for address, page in pages.items()
        if address.endswith((".js", ".css"))
    }
    assert sizes and sum(sizes.values()) < MOST_BYTES, sizes
    for page in pages.values():
        if page.packed is not None:
            assert gzip.decompress(page.packed) == page.body


def test_the_lock_file_names_no_registry() -> None:
    lock = json.loads((UI / "package-lock.json").read_text("utf-8"))
    assert not [name for name, entry in lock["packages"].items() if "resolved" in entry]


def _themes() -> dict[str, dict[str, str]]:
    text = (UI / "src/styles/tokens.css").read_text("utf-8")
    found: dict[str, dict[str, str]] = {}
    for name, body in re.findall(r':root\[data-theme="(\w+)"\] \{(.*?)\}', text, re.DOTALL):
        found[name] = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", body))
    return found


def test_light_colours_are_those_of_the_pictures() -> None:
    home = _themes()["home"]
    for name in (
        "paper", "text", "quiet", "rule", "water", "depth", "depth-band-50", "depth-band-90",
        "depth-band-edge", "bottom", "bottom-edge", "grass", "grass-stalk", "contact",
        "contact-casing", "over", "over-core",
    ):  # fmt: skip
        assert home[name].upper() == getattr(style, name.replace("-", "_").upper()).upper(), name


@pytest.mark.parametrize(("theme", "least"), [("home", 4.5), ("dark", 4.5), ("sun", 7.0)])
def test_words_stand_off_their_ground(theme: str, least: float) -> None:
    # WCAG 2.1, success criteria 1.4.3 (4.5:1) and 1.4.6 (7:1)
    colours = _themes()[theme]
    pairs = [("text", "paper"), ("quiet", "paper"), ("text", "raised"), ("quiet", "raised"),
             ("on-depth", "depth"), ("text", "water"), ("text", "depth-band-90"),
             ("text", "bottom"), ("depth", "paper")]  # fmt: skip
    for ink, ground in pairs:
        ratio = style.contrast_ratio(colours[ink], colours[ground])
        assert ratio >= least, f"{ink} on {ground}: {ratio:.2f}"


@pytest.mark.parametrize("theme", ["home", "dark", "sun"])
def test_strokes_stand_off_what_they_lie_on(theme: str) -> None:
    # WCAG 2.1, success criterion 1.4.11: 3:1 for what is needed to read a picture
    colours = _themes()[theme]
    pairs = [("depth", "water"), ("depth", "depth-band-90"), ("bottom-edge", "water"),
             ("bottom-edge", "bottom"), ("over", "over-core"), ("over", "bottom"),
             ("contact-casing", "bottom"), ("line", "paper"), ("grass-stalk", "grass")]  # fmt: skip
    for ink, ground in pairs:
        ratio = style.contrast_ratio(colours[ink], colours[ground])
        assert ratio >= 3.0, f"{ink} on {ground}: {ratio:.2f}"
