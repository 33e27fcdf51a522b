"""Whose turn it is: what costs the server most is answered to few at the same time."""

from __future__ import annotations

from asyncio import Semaphore
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass

from nextpair.web.errors import TooManyError

EACH, TOGETHER, MOST_IN_LINE = 2, 8, 20
"""Of one account, of all accounts, and in one account's line. A line holds none of the forty
threads that answer, so that phones sync while somebody has ordered too much."""
SIGN_INS_AT_ONCE, MOST_SIGN_INS_IN_LINE = 2, 200
"""Each check of a password takes 64 MB and a core."""
TRY_AGAIN_S = 2.0


@dataclass(slots=True)
class _Line:
    turn: Semaphore
    length: int = 0


class Turns:
    """Lines of those who ask, by who they are. All of it happens on the server's event loop."""

    def __init__(
        self, each: int = EACH, together: int = TOGETHER, most_in_line: int = MOST_IN_LINE
    ) -> None:
        self._each = each
        self._most = most_in_line
        self._together = Semaphore(together)
        self._lines: dict[str, _Line] = {}

    @asynccontextmanager
    async def turn_of(self, who: str) -> AsyncIterator[None]:
        """Wait for a turn and have it. Raises TooManyError where the line is too long."""
        line = self._lines.setdefault(who, _Line(Semaphore(self._each)))
        if line.length >= self._most:
            raise TooManyError(TRY_AGAIN_S)
        line.length += 1
        try:
            async with line.turn, self._together:
                yield
        finally:
            line.length -= 1
            if not line.length:
                self._lines.pop(who, None)


def sign_in_turns() -> Turns:
    """One line for all who sign in."""
    return Turns(SIGN_INS_AT_ONCE, SIGN_INS_AT_ONCE, MOST_SIGN_INS_IN_LINE)
