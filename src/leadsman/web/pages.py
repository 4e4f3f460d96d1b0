"""The built pages, read once at start: no path of a request ever reaches the file system."""

from __future__ import annotations

import gzip
import hashlib
from dataclasses import dataclass
from importlib import resources
from importlib.resources.abc import Traversable

from starlette.datastructures import Headers
from starlette.responses import Response

TYPES = {
    "html": "text/html; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "css": "text/css; charset=utf-8",
    "svg": "image/svg+xml",
    "png": "image/png",
    "json": "application/json",
    "webmanifest": "application/manifest+json",
    "woff2": "font/woff2",
    "wasm": "application/wasm",
}
"""Kinds of files that are served, by the end of their name; others are not."""

FOREVER = "public, max-age=31536000, immutable"
"""For files whose name holds a hash of what is in them."""
ASK_FIRST = "no-cache"
"""For the others: keep it, but ask whether it is still the same."""

MISSING = b"""<!doctype html><html lang="en"><meta charset="utf-8"><title>Leadsman</title>
<h1>The pages are not built</h1><p>Leadsman was installed without its pages. Run
<code>python hatch_build.py</code> in its folder, then start it again.</p></html>"""


@dataclass(frozen=True, slots=True)
class Page:
    """One file.

    Parameters
    ----------
    body : bytes
        What is in it [-].
    packed : bytes or None
        The same packed by gzip; None if that saves nothing [-].
    kind : str
        Its content type [-].
    caching : str
        Its Cache-Control [-].
    tag : str
        Its ETag [-].
    """

    body: bytes
    packed: bytes | None
    kind: str
    caching: str
    tag: str


def read_pages(folder: Traversable | None = None) -> dict[str, Page]:
    """Every page by its address.

    Parameters
    ----------
    folder : Traversable or None
        Where they are; None takes those of the package [-].
    """
    root = folder or resources.files("leadsman.web").joinpath("static")
    found: dict[str, Page] = {}
    if root.is_dir():
        _collect(root, "/", found)
    found["/"] = found.get("/index.html") or _page("index.html", MISSING, "/")
    found.pop("/index.html", None)
    return found


def _collect(folder: Traversable, address: str, found: dict[str, Page]) -> None:
    for item in folder.iterdir():
        if item.is_dir():
            _collect(item, f"{address}{item.name}/", found)
        elif item.name.rsplit(".", 1)[-1] in TYPES:
            found[address + item.name] = _page(item.name, item.read_bytes(), address)


def _page(name: str, body: bytes, address: str) -> Page:
    packed = gzip.compress(body, 9, mtime=0)
    return Page(
        body=body,
        packed=packed if len(packed) < 0.95 * len(body) else None,
        kind=TYPES[name.rsplit(".", 1)[-1]],
        caching=FOREVER if address == "/assets/" else ASK_FIRST,
        tag=f'"{hashlib.sha256(body).hexdigest()[:20]}"',
    )


def page_response(page: Page, headers: Headers) -> Response:
    """A page as a response.

    Parameters
    ----------
    page : Page
        The page [-].
    headers : Headers
        Headers of the request [-].
    """
    own = {"cache-control": page.caching, "etag": page.tag, "vary": "accept-encoding"}
    if page.tag in headers.get("if-none-match", ""):
        return Response(status_code=304, headers=own)
    body = page.body
    if page.packed is not None and "gzip" in headers.get("accept-encoding", ""):
        body = page.packed
        own["content-encoding"] = "gzip"
    return Response(body, media_type=page.kind, headers=own)
