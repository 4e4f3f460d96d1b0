"""Pages are read once, packed, and kept by the browser."""

from __future__ import annotations

import gzip
from pathlib import Path

import httpx
from starlette.datastructures import Headers

from leadsman.web.pages import FOREVER, page_response, read_pages


def _folder(tmp_path: Path) -> Path:
    (tmp_path / "assets").mkdir()
    (tmp_path / "index.html").write_text("<!doctype html>" + "words " * 200)
    (tmp_path / "assets" / "index-abc.js").write_text("const x = 1;" * 100)
    (tmp_path / ".built-from").write_text("secret")
    (tmp_path / "notes.txt").write_text("not served")
    return tmp_path


def test_only_known_kinds_of_files_are_served(tmp_path: Path) -> None:
    assert set(read_pages(_folder(tmp_path))) == {"/", "/assets/index-abc.js"}


def test_a_packed_page_unpacks_to_itself(tmp_path: Path) -> None:
    page = read_pages(_folder(tmp_path))["/assets/index-abc.js"]
    packed = page_response(page, Headers({"accept-encoding": "gzip, br"}))
    assert packed.headers["content-encoding"] == "gzip"
    assert gzip.decompress(packed.body) == page.body
    assert "content-encoding" not in page_response(page, Headers({})).headers
    assert packed.headers["cache-control"] == FOREVER


def test_a_page_that_is_still_the_same_is_not_sent_again(tmp_path: Path) -> None:
    page = read_pages(_folder(tmp_path))["/"]
    again = page_response(page, Headers({"if-none-match": page.tag}))
    assert again.status_code == 304 and not again.body
    assert page_response(page, Headers({"if-none-match": '"other"'})).status_code == 200


def test_without_built_pages_it_says_so(tmp_path: Path) -> None:
    assert b"not built" in read_pages(tmp_path)["/"].body


def test_the_server_serves_them(client: httpx.Client, fresh_pages: None) -> None:
    answer = client.get("/")
    assert answer.status_code == 200 and "text/html" in answer.headers["content-type"]
    script = answer.text.split('src="')[1].split('"')[0]
    got = client.get(script)
    assert got.headers["cache-control"] == FOREVER
    assert "<script>" not in answer.text and "style=" not in answer.text
    assert "http" not in answer.text.replace("http-equiv", "")
