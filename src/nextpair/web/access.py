"""What is turned away before anybody answers it, and what every answer says to the browser."""

from __future__ import annotations

import json
import logging
import traceback
from collections.abc import MutableMapping
from typing import Any
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from nextpair.web.address import Address, host_name
from nextpair.web.errors import problem_document

MARK = "X-Nextpair"
"""Header of every answer: a page of somebody else's network does not have it."""
CONTENT_RULES = (
    "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'self'; "
    "form-action 'self'; frame-ancestors 'none'"
)
"""What a page of ours may load: its own files, no inline script, no inline style."""
ALWAYS = {
    MARK: "1",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(), microphone=()",
}
IF_SECURE = {"Strict-Transport-Security": "max-age=31536000"}
READS = frozenset({"GET", "HEAD", "OPTIONS"})
OWN_SITES = frozenset({"same-origin", "none"})
"""What a browser says of a request by our own page, and of one that somebody typed."""

TOO_LARGE = 413
NO_SUCH_TALK = 1008
"""Against the rules here (RFC 6455, section 7.4.1): nothing of ours speaks over web sockets."""
LARGE_BODY = ("body", "more than is taken at once", "less of it")

log = logging.getLogger("nextpair.web")


class Gate:
    """Lets through what may be asked here, marks every answer, and says little of our faults."""

    def __init__(self, app: ASGIApp, address: Address) -> None:
        self.app = app
        self.address = address
        self.marks = ALWAYS | (IF_SECURE if address.secure else {})

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "websocket":
            await send({"type": "websocket.close", "code": NO_SUCH_TALK})
            return
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        marked = _Marked(send, self.marks)
        refused = self._refused(scope)
        if refused is not None:
            await _say(marked, *refused)
            return
        try:
            await self.app(scope, receive, marked)
        except Exception as fault:
            _note(fault, scope)

    def _refused(self, scope: Scope) -> tuple[int, str, str, str] | None:
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if not self.address.answers_to(host):
            return 403, "Host", host[:100], "a name of this machine, or one told with --reached-at"
        if scope["method"] not in READS and not _by_own_page(headers, host):
            return 403, "Origin", "another site's page", "requests by this server's own pages"
        if not _by_own_page_or_a_link(headers):
            return (
                403,
                "Sec-Fetch-Site",
                "another site's page",
                "this server's own pages, or a link",
            )
        return None


def _by_own_page(headers: Headers, host: str) -> bool:
    site = headers.get("sec-fetch-site")
    if site is not None and site not in OWN_SITES:
        return False
    origin = headers.get("origin")
    if origin is None or (origin == "null" and site == "none"):
        return True
    parts = urlsplit(origin)
    return parts.netloc.lower() == host.lower() or (
        site in OWN_SITES and host_name(parts.netloc) == host_name(host)
    )


def _by_own_page_or_a_link(headers: Headers) -> bool:
    """Whether a browser asks for our own page, or for a page that somebody goes to: another site's
    page loads nothing from here into itself, so that it cannot even keep the server busy (fetch
    metadata, W3C working draft; browsers that send none are let through)."""
    if headers.get("sec-fetch-site", "none") in OWN_SITES:
        return True
    return headers.get("sec-fetch-mode") == "navigate" and (
        headers.get("sec-fetch-dest", "document") == "document"
    )


class _Marked:
    """Sends an answer with our headers on it; a header that the answer has already stays. That a
    body is too large is noticed before anything that could say so our way."""

    def __init__(self, send: Send, marks: dict[str, str], started: bool = False) -> None:
        self.send = send
        self.marks = marks
        self.started = started
        self.ended = False

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            if message["status"] == TOO_LARGE and not self.started:
                self.started = self.ended = True
                await _say(_Marked(self.send, self.marks, started=True), TOO_LARGE, *LARGE_BODY)
                return
            self.started = True
            headers = MutableHeaders(scope=message)
            for name, value in self.marks.items():
                headers.setdefault(name, value)
            headers.setdefault("Content-Security-Policy", CONTENT_RULES)
            headers.setdefault("Cache-Control", "no-store")
        if not self.ended:
            await self.send(message)


async def _say(send: _Marked, status: int, place: str, found: str, allowed: str) -> None:
    body = json.dumps(problem_document(place, found, allowed)).encode()
    start: MutableMapping[str, Any] = {
        "type": "http.response.start",
        "status": status,
        "headers": [
            (b"content-type", b"application/json"),
            (b"content-length", str(len(body)).encode()),
        ],
    }
    await send(start)
    await send({"type": "http.response.body", "body": body})


def _note(fault: Exception, scope: Scope) -> None:
    """Where it happened, without what it happened to: messages of errors may quote documents."""
    route = getattr(scope.get("route"), "path", "a page")
    steps = "".join(traceback.format_tb(fault.__traceback__))
    kind = type(fault).__name__
    told = {"fault": fault}  # the log file tells its steps without the folders of this computer
    log.error("%s in %s %s\n%s", kind, scope["method"], route, steps, extra=told)
