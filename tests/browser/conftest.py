"""What the browser's tests start from: one server for all of them, one browser, and visitors whose
pages may say nothing wrong on the console.

`make browser` runs them, against the wheel installed alone (NEXTPAIR_BIN). Without
NEXTPAIR_NEEDS_BROWSER=1 they are skipped, since they take minutes and need Chromium.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from playwright.sync_api import Browser, Playwright, sync_playwright

from browser.proxy import Proxy
from browser.running import Server
from browser.tally import Tally
from browser.visitors import CHROMIUM_OPTIONS, Visitors


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how much went through the faults."""
    if Tally.tests:
        terminalreporter.write_line(
            f"{Tally.jottings} jottings through the faults of {Tally.tests} tests: each of those "
            "that passed had 0 lost and 0 doubled"
        )


@pytest.fixture(scope="session", autouse=True)
def chromium() -> str:
    """Debian's Chromium; skips where nobody asked for it, fails where it was asked for in vain."""
    if os.environ.get("NEXTPAIR_NEEDS_BROWSER") != "1":
        pytest.skip("`make browser` runs it, for minutes, in Chromium")
    found = shutil.which("chromium")
    if found is None:
        pytest.fail("no chromium on this machine", pytrace=False)
    return found


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """The program, serving an empty store on this machine; tests use an event id each."""
    with Server(tmp_path_factory.mktemp("server")) as served:
        yield served


@pytest.fixture(scope="session")
def demo(server: Server) -> str:
    """The id of the bundled event, kept at the server, with all that is computed of it."""
    event = str(server.ask("/demo", {})["event"]["id"])
    if server.ask(f"/events/{event}/summary")["pocket"] is None:
        server.finish_job(event, "pocket")
    return event


@pytest.fixture(scope="session")
def pocket(server: Server, demo: str) -> dict[str, Any]:
    """What a phone carries of the bundled event."""
    return dict(server.ask(f"/events/{demo}/pocket")["pocket"])


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A server of the test's own, to be killed."""
    with Server(tmp_path) as served:
        yield served


@pytest.fixture
def event() -> UUID:
    """An event of its own for each test."""
    return uuid4()


@pytest.fixture
def network(server: Server) -> Iterator[Proxy]:
    """A network to the server that a test may spoil."""
    proxy = Proxy(server.port)
    yield proxy
    proxy.close()


@pytest.fixture(scope="session")
def playing() -> Iterator[Playwright]:
    """What drives the browser."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(playing: Playwright, chromium: str) -> Iterator[Browser]:
    """One browser for all tests, each with profiles of its own."""
    opened = playing.chromium.launch(executable_path=chromium, args=CHROMIUM_OPTIONS)
    yield opened
    opened.close()


@pytest.fixture
def visitors(browser: Browser) -> Iterator[Visitors]:
    """Opens phones and laptops; at the end none of their pages may have had an error."""
    opened = Visitors(browser)
    yield opened
    opened.close()
    assert opened.errors == []
