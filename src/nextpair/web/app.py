"""The server put together: the API under /api/v1, the pages beside it, the gate before both."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.types import ASGIApp

from nextpair import __version__
from nextpair.web.access import Gate
from nextpair.web.errors import RESPONSES, answer_errors
from nextpair.web.home import Home
from nextpair.web.pages import NOT_BUILT, USED_LINK, built_pages, plain_page
from nextpair.web.routes import (
    accounts,
    archive,
    codes,
    conditions,
    debrief,
    demo,
    diary,
    events,
    games,
    guest,
    houses,
    jobs,
    log,
    money,
    packing,
    pasted,
    patterns,
    recap,
    records,
    results,
    scores,
    season,
    shared,
    sharing,
    shots,
    similar,
    standing,
    statistics,
    status,
    trust,
)
from nextpair.web.visitor import HEAVY

API = "/api/v1"
LARGEST_BODY_BYTES = 4_000_000
LEAST_COMPRESSED_BYTES = 1000
COMPRESSION = 5
"""Quick rather than small: it runs between other answers."""
PARTS = (
    status, accounts, records, pasted, patterns, events, shots, jobs, results, scores, games,
    standing, statistics, money, houses, recap, log, codes, archive, debrief, diary,
    similar, conditions, demo, season, packing, sharing, shared,
)  # fmt: skip
HEAVY_PARTS = frozenset({
    shots, patterns, codes, archive, pasted, recap, standing, statistics, similar, conditions,
    season, money, demo, debrief, shared, houses,
})  # fmt: skip
"""All of whose routes an account has answered in turn; of others, single routes say so."""


def create_app(home: Home) -> ASGIApp:
    """What the web server runs."""
    site = FastAPI(openapi_url=None, docs_url=None, redoc_url=None, lifespan=_open)
    site.state.home = home
    answer_errors(site)
    site.include_router(accounts.LINKS)
    site.include_router(guest.router)
    site.include_router(trust.router)
    site.mount(API, api_of(home))
    site.add_api_route("/used-link", _used_link, include_in_schema=False)
    for path, name in (("/lanes", "lanes"), ("/", "home")):
        pages = built_pages(name)
        if pages is not None:
            site.mount(path, pages, name)
        else:
            site.add_api_route(f"{path.rstrip('/')}/", _not_built, include_in_schema=False)
    compressed = GZipMiddleware(site, LEAST_COMPRESSED_BYTES, COMPRESSION)
    return Gate(compressed, home.address)


def api_of(home: Home) -> FastAPI:
    """The API by itself. It is mounted, so that a path of another method answers 405."""
    api = FastAPI(
        title="nextpair",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        responses=RESPONSES,
        max_body_size=LARGEST_BODY_BYTES,
    )
    api.state.home = home
    answer_errors(api)
    for part in PARTS:
        api.include_router(part.router, dependencies=[HEAVY] if part in HEAVY_PARTS else None)
    return api


@asynccontextmanager
async def _open(site: FastAPI) -> AsyncIterator[None]:
    home: Home = site.state.home
    home.open()
    try:
        yield
    finally:
        home.close()


def _used_link() -> Response:
    return plain_page("Link used up", USED_LINK, 410)


def _not_built() -> Response:
    return plain_page("nextpair", NOT_BUILT)
