"""Every screen of a page, found as people find it: by the links of those seen before."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator

from playwright.sync_api import Page, Request, expect

from source_tree import ROOT

ID = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}|library%3A[^/]*")
LINKS = "links => links.map((link) => link.getAttribute('href'))"
DRAWN = "new Promise((good) => requestAnimationFrame(() => requestAnimationFrame(good)))"
FIRST_SHOT_WITHIN_MS = 60_000
"""The server may still be compiling."""
ANSWERED_WITHIN_S = 20.0
PAGES = ROOT / "frontend"


def walk(page: Page, address: str, first: str = "#/") -> Iterator[str]:
    """Go from screen to screen by their links, from `first` on, each kind of screen once: its
    path, with `:id` for what it is of. The page shows it while it is yielded."""
    asked: set[Request] = set()
    page.on("request", lambda request: asked.add(request) if "/api/" in request.url else None)
    page.on("requestfinished", lambda request: asked.discard(request))
    page.on("requestfailed", lambda request: asked.discard(request))
    waiting = [first, "#/"]
    seen: set[str] = set()
    while waiting:
        link = waiting.pop(0)
        path = ID.sub(":id", link.removeprefix("#").partition("?")[0])
        if path in seen:
            continue
        seen.add(path)
        page.goto(address + link)
        wait_until_shown(page)
        ends_s = time.monotonic() + ANSWERED_WITHIN_S
        while asked and time.monotonic() < ends_s:
            page.wait_for_timeout(100)
        wait_until_shown(page)
        waiting += page.eval_on_selector_all("a[href^='#/']", LINKS)
        yield path


def wait_until_shown(page: Page) -> None:
    """Wait until the screen has what it asked for and has drawn it."""
    expect(page.locator("h1").first).to_be_attached()
    expect(page.locator(".waiting")).to_have_count(0)
    if page.url.partition("?")[0].endswith("/try"):
        told = page.get_by_text("strike, thrown exactly so")
        expect(told).to_be_visible(timeout=FIRST_SHOT_WITHIN_MS)
    page.evaluate(DRAWN)


def paths_at_home() -> set[str]:
    """The paths that the page at home has screens for, where nobody signs in."""
    return _home_paths() - paths_of_readers()


def paths_of_readers() -> set[str]:
    """The paths of screens that show what others share."""
    return {path for path in _home_paths() if path.startswith("/shared")}


def _home_paths() -> set[str]:
    told = (PAGES / "home/src/routes.ts").read_text("utf-8")
    return {re.sub(r":\w+", ":id", path) for path in re.findall(r'path: "([^"]+)"', told)}


def paths_at_the_lanes() -> set[str]:
    """The paths that the page at the lanes has screens for."""
    told = (PAGES / "lanes/src/route.svelte.ts").read_text("utf-8")
    listed = re.search(r"SCREENS = \[(.*?)\]", told, re.DOTALL)
    assert listed
    names = re.findall(r'"(\w+)"', listed.group(1))
    return {"/shot/:id" if name == "shot" else f"/{name}" for name in names}
