"""Who may ask, how much, and what a page may load: one layer around everything.

- *Host* must be a name of this server: a foreign name that resolves to this machine (DNS
  rebinding) is refused.
- What changes something must come from a page of this server: *Origin* and *Sec-Fetch-Site*.
- Bodies are bounded while they arrive, whatever their stated length.
- Devices other than this machine need a session where pairing is on.
- Pages load nothing from elsewhere and run no inline script (Content-Security-Policy).
"""

from __future__ import annotations

import ipaddress
from http.cookies import CookieError, SimpleCookie
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from leadsman.web.pairing import SESSION_COOKIE, Pairing
from leadsman.web.problems import Problem, problem_response
from leadsman.web.settings import MAX_BODY_BYTES, ServerSettings

CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
"""What a page may load and run: files of this server only."""

HEADERS = {
    "content-security-policy": CONTENT_SECURITY_POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
}
"""Headers of every response."""

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
"""Methods that change nothing."""

OPEN_TO_UNPAIRED = frozenset({"/api/pair", "/api/hello"})
"""API addresses that a device may use before it is paired."""


class TooLargeError(HTTPException):
    """The body of a request grew over its limit while it arrived."""

    def __init__(self) -> None:
        # the kind of error that whatever reads the body passes on
        super().__init__(413)


class SecurityLayer:
    """ASGI layer that checks every request before anything else sees it.

    Parameters
    ----------
    app : ASGIApp
        What is protected [-].
    settings : ServerSettings
        What the server was started with [-].
    pairing : Pairing
        The paired devices [-].
    max_body : int
        Largest body [byte].
    """

    def __init__(
        self,
        app: ASGIApp,
        settings: ServerSettings,
        pairing: Pairing,
        max_body: int = MAX_BODY_BYTES,
    ) -> None:
        self._app = app
        self._settings = settings
        self._pairing = pairing
        self._max_body = max_body

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Check one request, then pass it on."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        guarded = _with_headers(send)
        refusal = self._refusal(scope)
        if refusal is not None:
            status, problem = refusal
            await problem_response(status, problem)(scope, receive, guarded)
            return
        started = False

        async def watched(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await guarded(message)

        try:
            await self._app(scope, _bounded(receive, self._max_body), watched)
        except TooLargeError:
            if not started:
                await problem_response(413, _too_large(self._max_body))(scope, receive, guarded)

    def _refusal(self, scope: Scope) -> tuple[int, Problem] | None:
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if len(hosts) != 1 or not self._settings.allows_host(hosts[0]):
            return 421, Problem(
                problem="This server is not called by that name.",
                remedy="Use the address that leadsman serve prints.",
            )
        if scope["method"] not in SAFE_METHODS and not self._same_origin(headers, hosts[0]):
            return 403, Problem(problem="This request comes from a page of another site.")
        length = headers.get("content-length")
        if length is not None and not (length.isdigit() and int(length) <= self._max_body):
            return 413, _too_large(self._max_body)
        if not self._may_ask(scope, headers):
            return 401, Problem(
                problem="This device is not paired.",
                remedy="Open the link or code that leadsman serve shows on the laptop.",
            )
        return None

    def _same_origin(self, headers: Headers, host: str) -> bool:
        site = headers.get("sec-fetch-site")
        if site is not None and site not in ("same-origin", "none"):
            return False
        origin = headers.get("origin")
        if origin is None:
            return True  # not a browser: a browser names the origin of what it sends
        parts = urlsplit(origin)
        return parts.scheme in ("http", "https") and parts.netloc.casefold() == host.casefold()

    def _may_ask(self, scope: Scope, headers: Headers) -> bool:
        path: str = scope["path"]
        if not self._settings.paired or not path.startswith("/api/") or path in OPEN_TO_UNPAIRED:
            return True
        return is_this_machine(scope) or self._pairing.knows(session_secret(headers.get("cookie")))


def is_this_machine(scope: Scope) -> bool:
    """Whether a request comes from the machine the server runs on.

    Parameters
    ----------
    scope : Scope
        ASGI scope of the request [-].
    """
    client = scope.get("client")
    try:
        return client is not None and ipaddress.ip_address(client[0]).is_loopback
    except ValueError:
        return False


def session_secret(cookie: str | None) -> str | None:
    """Secret of the session in a Cookie header.

    Parameters
    ----------
    cookie : str or None
        The header [-].
    """
    if not cookie:
        return None
    try:
        found = SimpleCookie(cookie).get(SESSION_COOKIE)
    except CookieError:
        return None
    return found.value if found is not None else None


def _too_large(limit: int) -> Problem:
    return Problem(problem=f"More was sent than the {limit // 1024} kB that are taken here.")


def _bounded(receive: Receive, limit: int) -> Receive:
    taken = 0

    async def bounded() -> Message:
        nonlocal taken
        message = await receive()
        if message["type"] == "http.request":
            taken += len(message.get("body", b""))
            if taken > limit:
                raise TooLargeError
        return message

    return bounded


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            if "cache-control" not in headers:
                headers["cache-control"] = "no-store"
        await send(message)

    return sending
