"""Photograph the main screens of the pages for docs/guide: the bundled event, planned and packed,
the demo season with a debrief of one of its events, and a game on the phone.

    python tools/page_pictures.py        write docs/img/page-*.png (a few minutes; needs Chromium)

What is computed stays in build/pictures for the next time.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import Page, sync_playwright

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "src")]

from browser.running import Server  # noqa: E402
from browser.visitors import CHROMIUM_OPTIONS, LAPTOP, PHONE  # noqa: E402

KEPT = ROOT / "build" / "pictures"
IMAGES = ROOT / "docs" / "img"
SETTLED_MS = 1500
FIRST_GAME = ("Strike", "9", "Spare", "Strike", "10", "Spare", "Strike", "7", "Missed")
"""What is tapped: a mark, or a pin that stands."""
ENTERED = "x9/75"
"""What is typed: the third frame has two pins too many."""
FIELD = ROOT / "src" / "nextpair" / "demo" / "scores.csv"
DEBRIEFED = "Catkin Open"
HOUSE, PATTERN = "Cinder Lock Lanes", "Lantern Post 43"
"""Of the demo season."""
BELOW = ("pattern", "debrief")
"""Where what is shown stands under the first screen."""


def packed_event(server: Server) -> str:
    """The id of the bundled event, once its pocket is made."""
    event = str(server.ask("/demo", {})["event"]["id"])
    server.finish_job(event, "pocket")
    server.ask(f"/events/{event}/scores", {"text": FIELD.read_text("utf-8")})
    return event


def debriefed_event(server: Server) -> str:
    """The id of an event of the demo season, once it is debriefed."""
    server.ask("/demo/season", {})
    event = kept(server, "event", DEBRIEFED)
    server.finish_job(event, "debrief")
    return event


def kept(server: Server, kind: str, name: str) -> str:
    """The id of a record by its name."""
    items = server.ask(f"/records/{kind}")["items"]
    return next(str(item["id"]) for item in items if item["name"] == name)


def take(page: Page, name: str) -> None:
    """One picture, of what fits on the screen."""
    page.wait_for_timeout(SETTLED_MS)
    page.screenshot(path=IMAGES / f"page-{name}.png", scale="css")


def photograph_home(page: Page, url: str, event: str) -> None:
    """The sheet of a later game, a shot tried, a game being entered, and the standing."""
    page.goto(f"{url}/#/events/{event}/sheet")
    page.get_by_role("slider").press("End")
    take(page, "sheet")
    page.goto(f"{url}/#/events/{event}/try")
    page.get_by_text("strike, thrown exactly so").wait_for()
    take(page, "try")
    page.goto(f"{url}/#/events/{event}/scores")
    page.get_by_role("button", name="Enter a game by counts").click()
    page.get_by_label("Frame 1", exact=True).focus()
    page.keyboard.type(ENTERED)
    take(page, "scores")
    page.goto(f"{url}/#/events/{event}/standing")
    page.get_by_role("heading", name="The cut").wait_for()
    take(page, "standing")


def photograph_season(page: Page, server: Server, event: str) -> None:
    """What is kept from event to event, and what an event taught."""
    house, pattern = kept(server, "house", HOUSE), kept(server, "pattern", PATTERN)
    for name, path, heading in (
        ("house", f"/houses/{house}/book", "Visits"),
        ("pattern", f"/patterns/{pattern}", "Nearest relatives"),
        ("conditions", "/conditions", "Scores"),
        ("debrief", f"/events/{event}/debrief", "What it taught"),
        ("packing", f"/events/{event}/packing", "Packing"),
        ("season", "/season", "Season"),
        ("recap", f"/events/{event}/recap", "Recap"),
    ):
        page.goto(f"{server.url}/#{path}")
        shown = page.get_by_role("heading", name=heading).first
        shown.wait_for()
        if name in BELOW:
            shown.evaluate("heading => heading.scrollIntoView()")
        take(page, name)


def photograph_phone(page: Page, url: str) -> None:
    """What to do now, a shot being logged, help with what it left, the score."""
    name = "Samphire Scratch Singles"
    page.goto(f"{url}/lanes/#/send")
    page.get_by_role("button", name=f"Open {name} here").click()
    bar = page.get_by_role("navigation", name="Screens")
    bar.get_by_role("link", name="Now").click()
    page.get_by_role("button", name="To game 1").click()
    take(page, "now")
    bar.get_by_role("link", name="Log").click()
    for tapped in FIRST_GAME:
        log(page, tapped)
    page.get_by_role("button", name="Pin 3 stands", exact=True).click()
    page.get_by_role("button", name="Pin 10 stands", exact=True).click()
    take(page, "log")
    page.get_by_role("button", name="3-10 stand", exact=True).click()
    bar.get_by_role("link", name="Spare").click()
    take(page, "spare")
    bar.get_by_role("link", name="Score").click()
    take(page, "score")
    for name in ("pack", "diary"):
        page.goto(f"{url}/lanes/#/{name}")
        take(page, f"phone-{name}")


def log(page: Page, tapped: str) -> None:
    """One shot: a mark by its button, or the one pin that it left."""
    if tapped.isdigit():
        page.get_by_role("button", name=f"Pin {tapped} stands", exact=True).click()
        tapped = f"{tapped} stands"
    page.get_by_role("button", name=tapped, exact=True).click()
    page.wait_for_timeout(300)


def main() -> int:
    KEPT.mkdir(parents=True, exist_ok=True)
    with Server(KEPT) as server:
        event, debriefed = packed_event(server), debriefed_event(server)
    with TemporaryDirectory() as folder:
        shutil.copytree(KEPT, folder, dirs_exist_ok=True)
        with Server(Path(folder)) as server, sync_playwright() as drivers:
            browser = drivers.chromium.launch(
                executable_path="/usr/bin/chromium", args=CHROMIUM_OPTIONS
            )
            photograph_home(browser.new_page(**LAPTOP), server.url, event)
            photograph_season(browser.new_page(**LAPTOP), server, debriefed)
            photograph_phone(browser.new_page(**PHONE), server.url)
            browser.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
