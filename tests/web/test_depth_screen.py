"""The Depth screen in a real browser against the real server."""

from __future__ import annotations

import re
import statistics
from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest

from .conftest import SIZES, Started, wait_until

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser
OpenPage = Callable[..., "Page"]

SETTLED = "document.querySelector('table') !== null"


def _open(open_page: OpenPage, leadsman: Started, size: str, **words: str) -> Page:
    page = open_page(f"{leadsman.url}#/depth", size, **words)
    page.wait_for_selector("svg[role=img]")
    wait_until(page, SETTLED)
    return page


def _deepest_ft(page: Page) -> float:
    text = page.locator("svg[role=img] .big").first.text_content()
    assert text is not None
    return float(text)


@pytest.mark.parametrize("size", SIZES)
def test_a_longer_cast_runs_deeper_in_picture_and_words(
    open_page: OpenPage, leadsman: Started, size: str
) -> None:
    page = _open(open_page, leadsman, size)
    before, words = _deepest_ft(page), page.locator("h1").text_content()
    cast = page.get_by_label("Cast", exact=True)
    cast.focus()
    for _ in range(10):
        page.keyboard.press("ArrowRight")
    wait_until(page, "document.querySelector('h1').textContent !== argument", words)
    page.wait_for_timeout(600)
    after = _deepest_ft(page)
    # free-running depth grows with line out; the levers of this setup say some 2 ft for 10 yd
    assert 0.5 < after - before < 5.0
    headline = page.locator("h1").text_content() or ""
    assert f"{after:.1f}" in headline
    said = page.locator("output").first.text_content() or ""
    assert re.sub(r"\D", "", said) in headline


@pytest.mark.parametrize("size", SIZES)
def test_the_bottom_stops_the_lure(open_page: OpenPage, leadsman: Started, size: str) -> None:
    page = _open(open_page, leadsman, size)
    assert page.locator("svg[role=img] .ground").count() == 1
    page.get_by_role("radio", name="Deep water").check(force=True)
    wait_until(page, "document.querySelectorAll('svg[role=img] .ground').length === 0")
    assert page.locator("svg[role=img] .light, svg[role=img] .over").count() == 0
    # what cannot matter without a bottom is not shown
    assert page.get_by_role("slider", name="Bottom depth").count() == 0
    page.get_by_role("radio", name="Slope").check(force=True)
    page.get_by_role("slider", name="Depth where it lands").wait_for()
    page.get_by_role("radio", name="Grass", exact=True).check(force=True)
    wait_until(page, "document.querySelectorAll('svg[role=img] .grass').length === 1")


def test_wind_direction_is_asked_only_in_wind(open_page: OpenPage, leadsman: Started) -> None:
    page = _open(open_page, leadsman, "phone")
    assert page.get_by_text("Wind comes from").count() == 0
    page.get_by_role("button", name="More wind").click()
    page.get_by_text("Wind comes from").wait_for()


def test_units_change_everywhere(open_page: OpenPage, leadsman: Started) -> None:
    page = _open(open_page, leadsman, "laptop")
    assert " ft" in (page.locator("h1").text_content() or "").replace("\u00a0", " ")
    page.get_by_text("Units, theme").click()
    page.get_by_role("radio", name="m, g, kg").check(force=True)
    wait_until(page, "!document.querySelector('h1').textContent.includes('ft')")
    wait_until(
        page,
        "![...document.querySelectorAll('main td, main output, main svg text')]"
        ".some(item => /\\b(ft|yd|mph|oz)\\b/.test(item.textContent))",
    )
    page.reload()
    page.wait_for_selector("svg[role=img]")
    assert "ft" not in (page.locator("h1").text_content() or "ft").split()


def test_the_own_cast_of_a_lure_comes_back(open_page: OpenPage, leadsman: Started) -> None:
    page = _open(open_page, leadsman, "phone")
    own = page.locator("output").first.text_content()
    page.get_by_role("button", name="More cast").click()
    assert page.locator("output").first.text_content() != own
    page.get_by_role("button", name="Back to my own cast").click()
    page.get_by_role("button", name="Back to my own cast").wait_for(state="detached")
    wait_until(page, "document.querySelector('output').textContent === argument", own)


