"""The one page that a guest's link opens, beside the API: the sheet of one event."""

from __future__ import annotations

from fastapi import APIRouter, Request, Response

from nextpair.application.sharing import open_guest_link
from nextpair.application.store import Computed
from nextpair.web.errors import TooManyError
from nextpair.web.home import Home
from nextpair.web.pages import NO_SHEET, TOO_OFTEN, plain_page
from nextpair.web.routes.results import Result, as_kept, sheet_as_page
from nextpair.web.tries import PLACE_ANOTHER_AFTER_S, PLACE_TRIES, Tally
from nextpair.web.visitor import Here, asker_of

router = APIRouter(include_in_schema=False)
NOBODY_ELSES = {
    "Cache-Control": "no-store",
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
}
"""Kept by no browser, listed by no search, told to no page that it leads to."""


@router.get("/guest/{secret}")
def sheet(secret: str, request: Request, home: Here) -> Response:
    """The sheet, to whoever has the link. A link that never was, has expired or was ended leads to
    the same page, and after sixty such it takes patience: many
    guests may be behind one address, and nobody guesses 256 bits."""
    key = Tally(f"guest from {asker_of(request)}", PLACE_TRIES, PLACE_ANOTHER_AFTER_S)
    try:
        home.tries.spend(key)
    except TooManyError as waiting:
        wait = {"Retry-After": str(max(1, round(waiting.wait_s)))}
        return plain_page("Wait a little", TOO_OFTEN, 429, NOBODY_ELSES | wait)
    found = _sheet(home, secret)
    if found is None:
        return plain_page("No sheet here", NO_SHEET, 404, NOBODY_ELSES)
    home.tries.give_back(key)
    return sheet_as_page(as_kept(found), NOBODY_ELSES)


def _sheet(home: Home, secret: str) -> Computed | None:
    link = open_guest_link(home.store, secret, home.now())
    return None if link is None else home.store.computed(link.owner, link.event, Result.SHEET)
