"""A phone on the network: pairs once, then uses everything, over plain http."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from leadsman.web.pairing import shown

from .conftest import LAN_NAME, Served, serving

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser
OpenPage = Callable[..., "Page"]


@pytest.fixture
def lan(fresh_pages: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Served]:
    """A server that takes this machine for another device."""
    for module in ("security", "routers.devices"):
        monkeypatch.setattr(f"leadsman.web.{module}.is_this_machine", lambda scope: False)
    with serving(tmp_path, paired=True, hosts=(LAN_NAME,)) as found:
        yield found


def test_a_phone_pairs_by_hand(open_page: OpenPage, lan: Served) -> None:
    page = open_page(f"http://{LAN_NAME}:{lan.port}/", "phone")
    assert page.evaluate("isSecureContext") is False
    page.get_by_label("Code").fill("AAAA-AAAA")
    page.get_by_role("button", name="Pair this device").click()
    page.get_by_role("alert").wait_for()
    page.get_by_label("Code").fill(shown(lan.pairing.code))
    page.get_by_role("button", name="Pair this device").click()
    page.wait_for_selector("svg[role=img]")
    page.reload()
    page.wait_for_selector("svg[role=img]")


def test_a_scanned_code_pairs_at_once_and_leaves_the_address(
    open_page: OpenPage, lan: Served
) -> None:
    code = lan.pairing.code
    page = open_page(f"http://{LAN_NAME}:{lan.port}/#/pair/{code}", "phone")
    page.wait_for_selector("svg[role=img]")
    assert code not in page.url
    assert lan.pairing.code != code


def test_this_machine_s_own_name_does_not_open_the_lan_server(
    open_page: OpenPage, lan: Served
) -> None:
    page = open_page(f"http://127.0.0.1:{lan.port}/", "phone")
    assert "not called by that name" in (page.text_content("body") or "")
