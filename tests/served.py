"""A server in the test's own process, with a store in memory."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from starlette.testclient import TestClient

from nextpair.application.jobs import Hands, Order, Results, StoppedError
from nextpair.application.ports import Progress
from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.store.memory import MemoryStore
from nextpair.web.address import Address
from nextpair.web.app import create_app
from nextpair.web.home import Home

AT_HOME = Address()
ON_THE_NETWORK = Address(host="0.0.0.0", encrypts=True)
NOWHERE = Path(tempfile.gettempdir()) / "nextpair-nowhere"
"""No store lies there: a test never opens its runner's own."""
PASSWORD = "three strikes in a row"


class QuickHasher:
    """Stands in for Argon2, which takes its time on purpose."""

    def hash(self, password: str) -> str:
        return f"kept of {password}"

    def matches(self, kept: str | None, password: str) -> bool:
        return kept == self.hash(password)


class Clock:
    """A clock that a test sets."""

    def __init__(self) -> None:
        self.now = datetime(2026, 6, 13, 9, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def advance(self, **time: float) -> None:
        self.now += timedelta(**time)


class IdleHands:
    """Stands in for the process that computes, where nothing is to be computed."""

    def work(self, _order: Order, _progress: Progress) -> Results:
        raise StoppedError("nobody works here")

    def stop(self) -> None:
        """Nothing is under way."""

    def close(self) -> None:
        """Nothing is held."""


def home_at(
    address: Address = AT_HOME, clock: Clock | None = None, hands: Hands | None = None
) -> Home:
    """A server that nobody has used yet."""
    program = Program(Settings(threads=1, data_dir=NOWHERE))
    home = Home(
        program,
        MemoryStore(),
        program.papers(),
        address,
        QuickHasher(),
        hands or IdleHands(),
        now=clock or Clock(),
    )
    home.is_warm = True
    return home


@contextmanager
def client_of(home: Home) -> Iterator[TestClient]:
    """A running server, and a browser at its address."""
    with TestClient(create_app(home), base_url=home.address.url("")) as client:
        yield client


@contextmanager
def browser_of(home: Home, place: str = "testclient") -> Iterator[TestClient]:
    """Another browser, at a place of its own, of a server that runs already."""
    browser = TestClient(create_app(home), base_url=home.address.url(""), client=(place, 50_000))
    try:
        yield browser
    finally:
        browser.close()
