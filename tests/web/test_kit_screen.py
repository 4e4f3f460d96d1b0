"""The Kit screen in a real browser: start a kit, note a tick, see what it taught."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from .conftest import SIZES, Started, started

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser
OpenPage = Callable[..., "Page"]


@pytest.mark.parametrize("size", SIZES)
def test_the_tackle_is_listed(open_page: OpenPage, leadsman: Started, size: str) -> None:
    page = open_page(f"{leadsman.url}#/kit", size)
    page.get_by_role("heading", name="What you own").wait_for()
    row = page.get_by_role("row").filter(has_text="long-thin-lip-20")
    assert "20.0 ft" in (row.text_content() or "")
    assert page.get_by_role("button", name="Start my own kit").is_visible()


@pytest.mark.parametrize("size", SIZES)
def test_a_tick_narrows_the_band(
    open_page: OpenPage, fresh_pages: None, tmp_path: Path, size: str
) -> None:
    with started(tmp_path) as own:
        page = open_page(f"{own.url}#/kit", size)
        page.get_by_role("button", name="Start my own kit").click()
        page.get_by_role("heading", name="What did a lure do?").wait_for()
        assert (tmp_path / "kit.toml").is_file()
        page.get_by_label("Lure", exact=True).select_option("long-lip-15")
        page.get_by_label("Line", exact=True).select_option("fluoro-12")
        page.get_by_label("Depth of the bottom").fill("13")
        page.get_by_label("Cast", exact=True).fill("50 kg")
        page.get_by_role("button", name="Note it down").click()
        page.get_by_role("alert").wait_for()
        assert not (tmp_path / "observations.csv").exists()
        assert page.get_by_label("Depth of the bottom").input_value() == "13"  # nothing is lost
        page.get_by_label("Cast", exact=True).fill("50")
        page.get_by_role("button", name="Note it down").click()
        page.get_by_role("heading", name="What was learned").wait_for()
        assert "13 ft" in (tmp_path / "observations.csv").read_text("utf-8")
        before = page.locator(".bars .before").bounding_box()
        after = page.locator(".bars .after").bounding_box()
        assert before and after and after["width"] < before["width"]
        assert "long" in (page.locator("h1").text_content() or "")


def test_only_what_a_kind_needs_is_asked(
    open_page: OpenPage, fresh_pages: None, tmp_path: Path
) -> None:
    from leadsman.kitfile.template import write_new_kit

    write_new_kit(tmp_path / "kit.toml")
    with started(tmp_path) as own:
        page = open_page(f"{own.url}#/kit", "phone")
        page.get_by_role("radio", name="Pull on a scale").check(force=True)
        assert page.get_by_label("Speed through the water").is_visible()
        assert page.get_by_label("Depth of the bottom").count() == 0
        page.get_by_role("radio", name="I retuned it").check(force=True)
        assert page.get_by_label("Pull", exact=True).count() == 0
