"""A browser whose profile outlives it, so that it can be killed and opened again."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

from playwright.sync_api import BrowserContext, Playwright

from browser.visitors import CHROMIUM_OPTIONS, PHONE

GONE_WITHIN_S = 10.0


class LastingProfile:
    """A phone's profile in a folder."""

    def __init__(self, playing: Playwright, chromium: str, folder: Path) -> None:
        self._playing = playing
        self._chromium = chromium
        self._folder = folder

    def open(self) -> BrowserContext:
        """Start a browser with it."""
        return self._playing.chromium.launch_persistent_context(
            self._folder, executable_path=self._chromium, args=CHROMIUM_OPTIONS, **PHONE
        )

    def kill(self) -> int:
        """SIGKILL to every process of the browser; how many there were."""
        killed = self._processes()
        for process in killed:
            os.kill(process, signal.SIGKILL)
        ends_s = time.monotonic() + GONE_WITHIN_S
        while self._processes() and time.monotonic() < ends_s:
            time.sleep(0.02)
        for lock in self._folder.glob("Singleton*"):
            lock.unlink()
        return len(killed)

    def _processes(self) -> list[int]:
        """Processes that were started with this profile's folder, and their children."""
        parents: dict[int, int] = {}
        own: set[int] = set()
        for entry in Path("/proc").iterdir():
            if not entry.name.isdigit():
                continue
            try:
                words = (entry / "cmdline").read_bytes().split(b"\0")
                state, parent = (entry / "stat").read_text().rpartition(")")[2].split()[:2]
            except OSError:
                continue
            if state == "Z":
                continue
            parents[int(entry.name)] = int(parent)
            if f"--user-data-dir={self._folder}".encode() in words:
                own.add(int(entry.name))
        grown = True
        while grown:
            more = {process for process, parent in parents.items() if parent in own} - own
            own |= more
            grown = bool(more)
        return sorted(own)
