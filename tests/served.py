"""A server in the test's own process, with a store in memory."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta

from starlette.testclient import TestClient

from nextpair.application.settings import Settings
from nextpair.bootstrap import Program
from nextpair.store.memory import MemoryStore
from nextpair.web.address import Address
from nextpair.web.app import create_app
from nextpair.web.home import Home

AT_HOME = Address()
ON_THE_NETWORK = Address(host="0.0.0.0", encrypts=True)
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


def home_at(address: Address = AT_HOME, clock: Clock | None = None) -> Home:
    """A server that nobody has used yet."""
    program = Program(Settings(threads=1))
    return Home(program, MemoryStore(), program.papers(), address, QuickHasher(), clock or Clock())


@contextmanager
def client_of(home: Home) -> Iterator[TestClient]:
    """A browser at the address of a server."""
    with TestClient(create_app(home), base_url=home.address.url("")) as client:
        yield client
