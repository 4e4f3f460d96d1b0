"""Every screen, size and theme: no violation, no overflow, targets that a wet thumb hits."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from .conftest import SIZES, Started

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser
OpenPage = Callable[..., "Page"]
SCREENS = ("depth", "kit")

SMALL_TARGETS = """
() => [...document.querySelectorAll(
    'button, select, summary, nav a, input:not([type=radio]), fieldset label')]
  .filter((e) => e.checkVisibility() && !e.closest('.skip'))
  .map((e) => [e.textContent.trim().slice(0, 20) || e.id, e.getBoundingClientRect()])
  .filter(([, r]) => r.height < 47.5 || r.width < 47.5)
  .map(([name, r]) => `${name} ${r.width.toFixed(0)}x${r.height.toFixed(0)}`)
"""


def _open(open_page: OpenPage, leadsman: Started, screen: str, size: str, theme: str) -> Page:
    page = open_page(f"{leadsman.url}#/{screen}", size, theme=theme)
    page.wait_for_selector("h1")
    page.wait_for_selector("table")
    return page


@pytest.mark.parametrize(
    ("theme", "size"), [("home", "laptop"), ("home", "phone"), ("dark", "laptop"), ("sun", "phone")]
)
@pytest.mark.parametrize("screen", SCREENS)
def test_no_violation(
    open_page: OpenPage,
    leadsman: Started,
    node_modules: Path,
    screen: str,
    size: str,
    theme: str,
) -> None:
    page = _open(open_page, leadsman, screen, size, theme)
    page.evaluate((node_modules / "axe-core/axe.min.js").read_text("utf-8"))
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    if theme == "sun":
        tags.append("wcag2aaa")  # contrast of 7:1 among others
    found = page.evaluate(
        "tags => axe.run(document, {runOnly: tags, rules: {'color-contrast-enhanced':"
        " {enabled: tags.includes('wcag2aaa')}}})",
        tags,
    )
    told = [
        f"{item['id']}: {item['help']}: {node['html'][:120]} {node['failureSummary'][:200]}"
        for item in found["violations"]
        for node in item["nodes"]
    ]
    assert not told, "\n".join(told)
    assert len(found["passes"]) > 15


@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize("width", [320, 360, 640, 960, 1280])
def test_nothing_runs_over_the_edge(
    open_page: OpenPage, leadsman: Started, screen: str, width: int
) -> None:
    # 320 px is what a 640 px window has left at 200 % zoom, as WCAG 1.4.10 asks
    page = _open(open_page, leadsman, screen, "phone", "sun")
    page.set_viewport_size({"width": width, "height": 700})
    page.wait_for_timeout(150)
    over = page.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )
    assert over <= 0


@pytest.mark.parametrize("screen", SCREENS)
def test_targets_are_large(open_page: OpenPage, leadsman: Started, screen: str) -> None:
    page = _open(open_page, leadsman, screen, "phone", "home")
    assert page.evaluate(SMALL_TARGETS) == []


def test_the_picture_stays_in_sight_while_a_control_moves(
    open_page: OpenPage, leadsman: Started
) -> None:
    page = _open(open_page, leadsman, "depth", "phone", "home")
    page.get_by_role("slider", name="Boat drift").scroll_into_view_if_needed()
    box = page.locator("svg[role=img]").bounding_box()
    assert box and box["y"] > -5.0 and box["height"] < 0.5 * SIZES["phone"][1]


def test_words_in_the_picture_do_not_cover_one_another(
    open_page: OpenPage, leadsman: Started
) -> None:
    page = _open(open_page, leadsman, "depth", "phone", "sun")
    overlapping = """
    () => {
      const items = [...document.querySelectorAll('svg[role=img] text')]
        .map((e) => [e.textContent.trim(), e.getBBox()]);
      const found = [];
      items.forEach(([a, p], i) => items.slice(i + 1).forEach(([b, q]) => {
        const w = Math.min(p.x + p.width, q.x + q.width) - Math.max(p.x, q.x);
        const h = Math.min(p.y + p.height, q.y + q.height) - Math.max(p.y, q.y);
        if (w > 2 && h > 0.35 * Math.min(p.height, q.height)) found.push(`${a} / ${b}`);
      }));
      return found;
    }"""
    cast = page.get_by_label("Cast", exact=True)
    for value in ("15", "30", "45", "60", "85"):
        cast.fill(value)
        page.wait_for_timeout(500)
        assert page.evaluate(overlapping) == [], value
