"""Phones and laptops in the browser, and everything that their pages complain of."""

from __future__ import annotations

from typing import Any, Literal

from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, expect

CHROMIUM_OPTIONS = ["--no-sandbox", "--disable-dev-shm-usage"]
PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 3,
    "has_touch": True,
    "is_mobile": True,
}
LAPTOP: dict[str, Any] = {"viewport": {"width": 1280, "height": 800}}
Scheme = Literal["light", "dark"]
PATIENCE_MS = 15_000
expect.set_options(timeout=PATIENCE_MS)

NETWORK = "Failed to load resource"
"""How the browser itself notes a request that came to nothing, whatever the page makes of it."""


class Visitors:
    """Opens profiles and notes what their pages complain of."""

    def __init__(self, browser: Browser) -> None:
        self.errors: list[str] = []
        self.foreseen: list[str] = []
        """Beginnings of complaints that a test brings about."""
        self._browser = browser
        self._opened: list[BrowserContext] = []

    def phone(self, scheme: Scheme = "light", **options: Any) -> BrowserContext:
        """A profile of a phone, with nothing kept in it."""
        return self._open(PHONE | options, scheme)

    def laptop(self, scheme: Scheme = "light", **options: Any) -> BrowserContext:
        """A profile of a laptop, with nothing kept in it."""
        return self._open(LAPTOP | options, scheme)

    def foresee(self, *beginnings: str) -> None:
        """Complaints that begin like this are what the test is about."""
        self.foreseen += beginnings

    def watch(self, context: BrowserContext) -> BrowserContext:
        """Note what the pages of a profile complain of."""
        context.set_default_timeout(PATIENCE_MS)
        context.on("page", self._watch_page)
        return context

    def close(self) -> None:
        """Close every profile."""
        for context in self._opened:
            context.close()

    def _open(self, options: dict[str, Any], scheme: Scheme) -> BrowserContext:
        context = self._browser.new_context(color_scheme=scheme, **options)
        self._opened.append(context)
        return self.watch(context)

    def _watch_page(self, page: Page) -> None:
        page.on("console", self._hear)
        page.on("pageerror", lambda error: self._note(f"uncaught: {error}"))

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self._note(message.text)

    def _note(self, words: str) -> None:
        if not any(words.startswith(beginning) for beginning in self.foreseen):
            self.errors.append(words)
