"""What a running server has at hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime

from nextpair.application.accounts import PasswordHasher, home_account
from nextpair.application.bundle import Papers
from nextpair.application.store import Account, Store
from nextpair.bootstrap import Program
from nextpair.web.address import Address
from nextpair.web.tries import Tries


def now_utc() -> datetime:
    """The time that tickets run by."""
    return datetime.now(UTC)


@dataclass(slots=True)
class Home:
    """The program, what is kept, and where it is served."""

    program: Program
    store: Store
    papers: Papers
    address: Address
    hasher: PasswordHasher
    now: Callable[[], datetime] = now_utc
    tries: Tries = field(default_factory=Tries)
    is_warm: bool = False
    _owner: Account | None = None

    @property
    def owner(self) -> Account:
        """Whoever uses the program where nobody signs in."""
        if self._owner is None:
            self._owner = home_account(self.store)
        return self._owner

    def open(self) -> None:
        """Get ready to answer."""

    def close(self) -> None:
        """Let go of everything but the store, which belongs to whoever opened it."""
