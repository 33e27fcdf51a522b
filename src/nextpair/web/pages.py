"""The pages as they were built, and plain ones that need no building."""

from __future__ import annotations

import html
from collections.abc import Mapping
from pathlib import Path

from starlette.responses import HTMLResponse, Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

BUILT = Path(__file__).parent / "static"
FOR_EVER, ASK_FIRST = "public, max-age=31536000, immutable", "no-cache"
HASHED = "assets/"
"""Folder of files whose names change with what is in them."""
NOT_BUILT = """
<h1>nextpair runs, its pages are not built</h1>
<p>They come built with the program; in a checkout, build them once with Node 20 or newer:</p>
<pre>cd frontend
npm ci
npm run build</pre>
<p>Then open this page again. The API answers already: <a href="/api/v1/status">its status</a>.</p>
"""
USED_LINK = """
<h1>This link is used up</h1>
<p>A link lets one device in, once, and for ten minutes. Make another one at home, under
settings, or <a href="/">sign in with your password</a>.</p>
"""
NO_SHEET = """
<h1>No sheet here</h1>
<p>There is no sheet under this address: it may be mistyped, have expired, or have been ended. Ask
whoever gave it to you for another one.</p>
"""
OPEN_YOURSELF = """
<h1>Open it yourself</h1>
<p>Another page led here. A link that lets a device in is opened by its picture with the camera, or
copied into the address line: the link is still good.</p>
"""
TOO_OFTEN = """
<h1>Wait a little</h1>
<p>Addresses that lead nowhere were asked for too often from where you are. Try again in a
minute.</p>
"""


class BuiltPages(StaticFiles):
    """Files of one built page: those named by their content are kept by browsers for ever, all
    others asked for again."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await super().get_response(path, scope)
        hashed = path.replace("\\", "/").startswith(HASHED)
        response.headers["Cache-Control"] = FOR_EVER if hashed else ASK_FIRST
        return response


def built_pages(name: str) -> BuiltPages | None:
    """The built page of that name, or None where nobody built it."""
    folder = BUILT / name
    if not (folder / "index.html").is_file():
        return None
    return BuiltPages(directory=folder, html=True)


def plain_page(
    title: str, body: str, status: int = 200, headers: Mapping[str, str] | None = None
) -> HTMLResponse:
    """A page without style or script; asked for again each time unless its headers say more."""
    return HTMLResponse(
        "<!doctype html><html lang=en><meta charset=utf-8>"
        "<meta name=viewport content='width=device-width, initial-scale=1'>"
        "<meta name=color-scheme content='light dark'>"
        f"<title>{html.escape(title)}</title><main>{body}</main></html>",
        status,
        {"Cache-Control": ASK_FIRST, **(headers or {})},
    )