def test_a_setup_is_kept_on_the_device(open_page: OpenPage, leadsman: Started) -> None:
    page = _open(open_page, leadsman, "laptop")
    page.get_by_label("Lure", exact=True).select_option("big-lip-25")
    wait_until(page, "document.querySelector('h1').textContent.startsWith('big')")
    page.reload()
    page.wait_for_selector("svg[role=img]")
    assert (page.locator("h1").text_content() or "").startswith("big")


def test_everything_is_reached_by_keys(open_page: OpenPage, leadsman: Started) -> None:
    page = _open(open_page, leadsman, "laptop")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className").startswith("skip")
    seen: set[str] = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        seen.add(
            page.evaluate(
                "(e => e.labels?.[0]?.textContent.trim() || e.getAttribute('aria-label')"
                " || e.textContent.trim())(document.activeElement)"
            )
        )
    for name in (
        "Depth", "Kit", "Units, theme", "Lure", "Line", "Cast", "More cast", "Usual",
        "Tip height", "Reel speed", "Level", "Bottom depth", "Wind", "Boat drift",
    ):  # fmt: skip
        assert name in seen, name


def test_a_server_that_is_gone_is_said(open_page: OpenPage, leadsman: Started) -> None:
    page = _open(open_page, leadsman, "phone")
    page.route("**/api/depth", lambda route: route.abort())
    page.get_by_role("button", name="More cast").click()
    page.get_by_role("alert").wait_for()
    assert "does not answer" in (page.get_by_role("alert").text_content() or "")
    assert page.locator("svg[role=img]").count() == 1  # the last answer stays
    page.unroute("**/api/depth")
    page.get_by_role("button", name="More cast").click()
    page.get_by_role("alert").wait_for(state="detached")


LATENCY = """
async (times) => {
  const input = document.querySelectorAll('input[type=range]')[0];
  const svg = () => document.querySelector('svg[role=img]');
  const spent = [];
  for (let i = 0; i < times; i++) {
    const changed = new Promise((resolve) => {
      const watch = new MutationObserver(() => { watch.disconnect(); resolve(); });
      watch.observe(svg(), {subtree: true, attributes: true, attributeFilter: ['d']});
    });
    const start = performance.now();
    input.value = String(30 + (i * 7) % 40);
    input.dispatchEvent(new Event('input', {bubbles: true}));
    await changed;
    // painted: a task after the next frame
    await new Promise((r) => requestAnimationFrame(() => setTimeout(r)));
    spent.push(performance.now() - start);
    await new Promise((r) => setTimeout(r, 60));  // the next move, as of a thumb
  }
  return spent;
}
"""


def test_a_control_is_answered_at_once(open_page: OpenPage, leadsman: Started) -> None:
    """From the control to the painted picture, server included.

    The aim on a quiet laptop is 50 ms at the median and 100 ms at the 95th percentile; the limits
    here are twice that, in the best of three rounds, as other tests run beside this one.
    """
    page = _open(open_page, leadsman, "laptop")
    rounds = []
    for _ in range(3):
        spent = sorted(page.evaluate(LATENCY, 30))
        rounds.append((statistics.median(spent), spent[int(0.95 * len(spent))]))
        if rounds[-1][0] < 100.0 and rounds[-1][1] < 200.0:
            break
    median, late = rounds[-1]
    print(f"control to picture: median {median:.0f} ms, 95th percentile {late:.0f} ms")
    assert median < 100.0 and late < 200.0, rounds


def test_a_moving_control_does_not_pile_up_questions(
    open_page: OpenPage, leadsman: Started
) -> None:
    page = _open(open_page, leadsman, "laptop")
    at_once = {"now": 0, "most": 0}

    def begun(request: object) -> None:
        if "/api/depth" in getattr(request, "url", ""):
            at_once["now"] += 1
            at_once["most"] = max(at_once["most"], at_once["now"])

    def ended(request: object) -> None:
        if "/api/depth" in getattr(request, "url", ""):
            at_once["now"] -= 1

    page.on("request", begun)
    page.on("requestfinished", ended)
    cast = page.get_by_label("Cast", exact=True)
    cast.focus()
    for _ in range(30):
        page.keyboard.press("ArrowLeft")
    page.wait_for_timeout(1500)
    assert at_once["most"] == 1
    value = int(cast.input_value())
    assert f"{value} yd" in (page.locator("h1").text_content() or "").replace("\u00a0", " ")
