"""The door: every request passes here first. Wrong host, no session, too large: turned away before any page sees it.

Plain ASGI, so that streamed answers stay streamed. Answers leave with headers that keep a browser strict.
"""

from __future__ import annotations

import time
from contextlib import suppress
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from spreadwright.web.sessions import Session, Sessions
from spreadwright.web.settings import Settings

MEGABYTE = 1024 * 1024
LARGEST_REQUEST = 2 * MEGABYTE  # bytes: a day's deck sheet
# Where files come in that are larger by nature: a phone's picture, a day's track, a whole store with its pictures.
LARGER_REQUESTS = {"/room/photo": 9 * MEGABYTE, "/log/tracks": 64 * MEGABYTE, "/room/archive": 128 * MEGABYTE}
OPEN_PATHS = ("/pair", "/static/")
COOKIE = "spreadwright"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "font-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
STRICT = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}


class TooLarge(Exception):  # noqa: N818 (it ends a request, it is no fault of ours)
    """A request's body went past the limit while it was read."""


class Guard:
    """Checks every request and dresses every answer. What passes carries its session in scope["session_of"]."""

    def __init__(self, app: ASGIApp, settings: Settings, sessions: Sessions) -> None:
        self.app, self.settings, self.sessions = app, settings, sessions

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        began = time.perf_counter()
        headers = Headers(scope=scope)
        cookie = ""

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                own = MutableHeaders(scope=message)
                for name, value in STRICT.items():
                    own[name] = value
                if not scope["path"].startswith("/static/"):
                    own["cache-control"] = "no-store"
                own["server-timing"] = f"app;dur={1000.0 * (time.perf_counter() - began):.1f}"
                if cookie:
                    own.append("set-cookie", cookie)
            await send(message)

        refused = self._refused(headers, scope)
        if refused is not None:
            await refused(scope, receive, dressed)
            return
        session = self.sessions.get(_cookie(headers, cookie_name(scope)))
        if session is None and self._is_here(scope):
            session = self.sessions.new()
            cookie = cookie_of(scope, session)
        if session is None and not scope["path"].startswith(OPEN_PATHS):
            await _pair_first(scope)(scope, receive, dressed)
            return
        scope["session_of"] = session
        await self._pass(scope, receive, dressed)

    async def _pass(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand the request on, reading no more of it than the limit."""
        taken, over, started = 0, False, False
        largest = LARGER_REQUESTS.get(scope["path"], LARGEST_REQUEST)

        async def counted() -> Message:
            nonlocal taken, over
            message = await receive()
            taken += len(message.get("body", b""))
            if taken > largest:
                over = True
                raise TooLarge
            return message

        async def watched(message: Message) -> None:
            nonlocal started
            if not over:
                started = True
                await send(message)

        with suppress(TooLarge):
            await self.app(scope, counted, watched)
        if over and not started:  # whatever the application made of its broken-off body
            await _too_large(largest)(scope, receive, send)

    def _refused(self, headers: Headers, scope: Scope) -> Response | None:
        hosts = headers.getlist("host")
        if len(hosts) != 1 or hosts[0].lower() not in self.settings.hosts:
            return PlainTextResponse("This server does not go by that name. Use the address it printed.", 421)
        if scope["method"] not in {"GET", "HEAD"}:
            origin = headers.get("origin")
            if origin is not None and origin.partition("://")[2].lower() != hosts[0].lower():
                return PlainTextResponse("A page of another site asked for this; it was not done.", 403)
            if headers.get("sec-fetch-site", "same-origin") not in {"same-origin", "none"}:
                return PlainTextResponse("A page of another site asked for this; it was not done.", 403)
        length = headers.get("content-length", "0")
        if not length.isascii() or not length.isdigit():
            return PlainTextResponse("The request's length is no number.", 400)
        largest = LARGER_REQUESTS.get(scope["path"], LARGEST_REQUEST)
        return _too_large(largest) if len(length) > 12 or int(length) > largest else None

    def _is_here(self, scope: Scope) -> bool:
        """True for a request from this machine, and for all where nobody else can come in."""
        client = scope.get("client")
        return not self.settings.paired or (client is not None and client[0] in {"127.0.0.1", "::1"})


def cookie_name(scope: Scope) -> str:
    """The cookie's name; with the prefix that browsers hold to its promises where the connection is encrypted."""
    return f"__Host-{COOKIE}" if scope["scheme"] == "https" else COOKIE


def cookie_of(scope: Scope, session: Session) -> str:
    """The header that gives a browser its session."""
    secure = "; Secure" if _keeps_secure(scope) else ""
    return f"{cookie_name(scope)}={session.key}; Path=/; HttpOnly; SameSite=Strict{secure}"


def _keeps_secure(scope: Scope) -> bool:
    """Will this browser keep a cookie that insists on a secure connection, and send it back to us?

    Over https all do. On the loopback those do that count it as trustworthy, and these say so: they send Sec-Fetch-Site
    to trustworthy addresses only (W3C Fetch Metadata, section 3). One that comes from a page of ours without any cookie
    did not keep it: it gets one that it keeps, as nothing leaves the machine there.
    """
    if scope["scheme"] == "https":
        return True
    headers = Headers(scope=scope)
    site = headers.get("sec-fetch-site")
    return site is not None and not (site == "same-origin" and "cookie" not in headers)


def _cookie(headers: Headers, name: str) -> str:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(name)
    except CookieError:
        return ""
    return found.value if found is not None else ""


def _too_large(largest: int) -> Response:
    return PlainTextResponse(f"More than {largest // MEGABYTE} MB: too much for one request.", 413)


def _pair_first(scope: Scope) -> Response:
    if scope["path"].startswith("/api/"):
        return JSONResponse({"detail": "Pair this device first: open the address on the terminal's code."}, 401)
    return RedirectResponse("/pair", 303)
