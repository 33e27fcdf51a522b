"""The page at the lanes as a bowler uses it: by what stands on the screen."""

from __future__ import annotations

import json
import time
from typing import Any
from uuid import UUID

from playwright.sync_api import BrowserContext, Locator, Page, expect

from browser.proxy import Proxy
from browser.visitors import NETWORK, Visitors

WITHIN_S = 30.0
KEPT_ROWS = """async () => {
  const database = await new Promise((good, bad) => {
    const asked = indexedDB.open("nextpair-at-the-lanes");
    asked.onsuccess = () => good(asked.result);
    asked.onerror = () => bad(asked.error);
  });
  const rows = await new Promise((good, bad) => {
    const asked = database.transaction("log").objectStore("log").getAll();
    asked.onsuccess = () => good(asked.result);
    asked.onerror = () => bad(asked.error);
  });
  database.close();
  return rows;
}"""
WORKER_IS_ACTIVE = """async () => {
  const ready = await Promise.race([
    navigator.serviceWorker.ready, new Promise((good) => setTimeout(good, 15000)),
  ]);
  return ready?.active?.state ?? "none";
}"""


def pocket_for(pocket: dict[str, Any], event: UUID) -> dict[str, Any]:
    """A pocket as another event's, without practice: its first ball is one of game 1."""
    told = pocket["event"] | {"name": f"Event {str(event)[:8]}", "practice_minutes": 0}
    return pocket | {"event_id": str(event), "event": told}


def opened_phone(
    visitors: Visitors, network: Proxy, pocket: dict[str, Any], event: UUID
) -> PhonePage:
    """A phone with an event's pocket in it, ready for no network, on the screen that logs.

    The browser may note a request that met a connection which the server had just closed.
    """
    visitors.foresee(NETWORK)
    phone = PhonePage(visitors.phone(), network.url)
    phone.open_pocket(pocket_for(pocket, event))
    phone.wait_until_kept()
    phone.go("Log")
    return phone


class PhonePage:
    """One tab of the page."""

    def __init__(self, context: BrowserContext, server: str) -> None:
        self.context = context
        self.url = f"{server}/lanes/"
        self.page: Page = context.new_page()
        self.page.goto(self.url)

    def open_pocket(self, pocket: dict[str, Any], game: str = "Game 1") -> None:
        """Put an event in by file; it opens with a game."""
        self.put_in(f"{pocket['event']['name']}.pocket.json", pocket)
        expect(self.page.get_by_role("navigation")).to_contain_text("Log")
        expect(self.page.locator("header")).to_contain_text(game)

    def put_in(self, name: str, document: Any) -> None:
        """Choose a file."""
        self.page.locator("input[type=file]").first.set_input_files(
            {
                "name": name,
                "mimeType": "application/json",
                "buffer": json.dumps(document).encode(),
            }
        )

    def wait_until_kept(self) -> None:
        """Wait until the page comes up with no network."""
        state = self.page.evaluate(WORKER_IS_ACTIVE)
        assert state in ("activating", "activated"), state

    def go(self, screen: str) -> None:
        """Tap a screen's name in the bar."""
        bar = self.page.get_by_role("navigation", name="Screens")
        bar.get_by_role("link", name=screen, exact=True).click()

    def button(self, name: str) -> Locator:
        """A button by its exact name."""
        return self.page.get_by_role("button", name=name, exact=True)

    @property
    def last_shot(self) -> Locator:
        """What is told of the shot that was logged last."""
        return self.page.get_by_test_id("last-shot")

    @property
    def sent(self) -> Locator:
        """What is told of sending."""
        return self.page.get_by_test_id("sent")

    def log(self, *standing: int) -> None:
        """Log a ball: tap the pins that stand, then the button that keeps it; and wait until the
        page says that it is kept."""
        before = len(self.rows())
        for pin in standing:
            self.page.get_by_role("button", name=f"Pin {pin} stands", exact=True).click()
        self.main_button.click()
        self.wait_for_rows(before + 1)

    @property
    def main_button(self) -> Locator:
        """The button that keeps the shot."""
        return self.page.locator(".results button").first

    def log_frames(self, many: int) -> None:
        """Log frames of a single pin left and made: two balls each, but for the tenth, which has
        three."""
        for _ in range(many):
            self.log(10)
            self.log()

    def rows(self) -> list[dict[str, Any]]:
        """What the phone keeps, in the order in which it was written."""
        kept: list[dict[str, Any]] = self.page.evaluate(KEPT_ROWS)
        return sorted(kept, key=lambda row: row["jotting"]["device_seq"])

    def wait_for_rows(self, many: int, sent: str | None = None) -> list[dict[str, Any]]:
        """Wait until so many are kept, all of them as `sent` says if it says anything."""
        ends_s = time.monotonic() + WITHIN_S
        while True:
            rows = self.rows()
            states = [row["sent"] for row in rows]
            if len(rows) == many and all(sent in (None, state) for state in states):
                return rows
            assert time.monotonic() < ends_s, f"{states} instead of {many} {sent or 'rows'}"
            self.page.wait_for_timeout(50)

    def wait_for_states(self, states: list[str]) -> None:
        """Wait until the rows, as they were written, stand so with the server."""
        ends_s = time.monotonic() + WITHIN_S
        while (found := [row["sent"] for row in self.rows()]) != states:
            assert time.monotonic() < ends_s, f"{found} instead of {states}"
            self.page.wait_for_timeout(50)

    def reload(self) -> None:
        """Load the page again, as after a while in a pocket."""
        self.page.reload()
